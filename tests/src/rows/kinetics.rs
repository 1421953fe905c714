//! Rows of `kinetics.csv`: pyrolysis, fluxes, the cap on the wire, coagulation, collision integrals, diffusion, thermal
//! diffusion.

use super::gas::{blend, carrier};
use crate::checks::{Disagreement, Entry, Row, rows};
use loftwire_core::feed::table::Precursor;
use loftwire_core::gas::transport::{self, Integral, Pair, blanc};
use loftwire_core::gas::{Carrier, Mixture, Trace};
use loftwire_core::material::{GOLD_MOLAR_VOLUME, Material};
use loftwire_core::section::{Difference, Ride};
use loftwire_core::units::{BOLTZMANN, GAS_CONSTANT};
use loftwire_core::{seed, wall, wire};

const FILE: &str = "kinetics.csv";

const OTHER_STEP: &str = "a step of the pyrolysis that the model does not follow";
const OTHER_SURFACE: &str = "a surface that no default stands for; calibrate";
const INTERVAL: &str = "an interval: that half is gone inside it is a test of its own, under the rows";
const STRANGER: &str = "a gas that is no precursor and no carrier of ours";
const LIQUID: &str = "fitted to diffusion in liquids, second choice for a gas; the model takes the estimate";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "pre-exponential factor", |row| Some(law(row)?.frequency)).only(is_followed),
    Entry::computed(FILE, "activation energy", |row| Some(law(row)?.activation * 1e-3)).only(is_followed),
    Entry::computed(FILE, "first-order rate constant", |row| Some(rate_constant(law(row)?, row.number("T_K")?)))
        .only(is_followed),
    Entry::orientation(FILE, "pre-exponential factor", OTHER_STEP),
    Entry::orientation(FILE, "activation energy", OTHER_STEP),
    Entry::orientation(FILE, "first-order rate constant", OTHER_STEP),
    Entry::computed(FILE, "activation energy of decomposition", |_| {
        Some(built_in::pyrolysis("TMGa", false)?.activation * 1e-3)
    })
    .only(|row| row.text("reaction") == Some("TMGa, loss of the first methyl")),
    Entry::computed(FILE, "activation energy of decomposition", |_| built_in::group_v_activation())
        .only(|row| row.text("reaction") == Some("AsH3 in a quartz vessel (heterogeneous)")),
    Entry::orientation(FILE, "activation energy of decomposition", OTHER_SURFACE),
    Entry::orientation(FILE, "activation energy of CH3 desorption from GaAs(100)", OTHER_SURFACE),
    Entry::orientation(FILE, "temperature range in which decomposition takes place, low end", INTERVAL),
    Entry::orientation(FILE, "temperature range in which decomposition takes place, high end", INTERVAL),
    Entry::computed(FILE, "mean molecular speed", |row| {
        Some(transport::mean_speed(row.number("M")? * 1e-3, row.number("T_K")?))
    }),
    Entry::computed(FILE, "Hertz-Knudsen impingement at 1 Pa", |row| {
        Some(impingement(molar_mass_of(row.text("species")?)?, row.number("T_K")?, row.number("p_Pa")?))
    }),
    Entry::computed(FILE, "Hertz-Knudsen, N2 300 K 1 Pa", |row| {
        Some(impingement(Carrier::N2.molar_mass(), row.number("T_K")?, 1.0))
    }),
    Entry::computed(FILE, "wall factor k_w/(cbar/4) = gamma/(1-gamma/2)", |row| {
        Some(wall::reaction_speed(row.number("gamma")?, 4.0))
    }),
    Entry::computed(FILE, "Fuchs-Sutugin factor on the continuum flux", |row| {
        Some(wire::fuchs_sutugin(row.number("Kn=lambda/a")?, row.number("alpha")?))
    }),
    Entry::computed(FILE, "flux to a sphere J = (D n/a) FS", sphere_flux),
    Entry::computed(FILE, "cap volume / d^3, d = base diameter", |row| {
        Some(wire::cap_volume_ratio(contact_angle(row)?))
    }),
    Entry::computed(FILE, "cap surface / base area", |row| Some(wire::cap_area_ratio(contact_angle(row)?))),
    Entry::computed(FILE, "base diameter / diameter of the sphere of equal volume", |row| {
        Some(wire::wire_diameter(1.0, 0.0, contact_angle(row)?, 1.0))
    }),
    Entry::computed(FILE, "wire diameter from a 48 nm gold seed with group-III share x (In), ideal volumes", |row| {
        let ratio = Material::InP.group_iii_molar_volume() / GOLD_MOLAR_VOLUME;
        Some(1e9 * wire::wire_diameter(48e-9, row.number("x")?, contact_angle(row)?, ratio))
    }),
    Entry::later(FILE, "diameter of equal mean projected area, cylinder with flat ends", "collector"),
    Entry::computed(FILE, "Fuchs kernel K(d,d)*", |row| {
        Some(2.0 * coagulation(row, row.number("d_nm")? * 1e-9, 296.15)?)
    }),
    Entry::computed(FILE, "self-coagulation coefficient, dN/dt = -K N^2/2", |row| {
        Some(2.0 * coagulation(row, row.number("d_um")? * 1e-6, row.number("T_K")?)?)
    }),
    Entry::computed(FILE, "coagulation coefficient, dN/dt = -K N^2 (half the kernel)", |row| {
        coagulation(row, row.number("d_um")? * 1e-6, row.number("T_K")?)
    }),
    Entry::computed(FILE, "continuum limit of the kernel 8 k T/(3 mu)", continuum_kernel),
    Entry::computed(FILE, "free-molecular limit of the kernel 4 d^2 sqrt(pi k T/m)", free_kernel),
    Entry::computed(FILE, "number left by coagulation N/N0 = 1/(1+K N0 t/2)", number_left),
    Entry::computed(FILE, "Lennard-Jones sigma", |row| Some(own_trace(row)?.collision_diameter * 1e10)).only(is_ours),
    Entry::computed(FILE, "Lennard-Jones epsilon/k", |row| Some(own_trace(row)?.well_depth)).only(is_ours),
    Entry::orientation(FILE, "Lennard-Jones sigma", LIQUID).only(is_precursor),
    Entry::orientation(FILE, "Lennard-Jones epsilon/k", LIQUID).only(is_precursor),
    Entry::orientation(FILE, "Lennard-Jones sigma", STRANGER),
    Entry::orientation(FILE, "Lennard-Jones epsilon/k", STRANGER),
    Entry::computed(FILE, "Lennard-Jones sigma, estimate 1.166 V^(1/3)", |row| {
        Some(own_trace(row)?.collision_diameter * 1e10)
    })
    .only(is_ours),
    Entry::computed(FILE, "Lennard-Jones epsilon/k, estimate 1.15 T_b", |row| Some(own_trace(row)?.well_depth))
        .only(is_ours),
    Entry::orientation(FILE, "Lennard-Jones sigma, estimate 1.166 V^(1/3)", STRANGER),
    Entry::orientation(FILE, "Lennard-Jones epsilon/k, estimate 1.15 T_b", STRANGER),
    Entry::computed(FILE, "Omega11*", |row| Some(Integral::Omega11.at(row.number("T*")?))),
    Entry::computed(FILE, "Omega22*", |row| Some(Integral::Omega22.at(row.number("T*")?))),
    Entry::computed(FILE, "binary diffusion coefficient, measured", binary_diffusion),
    Entry::computed(FILE, "binary diffusion coefficient, kinetic theory", binary_diffusion),
    Entry::computed(
        FILE,
        "binary diffusion coefficient, Chapman-Enskog (test of the code, not of nature)",
        binary_diffusion,
    ),
    Entry::computed(FILE, "Chapman-Enskog diffusion constant*", |_| Some(diffusion_constant())),
    Entry::computed(FILE, "Blanc's law 1/D = x1/D1 + x2/D2", |row| {
        let share = row.number("x1")?;
        Some(blanc([(share, row.number("D1")?), (1.0 - share, row.number("D2")?)].into_iter()))
    }),
    Entry::computed(FILE, "thermophoretic coefficient K in v = -K (nu/T) grad T", |row| {
        let (diameter, path) = (row.number("d_m")?, row.number("lambda_m")?);
        Some(seed::thermophoretic_coefficient(diameter, path, row.number("k_gas/k_particle")?))
    }),
    Entry::computed(FILE, "thermophoretic coefficient, free-molecular limit*", |_| Some(free_thermophoresis())),
    Entry::computed(FILE, "Talbot formula, free-molecular limit*", |_| Some(free_thermophoresis())),
    Entry::later(FILE, "collected share 1-exp(-w A/Q)", "collector"),
    Entry::computed(
        FILE,
        "thermal diffusion factor of a trace, Chapman-Enskog first order (test of the code, not of nature)",
        thermal_diffusion,
    ),
    Entry::computed(FILE, "thermal diffusion factor of a trace", thermal_diffusion),
    Entry::computed(FILE, "thermal diffusion factor of a trace in a mixed carrier at rest", |row| {
        let share = |gas: Carrier| row.number(gas.row().name).unwrap_or(0.0);
        let mixture = Mixture { share: Carrier::ALL.map(share) };
        Some(trace(row.text("trace")?)?.thermal_diffusion_factor(&mixture, row.number("T_K")?))
    }),
    Entry::orientation(
        FILE,
        "thermal diffusion factor, He-Ar, equal parts, 300 K",
        "not of a trace, and without tolerance",
    ),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[Disagreement {
    rows: &["K264"],
    at_most: 1.1,
    reason: "an older table, at its cold end; the integrals of 2014 at the same place are met to 0.1 %",
}];

