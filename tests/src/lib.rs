//! What the suites share.

pub mod checks;
pub mod compare;
pub mod follow;
pub mod job_rows;
pub mod prediction;
pub mod random;
pub mod rows;
pub mod solved;
pub mod sound;
pub mod tube;
pub mod watched;
