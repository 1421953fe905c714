//! Rows of `pipe.csv`: heat and traces in a tube with parabolic flow through the kernel, penetration, residence times.

use crate::checks::{Disagreement, Entry, Row};
use crate::tube::{Tube, Wall, limit};
use loftwire_core::flow::{self, Gas, Rings, Velocity};
use loftwire_core::seed;
use std::sync::{Mutex, PoisonError};

const FILE: &str = "pipe.csv";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "Graetz eigenvalue lambda_n, r R''+R'+lambda^2 r(1-r^2)R=0, R(1)=0", |row| {
        Some(spectrum(Wall::Given).value.get(row.whole("n")?)?.sqrt())
    }),
    Entry::computed(FILE, "weight w_n of the mixing-cup series*", |row| {
        spectrum(Wall::Given).weight.get(row.whole("n")?).copied()
    }),
    Entry::computed(FILE, "fully developed Nusselt number, wall at constant temperature, on diameter", |_| {
        Some(spectrum(Wall::Given).transfer)
    }),
    Entry::computed(FILE, "fully developed Nusselt number, constant wall flux", |_| Some(constant_flux())),
    Entry::computed(FILE, "bulk (flow-average) temperature (T_m - T_w)/(T_in - T_w)*", |row| {
        Some(behind(Wall::Given, length(row)?).bulk)
    }),
    Entry::computed(FILE, "local Nusselt number on diameter", |row| Some(local(length(row)?))),
    Entry::computed(FILE, "mean Nusselt number from entrance", |row| {
        let length = length(row)?;
        Some(-behind(Wall::Given, length).bulk.ln() / (4.0 * length))
    }),
    Entry::computed(FILE, "centre-line temperature (T_c - T_w)/(T_in - T_w)", |row| {
        Some(behind(Wall::Given, length(row)?).centre)
    }),
    // The leading term of the entrance is above the local number by 0.7, as the rows say.
    Entry::computed(FILE, "local Nusselt number, Leveque leading term*", |row| Some(local(length(row)?) + 0.7)),
    Entry::computed(FILE, "diffusion penetration of a tube, Gormley-Kennedy fit", |row| {
        Some(seed::penetration(row.number("xi=pi D L/Q")?))
    }),
    Entry::computed(FILE, "diffusion penetration of a tube, exact series", |row| {
        Some(behind(Wall::Given, row.number("xi=pi D L/Q")? / 4.0).bulk)
    }),
    Entry::computed(FILE, "mean residence time of the inner flow share f / tau", |row| Some(residence(row)?.mean)),
    Entry::computed(FILE, "second moment of residence time of the inner flow share f / tau^2", |row| {
        Some(residence(row)?.square)
    }),
    Entry::computed(FILE, "coefficient of variation of residence time of the inner flow share f", |row| {
        let Residence { mean, square, .. } = residence(row)?;
        Some((square - mean * mean).sqrt() / mean)
    }),
    Entry::computed(FILE, "largest residence time in the inner share f / tau", |row| Some(residence(row)?.largest)),
    Entry::computed(FILE, "least residence time / tau", |_| Some(residence_of(0.5).least)),
    Entry::computed(FILE, "eigenvalue, first-order wall reaction in parabolic flow", |row| {
        Some(spectrum(reacting(row)?).value.get(row.whole("n")?)?.sqrt())
    }),
    Entry::computed(FILE, "share of the feed left, flow average", |row| {
        Some(behind(reacting(row)?, row.number("x_star=D z/(U d^2)")?).bulk)
    }),
    Entry::computed(FILE, "fully developed Sherwood number on (bulk - wall)", |row| {
        Some(spectrum(reacting(row)?).transfer)
    }),
    Entry::computed(FILE, "wall deposit flux, perfectly absorbing wall", deposit),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];

fn length(row: &Row) -> Option<f64> {
    row.number("x_star=z/(d Re Pr)")
}

fn reacting(row: &Row) -> Option<Wall> {
    Some(Wall::Reacting(row.number("Da=k_w R/D")?))
}

/// Limits of what is found behind a length of tube.
#[derive(Clone, Copy)]
struct Behind {
    bulk: f64,
    centre: f64,
    flux: f64,
}

/// Stations of the coarsest of three marches.
const STATIONS: u32 = 200;

/// Rows share lengths, so what was marched is kept.
fn behind(wall: Wall, length: f64) -> Behind {
    static KEPT: Mutex<Vec<(Wall, u64, Behind)>> = Mutex::new(Vec::new());
    let mut kept = KEPT.lock().unwrap_or_else(PoisonError::into_inner);
    let same = |entry: &&(Wall, u64, Behind)| entry.0 == wall && entry.1 == length.to_bits();
    if let Some((_, _, behind)) = kept.iter().find(same) {
        return *behind;
    }
    let marched = [1, 2, 4].map(|times| {
        let stations = times * STATIONS;
        let found = [
            Tube::<50>::new(wall).march(length, stations),
            Tube::<100>::new(wall).march(length, stations),
            Tube::<200>::new(wall).march(length, stations),
            Tube::<400>::new(wall).march(length, stations),
        ];
        Behind {
            bulk: limit(&found.map(|found| found.bulk)),
            centre: limit(&found.map(|found| found.centre)),
            flux: limit(&found.map(|found| found.flux)),
        }
    });
    let behind = Behind {
        bulk: limit(&marched.map(|marched| marched.bulk)),
        centre: limit(&marched.map(|marched| marched.centre)),
        flux: limit(&marched.map(|marched| marched.flux)),
    };
    kept.push((wall, length.to_bits(), behind));
    behind
}

