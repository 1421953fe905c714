//! Calls of the bridge from within the open page: a worker is made of the page's own parts, as the page makes its own.

use crate::browser::Browser;
use serde_json::{Map, Value, json};

/// Makes `givenCore(call, ...args)` in the page, which promises what the worker answers with.
const START: &str = "
    if (globalThis.givenCore) return;
    const text = (id) => document.getElementById(id).textContent;
    const bytes = Uint8Array.from(atob(text('wasm')), (letter) => letter.charCodeAt(0));
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
    const module = await WebAssembly.compile(await new Response(stream).arrayBuffer());
    const script = new Blob([text('glue'), '\\n', text('worker')], { type: 'text/javascript' });
    const url = URL.createObjectURL(script);
    let worker, count = 0;
    const waiting = new Map();
    globalThis.progressHeard = 0;
    globalThis.startCore = () => {
      worker = new Worker(url);
      worker.onmessage = ({ data }) => {
        if (data.progress) { progressHeard += 1; return; }
        waiting.get(data.id)?.(data);
        waiting.delete(data.id);
      };
      worker.postMessage({ module });
    };
    globalThis.postCore = (message) => worker.postMessage(message);
    globalThis.givenCore = (call, ...args) => new Promise((resolve) => {
      count += 1;
      waiting.set(count, resolve);
      worker.postMessage({ id: count, call, args });
    });
    globalThis.lastCall = () => count;
    startCore();
";

/// Starts the worker, once a page.
pub fn start(browser: &Browser) {
    browser.run_async(START, &Value::Null);
}

/// What a call answers with. Numbers come over to the last bit, the sign of a zero among them.
#[must_use]
pub fn call(browser: &Browser, call: &str, arguments: &Value) -> Value {
    start(browser);
    let body = "
        const { id, ...answer } = await givenCore(given.call, ...JSON.parse(given.args));
        return JSON.stringify(answer, (key, value) => Object.is(value, -0) ? { minusZero: true } : value === undefined ? { undefined: true } : typeof value === 'number' && !Number.isFinite(value) ? { notFinite: String(value) } : value);";
    // As a text: the driver would take an object's odd keys for more than keys.
    let answer = browser.run_async(body, &json!({ "call": call, "args": arguments.to_string() }));
    let text = answer.as_str().expect("an answer is an object");
    restored(serde_json::from_str(text).expect("it was written as JSON"))
}

/// Puts the zeros with a sign back.
fn restored(value: Value) -> Value {
    match value {
        Value::Object(fields) if fields.len() == 1 && fields.contains_key("minusZero") => json!(-0.0),
        Value::Object(fields) => {
            Value::Object(fields.into_iter().map(|(name, value)| (name, restored(value))).collect::<Map<_, _>>())
        }
        Value::Array(list) => Value::Array(list.into_iter().map(restored).collect()),
        other => other,
    }
}

/// Where two values differ, numbers by their bits; `None` where they are the same.
#[must_use]
pub fn difference(path: &str, one: &Value, other: &Value) -> Option<String> {
    match (one, other) {
        (Value::Object(a), Value::Object(b)) => {
            let names: Vec<&String> = a.keys().collect();
            if names != b.keys().collect::<Vec<_>>() {
                return Some(format!("{path}: fields {names:?} and {:?}", b.keys().collect::<Vec<_>>()));
            }
            a.iter().zip(b.values()).find_map(|((name, a), b)| difference(&format!("{path}.{name}"), a, b))
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            a.iter().zip(b).enumerate().find_map(|(place, (a, b))| difference(&format!("{path}[{place}]"), a, b))
        }
        (Value::Number(a), Value::Number(b)) => {
            let bits = |number: &serde_json::Number| number.as_f64().map(f64::to_bits);
            (bits(a) != bits(b)).then(|| format!("{path}: {a} and {b}"))
        }
        _ => (one != other).then(|| format!("{path}: {one} and {other}")),
    }
}
