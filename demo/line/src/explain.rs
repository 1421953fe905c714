//! Where a figure comes from, as text.

use crate::predict::Work;
use crate::status::{Outcome, Status};
use crate::text::style::{Look, WIDTH, clean, columns, wrapped};
use loftwire_core::explain::{self, Row, table};
use loftwire_core::line::Line;
use loftwire_core::number::three;
use loftwire_core::report::Report;
use loftwire_core::report::figure::{figure, figures};
use std::io::Write;
use unicode_width::UnicodeWidthStr;

/// Column in which the names of today's values start.
const NAMES: usize = 35;
/// Columns of a path in the list of all.
const PATHS: usize = 44;

/// Explains one figure of a job, or lists all that can be explained.
pub fn explain(out: &mut impl Write, job: &str, path: Option<&str>) -> Outcome {
    let row = match path.map(|path| (path, explain::explain(path))) {
        Some((path, None)) => return Ok(unknown(path)),
        Some((path, Some(row))) => Some((path, row)),
        None => None,
    };
    let Some(line) = crate::predict::line(job) else { return Ok(Status::Refused) };
    let Some((path, row)) = row else { return list(out) };
    let mut work = Work::new();
    let report = work.predict(&line);
    if report.refused.is_some() && !path.starts_with("refused") && !path.starts_with("cautions") {
        crate::predict::tell_refusal(report);
        return Ok(Status::Refused);
    }
    let look = Look::of_output();
    for part in page(look, row, path, &line, report) {
        writeln!(out, "{part}")?;
    }
    Ok(Status::Done)
}

/// Says which names are near to one that is not known.
fn unknown(path: &str) -> Status {
    eprintln!("No figure of a report is called {}. Nearest:", clean(path, WIDTH));
    for near in explain::nearest(path) {
        eprintln!("  {near}");
    }
    Status::Refused
}

/// All figures, a line each.
fn list(out: &mut impl Write) -> Outcome {
    for row in table::rows() {
        for part in hung(&format!("{}  {}", columns(row.path, PATHS), row.name), PATHS + 2) {
            writeln!(out, "{part}")?;
        }
    }
    Ok(Status::Done)
}

/// The page of one figure.
fn page(look: Look, row: &Row, path: &str, line: &Line, report: &Report) -> Vec<String> {
    let mut page = vec![look.dim(path)];
    page.extend(
        wrapped(&format!("{}, {}: {}", row.symbol, row.name, answer(row, path, report)), "", WIDTH)
            .into_iter()
            .map(|part| look.bold(&part)),
    );
    page.push(String::new());
    page.extend(wrapped(row.equation, "  ", WIDTH));
    let factors = explain::today(row, path, line, report);
    if !factors.is_empty() {
        page.push(String::new());
        page.push("Today".to_owned());
    }
    for factor in &factors {
        let unit = if factor.unit == "–" { String::new() } else { format!(" {}", factor.unit) };
        let value = format!("{}{unit}", three(factor.value));
        let name = format!("  {} {}  {}", columns(factor.symbol, 12), columns(&value, 18), factor.name);
        page.extend(hung(&name, NAMES));
        if let Some(path) = &factor.path {
            page.push(look.dim(&format!("{:NAMES$}{path}", "")));
        }
    }
    page.push(String::new());
    page.extend(wrapped(&format!("Holds: {}", row.range), "  ", WIDTH));
    page.extend(wrapped(&format!("Source: {}", row.source), "  ", WIDTH));
    page.extend(wrapped(&format!("Model: section {}", row.section), "  ", WIDTH));
    page
}

/// A row of a table, its name, which starts at column `at`, broken below itself where it is long.
fn hung(row: &str, at: usize) -> Vec<String> {
    if row.width() <= WIDTH {
        return vec![row.to_owned()];
    }
    let (figures, name) = row.split_at(row.char_indices().nth(at).map_or(row.len(), |(place, _)| place));
    let mut rows = wrapped(name, "", WIDTH - at).into_iter();
    let first = format!("{figures}{}", rows.next().unwrap_or_default());
    std::iter::once(first).chain(rows.map(|row| format!("{:at$}{row}", ""))).collect()
}

/// The figure itself; of a column, how many there are and between which.
fn answer(row: &Row, path: &str, report: &Report) -> String {
    let unit = if row.unit == "–" { String::new() } else { format!(" {}", row.unit) };
    if let Some(value) = figure(report, path) {
        return format!("{}{unit}", three(value));
    }
    let (mut count, mut least, mut most) = (0_usize, f64::INFINITY, f64::NEG_INFINITY);
    figures(report, &mut |at, value| {
        if at.strip_prefix(path).is_some_and(|rest| rest.starts_with('[')) {
            count += 1;
            least = least.min(value);
            most = most.max(value);
        }
    });
    if count == 0 {
        return "does not apply to this job".to_owned();
    }
    format!("{count} values, {} to {}{unit}", three(least), three(most))
}
