//! The page says what the command line says: every number to the last bit, every refusal word for word.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{address, address_of, jobs, loftwire, page, report};
use loftwire_page_tests::core_calls::{call, difference};
use serde_json::json;
use std::fs;

/// In the one file, opened from the disk, in its worker.
#[test]
fn reports_equal_those_of_the_command_line_to_the_last_bit() {
    let browser = Browser::with_page((1280, 800), &address());
    for path in jobs() {
        let text = fs::read_to_string(&path).expect("a job can be read");
        let ours = report(&path);
        // As it stands in the file, as an object, and as it is opened, with its full scales written out.
        let object = json!(serde_json::from_str::<serde_json::Value>(&text).expect("a job is JSON"));
        let opened = call(&browser, "read_job", &json!([text]));
        let opened = opened.get("ok").unwrap_or_else(|| panic!("{}: {opened}", path.display()));
        for job in [json!(text), object, opened.clone()] {
            let answer = call(&browser, "predict", &json!([job]));
            let theirs = answer.get("ok").unwrap_or_else(|| panic!("{}: {answer}", path.display()));
            assert_eq!(difference("report", &ours, theirs), None, "{}", path.display());
        }
    }
}

/// A job goes out and comes in again without a change.
#[test]
fn a_saved_job_is_the_job_that_was_opened() {
    let browser = Browser::with_page((1280, 800), &address());
    for path in jobs() {
        let text = fs::read_to_string(&path).expect("a job can be read");
        let opened = call(&browser, "read_job", &json!([text]))["ok"].take();
        let saved = call(&browser, "write_job", &json!([opened]))["ok"].take();
        let again = call(&browser, "read_job", &json!([saved]))["ok"].take();
        assert_eq!(difference("job", &opened, &again), None, "{}", path.display());
        let written = call(&browser, "write_job", &json!([again]))["ok"].take();
        assert_eq!(saved, written, "{}", path.display());
    }
}

/// One wrong file for each way to be wrong.
#[test]
fn refusals_are_those_of_the_command_line_word_for_word() {
    let browser = Browser::with_page((1280, 800), &address());
    let demo = fs::read_to_string(jobs().first().expect("there is one")).expect("it can be read");
    let wrong = [
        String::new(),
        "{".to_owned(),
        "[1, 2]".to_owned(),
        demo.replace("\"material\"", "\"matter\""),
        demo.replace("wire-growth-job/1", "wire-growth-job/2"),
        demo.replacen("\"wall_c\": ", "\"wall_c\": -400, \"was\": ", 1),
        demo.replacen("\"pressure_mbar\": 1000", "\"pressure_mbar\": 1e999", 1),
        demo.replacen("\"pressure_mbar\": 1000", "\"pressure_mbar\": NaN", 1),
        demo.replacen("\"pressure_mbar\": 1000", "\"pressure_mbar\": 1000, \"pressure_mbar\": 1000", 1),
        demo.replacen("\"pressure_mbar\": 1000", "\"pressure_mbar\": \"1000\"", 1),
        demo.replacen("\"pressure_mbar\": 1000", "\"pressure_mbar\": 20", 1),
    ];
    let folder = std::env::temp_dir().join(format!("loftwire-refusals-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("the folder can be made");
    for (place, text) in wrong.iter().enumerate() {
        assert_ne!(*text, demo, "case {place} is a change");
        let path = folder.join(format!("{place}.json"));
        fs::write(&path, text).expect("the job can be written");
        let output = loftwire(&["predict", &path.to_string_lossy(), "--json"]);
        assert!(output.stdout.is_empty(), "case {place}");
        let answer = call(&browser, "predict", &json!([text]));
        let faults = answer["faults"].as_array().unwrap_or_else(|| panic!("case {place}: {answer}"));
        let sentences: Vec<&str> = faults.iter().filter_map(|fault| fault["text"].as_str()).collect();
        assert_eq!(String::from_utf8_lossy(&output.stderr).trim_end(), sentences.join("\n"), "case {place}");
    }
    fs::remove_dir_all(folder).expect("the folder can be removed");
}

/// What is always in sight is written as the command line writes it: readings, spread and verdict, letter for letter.
#[test]
fn readings_and_verdict_are_written_as_the_command_line_writes_them() {
    // Lines and blanks are where they fit.
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    for job in jobs() {
        let file = page().with_file_name("with-job.html");
        let [job_path, file_path, page_path] = [&job, &file, page()].map(|path| path.to_string_lossy().into_owned());
        assert!(loftwire(&["page", &job_path, "--out", &file_path, "--page", &page_path]).status.success());
        let written = plain(&String::from_utf8_lossy(&loftwire(&["predict", &job_path]).stdout));
        let browser = Browser::with_page((1280, 800), &address_of(&file));
        browser.until("document.body.dataset.at");
        // With an order the chance is known once the levers are.
        browser.until("/in 100|No order/.test(document.querySelector('#verdict').innerText)");
        let readings = browser.value("[...document.querySelectorAll('.reading')].map((one) => one.innerText)");
        let readings: Vec<&str> =
            readings.as_array().into_iter().flatten().filter_map(serde_json::Value::as_str).collect();
        assert!(readings.len() > 1, "{}", job.display());
        for reading in readings {
            let value = reading.lines().find(|line| line.contains('±')).expect("a reading has a value and a spread");
            assert!(written.contains(&plain(value)), "{}: {value} in {written}", job.display());
        }
        let verdict = browser.value("document.querySelector('#verdict').innerText");
        let verdict = plain(verdict.as_str().unwrap_or_default()).replace(" No single set-point brings it back.", "");
        assert!(written.contains(&verdict), "{}: {verdict} in {written}", job.display());
        fs::remove_file(file).expect("it can be removed");
    }
}
