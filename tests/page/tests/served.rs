//! The served form: the same page, which after one visit works without its server and asks it for nothing.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{page, served};
use loftwire_page_tests::server::Server;
use serde_json::{Value, json};
use std::fs;

const READY: &str = "document.body.dataset.at";

#[test]
fn after_one_visit_it_works_with_the_server_stopped() {
    let server = Server::new({
        let _ = page();
        served()
    });
    let browser = Browser::new(&[]);
    browser.size((1280, 800));
    browser.note_errors();
    browser.open(&server.address());
    browser.until(READY);
    browser.run_async("await navigator.serviceWorker.ready;", &Value::Null);
    browser.until("navigator.serviceWorker.controller");
    let verdict = browser.value("document.querySelector('#verdict b').innerText");
    // A second start reads nothing from the net, but for the browser's own look at the keeper.
    let before = server.answered();
    browser.reload();
    browser.until(READY);
    assert!(server.answered() <= before + 1, "{} requests", server.answered() - before);
    server.stop();
    for address in [server.address(), format!("{}?from=home", server.address())] {
        browser.open(&address);
        browser.until(READY);
        assert_eq!(browser.value("document.querySelector('#verdict b').innerText"), verdict);
    }
    browser.click(&browser.called("Zone 1: more"));
    browser.until("document.querySelector('#row-stages-0-zones-0-wall_c').value === '451'");
    assert_eq!(browser.errors(), json!([]));
}

/// What a browser asks for before it offers to install a page.
#[test]
fn the_manifest_names_what_installing_needs() {
    let _ = page();
    let text = fs::read_to_string(served().join("manifest.webmanifest")).expect("it is there");
    let manifest: Value = serde_json::from_str(&text).expect("it is JSON");
    for field in ["name", "short_name", "start_url", "display", "icons", "background_color", "theme_color"] {
        assert!(!manifest[field].is_null(), "{field}");
    }
    for icon in manifest["icons"].as_array().expect("a list") {
        assert!(served().join(icon["src"].as_str().expect("a text")).is_file(), "{icon}");
    }
    let browser = Browser::new(&[]);
    let server = Server::new(served());
    browser.open(&server.address());
    browser.until(READY);
    let found = browser.devtools("Page.getAppManifest", &json!({}));
    assert_eq!(found["errors"], json!([]), "{found}");
    let wanting = browser.devtools("Page.getInstallabilityErrors", &json!({}));
    assert_eq!(wanting["installabilityErrors"], json!([]));
}

/// The two forms differ in policy, manifest and nothing else.
#[test]
fn the_served_page_is_the_same_file_but_for_policy_and_manifest() {
    let one = fs::read_to_string(page()).expect("it can be read");
    let other = fs::read_to_string(served().join("index.html")).expect("it can be read");
    let bare = |text: &str| {
        let (before, rest) = text.split_once("Content-Security-Policy\" content=\"").expect("there is a policy");
        let (_, behind) = rest.split_once('"').expect("it ends");
        format!("{before}{behind}").replace("<link rel=\"manifest\" href=\"manifest.webmanifest\">", "")
    };
    assert!(bare(&one) == bare(&other));
}
