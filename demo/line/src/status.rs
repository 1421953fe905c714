//! How a command ends.

use std::io;
use std::process::ExitCode;

/// Status of a command, from the best to the worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Status {
    /// 0: done; the order is met, or there is none.
    Done,
    /// 1: the order is not met, or a check value is missed.
    NotMet,
    /// 2: bad input, or refused.
    Refused,
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(match status {
            Status::Done => 0,
            Status::NotMet => 1,
            Status::Refused => 2,
        })
    }
}

/// What stops a command on its way.
#[derive(Debug)]
pub enum Stop {
    /// Nobody reads any more; not a fault.
    Closed,
    /// The answer cannot be written.
    Write(io::Error),
}

impl From<io::Error> for Stop {
    fn from(why: io::Error) -> Self {
        match why.kind() {
            io::ErrorKind::BrokenPipe => Self::Closed,
            _ => Self::Write(why),
        }
    }
}

/// A status, or what stopped it.
pub type Outcome = Result<Status, Stop>;
