//! The page's modules, joined into one classic script: a file that is opened from a disk may not load modules.
//!
//! The modules keep to a few forms, so that joining is dropping words: at the top level only `import { a, b } from
//! './x.js';` and `export` before `function`, `async function`, `class`, `const` or `let`. Names at the top level are unique
//! over all modules, since they come to stand in one function. What breaks a rule is refused with its file and line.

use crate::{Outcome, lean};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Component, Path, PathBuf};

/// Words that may begin a declaration.
const DECLARATIONS: [&str; 5] = ["async function ", "function ", "class ", "const ", "let "];

/// A module, taken apart.
#[derive(Debug, Default)]
struct Module {
    /// Its text without imports and without the word `export`; lines stay where they are.
    text: String,
    /// Modules that it imports from, and the names.
    imports: Vec<(PathBuf, Vec<String>)>,
    /// Names at its top level, and whether they are exported.
    names: Vec<(String, bool)>,
}

/// The script of all modules that `entry` reaches, those first that others need.
///
/// * `folder` — where the modules stand
/// * `entry` — the first, relative to it
///
/// # Errors
/// A rule that was broken, or a file that cannot be read.
pub fn joined(folder: &Path, entry: &str) -> Outcome<String> {
    let mut joiner = Joiner { folder, done: BTreeMap::new(), open: Vec::new(), order: Vec::new() };
    joiner.take(Path::new(entry))?;
    joiner.check()?;
    joiner.tell_unreached()?;
    let mut script = String::from("'use strict';\n(() => {\n");
    for path in &joiner.order {
        if let Some(module) = joiner.done.get(path) {
            script += &format!("// {}\n{}", path.display(), lean::script(&module.text));
        }
    }
    script += "})();\n";
    Ok(script)
}

struct Joiner<'f> {
    folder: &'f Path,
    done: BTreeMap<PathBuf, Module>,
    /// Modules that are being taken: a module that is met again among them is a circle.
    open: Vec<PathBuf>,
    order: Vec<PathBuf>,
}

impl Joiner<'_> {
    /// Takes a module and all that it needs.
    fn take(&mut self, path: &Path) -> Outcome<()> {
        if self.done.contains_key(path) {
            return Ok(());
        }
        if self.open.iter().any(|open| open == path) {
            return Err(format!("{}: imports itself by way of {:?}", path.display(), self.open).into());
        }
        let text = fs::read_to_string(self.folder.join(path)).map_err(|why| format!("{}: {why}", path.display()))?;
        let module = Module::read(path, &text)?;
        self.open.push(path.to_owned());
        for (other, _) in &module.imports {
            self.take(other)?;
        }
        self.open.pop();
        self.order.push(path.to_owned());
        self.done.insert(path.to_owned(), module);
        Ok(())
    }

    /// Holds imports against exports, and all names against each other.
    fn check(&self) -> Outcome<()> {
        let mut owner: BTreeMap<&str, &Path> = BTreeMap::new();
        for (path, module) in &self.done {
            for (name, _) in &module.names {
                if let Some(other) = owner.insert(name, path) {
                    let (a, b) = (other.display(), path.display());
                    return Err(format!(
                        "{name} stands at the top level of {a} and of {b}; one of them needs another name"
                    )
                    .into());
                }
            }
            for (from, name) in
                module.imports.iter().flat_map(|(from, names)| names.iter().map(move |name| (from, name)))
            {
                let exported = self.done.get(from).is_some_and(|module| module.names.contains(&(name.clone(), true)));
                if !exported {
                    return Err(format!("{}: {} does not export {name}", path.display(), from.display()).into());
                }
            }
        }
        Ok(())
    }

    /// Names modules that nothing reaches: they are not in the page.
    fn tell_unreached(&self) -> Outcome<()> {
        let mut folders = vec![self.folder.to_owned()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(&folder)? {
                let path = entry?.path();
                if path.is_dir() {
                    folders.push(path);
                    continue;
                }
                let name = path.strip_prefix(self.folder)?;
                if name.extension().is_some_and(|end| end == "js") && !self.done.contains_key(name) {
                    eprintln!("{}: no module imports it; it is not in the page", name.display());
                }
            }
        }
        Ok(())
    }
}

