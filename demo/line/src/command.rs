//! The commands, each defined once: help, completions and the manual come from here.

use clap::{Parser, Subcommand, ValueEnum};

/// Name of the program.
pub const NAME: &str = "loftwire";

/// What is shown before all else.
const EXAMPLES: &str = "Examples:
  loftwire                                        the demo job, built in
  loftwire predict job.json                       what the job will grow
  loftwire predict job.json --csv profile         figures along each tube
  loftwire predict job.json --json                the whole report
  loftwire predict - < jobs.jsonl > reports.jsonl a job a line, a report a line
  loftwire explain job.json wires.length_nm.mean  where a figure comes from
  loftwire checks                                 published values against ours";

/// What stands behind all else.
const STATUS: &str = "Status:
  0  done; the order is met, or there is none
  1  the order is not met, or a check value is missed
  2  bad input, or the job is refused";

/// What a line of tube furnaces will grow.
#[derive(Debug, Parser)]
#[command(name = NAME, version, about, before_help = EXAMPLES, after_help = STATUS, max_term_width = 80)]
pub struct Arguments {
    /// What to do; the demo job without it.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Predict what a job will grow
    ///
    /// Status 0 if the order is met or there is none, 1 if it is not met, 2 for bad input and for a job that is refused.
    #[command(before_help = "Examples:
  loftwire predict job.json
  loftwire predict job.json --csv along > wire.csv
  loftwire predict - < jobs.jsonl > reports.jsonl")]
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
    /// Explain a figure of a job's report
    ///
    /// Symbol, equation, today's values in it, range and source. Without a figure: all there are.
    #[command(before_help = "Examples:
  loftwire explain job.json wires.length_nm.mean
  loftwire explain job.json 'stages[0].flow.reynolds'")]
    Explain {
        /// Job file
        #[arg(value_name = "JOB")]
        job: String,
        /// Path of the figure in the report
        #[arg(value_name = "FIGURE")]
        figure: Option<String>,
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
    #[command(before_help = "Example:
  loftwire man > loftwire.1")]
    Man,
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
