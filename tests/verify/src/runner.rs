//! Runs a suite, step by step, and reads what its tests say.

use crate::suites::{Step, Suite};
use std::env;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// Cases of a test that draws them at random, where the count is reduced.
const CASES: &str = "100";
/// The same, whole.
const CASES_FULL: &str = "1000";
/// Lines of a log that are printed where a suite fails.
const SHOWN: usize = 200;

/// What a suite found.
#[derive(Default)]
pub struct Outcome {
    /// Tests that passed.
    pub passed: usize,
    /// Tests that failed.
    pub failed: usize,
    /// Why it failed, where its tests do not say it.
    pub why: Option<String>,
    /// Why it was not run.
    pub not_run: Option<String>,
}

impl Outcome {
    /// One thing that was as it should be.
    pub fn passed() -> Self {
        Self { passed: 1, ..Self::default() }
    }

    /// One thing that was not.
    pub fn failed(why: impl Into<String>) -> Self {
        Self { failed: 1, why: Some(why.into()), ..Self::default() }
    }

    fn add(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
        self.why = self.why.take().or(other.why);
    }
}

/// What all suites share.
pub struct Runner {
    /// Top of the repository.
    pub root: PathBuf,
    /// Where cargo builds.
    pub target: PathBuf,
    cargo: PathBuf,
    cases: &'static str,
}

/// Where a suite writes.
pub struct Log {
    path: PathBuf,
    file: File,
}

impl Log {
    /// Writes a line.
    pub fn line(&mut self, line: &str) {
        // A log that cannot be written has failed before, as it was made.
        let _ = writeln!(self.file, "{line}");
    }

    /// All that was written so far.
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&fs::read(&self.path).unwrap_or_default()).into_owned()
    }
}

impl Runner {
    /// * `full` — whether long counts are whole
    pub fn new(full: bool) -> io::Result<Self> {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize()?;
        let target = env::var_os("CARGO_TARGET_DIR").map_or_else(|| root.join("target"), |target| root.join(target));
        fs::create_dir_all(target.join("verify"))?;
        let cargo = env::var_os("CARGO").map_or_else(|| "cargo".into(), PathBuf::from);
        Ok(Self { root, target, cargo, cases: if full { CASES_FULL } else { CASES } })
    }

    /// A call of cargo.
    pub fn cargo(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(&self.cargo);
        command.args(arguments);
        command
    }

    /// Runs a command into a log.
    ///
    /// Returns whether it ended well.
    pub fn command(&self, log: &mut Log, command: &mut Command) -> bool {
        log.line(&format!("$ {command:?}"));
        command.current_dir(&self.root).env("LOFTWIRE_CASES", self.cases).env("CARGO_TERM_COLOR", "never");
        let ends = || Ok::<_, io::Error>((log.file.try_clone()?, log.file.try_clone()?));
        let status =
            ends().and_then(|(out, err)| command.stdin(std::process::Stdio::null()).stdout(out).stderr(err).status());
        match status {
            Ok(status) => status.success(),
            Err(why) => {
                log.line(&format!("cannot be started: {why}"));
                false
            }
        }
    }

    /// Runs a suite.
    pub fn suite(&self, suite: &Suite) -> Outcome {
        if let Some(why) = suite.needs.iter().find_map(|tool| tool.lacking()) {
            println!("{:<14}not run: {why}", suite.name);
            return Outcome { not_run: Some(why), ..Outcome::default() };
        }
        print!("{:<14}", suite.name);
        // The line is finished when the suite is.
        let _ = io::stdout().flush();
        let path = self.target.join("verify").join(suite.name).with_extension("log");
        let mut log = match File::options().create(true).write(true).truncate(true).open(&path) {
            Ok(file) => Log { path, file },
            Err(why) => return Outcome::failed(format!("no log: {why}")),
        };
        let start = Instant::now();
        let mut found = Outcome::default();
        for step in suite.steps {
            found.add(self.step(&mut log, step));
        }
        let seconds = start.elapsed().as_secs();
        if found.failed == 0 {
            println!("{:>5} passed {seconds:>5} s", found.passed);
            if suite.shows {
                print_numbers(&log.text());
            }
        } else {
            println!("FAILED {seconds:>5} s");
            let text = log.text();
            let lines: Vec<&str> = text.lines().collect();
            for line in lines.iter().skip(lines.len().saturating_sub(SHOWN)) {
                println!("  {line}");
            }
        }
        found
    }

    fn step(&self, log: &mut Log, step: &Step) -> Outcome {
        match step {
            Step::Cargo(arguments) => {
                if self.command(log, &mut self.cargo(arguments)) {
                    Outcome::passed()
                } else {
                    Outcome::failed(format!("cargo {}", arguments.join(" ")))
                }
            }
            Step::Tests(arguments) => {
                let before = log.text().len();
                // One broken target does not hide the others.
                let good = self.command(log, self.cargo(&["test", "--no-fail-fast"]).args(*arguments));
                let (passed, failed) = count(log.text().get(before..).unwrap_or(""));
                match (good, passed + failed) {
                    (true, 0) => Outcome::failed(format!("cargo test {}: no test ran", arguments.join(" "))),
                    (true, _) => Outcome { passed, failed, ..Outcome::default() },
                    (false, _) => Outcome {
                        passed,
                        failed: failed.max(1),
                        why: Some(format!("cargo test {}", arguments.join(" "))),
                        ..Outcome::default()
                    },
                }
            }
            Step::Own(own) => own(self, log),
        }
    }
}

/// Sums the lines `test result: ok. 12 passed; 0 failed; ...`.
fn count(text: &str) -> (usize, usize) {
    let (mut passed, mut failed) = (0, 0);
    for line in text.lines() {
        let Some((_, counts)) = line.split_once("test result: ").and_then(|(_, rest)| rest.split_once(". ")) else {
            continue;
        };
        for part in counts.split("; ") {
            match part.split_once(' ') {
                Some((number, "passed")) => passed += number.parse().unwrap_or(0),
                Some((number, "failed")) => failed += number.parse().unwrap_or(0),
                _ => {}
            }
        }
    }
    (passed, failed)
}

/// Prints the lines of a log that are meant to be read where all went well.
fn print_numbers(text: &str) {
    for line in text.lines() {
        if let Some(line) = line.strip_prefix("| ") {
            println!("  {line}");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::count;

    #[test]
    fn counts_are_summed() {
        let text = "running 2 tests\ntest result: ok. 2 passed; 0 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.1s\n\
                    test result: FAILED. 1 passed; 3 failed; 0 ignored\n";
        assert_eq!(count(text), (3, 3));
    }
}
