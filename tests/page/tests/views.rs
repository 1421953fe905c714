//! Wire, Order, Certainty, Share and the run sheet: what they show, at every size, and what they do.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{address, root};
use serde_json::{Value, json};
use std::fs;

/// Narrow phone, phone, tablet upright and lying, desk.
const SIZES: [(u32, u32); 5] = [(320, 800), (390, 844), (800, 1280), (1280, 800), (1600, 1000)];
/// Views of this file, by their word on the rail.
const VIEWS: [&str; 3] = ["Wire", "Order", "Certainty"];

/// The page with the demo job, its levers known.
fn opened(size: (u32, u32)) -> Browser {
    let browser = Browser::with_page(size, &address());
    browser.note_errors();
    browser.reload();
    browser.until("document.body.dataset.at");
    browser
}

fn rail(browser: &Browser, name: &str) {
    let press = "[...document.querySelectorAll('#rail button')].find((button) => button.textContent.trim() === arguments[0]).click()";
    browser.run_script(press, vec![json!(name)]);
    browser.until(&format!("document.querySelector('#rail [aria-current]').textContent.trim() === '{name}'"));
    if name == "Certainty" {
        browser.until("document.querySelector('#figure-levers:not([hidden]) .arrow')");
    }
}

/// Turns all pictures into their tables.
fn read_as_tables(browser: &Browser) {
    browser.key("t");
    browser.until("document.body.dataset.tables === 'on'");
}

/// What is too small, too wide or cut in the view that is shown.
const FLAWS: &str = "(() => {
    const flaws = [], view = document.querySelector('#views .view:not([hidden])');
    const seen = (node) => { const box = node.getBoundingClientRect(); return box.width > 0 && box.height > 0 && !node.closest('[hidden], .sr, thead'); };
    for (const node of view.querySelectorAll('*')) {
      if (!seen(node)) continue;
      const text = [...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim());
      if (text && parseFloat(getComputedStyle(node).fontSize) < 13.95) flaws.push('small text: ' + node.textContent.slice(0, 40));
    }
    for (const button of view.querySelectorAll('button:not(.value), select')) {
      const box = button.getBoundingClientRect();
      if (seen(button) && (box.width < 47.5 || box.height < 47.5)) flaws.push(`target of ${box.width} by ${box.height}: ` + button.textContent);
    }
    for (const card of view.querySelectorAll('.card, .picture')) if (seen(card) && card.scrollWidth > card.clientWidth + 1) flaws.push('too wide: ' + (card.id || card.className));
    for (const svg of view.querySelectorAll('.plot svg')) {
      const box = svg.getBoundingClientRect();
      for (const text of svg.querySelectorAll('text')) {
        const own = text.getBoundingClientRect();
        if (own.width && seen(text) && (own.left < box.left - 1.5 || own.right > box.right + 1.5)) flaws.push('cut: ' + text.textContent);
      }
    }
    if (document.documentElement.scrollWidth > innerWidth + 1) flaws.push('the page scrolls sideways');
    return flaws;
})()";

#[test]
fn nothing_is_small_or_cut_at_any_size() {
    let browser = opened((1280, 800));
    for size in SIZES {
        browser.size(size);
        for name in VIEWS {
            rail(&browser, name);
            browser.until("document.querySelector('#views .view:not([hidden]) svg')");
            // A frame for the new width.
            browser.run_async(
                "await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));",
                &Value::Null,
            );
            assert_eq!(browser.value(FLAWS), json!([]), "{name} at {size:?}");
            browser.picture(&root().join(format!(
                "target/page/pictures/{}-{}x{}.png",
                name.to_lowercase(),
                size.0,
                size.1
            )));
        }
    }
    assert_eq!(browser.errors(), json!([]));
}

/// Each picture: a question, a sentence, and a table behind the switch.
#[test]
fn every_picture_can_be_read_without_seeing_it() {
    let browser = opened((1280, 800));
    read_as_tables(&browser);
    for name in VIEWS {
        rail(&browser, name);
        let wanting = browser.value(
            "[...document.querySelectorAll('#views .view:not([hidden]) figure:not([hidden])')].flatMap((figure) => {
                const lacks = [];
                if (!figure.querySelector('figcaption h2').textContent.endsWith('?')) lacks.push('a question');
                const sentence = figure.querySelector('.plot').getAttribute('aria-label') ?? '';
                if (sentence.length < 8 || /NaN|undefined|null|Infinity/.test(figure.textContent + sentence)) lacks.push('a sentence: ' + sentence);
                if (figure.querySelectorAll('tbody tr').length === 0) lacks.push('a table');
                return lacks.map((what) => figure.id + ' lacks ' + what);
            })",
        );
        assert_eq!(wanting, json!([]), "{name}");
    }
}

/// The table of the lengths holds the numbers of its bars.
#[test]
fn the_table_of_lengths_adds_up_to_all_wires() {
    let browser = opened((1280, 800));
    read_as_tables(&browser);
    rail(&browser, "Wire");
    let sums = browser.value(
        "(() => {
            const sums = {};
            for (const row of document.querySelectorAll('#figure-lengths tbody tr')) {
              const [name, , share] = [...row.children].map((cell) => cell.textContent);
              sums[name] = (sums[name] ?? 0) + (parseFloat(share) || 0);
            }
            return sums;
        })()",
    );
    let sums = sums.as_object().expect("there are segments");
    assert_eq!(sums.len(), 4, "three segments and the whole wire");
    for (name, sum) in sums {
        assert!((sum.as_f64().expect("a number") - 100.0).abs() < 0.5, "{name}: {sum} %");
    }
}

