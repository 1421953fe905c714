//! Links only if no path in the core ends in a panic.
//!
//! The panic handler calls a symbol that exists nowhere. If the compiler can tell that no call leads to the handler, the
//! handler is left out and the program links; otherwise the linker stops at the symbol and names it. The whole way of a job is
//! called: read, checked, predicted, judged, written, said in words, explained, and its levers. Nothing is known of what goes in
//! (`black_box`), so no path is left out for a job that happens not to take it.
//!
//! It is built as a controller would build it, with optimisation and link-time optimisation (profile `panicless`): a bounds check
//! that the compiler can prove away is no path. Built without optimisation the program does not link; that is no fault. The
//! program is not meant to be run.
//!
//! ```text
//! cargo verify panicless                      links, and with a planted panic does not
//! cargo build -p loftwire-panicless --profile panicless --features proof,callers
//! ```
//!
//! The second line makes the program with the symbol in it, so that a disassembler shows who calls it; when the proof fails,
//! `cargo verify panicless` does that and prints the lines of the source.

#![no_std]
#![no_main]

mod sink;
mod tokens;

use core::hint::black_box;
use core::panic::PanicInfo;
use loftwire_core::check::check;
use loftwire_core::explain;
use loftwire_core::fault::Fault;
use loftwire_core::feed::table::Precursor;
use loftwire_core::job::{Job, SetPoint};
use loftwire_core::kinetics::{Number, diffusion_percent};
use loftwire_core::levers::Levers;
use loftwire_core::line::Line;
use loftwire_core::number;
use loftwire_core::predict::Predictor;
use loftwire_core::report::{Report, figure, figures};
use loftwire_core::verdict::words;
use serde::{Deserialize, Serialize};
use sink::Sink;
use tokens::{Broken, Tokens};

/// The whole way of a job.
fn way(predictor: &mut Predictor, tokens: &[u8], text: &str, sink: &mut Sink) -> Result<(), Broken> {
    let mut job: Job = Deserialize::deserialize(&mut Tokens(tokens))?;
    change(&mut job, text, sink);
    Serialize::serialize(&job, &mut *sink)?;
    let line = match check(&job) {
        Ok(line) => line,
        Err(faults) => {
            sink.words(&faults);
            return faults.serialize(sink);
        }
    };
    let report = predictor.predict(&line);
    report.serialize(&mut *sink)?;
    explained(&line, report, text, sink);
    let mut levers = Levers::new();
    levers.start(&job, &line, report);
    while !levers.progress().finished() {
        levers.step(predictor);
    }
    levers.serialize(sink)
}

/// Numbers of a job by their paths, and the words of a reader.
fn change(job: &mut Job, text: &str, sink: &mut Sink) {
    sink.words(Fault::of_structure(text, text));
    if let Some(number) = Number::from_path(text) {
        number.set(job, f64::from_bits(sink.sum()));
        sink.words(number);
    }
    if let Some(point) = SetPoint::from_path(text) {
        sink.words(point);
    }
    for number in Number::all() {
        let known = number.value(job, Precursor::from_name(text));
        sink.words(known.is_some() && number.standard_error(job).is_some());
    }
    sink.number(diffusion_percent(job));
}

/// What is said of a report.
fn explained(line: &Line, report: &Report, text: &str, sink: &mut Sink) {
    sink.words(words::sentence(report));
    sink.words(words::refusal(report));
    figures(report, &mut |path, value| {
        sink.words(path);
        said(value, sink);
    });
    sink.number(figure(report, text).unwrap_or_default());
    for path in explain::nearest(text) {
        sink.words(path);
    }
    if let Some(row) = explain::explain(text) {
        for factor in explain::today(row, text, line, report) {
            sink.words(factor.symbol);
            sink.number(factor.value);
        }
    }
}

/// A number in every form that it is written in.
fn said(value: f64, sink: &mut Sink) {
    sink.words(number::three(value));
    sink.words(number::whole(value));
    sink.words(number::placed(value, value));
    sink.words(number::PlusMinus { value, spread: value });
    sink.words(number::Length(value));
    sink.words(number::SetPoint(value));
    sink.words(number::SetPointDigits(value));
    sink.words(number::Share(value));
    sink.number(number::power(value));
}

/// Entry of the program, as the C library calls it.
#[unsafe(no_mangle)]
pub extern "C" fn main(_: i32, _: *const *const u8) -> i32 {
    let mut predictor = Predictor::new();
    let mut sink = Sink::default();
    let outcome = way(black_box(&mut predictor), black_box(&[]), black_box(""), &mut sink);
    #[cfg(feature = "planted")]
    {
        let two = black_box([1_u8, 2]);
        black_box(two[black_box(1_usize)]);
    }
    black_box(sink.sum());
    i32::from(outcome.is_err())
}

#[link(name = "c")]
unsafe extern "C" {}

#[cfg(not(feature = "callers"))]
unsafe extern "C" {
    /// Exists nowhere.
    fn a_path_to_a_panic_is_left() -> !;
}

/// Exists, so that the program links and shows who calls it.
#[cfg(feature = "callers")]
#[unsafe(no_mangle)]
#[inline(never)]
unsafe extern "C" fn a_path_to_a_panic_is_left() -> ! {
    loop {
        black_box(());
    }
}

#[panic_handler]
fn panic(_: &PanicInfo<'_>) -> ! {
    // SAFETY: it takes nothing and does nothing; where it does not exist, the program does not link.
    unsafe { a_path_to_a_panic_is_left() }
}
