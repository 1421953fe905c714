//! Rows of `charge.csv`: charge fractions at bipolar equilibrium.

use crate::checks::{Disagreement, Entry, Row};
use loftwire_core::seed::charge::{WIEDENSOHLER, charge_fraction};

const FILE: &str = "charge.csv";

/// Temperature for which the fractions are published, K.
const PUBLISHED: f64 = 298.0;
/// Least diameter for which the tail beyond two charges is meant, nm.
const TAIL_FROM: f64 = 70.0;

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "coefficient a_i(N), log10 f(N) = sum a_i (log10 d_nm)^i", coefficient),
    Entry::computed(FILE, "charge fraction", fraction),
    Entry::computed(FILE, "charge fraction, Gunn", fraction),
    Entry::computed(FILE, "charge fraction, table", fraction),
    Entry::computed(FILE, "sum of all fractions", sum),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];

fn charges(row: &Row) -> Option<i32> {
    row.text("N")?.parse().ok()
}

fn coefficient(row: &Row) -> Option<f64> {
    let index = usize::try_from(charges(row)? + 2).ok()?;
    WIEDENSOHLER.get(index)?.get(row.text("i")?.parse::<usize>().ok()?).copied()
}

fn fraction(row: &Row) -> Option<f64> {
    let temperature = row.number("T_K").unwrap_or(PUBLISHED);
    Some(charge_fraction(row.number("d_nm")? * 1e-9, charges(row)?, temperature))
}

/// The row counts up to six charges, and those beyond two only where their law is meant.
fn sum(row: &Row) -> Option<f64> {
    let diameter = row.number("d_nm")?;
    let most = if diameter < TAIL_FROM { 2 } else { 6 };
    Some((-most..=most).map(|charges| charge_fraction(diameter * 1e-9, charges, PUBLISHED)).sum())
}