/// A row is chosen, its length raised; list, strip and judgement follow, and one undo brings it back.
#[test]
fn an_order_is_typed_judged_and_taken_back() {
    let browser = opened((1280, 800));
    rail(&browser, "Order");
    let cell = "document.querySelector('.order-list .chosen td:nth-of-type(2)').textContent";
    browser.run_script("document.querySelectorAll('.order-list .row-button')[1].click()", vec![]);
    browser.until(&format!("{cell} === '1200 ± 150'"));
    let plus = "[...document.querySelectorAll('.order-set button')].find((button) => button.textContent.trim() === '+').click()";
    browser.run_script(plus, vec![]);
    browser.until(&format!("{cell} !== '1200 ± 150'"));
    browser.until("document.querySelector('.judged tbody tr:nth-child(3) td').textContent.startsWith('12') && !document.querySelector('.judged tbody tr:nth-child(3) td').textContent.startsWith('1200')");
    browser.run_script(
        "[...document.querySelectorAll('#top button')].find((button) => button.textContent.trim() === 'Undo').click()",
        vec![],
    );
    browser.until(&format!("{cell} === '1200 ± 150'"));
    // Removed, it is not counted; added, it is what the wire makes now.
    let press = "[...document.querySelectorAll('.order-set button')].find((button) => button.textContent.trim() === arguments[0]).click()";
    browser.run_script(press, vec![json!("Remove from the order")]);
    browser.until("document.querySelector('.order-list .chosen').textContent.includes('not counted')");
    browser.until("document.querySelectorAll('.judged tbody tr').length === 5");
    browser.run_script(press, vec![json!("Add to the order")]);
    browser.until("document.querySelectorAll('.judged tbody tr').length === 7");
    assert_eq!(browser.errors(), json!([]));
}

/// What is no recipe is refused in words, kept in its field, and changes nothing.
#[test]
fn what_is_no_recipe_is_refused_in_words() {
    let browser = opened((390, 844));
    let share =
        "[...document.querySelectorAll('#top button')].find((button) => button.textContent.trim() === 'Share').click()";
    browser.run_script(share, vec![]);
    browser.until("document.querySelector('.panel-share .qr')");
    let word = browser.value("document.querySelector('.share .note b').textContent");
    let wrong = [
        ("<img src=x onerror=alert(1)>", "is not a job. Its first line reads “<img src=x onerror=alert(1)>”."),
        ("", "is empty."),
        ("{\"format\": \"wire-growth-job/1\", \"material\": \"Wood\"}", "was not taken"),
        ("{ broken", "was not taken"),
        ("WIRE1/2:ABC", "Code 1 of 2 is read."),
        ("https://example.org/#job=AAAA", "is damaged"),
        ("https://example.org/#code=12345678901234567890", "is damaged"),
    ];
    for (text, words) in wrong {
        browser.run_script("document.querySelector('#share-paste').value = arguments[0]", vec![json!(text)]);
        browser.run_script("[...document.querySelectorAll('.share button')].find((button) => button.textContent === 'Take it').click()", vec![]);
        browser.until(&format!("document.querySelector('.share-answer').textContent.includes({})", json!(words)));
        assert_eq!(browser.value("document.querySelector('#share-paste').value"), json!(text), "it is kept");
        assert_eq!(browser.value("document.querySelector('.share .note b').textContent"), word, "the recipe stays");
    }
    assert_eq!(browser.value("document.querySelectorAll('#main img').length"), json!(0));
    assert_eq!(browser.errors(), json!([]));
}

/// The run sheet of three stages: one page of either paper, its text at 9 points or more, the code at 0.40 mm a module.
#[test]
fn the_run_sheet_takes_one_page() {
    let browser = opened((1280, 800));
    browser.until("document.querySelector('.sheet')");
    // The code is made a while after the recipe has come to rest.
    browser.until("dispatchEvent(new Event('beforeprint')) && document.querySelector('.sheet .qr')");
    for (name, width, height) in [("A4", 8.27, 11.69), ("Letter", 8.5, 11.0)] {
        let paper =
            json!({ "paperWidth": width, "paperHeight": height, "preferCSSPageSize": false, "printBackground": true });
        let answer = browser.devtools("Page.printToPDF", &paper);
        let bytes = base64::Engine::decode(
            &base64::engine::general_purpose::STANDARD,
            answer["data"].as_str().unwrap_or_default(),
        );
        let bytes = bytes.expect("a file comes in base64");
        let text = String::from_utf8_lossy(&bytes);
        let pages = text.matches("/Type /Page").count() - text.matches("/Type /Pages").count();
        let folder = root().join("target/page/pictures");
        fs::create_dir_all(&folder).expect("the folder can be made");
        fs::write(folder.join(format!("sheet-{name}.pdf")), &bytes).expect("it can be written");
        assert_eq!(pages, 1, "{name}");
    }
    browser.devtools("Emulation.setEmulatedMedia", &json!({ "media": "print" }));
    let small = browser.value(
        "[...document.querySelectorAll('.sheet *')].filter((node) => [...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim()))
            .map((node) => [parseFloat(getComputedStyle(node).fontSize) * 0.75, node.textContent.slice(0, 30)]).filter(([points]) => points < 8.99)",
    );
    assert_eq!(small, json!([]), "points");
    let module = browser.value("(() => { const svg = document.querySelector('.sheet .qr'); return parseFloat(svg.style.width) / svg.viewBox.baseVal.width; })()");
    assert!(module.as_f64() >= Some(0.4), "{module} mm a module");
}