/// A first-order law A exp(−E/RT).
#[derive(Clone, Copy, Debug)]
pub struct Law {
    /// A, 1/s.
    pub frequency: f64,
    /// E, J/mol.
    pub activation: f64,
}

/// k = A exp(−E/RT), 1/s.
pub fn rate_constant(law: Law, temperature: f64) -> f64 {
    law.frequency * (-law.activation / (GAS_CONSTANT * temperature)).exp()
}

/// Numbers of the built-in set of the core.
pub mod built_in {
    use super::Law;
    use loftwire_core::kinetics::{Shared, table};
    use loftwire_core::material::Material;

    /// Pyrolysis of a precursor in hydrogen or in an inert gas.
    pub fn pyrolysis(precursor: &str, hydrogen: bool) -> Option<Law> {
        let row = table::PYROLYSIS.iter().find(|row| row.precursor.name() == precursor)?;
        let law = if hydrogen { row.hydrogen } else { row.inert };
        Some(Law { frequency: law.frequency_per_s, activation: law.activation_kj_per_mol * 1e3 })
    }

    fn shared(number: Shared, material: Material) -> Option<f64> {
        Some(table::SHARED.iter().find(|row| row.number == number)?.values.of(material))
    }

    /// E_γ of group V on the wall where GaAs grows, kJ/mol.
    pub fn group_v_activation() -> Option<f64> {
        shared(Shared::GroupVActivation, Material::GaAs)
    }

