//! Rows of `safety.csv`: limits as the cautions print them, and the arithmetic of purging and diluting.

use crate::checks::{Disagreement, Entry, Row};
use loftwire_core::caution::{self, Limit, table};

const FILE: &str = "safety.csv";

const STRANGER: &str = "a substance that no feed brings";
const MILDER: &str = "two standards differ, and the cautions print the stricter";
const WORDS: &str = "words; the caution of the substance says it";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "ppm to mg/m3 at 25 C 1 atm", |row| {
        Some(caution::milligrams_per_cubic_metre(row.number("ppm")?, row.number("M")? * 1e-3))
    }),
    Entry::computed(FILE, "air to dilute a leak to a limit, perfect mixing", |row| {
        // sccm and m³/min are both volumes at 0 °C and one atmosphere.
        Some(1e-6 * caution::air_to_dilute(row.number("leak_sccm")?, row.number("limit_ppm")? * 1e-6))
    }),
    Entry::computed(FILE, "volume changes to purge to a residual share, perfect mixing", |row| {
        Some(caution::volume_changes(row.number("share")?))
    }),
    Entry::computed(FILE, "pump and refill cycles to purge to a residual share, pressure ratio 20", |row| {
        Some(caution::pump_cycles(row.number("share")?, row.number("ratio")?))
    }),
    Entry::computed(FILE, "hydrogen needed to reach the lower flammable limit in a room", |row| {
        Some(caution::gas_to_flammable(row.number("room_m3")?, row.number("LFL_percent")? * 1e-2))
    }),
    Entry::orientation(FILE, "workplace limit", WORDS),
    Entry::orientation(FILE, "pyrophoric", WORDS),
    Entry::orientation(FILE, "*", STRANGER).only(is_stranger),
    Entry::orientation(FILE, "*", MILDER).only(|row| matches!(row.id.as_str(), "X029" | "X032" | "X036")),
    Entry::computed(FILE, "*", |row| Some(limit(row)?.value)),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];

fn is_stranger(row: &Row) -> bool {
    !table::all().iter().any(|hazard| Some(hazard.name) == row.text("substance"))
}

/// The limit that names this row, or else the one of the same substance and the same words, as far as they go.
fn limit(row: &Row) -> Option<&'static Limit> {
    let hazard = table::all().into_iter().find(|hazard| Some(hazard.name) == row.text("substance"))?;
    let named = hazard.limits.iter().find(|limit| limit.check == row.id);
    let limit = named.or_else(|| hazard.limits.iter().find(|limit| row.quantity.starts_with(limit.what)))?;
    (limit.unit == row.unit).then_some(limit)
}
