//! Where a figure comes from, as the core says it.

use loftwire_core::explain::{Factor, explain as row_of, nearest, table, today};
use loftwire_core::fault::{Fault, Faults};
use loftwire_core::line::Line;
use loftwire_core::report::Report;
use loftwire_core::report::figure::figure;
use serde::Serialize;

/// A figure explained.
#[derive(Serialize)]
pub struct Explained {
    figure: String,
    name: &'static str,
    symbol: &'static str,
    unit: &'static str,
    /// `null` where it does not apply, and for a whole column.
    value: Option<f64>,
    equation: &'static str,
    inputs: Vec<Input>,
    range: &'static str,
    source: &'static str,
    section: &'static str,
}

/// What stands in its equation today.
#[derive(Serialize)]
struct Input {
    symbol: &'static str,
    name: &'static str,
    value: f64,
    unit: &'static str,
    /// Where it is a figure itself, which can be explained in its turn.
    path: Option<String>,
}

impl From<Factor> for Input {
    fn from(factor: Factor) -> Self {
        let path = factor.path.map(|path| path.as_str().to_owned());
        Self { symbol: factor.symbol, name: factor.name, value: factor.value, unit: factor.unit, path }
    }
}

/// Explains a figure of a report.
///
/// # Errors
/// A path that no figure has, with those that are near to it.
pub fn explain(path: &str, line: &Line, report: &Report) -> Result<Explained, Box<Faults>> {
    let Some(row) = row_of(path) else {
        let near = nearest(path).join(", ");
        return Err(Box::new(Fault::new(path, "", "is not a figure of a report", near).into()));
    };
    Ok(Explained {
        figure: path.to_owned(),
        name: row.name,
        symbol: row.symbol,
        unit: row.unit,
        value: figure(report, path),
        equation: row.equation,
        inputs: today(row, path, line, report).into_iter().map(Input::from).collect(),
        range: row.range,
        source: row.source,
        section: row.section,
    })
}

/// A figure that can be explained.
#[derive(Serialize)]
pub struct Figure {
    /// `[]` stands for any place, `NAME` for the name of a precursor.
    path: &'static str,
    name: &'static str,
    symbol: &'static str,
    unit: &'static str,
    section: &'static str,
}

/// All of them, in the order of the report.
pub fn figures() -> Vec<Figure> {
    table::rows()
        .map(|row| Figure { path: row.path, name: row.name, symbol: row.symbol, unit: row.unit, section: row.section })
        .collect()
}
