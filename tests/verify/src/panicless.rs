//! The proof that no path in the core ends in a panic, and that the proof bites.

use crate::runner::{Log, Outcome, Runner};
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// The symbol that exists nowhere.
const SYMBOL: &str = "a_path_to_a_panic_is_left";

/// The program links.
pub fn links(runner: &Runner, log: &mut Log) -> Outcome {
    if build(runner, log, "proof") {
        return Outcome::passed();
    }
    if log.text().contains(SYMBOL) && build(runner, log, "proof,callers") {
        callers(runner, log);
        return Outcome::failed("a path to a panic is left; the log ends with the calls that lead there");
    }
    Outcome::failed("the proof does not build")
}

/// With a planted index that may be out of bounds the program does not link.
pub fn bites(runner: &Runner, log: &mut Log) -> Outcome {
    let before = log.text().len();
    if build(runner, log, "proof,planted") {
        return Outcome::failed("the program links with a planted panic: it proves nothing");
    }
    if log.text().get(before..).is_some_and(|text| text.contains(SYMBOL)) {
        Outcome::passed()
    } else {
        Outcome::failed("the program with a planted panic fails for another reason")
    }
}

fn build(runner: &Runner, log: &mut Log, features: &str) -> bool {
    let arguments = ["build", "--package", "loftwire-panicless", "--profile", "panicless", "--features", features];
    runner.command(log, &mut runner.cargo(&arguments))
}

/// Writes the lines of the source from which calls lead to the symbol, as the disassembler sees them.
fn callers(runner: &Runner, log: &mut Log) {
    let program = runner.target.join("panicless/panicless");
    let Ok(output) = Command::new("objdump").args(["-d", "-C", "--no-show-raw-insn"]).arg(&program).output() else {
        log.line("objdump is missing (package binutils): the callers cannot be told");
        return;
    };
    let text = String::from_utf8_lossy(&output.stdout);
    let calls = calls(&text);
    // From the symbol backwards through the standard library, as far as the first function of ours.
    let (mut led, mut todo) = (BTreeSet::from([SYMBOL]), vec![SYMBOL]);
    let mut places = BTreeSet::new();
    while let Some(target) = todo.pop() {
        for (caller, address) in calls.get(target).into_iter().flatten() {
            if caller.contains("loftwire") || caller.contains("panicless") || *caller == "main" {
                places.insert((*caller, *address, target));
            } else if led.insert(caller) {
                todo.push(caller);
            }
        }
    }
    for (caller, address, target) in places {
        log.line(&format!("{caller}\n    calls {target}"));
        runner.command(log, Command::new("addr2line").arg("-i").arg("-e").arg(&program).arg(address));
    }
}

/// Calls and jumps between functions: callers and their addresses, by what they call.
fn calls(text: &str) -> BTreeMap<&str, Vec<(&str, &str)>> {
    let mut calls: BTreeMap<&str, Vec<(&str, &str)>> = BTreeMap::new();
    let mut caller = "";
    for line in text.lines() {
        if let Some(name) = line.strip_suffix(">:").and_then(|line| line.split_once(" <")) {
            caller = name.1;
            continue;
        }
        let Some((address, instruction)) = line.split_once(":\t") else { continue };
        let target = instruction.split_once(" <").and_then(|(_, name)| name.strip_suffix('>'));
        if let Some(target) = target.map(|name| name.rsplit_once("+0x").map_or(name, |(name, _)| name))
            && target != caller
        {
            calls.entry(target).or_default().push((caller, address.trim()));
        }
    }
    calls
}
