//! The same bits on every machine: what each job is predicted to, as two numbers, held against those in `checks/bits.txt`.
//!
//! A line of the file: name of the job, hash of all figures of its report by their bits, hash of the report as it is written. Where only the
//! second differs, words have changed and no figure. `LOFTWIRE_REWRITE=1` writes the file anew; what changed is then in its diff.

use loftwire_core::predict::Predictor;
use loftwire_tests::prediction::{line, with_room};
use loftwire_tests::solved::JOBS;
use std::fs;
use std::path::{Path, PathBuf};

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// Hash of Fowler, Noll and Vo, 64 bits, variant 1a.
fn hash(bytes: impl Iterator<Item = u8>) -> u64 {
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// Bits of a number; all NaN are one, and so are both zeros.
fn bits(value: f64) -> u64 {
    match value {
        _ if value.is_nan() => f64::NAN.to_bits(),
        0.0 => 0,
        _ => value.to_bits(),
    }
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

/// All jobs whose bits are kept: those of the demo, then those that were solved another way.
fn jobs() -> Vec<(String, String)> {
    let folder = here("../demo/jobs");
    let entries = fs::read_dir(&folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
    let mut paths: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|end| end == "json"));
    paths.sort();
    let named = |path: &PathBuf| {
        let name = path.file_stem().map(|stem| format!("demo/{}", stem.to_string_lossy()));
        (name.unwrap_or_default(), read(path))
    };
    paths.iter().map(named).chain(JOBS.map(|(name, job, _)| (format!("checks/{name}"), job.to_owned()))).collect()
}

/// The numbers of a JSON text in their order, read from the text itself: a reader of JSON may round or sort them as it was built.
fn numbers(text: &str) -> Vec<f64> {
    let outside = text.split('"').step_by(2).flat_map(|part| part.split([',', ':', '[', ']', '{', '}']));
    outside.filter_map(|word| word.parse().ok()).collect()
}

fn computed() -> String {
    with_room(|| {
        let mut predictor = Box::new(Predictor::new());
        let mut lines = String::new();
        for (name, job) in jobs() {
            let line = line(&job).unwrap_or_else(|why| panic!("{name}: {why}"));
            let report = predictor.predict(&line);
            let text = serde_json::to_string(report).unwrap_or_else(|why| panic!("{name}: {why}"));
            // A quotation mark inside a text would put the rest of it outside.
            assert!(!text.contains("\\\""), "{name}: a text holds a quotation mark");
            let figures = hash(numbers(&text).into_iter().flat_map(|value| bits(value).to_le_bytes()));
            let report = hash(text.bytes());
            lines.push_str(&format!("{name} {figures:016x} {report:016x}\n"));
        }
        lines
    })
}

/// Source: the file, written on x86_64.
#[test]
fn reports_have_the_same_bits() {
    let file = here("checks/bits.txt");
    let found = computed();
    if std::env::var("LOFTWIRE_REWRITE").is_ok_and(|value| value == "1") {
        fs::write(&file, &found).unwrap_or_else(|why| panic!("{}: {why}", file.display()));
    }
    let kept = fs::read_to_string(&file).unwrap_or_default();
    let mut faults = Vec::new();
    for (found, kept) in found.lines().zip(kept.lines()).filter(|(found, kept)| found != kept) {
        let words = found.rsplit_once(' ').map(|(start, _)| start) == kept.rsplit_once(' ').map(|(start, _)| start);
        let what = if words { "words differ, no figure does" } else { "figures differ" };
        faults.push(format!("{what}: {found}, kept {kept}"));
    }
    if found.lines().count() != kept.lines().count() {
        faults.push(format!("{} jobs, {} are kept", found.lines().count(), kept.lines().count()));
    }
    let rewrite = "LOFTWIRE_REWRITE=1 cargo test -p loftwire-tests --test same_bits writes the file anew";
    assert!(faults.is_empty(), "{}\nIf that is meant: {rewrite}", faults.join("\n"));
}

/// Words, names and null are no numbers; what stands in a text is none.
#[test]
fn numbers_are_read_from_the_text() {
    let text = r#"{"a_1":[1,-2.5e-3],"b":{"c":"3, 4","d":null,"e":true},"f":7e0}"#;
    assert_eq!(numbers(text), [1.0, -2.5e-3, 7.0]);
}

/// Source: test vectors of the hash: an empty text, "a", "foobar" (Fowler, Noll and Vo, from memory).
#[test]
fn the_hash_is_that_of_fowler_noll_and_vo() {
    for (text, want) in [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)] {
        assert_eq!(hash(text.bytes()), want, "{text}");
    }
}
