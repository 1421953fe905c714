//! How fast the page is and what it takes. Times are printed, not held: they are this machine's. Held are ratios and counts.

use loftwire_core::check::check;
use loftwire_core::line::Line;
use loftwire_core::predict::Predictor;
use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{address, jobs, page};
use loftwire_page_tests::core_calls;
use serde_json::{Value, json};
use std::fs;
use std::hint::black_box;
use std::time::Instant;

const READY: &str = "document.body.dataset.at";
/// Most that a prediction in the page may take against one of the machine itself.
const RATIO: f64 = 1.6;
/// Predictions of which the quickest counts.
const ROUNDS: usize = 60;
/// The processor of a tablet: this one, slowed.
const TABLET: f64 = 4.0;
/// Stack of a thread that predicts.
const STACK: usize = 256 << 20;

fn demo() -> String {
    let path = jobs().into_iter().find(|path| path.ends_with("three-stage.json")).expect("the demo job is there");
    fs::read_to_string(path).expect("it can be read")
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().into_iter().flatten().filter_map(Value::as_f64).collect()
}

/// The quickest prediction of this machine, ms.
fn native() -> f64 {
    let work = || {
        let line: Box<Line> = Box::new(check(&loftwire_read::job(&demo()).expect("a job")).expect("a line"));
        let mut predictor = Box::new(Predictor::new());
        (0..ROUNDS).fold(f64::INFINITY, |least, _| {
            let since = Instant::now();
            black_box(predictor.predict(black_box(&line)));
            least.min(since.elapsed().as_secs_f64() * 1e3)
        })
    };
    std::thread::Builder::new().stack_size(STACK).spawn(work).expect("a thread").join().expect("it ends")
}

/// In the worker of the page, its report handed over, against the core alone.
#[test]
fn a_prediction_in_the_page_takes_little_longer_than_outside() {
    let browser = Browser::with_page((1280, 800), &address());
    browser.until(READY);
    core_calls::start(&browser);
    let body = "
        const job = JSON.parse(given.job);
        let least = Infinity;
        for (let round = 0; round < given.rounds; round += 1) {
          job.stages[0].zones[0].wall_c = 450 + (round % 2) * 1e-9;
          const since = performance.now();
          await givenCore('explain', job, 'wires.length_nm.mean');
          least = Math.min(least, performance.now() - since);
        }
        return least;";
    let inside = browser.run_async(body, &json!({ "job": demo(), "rounds": ROUNDS })).as_f64().expect("a number");
    let outside = native();
    println!("a prediction: {inside:.1} ms in the page, {outside:.1} ms outside, ratio {:.2}", inside / outside);
    assert!(inside <= RATIO * outside, "{inside} and {outside} ms");
}

#[test]
fn from_open_to_first_verdict() {
    for (name, slow) in [("desk", 1.0), ("tablet", TABLET)] {
        let times = (0..10).map(|_| {
            let browser = Browser::new(&[]);
            browser.size((1280, 800));
            browser.slow(slow);
            browser.open(&address());
            browser.until("performance.getEntriesByName('first-verdict').length");
            browser.value("performance.getEntriesByName('first-verdict')[0].startTime").as_f64().expect("a number")
        });
        println!("{name}: first verdict after {:.0} ms, median of 10 cold loads", median(times.collect()));
    }
    println!("{} bytes", fs::metadata(page()).expect("it is there").len());
}

/// Presses +, and waits for the prediction of it to be painted.
const PRESS: &str = "
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const button = [...document.querySelectorAll('button.step.more')].find((one) => one.checkVisibility());
    const less = [...document.querySelectorAll('button.step.less')].find((one) => one.checkVisibility());
    const times = [], handlers = [];
    for (let round = 0; round < given; round += 1) {
      await new Promise((resolve) => setTimeout(resolve, 60));
      const before = document.body.dataset.at;
      const since = performance.now();
      for (const kind of ['pointerdown', 'pointerup', 'click']) (round % 2 ? less : button).dispatchEvent(new PointerEvent(kind, { bubbles: true, button: 0, pointerId: 1, isPrimary: true }));
      handlers.push(performance.now() - since);
      for (let count = 0; count < 300 && document.body.dataset.at === before; count += 1) await frame();
      times.push(performance.now() - since);
    }
    times.sort((a, b) => a - b);
    handlers.sort((a, b) => a - b);
    return [times[times.length >> 1], times[Math.floor(times.length * 0.95)], handlers[handlers.length >> 1]];";

