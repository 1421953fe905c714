//! The page with a job in it: one file, for mail and stick.
//!
//! The page is not part of the program: `cargo page` builds it, and it is looked for where that leaves it, or beside the
//! program where both were installed.

use crate::read;
use crate::status::{Outcome, Status};
use loftwire_core::check::check;
use loftwire_read::page::with_job;
use std::env;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Name of the built page.
const NAME: &str = "loftwire.html";
/// Where the build leaves it, seen from the root of the repository.
const BUILT: &str = "target/page";

/// Writes the page with a job in it.
///
/// * `file` — where to; standard output without it
/// * `page` — the built page, if it is not where it is looked for
pub fn page(out: &mut impl Write, job: &str, file: Option<&Path>, page: Option<&Path>) -> Outcome {
    let job = match read::read(job) {
        Ok(job) => job,
        Err(why) => {
            eprintln!("{why}");
            return Ok(Status::Refused);
        }
    };
    if let Err(faults) = check(&job) {
        eprintln!("{faults}");
        return Ok(Status::Refused);
    }
    let Some(path) = page.map(Path::to_owned).or_else(found) else {
        eprintln!("The page is not built. In the repository: cargo page. Or name it: --page FILE");
        return Ok(Status::Refused);
    };
    let text = serde_json::to_string(&job).map_err(std::io::Error::from)?;
    let filled = fs::read_to_string(&path).ok().and_then(|empty| with_job(&empty, &text));
    let Some(filled) = filled else {
        eprintln!("{}: is not the page, or holds a job already", path.display());
        return Ok(Status::Refused);
    };
    match file {
        None => out.write_all(filled.as_bytes())?,
        Some(file) => {
            if let Err(why) = fs::write(file, filled) {
                eprintln!("{}: cannot be written: {why}", file.display());
                return Ok(Status::Refused);
            }
        }
    }
    Ok(Status::Done)
}

/// The built page: beside the program, where the build of this program left it, or below the folder that one stands in.
fn found() -> Option<PathBuf> {
    let program = env::current_exe().ok();
    let beside = program.as_deref().and_then(Path::parent);
    // The program of a repository stands in target/release.
    let built = beside.and_then(Path::parent).map(|target| target.join("page"));
    let places = beside.map(Path::to_owned).into_iter().chain(built).chain([PathBuf::from(BUILT)]);
    places.map(|folder| folder.join(NAME)).find(|page| page.is_file())
}
