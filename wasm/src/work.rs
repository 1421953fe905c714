//! Room for a prediction, and the last one made in it.

use loftwire_core::check::check;
use loftwire_core::fault::Faults;
use loftwire_core::line::Line;
use loftwire_core::predict::Predictor;
use loftwire_core::report::Report;
use std::cell::RefCell;

/// The last prediction.
struct Last {
    /// Text of its job.
    text: String,
    line: Box<Line>,
}

thread_local! {
    // Made where it stands: the room is larger than a stack.
    static PREDICTOR: RefCell<Predictor> = const { RefCell::new(Predictor::new()) };
    static LAST: RefCell<Option<Last>> = const { RefCell::new(None) };
}

/// Hands the line and the report of a job to `then`; the job is predicted unless it was the last one.
///
/// # Errors
/// What is wrong with the job.
pub fn with_report<T>(text: &str, then: impl FnOnce(&Line, &Report) -> T) -> Result<T, Box<Faults>> {
    LAST.with_borrow_mut(|last| {
        PREDICTOR.with_borrow_mut(|predictor| {
            if let Some(last) = last.as_ref().filter(|last| last.text == text) {
                return Ok(then(&last.line, predictor.report()));
            }
            // What is there no longer fits once the march has begun.
            *last = None;
            let line = Box::new(check(&*loftwire_read::job(text)?).map_err(Box::new)?);
            let answer = then(&line, predictor.predict(&line));
            *last = Some(Last { text: text.to_owned(), line });
            Ok(answer)
        })
    })
}

/// Lends the room to other work; the last prediction is then gone.
pub fn with_room<T>(work: impl FnOnce(&mut Predictor) -> T) -> T {
    LAST.set(None);
    PREDICTOR.with_borrow_mut(work)
}
