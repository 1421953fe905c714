//! Figures of a prediction that neither report nor harvest holds, seen on the way of both grids and extrapolated.

use crate::follow::{Here, follow, weight};
use crate::prediction::{COARSE_STATIONS, FINE_STATIONS, Prediction};
use loftwire_core::drift::Spot;
use loftwire_core::judge::extrapolated;
use loftwire_core::line::{DOPANTS, Line, Part, SPECIES};
use loftwire_core::predict::CLASSES;
use loftwire_core::properties::Properties;
use loftwire_core::stage::flies;
use loftwire_core::units::GAS_CONSTANT;
use loftwire_core::wall;
use std::f64::consts::PI;

/// Places along a stage at which it is watched, both ends among them.
pub const PLACES: usize = 21;
/// Shares of a segment at which its doping is watched, both ends among them.
pub const SHARES: usize = 11;

/// What was seen of a stage.
#[derive(Clone, Debug, Default)]
pub struct Watched {
    /// Group III on the paths, mean over the seeds, at each place, Pa.
    pub group_iii: Vec<f64>,
    /// The same of group V, Pa.
    pub group_v: Vec<f64>,
    /// What the wall takes of each species at each place, mol/(s m).
    pub wall: Vec<[f64; SPECIES]>,
    /// Share of the flow inside the drifted edge of the seeded core, at each place.
    pub inside: Vec<f64>,
    /// Fragment in the innermost ring, at each place, Pa.
    pub fragment: Vec<f64>,
    /// Mean length of the wires so far, at each place, m.
    pub length: Vec<f64>,
    /// Drift of the core's edge inwards, at each place, m.
    pub drift: Vec<f64>,
    /// Doping of the median class at shares of the length it grew here, mean over the paths, 1/m³.
    pub doping: Vec<[f64; DOPANTS]>,
}

/// What is known of a path while it is followed: length grown in this stage, and doping at the tip.
type Tip = (f64, [f64; DOPANTS]);

/// What is seen of each stage of a prediction, on the grids of the desk.
#[must_use]
pub fn watch(prediction: &Prediction) -> Vec<Watched> {
    let coarse = on_grid::<12, 4>(&prediction.line, &prediction.properties, COARSE_STATIONS);
    extrapolate(&coarse, &on_grid::<24, 8>(&prediction.line, &prediction.properties, FINE_STATIONS))
}

/// The same on grids that are four times as fine.
#[must_use]
pub fn watch_finely(prediction: &Prediction) -> Vec<Watched> {
    let coarse = on_grid::<48, 16>(&prediction.line, &prediction.properties, 4 * COARSE_STATIONS);
    extrapolate(&coarse, &on_grid::<96, 32>(&prediction.line, &prediction.properties, 4 * FINE_STATIONS))
}

fn extrapolate(coarse: &[Watched], fine: &[Watched]) -> Vec<Watched> {
    let both = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| extrapolated(*a, *b)).collect();
    let pairs = coarse.iter().zip(fine);
    pairs
        .map(|(coarse, fine)| Watched {
            group_iii: both(&coarse.group_iii, &fine.group_iii),
            group_v: both(&coarse.group_v, &fine.group_v),
            wall: arrays(&coarse.wall, &fine.wall),
            inside: both(&coarse.inside, &fine.inside),
            fragment: both(&coarse.fragment, &fine.fragment),
            length: both(&coarse.length, &fine.length),
            drift: both(&coarse.drift, &fine.drift),
            doping: arrays(&coarse.doping, &fine.doping),
        })
        .collect()
}

fn arrays<const N: usize>(coarse: &[[f64; N]], fine: &[[f64; N]]) -> Vec<[f64; N]> {
    let pairs = coarse.iter().zip(fine);
    pairs.map(|(coarse, fine)| std::array::from_fn(|i| extrapolated(coarse[i], fine[i]))).collect()
}

fn on_grid<const R: usize, const P: usize>(line: &Line, properties: &Properties, stations: usize) -> Vec<Watched> {
    let mut seen = Vec::new();
    let mut tips: Vec<Vec<Tip>> = vec![Vec::new(); P];
    let mut start = [0.0; P];
    let end = follow::<R, P, CLASSES>(line, properties, stations, |here| {
        if here.station == 0 {
            seen.push(Watched::default());
            tips = vec![Vec::new(); P];
            start = std::array::from_fn(|p| length(here, p));
        }
        for (p, tips) in tips.iter_mut().enumerate() {
            let grown = length(here, p) - start[p];
            let doping = std::array::from_fn(|d| {
                // Where the wire has not begun, what the filling seed holds is not in it yet.
                let state = if grown > 0.0 { &here.now.doping } else { &here.now.birth };
                state[d][p][here.passage.middle]
            });
            tips.push((grown, doping));
        }
        let Some(watched) = seen.last_mut() else { return };
        if here.station % (stations / (PLACES - 1)) == 0 {
            note(watched, here);
        }
        if here.station == stations {
            // Where the segment begins the seed holds what `birth` says.
            let birth: [[f64; DOPANTS]; P] =
                std::array::from_fn(|p| std::array::from_fn(|d| here.now.birth[d][p][here.passage.middle]));
            watched.doping = along(&tips, &birth);
        }
    });
    assert!(end.is_ok(), "the gas turned back: {end:?}");
    seen
}

