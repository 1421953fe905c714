//! Runs every suite: `cargo verify`.
//!
//! ```text
//! cargo verify            every suite, long counts reduced
//! cargo verify --full     every suite, long counts whole: what CI runs
//! cargo verify NAME...    these suites only
//! cargo verify --list     the suites
//! ```
//!
//! What a suite needs and is not there is installed through the system's package manager, where that is apt and the user
//! is root, and it is said what; otherwise the line to type is printed and the suite is named as not run. Compilers are
//! never fetched. With `CI=true` a suite that was not run is a failure.
//!
//! The output of each suite goes to `target/verify/NAME.log`; it is printed where the suite fails. The last line counts tests
//! (a suite without tests of its own counts as one).

mod panicless;
mod runner;
mod speed;
mod suites;
mod tools;

use runner::{Outcome, Runner};
use std::process::ExitCode;
use std::time::Instant;
use suites::{SUITES, Suite};

/// What was asked for.
struct Asked {
    full: bool,
    names: Vec<String>,
}

fn main() -> ExitCode {
    match asked() {
        Ok(Some(asked)) => run(&asked),
        Ok(None) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("verify: {why}");
            ExitCode::from(2)
        }
    }
}

/// Reads the arguments; `None` where they only ask to be told something.
fn asked() -> Result<Option<Asked>, String> {
    let mut asked = Asked { full: false, names: Vec::new() };
    for argument in std::env::args().skip(1) {
        match argument.as_str() {
            "--full" => asked.full = true,
            "--list" | "--help" | "-h" => {
                println!("cargo verify [--full] [NAME...]\n");
                for suite in SUITES {
                    println!("{:<14}{}", suite.name, suite.what);
                }
                return Ok(None);
            }
            name if SUITES.iter().any(|suite| suite.name == name) => asked.names.push(argument),
            other => return Err(format!("no suite is called {other:?}; see cargo verify --list")),
        }
    }
    Ok(Some(asked))
}

/// Runs the suites that were asked for.
fn run(asked: &Asked) -> ExitCode {
    let runner = match Runner::new(asked.full) {
        Ok(runner) => runner,
        Err(why) => {
            eprintln!("verify: cannot write logs: {why}");
            return ExitCode::from(2);
        }
    };
    let all = asked.names.is_empty();
    let chosen: Vec<&Suite> =
        SUITES.iter().filter(|suite| all || asked.names.iter().any(|name| name == suite.name)).collect();
    tools::provide(chosen.iter().flat_map(|suite| suite.needs.iter().copied()));
    let start = Instant::now();
    let mut rows: Vec<(&str, Outcome)> = Vec::new();
    if all && let Some(why) = suites::forgotten(&runner) {
        rows.push(("table", Outcome::failed(why)));
    }
    for suite in chosen {
        rows.push((suite.name, runner.suite(suite)));
    }
    summary(&rows, start.elapsed().as_secs())
}

/// Says what was found, the worst last.
fn summary(rows: &[(&str, Outcome)], seconds: u64) -> ExitCode {
    let strict = std::env::var("CI").is_ok_and(|value| value == "true");
    println!("\nafter {} min {:02} s", seconds / 60, seconds % 60);
    let (mut passed, mut failed, mut skipped) = (0, 0, 0);
    for (name, outcome) in rows {
        passed += outcome.passed;
        failed += outcome.failed;
        if let Some(why) = &outcome.not_run {
            skipped += 1;
            println!("not run: {name}: {why}");
        }
    }
    if strict && skipped > 0 {
        println!("with CI=true a suite that was not run is a failure");
        failed += skipped;
    }
    for (name, outcome) in rows.iter().filter(|(_, outcome)| outcome.failed > 0) {
        println!("failed: {name}{}", outcome.why.as_deref().map(|why| format!(": {why}")).unwrap_or_default());
    }
    println!("{passed} passed, {failed} failed");
    if failed > 0 { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}
