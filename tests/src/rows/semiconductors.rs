//! Rows of `semiconductors.csv`: the lattice now; gaps, masses, junctions and thermocouples with what needs them.

use crate::checks::{Disagreement, Entry, Row};
use loftwire_core::material::Material;
use loftwire_core::units::{AVOGADRO, GAS_CONSTANT, MBAR, SCCM, kelvin};

const FILE: &str = "semiconductors.csv";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "lattice constant 300 K", |row| Some(material(row)?.lattice_constant() * 1e10)),
    Entry::orientation(FILE, "d a/dT", "the model takes the lattice at 300 K"),
    Entry::computed(FILE, "volume of one III-V pair a^3/4", |row| Some(material(row)?.pair_volume())),
    Entry::computed(FILE, "density from the lattice constant", density),
    Entry::computed(FILE, "standard flow", |row| Some(row.number("flow_sccm")? * SCCM)),
    Entry::computed(FILE, "standard flow of 900 sccm at 450 C 1000 mbar", |row| {
        let volume = GAS_CONSTANT * kelvin(row.number("T_C")?) / (row.number("p_mbar")? * MBAR);
        Some(row.number("flow_sccm")? * SCCM * volume)
    }),
    Entry::later(FILE, "Varshni E0", "junction"),
    Entry::later(FILE, "Varshni alpha", "junction"),
    Entry::later(FILE, "Varshni beta", "junction"),
    Entry::later(FILE, "band gap", "junction"),
    Entry::later(FILE, "band gap 300 K", "junction"),
    Entry::later(FILE, "band gap, second Varshni form*", "junction"),
    Entry::later(FILE, "spin-orbit splitting", "junction"),
    Entry::later(FILE, "electron mass at the band edge", "junction"),
    Entry::later(FILE, "Luttinger gamma1", "junction"),
    Entry::later(FILE, "Luttinger gamma2", "junction"),
    Entry::later(FILE, "Luttinger gamma3", "junction"),
    Entry::later(FILE, "heavy-hole mass [001]", "junction"),
    Entry::later(FILE, "static permittivity", "junction"),
    Entry::later(FILE, "intrinsic carrier concentration*", "junction"),
    Entry::later(FILE, "effective density of states*", "junction"),
    Entry::later(FILE, "Fermi-Dirac integral F_1/2(eta), normalised by Gamma(3/2)", "junction"),
    Entry::later(FILE, "inverse of F_1/2: eta for n/Nc", "junction"),
    Entry::later(FILE, "Joyce-Dixon, two terms", "junction"),
    Entry::later(FILE, "built-in voltage*", "junction"),
    Entry::later(FILE, "depletion width, zero bias, abrupt", "junction"),
    Entry::later(FILE, "depletion on the p side", "junction"),
    Entry::later(FILE, "depletion on the n side", "junction"),
    Entry::later(FILE, "surface depletion width of a flat surface, barrier 0.5 V", "junction"),
    Entry::later(FILE, "wire diameter that a surface barrier of 0.5 V fully depletes*", "junction"),
    Entry::later(FILE, "band-gap narrowing*", "luminescence"),
    Entry::later(FILE, "Burstein-Moss filling*", "luminescence"),
    Entry::later(FILE, "thermocouple tolerance", "budget"),
    Entry::later(FILE, "standard uncertainty from a tolerance, rectangular", "budget"),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];

fn material(row: &Row) -> Option<Material> {
    Material::ALL.into_iter().find(|material| Some(material.name()) == row.text("material"))
}

/// With the molar mass of the row, so that only the lattice is held against it.
fn density(row: &Row) -> Option<f64> {
    Some(row.number("M")? * 1e-3 / (AVOGADRO * material(row)?.pair_volume()))
}
