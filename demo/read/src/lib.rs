//! A job from a text: the one reader of the command line and of the page.
//!
//! The text is read up to a limit, must be JSON, and becomes a [`Job`]. What goes wrong is a fault in the words of the
//! core; it comes alone, since nothing can be read behind it. Numbers are read to the last bit.
//!
//! Covered by `tests/tests/job_file.rs` and by the suites of the command line and of the page.

pub mod page;

use loftwire_core::fault::{Fault, Faults};
use loftwire_core::job::Job;

/// Most bytes of a job file, 1 MB. The largest job that the format can hold takes a tenth of it.
pub const LIMIT: usize = 1 << 20;
/// Mark that some editors put before a text.
const BYTE_ORDER_MARK: char = '\u{feff}';

/// A job that stands in bytes, which may be no text.
///
/// # Errors
/// A fault of structure.
pub fn job_of_bytes(bytes: &[u8]) -> Result<Box<Job>, Box<Faults>> {
    let text = std::str::from_utf8(bytes).map_err(|why| {
        let reason = format!("is not text in UTF-8 (byte {})", why.valid_up_to() + 1);
        alone(Fault::new("", "", reason, "a job file in JSON"))
    })?;
    job(text)
}

/// A job that stands in a text.
///
/// # Errors
/// A fault of structure.
pub fn job(text: &str) -> Result<Box<Job>, Box<Faults>> {
    let text = text.strip_prefix(BYTE_ORDER_MARK).unwrap_or(text);
    if text.len() > LIMIT {
        return Err(alone(Fault::new("", "", "is larger than 1 MB", "at most 1048576 bytes")));
    }
    let mut reader = serde_json::Deserializer::from_str(text);
    let job: Box<Job> = serde_path_to_error::deserialize(&mut reader)
        .map_err(|why| alone(Fault::of_structure(&why.path().to_string(), &why.inner().to_string())))?;
    reader.end().map_err(|why| alone(Fault::of_structure("", &why.to_string())))?;
    Ok(job)
}

fn alone(fault: Fault) -> Box<Faults> {
    Box::new(Faults::from(fault))
}
