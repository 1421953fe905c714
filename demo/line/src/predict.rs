//! One prediction, for a person or a program.

use crate::command::Table;
use crate::read;
use crate::status::{Outcome, Status, Stop};
use crate::table;
use crate::text;
use loftwire_core::check::check;
use loftwire_core::job::Job;
use loftwire_core::levers::Levers;
use loftwire_core::line::Line;
use loftwire_core::predict::Predictor;
use loftwire_core::report::Report;
use loftwire_core::verdict::words;
use std::io::Write;

/// The demo job, so that the program has something to show without a file.
const DEMO: &str = include_str!("../../jobs/three-stage.json");

/// How a report is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Text of 80 columns.
    Text,
    /// The report, nothing more.
    Json,
    /// One of its tables.
    Csv(Table),
}

impl Form {
    /// The form that the arguments ask for.
    pub fn new(json: bool, csv: Option<Table>) -> Self {
        match (json, csv) {
            (true, _) => Self::Json,
            (false, Some(table)) => Self::Csv(table),
            (false, None) => Self::Text,
        }
    }
}

/// Room for a prediction: some megabytes, made once and used again.
pub struct Work {
    predictor: Box<Predictor>,
}

impl Work {
    /// Takes the room. To be called on a thread with a large stack: without optimisation the parts pass over it.
    pub fn new() -> Self {
        Self { predictor: Box::new(Predictor::new()) }
    }

    /// Predicts a line.
    pub fn predict(&mut self, line: &Line) -> &Report {
        self.predictor.predict(line)
    }
}

/// Predicts the demo job and says so.
pub fn demo(out: &mut impl Write) -> Outcome {
    eprintln!("No job named: this is demo/jobs/three-stage.json, built in. Your own: loftwire predict JOB");
    match read::job(DEMO) {
        Ok(job) => checked(out, &job, Form::Text),
        Err(faults) => {
            eprintln!("{faults}");
            Ok(Status::Refused)
        }
    }
}

/// Predicts a job file.
pub fn predict(out: &mut impl Write, job: &str, form: Form) -> Outcome {
    match read::read(job) {
        Ok(job) => checked(out, &job, form),
        Err(why) => {
            eprintln!("{why}");
            Ok(Status::Refused)
        }
    }
}

/// The line of a job file; its faults go to standard error.
pub fn line(job: &str) -> Option<Box<Line>> {
    match read::file(job) {
        Ok(line) => Some(line),
        Err(why) => {
            eprintln!("{why}");
            None
        }
    }
}

fn checked(out: &mut impl Write, job: &Job, form: Form) -> Outcome {
    match check(job) {
        Ok(line) => show(out, job, &line, form),
        Err(faults) => {
            eprintln!("{faults}");
            Ok(Status::Refused)
        }
    }
}

/// Predicts a line and writes the report.
fn show(out: &mut impl Write, job: &Job, line: &Line, form: Form) -> Outcome {
    let mut predictor = Box::new(Predictor::new());
    predictor.predict(line);
    match form {
        Form::Text => {
            let mut levers = Box::new(Levers::new());
            levers.start(job, line, predictor.report());
            // Effects and chance; changes that would bring it back are for the command `levers`, and would take the report.
            while !levers.known() {
                levers.step(&mut predictor);
            }
            text::write(out, text::Page { job, line, report: predictor.report(), levers: &levers })?;
        }
        Form::Csv(table) => table::write(out, predictor.report(), table)?,
        Form::Json => {
            json(out, predictor.report())?;
            writeln!(out)?;
        }
    }
    out.flush()?;
    let report = predictor.report();
    if report.refused.is_some() {
        tell_refusal(report);
    }
    Ok(status(report))
}

/// Writes a report as one line of JSON, without its end.
pub fn json(out: &mut impl Write, report: &Report) -> Result<(), Stop> {
    serde_json::to_writer(out, report).map_err(|why| Stop::from(std::io::Error::from(why)))
}

/// Says on standard error why there is no prediction, and what helps.
pub fn tell_refusal(report: &Report) {
    eprintln!("{}", words::refusal(report));
}

/// How a prediction ends.
pub fn status(report: &Report) -> Status {
    match (&report.refused, &report.verdict) {
        (Some(_), _) => Status::Refused,
        (None, Some(verdict)) if !verdict.met => Status::NotMet,
        _ => Status::Done,
    }
}
