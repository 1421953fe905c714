//! A report as text of 80 columns: stages, what moves them, segments against the order, lengths, what to mind, and the
//! verdict last.

mod lengths;
pub mod moves;
mod segments;
pub mod style;
mod tube;

use loftwire_core::caution::DECIDE;
use loftwire_core::gas::Carrier;
use loftwire_core::job::Job;
use loftwire_core::levers::Levers;
use loftwire_core::line::Line;
use loftwire_core::number::{PlusMinus, SetPoint, SetPointDigits, Share, three, two};
use loftwire_core::report::Report;
use loftwire_core::units::{MBAR, SCCM};
use loftwire_core::verdict::words;
use std::io::{self, Write};
use style::{Look, WIDTH, clean, wrapped};

/// What a page is about.
#[derive(Clone, Copy)]
pub struct Page<'a> {
    /// The job.
    pub job: &'a Job,
    /// The line made of it.
    pub line: &'a Line,
    /// What it will grow.
    pub report: &'a Report,
    /// What moves it, and how surely.
    pub levers: &'a Levers,
}

/// Writes the report of a line.
pub fn write(out: &mut impl Write, page: Page<'_>) -> io::Result<()> {
    let look = Look::of_output();
    rows(look, page).iter().try_for_each(|row| writeln!(out, "{}", row.trim_end()))
}

/// The rows of the page.
fn rows(look: Look, Page { job, line, report, levers }: Page<'_>) -> Vec<String> {
    let mut page = head(look, line, report);
    if report.refused.is_none() {
        page.extend(tube::stages(look, line, report));
        page.extend(moves::moves(look, job, levers));
        page.extend(segments::table(look, line, report));
        page.extend(lengths::picture(report));
        page.extend(plant(report));
    }
    page.extend(notes(report));
    page.push(String::new());
    let met = report.verdict.as_ref().is_none_or(|verdict| verdict.met) && report.refused.is_none();
    let sentence = if levers.text.is_empty() { words::sentence(report) } else { levers.text.clone() };
    for row in wrapped(&sentence, "", WIDTH) {
        page.push(if met { look.bold(&row) } else { look.outside(&row) });
    }
    page
}

/// Title, material, gas and seeds.
fn head(look: Look, line: &Line, report: &Report) -> Vec<String> {
    let title = clean(if line.title.is_empty() { "A job without a title" } else { &line.title }, WIDTH);
    let mut head = vec![look.bold(&title)];
    let mut text = format!("{} in {}, {} mbar", line.material.name(), carrier(line), SetPoint(line.pressure / MBAR));
    if let Some(seeds) = report.seeds {
        let size = PlusMinus { value: seeds.diameter_nm.mean, spread: seeds.diameter_nm.sd };
        let number = SetPointDigits(seeds.concentration_per_cm3);
        text += &format!("; gold seeds {size} nm, {number} per cm³ in {} sccm", SetPoint(round(line.aerosol / SCCM)));
        if let Some(share) = seeds.multiply_charged_share {
            text += &format!(", {} of them with two charges or more", Share(share));
        }
    }
    head.extend(wrapped(&text, "", WIDTH));
    head
}

/// A flow that crossed from sccm and back, without the last bits of it.
fn round(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

/// The carrier: `H2`, or `90 % N2 + 10 % H2`.
fn carrier(line: &Line) -> String {
    let parts: Vec<_> = line.carrier.present().collect();
    let name = |carrier: Carrier| match carrier {
        Carrier::H2 => "H2",
        Carrier::N2 => "N2",
        Carrier::Ar => "Ar",
        Carrier::He => "He",
    };
    match parts.as_slice() {
        [(only, _)] => name(*only).to_owned(),
        parts => {
            let parts: Vec<_> =
                parts.iter().map(|(carrier, share)| format!("{} {}", Share(*share), name(*carrier))).collect();
            parts.join(" + ")
        }
    }
}

/// Wires a second, and how long the order takes.
fn plant(report: &Report) -> Vec<String> {
    let Some(plant) = report.plant else { return Vec::new() };
    let mut text = format!("{} wires a second", three(plant.wires_per_s));
    if let Some(hours) = plant.run_time_h {
        text += &format!("; the order takes {}", time(hours));
    }
    if let Some(numerics) = report.numerics {
        text += &format!(". Numerical error of the length {} nm", two(numerics.length_error_nm.abs()));
        text += &format!(", of the balance {}", two(numerics.balance_error.abs()));
    }
    let mut rows = vec![String::new()];
    rows.extend(wrapped(&(text + "."), "", WIDTH));
    rows
}

/// Hours as people say them: `1 h 15 min`, `20 min`, `9 s`.
fn time(hours: f64) -> String {
    let minutes = (hours * 60.0).round();
    if !hours.is_finite() || hours >= 1e5 {
        return format!("{} h", three(hours));
    }
    if minutes < 1.0 {
        return format!("{} s", three(hours * 3600.0));
    }
    let whole = (minutes / 60.0).floor();
    match (whole, minutes - 60.0 * whole) {
        (whole, minutes) if whole < 1.0 => format!("{minutes} min"),
        (whole, minutes) if minutes < 1.0 || whole >= 100.0 => format!("{} h", SetPoint(whole)),
        (whole, minutes) => format!("{whole} h {minutes} min"),
    }
}

/// Warnings, each with its path, and cautions in short.
fn notes(report: &Report) -> Vec<String> {
    let mut rows = Vec::new();
    if !report.warnings.is_empty() {
        rows.extend([String::new(), "To know".to_owned()]);
    }
    for warning in &report.warnings {
        let path = clean(&warning.path, WIDTH);
        let place = if path.is_empty() { String::new() } else { format!("{path}: ") };
        rows.extend(wrapped(&format!("- {place}{}", clean(&warning.text, 300)), "  ", WIDTH));
    }
    let mut names: Vec<&str> = Vec::new();
    for caution in &report.cautions {
        if !names.contains(&caution.hazard.name) {
            names.push(caution.hazard.name);
        }
    }
    if !names.is_empty() {
        rows.push(String::new());
        rows.extend(wrapped(
            &format!("Caution: {}. {DECIDE} --json gives limits with issuer and year.", names.join(", ")),
            "",
            WIDTH,
        ));
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_are_said_as_people_say_them() {
        for (hours, want) in [
            (1.25, "1 h 15 min"),
            (0.9999, "1 h"),
            (0.5, "30 min"),
            (0.001, "3.60 s"),
            (123.4, "123 h"),
            (2e6, "2.00 × 10⁶ h"),
        ] {
            assert_eq!(time(hours), want);
        }
    }
}
