//! Jobs and links that mean harm: they show as text or are refused, and nothing in them runs.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{address, address_of, jobs, page};
use loftwire_page_tests::core_calls::call;
use serde_json::{Value, json};
use std::fs;

const READY: &str = "document.body.dataset.at";
/// Set by anything of a job that should come to run.
const HARM: &str = "globalThis.harmed";
/// Texts that would run if they were taken for more than text.
const TEXTS: [&str; 7] = [
    "<script>harmed = 1</script>",
    "</script><script>harmed = 1</script>",
    "<!--<script>harmed = 1",
    "<img src=x onerror=\"harmed = 1\">",
    "\"><svg onload=\"harmed = 1\">",
    "javascript:harmed=1",
    "${harmed = 1}`+(harmed=1)+`",
];

fn demo() -> Value {
    let path = jobs().into_iter().find(|path| path.ends_with("three-stage.json")).expect("the demo job is there");
    serde_json::from_str(&fs::read_to_string(path).expect("it can be read")).expect("it is JSON")
}

/// The page with a text as its job, in a file of its own.
fn page_with(name: &str, job: &str) -> String {
    let empty = fs::read_to_string(page()).expect("the page can be read");
    let text = loftwire_read::page::with_job(&empty, job).expect("the page has a place for a job");
    let path = page().with_file_name(format!("hostile-{name}.html"));
    fs::write(&path, text).expect("it can be written");
    address_of(&path)
}

fn opened(address: &str) -> Browser {
    let browser = Browser::new(&[]);
    browser.size((1280, 800));
    browser.note_errors();
    browser.open(address);
    browser.until(READY);
    browser
}

/// Every view and panel was drawn with it.
fn looked_through(browser: &Browser) {
    for view in ["2", "3", "4", "1"] {
        browser.key(view);
        browser.run_async(
            "await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));",
            &Value::Null,
        );
    }
    browser.click(&browser.called("Share"));
    browser.until("document.querySelector('.panel-share .qr')");
    browser.key("Escape");
}

#[test]
fn texts_of_a_job_stay_texts() {
    for (place, text) in TEXTS.into_iter().enumerate() {
        let mut job = demo();
        job["title"] = json!(text);
        job["note"] = json!(text);
        for stage in job["stages"].as_array_mut().expect("there are stages") {
            stage["name"] = json!(text);
        }
        let browser = opened(&page_with(&format!("text-{place}"), &job.to_string()));
        looked_through(&browser);
        assert_eq!(browser.value(HARM), Value::Null, "{text}");
        assert!(
            browser.value("document.body.innerText").as_str().is_some_and(|seen| seen.contains(text)),
            "{text} is shown"
        );
        assert_eq!(browser.value("document.querySelectorAll('script').length"), browser.value("[...document.querySelectorAll('script')].filter((one) => one.id || one === document.scripts[document.scripts.length - 1]).length"));
        assert_eq!(browser.errors(), json!([]), "{text}");
    }
}

#[test]
fn odd_jobs_are_refused_and_the_page_goes_on() {
    let mut long = demo();
    long["title"] = json!("x".repeat(1 << 20));
    let demo_text = demo().to_string();
    let with = |field: &str| demo_text.replacen('{', &format!("{{{field},"), 1);
    let odd = [
        long.to_string(),
        with("\"__proto__\": {\"harmed\": 1}"),
        with("\"constructor\": {\"prototype\": {\"harmed\": 1}}"),
        with("\"hasOwnProperty\": 1"),
        with("\"title\": \"\\ud800\""),
        format!("{}{}", "[".repeat(100_000), "]".repeat(100_000)),
        "{\"stages\": null}".to_owned(),
        "null".to_owned(),
        "\u{0}".to_owned(),
    ];
    for (place, text) in odd.iter().enumerate() {
        let browser = opened(&page_with(&format!("odd-{place}"), text));
        assert_eq!(browser.value(HARM), Value::Null, "case {place}");
        assert_eq!(browser.value("({}).harmed"), Value::Null, "case {place}");
        let notice = browser.value("document.querySelector('#notice').innerText");
        assert!(
            notice.as_str().is_some_and(|text| text.contains("not taken") && text.len() < 2000),
            "case {place}: {notice}"
        );
        assert!(
            browser.value("document.querySelector('#verdict').innerText.length").as_u64() > Some(10),
            "the page goes on"
        );
        assert_eq!(browser.errors(), json!([]), "case {place}");
    }
}

/// Fragments: cut off, no code at all, an unfolding one, prototype keys.
#[test]
fn odd_links_are_refused_and_the_page_goes_on() {
    let fragments = [
        "#job=",
        "#job=%00",
        "#job=AAAA",
        "#job=<script>harmed=1</script>",
        "#code=99999999999999999999999999",
        "#__proto__=1",
        "#harmed=1",
    ];
    for fragment in fragments {
        let browser = opened(&format!("{}{fragment}", address()));
        assert_eq!(browser.value(HARM), Value::Null, "{fragment}");
        assert_eq!(browser.errors(), json!([]), "{fragment}");
    }
    // 64 MB of blanks in a few kilobytes.
    let browser = opened(&address());
    let bomb = browser.run_async(
        "const stream = new Blob(Array(64).fill(new Uint8Array(1 << 20).fill(32))).stream().pipeThrough(new CompressionStream('deflate-raw'));
         const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
         return btoa(String.fromCharCode(...bytes)).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');",
        &Value::Null,
    );
    drop(browser);
    let browser = opened(&format!("{}#job={}", address(), bomb.as_str().expect("a text")));
    assert_eq!(browser.errors(), json!([]));
}

/// The bridge itself: what no file can hold is answered, not thrown.
#[test]
fn the_bridge_answers_whatever_it_is_given() {
    let browser = opened(&address());
    let demo = demo();
    for what in ["read_job", "write_job", "check_job", "predict", "levers"] {
        for given in [json!(null), json!(1), json!([]), json!({}), json!("\u{feff}"), json!({ "__proto__": demo })] {
            let answer = call(&browser, what, &json!([given]));
            assert!(answer["faults"].is_array() || answer["trap"].is_string(), "{what} {given}: {answer}");
            // Only `read_job` wants a text; all else takes whatever comes.
            assert!(what == "read_job" || answer["trap"].is_null(), "{what} {given}: {answer}");
        }
    }
    let answer = call(&browser, "explain", &json!([demo, "__proto__.x[9999999999999999999]"]));
    assert!(answer["faults"].is_array(), "{answer}");
    assert!(call(&browser, "predict", &json!([demo]))["ok"].is_object(), "it goes on");
}
