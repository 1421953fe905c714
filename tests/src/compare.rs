//! A solved job held against a prediction, figure by figure.
//!
//! The solution is a tree of figures; [`leaves`] lists them with their paths. A [`Row`] says for all figures of one kind what
//! the prediction says to them, and what they are compared as. A figure without a row and a row without a figure are
//! mistakes; [`compare`] reports the first, [`idle`] the second.

use serde_json::Value;
use std::collections::BTreeMap;

/// What a figure is compared as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Means, residence, partial pressures, deposit, doping, outlet flows: 0.3 %.
    Mean,
    /// Standard deviations and coefficients of variation: 1 %.
    Deviation,
    /// Shares of variance, of losses, of wall: 0.003 absolute or 1 %.
    Share,
    /// Temperatures: 0.5 K.
    Temperature,
    /// Percentiles: 0.5 %.
    Percentile,
    /// Doping at the start and the end of a segment: 3 %.
    End,
    /// What was typed in, or follows from it alone: to the digits that are printed.
    Given,
    /// How far a balance is from closing: 1e-9.
    Closure,
}

/// Largest difference between a number and its print to seven digits, relative.
const PRINT: f64 = 1e-6;
/// Figures below this share of the largest of their kind are not compared.
const NOTHING: f64 = 1e-6;
/// Closure of a balance.
const CLOSED: f64 = 1e-9;

impl Kind {
    /// What may lie between the two, in the unit of the figure.
    fn allowed(self, want: f64) -> f64 {
        let relative = |part: f64| part * want.abs();
        match self {
            Self::Mean => relative(0.003),
            Self::Deviation => relative(0.01),
            Self::Share => relative(0.01).max(0.003),
            Self::Temperature => 0.5,
            Self::Percentile => relative(0.005),
            Self::End => relative(0.03),
            Self::Given => relative(PRINT),
            Self::Closure => CLOSED,
        }
    }

    /// Error as it is stated: relative, or absolute where the tolerance is.
    #[must_use]
    pub fn error(self, got: f64, want: f64) -> f64 {
        match self {
            Self::Temperature | Self::Share | Self::Closure => (got - want).abs(),
            _ if got == want => 0.0,
            _ => ((got - want) / want).abs(),
        }
    }
}

/// Where a figure stands among others of its kind: the places and the name in its path.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct At {
    /// Places in lists, from the outside.
    pub place: Vec<usize>,
    /// Name of a precursor, or any other key that the row leaves open.
    pub name: String,
}

impl At {
    /// The n-th place.
    #[must_use]
    pub fn place(&self, n: usize) -> usize {
        self.place.get(n).copied().unwrap_or(usize::MAX)
    }
}

/// How the prediction answers.
#[derive(Clone, Copy)]
pub enum How<C> {
    /// The figure of the report at the path in `there`, `[]` and `NAME` filled in.
    Report,
    /// Computed from the prediction.
    Computed(fn(&C, &At) -> Option<f64>),
    /// Words of the prediction.
    Words(fn(&C, &At) -> Option<String>),
    /// Belongs to a later capability of the core, named by its module.
    Later(&'static str),
    /// Says something of the solution itself.
    About,
}

/// All figures of one kind: here → there.
pub struct Row<C> {
    /// Path in the solution; `[]` is any place, `[3]` the fourth, `NAME` any key or the start of one.
    pub here: &'static str,
    /// Where it stands in the report, or what it is computed from.
    pub there: &'static str,
    /// What it is compared as.
    pub kind: Kind,
    /// How.
    pub how: How<C>,
}

/// One figure of a solution.
#[derive(Clone, Debug)]
pub struct Leaf {
    /// Its path.
    pub path: String,
    /// The figure; words and null where it is none.
    pub value: Value,
}

/// All figures of a solution, in the order of the file. What stands at `whole` is not taken apart.
#[must_use]
pub fn leaves(solution: &Value, whole: &str) -> Vec<Leaf> {
    fn walk(value: &Value, path: String, whole: &str, into: &mut Vec<Leaf>) {
        match value {
            Value::Object(fields) if path != whole => {
                for (key, value) in fields {
                    let dot = if path.is_empty() { "" } else { "." };
                    walk(value, format!("{path}{dot}{key}"), whole, into);
                }
            }
            Value::Array(list) if path != whole => {
                for (place, value) in list.iter().enumerate() {
                    walk(value, format!("{path}[{place}]"), whole, into);
                }
            }
            _ => into.push(Leaf { path, value: value.clone() }),
        }
    }
    let mut into = Vec::new();
    walk(solution, String::new(), whole, &mut into);
    into
}

/// Whether a path is of the kind of a row, and where it stands among them.
#[must_use]
pub fn fits(here: &str, path: &str) -> Option<At> {
    let (rows, parts): (Vec<_>, Vec<_>) = (here.split('.').collect(), path.split('.').collect());
    if rows.len() != parts.len() {
        return None;
    }
    let mut at = At::default();
    for (row, part) in rows.into_iter().zip(parts) {
        let (row_key, row_lists) = row.split_once('[').unwrap_or((row, ""));
        let (key, lists) = part.split_once('[').unwrap_or((part, ""));
        match row_key.strip_prefix("NAME") {
            Some(end) => key.strip_suffix(end)?.clone_into(&mut at.name),
            None if row_key == key => {}
            None => return None,
        }
        let (row_places, places): (Vec<_>, Vec<_>) = (row_lists.split('[').collect(), lists.split('[').collect());
        if row_places.len() != places.len() {
            return None;
        }
        for (row, place) in row_places.into_iter().zip(places).filter(|(row, _)| !row.is_empty()) {
            if row != "]" && row != place {
                return None;
            }
            at.place.push(place.strip_suffix(']')?.parse().ok()?);
        }
    }
    Some(at)
}

/// The path of a row with places and name filled in.
#[must_use]
pub fn filled(there: &str, at: &At) -> String {
    let mut path = String::new();
    let mut places = at.place.iter();
    for (n, part) in there.split("[]").enumerate() {
        if n > 0 {
            let place = places.next().map_or_else(|| "?".to_owned(), ToString::to_string);
            path.push_str(&format!("[{place}]"));
        }
        path.push_str(part);
    }
    path.replace("NAME", &at.name)
}

/// How a figure fared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Within its tolerance.
    Met,
    /// Outside it, or without an answer.
    Missed,
    /// Next to nothing among its kind, and so it is with us.
    Nothing,
    /// Belongs to a later capability.
    Later(&'static str),
    /// Says something of the solution itself.
    About,
    /// No row is for it.
    Stray,
}

/// A figure with what the prediction says to it.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Path in the solution.
    pub path: String,
    /// The row's `here`.
    pub row: &'static str,
    /// The row's `there`, filled in.
    pub there: String,
    /// What it was compared as.
    pub kind: Option<Kind>,
    /// The solution's figure.
    pub want: String,
    /// Ours.
    pub got: String,
    /// Error as [`Kind::error`] states it.
    pub error: f64,
    /// Error over tolerance.
    pub strain: f64,
    /// How it fared.
    pub fate: Fate,
}

