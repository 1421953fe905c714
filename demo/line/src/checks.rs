//! The check values, a line each, and how many are met, last.

use crate::status::{Outcome, Status};
use loftwire_core::number::{Digits, Share};
use loftwire_tests::checks::{Outcome as Row, Status as Fared, all};
use std::io::Write;

/// Lists every check value: name, how it fared, quantity, what we compute, what is wanted, tolerance, source.
pub fn checks(out: &mut impl Write) -> Outcome {
    let rows = all();
    for row in &rows {
        writeln!(out, "{}", line(row))?;
    }
    let count = |fared: fn(&Row) -> bool| rows.iter().filter(|row| fared(row)).count();
    let met = count(|row| row.status == Fared::Met);
    let known = count(|row| row.status == Fared::Missed && row.disagreement.is_some());
    let missed = count(|row| row.status == Fared::Missed && row.disagreement.is_none());
    let later = count(|row| matches!(row.status, Fared::Later(_)));
    let rest = count(|row| matches!(row.status, Fared::Orientation(_)));
    writeln!(
        out,
        "{} values: {met} met, {missed} missed, {known} where model and source are known to differ, \
         {later} for what is not there yet, {rest} for orientation",
        rows.len(),
    )?;
    Ok(if missed == 0 { Status::Done } else { Status::NotMet })
}

fn line(row: &Row) -> String {
    let fared = match (row.status, row.disagreement) {
        (Fared::Met, _) => "met".to_owned(),
        (Fared::Missed, None) => "missed".to_owned(),
        (Fared::Missed, Some(known)) => format!("differs: {}", known.reason),
        (Fared::Later(capability), _) => format!("later: {capability}"),
        (Fared::Orientation(why), _) => format!("orientation: {why}"),
    };
    let inputs = if row.inputs.is_empty() { String::new() } else { format!(" ({})", row.inputs) };
    let got = match (row.got, row.status) {
        (Some(got), _) => Digits { value: got, digits: 7 }.to_string(),
        (None, Fared::Met) => "the same".to_owned(),
        (None, _) => "–".to_owned(),
    };
    let within = if row.tolerance.is_empty() { String::new() } else { format!(", within {}", row.tolerance) };
    let used = row
        .strain
        .filter(|strain| strain.is_finite())
        .map_or_else(String::new, |strain| format!(" ({} of it used)", Share(strain)));
    let unit = if row.unit.is_empty() || row.unit == "1" { String::new() } else { format!(" {}", row.unit) };
    format!(
        "{}  {}{inputs}: {got}, wanted {}{unit}{within}{used}; {fared}; {}",
        row.id, row.quantity, row.want, row.source,
    )
}
