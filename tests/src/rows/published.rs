//! Rows of `published.csv`: measured facts from papers. Few are numbers that the model gives by itself; the others are
//! tendencies, which the suites of the whole line are held against.

use super::kinetics::{built_in, rate_constant};
use crate::checks::{Disagreement, Entry};
use loftwire_core::seed;

const FILE: &str = "published.csv";

const REFERENCE: &str = "the size of a reference sphere: an input of the mobilities below";
const TENDENCY: &str = "a tendency of the whole model, or a range that it is not meant to reproduce";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(
        FILE,
        "electrical mobility, one charge, air 296.15 K 101325 Pa, from the reference diameter",
        |row| {
            let diameter = row.number("d_nm")? * 1e-9;
            Some(seed::mobility(1.0, diameter, 1.832_45e-5, seed::slip_correction(2.0 * 67.30e-9 / diameter)))
        },
    ),
    Entry::computed(FILE, "activation energy of axial growth, GaAs, Au seeds, MOVPE", |_| built_in::axial_activation()),
    Entry::computed(FILE, "TMGa decomposition activation energy, first bond, toluene carrier", |_| {
        Some(built_in::pyrolysis("TMGa", false)?.activation * 1e-3)
    }),
    Entry::computed(FILE, "TMGa decomposition in H2 without surface: ln k = 38.8 - 57.6 kcal/mol/RT", |row| {
        Some(rate_constant(built_in::pyrolysis("TMGa", true)?, row.number("T_K")?))
    }),
    Entry::orientation(FILE, "PSL reference*", REFERENCE),
    Entry::orientation(FILE, "*", TENDENCY),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];
