//! Whether a report is sound: every figure finite, present where it applies, and not negative where it is an amount.

use loftwire_core::report::Report;
use serde_json::Value;

/// Figures that may be negative, by the end of their path, or by a part of it that ends in a dot.
const SIGNED: [&str; 13] = [
    // Temperatures.
    "_c",
    // What remains of a balance, of an order, of a budget.
    "closure",
    "margin",
    "change",
    // Donors less acceptors, in the wire and in its verdict, and where they change.
    "net_per_cm3.",
    "predicted",
    "transition.",
    // Inwards is positive.
    "drift_mm.",
    // Wires that sink against the gas.
    "settling_mm_per_s",
    // What a junction changed of the variance.
    "mixing",
    // The rest of it: a hair below nothing where paths and sizes hardly meet.
    "both",
    // By how much a setting moves a figure.
    "levers.",
    "budget.",
];
/// How far an amount that is spent may be below nothing, whatever its unit: what is left of a trace is rounding.
const SPENT: f64 = -1e-9;
/// How far `both` may be below nothing.
const REST: f64 = -0.005;
/// How far percentiles, shares and lengths along a tube may be out of order, relative.
const ORDER: f64 = 1e-9;

/// A report, written.
pub struct Sound {
    text: String,
    value: Value,
    words: String,
    numbers: Vec<(String, f64)>,
}

impl Sound {
    /// Writes a report.
    ///
    /// # Panics
    /// If it cannot be written.
    #[must_use]
    pub fn of(report: &Report) -> Self {
        let text = serde_json::to_string(report).unwrap_or_else(|why| panic!("the report: {why}"));
        Self::read(text, format!("{report:?}"))
    }

    fn read(text: String, words: String) -> Self {
        let value = serde_json::from_str(&text).unwrap_or_else(|why| panic!("the report: {why}"));
        let mut numbers = Vec::new();
        list(&value, String::new(), &mut |path, value| {
            if let Some(number) = value.as_f64() {
                numbers.push((path, number));
            }
        });
        Self { text, value, words, numbers }
    }

    /// Its JSON.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// All its numbers with their paths.
    pub fn numbers(&self) -> impl Iterator<Item = (&str, f64)> {
        self.numbers.iter().map(|(path, value)| (path.as_str(), *value))
    }

    /// A figure by its path.
    #[must_use]
    pub fn figure(&self, path: &str) -> Option<f64> {
        self.numbers().find(|(other, _)| *other == path).map(|(_, value)| value)
    }

    /// What is not sound.
    #[must_use]
    pub fn faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        self.finite(&mut faults);
        for (path, value) in self.numbers().filter(|(_, value)| *value < SPENT) {
            let column =
                path.rsplit_once('[').filter(|(_, place)| place.ends_with(']')).map_or(path, |(column, _)| column);
            let signed = column.ends_with("_c")
                || SIGNED
                    .iter()
                    .any(|part| if part.ends_with('.') { path.contains(part) } else { path.ends_with(part) });
            if !signed || (path.ends_with("both") && value < REST) {
                faults.push(format!("{path} is {value:e}"));
            }
        }
        self.ordered(&mut faults);
        faults
    }

    /// Figures that are NaN or infinite.
    #[must_use]
    pub fn not_finite(&self) -> Vec<String> {
        let mut faults = Vec::new();
        self.finite(&mut faults);
        faults
    }

    /// JSON writes NaN and infinity as null, as it does what does not apply: so they are sought in the report itself.
    fn finite(&self, faults: &mut Vec<String>) {
        let odd = |word: &&str| matches!(*word, "NaN" | "inf");
        if let Some(word) = self.words.split(|c: char| !c.is_ascii_alphanumeric()).find(odd) {
            let mut nulls = Vec::new();
            list(&self.value, String::new(), &mut |path, value| {
                if value.is_null() {
                    nulls.push(path);
                }
            });
            nulls.truncate(12);
            faults.push(format!("a figure is {word}, one of those that are null: {}", nulls.join(", ")));
        }
    }

    /// Percentiles rise, histograms hold all wires, wires do not become shorter along a tube.
    fn ordered(&self, faults: &mut Vec<String>) {
        list_objects(&self.value, String::new(), &mut |path, fields| {
            let number = |key: &str| fields.get(key).and_then(Value::as_f64);
            let percentiles: Vec<f64> =
                ["p05", "p25", "p50", "p75", "p95"].iter().filter_map(|key| number(key)).collect();
            if percentiles.windows(2).any(|pair| pair[0] > pair[1] * (1.0 + ORDER)) {
                faults.push(format!("{path}: percentiles {percentiles:?}"));
            }
            let column = |key: &str| -> Vec<f64> {
                fields.get(key).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_f64).collect()
            };
            let (edges, shares) = (column("edges_nm"), column("share"));
            let all: f64 = shares.iter().sum();
            if !edges.is_empty() && (edges.len() != shares.len() + 1 || (all - 1.0).abs() > 1e-6) {
                faults.push(format!("{path}: {} edges, {} bins, {all} of the wires", edges.len(), shares.len()));
            }
        });
    }
}

/// What is not sound in a report of this JSON and these words.
#[must_use]
pub fn faults_of(text: &str, words: &str) -> Vec<String> {
    Sound::read(text.to_owned(), words.to_owned()).faults()
}

/// Shows every value that holds no others, with its path.
fn list(value: &Value, path: String, show: &mut impl FnMut(String, &Value)) {
    match value {
        Value::Object(fields) => {
            for (key, value) in fields {
                let dot = if path.is_empty() { "" } else { "." };
                list(value, format!("{path}{dot}{key}"), show);
            }
        }
        Value::Array(entries) => {
            for (place, value) in entries.iter().enumerate() {
                list(value, format!("{path}[{place}]"), show);
            }
        }
        _ => show(path, value),
    }
}

/// Shows every object with its path.
fn list_objects(value: &Value, path: String, show: &mut impl FnMut(&str, &serde_json::Map<String, Value>)) {
    match value {
        Value::Object(fields) => {
            show(&path, fields);
            for (key, value) in fields {
                let dot = if path.is_empty() { "" } else { "." };
                list_objects(value, format!("{path}{dot}{key}"), show);
            }
        }
        Value::Array(entries) => {
            for (place, value) in entries.iter().enumerate() {
                list_objects(value, format!("{path}[{place}]"), show);
            }
        }
        _ => {}
    }
}
