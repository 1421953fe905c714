//! What suites need that cargo does not bring.

use std::env;
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// A program that a suite needs.
pub struct Tool {
    /// What it is called where it is missing.
    pub name: &'static str,
    /// Whether it is there.
    pub there: fn() -> bool,
    /// How it is had.
    pub from: Source,
}

/// Where a tool comes from.
pub enum Source {
    /// Packages of apt.
    Apt(&'static [&'static str]),
    /// The toolchain, which nothing here changes; the line to type.
    Toolchain(&'static str),
}

impl Tool {
    /// Why a suite cannot use it; `None` if it is there.
    pub fn lacking(&self) -> Option<String> {
        (!(self.there)()).then(|| match self.from {
            Source::Apt(packages) => {
                format!("{} is missing; type: sudo apt-get install {}", self.name, packages.join(" "))
            }
            Source::Toolchain(line) => format!("{} is missing; it comes with the toolchain, type: {line}", self.name),
        })
    }
}

/// Whether a program on the path answers.
pub fn answers(program: &str, arguments: &[&str]) -> bool {
    let mut command = Command::new(program);
    command.args(arguments).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

/// Whether there is a compiler for WebAssembly: one with the target installed, or one with the source of its library.
pub fn compiles_wasm() -> bool {
    let path = |arguments: &[&str]| {
        let output = Command::new("rustc").args(arguments).output().ok()?;
        output.status.success().then(|| PathBuf::from(String::from_utf8_lossy(&output.stdout).trim()))
    };
    let target = path(&["--print", "target-libdir", "--target", "wasm32-unknown-unknown"]);
    let roots = [path(&["--print", "sysroot"]), Some("/usr".into())];
    let source = |root: &PathBuf| root.join("lib/rustlib/src/rust/library/Cargo.lock").is_file();
    target.is_some_and(|library| library.is_dir()) || roots.iter().flatten().any(source)
}

/// Installs what is missing, where that can be done, and says so.
pub fn provide<'t>(tools: impl Iterator<Item = &'t Tool>) {
    let mut packages: Vec<&str> = Vec::new();
    for tool in tools {
        if let Source::Apt(list) = tool.from
            && !list.iter().all(|package| packages.contains(package))
            && !(tool.there)()
        {
            packages.extend(list);
        }
    }
    if packages.is_empty() {
        return;
    }
    if !is_root() || !has_apt() {
        println!("To run every suite, type: sudo apt-get install {}", packages.join(" "));
        return;
    }
    println!("verify installs through apt-get: {}", packages.join(" "));
    // A list that is out of date is no reason not to try.
    apt(&["update"]);
    if !apt(&[&["install", "--yes", "--no-install-recommends"], packages.as_slice()].concat()) {
        println!("apt-get could not install all of it");
    }
}

fn apt(arguments: &[&str]) -> bool {
    let mut command = Command::new("apt-get");
    command
        .arg("--quiet=2")
        .args(arguments)
        .env("DEBIAN_FRONTEND", "noninteractive")
        .stdin(Stdio::null())
        .stdout(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

fn has_apt() -> bool {
    env::var_os("PATH").is_some_and(|path| env::split_paths(&path).any(|folder| folder.join("apt-get").is_file()))
}

fn is_root() -> bool {
    Command::new("id").arg("-u").output().is_ok_and(|output| output.stdout.trim_ascii() == b"0")
}
