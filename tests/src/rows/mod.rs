//! What the rows of each check file are held against: one module a file.

use crate::checks::{Disagreement, Entry};

pub mod charge;
pub mod classifier;
pub mod gas;
pub mod kinetics;
pub mod pipe;
pub mod published;
pub mod safety;
pub mod semiconductors;
pub mod slip;
pub mod statistics;
pub mod trade;
pub mod vapour;

/// The entries of all files.
pub const ALL: &[&[Entry]] = &[
    gas::ENTRIES,
    slip::ENTRIES,
    charge::ENTRIES,
    classifier::ENTRIES,
    pipe::ENTRIES,
    vapour::ENTRIES,
    kinetics::ENTRIES,
    semiconductors::ENTRIES,
    statistics::ENTRIES,
    safety::ENTRIES,
    trade::ENTRIES,
    published::ENTRIES,
];

/// The known disagreements of all files.
pub const DISAGREEMENTS: &[&[Disagreement]] = &[
    gas::DISAGREEMENTS,
    slip::DISAGREEMENTS,
    charge::DISAGREEMENTS,
    classifier::DISAGREEMENTS,
    pipe::DISAGREEMENTS,
    vapour::DISAGREEMENTS,
    kinetics::DISAGREEMENTS,
    semiconductors::DISAGREEMENTS,
    statistics::DISAGREEMENTS,
    safety::DISAGREEMENTS,
    trade::DISAGREEMENTS,
    published::DISAGREEMENTS,
];