    /// E_a of the axial rate of GaAs, kJ/mol.
    pub fn axial_activation() -> Option<f64> {
        shared(Shared::AxialActivation, Material::GaAs)
    }
}

/// The reactions that the built-in set holds, by the beginning of their names in the rows.
const FOLLOWED: [(&str, &str, bool); 3] = [
    ("TMGa first methyl, toluene carrier", "TMGa", false),
    ("TMIn first methyl, toluene carrier", "TMIn", false),
    ("TMGa in H2, gas phase without surface", "TMGa", true),
];

fn is_followed(row: &Row) -> bool {
    FOLLOWED.iter().any(|(start, ..)| row.text("reaction").is_some_and(|reaction| reaction.starts_with(start)))
}

fn law(row: &Row) -> Option<Law> {
    let reaction = row.text("reaction")?;
    let (_, precursor, hydrogen) = FOLLOWED.into_iter().find(|(start, ..)| reaction.starts_with(start))?;
    built_in::pyrolysis(precursor, hydrogen)
}

/// Gases of the rows that are neither carrier nor precursor: name, molar mass g/mol, σ Å, ε/k_B K; Svehla 1962.
const STRANGERS: [(&str, f64, f64, f64); 4] = [
    ("air", 28.9647, 3.711, 78.6),
    ("CO2", 44.0095, 3.941, 195.2),
    ("CH4", 16.0425, 3.758, 148.6),
    ("O2", 31.9988, 3.467, 106.7),
];