/// Length of the median class on path p, m.
fn length<const R: usize, const P: usize>(here: &Here<R, P, CLASSES>, p: usize) -> f64 {
    let class = &here.passage.classes[here.passage.middle];
    (here.now.running[p][here.passage.middle] - class.incubation).max(0.0)
}

fn note<const R: usize, const P: usize>(watched: &mut Watched, here: &Here<R, P, CLASSES>) {
    let (mut group_iii, mut group_v, mut length, mut flying) = (0.0, 0.0, 0.0, 0.0);
    for p in (0..P).filter(|p| flies(here.now.path[*p])) {
        flying += weight::<P>(p);
        for (class, running) in here.passage.classes.iter().zip(here.now.running[p]).take(here.passage.count) {
            length += weight::<P>(p) * class.weight * (running - class.incubation).max(0.0);
        }
        for (species, field) in here.passage.line.species.iter().zip(&here.now.share) {
            let partial = weight::<P>(p) * here.passage.line.pressure * read(field, &here.now.spot[p]);
            match species.part {
                Part::Parent | Part::Fragment => group_iii += partial,
                Part::GroupV => group_v += partial,
                Part::Dopant => {}
            }
        }
    }
    watched.group_iii.push(group_iii / flying);
    watched.group_v.push(group_v / flying);
    watched.inside.push(here.now.border[P - 1]);
    watched.fragment.push(here.passage.line.pressure * here.now.share[1][0]);
    watched.length.push(length / flying);
    let across = here.passage.across(here.now, here.passage.stage.wall.temperature(here.z));
    watched.drift.push(across.radius(here.passage.stage.core_share) - across.radius(here.now.border[P - 1]));
    watched.wall.push(std::array::from_fn(|s| match here.up {
        // What the wall took is carried by the same difference in z: taken back, it is the flux.
        Some(up) => {
            let d = up.difference;
            d.here * here.now.on_wall[s] + d.one * up.one.on_wall[s] + d.two * up.two.on_wall[s]
        }
        None => at_inlet(here, s),
    }));
}

/// Flux into the wall at an inlet, where the gas is still uniform up to the wall.
fn at_inlet<const R: usize, const P: usize>(here: &Here<R, P, CLASSES>, s: usize) -> f64 {
    let (line, stage) = (here.passage.line, here.passage.stage);
    let Some(species) = line.species.get(s) else { return 0.0 };
    let temperature = stage.wall.temperature(0.0);
    let reference = line.growth.reference_temperature;
    let probability = wall::probability(species.wall_probability, species.wall_activation, temperature, reference);
    let mean_speed = (8.0 * GAS_CONSTANT * temperature / (PI * species.molar_mass)).sqrt();
    let molar_density = here.passage.molar_density(temperature) * here.now.share[s][R - 1];
    PI * stage.diameter * wall::reaction_speed(probability, mean_speed) * molar_density
}

fn read<const R: usize>(field: &[f64; R], spot: &Spot) -> f64 {
    let next = (spot.ring + 1).min(R - 1);
    field[spot.ring] + spot.weight * (field[next] - field[spot.ring])
}

/// Doping at shares of each path's own segment, mean over the paths.
fn along<const P: usize>(tips: &[Vec<Tip>], birth: &[[f64; DOPANTS]; P]) -> Vec<[f64; DOPANTS]> {
    let place = |n: usize| n as f64 / (SHARES - 1) as f64;
    let at = |p: usize, share: f64| -> [f64; DOPANTS] {
        let whole = tips[p].last().map_or(0.0, |tip| tip.0);
        let wanted = share * whole;
        let mut inner = (0.0, birth[p]);
        for tip in tips[p].iter().filter(|tip| tip.0 > 0.0) {
            if tip.0 >= wanted && tip.0 > inner.0 {
                let part = (wanted - inner.0) / (tip.0 - inner.0);
                return std::array::from_fn(|d| inner.1[d] + part * (tip.1[d] - inner.1[d]));
            }
            inner = *tip;
        }
        inner.1
    };
    (0..SHARES).map(|n| std::array::from_fn(|d| (0..P).map(|p| weight::<P>(p) * at(p, place(n))[d]).sum())).collect()
}
