//! Rows of `trade.csv`: orders of magnitude from common practice, without source and without tolerance.

use crate::checks::{Disagreement, Entry};

/// Entries of the file.
pub const ENTRIES: &[Entry] =
    &[Entry::orientation("trade.csv", "*", "common practice: an order of magnitude, no number")];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];