/// Everything that a comparison needs.
pub struct Comparison<'a, C> {
    /// All rows; the first that fits a figure has it.
    pub rows: &'a [Row<C>],
    /// The prediction.
    pub case: &'a C,
    /// A figure of the report by its path.
    pub report: fn(&C, &str) -> Option<f64>,
    /// Relative uncertainty of the solution's own figures, by path.
    pub uncertainty: BTreeMap<String, f64>,
}

impl<C> Comparison<'_, C> {
    /// Every figure with what the prediction says to it.
    #[must_use]
    pub fn run(&self, leaves: &[Leaf]) -> Vec<Outcome> {
        let rows: Vec<_> = leaves
            .iter()
            .map(|leaf| self.rows.iter().find_map(|row| fits(row.here, &leaf.path).map(|at| (row, at))))
            .collect();
        let mut largest = BTreeMap::<&str, f64>::new();
        for (leaf, row) in leaves.iter().zip(&rows) {
            if let (Some((row, _)), Some(value)) = (row, leaf.value.as_f64()) {
                let most = largest.entry(row.here).or_default();
                *most = most.max(value.abs());
            }
        }
        let judged = leaves.iter().zip(rows).map(|(leaf, row)| match row {
            Some((row, at)) => self.judge(leaf, row, &at, largest.get(row.here).copied().unwrap_or(0.0)),
            None => Outcome {
                path: leaf.path.clone(),
                row: "",
                there: String::new(),
                kind: None,
                want: leaf.value.to_string(),
                got: String::new(),
                error: f64::NAN,
                strain: f64::NAN,
                fate: Fate::Stray,
            },
        });
        judged.collect()
    }

    fn judge(&self, leaf: &Leaf, row: &Row<C>, at: &At, largest: f64) -> Outcome {
        let there = filled(row.there, at);
        let plain = |got: String, fate| Outcome {
            path: leaf.path.clone(),
            row: row.here,
            there: there.clone(),
            kind: None,
            want: leaf.value.to_string(),
            got,
            error: 0.0,
            strain: 0.0,
            fate,
        };
        let got = match row.how {
            How::Later(module) => return plain(String::new(), Fate::Later(module)),
            How::About => return plain(String::new(), Fate::About),
            How::Words(words) => {
                let got = words(self.case, at);
                let want = leaf.value.as_str().map_or_else(|| leaf.value.to_string(), str::to_owned);
                let same = got.as_ref() == Some(&want);
                let got = got.unwrap_or_else(|| "nothing".to_owned());
                return plain(got, if same { Fate::Met } else { Fate::Missed });
            }
            How::Report => (self.report)(self.case, &there),
            How::Computed(compute) => compute(self.case, at),
        };
        let (Some(got), Some(want)) = (got, leaf.value.as_f64()) else {
            return plain("nothing".to_owned(), Fate::Missed);
        };
        let numbers = |error: f64, strain: f64, fate| Outcome {
            kind: Some(row.kind),
            got: format!("{got:.7e}"),
            error,
            strain,
            ..plain(String::new(), fate)
        };
        if row.kind != Kind::Temperature && row.kind != Kind::Closure && want.abs() < NOTHING * largest {
            // Ours must be next to nothing as well; with some room, since nobody knows it that well there.
            let fate = if got.abs() < 10.0 * NOTHING * largest { Fate::Nothing } else { Fate::Missed };
            return numbers(0.0, got.abs() / (NOTHING * largest), fate);
        }
        let own = self.uncertainty.get(&leaf.path).map_or(0.0, |relative| relative * want.abs());
        let allowed = row.kind.allowed(want).max(own);
        let off = (got - want).abs();
        let strain = if off > 0.0 { off / allowed } else { 0.0 };
        // NaN is no answer.
        let fate = if strain <= 1.0 { Fate::Met } else { Fate::Missed };
        numbers(row.kind.error(got, want), strain, fate)
    }
}

/// Rows that are for none of the figures seen.
#[must_use]
pub fn idle<C>(rows: &[Row<C>], seen: &[Outcome]) -> Vec<&'static str> {
    rows.iter().map(|row| row.here).filter(|here| !seen.iter().any(|outcome| outcome.row == *here)).collect()
}
