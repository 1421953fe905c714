//! Does a work a number of times, so that callgrind can count what one more time costs.
//!
//! `count works` lists the works: name, work whose cost is taken off, parts, what a part is. `count NAME TIMES` does one.

use loftwire_speed::WORKS;
use std::process::ExitCode;

/// Sections and reports are large and pass over the stack.
const STACK: usize = 64 << 20;

fn main() -> ExitCode {
    let worker = std::thread::Builder::new().stack_size(STACK).spawn(count);
    worker.ok().and_then(|worker| worker.join().ok()).unwrap_or(ExitCode::FAILURE)
}

fn count() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["works"] => {
            for work in WORKS {
                println!("{}\t{}\t{}\t{}", work.name, work.less.unwrap_or(""), work.parts, work.part);
            }
            ExitCode::SUCCESS
        }
        [name, times] => {
            let Some(work) = WORKS.iter().find(|work| work.name == *name) else { return ExitCode::from(2) };
            let times: usize = times.parse().unwrap_or(1);
            (work.prepared)(&mut |once| (0..times).for_each(|_| once()));
            ExitCode::SUCCESS
        }
        _ => ExitCode::from(2),
    }
}
