//! Nothing is lost: over a reload, in two tabs, without storage, and if the core falls over.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::address;
use serde_json::{Value, json};

const READY: &str = "document.body.dataset.at";
const WALL: &str = "#row-stages-0-zones-0-wall_c";
/// A core that falls over at one temperature of a wall.
const FALLING: &str = "
    const RealBlob = Blob;
    globalThis.Blob = class extends RealBlob {
      constructor(parts, options) {
        const falls = options?.type === 'text/javascript' && parts.some((part) => String(part).includes('wasm_bindgen'));
        super(falls ? [...parts, `;{
          const predict = wasm_bindgen.predict;
          wasm_bindgen.predict = (job) => {
            if (job.stages[0].zones[0].wall_c === 451) throw new WebAssembly.RuntimeError('unreachable');
            return predict(job);
          };
        }`] : parts, options);
      }
    };";

fn opened(before: Option<&str>) -> Browser {
    let browser = Browser::new(&[]);
    browser.size((1280, 800));
    browser.note_errors();
    if let Some(script) = before {
        browser.devtools("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": script }));
    }
    browser.open(&address());
    browser.until(READY);
    browser
}

fn wall(browser: &Browser) -> Value {
    browser.value(&format!("document.querySelector('{WALL}').value"))
}

/// Types a text into the first wall's field.
fn typed(browser: &Browser, text: &str) {
    browser.click(WALL);
    browser.run_script(&format!("document.querySelector('{WALL}').select()"), vec![]);
    browser.type_text(text);
}

/// Waits until the change is in storage and in the address.
fn kept(browser: &Browser) {
    browser.run_async("await new Promise((resolve) => setTimeout(resolve, 1500));", &Value::Null);
}

#[test]
fn a_reload_brings_back_recipe_pin_undo_view_and_half_typed_text() {
    let browser = opened(None);
    browser.click(&browser.called("Zone 1: more"));
    browser.until(&format!("document.querySelector('{WALL}').value === '451'"));
    typed(&browser, "4000");
    browser.key("Enter");
    browser.until(&format!("document.querySelector('{WALL}').getAttribute('aria-invalid') === 'true'"));
    browser.key("Escape");
    typed(&browser, "4000");
    browser.key("Enter");
    kept(&browser);
    browser.reload();
    browser.until(READY);
    browser.until(&format!("document.querySelector('{WALL}').value === '4000'"));
    assert_eq!(browser.value(&format!("document.querySelector('{WALL}').getAttribute('aria-invalid')")), json!("true"));
    browser.click(&browser.called("Undo"));
    browser.click(&browser.called("Pin"));
    browser.until("document.querySelector('#panel').innerText.includes('Nothing has changed since')");
    assert_eq!(browser.errors(), json!([]));
}

#[test]
fn without_storage_the_address_carries_the_recipe() {
    let refuse = "Object.defineProperty(globalThis, 'localStorage', { get() { throw new DOMException('refused', 'SecurityError'); } });";
    let browser = opened(Some(refuse));
    browser.click(&browser.called("Zone 1: more"));
    browser.until(&format!("document.querySelector('{WALL}').value === '451'"));
    kept(&browser);
    assert!(browser.value("location.hash").as_str().is_some_and(|hash| hash.starts_with("#job=")));
    browser.reload();
    browser.until(READY);
    assert_eq!(wall(&browser), json!("451"));
    assert_eq!(browser.errors(), json!([]));
}

#[test]
fn a_core_that_falls_over_loses_nothing() {
    let browser = opened(Some(FALLING));
    browser.click(&browser.called("Zone 1: more"));
    browser.until("document.querySelector('#verdict').innerText.includes('The model stopped')");
    assert_eq!(wall(&browser), json!("451"), "what was set stands");
    // The last good numbers stay; one step back a fresh worker predicts again.
    assert!(browser.value("document.querySelector('.reading').innerText.length").as_u64() > Some(5));
    browser.click(&browser.called("Undo"));
    browser.until("!document.querySelector('#verdict').innerText.includes('The model stopped')");
    assert_eq!(wall(&browser), json!("450"));
    browser.until("/order/i.test(document.querySelector('#verdict').innerText)");
    assert_eq!(browser.errors(), json!([]));
}

/// A browser in which nothing can be computed still shows the recipe and says what does not work.
#[test]
fn a_browser_without_webassembly_shows_the_recipe() {
    let browser = Browser::new(&[]);
    browser.size((1280, 800));
    browser.note_errors();
    let none = "delete globalThis.WebAssembly; const RealWorker = Worker;
        globalThis.Worker = class extends RealWorker { constructor() { super(URL.createObjectURL(new Blob(['onmessage = ({ data }) => postMessage(data.id === undefined ? { broken: \"no WebAssembly\" } : { id: data.id, trap: \"no WebAssembly\" })']))); } };";
    browser.devtools("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": none }));
    browser.open(&address());
    browser.until("document.querySelector('#verdict')?.innerText.length > 5");
    browser.until(&format!("document.querySelector('{WALL}')?.value === '450'"));
    browser.until("document.body.innerText.includes('cannot run the model')");
    assert_eq!(browser.errors(), json!([]));
}

/// Of two tabs the later write wins, and the other says so.
#[test]
fn the_other_tab_says_that_it_was_changed() {
    let browser = opened(None);
    let [first, second] = browser.new_tab();
    browser.size((1280, 800));
    browser.open(&address());
    browser.until(READY);
    browser.click(&browser.called("Zone 1: more"));
    browser.until(&format!("document.querySelector('{WALL}').value === '451'"));
    kept(&browser);
    browser.to_tab(&first);
    browser.until("document.querySelector('#notice').innerText.includes('tab')");
    browser.until(&format!("document.querySelector('{WALL}').value === '451'"));
    browser.click(&browser.called("Undo"));
    browser.until(&format!("document.querySelector('{WALL}').value === '450'"));
    kept(&browser);
    browser.to_tab(&second);
    browser.until(&format!("document.querySelector('{WALL}').value === '450'"));
    assert_eq!(browser.errors(), json!([]));
}
