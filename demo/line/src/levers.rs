//! What moves the wires of a job, how sure the prediction is, and what brings it back.

use crate::predict::{status, tell_refusal};
use crate::read;
use crate::status::{Outcome, Status, Stop};
use crate::text::moves::{label, name, row, shown, strongest};
use crate::text::style::{Look, clean, columns, right, wrapped};
use loftwire_core::check::check;
use loftwire_core::job::Job;
use loftwire_core::levers::{Figure, Lever, Levers};
use loftwire_core::number::{Share, two};
use loftwire_core::predict::Predictor;
use std::io::{IsTerminal, Write};

/// Rows of each table.
const ROWS: usize = 10;
/// Share of a variance under which a source is not worth a row.
const LITTLE: f64 = 0.01;

/// Works out the levers of a job file and writes them.
pub fn levers(out: &mut impl Write, path: &str, json: bool) -> Outcome {
    let job = match read::read(path) {
        Ok(job) => job,
        Err(why) => {
            eprintln!("{why}");
            return Ok(Status::Refused);
        }
    };
    let line = match check(&job) {
        Ok(line) => line,
        Err(faults) => {
            eprintln!("{faults}");
            return Ok(Status::Refused);
        }
    };
    let mut predictor = Box::new(Predictor::new());
    let mut levers = Box::new(Levers::new());
    let report = predictor.predict(&line);
    let status = status(report);
    if report.refused.is_some() {
        tell_refusal(report);
        return Ok(status);
    }
    levers.start(&job, &line, report);
    work(&mut levers, &mut predictor);
    if json {
        serde_json::to_writer(&mut *out, &*levers).map_err(|why| Stop::from(std::io::Error::from(why)))?;
        writeln!(out)?;
    } else {
        write(out, &job, &levers)?;
    }
    Ok(status)
}

/// Steps to the end, with the share done on a terminal.
fn work(levers: &mut Levers, predictor: &mut Predictor) {
    let shown = std::io::stderr().is_terminal();
    let mut progress = levers.progress();
    while !progress.finished() {
        progress = levers.step(predictor);
        if shown {
            eprint!("\r{} of {} ", progress.done, progress.of);
        }
    }
    if shown {
        eprint!("\r                \r");
    }
}

fn write(out: &mut impl Write, job: &Job, levers: &Levers) -> Result<(), Stop> {
    let look = Look::of_output();
    let Some(shown) = shown(levers) else {
        writeln!(out, "Nothing to move.")?;
        return Ok(());
    };
    writeln!(out, "{}", look.bold("How well each figure is known"))?;
    for figure in &levers.figures {
        let (value, u) = (two_or_three(figure), two(figure.u).to_string());
        writeln!(out, "  {} {} known to ± {} {}", columns(&name(figure), 36), right(&value, 14), u, figure.unit)?;
    }
    let Some(figure) = levers.figures.get(shown) else { return Ok(()) };
    writeln!(out)?;
    writeln!(out, "{}", look.bold(&format!("What makes the {} unsure", name(figure))))?;
    for lever in ranked(levers, |lever| lever.share.get(shown).copied().unwrap_or(0.0)) {
        let share = lever.share.get(shown).copied().unwrap_or(0.0);
        if share >= LITTLE {
            writeln!(
                out,
                "  {} {} of its variance",
                columns(&clean(&label(job, lever.input), 54), 54),
                right(&Share(share).to_string(), 7)
            )?;
        }
    }
    writeln!(out)?;
    writeln!(out, "{}", look.bold(&format!("What moves the {}, one step up", name(figure))))?;
    for (lever, moved) in strongest(levers, shown, ROWS) {
        writeln!(out, "{}", row(job, figure, lever, moved))?;
    }
    writeln!(out)?;
    if let Some(back) = &levers.bring_back {
        let text =
            format!("Bring it back: {} from {} to {} {}. {}", back.path, back.from, back.to, back.unit, back.text);
        for row in wrapped(&text, "", 80) {
            writeln!(out, "{row}")?;
        }
    } else if levers.figures.iter().any(|figure| !figure.inside()) {
        writeln!(out, "No single set-point brings it back.")?;
    }
    for row in wrapped(&levers.text, "", 80) {
        writeln!(out, "{}", look.bold(&row))?;
    }
    Ok(())
}

/// Levers by an amount, the largest first.
fn ranked(levers: &Levers, amount: impl Fn(&Lever) -> f64) -> Vec<&Lever> {
    let mut rows: Vec<&Lever> = levers.levers.iter().collect();
    rows.sort_by(|a, b| amount(b).total_cmp(&amount(a)));
    rows.truncate(ROWS);
    rows
}

fn two_or_three(figure: &Figure) -> String {
    if figure.u > 0.0 && figure.unit == "nm" {
        loftwire_core::number::placed(figure.value, figure.u).to_string()
    } else {
        two(figure.value).to_string()
    }
}
