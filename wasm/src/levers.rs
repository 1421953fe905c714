//! What moves the wires: the core's steps, one call each, so that the worker decides how long.

use crate::answer::plain;
use crate::work;
use loftwire_core::levers::Levers;
use wasm_bindgen::prelude::*;

/// A run of the levers. A refused prediction leaves nothing to do.
#[wasm_bindgen]
pub struct LeversRun {
    levers: Box<Levers>,
}

#[wasm_bindgen]
impl LeversRun {
    /// Does the next piece of work.
    ///
    /// Returns `{done, of}`; nothing is left where they are equal.
    pub fn step(&mut self) -> JsValue {
        plain(&work::with_room(|predictor| self.levers.step(predictor)))
    }

    /// What is known so far.
    #[must_use]
    pub fn result(&self) -> JsValue {
        plain(&*self.levers)
    }
}

/// Starts on a job, compared with a pinned one if there is one.
///
/// Returns a [`LeversRun`], or `{faults, more}`.
#[wasm_bindgen]
#[must_use]
pub fn levers_run(job: &JsValue, pinned: &JsValue) -> JsValue {
    let started = crate::job::text_of(job).and_then(|text| {
        let job = loftwire_read::job(&text)?;
        let mut levers = Box::new(Levers::new());
        work::with_report(&text, |line, report| levers.start(&job, line, report))?;
        // A pinned recipe that can no longer be read is none.
        if let Ok(pinned) = crate::job::of(pinned) {
            levers.pin(&pinned);
        }
        Ok(levers)
    });
    match started {
        Ok(levers) => LeversRun { levers }.into(),
        Err(faults) => crate::answer::Answer::<()>::from(Err(faults)).into(),
    }
}
