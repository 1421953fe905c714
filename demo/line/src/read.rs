//! A job from a file, from standard input, or from a line of text.
//!
//! The text is read up to a limit, must be UTF-8 and JSON, and becomes a [`Job`] ([`loftwire_read`]); the job is checked into a [`Line`]. What
//! goes wrong on the way is one sentence each: about the file, about the structure of its text (which comes alone, nothing
//! can be read behind it), or all faults of the job.

use loftwire_core::check::check;
use loftwire_core::fault::Faults;
use loftwire_core::job::Job;
use loftwire_core::line::Line;
pub use loftwire_read::job;
use loftwire_read::{LIMIT, job_of_bytes};
use std::fmt;
use std::fs::{self, File};
use std::io::{self, Read};

/// Why there is no job.
#[derive(Debug)]
pub enum ReadError {
    /// The file cannot be read.
    File {
        /// Its path, or `standard input`.
        path: String,
        /// Why, in words that go on behind it.
        why: String,
    },
    /// What stands in it is not a job that can be predicted.
    Job(Box<Faults>),
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File { path, why } => write!(f, "{path}: {why}"),
            Self::Job(faults) => write!(f, "{faults}"),
        }
    }
}

impl std::error::Error for ReadError {}

impl From<Box<Faults>> for ReadError {
    fn from(faults: Box<Faults>) -> Self {
        Self::Job(faults)
    }
}

/// The line of a job file; `-` is standard input.
pub fn file(path: &str) -> Result<Box<Line>, ReadError> {
    Ok(checked(&*read(path)?)?)
}

/// The line of a job that stands in bytes, which may be no text.
pub fn line_of_bytes(bytes: &[u8]) -> Result<Box<Line>, Box<Faults>> {
    checked(&*job_of_bytes(bytes)?)
}

/// A job as it stands in its file; `-` is standard input.
pub fn read(path: &str) -> Result<Box<Job>, ReadError> {
    let (name, bytes) = if path == "-" {
        ("standard input", limited(&mut io::stdin().lock()))
    } else {
        (path, open(path).and_then(|mut file| limited(&mut file)))
    };
    match bytes {
        Ok(bytes) if bytes.len() > LIMIT => {
            let why = "is larger than 1 MB (1048576 bytes), the most that a job file may hold";
            Err(ReadError::File { path: name.to_owned(), why: why.to_owned() })
        }
        Ok(bytes) => Ok(job_of_bytes(&bytes)?),
        Err(why) => Err(ReadError::File { path: name.to_owned(), why: words(&why) }),
    }
}

/// The line of a job.
fn checked(job: &Job) -> Result<Box<Line>, Box<Faults>> {
    check(job).map(Box::new).map_err(Box::new)
}

/// A file, unless it is a directory, which opens but cannot be read.
fn open(path: &str) -> io::Result<File> {
    if fs::metadata(path)?.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    File::open(path)
}

/// All bytes up to one more than the limit.
fn limited(source: &mut impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    source.take(LIMIT as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Why a file cannot be read, in words that go on behind its name.
fn words(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "there is no permission to read it".to_owned(),
        io::ErrorKind::IsADirectory => "is a directory, not a job file".to_owned(),
        _ => format!("cannot be read: {why}"),
    }
}

#[cfg(test)]
mod tests {
    use super::words;
    use std::io::{Error, ErrorKind};

    /// Each common reason has its own words; also where a suite runs as a user who may read everything.
    #[test]
    fn files_that_cannot_be_read_say_why() {
        assert_eq!(words(&Error::from(ErrorKind::PermissionDenied)), "there is no permission to read it");
        assert_eq!(words(&Error::from(ErrorKind::NotFound)), "there is no such file");
        assert!(words(&Error::from(ErrorKind::TimedOut)).starts_with("cannot be read: "));
    }
}
