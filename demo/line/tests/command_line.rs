//! The command line as a person and a script meet it: what it writes where, how wide, and how it ends.
//!
//! Source: `core/REPORT.md` for the status (0 done, 1 order not met, 2 bad input or refused) and for what goes to which stream;
//! each test runs the program itself.

use serde_json::{Value, json};
use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use unicode_width::UnicodeWidthStr;

const WIDTH: usize = 80;
const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../jobs/three-stage.json");
const JOBS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/checks/jobs");

/// Runs the program with text on its standard input.
fn run_with(arguments: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_loftwire"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("it was piped");
    let input = input.to_vec();
    // A program that has ended reads no more; that is looked at by its status.
    let writer = std::thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().expect("the program ends");
    writer.join().expect("the writer ends");
    output
}

fn run(arguments: &[&str]) -> Output {
    run_with(arguments, b"")
}

fn status(output: &Output) -> i32 {
    output.status.code().expect("it ended by itself")
}

fn out(output: &Output) -> &str {
    std::str::from_utf8(&output.stdout).expect("it writes UTF-8")
}

fn err(output: &Output) -> &str {
    std::str::from_utf8(&output.stderr).expect("it writes UTF-8")
}

/// The last sentences, which stand alone behind an empty line.
fn last(output: &Output) -> String {
    let text = out(output).trim_end().rsplit("\n\n").next().expect("there is text");
    text.replace('\n', " ")
}

fn demo() -> Value {
    serde_json::from_str(&fs::read_to_string(DEMO).expect("the demo job is there")).expect("it is JSON")
}

/// A job in a file of its own, gone at the end of the test.
struct JobFile(PathBuf);

impl JobFile {
    fn new(name: &str, text: &[u8]) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}.json", std::process::id()));
        fs::write(&path, text).expect("a file can be written");
        Self(path)
    }

    fn path(&self) -> &str {
        self.0.to_str().expect("the path is text")
    }
}

impl Drop for JobFile {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.0);
    }
}

/// A wide cold tube with hot walls: its gas turns back.
fn turning() -> Value {
    json!({
        "format": "wire-growth-job/1", "title": "cold and wide", "carrier": {"N2": 1.0}, "pressure_mbar": 1000, "material": "InP",
        "seeds": {"mobility_diameter_nm": 50, "spread_gsd": 1.05, "concentration_per_cm3": 600_000.0}, "aerosol_sccm": 900,
        "stages": [{
            "tube_diameter_mm": 80, "inlet_c": 25, "flange_c": 25, "carrier_sccm": 2900,
            "zones": [{"length_mm": 150, "wall_c": 600}, {"length_mm": 160, "wall_c": 600}],
            "feeds": [
                {"precursor": "TMIn", "bubbler": {"bath_c": 20, "bath_mbar": 1000, "carrier_sccm": 111}},
                {"precursor": "PH3", "flow_sccm": 20, "share": 1.0}
            ]
        }]
    })
}

/// The demo job with an order that it does not meet.
fn unmet() -> Value {
    let mut job = demo();
    job["order"]["segments"][1]["length_nm"] = json!(2200);
    job
}

fn assert_plain(text: &str) {
    for line in text.lines() {
        assert!(line.width() <= WIDTH, "{} columns: {line}", line.width());
        assert!(!line.contains('\u{1b}'), "{line:?}");
        assert!(!line.ends_with(' '), "{line:?}");
    }
}

#[test]
fn without_arguments_the_demo_job_is_shown() {
    let output = run(&[]);
    assert_eq!(status(&output), 0);
    assert!(err(&output).contains("demo/jobs/three-stage.json"), "{}", err(&output));
    assert_plain(out(&output));
    let title = demo()["title"].as_str().expect("it has one").to_owned();
    assert!(out(&output).starts_with(&title));
    let last = last(&output);
    assert!(last.starts_with("Inside, not surely."), "{last}");
    let named = run(&["predict", DEMO]);
    assert_eq!(out(&named), out(&output));
    assert_eq!(err(&named), "");
}

#[test]
fn text_is_plain_and_80_columns_wide() {
    for entry in fs::read_dir(JOBS).expect("the jobs are there") {
        let path = entry.expect("it can be read").path();
        let name = path.to_str().expect("the path is text");
        if name.ends_with(".json") && !name.ends_with(".out.json") {
            let output = run(&["predict", name]);
            assert!(status(&output) < 2, "{name}: {}", err(&output));
            assert_plain(out(&output));
        }
    }
    let mut wide = demo();
    wide["title"] = json!("管".repeat(60));
    for (stage, name) in [
        "a name of a stage that goes on and on, much longer than any table",
        "管式炉管式炉管式炉",
        "\u{1b}[31mred\u{202e}",
    ]
    .iter()
    .enumerate()
    {
        wide["stages"][stage]["name"] = json!(name);
    }
    wide["order"]["segments"][0]["length_nm"] = json!(123_456);
    let file = JobFile::new("wide", wide.to_string().as_bytes());
    let output = run(&["predict", file.path()]);
    assert_eq!(status(&output), 1);
    assert_plain(out(&output));
}

