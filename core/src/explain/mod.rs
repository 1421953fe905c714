//! Where a figure of the report comes from: symbol, equation, today's values in it, range and source.
//!
//! Takes the path of a figure (`stages[0].flow.reynolds`); gives the [`Row`] that explains it, and with the line and the
//! report the [`Factor`]s of its equation as they are today. The rows are data ([`table`]), one a figure; a place in a
//! list is `[]` in them and the name of a precursor is `NAME`. A test walks a whole report and fails at a figure without
//! a row.
//!
//! Symbols are those of the model: ṅ molar flow, U velocity over the area, R tube radius, F share of the flow inside a
//! radius, T temperature, p pressure, d wire diameter, L length, Λ running length, Ω volume of a III–V pair.
//!
//! Not here: a value that needs the march again, as a rate at one place between two stations; the report has the stations.
//!
//! Covered by `tests/tests/words.rs`.

mod path;
pub mod setting;
pub mod table;

pub use setting::Setting;

use crate::line::{Line, STAGES};
use crate::ranking::rank;
use crate::report::Report;
use crate::report::figure::{PATH, figure};
use crate::text::rsplit_once;
use heapless::{String, Vec};
use path::{Places, distance, filled, matched};

/// What explains a figure.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Path of the figure; `[]` for any place, `NAME` for the name of a precursor.
    pub path: &'static str,
    /// Symbol of the model.
    pub symbol: &'static str,
    /// What it is, in words.
    pub name: &'static str,
    /// Unit; – for none.
    pub unit: &'static str,
    /// Equation, or how it is found.
    pub equation: &'static str,
    /// What stands in it, as far as the report and the line know it.
    pub inputs: &'static [Input],
    /// Where it holds.
    pub range: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// Where it stands in the model: number and name of the section.
    pub section: &'static str,
}

/// Something that stands in an equation.
#[derive(Clone, Copy, Debug)]
pub enum Input {
    /// Another figure, by the path of its row; places and name are those of the figure that is explained.
    Figure(&'static str),
    /// The figures of every stage or segment, by the path of their row; their first place runs.
    Each(&'static str),
    /// A number of the line.
    Setting(&'static Setting),
}

/// Most factors of an equation.
pub const FACTORS: usize = 12;
/// How many names are offered for one that is not known.
pub const OFFERED: usize = 5;

/// A factor of an equation, as it is today.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// Symbol.
    pub symbol: &'static str,
    /// What it is, in words.
    pub name: &'static str,
    /// Its value.
    pub value: f64,
    /// Unit.
    pub unit: &'static str,
    /// Path of the figure, where it is one and can be explained in its turn.
    pub path: Option<String<PATH>>,
}

/// The row that explains a figure; a path without the last places of a column finds the column.
#[must_use]
pub fn explain(path: &str) -> Option<&'static Row> {
    table::rows().find(|row| matched(row.path, path).is_some())
}

/// Today's values in the equation of a figure, in the order of the row; what does not apply today is left out.
#[must_use]
pub fn today(row: &Row, path: &str, line: &Line, report: &Report) -> Vec<Factor, FACTORS> {
    let mut factors = Vec::new();
    let Some(places) = matched(row.path, path) else {
        return factors;
    };
    let mut add = |factor: Option<Factor>| {
        if let Some(factor) = factor {
            // No row has more than FACTORS inputs, nor those of every stage more than FACTORS beside others (tested).
            let _ = factors.push(factor);
        }
    };
    for input in row.inputs {
        match input {
            Input::Setting(setting) => add(of_setting(setting, line, &places)),
            Input::Figure(pattern) => add(of_figure(pattern, report, &places)),
            Input::Each(pattern) => (0..STAGES).for_each(|place| add(of_figure(pattern, report, &places.at(place)))),
        }
    }
    factors
}

fn of_setting(setting: &'static Setting, line: &Line, places: &Places<'_>) -> Option<Factor> {
    let value = (setting.value)(line, places.first())?;
    value.is_finite().then_some(Factor {
        symbol: setting.symbol,
        name: setting.name,
        value,
        unit: setting.unit,
        path: None,
    })
}

fn of_figure(pattern: &'static str, report: &Report, places: &Places<'_>) -> Option<Factor> {
    let path = filled(pattern, places)?;
    let row = table::rows().find(|row| row.path == pattern)?;
    let value = figure(report, &path)?;
    Some(Factor { symbol: row.symbol, name: row.name, value, unit: row.unit, path: Some(path) })
}

/// Whether a row is offered for an unknown path: of the eight figures of a spread only the mean, unless another is named.
fn offers(row: &Row, path: &str) -> bool {
    let last = rsplit_once(row.path, ".").map_or(row.path, |(_, last)| last);
    !matches!(last, "sd" | "cv" | "p05" | "p25" | "p50" | "p75" | "p95") || path.ends_with(last)
}

/// Paths of rows that are nearest to one that is not known, nearest first.
#[must_use]
pub fn nearest(path: &str) -> Vec<&'static str, OFFERED> {
    let mut offered: Vec<(usize, &'static str), OFFERED> = Vec::new();
    for row in table::rows().filter(|row| offers(row, path)) {
        let far = distance(path, row);
        rank(&mut offered, (far, row.path), |(one, _), (other, _)| one > other);
    }
    let mut paths = Vec::new();
    for (_, path) in offered {
        // Both lists have the same room.
        let _ = paths.push(path);
    }
    paths
}
