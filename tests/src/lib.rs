//! What the suites share.

pub mod checks;
pub mod rows;
pub mod tube;
