//! The command line: what a line of tube furnaces will grow.
//!
//! Answers go to standard output, everything else to standard error. Human text is 80 columns wide and plain unless a
//! terminal reads it; the worst news comes last, next to the prompt. A prediction takes no second copy of a rule: words and
//! figures come from the core, and only their places on the screen are chosen here.
//!
//! | module | does |
//! | --- | --- |
//! | [`command`] | the commands, their words and examples |
//! | [`read`] | a job from a file or a line of text |
//! | [`predict`] | one prediction, for a person or a program |
//! | [`stream`] | many of them, a line in and a line out |
//! | [`text`], [`table`] | a report as text of 80 columns, as CSV |
//! | [`levers`] | what moves the wires, how sure, what brings them back |
//! | [`page`] | the page with a job in it |
//! | [`explain`], [`checks`] | where a figure comes from; the check values |
//! | [`status`] | how a command ends |

mod checks;
mod command;
mod explain;
mod levers;
mod page;
mod predict;
mod read;
mod status;
mod stream;
mod table;
mod text;

use clap::{CommandFactory, Parser};
use command::{Arguments, Command};
use status::{Outcome, Status, Stop};
use std::io::{self, BufWriter, Write};
use std::process::ExitCode;

/// Stack of the thread that works: jobs, lines and reports are large and of fixed size.
const STACK: usize = 64 << 20;

/// Reads the arguments and runs the command on a thread with room.
fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(why) => {
            // A closed pipe behind the help is no news.
            let _ = why.print();
            return ExitCode::from(if why.use_stderr() { 2 } else { 0 });
        }
    };
    let worker = std::thread::Builder::new().stack_size(STACK).spawn(move || run(arguments));
    match worker.map(std::thread::JoinHandle::join) {
        Ok(Ok(Ok(status))) => status.into(),
        Ok(Ok(Err(Stop::Closed))) => Status::Done.into(),
        Ok(Ok(Err(Stop::Write(why)))) => {
            eprintln!("cannot write: {why}");
            Status::Refused.into()
        }
        Ok(Err(_)) | Err(_) => Status::Refused.into(),
    }
}

/// Writes a manual page.
fn man(out: &mut impl Write, command: Option<&str>) -> Outcome {
    let Some(page) = command::manual(command) else {
        eprintln!("There is no command {}.", text::style::clean(command.unwrap_or_default(), text::style::WIDTH));
        return Ok(Status::Refused);
    };
    out.write_all(&page?)?;
    Ok(Status::Done)
}

/// Runs one command.
fn run(arguments: Arguments) -> Outcome {
    let mut out = BufWriter::new(io::stdout());
    let status = match arguments.command {
        None => predict::demo(&mut out),
        Some(Command::Predict { job, json, csv }) if job == "-" => stream::predict(&mut out, json, csv),
        Some(Command::Predict { job, json, csv }) => predict::predict(&mut out, &job, predict::Form::new(json, csv)),
        Some(Command::Levers { job, json }) => levers::levers(&mut out, &job, json),
        Some(Command::Explain { job, figure }) => explain::explain(&mut out, &job, figure.as_deref()),
        Some(Command::Page { job, out: file, page }) => page::page(&mut out, &job, file.as_deref(), page.as_deref()),
        Some(Command::Checks) => checks::checks(&mut out),
        Some(Command::Completions { shell }) => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Arguments::command(), command::NAME, &mut script);
            out.write_all(&script).map_err(Stop::from).map(|()| Status::Done)
        }
        Some(Command::Man { command }) => man(&mut out, command.as_deref()),
    }?;
    out.flush()?;
    Ok(status)
}
