//! The page in a real browser: what the suites in `tests/` share.
//!
//! | module | does |
//! | --- | --- |
//! | [`browser`] | a headless browser of its own for each test, ended with it |
//! | [`built`] | the page and the command line as this repository builds them, and the jobs |
//! | [`npm`] | tools of the suites that npm has |
//! | [`core_calls`] | calls of the bridge from within the open page |
//! | [`watch`] | what pages and their workers asked of the network |
//! | [`server`] | a server for the served form, which can be stopped |
//!
//! Needs `chromium` and `chromedriver`, and what `cargo page` needs; the suites of looks and types also `npm`, for tools that only
//! they use. `LOFTWIRE_AS_BUILT` takes the page that stands there, `LOFTWIRE_PROGRAM` another command line: for work on a test.

pub mod browser;
pub mod built;
pub mod core_calls;
pub mod npm;
pub mod server;
pub mod watch;
