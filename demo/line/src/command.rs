//! The commands, each defined once: help, completions and the manual come from here.

use clap::{CommandFactory, Parser, Subcommand, ValueEnum};
use std::io;
use std::path::PathBuf;

/// Name of the program.
pub const NAME: &str = "loftwire";

/// What is shown before all else.
const EXAMPLES: &str = "Examples:
  loftwire                                        the demo job, built in
  loftwire predict job.json                       what the job will grow
  loftwire predict job.json --csv profile         figures along each tube
  loftwire predict job.json --json                the whole report
  loftwire predict - < jobs.jsonl > reports.jsonl a job a line, a report a line
  loftwire levers job.json                        what moves it, and how sure
  loftwire explain job.json wires.length_nm.mean  where a figure comes from
  loftwire page job.json --out job.html           the page with the job in it
  loftwire checks                                 published values against ours";

/// What stands behind all else.
const STATUS: &str = "Status:
  0  done; the order is met, or there is none
  1  the order is not met, or a check value is missed
  2  bad input, or the job is refused";

/// What a line of tube furnaces will grow.
#[derive(Debug, Parser)]
#[command(name = NAME, version, disable_help_subcommand = true, before_help = EXAMPLES, after_help = STATUS)]
pub struct Arguments {
    /// What to do; the demo job without it.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Predict what a job will grow
    #[command(before_help = "Examples:
  loftwire predict job.json
  loftwire predict job.json --csv along > wire.csv
  loftwire predict - < jobs.jsonl > reports.jsonl", after_help = STATUS)]
    Predict {
        /// Job file; - reads a job a line and writes a report a line
        #[arg(value_name = "JOB")]
        job: String,
        /// Write the whole report as JSON
        #[arg(long, conflicts_with = "csv")]
        json: bool,
        /// Write one of its tables as CSV
        #[arg(long, value_name = "TABLE")]
        csv: Option<Table>,
    },
    /// What moves the wires, how sure it is, what brings them back
    #[command(before_help = "Examples:
  loftwire levers job.json
  loftwire levers job.json --json", after_help = STATUS)]
    Levers {
        /// Job file
        #[arg(value_name = "JOB")]
        job: String,
        /// Write the levers as JSON
        #[arg(long)]
        json: bool,
    },
    /// Explain a figure: equation, today's values in it, range, source
    #[command(before_help = "Examples:
  loftwire explain job.json wires.length_nm.mean
  loftwire explain job.json 'stages[0].flow.reynolds'")]
    Explain {
        /// Job file
        #[arg(value_name = "JOB")]
        job: String,
        /// Path of the figure in the report; without it all figures are listed
        #[arg(value_name = "FIGURE")]
        figure: Option<String>,
    },
    /// Write the page with a job in it: one file, for mail and stick
    #[command(before_help = "Examples:
  loftwire page job.json --out job.html
  loftwire page job.json > job.html")]
    Page {
        /// Job file
        #[arg(value_name = "JOB")]
        job: String,
        /// Where to; standard output without it
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
        /// The built page, if it is not beside the program and not in target/page
        #[arg(long, value_name = "FILE")]
        page: Option<PathBuf>,
    },
    /// List the check values: what we compute, tolerance, source
    #[command(before_help = "Example:
  loftwire checks | grep missed")]
    Checks,
    /// Write completions for a shell
    #[command(before_help = "Example:
  loftwire completions bash > loftwire.bash")]
    Completions {
        /// Which shell
        #[arg(value_name = "SHELL")]
        shell: clap_complete::Shell,
    },
    /// Write the manual page
    #[command(before_help = "Examples:
  loftwire man > loftwire.1
  loftwire man predict > loftwire-predict.1")]
    Man {
        /// The page of one command
        #[arg(value_name = "COMMAND")]
        command: Option<String>,
    },
}

/// Tables of a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Table {
    /// The mean wire from base to tip: doping and diameter
    Along,
    /// Shares of the wires by length, whole and by segment
    Histogram,
    /// Figures along each tube
    Profile,
}

/// The manual page of the program, or of one of its commands; `None` where there is no such command.
pub fn manual(command: Option<&str>) -> Option<io::Result<Vec<u8>>> {
    let mut whole = Arguments::command();
    whole.build();
    let page = match command {
        None => whole.before_help(None::<&str>).after_help(format!("{EXAMPLES}\n\n{STATUS}")),
        Some(command) => {
            let part = whole.find_subcommand(command)?.clone();
            let examples = part.get_before_help().map(ToString::to_string).unwrap_or_default();
            part.before_help(None::<&str>).after_help(format!("{examples}\n\n{STATUS}"))
        }
    };
    let mut text = Vec::new();
    Some(clap_mangen::Man::new(page).render(&mut text).map(|()| text))
}