#[test]
fn the_status_says_how_it_went() {
    let unmet = JobFile::new("unmet", unmet().to_string().as_bytes());
    let output = run(&["predict", unmet.path()]);
    assert_eq!(status(&output), 1);
    let last = last(&output);
    assert!(last.contains("too short"), "{last}");
    assert_eq!(status(&run(&["predict", unmet.path(), "--json"])), 1);
    assert_eq!(status(&run(&["predict", unmet.path(), "--csv", "profile"])), 1);
    assert_eq!(status(&run(&["predict"])), 2);
    assert_eq!(status(&run(&["foretell"])), 2);
    assert_eq!(status(&run(&["predict", DEMO, "--json", "--csv", "along"])), 2);
    assert_eq!(status(&run(&["--help"])), 0);
    assert_eq!(status(&run(&["--version"])), 0);
}

#[test]
fn a_refused_job_writes_its_report_and_what_helps() {
    let job = JobFile::new("turning", turning().to_string().as_bytes());
    let output = run(&["predict", job.path()]);
    assert_eq!(status(&output), 2);
    assert_plain(out(&output));
    let last = last(&output);
    assert!(last.starts_with("No prediction: stages[0]: gas turns back"), "{last}");
    assert!(err(&output).starts_with("stages[0]: gas turns back at z = "), "{}", err(&output));
    assert!(err(&output).contains("not predicted. What helps: a narrower tube"), "{}", err(&output));
    let output = run(&["predict", job.path(), "--json"]);
    assert_eq!(status(&output), 2);
    let report: Value = serde_json::from_str(out(&output)).expect("it is JSON");
    assert_eq!(report["refused"]["path"], "stages[0]");
    for part in ["numerics", "seeds", "wires", "plant", "junction", "verdict"] {
        assert!(report[part].is_null(), "{part}");
    }
    assert_eq!((&report["stages"], &report["balance"]), (&json!([]), &json!([])));
    let output = run(&["explain", job.path(), "wires.length_nm.mean"]);
    assert_eq!((status(&output), out(&output)), (2, ""));
    assert_eq!(status(&run(&["explain", job.path(), "refused.z_mm"])), 0);
}

#[test]
fn bad_input_writes_nothing_but_its_faults() {
    let good = demo().to_string();
    let mut hot = demo();
    hot["stages"][1]["zones"][0]["wall_c"] = json!(-400);
    hot["pressure_mbar"] = json!(1);
    let cases: [(&str, Vec<u8>, &[&str]); 9] = [
        ("two-faults", hot.to_string().into_bytes(), &["stages[1].zones[0].wall_c: -400", "pressure_mbar: 1 "]),
        ("truncated", good.as_bytes()[..good.len() / 2].to_vec(), &[]),
        ("empty", Vec::new(), &[]),
        ("large", vec![b' '; 10 << 20], &["larger than 1 MB"]),
        ("nested", "[".repeat(10_000).into_bytes(), &[]),
        ("not-a-number", good.replacen("1000", "NaN", 1).into_bytes(), &[]),
        ("infinite", good.replacen("1000", "1e400", 1).into_bytes(), &[]),
        ("twice", good.replacen('{', "{\"material\":\"InP\",", 1).into_bytes(), &["material"]),
        ("not-text", vec![0xff, 0xfe, 0x00], &["UTF-8"]),
    ];
    for (name, text, words) in cases {
        let file = JobFile::new(name, &text);
        for arguments in [
            &["predict", file.path()][..],
            &["predict", file.path(), "--json"],
            &["explain", file.path(), "plant.wires_per_s"],
        ] {
            let output = run(arguments);
            assert_eq!(status(&output), 2, "{name}");
            assert_eq!(out(&output), "", "{name}");
            assert!(err(&output).ends_with('\n') && !err(&output).contains("panicked"), "{name}: {}", err(&output));
            for word in words {
                assert!(err(&output).contains(word), "{name}: {}", err(&output));
            }
        }
    }
    for path in ["no-such-file.json", env!("CARGO_MANIFEST_DIR")] {
        let output = run(&["predict", path]);
        assert_eq!((status(&output), out(&output)), (2, ""));
        assert!(err(&output).starts_with(path) && err(&output).lines().count() == 1, "{}", err(&output));
    }
}