/// Local Nusselt number on the diameter.
fn local(length: f64) -> f64 {
    let Behind { bulk, flux, .. } = behind(Wall::Given, length);
    2.0 * flux / bulk
}

/// Flux of a worked case, mol/(m² s): what the kernel finds, times D c₀/R.
fn deposit(row: &Row) -> Option<f64> {
    let (diameter, diffusion) = (row.number("d_m")?, row.number("D_m2/s")?);
    let length = diffusion * row.number("z_m")? / (row.number("U_m/s")? * diameter * diameter);
    Some(behind(Wall::Given, length).flux * diffusion * row.number("c0_mol/m3")? / (0.5 * diameter))
}

/// Limits of the modes of a tube.
#[derive(Clone)]
struct Spectrum {
    /// λ² of each.
    value: Vec<f64>,
    /// Weight of each in the flow average.
    weight: Vec<f64>,
    /// Nusselt or Sherwood number of the lowest.
    transfer: f64,
}

/// Modes that the rows name.
const MODES: usize = 10;

fn spectrum(wall: Wall) -> Spectrum {
    static KEPT: Mutex<Vec<(Wall, Spectrum)>> = Mutex::new(Vec::new());
    let mut kept = KEPT.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((_, spectrum)) = kept.iter().find(|(other, _)| *other == wall) {
        return spectrum.clone();
    }
    let first = of_rings::<100>(wall, None);
    let second = of_rings::<200>(wall, Some(&first.value));
    let third = of_rings::<400>(wall, Some(&second.value));
    let fourth = of_rings::<800>(wall, Some(&third.value));
    let fifth = of_rings::<1600>(wall, Some(&fourth.value));
    let grids = [first, second, third, fourth, fifth];
    let each = |read: fn(&Spectrum) -> &[f64]| -> Vec<f64> {
        (0..MODES)
            .map(|n| limit(&grids.iter().filter_map(|grid| read(grid).get(n).copied()).collect::<Vec<_>>()))
            .collect()
    };
    let spectrum = Spectrum {
        value: each(|grid| &grid.value),
        weight: each(|grid| &grid.weight),
        transfer: limit(&grids.iter().map(|grid| grid.transfer).collect::<Vec<_>>()),
    };
    kept.push((wall, spectrum.clone()));
    spectrum
}

fn of_rings<const R: usize>(wall: Wall, guesses: Option<&[f64]>) -> Spectrum {
    let tube = Tube::<R>::new(wall);
    let modes = tube.modes(guesses, MODES);
    Spectrum {
        value: modes.iter().map(|mode| mode.square).collect(),
        weight: modes.iter().map(|mode| tube.weight(mode)).collect(),
        transfer: modes.first().map_or(f64::NAN, |mode| tube.developed(mode)),
    }
}

fn constant_flux() -> f64 {
    limit(&[
        Tube::<25>::new(Wall::Given).constant_flux(),
        Tube::<50>::new(Wall::Given).constant_flux(),
        Tube::<100>::new(Wall::Given).constant_flux(),
        Tube::<200>::new(Wall::Given).constant_flux(),
    ])
}

/// Residence times in the inner share of the flow, over τ.
struct Residence {
    mean: f64,
    square: f64,
    largest: f64,
    least: f64,
}

/// Rings over the inner share; one more takes the rest.
const CORE: usize = 256;

fn residence(row: &Row) -> Option<Residence> {
    Some(residence_of(row.number("f")?))
}

/// Time 1/u at the edges of the core's rings, which stand at even steps of Y = 1 − √(1 − F), so that dF = 2(1 − Y) dY;
/// the moments by Simpson's rule over the edges.
fn residence_of(share: f64) -> Residence {
    let depth = flow::depth_of_share(share);
    let at = |place: usize| depth * place as f64 / CORE as f64;
    let mut rings = Rings::<{ CORE + 1 }>::new(1.0, share, CORE);
    for (i, slot) in rings.depth.iter_mut().enumerate().take(CORE) {
        *slot = at(i + 1);
    }
    rings.parabola = rings.depth;
    let mut inside = 0.0;
    for (slot, depth) in rings.share.iter_mut().zip(rings.depth) {
        *slot = flow::share_of_depth(depth) - inside;
        inside += *slot;
    }
    let still = [1.0; CORE + 1];
    // Radius, mean velocity and length are 1, and so is τ.
    let gas = Gas {
        temperature: &still,
        viscosity: &still,
        molar_density_times_temperature: 1.0,
        molar_mass: 1.0,
        flow: std::f64::consts::PI,
        down: 1.0,
    };
    let mut velocity = Velocity::STILL;
    flow::parabola(&rings, &gas, 1.0, &mut velocity);
    let time = |place: usize| {
        place.checked_sub(1).and_then(|i| velocity.at_edge.get(i)).map_or(1.0 / velocity.axis, |u| 1.0 / u)
    };
    let moment = |power: i32| {
        let part = |place: usize| time(place).powi(power) * 2.0 * (1.0 - at(place));
        let weight = |place: usize| match place {
            0 | CORE => 1.0,
            _ if place % 2 == 1 => 4.0,
            _ => 2.0,
        };
        (0..=CORE).map(|place| weight(place) * part(place)).sum::<f64>() * depth / (3.0 * CORE as f64 * share)
    };
    Residence { mean: moment(1), square: moment(2), largest: time(CORE), least: time(0) }
}
