#![no_std]
#![no_main]

mod sink;
mod tokens;

use core::hint::black_box;
use core::panic::PanicInfo;
use loftwire_core::check::check;
use loftwire_core::explain;
use loftwire_core::fault::Fault;
use loftwire_core::job::Job;
use loftwire_core::kinetics::Number;
use loftwire_core::predict::Predictor;
use loftwire_core::report::{figure, figures};
use loftwire_core::verdict::words;
use serde::{Deserialize, Serialize};
use sink::Sink;
use tokens::Tokens;

fn way(predictor: &mut Predictor, tokens: &[u8], text: &str, sink: &mut Sink) -> Result<(), tokens::Broken> {
    sink.words(Fault::of_structure(text, text));
    let mut job = Job::deserialize(&mut Tokens(tokens))?;
    if let Some(number) = Number::from_path(text) {
        number.set(&mut job, f64::from_bits(sink.0));
        sink.words(number);
    }
    job.serialize(&mut *sink)?;
    let line = match check(&job) {
        Ok(line) => line,
        Err(faults) => {
            sink.words(&faults);
            return faults.serialize(sink);
        }
    };
    let report = predictor.predict(&line);
    report.serialize(&mut *sink)?;
    sink.words(words::sentence(report));
    sink.words(words::refusal(report));
    let mut sum = 0.0;
    figures(report, &mut |path, value| sum += value + path.len() as f64);
    sink.words(sum.to_bits());
    sink.words(figure(report, text).is_some());
    for path in explain::nearest(text) {
        sink.words(path);
    }
    if let Some(row) = explain::explain(text) {
        for factor in explain::today(row, text, &line, report) {
            sink.words(factor.symbol);
        }
    }
    Ok(())
}

#[unsafe(no_mangle)]
pub extern "C" fn main(_: i32, predictor: *mut Predictor) -> i32 {
    let p = unsafe { &mut *predictor };
    let mut sink = Sink::default();
    let tokens: &[u8] = black_box(&[]);
    let text: &str = black_box("");
    let ok = way(p, tokens, text, &mut sink).is_ok();
    black_box(sink.0);
    #[cfg(feature = "planted")]
    {
        let a = black_box([1u8, 2]);
        black_box(a[black_box(1usize)]);
    }
    i32::from(ok)
}

#[link(name = "c")]
unsafe extern "C" {}

#[cfg(not(feature = "callers"))]
unsafe extern "C" {
    fn a_path_to_a_panic_is_left() -> !;
}

#[cfg(feature = "callers")]
#[unsafe(no_mangle)]
#[inline(never)]
unsafe extern "C" fn a_path_to_a_panic_is_left() -> ! {
    loop { black_box(()); }
}

#[panic_handler]
#[inline(never)]
fn panic(_: &PanicInfo<'_>) -> ! {
    unsafe { a_path_to_a_panic_is_left() }
}
