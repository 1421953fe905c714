//! Rows of `slip.csv`: slip correction, mobility, diffusion and settling of spheres.

use super::classifier::AIR;
use crate::checks::{Disagreement, Entry, Row};
use loftwire_core::seed::{diffusion, mobility, settling, slip_correction};
use loftwire_core::units::{AVOGADRO, BOLTZMANN};
use std::f64::consts::PI;

const FILE: &str = "slip.csv";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "slip correction, Kim 2005 constants", |row| {
        Some(slip_correction(row.number("Kn=2lambda/d")?))
    }),
    Entry::computed(FILE, "slip correction in air", |row| Some(slip_in(AIR.mean_free_path, nanometres(row)?))),
    Entry::computed(FILE, "electrical mobility, one charge, air", |row| Some(AIR.mobility(nanometres(row)?, 1.0))),
    Entry::computed(FILE, "particle diffusion coefficient, air", |row| {
        let diameter = nanometres(row)?;
        Some(diffusion(row.number("T_K")?, diameter, AIR.viscosity, slip_in(AIR.mean_free_path, diameter)))
    }),
    Entry::computed(FILE, "slip correction", |row| Some(Handbook::of(row)?.slip)),
    Entry::computed(FILE, "diffusion coefficient", |row| {
        let Handbook { diameter, slip } = Handbook::of(row)?;
        Some(diffusion(Handbook::TEMPERATURE, diameter, Handbook::VISCOSITY, slip))
    }),
    Entry::computed(FILE, "settling velocity, 1000 kg/m3", |row| {
        let Handbook { diameter, slip } = Handbook::of(row)?;
        Some(settling(diameter, 1000.0, Handbook::VISCOSITY, slip))
    }),
    Entry::computed(FILE, "electrical mobility, one charge", |row| {
        let Handbook { diameter, slip } = Handbook::of(row)?;
        Some(mobility(1.0, diameter, Handbook::VISCOSITY, slip))
    }),
    Entry::orientation(
        FILE,
        "slip correction, other published constants",
        "constants of other authors, which the model does not hold; they show the 2 to 4 % between authors",
    ),
    Entry::computed(FILE, "slip correction with lambda = mu/p sqrt(pi k T/2m) = 66.09 nm*", |row| {
        Some(slip_in(plain_free_path(row.number("T_K")?), nanometres(row)?))
    }),
    Entry::computed(FILE, "settling velocity rho d^2 g Cc/(18 mu)", |row| {
        let diameter = nanometres(row)?;
        let slip = slip_in(row.number("lambda_nm")? * 1e-9, diameter);
        Some(settling(diameter, row.number("rho_kg/m3")?, row.number("mu_Pas")?, slip))
    }),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];

fn nanometres(row: &Row) -> Option<f64> {
    Some(row.number("d_nm")? * 1e-9)
}

fn slip_in(mean_free_path: f64, diameter: f64) -> f64 {
    slip_correction(2.0 * mean_free_path / diameter)
}

/// Mean free path of air by the definition that these rows name, which is not the model's.
fn plain_free_path(temperature: f64) -> f64 {
    let mass = 28.9647e-3 / AVOGADRO;
    AIR.viscosity / 101_325.0 * (PI * BOLTZMANN * temperature / (2.0 * mass)).sqrt()
}

/// A sphere in the handbook's air: 293.15 K, 101 325 Pa, viscosity 1.81e-5 Pa s, mean free path 66 nm.
struct Handbook {
    diameter: f64,
    slip: f64,
}

impl Handbook {
    const TEMPERATURE: f64 = 293.15;
    const VISCOSITY: f64 = 1.81e-5;
    const FREE_PATH: f64 = 66e-9;

    fn of(row: &Row) -> Option<Self> {
        let diameter = row.number("d_um")? * 1e-6;
        Some(Self { diameter, slip: slip_in(Self::FREE_PATH, diameter) })
    }
}
