//! A compiler for WebAssembly on this machine. Nothing is fetched: what is missing is said.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The target.
pub const TARGET: &str = "wasm32-unknown-unknown";
/// Where distributions put their compiler.
const SYSTEM: &str = "/usr/bin/rustc";
/// Where a compiler has the source of its library, below its root.
const SOURCE: &str = "lib/rustlib/src/rust/library/Cargo.lock";

/// A compiler, and how to use it.
pub struct Compiler {
    /// The compiler.
    pub rustc: PathBuf,
    /// Whether the library is to be built, since there is none for the target.
    pub build_library: bool,
    /// The linker, if the compiler brings none.
    pub linker: Option<PathBuf>,
}

/// First a compiler that has the target, then one that has the library's source.
///
/// # Errors
/// What to install.
pub fn find() -> Result<Compiler, String> {
    let mut candidates = vec![PathBuf::from(env::var_os("RUSTC").unwrap_or("rustc".into()))];
    if cfg!(unix) {
        candidates.push(SYSTEM.into());
    }
    if let Some(rustc) = candidates.iter().find(|rustc| has_target(rustc)) {
        return Ok(Compiler { rustc: rustc.clone(), build_library: false, linker: None });
    }
    let has_source =
        |rustc: &&PathBuf| answer(rustc, &["--print", "sysroot"]).is_some_and(|root| root.join(SOURCE).is_file());
    let Some(rustc) = candidates.iter().find(has_source) else {
        return Err(format!(
            "There is no compiler for {TARGET} here. With rustup: rustup target add {TARGET}. On Debian: apt-get install \
             rustc-web rust-web-src lld-19"
        ));
    };
    // A compiler of rustup brings a linker; a distribution's does not.
    let linker = candidates
        .iter()
        .filter_map(|rustc| answer(rustc, &["--print", "target-libdir"]))
        .map(|library| library.with_file_name("bin").join("rust-lld"))
        .find(|path| path.is_file())
        .or_else(|| on_path(&["wasm-ld", "wasm-ld-19"]))
        .ok_or("There is no linker for WebAssembly here. On Debian: apt-get install lld-19")?;
    Ok(Compiler { rustc: rustc.clone(), build_library: true, linker: Some(linker) })
}

fn has_target(rustc: &Path) -> bool {
    let is_core = |name: &str| name.starts_with("libcore-");
    answer(rustc, &["--print", "target-libdir", "--target", TARGET])
        .and_then(|library| fs::read_dir(library).ok())
        .is_some_and(|mut files| files.any(|file| file.is_ok_and(|file| is_core(&file.file_name().to_string_lossy()))))
}

/// The path that a compiler prints.
fn answer(rustc: &Path, arguments: &[&str]) -> Option<PathBuf> {
    let output = Command::new(rustc).args(arguments).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| PathBuf::from(text.trim()))
}

fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    names.iter().find_map(|name| env::split_paths(&path).map(|folder| folder.join(name)).find(|file| file.is_file()))
}