/// A precursor or a carrier of ours.
fn ours(name: &str) -> Option<Trace> {
    let precursor = Precursor::from_name(name).map(|precursor| Trace {
        molar_mass: precursor.molar_mass(),
        collision_diameter: precursor.collision_diameter(),
        well_depth: precursor.well_depth(),
    });
    precursor.or_else(|| Some(carrier(name)?.trace()))
}

/// Any gas of the rows.
fn trace(name: &str) -> Option<Trace> {
    let stranger = || {
        let (_, mass, sigma, well) = STRANGERS.into_iter().find(|stranger| stranger.0 == name)?;
        Some(Trace { molar_mass: mass * 1e-3, collision_diameter: sigma * 1e-10, well_depth: well })
    };
    ours(name).or_else(stranger)
}

fn own_trace(row: &Row) -> Option<Trace> {
    ours(row.text("species")?)
}

/// Ours, and the row is not from the source for tetraethyltin that the model does not take.
fn is_ours(row: &Row) -> bool {
    own_trace(row).is_some() && !row.source.starts_with("Magalhaes")
}

fn is_precursor(row: &Row) -> bool {
    own_trace(row).is_some()
}

/// Molar mass, kg/mol, that the rows of mean speeds print for a species.
fn molar_mass_of(species: &str) -> Option<f64> {
    let speed =
        rows().iter().find(|row| row.quantity == "mean molecular speed" && row.text("species") == Some(species))?;
    Some(speed.number("M")? * 1e-3)
}

/// n c̄/4, 1/(m² s).
fn impingement(molar_mass: f64, temperature: f64, pressure: f64) -> f64 {
    pressure / (BOLTZMANN * temperature) * transport::mean_speed(molar_mass, temperature) / 4.0
}

fn sphere_flux(row: &Row) -> Option<f64> {
    let (diffusion, radius) = (row.number("D")?, row.number("a_m")?);
    let knudsen = 3.0 * diffusion / (row.number("cbar")? * radius);
    Some(diffusion * row.number("n")? / radius * wire::fuchs_sutugin(knudsen, row.number("alpha")?))
}

fn contact_angle(row: &Row) -> Option<f64> {
    Some(row.number("beta_deg")?.to_radians())
}

/// Viscosity, Pa s, and mean free path, m, of air at 23 °C and one atmosphere, to which these tables belong.
const AIR: (f64, f64) = (1.832_45e-5, 67.30e-9);

fn coagulation(row: &Row, diameter: f64, temperature: f64) -> Option<f64> {
    let (viscosity, path) = AIR;
    let slip = seed::slip_correction(2.0 * path / diameter);
    let diffusion = seed::diffusion(temperature, diameter, viscosity, slip);
    Some(seed::coagulation_coefficient(diameter, row.number("rho_kg/m3")?, temperature, diffusion))
}

