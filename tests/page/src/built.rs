//! The page and the command line as this repository builds them, and the jobs.
//!
//! Both are built before the first test that asks for them, unless `LOFTWIRE_AS_BUILT` is set: then what stands there is
//! taken, for work on a test.

use serde_json::Value;
use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::LazyLock;

static PAGE: LazyLock<PathBuf> = LazyLock::new(build_page);
static PROGRAM: LazyLock<PathBuf> = LazyLock::new(build_program);

/// The root of the repository.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().expect("the repository is there")
}

/// The page as one file.
#[must_use]
pub fn page() -> &'static Path {
    &PAGE
}

/// The address of the page as one file.
#[must_use]
pub fn address() -> String {
    address_of(page())
}

/// The address of a file.
#[must_use]
pub fn address_of(path: &Path) -> String {
    url::Url::from_file_path(path).expect("the path is absolute").to_string()
}

/// The folder of the served form.
#[must_use]
pub fn served() -> PathBuf {
    page().with_file_name("served")
}

/// What a command of the command line says.
///
/// # Panics
/// If it cannot be started.
#[must_use]
pub fn loftwire(arguments: &[&str]) -> Output {
    Command::new(&*PROGRAM).args(arguments).stdin(Stdio::null()).output().expect("the command line can be started")
}

/// The report of a job file by the command line; `null` where it refuses the job.
///
/// # Panics
/// If what it says is no JSON.
#[must_use]
pub fn report(job: &Path) -> Value {
    let output = loftwire(&["predict", &job.to_string_lossy(), "--json"]);
    if output.stdout.is_empty() {
        return Value::Null;
    }
    serde_json::from_slice(&output.stdout).expect("the report is JSON")
}

/// All job files of the demo and of the checks, by name.
///
/// # Panics
/// If there are none.
#[must_use]
pub fn jobs() -> Vec<PathBuf> {
    let folders = ["demo/jobs", "tests/checks/jobs"].map(|folder| root().join(folder));
    let files = folders.iter().flat_map(|folder| fs::read_dir(folder).expect("the folder is there"));
    let mut jobs: Vec<PathBuf> = files.map(|entry| entry.expect("it can be listed").path()).collect();
    jobs.retain(|path| {
        path.extension().is_some_and(|end| end == "json") && !path.to_string_lossy().ends_with(".out.json")
    });
    jobs.sort();
    assert!(!jobs.is_empty(), "there are jobs");
    jobs
}

fn as_built() -> bool {
    env::var_os("LOFTWIRE_AS_BUILT").is_some()
}

fn cargo(arguments: &[&str]) -> Output {
    let mut cargo = Command::new(env!("CARGO"));
    cargo.current_dir(root()).args(arguments).stderr(Stdio::inherit());
    let output = cargo.output().expect("cargo can be started");
    assert!(output.status.success(), "cargo {arguments:?} failed");
    output
}

fn build_page() -> PathBuf {
    let page = root().join("target/page/loftwire.html");
    if !as_built() {
        cargo(&["run", "--quiet", "--package", "page"]);
    }
    assert!(page.is_file(), "{} is there", page.display());
    page
}

fn build_program() -> PathBuf {
    if let Some(program) = env::var_os("LOFTWIRE_PROGRAM") {
        return program.into();
    }
    let output =
        cargo(&["build", "--quiet", "--release", "--package", "loftwire", "--message-format=json-render-diagnostics"]);
    let text = String::from_utf8(output.stdout).expect("cargo says text");
    let program = text
        .lines()
        .filter_map(|line| serde_json::from_str::<Value>(line).ok())
        .find_map(|message| message.get("executable")?.as_str().map(PathBuf::from));
    program.expect("cargo says where the program is")
}
