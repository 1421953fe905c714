//! Tools that only the suites use, fetched by npm into `target/page/npm` when they are not there.

use crate::built::root;
use std::fs;
use std::path::PathBuf;
use std::process::Command;
use std::sync::Mutex;

/// One test fetches, the others wait for it.
static FETCHING: Mutex<()> = Mutex::new(());

/// A file of a package.
///
/// * `package` — its name
/// * `version` — such as `4`
/// * `file` — inside it
///
/// # Panics
/// If npm is not there, or the package has no such file.
#[must_use]
pub fn file(package: &str, version: &str, file: &str) -> PathBuf {
    let _fetching = FETCHING.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    let folder = root().join("target/page/npm").join(package);
    let path = folder.join("node_modules").join(package).join(file);
    if !path.is_file() {
        fs::create_dir_all(&folder).expect("the folder can be made");
        let wanted = format!("{package}@{version}");
        let mut npm = Command::new("npm");
        npm.args(["install", "--no-save", "--no-audit", "--no-fund", "--silent", "--prefix"]).arg(&folder).arg(&wanted);
        assert!(
            npm.status().is_ok_and(|status| status.success()),
            "npm could not install {wanted}; it comes with Node.js"
        );
    }
    assert!(path.is_file(), "{} is there", path.display());
    path
}
