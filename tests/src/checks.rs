//! The check values, row by row: what the program says against what a source says.
//!
//! Every row of `checks/*.csv` is met by exactly one [`Entry`], found by file and quantity: it is computed by the core and
//! compared, or it waits for a capability that the core does not have yet, or it is words and orders of magnitude that no
//! number of ours can be held against. A row without entry and an entry without row are mistakes of the harness; see
//! [`strays`].
//!
//! To add a row: write it into its file; if its quantity is new, add an [`Entry`] in the module of that file under `rows/`.
//!
//! The files are part of the program, so that the answer is the same from any directory.

use crate::rows;
use std::sync::OnceLock;

/// One row of a check file, as it is written.
#[derive(Clone, Debug)]
pub struct Row {
    /// File it stands in.
    pub file: &'static str,
    /// Name of the row.
    pub id: String,
    /// What is compared.
    pub quantity: String,
    /// `key=value` joined by `;`.
    pub inputs: String,
    /// The value as printed: a number, or words.
    pub value: String,
    /// Its unit.
    pub unit: String,
    /// Relative tolerance, if there is one; 0 means exact.
    pub tol_rel: Option<f64>,
    /// Absolute tolerance in the unit of the value, if there is one.
    pub tol_abs: Option<f64>,
    /// Where the value comes from.
    pub source: String,
    /// library, handbook, standard, paper, analytic or common-practice.
    pub kind: String,
    /// Remark.
    pub note: String,
}

impl Row {
    /// The input of this name, as written. Names may themselves hold `=` (`Kn=lambda/a=0.5`): ask for `Kn=lambda/a`.
    #[must_use]
    pub fn text(&self, key: &str) -> Option<&str> {
        self.inputs.split(';').find_map(|pair| pair.strip_prefix(key)?.strip_prefix('='))
    }

    /// The input of this name, as a number in the unit that its name says.
    #[must_use]
    pub fn number(&self, key: &str) -> Option<f64> {
        self.text(key)?.trim().parse().ok()
    }

    /// The input of this name, as numbers separated by `|`.
    #[must_use]
    pub fn numbers(&self, key: &str) -> Option<Vec<f64>> {
        self.text(key)?.split('|').map(|part| part.trim().parse().ok()).collect()
    }

    /// The input of this name, as a whole number.
    #[must_use]
    pub fn whole(&self, key: &str) -> Option<usize> {
        self.text(key)?.trim().parse().ok()
    }

    /// The value as a number, if it is one.
    #[must_use]
    pub fn want(&self) -> Option<f64> {
        self.value.trim().parse().ok()
    }
}