/// A sphere that neither slips nor jumps: large, and of next to no mass, so that only diffusion limits.
fn continuum_kernel(row: &Row) -> Option<f64> {
    let (temperature, diameter) = (row.number("T_K")?, 1.0);
    let diffusion = seed::diffusion(temperature, diameter, row.number("mu_Pas")?, 1.0);
    Some(2.0 * seed::coagulation_coefficient(diameter, 1e-20, temperature, diffusion))
}

/// A sphere that diffuses so fast that only the collisions limit.
fn free_kernel(row: &Row) -> Option<f64> {
    let (diameter, density) = (row.number("d_nm")? * 1e-9, row.number("rho_kg/m3")?);
    Some(2.0 * seed::coagulation_coefficient(diameter, density, row.number("T_K")?, 1e3))
}

/// 1/N rises evenly, and what rises evenly is carried exactly in one step.
fn number_left(row: &Row) -> Option<f64> {
    let (step, velocity) = (1.0, 1.0 / row.number("t_s")?);
    let rate = 0.5 * row.number("kernel")? * row.number("N0")?;
    Some(1.0 / Ride::new(&Difference::first(step), velocity, 0.0).carry(rate, 1.0, 1.0, 1.0))
}

fn binary_diffusion(row: &Row) -> Option<f64> {
    let (first, second) = row.text("pair")?.split_once('-')?;
    Some(Pair::new(&trace(first)?, &trace(second)?).diffusion(row.number("T_K")?, row.number("p_Pa")?))
}

/// D p σ² Ω₁₁/√(T³(1/M_a + 1/M_b)) with σ in Å and M in g/mol.
fn diffusion_constant() -> f64 {
    let (temperature, pressure) = (300.0, 1e5);
    let gas = Trace { molar_mass: 2e-3, collision_diameter: 1e-10, well_depth: 100.0 };
    let diffusion = Pair::new(&gas, &gas).diffusion(temperature, pressure);
    diffusion * pressure * Integral::Omega11.at(temperature / gas.well_depth) / temperature.powf(1.5)
}

/// The coefficient where the free path is endless.
fn free_thermophoresis() -> f64 {
    seed::thermophoretic_coefficient(1e-9, 1.0, 1e-4)
}

fn thermal_diffusion(row: &Row) -> Option<f64> {
    let mixture = blend(&[(carrier(row.text("carrier")?)?, 1.0)]);
    Some(trace(row.text("trace")?)?.thermal_diffusion_factor(&mixture, row.number("T_K")?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftwire_core::units::celsius;

    /// °C at which half of a gas is gone within a second: k = ln 2.
    fn half_gone(law: Law) -> f64 {
        celsius(law.activation / (GAS_CONSTANT * (law.frequency / std::f64::consts::LN_2).ln()))
    }

    /// Source: Yoshida, Watanabe & Uesugi 1985, the ranges of K047 to K054; their ends are known to the tolerance of the rows.
    #[test]
    fn half_of_it_is_gone_inside_the_measured_range() {
        let end = |case: &str, end: &str, side: f64| {
            let of_case = |row: &&Row| row.quantity.ends_with(end) && row.text("case") == Some(case);
            let row = rows().iter().find(of_case)?;
            Some(row.want()? + side * row.tol_abs?)
        };
        for (case, precursor, hydrogen) in [
            ("TMGa in H2", "TMGa", true),
            ("TMGa in N2", "TMGa", false),
            ("TEGa in H2", "TEGa", true),
            ("TEGa in N2", "TEGa", false),
        ] {
            let at = built_in::pyrolysis(precursor, hydrogen).map(half_gone);
            let (low, high) = (end(case, "low end", -1.0), end(case, "high end", 1.0));
            assert!(at.is_some() && low.is_some() && low < at && at < high, "{case}: {low:?} {at:?} {high:?}");
        }
    }
}
