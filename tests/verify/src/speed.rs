//! Instructions and times of a prediction and of its parts.

use crate::runner::{Log, Outcome, Runner};
use std::collections::BTreeMap;
use std::process::Command;

/// Times by the clock.
pub fn times(runner: &Runner, log: &mut Log) -> Outcome {
    let before = log.text().len();
    if !runner.command(log, &mut runner.cargo(&["bench", "--quiet", "--package", "loftwire-speed", "--bench", "speed"]))
    {
        return Outcome::failed("the benches do not run");
    }
    let rows: Vec<String> = log.text().get(before..).unwrap_or("").lines().filter_map(time).collect();
    for row in rows {
        log.line(&row);
    }
    Outcome::passed()
}

/// A line of the bench's table, as name and median.
fn time(line: &str) -> Option<String> {
    let line = line.trim_start_matches(['├', '╰', '─', ' ']);
    let mut columns = line.split('│');
    let name = columns.next()?.split_whitespace().next()?;
    let median = columns.nth(1)?.trim();
    median.ends_with('s').then(|| format!("| {name:<24}{median:>12}")).filter(|_| !median.contains("samples"))
}

/// Instructions by callgrind: what one more repeat adds.
pub fn instructions(runner: &Runner, log: &mut Log) -> Outcome {
    if !runner.command(
        log,
        &mut runner.cargo(&["build", "--quiet", "--release", "--package", "loftwire-speed", "--bin", "count"]),
    ) {
        return Outcome::failed("the counting program does not build");
    }
    let program = runner.target.join("release/count");
    let Ok(listed) = Command::new(&program).arg("works").output() else {
        return Outcome::failed("the counting program does not run");
    };
    let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
    let works: Vec<[&str; 4]> =
        listed.lines().filter_map(|line| line.split('\t').collect::<Vec<_>>().try_into().ok()).collect();
    let mut costs = BTreeMap::new();
    for [name, less, parts, part] in &works {
        let run = |times: &str, log: &mut Log| {
            let before = log.text().len();
            let mut valgrind = Command::new("valgrind");
            valgrind.args(["--tool=callgrind", "--callgrind-out-file=/dev/null"]).arg(&program).args([name, times]);
            runner.command(log, &mut valgrind);
            log.text().get(before..).and_then(collected)
        };
        let (Some(once), Some(twice)) = (run("1", log), run("2", log)) else {
            return Outcome::failed(format!("{name}: callgrind does not count"));
        };
        let cost = twice.saturating_sub(once);
        let told = cost.saturating_sub(costs.get(less).copied().unwrap_or(0));
        let parts: u64 = parts.parse().unwrap_or(1).max(1);
        log.line(&format!("| {name:<24}{cost:>12} instructions,{:>7} a {part}", told / parts));
        costs.insert(name, cost);
    }
    if costs.is_empty() { Outcome::failed("nothing was counted") } else { Outcome::passed() }
}

/// The number in callgrind's line `Collected : 12345`.
fn collected(text: &str) -> Option<u64> {
    let line = text.lines().rev().find(|line| line.contains("Collected :"))?;
    line.rsplit(':').next()?.trim().parse().ok()
}