/// What happens with the rows of a quantity.
#[derive(Clone, Copy)]
pub enum How {
    /// The core computes it, in the unit of the row; `None` if the row's inputs cannot be read, which counts as missed.
    Computed(fn(&Row) -> Option<f64>),
    /// The core gives words or digits that must be the row's own.
    Exact(fn(&Row) -> Option<String>),
    /// Waits for a capability of the core, by its name in [`CAPABILITIES`].
    Later(&'static str),
    /// Nothing to hold a number against; the reason.
    Orientation(&'static str),
}

/// Which rows, and what happens with them.
#[derive(Clone, Copy)]
pub struct Entry {
    /// File.
    pub file: &'static str,
    /// The quantity as written; a `*` at its end stands for anything.
    pub quantity: &'static str,
    /// Only rows that pass this, if given; entries are asked in order, and the first that fits has the row.
    pub only: Option<fn(&Row) -> bool>,
    /// What happens.
    pub how: How,
}

impl Entry {
    /// A quantity that the core computes.
    #[must_use]
    pub const fn computed(file: &'static str, quantity: &'static str, compute: fn(&Row) -> Option<f64>) -> Self {
        Self { file, quantity, only: None, how: How::Computed(compute) }
    }

    /// A quantity whose digits or words must be the same.
    #[must_use]
    pub const fn exact(file: &'static str, quantity: &'static str, compute: fn(&Row) -> Option<String>) -> Self {
        Self { file, quantity, only: None, how: How::Exact(compute) }
    }

    /// A quantity that waits for a capability.
    #[must_use]
    pub const fn later(file: &'static str, quantity: &'static str, capability: &'static str) -> Self {
        Self { file, quantity, only: None, how: How::Later(capability) }
    }

    /// A quantity that is there for orientation.
    #[must_use]
    pub const fn orientation(file: &'static str, quantity: &'static str, reason: &'static str) -> Self {
        Self { file, quantity, only: None, how: How::Orientation(reason) }
    }

    /// The same for only some of the rows.
    #[must_use]
    pub const fn only(mut self, which: fn(&Row) -> bool) -> Self {
        self.only = Some(which);
        self
    }

    /// Whether this entry is for that row.
    #[must_use]
    pub fn fits(&self, row: &Row) -> bool {
        let named = match self.quantity.strip_suffix('*') {
            Some(start) => row.quantity.starts_with(start),
            None => row.quantity == self.quantity,
        };
        named && row.file == self.file && self.only.is_none_or(|which| which(row))
    }
}

/// How a row fared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Within its tolerance.
    Met,
    /// Outside it, or not to be computed.
    Missed,
    /// Waits for this capability.
    Later(&'static str),
    /// Not to be compared, and why.
    Orientation(&'static str),
}

/// A row with what the program says to it.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Name of the row.
    pub id: String,
    /// File.
    pub file: &'static str,
    /// What is compared.
    pub quantity: String,
    /// Inputs as written.
    pub inputs: String,
    /// Unit of both numbers.
    pub unit: String,
    /// The value as printed.
    pub want: String,
    /// What the core computes.
    pub got: Option<f64>,
    /// Tolerance in words: `1 %`, `± 0.5`, `exact`; empty where there is none.
    pub tolerance: String,
    /// Error over tolerance; at most 1 where the row is met.
    pub strain: Option<f64>,
    /// Whether the row is met only within the rounding of its print, which is coarser than its tolerance; see [`rounding`].
    pub by_print: bool,
    /// How it fared.
    pub status: Status,
    /// Where the value comes from.
    pub source: String,
    /// Remark of the row.
    pub note: String,
    /// Why the row is known to be missed, if it is.
    pub disagreement: Option<&'static Disagreement>,
}

/// What the core cannot do yet, with the module of `core/src` (a file or a folder) whose presence means that it can. As soon as
/// the module is there, rows that still wait for it fail the suite.
pub const CAPABILITIES: &[(&str, &str)] = &[
    ("junction", "material/junction"),
    ("luminescence", "material/luminescence"),
    ("collector", "plant"),
    ("budget", "budget"),
    ("lot", "lot"),
    ("calibration", "calibrate"),
];

/// Rows where the source and the model disagree by more than the row's tolerance, and why that is known. A listed row that is
/// met fails the suite, so that the list cannot grow stale; so does one that is missed by more than is known.
#[derive(Clone, Copy, Debug)]
pub struct Disagreement {
    /// Names of the rows.
    pub rows: &'static [&'static str],
    /// Largest error over tolerance among them, rounded up.
    pub at_most: f64,
    /// Why source and model differ, and why the model stays as it is.
    pub reason: &'static str,
}

/// The check files: name and text. `strd_data.csv` holds data, not rows; the certified rows of `statistics.csv` read it.
pub const FILES: &[(&str, &str)] = &[
    ("gas.csv", include_str!("../checks/gas.csv")),
    ("slip.csv", include_str!("../checks/slip.csv")),
    ("charge.csv", include_str!("../checks/charge.csv")),
    ("classifier.csv", include_str!("../checks/classifier.csv")),
    ("pipe.csv", include_str!("../checks/pipe.csv")),
    ("vapour.csv", include_str!("../checks/vapour.csv")),
    ("kinetics.csv", include_str!("../checks/kinetics.csv")),
    ("semiconductors.csv", include_str!("../checks/semiconductors.csv")),
    ("statistics.csv", include_str!("../checks/statistics.csv")),
    ("safety.csv", include_str!("../checks/safety.csv")),
    ("trade.csv", include_str!("../checks/trade.csv")),
    ("published.csv", include_str!("../checks/published.csv")),
];

/// All rows, in the order of the files.
///
/// # Panics
/// If a file is not in the form that its header promises.
#[must_use]
pub fn rows() -> &'static [Row] {
    static ROWS: OnceLock<Vec<Row>> = OnceLock::new();
    ROWS.get_or_init(|| FILES.iter().flat_map(|(file, text)| read(file, text)).collect())
}

/// The row of this name.
#[must_use]
pub fn row(id: &str) -> Option<&'static Row> {
    rows().iter().find(|row| row.id == id)
}

/// All entries, file by file.
pub fn entries() -> impl Iterator<Item = &'static Entry> {
    rows::ALL.iter().flat_map(|entries| entries.iter())
}

/// All known disagreements.
pub fn disagreements() -> impl Iterator<Item = &'static Disagreement> {
    rows::DISAGREEMENTS.iter().flat_map(|known| known.iter())
}

/// Every row with what the program says to it, in the order of the files. A row without an entry is missed.
#[must_use]
pub fn all() -> Vec<Outcome> {
    rows().iter().map(outcome).collect()
}

/// Mistakes of the harness: rows without entry, entries without row, capabilities that nobody knows, computed rows without
/// tolerance. Empty when all is well.
#[must_use]
pub fn strays() -> Vec<String> {
    let mut strays = Vec::new();
    for row in rows() {
        match entries().find(|entry| entry.fits(row)) {
            None => strays.push(format!("{} {}: no entry for the quantity {:?}", row.file, row.id, row.quantity)),
            Some(entry) if row.tol_rel.is_none() && row.tol_abs.is_none() => {
                if matches!(entry.how, How::Computed(_)) {
                    strays.push(format!("{} {}: computed, but the row has no tolerance", row.file, row.id));
                }
            }
            Some(_) => {}
        }
    }
    for entry in entries() {
        let first =
            |row: &&Row| entries().find(|other| other.fits(row)).is_some_and(|other| std::ptr::eq(other, entry));
        if !rows().iter().any(|row| first(&row)) {
            strays.push(format!("{}: no row for the entry {:?}", entry.file, entry.quantity));
        }
        if let How::Later(capability) = entry.how
            && !CAPABILITIES.iter().any(|(name, _)| *name == capability)
        {
            strays.push(format!("{}: {:?} waits for {capability}, which is no capability", entry.file, entry.quantity));
        }
    }
    let listed = disagreements().flat_map(|known| known.rows);
    strays
        .extend(listed.filter(|id| row(id).is_none()).map(|id| format!("{id}: listed as a disagreement, but no row")));
    strays
}

