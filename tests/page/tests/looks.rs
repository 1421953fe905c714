//! Every view at every size in light and dark: no rule of accessibility broken, and a picture of each to look at.
//!
//! The rules are those of axe-core. Pictures are written to `target/page/pictures`.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{address, root};
use loftwire_page_tests::npm;
use serde_json::{Value, json};
use std::fs;
use std::path::PathBuf;

const READY: &str = "document.body.dataset.at";
/// Phone, tablet upright and lying, desk.
const SIZES: [(&str, (u32, u32)); 4] =
    [("phone", (390, 844)), ("portrait", (800, 1280)), ("landscape", (1280, 800)), ("desk", (1600, 1000))];
const VIEWS: [(&str, &str); 4] = [("1", "line"), ("2", "wire"), ("3", "order"), ("4", "certainty")];
/// Each answer with what makes it: a value of the second wall of the absorber.
const ANSWERS: [(&str, Option<&str>); 3] = [("inside", None), ("outside", Some("400")), ("refused", Some("4000"))];
const FIELD: &str = "#row-stages-1-zones-1-wall_c";
/// Two frames: the page has painted what was done.
const FRAMES: &str = "await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));";

fn rules() -> String {
    fs::read_to_string(npm::file("axe-core", "4", "axe.min.js")).expect("the rules are there")
}

fn pictures() -> PathBuf {
    root().join("target/page/pictures")
}

/// The rules that the page breaks, and where.
fn broken(browser: &Browser) -> Value {
    browser.run_async(
        "const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
         const { violations } = await axe.run({ resultTypes: ['violations'], runOnly: { type: 'tag', values: tags } });
         return violations.flatMap((rule) => rule.nodes.slice(0, 4).map((node) => `${rule.id}: ${node.html.slice(0, 160)} ${node.any[0]?.message ?? ''}`));",
        &Value::Null,
    )
}

fn to_answer(browser: &Browser, value: Option<&str>) {
    let Some(value) = value else { return };
    browser.key("1");
    browser.run_async(FRAMES, &Value::Null);
    browser.run_script("[...document.querySelectorAll('button')].find((button) => button.getAttribute('aria-label')?.startsWith('absorber, zone 2')).click()", vec![]);
    browser.until(&format!("document.querySelector('{FIELD}')"));
    browser.run_script(
        &format!("const field = document.querySelector('{FIELD}'); field.focus(); field.select();"),
        vec![],
    );
    browser.type_text(value);
    browser.key("Enter");
    browser.run_script("document.activeElement.blur()", vec![]);
    browser.until(if value.len() > 3 {
        "document.querySelector('[aria-invalid=true]')"
    } else {
        "!document.querySelector('#verdict').innerText.startsWith('Inside')"
    });
}

#[test]
fn no_rule_of_accessibility_is_broken_in_any_view_size_and_scheme() {
    let rules = rules();
    let mut faults = Vec::new();
    for (answer, value) in ANSWERS {
        let browser = Browser::with_page((1280, 800), &address());
        browser.note_errors();
        browser.reload();
        browser.until(READY);
        browser.run_script(&rules, vec![]);
        to_answer(&browser, value);
        // The levers are known, and the verdict says so.
        browser.until("/in 100|over 99|less than/i.test(document.querySelector('#verdict').innerText)");
        for (size_name, size) in SIZES {
            browser.size(size);
            for scheme in ["light", "dark"] {
                browser.medium(&[("prefers-color-scheme", scheme)]);
                for (key, view) in VIEWS {
                    browser.key(key);
                    browser.run_async(FRAMES, &Value::Null);
                    let name = format!("{view}-{size_name}-{scheme}-{answer}");
                    browser.picture(&pictures().join(format!("{name}.png")));
                    let found = broken(&browser);
                    faults.extend(found.as_array().into_iter().flatten().map(|fault| format!("{name}: {fault}")));
                }
            }
        }
        assert_eq!(browser.errors(), json!([]), "{answer}");
    }
    assert!(faults.is_empty(), "{} broken:\n{}", faults.len(), faults.join("\n"));
}

/// Panels too: they replace the set-points.
#[test]
fn no_rule_of_accessibility_is_broken_in_any_panel() {
    let rules = rules();
    let browser = Browser::with_page((1280, 800), &address());
    browser.until(READY);
    browser.run_script(&rules, vec![]);
    let mut faults = Vec::new();
    for (size_name, size) in SIZES {
        browser.size(size);
        for scheme in ["light", "dark"] {
            browser.medium(&[("prefers-color-scheme", scheme)]);
            for panel in ["Share", "Units", "Pin"] {
                browser.run_script("[...document.querySelectorAll('button')].find((button) => button.textContent.trim().startsWith(arguments[0])).click()", vec![json!(panel)]);
                browser.run_async(FRAMES, &Value::Null);
                let name = format!("panel-{}-{size_name}-{scheme}", panel.to_lowercase());
                browser.picture(&pictures().join(format!("{name}.png")));
                let found = broken(&browser);
                faults.extend(found.as_array().into_iter().flatten().map(|fault| format!("{name}: {fault}")));
                browser.key("Escape");
                browser.run_async(FRAMES, &Value::Null);
            }
        }
    }
    assert!(faults.is_empty(), "{} broken:\n{}", faults.len(), faults.join("\n"));
}

/// Source: WCAG 2.2, 1.4.10 and 2.5.8, and the page's own sizes. Parts of the drawing may be smaller: the panel offers each again.
#[test]
fn nothing_scrolls_sideways_and_every_target_is_large_enough() {
    let browser = Browser::with_page((1280, 800), &address());
    browser.until(READY);
    for (name, size) in SIZES.into_iter().chain([("narrow", (320, 800))]) {
        browser.size(size);
        for (key, view) in VIEWS {
            browser.key(key);
            browser.run_async(FRAMES, &Value::Null);
            let flaws = browser.value(
                "(() => {
                    const flaws = [];
                    if (document.documentElement.scrollWidth > innerWidth) flaws.push('it scrolls sideways');
                    for (const button of document.querySelectorAll('button, select, input:not([type=file]):not([type=checkbox]):not([type=radio])')) {
                      if (!button.checkVisibility({ visibilityProperty: true }) || button.matches('.sr, .spot, .skip')) continue;
                      // A field is as wide as its frame: a tap anywhere in it is the field's.
                      const { width, height } = (button.closest('.row-value') ?? button).getBoundingClientRect();
                      if (width > 0 && (width < 47.5 || height < 47.5)) flaws.push(`${width.toFixed(0)} × ${height.toFixed(0)}: ${button.outerHTML.slice(0, 100)}`);
                    }
                    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
                    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
                      const parent = node.parentElement;
                      if (!node.textContent.trim() || !parent.checkVisibility({ visibilityProperty: true }) || parent.closest('.sr, script, style, noscript, .sheet')) continue;
                      const svg = parent.closest('svg');
                      const scale = svg?.viewBox.baseVal?.width ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
                      const points = parseFloat(getComputedStyle(parent).fontSize) * scale;
                      if (points < 13.9) flaws.push(`${points.toFixed(1)} px: ${node.textContent.trim().slice(0, 40)}`);
                    }
                    return flaws.slice(0, 12);
                })()",
            );
            assert_eq!(flaws, json!([]), "{view} on {name}");
        }
    }
}
