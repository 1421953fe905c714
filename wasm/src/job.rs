//! A job on its way in and out: always through its text, so that the page and the command line read and refuse alike.

use js_sys::JSON;
use loftwire_core::check::check;
use loftwire_core::fault::{Fault, Faults};
use loftwire_core::job::Job;
use wasm_bindgen::JsValue;

/// The text of a job that comes as an object or as a text.
///
/// # Errors
/// What is neither.
pub fn text_of(job: &JsValue) -> Result<String, Box<Faults>> {
    job.as_string().or_else(|| JSON::stringify(job).ok().map(JsValue::from)?.as_string()).ok_or_else(|| {
        // A function, a circle or nothing: none comes from a file.
        Box::new(Fault::new("", "", "is not an object", "an object of the job's fields").into())
    })
}

/// A job that comes as an object or as a text; its numbers are not checked.
///
/// # Errors
/// A fault of structure.
pub fn of(job: &JsValue) -> Result<Box<Job>, Box<Faults>> {
    loftwire_read::job(&text_of(job)?)
}

/// A job as it is opened: checked, and its full scales frozen.
///
/// # Errors
/// All that is wrong with it.
pub fn opened(text: &str) -> Result<Box<Job>, Box<Faults>> {
    let mut job = loftwire_read::job(text)?;
    check(&job).map_err(Box::new)?;
    job.freeze();
    Ok(job)
}

/// A job as the text of its file; numbers are written as they are typed, `450` and not `450.0`.
pub fn text(job: &JsValue) -> String {
    let text = JSON::stringify_with_replacer_and_space(job, &JsValue::NULL, &JsValue::from(2));
    let mut text = text.ok().and_then(|text| text.as_string()).unwrap_or_default();
    text.push('\n');
    text
}