fn outcome(row: &'static Row) -> Outcome {
    let how = entries().find(|entry| entry.fits(row)).map(|entry| entry.how);
    let disagreement = disagreements().find(|known| known.rows.contains(&row.id.as_str()));
    let (got, strain, status): (Option<f64>, Option<f64>, Status) = match how {
        Some(How::Computed(compute)) => {
            let got = compute(row);
            let strain = got.zip(row.want()).map(|(got, want)| strain(row, got, want));
            (got, strain, if strain.is_some_and(|strain| strain <= 1.0) { Status::Met } else { Status::Missed })
        }
        Some(How::Exact(compute)) => {
            let same = compute(row).is_some_and(|words| words == row.value);
            (None, None, if same { Status::Met } else { Status::Missed })
        }
        Some(How::Later(capability)) => (None, None, Status::Later(capability)),
        Some(How::Orientation(reason)) => (None, None, Status::Orientation(reason)),
        None => (None, None, Status::Missed),
    };
    let beyond = got.zip(row.want()).is_some_and(|(got, want)| (got - want).abs() > allowed(row, want));
    Outcome {
        id: row.id.clone(),
        file: row.file,
        quantity: row.quantity.clone(),
        inputs: row.inputs.clone(),
        unit: row.unit.clone(),
        want: row.value.clone(),
        got,
        tolerance: tolerance(row),
        strain,
        by_print: status == Status::Met && beyond,
        status,
        source: row.source.clone(),
        note: row.note.clone(),
        disagreement,
    }
}

/// What a row allows, in the unit of its value. Where it has both tolerances the wider one holds; 0 for an exact row.
fn allowed(row: &Row, want: f64) -> f64 {
    (row.tol_rel.unwrap_or(0.0) * want.abs()).max(row.tol_abs.unwrap_or(0.0))
}

/// Error over tolerance, or over the rounding of the print where that is coarser; an exact row has strain 0 or infinity.
fn strain(row: &Row, got: f64, want: f64) -> f64 {
    let error = (got - want).abs();
    let allowed = allowed(row, want);
    if error > 0.0 && allowed > 0.0 {
        error / allowed.max(rounding(&row.value, want))
    } else if error > 0.0 || got.is_nan() {
        f64::INFINITY
    } else {
        0.0
    }
}

/// Rounding of a print: half a unit of its last digit, or of the tenth where fewer are printed (trailing zeros are dropped).
///
/// A few rows state a tolerance below the rounding of their own print, which the exact value itself would miss.
#[must_use]
pub fn rounding(printed: &str, want: f64) -> f64 {
    let mantissa = printed.split(['e', 'E']).next().unwrap_or_default();
    let digits = mantissa.chars().filter(char::is_ascii_digit).collect::<String>();
    let digits = digits.trim_start_matches('0').len().max(10);
    if want == 0.0 {
        return 0.0;
    }
    // The exponents of numbers are far inside both types.
    0.5 * 10f64.powf(want.abs().log10().floor() - digits as f64 + 1.0)
}

fn tolerance(row: &Row) -> String {
    let relative = row.tol_rel.map(|tolerance| match tolerance {
        0.0 => "exact".to_owned(),
        _ if tolerance >= 1e-3 => format!("{} %", 100.0 * tolerance),
        _ => format!("{tolerance:e}"),
    });
    let absolute = row.tol_abs.map(|tolerance| match tolerance {
        _ if tolerance >= 1e-3 => format!("± {tolerance} {}", row.unit),
        _ => format!("± {tolerance:e} {}", row.unit),
    });
    relative.into_iter().chain(absolute).collect::<Vec<_>>().join(" or ")
}

fn read(file: &'static str, text: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let header = "id,quantity,inputs,value,unit,tol_rel,tol_abs,source,kind,note";
    let found = reader.headers().unwrap_or_else(|why| panic!("{file}: {why}"));
    assert!(found.iter().eq(header.split(',')), "{file}: columns {found:?}");
    let tolerance =
        |text: &str| (!text.is_empty()).then(|| text.parse().unwrap_or_else(|why| panic!("{file}: {text}: {why}")));
    reader
        .records()
        .map(|record| {
            let record = record.unwrap_or_else(|why| panic!("{file}: {why}"));
            let column = |index: usize| record.get(index).unwrap_or_default().to_owned();
            Row {
                file,
                id: column(0),
                quantity: column(1),
                inputs: column(2),
                value: column(3),
                unit: column(4),
                tol_rel: tolerance(&column(5)),
                tol_abs: tolerance(&column(6)),
                source: column(7),
                kind: column(8),
                note: column(9),
            }
        })
        .collect()
}
