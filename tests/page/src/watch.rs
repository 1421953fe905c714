//! The browser's own log of its network, of which the requests that pages and their workers made are read.
//!
//! What the browser asks for itself, of its maker, has no initiator in it and is passed over.

use crate::browser::Browser;
use serde_json::Value;
use std::env;
use std::fs;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Kind of the log's entries that tell of a request.
const KIND: &str = "URL_REQUEST_START_JOB";
/// Initiator of what no page asked for.
const NOBODY: &str = "not an origin";

/// A log; the browser is to be started with its [`Watch::switch`].
#[derive(Debug)]
pub struct Watch {
    log: PathBuf,
}

impl Watch {
    /// A log that is not yet there.
    #[must_use]
    pub fn new() -> Self {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        let number = COUNT.fetch_add(1, Ordering::Relaxed);
        Self { log: env::temp_dir().join(format!("loftwire-net-{}-{number}.json", std::process::id())) }
    }

    /// The switch of a browser that writes it.
    #[must_use]
    pub fn switch(&self) -> String {
        format!("--log-net-log={}", self.log.display())
    }

    /// Ends the browser and tells what its pages asked of the network.
    ///
    /// # Panics
    /// If there is no log, or none that can be read.
    #[must_use]
    pub fn asked(self, browser: Browser) -> Vec<String> {
        drop(browser);
        let text = fs::read_to_string(&self.log).expect("the browser wrote its log");
        let log: Value = serde_json::from_str(&text).expect("the log is whole");
        let kind = &log["constants"]["logEventTypes"][KIND];
        assert!(kind.is_number(), "the log knows requests");
        let _ = fs::remove_file(&self.log);
        let of_a_page = |entry: &&Value| entry["type"] == *kind && entry["params"]["initiator"] != NOBODY;
        let entries = log["events"].as_array().into_iter().flatten();
        entries.filter(of_a_page).filter_map(|entry| entry["params"]["url"].as_str()).map(str::to_owned).collect()
    }
}

impl Default for Watch {
    fn default() -> Self {
        Self::new()
    }
}
