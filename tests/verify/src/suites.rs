//! The suites, in the order in which they run: what is quick and what the rest stands on first.
//!
//! A new suite is a row here. A file of tests that no row names fails the whole run.

use crate::runner::{Log, Outcome, Runner};
use crate::tools::{Source, Tool, answers, compiles_wasm};
use crate::{panicless, speed};
use std::fs;

/// A suite.
pub struct Suite {
    /// What it is called.
    pub name: &'static str,
    /// What it tells.
    pub what: &'static str,
    /// What it needs.
    pub needs: &'static [&'static Tool],
    /// Whether the numbers that it finds are printed where all went well.
    pub shows: bool,
    /// What is done.
    pub steps: &'static [Step],
}

/// A part of a suite.
pub enum Step {
    /// A call of cargo that must end well.
    Cargo(&'static [&'static str]),
    /// A call of `cargo test` whose tests are counted.
    Tests(&'static [&'static str]),
    /// Something else.
    Own(fn(&Runner, &mut Log) -> Outcome),
}

const RUSTFMT: Tool = Tool {
    name: "rustfmt",
    there: || answers("rustfmt", &["--version"]),
    from: Source::Toolchain("rustup component add rustfmt"),
};
const CLIPPY: Tool = Tool {
    name: "clippy",
    there: || answers("cargo", &["clippy", "--version"]),
    from: Source::Toolchain("rustup component add clippy"),
};
const VALGRIND: Tool =
    Tool { name: "valgrind", there: || answers("valgrind", &["--version"]), from: Source::Apt(&["valgrind"]) };
const WASM: Tool = Tool {
    name: "a compiler for WebAssembly",
    there: compiles_wasm,
    from: Source::Apt(&["rustc-web", "rust-web-src", "lld-19"]),
};
const BROWSER: Tool = Tool {
    name: "a browser with its driver",
    there: || answers("chromium", &["--version"]) && answers("chromedriver", &["--version"]),
    from: Source::Apt(&["chromium", "chromium-driver"]),
};

const NPM: Tool = Tool { name: "npm", there: || answers("npm", &["--version"]), from: Source::Apt(&["nodejs", "npm"]) };

/// Folders whose `.rs` files are tests, each named by a row.
const FOLDERS: &[&str] = &["tests/tests", "demo/line/tests"];

/// All suites.
pub const SUITES: &[Suite] = &[
    Suite {
        name: "format",
        what: "every file is as rustfmt writes it",
        needs: &[&RUSTFMT],
        shows: false,
        steps: &[Step::Cargo(&["fmt", "--all", "--check", "--", "--color=never"])],
    },
    Suite {
        name: "lints",
        what: "no warning of the compiler, of clippy or of rustdoc",
        needs: &[&CLIPPY],
        shows: false,
        steps: &[
            Step::Cargo(&["clippy", "--quiet", "--workspace", "--all-targets", "--", "-D", "warnings"]),
            Step::Cargo(&[
                "clippy",
                "--quiet",
                "--package",
                "loftwire-panicless",
                "--profile",
                "panicless",
                "--features",
                "proof",
                "--",
                "-D",
                "warnings",
            ]),
            Step::Cargo(&[
                "doc",
                "--quiet",
                "--package",
                "loftwire-core",
                "--no-deps",
                "--config",
                "build.rustdocflags=[\"-D\", \"warnings\"]",
            ]),
        ],
    },
    Suite {
        name: "units",
        what: "the tests beside the functions they test, in every crate",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--lib", "--bins"])],
    },
    Suite {
        name: "physics",
        what: "published and library values, row by row, and analytic limits",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "checks", "--test", "analytic"])],
    },
    Suite {
        name: "jobs",
        what: "whole jobs against an independent solution of the same model",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "jobs"])],
    },
    Suite {
        name: "balance",
        what: "random jobs: every species adds up, every figure is one, the same bytes twice",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "balance"])],
    },
    Suite {
        name: "robustness",
        what: "jobs at the ends of what is accepted end, without NaN and infinity",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "robustness"])],
    },
    Suite {
        name: "kernel",
        what: "second order across and along the tube; with a clock it settles; properties; where gas turns back",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&[
            "--workspace",
            "--test",
            "order",
            "--test",
            "clock",
            "--test",
            "properties_table",
            "--test",
            "refusal_of_gas",
        ])],
    },
    Suite {
        name: "same-bits",
        what: "the answers have the bits that they had, on every machine",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "same_bits"])],
    },
    Suite {
        name: "job-file",
        what: "each row of the job file, accepted and refused",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "job_file"])],
    },
    Suite {
        name: "words",
        what: "verdicts, cautions, and an explanation of every figure",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "words"])],
    },
    Suite {
        name: "levers",
        what: "what moves the wires, how sure, and what brings the order back",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "levers"])],
    },
    Suite {
        name: "command-line",
        what: "the program as a person and a script call it",
        needs: &[],
        shows: false,
        steps: &[Step::Tests(&["--workspace", "--test", "command_line"])],
    },
    Suite {
        name: "page",
        what: "the page, built and opened in a browser, says what the command line says",
        needs: &[&WASM, &BROWSER, &NPM],
        shows: false,
        steps: &[Step::Tests(&["--package", "loftwire-page-tests"])],
    },
    Suite {
        name: "panicless",
        what: "no path in the core ends in a panic; a planted one is found",
        needs: &[],
        shows: false,
        steps: &[Step::Own(panicless::links), Step::Own(panicless::bites)],
    },
    Suite {
        name: "speed",
        what: "instructions and times, printed and not judged",
        needs: &[&VALGRIND],
        shows: true,
        steps: &[Step::Own(speed::times), Step::Own(speed::instructions)],
    },
];

/// Names files of tests that no suite runs.
pub fn forgotten(runner: &Runner) -> Option<String> {
    let named = |test: &str| {
        SUITES.iter().flat_map(|suite| suite.steps).any(|step| match step {
            Step::Cargo(arguments) | Step::Tests(arguments) => arguments.contains(&test),
            Step::Own(_) => false,
        })
    };
    let mut files = Vec::new();
    for folder in FOLDERS {
        for entry in fs::read_dir(runner.root.join(folder)).into_iter().flatten().flatten() {
            let path = entry.path();
            let test = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            if path.extension().is_some_and(|extension| extension == "rs") && !named(&test) {
                files.push(format!("{folder}/{test}.rs"));
            }
        }
    }
    (!files.is_empty()).then(|| format!("no suite runs {}", files.join(", ")))
}