#[test]
fn json_is_the_report_and_nothing_more() {
    let output = run(&["predict", DEMO, "--json"]);
    assert_eq!((status(&output), err(&output)), (0, ""));
    assert_eq!(out(&output).lines().count(), 1);
    let report: Value = serde_json::from_str(out(&output)).expect("it is JSON");
    assert_eq!(report["format"], "wire-growth-report/1");
    assert_eq!(report["verdict"]["met"], true);
}

#[test]
fn tables_have_a_header_and_a_row_each() {
    let json = run(&["predict", DEMO, "--json"]);
    let report: Value = serde_json::from_str(out(&json)).expect("it is JSON");
    let count = |path: &str| report.pointer(path).and_then(Value::as_array).map_or(0, Vec::len);
    let stations: usize = (0..3).map(|stage| count(&format!("/stages/{stage}/profile/z_mm"))).sum();
    let bins = count("/wires/histogram/share")
        + (0..3).map(|k| count(&format!("/wires/segments/{k}/histogram/share"))).sum::<usize>();
    for (table, rows, header) in [
        ("along", count("/wires/along/x_nm"), "x_nm,donors_per_cm3,acceptors_per_cm3,diameter_nm"),
        ("histogram", bins, "of,from_nm,to_nm,share"),
        ("profile", stations, "stage,name,z_mm,wall_c,"),
    ] {
        let output = run(&["predict", DEMO, "--csv", table]);
        assert_eq!((status(&output), err(&output)), (0, ""));
        let mut lines = out(&output).lines();
        assert!(lines.next().is_some_and(|line| line.starts_with(header)), "{table}");
        assert_eq!(lines.count(), rows, "{table}");
        let columns =
            out(&output).lines().map(|line| line.matches(',').count()).collect::<std::collections::BTreeSet<_>>();
        assert_eq!(columns.len(), 1, "{table}");
    }
}

#[test]
fn a_stream_answers_each_line_in_its_order() {
    let mut input = Vec::new();
    let mut wanted = Vec::new();
    for number in 0..40 {
        let mut job = demo();
        job["title"] = json!(format!("job {number}"));
        // Jobs differ, so that an answer in the wrong place shows.
        job["seeds"]["mobility_diameter_nm"] = json!(45 + number % 10);
        wanted.push(45 + number % 10);
        input.extend(job.to_string().into_bytes());
        input.push(b'\n');
    }
    let output = run_with(&["predict", "-"], &input);
    assert!(status(&output) < 2, "{}", err(&output));
    let sizes: Vec<_> = out(&output)
        .lines()
        .map(|line| {
            let report: Value = serde_json::from_str(line).expect("each line is JSON");
            report["seeds"]["diameter_nm"]["p50"].as_f64().expect("it is a figure").round() as i64
        })
        .collect();
    assert_eq!(sizes, wanted);
    let first = out(&output).lines().next().expect("there is a line");
    let mut job = demo();
    job["seeds"]["mobility_diameter_nm"] = json!(45);
    let alone = JobFile::new("alone", job.to_string().as_bytes());
    assert_eq!(
        out(&run(&["predict", alone.path(), "--json"])).trim_end(),
        first,
        "the same bits alone and in a stream"
    );
}

#[test]
fn a_bad_line_is_answered_in_its_place() {
    let good = demo().to_string();
    let long = "x".repeat(5 << 20);
    let input = format!("{good}\n\n{{\"format\":\n{long}\n{good}");
    let output = run_with(&["predict", "-"], input.as_bytes());
    assert_eq!((status(&output), err(&output)), (2, ""));
    let lines: Vec<Value> =
        out(&output).lines().map(|line| serde_json::from_str(line).expect("each is JSON")).collect();
    assert_eq!(lines.len(), 4);
    assert_eq!(lines[0]["verdict"]["met"], true);
    assert_eq!((&lines[1]["line"], &lines[2]["line"]), (&json!(3), &json!(4)));
    for bad in &lines[1..3] {
        assert!(bad["faults"].as_array().is_some_and(|faults| !faults.is_empty()), "{bad}");
    }
    assert_eq!(lines[3], lines[0]);
    let not_text = run_with(&["predict", "-"], b"\xff\xfe\n");
    assert_eq!((status(&not_text), out(&not_text).lines().count()), (2, 1));
    let refused = run_with(&["predict", "-"], format!("{good}\n{}\n", turning()).as_bytes());
    assert_eq!((status(&refused), out(&refused).lines().count()), (2, 2));
    let short = run_with(&["predict", "-"], format!("{}\n{good}\n", unmet()).as_bytes());
    assert_eq!(status(&short), 1);
    let none = run_with(&["predict", "-"], b"");
    assert_eq!((status(&none), out(&none)), (0, ""));
    assert_eq!(status(&run_with(&["predict", "-", "--csv", "along"], good.as_bytes())), 2);
}