#[test]
fn from_a_press_to_the_verdict() {
    for (name, slow) in [("desk", 1.0), ("tablet", TABLET)] {
        let browser = Browser::with_page((1280, 800), &address());
        browser.until(READY);
        browser.slow(slow);
        let _ = browser.run_async(PRESS, &json!(20));
        let found = numbers(&browser.run_async(PRESS, &json!(100)));
        let [middle, most, handler] = found[..] else { panic!("{found:?}") };
        println!(
            "{name}: a press to its verdict {middle:.0} ms, 95 of 100 within {most:.0} ms; the press itself {handler:.1} ms"
        );
    }
}

/// A tour through all views, and a hundred changes; nothing moves that was painted.
#[test]
fn the_page_never_holds_up_and_nothing_shifts() {
    let browser = Browser::new(&[]);
    browser.size((1280, 800));
    let observe = "globalThis.longTasks = []; globalThis.shifts = [];
        new PerformanceObserver((list) => longTasks.push(...list.getEntries().map((entry) => entry.duration))).observe({ type: 'longtask', buffered: true });
        new PerformanceObserver((list) => shifts.push(...list.getEntries().filter((entry) => !entry.hadRecentInput).map((entry) => `${entry.value} at ${entry.startTime} ms: ${entry.sources.map(({ node }) => (node?.outerHTML ?? node?.textContent ?? '').slice(0, 120))}`))).observe({ type: 'layout-shift', buffered: true });";
    browser.devtools("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": observe }));
    browser.open(&address());
    browser.until(READY);
    browser.until("/in 100|over 99|less than/i.test(document.querySelector('#verdict').innerText)");
    let start = numbers(&browser.value("longTasks.splice(0)"));
    let tour = "
        const rest = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
        for (const key of ['2', '3', '4', '1']) {
          document.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
          await rest(500);
        }";
    // Loaded, levers and all, before anything was pressed: the browser counts no shift after a true press.
    let shifts = browser.value("shifts.slice()");
    browser.run_async(tour, &Value::Null);
    let _ = browser.run_async(PRESS, &json!(100));
    browser.run_async(tour, &Value::Null);
    let after = numbers(&browser.value("longTasks"));
    let longest = |tasks: &[f64]| tasks.iter().copied().fold(0.0, f64::max);
    println!(
        "longest task: {:.0} ms while it starts, {:.0} ms after that ({} over 50 ms)",
        longest(&start),
        longest(&after),
        after.len()
    );
    assert_eq!(shifts, json!([]), "shifts while it starts");
}

#[test]
fn a_thousand_changes_take_no_memory() {
    let browser = Browser::with_page((1280, 800), &address());
    browser.until(READY);
    let heap = || {
        for _ in 0..3 {
            browser.devtools("HeapProfiler.collectGarbage", &json!({}));
        }
        let found = browser.devtools("Runtime.getHeapUsage", &json!({}));
        found["usedSize"].as_f64().expect("a number") / 1e6
    };
    // The list of undo steps is full before it is counted.
    let edits = "
        const button = [...document.querySelectorAll('button.step.more')].find((one) => one.checkVisibility());
        const less = [...document.querySelectorAll('button.step.less')].find((one) => one.checkVisibility());
        for (let round = 0; round < given; round += 1) {
          for (const kind of ['pointerdown', 'pointerup', 'click']) (round % 2 ? less : button).dispatchEvent(new PointerEvent(kind, { bubbles: true, button: 0, pointerId: 1, isPrimary: true }));
          if (round % 50 === 0) {
            document.dispatchEvent(new KeyboardEvent('keydown', { key: String(1 + (round / 50) % 4), bubbles: true }));
            await new Promise((resolve) => setTimeout(resolve, 100));
          }
        }
        document.dispatchEvent(new KeyboardEvent('keydown', { key: '1', bubbles: true }));
        await new Promise((resolve) => setTimeout(resolve, 3000));";
    let _ = browser.run_async(edits, &json!(250));
    let before = heap();
    let _ = browser.run_async(edits, &json!(1000));
    let grown = heap() - before;
    println!("memory: {before:.1} MB, {grown:+.1} MB after 1000 changes and 20 changes of view");
    assert!(grown <= 3.0, "{grown} MB");
}
