//! Builds the page: the bridge to WebAssembly, its glue, and all of it into one HTML file; beside it the served form.
//!
//! ```text
//! cargo page                          target/page/loftwire.html and target/page/served/
//! cargo page --job JOB --out FILE     the same file with a job in it
//! cargo page --same-bridge            keeps the bridge that was built last: for work on the page alone
//! cargo page --www WWW --into FOLDER  another page, another folder to build in
//! ```
//!
//! | module | does |
//! | --- | --- |
//! | [`compiler`] | finds a compiler for WebAssembly on this machine |
//! | [`bridge`] | builds the bridge and its glue, unless nothing changed |
//! | [`modules`] | joins the page's modules into one script |
//! | [`lean`] | leaves out comments and indentation |
//! | [`fill`] | fills the marks of `www/index.html` |
//!
//! The marks stand in `www/build/README-marks`.

mod bridge;
mod compiler;
mod fill;
mod lean;
mod modules;

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What went wrong, in words.
type Outcome<T> = Result<T, Box<dyn Error>>;

/// What was asked for.
#[derive(Default)]
struct Arguments {
    job: Option<PathBuf>,
    out: Option<PathBuf>,
    same_bridge: bool,
    www: Option<PathBuf>,
    into: Option<PathBuf>,
}

impl Arguments {
    fn read(mut words: impl Iterator<Item = String>) -> Outcome<Self> {
        let mut arguments = Self::default();
        while let Some(word) = words.next() {
            let mut path = || words.next().map(PathBuf::from).ok_or(format!("{word}: a path is missing behind it"));
            match word.as_str() {
                "--job" => arguments.job = Some(path()?),
                "--out" => arguments.out = Some(path()?),
                "--www" => arguments.www = Some(path()?),
                "--into" => arguments.into = Some(path()?),
                "--same-bridge" => arguments.same_bridge = true,
                _ => {
                    let known = "--job JOB, --out FILE, --same-bridge, --www FOLDER, --into FOLDER";
                    return Err(format!("{word} is not known; known are {known}").into());
                }
            }
        }
        Ok(arguments)
    }
}

fn main() -> ExitCode {
    match build() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

fn build() -> Outcome<()> {
    let arguments = Arguments::read(std::env::args().skip(1))?;
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize()?;
    let target = arguments.into.unwrap_or_else(|| root.join("target/page"));
    let www = arguments.www.unwrap_or_else(|| root.join("www"));
    fs::create_dir_all(&target)?;
    let bridge = bridge::build(&root, &target, arguments.same_bridge)?;
    let parts = fill::Parts::read(&www, &bridge)?;
    let one = parts.one_file()?;
    let file = arguments.out.unwrap_or_else(|| target.join("loftwire.html"));
    match &arguments.job {
        None => write(&file, one.as_bytes())?,
        Some(path) => {
            let job = fs::read_to_string(path).map_err(|why| format!("{}: {why}", path.display()))?;
            loftwire_read::job(&job).map_err(|faults| format!("{}: {faults}", path.display()))?;
            let page = loftwire_read::page::with_job(&one, &job).ok_or("the page has no empty place for a job")?;
            write(&file, page.as_bytes())?;
        }
    }
    parts.served(&www, &target.join("served"))?;
    println!("{}  {} bytes, {} of them WebAssembly, deflated and in base64", file.display(), one.len(), parts.wasm());
    Ok(())
}

/// Writes a file so that whoever reads it sees the old one or the new one.
fn write(path: &Path, bytes: &[u8]) -> Outcome<()> {
    let new = path.with_extension(format!("new-{}", std::process::id()));
    let written = fs::write(&new, bytes).and_then(|()| fs::rename(&new, path));
    written.map_err(|why| format!("{}: {why}", path.display()).into())
}
