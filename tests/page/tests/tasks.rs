//! The tasks that the page is for, by finger and by keyboard, each with no more taps than it may take.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::address;
use serde_json::{Value, json};

const READY: &str = "document.body.dataset.at";
/// Text of the verdict bar.
const VERDICT: &str = "document.querySelector('#verdict').innerText";

fn wall(stage: usize, zone: usize) -> String {
    format!("document.querySelector('#row-stages-{stage}-zones-{zone}-wall_c').value")
}

/// How a task is done: each act is one tap.
struct Person {
    browser: Browser,
    taps: usize,
}

impl Person {
    /// With fingers, on a tablet.
    fn with_fingers() -> Self {
        let browser = Browser::new(&[]);
        browser.size((1280, 800));
        browser.touch();
        browser.note_errors();
        browser.open(&address());
        browser.until(READY);
        browser.run_script("localStorage.clear()", vec![]);
        Self { browser, taps: 0 }
    }

    fn tap(&mut self, name: &str) {
        self.browser.tap(&self.browser.called(name));
        self.taps += 1;
        self.settle();
    }

    fn tap_at(&mut self, selector: &str) {
        self.browser.tap(selector);
        self.taps += 1;
        self.settle();
    }

    /// Lets the page paint what was done.
    fn settle(&self) {
        let frames = "await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));";
        self.browser.run_async(frames, &Value::Null);
    }

    fn text(&self, selector: &str) -> String {
        let text = self.browser.value(&format!("document.querySelector('{selector}')?.innerText ?? ''"));
        text.as_str().unwrap_or_default().to_owned()
    }

    /// The task is done: it took no more than it may.
    fn done(self, most: usize) {
        assert!(self.taps <= most, "{} taps, {most} allowed", self.taps);
        assert_eq!(self.browser.errors(), json!([]));
    }

    /// Brings the recipe outside its order, so that a single set-point can bring it back.
    fn outside(&mut self) {
        let field = "#row-stages-1-zones-1-wall_c";
        self.browser.tap(&self.browser.called("Next part"));
        self.browser.until(&format!("document.querySelector('{field}')"));
        self.browser.run_script(&format!("document.querySelector('{field}').focus()"), vec![]);
        for _ in 0..2 {
            self.browser.key("PageDown");
        }
        self.browser
            .until(&format!("{VERDICT}.startsWith('Absorber') && document.querySelector('.fix').checkVisibility()"));
        self.taps = 0;
    }
}

/// Task 1: nothing to do but look.
#[test]
fn whether_it_is_inside_by_how_much_and_what_is_tightest_is_in_sight() {
    let person = Person::with_fingers();
    assert!(person.text("#verdict").contains("Tightest is"), "{}", person.text("#verdict"));
    assert_eq!(person.browser.value("document.querySelectorAll('.reading').length"), json!(4));
    assert!(person.text(".reading").contains("to spare"));
    person.done(0);
}

/// Task 2: the zone, and +.
#[test]
fn a_wall_is_changed_and_its_effect_seen() {
    let mut person = Person::with_fingers();
    let before = person.text(".reading");
    person.tap("absorber, zone 2");
    person.tap("Zone 2: more");
    person.browser.until(&format!("{} !== '440'", wall(1, 1)));
    person.browser.until(&format!("document.querySelectorAll('.reading')[1].innerText !== {}", json!(before)));
    person.browser.until("/[▲▼]/.test(document.querySelectorAll('.reading')[1].innerText)");
    person.done(2);
}

/// Task 3: one button, one step of undo.
#[test]
fn it_is_brought_back_inside() {
    let mut person = Person::with_fingers();
    person.outside();
    person.tap("Bring it back");
    person.browser.until(&format!("{VERDICT}.startsWith('Inside')"));
    let taps = person.taps;
    person.tap("Undo");
    person.browser.until(&format!("{VERDICT}.startsWith('Absorber')"));
    person.taps = taps;
    person.done(1);
}

/// Task 4: put back, at its row.
#[test]
fn one_change_is_put_back() {
    let mut person = Person::with_fingers();
    person.tap("Zone 1: more");
    person.browser.until(&format!("{} !== '450'", wall(0, 0)));
    person.taps = 0;
    person.tap("put back 450");
    person.browser.until(&format!("{} === '450'", wall(0, 0)));
    person.done(1);
}

/// Task 5: the number.
#[test]
fn a_number_says_where_it_comes_from() {
    let mut person = Person::with_fingers();
    person.tap_at(".reading");
    person.browser.until("document.querySelector('#panel, #why') && /Source/i.test(document.body.innerText)");
    person.done(1);
}