#[test]
fn a_closed_pipe_ends_it_silently() {
    let input = format!("{}\n", demo()).repeat(50);
    for arguments in [&["predict", "-"][..], &["predict", DEMO, "--json"], &["checks"], &["explain", DEMO]] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_loftwire"))
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut stdin = child.stdin.take().expect("it was piped");
        let text = input.clone();
        let writer = std::thread::spawn(move || drop(stdin.write_all(text.as_bytes())));
        let mut first = [0; 10];
        child.stdout.take().expect("it was piped").read_exact(&mut first).expect("it writes");
        let output = child.wait_with_output().expect("it ends");
        writer.join().expect("the writer ends");
        assert_eq!((status(&output), err(&output)), (0, ""), "{arguments:?}");
    }
}

#[test]
fn a_live_stream_is_answered_line_by_line() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_loftwire"))
        .args(["predict", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("it was piped");
    let mut answers = std::io::BufRead::lines(std::io::BufReader::new(child.stdout.take().expect("it was piped")));
    for _ in 0..3 {
        // The next line is sent only after the answer to this one: nothing may be held back.
        writeln!(stdin, "{}", demo()).expect("it reads");
        let answer = answers.next().expect("it answers").expect("in text");
        assert!(answer.starts_with("{\"format\""));
    }
    drop(stdin);
    assert_eq!(child.wait().expect("it ends").code(), Some(0));
}

#[test]
fn a_figure_is_explained() {
    let output = run(&["explain", DEMO, "stages[1].flow.reynolds"]);
    assert_eq!((status(&output), err(&output)), (0, ""));
    assert_plain(out(&output));
    for word in
        ["Reynolds number", "Re = 2R U/ν", "mean velocity over the area", "Holds: ", "Source: ", "Model: section 4"]
    {
        assert!(out(&output).contains(word), "{word} in {}", out(&output));
    }
    for path in [
        "wires.length_nm.mean",
        "stages[0].profile.wall_c",
        "stages[0].profile.rate_um_per_s_axis[50]",
        "verdict.chance",
    ] {
        let output = run(&["explain", DEMO, path]);
        assert_eq!(status(&output), 0, "{path}");
        assert_plain(out(&output));
    }
    let list = run(&["explain", DEMO]);
    assert_eq!(status(&list), 0);
    assert_plain(out(&list));
    let unknown = run(&["explain", DEMO, "wires.lenght_nm.mean"]);
    assert_eq!((status(&unknown), out(&unknown)), (2, ""));
    assert!(err(&unknown).contains("wires.length_nm.mean"), "{}", err(&unknown));
}

#[test]
fn check_values_are_listed_and_counted_last() {
    let output = run(&["checks"]);
    assert!(status(&output) < 2);
    let lines: Vec<_> = out(&output).lines().collect();
    let (last, rows) = lines.split_last().expect("there are lines");
    assert!(last.starts_with(&format!("{} values: ", rows.len())), "{last}");
    assert!(rows.iter().any(|row| row.starts_with("X046  ") && row.contains("; met; ")), "air to dilute a leak");
    let missed = rows.iter().filter(|row| row.contains("; missed; ")).count();
    assert!(last.contains(&format!(" {missed} missed")), "{last}");
    assert_eq!(status(&output), i32::from(missed > 0));
}

#[test]
fn help_starts_with_examples_and_fits() {
    for arguments in [
        &["--help"][..],
        &["-h"],
        &["predict", "--help"],
        &["explain", "--help"],
        &["checks", "--help"],
        &["levers", "--help"],
    ] {
        let output = run(arguments);
        assert_eq!(status(&output), 0);
        assert!(out(&output).starts_with("Example"), "{}", out(&output));
        for line in out(&output).lines() {
            assert!(line.width() <= WIDTH, "{line}");
        }
    }
}

#[test]
fn shells_and_the_manual_are_served() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let output = run(&["completions", shell]);
        assert_eq!(status(&output), 0);
        assert!(out(&output).contains("predict"), "{shell}");
    }
    let manual = run(&["man"]);
    assert_eq!(status(&manual), 0);
    assert!(out(&manual).contains(".TH loftwire 1"));
    assert!(out(&run(&["man", "predict"])).contains("JSON"));
    let unknown = run(&["man", "foretell"]);
    assert_eq!((status(&unknown), out(&unknown)), (2, ""));
}