impl Module {
    fn read(path: &Path, text: &str) -> Outcome<Self> {
        let mut module = Self::default();
        let mut lines = text.lines().enumerate();
        while let Some((number, line)) = lines.next() {
            let fault = |why: &str| format!("{}:{}: {why}", path.display(), number + 1);
            if line.starts_with("import") {
                let mut whole = line.to_owned();
                module.text.push('\n');
                while !whole.trim_end().ends_with(';') {
                    let (_, more) = lines.next().ok_or_else(|| fault("an import ends with a semicolon"))?;
                    whole += more;
                    module.text.push('\n');
                }
                module.imports.push(import(path, &whole).ok_or_else(|| fault("only: import { a, b } from './x.js';"))?);
                continue;
            }
            let exported = line.starts_with("export");
            let line = line.strip_prefix("export ").unwrap_or(line);
            if line.starts_with("await ") || line.starts_with("var ") {
                return Err(fault("await and var may not stand at the top level").into());
            }
            match declared(line) {
                Some(name) => module.names.push((name.to_owned(), exported)),
                None if exported || DECLARATIONS.iter().any(|word| line.starts_with(word)) => {
                    return Err(fault("only one plain name: function, async function, class, const or let").into());
                }
                None => {}
            }
            module.text += line;
            module.text.push('\n');
        }
        Ok(module)
    }
}

/// The name that a line declares at the top level.
fn declared(line: &str) -> Option<&str> {
    let rest = DECLARATIONS.iter().find_map(|word| line.strip_prefix(word))?.trim_start_matches(['*', ' ']);
    let end =
        rest.find(|letter: char| !(letter.is_alphanumeric() || letter == '_' || letter == '$')).unwrap_or(rest.len());
    rest.get(..end).filter(|name| !name.is_empty())
}

/// Module and names of an import.
fn import(path: &Path, statement: &str) -> Option<(PathBuf, Vec<String>)> {
    let rest = statement.strip_prefix("import")?.trim_start().strip_prefix('{')?;
    let (names, rest) = rest.split_once('}')?;
    let from = rest.trim().strip_prefix("from")?.trim().strip_suffix(';')?.trim();
    let from = from.strip_prefix('\'')?.strip_suffix('\'').filter(|from| from.starts_with('.'))?;
    let names: Vec<String> =
        names.split(',').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect();
    let is_plain = |name: &String| !name.contains(char::is_whitespace);
    names.iter().all(is_plain).then(|| (resolved(path, from), names))
}

/// A module's path relative to the folder, seen from another module.
fn resolved(path: &Path, from: &str) -> PathBuf {
    let mut resolved = path.parent().unwrap_or(Path::new("")).to_owned();
    for part in Path::new(from).components() {
        match part {
            Component::ParentDir => {
                resolved.pop();
            }
            Component::Normal(name) => resolved.push(name),
            _ => {}
        }
    }
    resolved
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str, files: &[(&str, &str)]) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("loftwire-modules-{}-{name}", std::process::id()));
        for (name, text) in files {
            let file = folder.join(name);
            fs::create_dir_all(file.parent().unwrap()).unwrap();
            fs::write(file, text).unwrap();
        }
        folder
    }

    fn join(name: &str, files: &[(&str, &str)]) -> Result<String, String> {
        let folder = folder(name, files);
        let joined = joined(&folder, "main.js").map_err(|why| why.to_string());
        fs::remove_dir_all(folder).unwrap();
        joined
    }

    #[test]
    fn what_is_needed_stands_first_and_words_of_modules_are_gone() {
        let script = join(
            "order",
            &[
                ("main.js", "import {\n  a,\n  b,\n} from './plot/a.js';\na(b);\n"),
                ("plot/a.js", "import { c } from '../c.js';\nexport function a() {}\nexport const b = c;\n"),
                ("c.js", "export const c = 1;\n"),
            ],
        )
        .unwrap();
        assert!(!script.contains("import") && !script.contains("export"), "{script}");
        let place = |text: &str| script.find(text).unwrap();
        assert!(place("const c") < place("const b") && place("const b") < place("a(b)"), "{script}");
    }

    #[test]
    fn broken_rules_are_refused() {
        let refused = |name: &str, files: &[(&str, &str)], why: &str| {
            let said = join(name, files).unwrap_err();
            assert!(said.contains(why), "{said}");
        };
        refused(
            "twice",
            &[
                ("main.js", "import { a } from './a.js';\nconst b = a;\n"),
                ("a.js", "const b = 1;\nexport const a = b;\n"),
            ],
            "b stands at the top level",
        );
        refused(
            "circle",
            &[
                ("main.js", "import { a } from './a.js';\nexport const m = 1;\n"),
                ("a.js", "import { m } from './main.js';\nexport const a = m;\n"),
            ],
            "imports itself",
        );
        refused("default", &[("main.js", "export default 1;\n")], "main.js:1");
        refused("list", &[("main.js", "const a = 1;\nexport { a };\n")], "main.js:2");
        refused(
            "renamed",
            &[("main.js", "import { a as b } from './a.js';\n"), ("a.js", "export const a = 1;\n")],
            "only: import",
        );
        refused(
            "absent",
            &[("main.js", "import { b } from './a.js';\n"), ("a.js", "export const a = 1;\nconst b = 2;\n")],
            "does not export b",
        );
        refused("await", &[("main.js", "await 1;\n")], "await");
        refused("pattern", &[("main.js", "const { a } = b;\n")], "one plain name");
    }
}
