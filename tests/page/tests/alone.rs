//! One file that needs nothing else: no request leaves it, nothing breaks its policy, and it stays small.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{address, address_of, jobs, loftwire, page};
use loftwire_page_tests::watch::Watch;
use serde_json::{Value, json};
use std::fs;

/// Most bytes of the file.
const MOST: u64 = 1_200_000;
/// The policy, but for the digest of the script.
const POLICY: [&str; 7] = [
    "default-src 'none'",
    "style-src 'unsafe-inline'",
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
    "script-src 'sha256-",
    "worker-src blob:",
];
const READY: &str = "document.body.dataset.at";

fn watched(watch: &Watch) -> Browser {
    let browser = Browser::new(&[&watch.switch()]);
    browser.note_errors();
    browser.size((1280, 800));
    browser
}

#[test]
fn no_request_leaves_the_page_in_any_view() {
    let watch = Watch::new();
    let browser = watched(&watch);
    browser.open(&address());
    browser.until(READY);
    for scheme in ["light", "dark"] {
        browser.medium(&[("prefers-color-scheme", scheme)]);
        for size in [(390, 844), (1280, 800), (1600, 1000)] {
            browser.size(size);
            for view in ["1", "2", "3", "4"] {
                browser.key(view);
                browser.run_async(
                    "await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));",
                    &Value::Null,
                );
            }
        }
    }
    // A change, the levers, and what Share makes.
    browser.click(&browser.called("Share"));
    browser.until("document.querySelector('.panel-share .qr')");
    assert_eq!(browser.errors(), json!([]));
    assert_eq!(watch.asked(browser), Vec::<String>::new());
}

/// Asks the network in each way that a script has.
const ASK: &str = "
    const asked = (work) => Promise.race([work.then(() => 'answered', () => 'refused'), new Promise((resolve) => setTimeout(resolve, 3000, 'silence'))]);
    const image = new Image();
    const worker = `fetch('http://127.0.0.1:9/worker', { mode: 'no-cors' }).then(() => postMessage('answered'), () => postMessage('refused'))`;
    return Promise.all([
      asked(fetch('http://127.0.0.1:9/page', { mode: 'no-cors' })),
      asked(new Promise((resolve, reject) => { image.onload = resolve; image.onerror = reject; image.src = 'http://127.0.0.1:9/image'; })),
      asked(new Promise((resolve) => { new Worker(URL.createObjectURL(new Blob([worker]))).onmessage = resolve; })),
    ]);";

/// What the watch would see, the policy stops.
#[test]
fn no_script_of_the_page_could_ask() {
    let watch = Watch::new();
    let browser = watched(&watch);
    browser.open(&address());
    browser.until(READY);
    let _ = browser.run_async(ASK, &Value::Null);
    let broken = browser.errors();
    let is_policy = |one: &Value| one.as_str().is_some_and(|text| text.starts_with("policy"));
    assert!(broken.as_array().is_some_and(|list| list.iter().any(is_policy)), "{broken}");
    assert_eq!(watch.asked(browser), Vec::<String>::new());
}

/// Without a policy the same script is seen to ask: the watch is awake.
#[test]
fn the_watch_sees_what_a_page_without_a_policy_asks() {
    let watch = Watch::new();
    let browser = watched(&watch);
    let bare = page().with_file_name("bare.html");
    fs::write(&bare, "<!doctype html><title>bare</title>").expect("it can be written");
    browser.open(&address_of(&bare));
    let _ = browser.run_async(ASK, &Value::Null);
    let asked = watch.asked(browser).join(" ");
    for what in ["page", "image", "worker"] {
        assert!(asked.contains(&format!(":9/{what}")), "{what} in {asked}");
    }
    fs::remove_file(bare).expect("it can be removed");
}

#[test]
fn the_policy_is_the_strict_one_and_the_file_is_small() {
    let text = fs::read_to_string(page()).expect("the page can be read");
    let policy =
        text.split_once("http-equiv=\"Content-Security-Policy\" content=\"").and_then(|(_, rest)| rest.split_once('"'));
    let (policy, _) = policy.expect("there is a policy");
    for part in POLICY {
        assert!(policy.contains(part), "{part} in {policy}");
    }
    assert!(
        !policy.contains("connect-src") && !policy.contains("http") && !policy.contains("script-src 'unsafe-inline'")
    );
    assert!(!text.contains("<link rel=\"manifest\""), "only the served form has a manifest");
    let size = fs::metadata(page()).expect("it is there").len();
    println!("{size} bytes");
    assert!(size <= MOST, "{size} bytes");
}

/// Each job in a page of its own, as the command line writes it, opens with that job.
#[test]
fn the_command_line_writes_the_page_with_a_job_in_it() {
    let browser = Browser::new(&[]);
    browser.size((1280, 800));
    browser.note_errors();
    for job in jobs() {
        let file = page().with_file_name("with-job.html");
        let [job_path, file_path, page_path] = [&job, &file, page()].map(|path| path.to_string_lossy().into_owned());
        let output = loftwire(&["page", &job_path, "--out", &file_path, "--page", &page_path]);
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        browser.open(&address_of(&file));
        browser.until(
            "document.body.dataset.at || document.querySelector('#verdict')?.innerText.startsWith('No prediction')",
        );
        let text: Value = serde_json::from_str(&fs::read_to_string(&job).expect("it can be read")).expect("it is JSON");
        let shown = browser.value("document.querySelector('#top').innerText");
        let title = text["title"].as_str().unwrap_or_default();
        assert!(shown.as_str().is_some_and(|shown| shown.contains(title)), "{title} in {shown}");
        assert_eq!(browser.errors(), json!([]), "{}", job.display());
        browser.run_script("localStorage.clear()", vec![]);
        fs::remove_file(file).expect("it can be removed");
    }
}
