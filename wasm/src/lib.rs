//! The bridge: the calls by which the page asks the core. No physics and no wording stands here.
//!
//! | call | answers with |
//! | --- | --- |
//! | `read_job(text)` | the job of a file or a link, its full scales frozen |
//! | `write_job(job)` | the text of its file |
//! | `check_job(job)` | its set-points: what they are, what they can be set to |
//! | `predict(job)` | the report, the same to the last bit as that of the command line |
//! | `explain(job, figure)` | where a figure of that report comes from |
//! | `figures()` | all that can be explained |
//! | `levers_run(job)` | a run of the levers: `step()`, `result()` |
//! | `version()` | which version this is |
//!
//! Every call that takes a job answers `{ok: …}` or `{faults: [{path, value, reason, accepted, text}], more}`; none throws for
//! bad input. A job is a plain object, or its text. Should the core ever panic, the panic's words are thrown: the worker
//! catches them, says so, and is to be replaced.
//!
//! Everything is called on one thread, a worker's; room for a prediction is taken once.

mod answer;
mod explain;
mod job;
mod levers;
mod set_points;
mod work;

use answer::{Answer, plain};
use loftwire_core::check::check;
use loftwire_core::report::Report;
use loftwire_core::verdict;
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// Makes a panic an exception with its words.
#[wasm_bindgen(start)]
pub fn start() {
    std::panic::set_hook(Box::new(|panic| wasm_bindgen::throw_str(&panic.to_string())));
}

/// The version of the program.
#[wasm_bindgen]
#[must_use]
pub fn version() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}

/// The job that stands in a text, checked and with its full scales frozen.
#[wasm_bindgen]
#[must_use]
pub fn read_job(text: &str) -> JsValue {
    Answer::from(job::opened(text)).into()
}

/// The text of a job's file.
#[wasm_bindgen]
#[must_use]
pub fn write_job(job: &JsValue) -> JsValue {
    let text = job::of(job).map(|job| job::text(&plain(&*job)));
    Answer::from(text).into()
}

/// The set-points of a job.
#[wasm_bindgen]
#[must_use]
pub fn check_job(job: &JsValue) -> JsValue {
    let answer = job::of(job).and_then(|job| match check(&job) {
        Ok(_) => Ok(set_points::all(&job)),
        Err(faults) => Err(Box::new(faults)),
    });
    Answer::from(answer).into()
}

/// A report with what is said of it in one sentence.
#[derive(Serialize)]
struct Predicted<'a> {
    ok: &'a Report,
    sentence: verdict::Text,
}

impl<'a> Predicted<'a> {
    fn of(ok: &'a Report) -> Self {
        Self { ok, sentence: verdict::words::sentence(ok) }
    }
}

/// The report of a job, and the sentence that stands for it.
#[wasm_bindgen]
#[must_use]
pub fn predict(job: &JsValue) -> JsValue {
    match job::text_of(job).and_then(|text| work::with_report(&text, |_, report| plain(&Predicted::of(report)))) {
        Ok(answer) => answer,
        Err(faults) => Answer::<()>::from(Err(faults)).into(),
    }
}

/// Where a figure of the report comes from.
#[wasm_bindgen]
#[must_use]
pub fn explain(job: &JsValue, figure: &str) -> JsValue {
    let answer = job::text_of(job)
        .and_then(|text| work::with_report(&text, |line, report| explain::explain(figure, line, report)))
        .and_then(|explained| explained);
    Answer::from(answer).into()
}

/// All figures that can be explained, in the order of the report.
#[wasm_bindgen]
#[must_use]
pub fn figures() -> JsValue {
    plain(&explain::figures())
}
