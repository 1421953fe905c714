//! The bridge as WebAssembly, with its glue; built anew only if a source changed.

use crate::compiler::{self, TARGET};
use crate::{Outcome, write};
use sha2::{Digest, Sha256};
use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Sources of the bridge, below the root of the repository.
const SOURCES: [&str; 5] = ["core", "demo/read", "wasm", "Cargo.lock", "www/build/src/bridge.rs"];
/// Stack of the bridge, bytes: jobs, lines and reports are large and of fixed size.
const STACK: usize = 16 << 20;

/// The bridge.
pub struct Bridge {
    /// WebAssembly, deflated.
    pub wasm: Vec<u8>,
    /// Its glue, for a classic script.
    pub glue: String,
}

/// Builds the bridge, or takes the last one if it is still right, or if `same` says so.
///
/// # Errors
/// What is missing, or that a build failed.
pub fn build(root: &Path, target: &Path, same: bool) -> Outcome<Bridge> {
    let [wasm, glue, stamp] = ["bridge.wasm.deflated", "bridge.js", "bridge.sources"].map(|name| target.join(name));
    let sources = digest_of_sources(root)?;
    let last = || Some(Bridge { wasm: fs::read(&wasm).ok()?, glue: fs::read_to_string(&glue).ok()? });
    let is_right = same || fs::read_to_string(&stamp).is_ok_and(|stamp| stamp == sources);
    if let Some(bridge) = is_right.then(last).flatten() {
        return Ok(bridge);
    }
    let bridge = glued(&compiled(root, target)?)?;
    write(&wasm, &bridge.wasm)?;
    write(&glue, bridge.glue.as_bytes())?;
    write(&stamp, sources.as_bytes())?;
    Ok(bridge)
}

/// The WebAssembly that the compiler makes.
fn compiled(root: &Path, target: &Path) -> Outcome<PathBuf> {
    let compiler = compiler::find()?;
    let mut cargo = Command::new(env::var_os("CARGO").unwrap_or("cargo".into()));
    cargo.current_dir(root).args([
        "build",
        "--package",
        "loftwire-wasm",
        "--lib",
        "--profile",
        "page",
        "--target",
        TARGET,
    ]);
    cargo.arg("--target-dir").arg(target).env("RUSTC", &compiler.rustc).env_remove("RUSTUP_TOOLCHAIN");
    cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", format!("-Clink-arg=-zstack-size={STACK}"));
    if compiler.build_library {
        cargo.args(["-Zbuild-std=core,alloc,std,panic_abort", "-Zbuild-std-features=optimize_for_size"]);
        cargo.env("RUSTC_BOOTSTRAP", "1");
    }
    if let Some(linker) = &compiler.linker {
        cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
    }
    if !cargo.status()?.success() {
        return Err("the build of the bridge failed".into());
    }
    Ok(target.join(TARGET).join("page/loftwire_wasm.wasm"))
}

/// What the compiler made, with its glue.
fn glued(wasm: &Path) -> Outcome<Bridge> {
    let mut output = wasm_bindgen_cli_support::Bindgen::new()
        .input_path(wasm)
        .no_modules(true)?
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()?;
    let bytes = output.wasm_mut().emit_wasm();
    Ok(Bridge { wasm: miniz_oxide::deflate::compress_to_vec(&bytes, 9), glue: output.js().to_owned() })
}

/// A digest of all sources of the bridge, names and contents.
fn digest_of_sources(root: &Path) -> Outcome<String> {
    let mut files = Vec::new();
    for source in SOURCES {
        gather(&root.join(source), &mut files)?;
    }
    files.sort();
    let mut digest = Sha256::new();
    for file in files {
        let bytes = fs::read(&file)?;
        digest.update(file.strip_prefix(root)?.to_string_lossy().as_bytes());
        digest.update((bytes.len() as u64).to_le_bytes());
        digest.update(&bytes);
    }
    Ok(format!("{:x}", digest.finalize()))
}

/// All files at and below a path.
fn gather(path: &Path, files: &mut Vec<PathBuf>) -> Outcome<()> {
    if path.is_file() {
        files.push(path.to_owned());
        return Ok(());
    }
    for entry in fs::read_dir(path)? {
        gather(&entry?.path(), files)?;
    }
    Ok(())
}
