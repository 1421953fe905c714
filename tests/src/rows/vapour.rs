//! Rows of `vapour.csv`: vapour pressures, boiling points, pick-up of bubblers.

use crate::checks::{Disagreement, Entry, Row};
use loftwire_core::feed::Precursor;
use loftwire_core::feed::bubbler::pick_up;
use loftwire_core::feed::table::{TMIN_REEXAMINED, VapourPair};
use loftwire_core::units::{GAS_CONSTANT, MBAR, SCCM, STANDARD_PRESSURE, kelvin};
use std::f64::consts::LN_10;

const FILE: &str = "vapour.csv";

const NOT_OURS: &str = "a substance or a pair of constants that is not in the model's table";
const LIQUID: &str = "liquid trimethylindium above 88 °C; a bath is at most 80 °C, and the pair is that of the solid";
const CYLINDER: &str = "a gas from a cylinder: its saturation pressure does not enter the model";
const MELTING: &str = "melting points do not enter the model";
const CAUTION: &str = "a caution about a source whose constants the model does not use";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "B in log10(p/Torr) = B - A/T", |row| Some(ours(row)?.constant)).only(in_table),
    Entry::orientation(FILE, "B in log10(p/Torr) = B - A/T", NOT_OURS),
    Entry::computed(FILE, "A in log10(p/Torr) = B - A/T", |row| Some(ours(row)?.slope)).only(in_table),
    Entry::orientation(FILE, "A in log10(p/Torr) = B - A/T", NOT_OURS),
    Entry::computed(FILE, "vapour pressure", |row| Some(given(row)?.pressure(bath(row)?)))
        .only(|row| given(row).is_some()),
    Entry::computed(FILE, "vapour pressure", |row| Some(ours(row)?.pressure(bath(row)?))).only(in_table),
    Entry::orientation(FILE, "vapour pressure", NOT_OURS),
    Entry::computed(FILE, "boiling-point check: p(T_b)/760 Torr", |row| {
        Some(ours(row)?.pressure(row.number("Tb_K")?) / STANDARD_PRESSURE)
    })
    .only(in_table),
    Entry::orientation(FILE, "boiling-point check: p(T_b)/760 Torr", NOT_OURS),
    Entry::orientation(FILE, "caution: *", CAUTION),
    Entry::orientation(FILE, "vapour pressure at the normal boiling point", LIQUID),
    Entry::orientation(FILE, "vapour pressure, corrected record", NOT_OURS),
    Entry::computed(FILE, "enthalpy of vaporisation", |row| Some(ours(row)?.slope * GAS_CONSTANT * LN_10)),
    Entry::computed(FILE, "A in log10(p/Torr) = B - A/T, from the enthalpy of vaporisation 7.9 kcal/mol", |row| {
        Some(ours(row)?.slope)
    }),
    Entry::computed(FILE, "ratio of the two TMIn equations, (10.98-3204/T)/(10.520-3014/T)", |row| {
        let temperature = bath(row)?;
        Some(TMIN_REEXAMINED.pressure(temperature) / Precursor::TMIn.vapour()?.pressure(temperature))
    }),
    Entry::orientation(FILE, "normal boiling point", LIQUID).only(|row| row.text("source") == Some("TMIn")),
    Entry::computed(FILE, "normal boiling point", |row| Some(ours(row)?.saturation_temperature(STANDARD_PRESSURE)))
        .only(in_table),
    Entry::orientation(FILE, "normal boiling point", NOT_OURS),
    Entry::orientation(FILE, "melting point", MELTING),
    Entry::orientation(FILE, "saturation pressure*", CYLINDER),
    Entry::computed(FILE, "molar pick-up of a bubbler", |row| {
        let carrier = row.number("carrier_sccm")? * SCCM;
        pick_up(carrier, given(row)?.pressure(bath(row)?), row.number("bath_mbar")? * MBAR)
    }),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[
    Disagreement {
        rows: &["V111"],
        at_most: 2.9,
        reason: "enthalpy of vaporisation of trimethylgallium at 261 K: 8 % above that of the pair, whose two constants run \
                 through the range up to the boiling point on average; at 298 K they agree within 1.4 %",
    },
    Disagreement {
        rows: &["V132"],
        at_most: 5.2,
        reason: "the handbook prints 133 °C for diethylzinc, an outlier: four other sources have 117 or 118 °C",
    },
];

fn bath(row: &Row) -> Option<f64> {
    row.number("bath_C").map(kelvin)
}

/// The constants that the row itself gives.
fn given(row: &Row) -> Option<VapourPair> {
    Some(VapourPair { constant: row.number("B")?, slope: row.number("A")? })
}

/// The model's constants for the row's substance, or the second pair for trimethylindium where the row's source is that of
/// it.
fn ours(row: &Row) -> Option<VapourPair> {
    let substance = row.text("source")?.trim_end_matches(" solid");
    if row.source.starts_with("Shenai-Khatkhate") {
        return Some(TMIN_REEXAMINED);
    }
    // A second pair for TBAs, which the model does not use.
    let other_pair = substance == "TBAs" && row.source.starts_with("Encyclopedia");
    if other_pair { None } else { Precursor::from_name(substance)?.vapour() }
}

fn in_table(row: &Row) -> bool {
    ours(row).is_some()
}
