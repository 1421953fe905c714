//! Fills the marks of the page, each of which stands once.

use crate::bridge::Bridge;
use crate::{Outcome, lean, modules, write};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};

/// What the page may do, before what its scripts and its kind add. Styles stand in attributes too, so they have no digest.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'";
/// The link that the served form alone has.
const MANIFEST: &str = "<link rel=\"manifest\" href=\"manifest.webmanifest\">";
/// The recipe of a page that was never opened before, below the root; its mark may be left out.
const EXAMPLE: &str = "../demo/jobs/three-stage.json";
const EXAMPLE_MARK: &str = "/*example*/";
/// Mark of that link's place: it follows the page's icon.
const ICON: &str = "/*icon*/";

/// Texts that fill the page.
pub struct Parts {
    page: String,
    style: String,
    app: String,
    worker: String,
    glue: String,
    wasm: String,
    icon: String,
    example: String,
}

impl Parts {
    /// Reads the parts.
    ///
    /// # Errors
    /// A file that cannot be read, or modules that break a rule.
    pub fn read(www: &Path, bridge: &Bridge) -> Outcome<Self> {
        let text = |name: &str| {
            let path = www.join(name);
            fs::read_to_string(&path).map_err(|why| format!("{}: {why}", path.display()))
        };
        Ok(Self {
            page: text("index.html")?,
            style: lean::style(&styles(www)?),
            app: modules::joined(&www.join("app"), "main.js")?,
            worker: lean::script(&text("worker.js")?),
            glue: lean::script(&bridge.glue),
            wasm: STANDARD.encode(&bridge.wasm),
            example: fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(EXAMPLE))?
                .replace('<', "\\u003c"),
            icon: format!("data:image/svg+xml;base64,{}", STANDARD.encode(text("icons/icon.svg")?)),
        })
    }

    /// How many bytes of the page are WebAssembly.
    pub const fn wasm(&self) -> usize {
        self.wasm.len()
    }

    /// The page that stands alone.
    ///
    /// # Errors
    /// A mark that does not stand once, or a part that would end its element.
    pub fn one_file(&self) -> Outcome<String> {
        self.filled(&format!("{POLICY}; script-src {}; worker-src blob:", self.scripts()), false)
    }

    /// The served form: the page, its manifest, icons and the worker that keeps it for use without a network.
    ///
    /// # Errors
    /// As for the one file; or what cannot be written.
    pub fn served(&self, www: &Path, folder: &Path) -> Outcome<()> {
        let own = "connect-src 'self'; worker-src 'self' blob:; manifest-src 'self'";
        let policy = POLICY.replace("img-src", "img-src 'self'");
        let page = self.filled(&format!("{policy}; script-src {}; {own}", self.scripts()), true)?;
        let digest = Sha256::digest(page.as_bytes());
        let keeper = fs::read_to_string(www.join("sw.js"))?;
        let keeper = once(&keeper, "/*digest*/", &format!("{digest:x}"))?;
        fs::create_dir_all(folder.join("icons"))?;
        write(&folder.join("index.html"), page.as_bytes())?;
        write(&folder.join("sw.js"), keeper.as_bytes())?;
        write(&folder.join("manifest.webmanifest"), &fs::read(www.join("manifest.webmanifest"))?)?;
        write(&folder.join("icons/icon.svg"), &fs::read(www.join("icons/icon.svg"))?)
    }

    /// Which scripts may run: this one, by its digest.
    fn scripts(&self) -> String {
        format!("'sha256-{}' 'wasm-unsafe-eval'", STANDARD.encode(Sha256::digest(self.app.as_bytes())))
    }

    fn filled(&self, policy: &str, served: bool) -> Outcome<String> {
        let parts = [
            ("/*policy*/", policy),
            ("/*style*/", &self.style),
            ("/*wasm*/", &self.wasm),
            ("/*glue*/", &self.glue),
            ("/*worker*/", &self.worker),
            ("/*job*/", ""),
            ("/*app*/", &self.app),
        ];
        let mut page = if served { manifest(&self.page)? } else { self.page.clone() };
        page = once(&page, ICON, &self.icon)?;
        // What is filled in may hold the marks of others: all places are looked up before any is filled.
        let mut places = Vec::new();
        let example = page.contains(EXAMPLE_MARK).then_some((EXAMPLE_MARK, self.example.trim()));
        for (mark, text) in parts.into_iter().chain(example) {
            refuse_ends(mark, text)?;
            places.push((place(&page, mark)?, mark, text));
        }
        places.sort_unstable_by_key(|(place, ..)| *place);
        for (place, mark, text) in places.into_iter().rev() {
            page.replace_range(place..place + mark.len(), text);
        }
        Ok(page)
    }
}

/// The page with the link to its manifest, behind the element of its icon.
fn manifest(page: &str) -> Outcome<String> {
    let icon = place(page, ICON)?;
    let end = page.get(icon..).and_then(|rest| rest.find('>')).ok_or("the element of the icon does not end")?;
    let mut page = page.to_owned();
    page.insert_str(icon + end + 1, MANIFEST);
    Ok(page)
}

/// Where a mark stands, which is once.
fn place(page: &str, mark: &str) -> Outcome<usize> {
    let mut places = page.match_indices(mark);
    match (places.next(), places.next()) {
        (Some((place, _)), None) => Ok(place),
        _ => Err(format!("{mark} must stand once").into()),
    }
}

/// The page with one mark filled.
fn once(page: &str, mark: &str, text: &str) -> Outcome<String> {
    let mut filled = page.to_owned();
    let place = place(page, mark)?;
    filled.replace_range(place..place + mark.len(), text);
    Ok(filled)
}

/// Refuses text that would end the element it is put into, or hide its end.
fn refuse_ends(mark: &str, text: &str) -> Outcome<()> {
    let lower = text.to_ascii_lowercase();
    match ["</script", "</style", "<!--"].iter().find(|end| lower.contains(**end)) {
        Some(end) => Err(format!("what fills {mark} holds {end}, which would end its element").into()),
        None => Ok(()),
    }
}

/// `style.css`, then the styles beside the modules by name.
fn styles(www: &Path) -> Outcome<String> {
    let mut files: Vec<PathBuf> =
        fs::read_dir(www.join("app"))?.map(|entry| entry.map(|entry| entry.path())).collect::<Result<_, _>>()?;
    files.retain(|file| file.extension().is_some_and(|end| end == "css"));
    files.sort();
    let mut style = fs::read_to_string(www.join("style.css")).map_err(|why| format!("style.css: {why}"))?;
    for file in files {
        style.push('\n');
        style += &fs::read_to_string(file)?;
    }
    Ok(style)
}