/// Task 6: Share, Print.
#[test]
fn the_run_sheet_is_printed() {
    let mut person = Person::with_fingers();
    person.browser.run_script("globalThis.printed = 0; globalThis.print = () => { printed += 1; };", vec![]);
    person.tap("Share");
    person.tap("Print");
    person.browser.until("printed === 1");
    person.done(2);
}

/// Task 7: the code is there as Share opens.
#[test]
fn the_recipe_is_carried_to_the_tablet() {
    let mut person = Person::with_fingers();
    person.tap("Share");
    person.browser.until("document.querySelector('.panel-share .qr')?.checkVisibility()");
    person.done(1);
}

/// Task 10: the head of the stage, +.
#[test]
fn a_gas_flow_of_another_stage_is_changed() {
    let mut person = Person::with_fingers();
    person.tap("absorber, feeds");
    person.tap("TMIn carrier: more");
    person.browser.until("document.querySelector('[data-path=\"stages[1].feeds[0].bubbler.carrier_sccm\"] [role=spinbutton]').value !== '36'");
    person.done(3);
}

/// Task 11: Pin, Back to the pin.
#[test]
fn it_goes_back_to_the_pinned_recipe() {
    let mut person = Person::with_fingers();
    person.tap("Zone 1: more");
    person.tap("Zone 2: more");
    person.browser.until(&format!("{} !== '450'", wall(0, 1)));
    person.taps = 0;
    person.tap("Pin");
    person.tap("Back to the pin");
    person.browser.key("Escape");
    person.browser.until(&format!("{} === '450'", wall(0, 1)));
    person.done(2);
}

/// All of them again without a pointer; what has the focus is always in sight.
#[test]
fn the_tasks_are_done_by_keyboard_and_focus_is_never_hidden() {
    let mut person = Person::with_fingers();
    let browser = &person.browser;
    // Through the whole page: each stop is in sight and has a ring.
    let stop = "(() => {
        const node = document.activeElement;
        if (!node || node === document.body) return 'end';
        const box = node.getBoundingClientRect();
        const [x, y] = [Math.min(Math.max(box.left + box.width / 2, 0), innerWidth - 1), Math.min(Math.max(box.top + box.height / 2, 0), innerHeight - 1)];
        const top = document.elementFromPoint(x, y);
        const seen = top && (node.contains(top) || top.contains(node)) && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
        const ringed = (one) => getComputedStyle(one).outlineStyle !== 'none' && parseFloat(getComputedStyle(one).outlineWidth) >= 2;
        // A field may be ringed with its unit.
        const ring = ringed(node) || ringed(node.parentElement);
        return seen && ring ? 'seen' : `${seen ? 'without a ring' : 'hidden'}: ${node.outerHTML.slice(0, 150)}`;
    })()";
    for _ in 0..120 {
        browser.key("Tab");
        let at = browser.value(stop);
        if at == json!("end") {
            break;
        }
        assert_eq!(at, json!("seen"));
    }
    // 2: a wall of another stage.
    let field = "document.querySelector('#row-stages-0-zones-1-wall_c')";
    browser.run_script(&format!("{field}.focus()"), vec![]);
    browser.key("ArrowUp");
    browser.until(&format!("{} !== '450'", wall(0, 1)));
    // 4: put back, as one step of undo.
    browser.control("z");
    browser.until(&format!("{} === '450'", wall(0, 1)));
    browser.run_script("document.activeElement.blur()", vec![]);
    // 5: where from, and out again.
    browser.key("w");
    browser.until("/Source/i.test(document.body.innerText)");
    browser.key("Escape");
    // 7: Share.
    browser.run_script(
        "[...document.querySelectorAll('#top button')].find((button) => button.textContent === 'Share').focus()",
        vec![],
    );
    browser.key("Enter");
    browser.until("document.querySelector('.panel-share .qr')?.checkVisibility()");
    browser.key("Escape");
    browser.run_script("document.activeElement.blur()", vec![]);
    // 3: brought back with one key.
    person.outside();
    person.browser.run_script("document.activeElement.blur()", vec![]);
    person.browser.key("b");
    person.browser.until(&format!("{VERDICT}.startsWith('Inside')"));
    // 11: back to the pin.
    person.browser.run_script(
        "[...document.querySelectorAll('#top button')].find((button) => button.textContent.startsWith('Pin')).focus()",
        vec![],
    );
    person.browser.key("Enter");
    person
        .browser
        .until("[...document.querySelectorAll('button')].some((button) => button.textContent === 'Back to the pin')");
    person.browser.run_script(
        "[...document.querySelectorAll('button')].find((button) => button.textContent === 'Back to the pin').focus()",
        vec![],
    );
    person.browser.key("Enter");
    person.browser.until(&format!("{VERDICT}.startsWith('Inside')"));
    person.done(0);
}
