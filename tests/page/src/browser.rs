//! A headless browser of its own for each test; it ends with the test, however that ends.

use base64::Engine;
use fantoccini::error::CmdError;
use fantoccini::wd::{WebDriverCompatibleCommand, WindowHandle};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Map, Value, json};
use std::env;
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard, TryLockError};
use std::time::{Duration, Instant};
use tokio::runtime::Runtime;

/// Where the browser and its driver stand, if they are not on the path under these names.
const BROWSER: (&str, &str) = ("CHROMIUM", "/usr/bin/chromium");
const DRIVER: (&str, &str) = ("CHROMEDRIVER", "chromedriver");
/// How long a thing on the page may be waited for.
const PATIENCE: Duration = Duration::from_secs(30);
/// Nothing of the browser's own is to be seen on the network, and nothing of the machine's looks on the page.
const SWITCHES: [&str; 11] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-default-apps",
    "--disable-sync",
    "--disable-features=OptimizationHints,MediaRouter,AutofillServerCommunication,DialMediaRouteProvider",
    "--force-device-scale-factor=1",
];

/// One browser at a time: two would slow each other down, and the figures are of one.
static ALONE: Mutex<()> = Mutex::new(());
/// How long a test may wait for the browser of another.
const QUEUE: Duration = Duration::from_mins(15);

/// A browser with one page. It is the only one of its process, until it is dropped.
pub struct Browser {
    runtime: Runtime,
    client: Option<Client>,
    driver: Driver,
    // Last, so that the next begins when this one is gone.
    _alone: MutexGuard<'static, ()>,
}

/// A tab of a browser.
#[derive(Clone, Debug)]
pub struct Tab(WindowHandle);

/// The program that drives the browser.
struct Driver {
    program: Child,
    profile: PathBuf,
}

impl Drop for Driver {
    fn drop(&mut self) {
        // Both may be gone already.
        let _ = self.program.kill();
        let _ = self.program.wait();
        let _ = fs::remove_dir_all(&self.profile);
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if let Some(client) = self.client.take() {
            // The driver ends the browser with its session.
            let _ = self.runtime.block_on(client.close());
        }
    }
}

/// A command of the DevTools protocol, handed on by the driver.
#[derive(Debug)]
struct DevTools(Value);

impl WebDriverCompatibleCommand for DevTools {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/goog/cdp/execute", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.0.to_string()))
    }
}

fn program((name, usual): (&str, &str)) -> String {
    env::var(name).unwrap_or_else(|_| usual.to_owned())
}

/// Waits for the browser of another test to end.
fn alone() -> MutexGuard<'static, ()> {
    let since = Instant::now();
    loop {
        match ALONE.try_lock() {
            Ok(alone) => return alone,
            // A test that failed has ended its browser like any other.
            Err(TryLockError::Poisoned(alone)) => return alone.into_inner(),
            Err(TryLockError::WouldBlock) => {
                assert!(since.elapsed() < QUEUE, "a browser is still open, perhaps of this test");
            }
        }
        std::thread::sleep(Duration::from_millis(50));
    }
}

impl Browser {
    /// A browser without a page.
    ///
    /// * `switches` — of its command line, beside the usual ones
    ///
    /// # Panics
    /// If there is no browser or no driver; the words say what to install.
    #[must_use]
    pub fn new(switches: &[&str]) -> Self {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        let alone = alone();
        let number = COUNT.fetch_add(1, Ordering::Relaxed);
        let profile = env::temp_dir().join(format!("loftwire-page-{}-{number}", std::process::id()));
        let (driver, port) = Driver::start(profile);
        let mut switches: Vec<String> = SWITCHES.iter().chain(switches).map(|&switch| switch.to_owned()).collect();
        switches.push(format!("--user-data-dir={}", driver.profile.display()));
        let options = json!({ "binary": program(BROWSER), "args": switches });
        let wanted: Map<String, Value> = [("goog:chromeOptions".to_owned(), options)].into_iter().collect();
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
        let address = format!("http://127.0.0.1:{port}");
        let client = runtime.block_on(ClientBuilder::new(HttpConnector::new()).capabilities(wanted).connect(&address));
        let client = client.unwrap_or_else(|why| panic!("no session with {}: {why}", program(BROWSER)));
        Self { runtime, client: Some(client), driver, _alone: alone }
    }

    /// A browser with a page of this size in CSS pixels.
    #[must_use]
    pub fn with_page(size: (u32, u32), address: &str) -> Self {
        let browser = Self::new(&[]);
        browser.size(size);
        browser.open(address);
        browser
    }

    fn run<T>(&self, work: impl Future<Output = Result<T, CmdError>>) -> T {
        self.runtime.block_on(work).unwrap_or_else(|why| panic!("the browser: {why}"))
    }

    fn client(&self) -> &Client {
        self.client.as_ref().expect("it is taken only as the browser ends")
    }

    /// Goes to an address.
    pub fn open(&self, address: &str) {
        self.run(self.client().goto(address));
    }

    /// Loads the page anew.
    pub fn reload(&self) {
        self.run(self.client().refresh());
    }

    /// Opens another tab and goes to it; returns both, the one before first.
    ///
    /// # Panics
    /// If the browser opens none.
    #[must_use]
    pub fn new_tab(&self) -> [Tab; 2] {
        let before = self.run(self.client().window());
        let tab = self.run(self.client().new_window(true)).handle;
        self.run(self.client().switch_to_window(tab.clone()));
        [Tab(before), Tab(tab)]
    }

    /// Goes to a tab.
    pub fn to_tab(&self, tab: &Tab) {
        self.run(self.client().switch_to_window(tab.0.clone()));
    }

    /// Sets the size of the page in CSS pixels, exactly.
    pub fn size(&self, (width, height): (u32, u32)) {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.devtools("Emulation.setDeviceMetricsOverride", &size);
    }

    /// Sets features of the medium, such as `prefers-color-scheme`, `dark`.
    pub fn medium(&self, features: &[(&str, &str)]) {
        let features: Vec<Value> =
            features.iter().map(|(name, value)| json!({ "name": name, "value": value })).collect();
        self.devtools("Emulation.setEmulatedMedia", &json!({ "features": features }));
    }

    /// Makes pointers coarse.
    pub fn touch(&self) {
        self.devtools("Emulation.setTouchEmulationEnabled", &json!({ "enabled": true, "maxTouchPoints": 5 }));
    }

    /// Slows the processor down.
    pub fn slow(&self, times: f64) {
        self.devtools("Emulation.setCPUThrottlingRate", &json!({ "rate": times }));
    }

    /// A command of the DevTools protocol.
    pub fn devtools(&self, command: &str, parameters: &Value) -> Value {
        let command = DevTools(json!({ "cmd": command, "params": parameters }));
        self.run(self.client().issue_cmd(command))
    }

    /// Presses a key with Control held.
    pub fn control(&self, letter: &str) {
        let code = letter.chars().next().map_or(0, |letter| letter.to_ascii_uppercase() as u32);
        for kind in ["rawKeyDown", "keyUp"] {
            let event = json!({ "type": kind, "key": letter, "windowsVirtualKeyCode": code, "modifiers": 2 });
            self.devtools("Input.dispatchKeyEvent", &event);
        }
    }

    /// Runs a function's body in the page; `arguments` are its arguments.
    pub fn run_script(&self, body: &str, arguments: Vec<Value>) -> Value {
        self.run(self.client().execute(body, arguments))
    }

    /// The value of an expression in the page.
    pub fn value(&self, expression: &str) -> Value {
        self.run_script(&format!("return ({expression});"), vec![])
    }

    /// Runs the body of an asynchronous function in the page; `given` is its argument.
    ///
    /// # Panics
    /// If it throws.
    pub fn run_async(&self, body: &str, given: &Value) -> Value {
        let script = format!(
            "const done = arguments[1]; (async (given) => {{ {body} }})(arguments[0]).then((ok) => done({{ ok }}), (why) => done({{ why: String(why) }}));"
        );
        let answer = self.run(self.client().execute_async(&script, vec![given.clone()]));
        if let Some(why) = answer.get("why") {
            panic!("the script in the page: {why}");
        }
        answer.get("ok").cloned().unwrap_or(Value::Null)
    }

    /// Waits until an expression in the page is true.
    ///
    /// # Panics
    /// If it does not become so.
    pub fn until(&self, expression: &str) {
        let since = Instant::now();
        while !self.value(&format!("!!({expression})")).as_bool().unwrap_or(false) {
            assert!(since.elapsed() < PATIENCE, "in {PATIENCE:?} it did not come to be: {expression}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Presses and lets go a key, by its name in the DOM: `Tab`, `Enter`, `ArrowDown`, `a`.
    pub fn key(&self, name: &str) {
        let (code, text) = match name {
            "Enter" => (13, Some("\r")),
            "Tab" => (9, None),
            "Escape" => (27, None),
            "Backspace" => (8, None),
            "Delete" => (46, None),
            "End" => (35, None),
            "Home" => (36, None),
            "ArrowLeft" => (37, None),
            "ArrowUp" => (38, None),
            "ArrowRight" => (39, None),
            "ArrowDown" => (40, None),
            " " => (32, Some(" ")),
            "PageUp" => (33, None),
            "PageDown" => (34, None),
            other => (other.chars().next().map_or(0, |letter| letter.to_ascii_uppercase() as u32), Some(other)),
        };
        let mut down = json!({ "type": "keyDown", "key": name, "windowsVirtualKeyCode": code });
        if let Some(text) = text {
            down["text"] = json!(text);
        }
        self.devtools("Input.dispatchKeyEvent", &down);
        self.devtools(
            "Input.dispatchKeyEvent",
            &json!({ "type": "keyUp", "key": name, "windowsVirtualKeyCode": code }),
        );
    }

    /// Types a text into what has the focus.
    pub fn type_text(&self, text: &str) {
        self.devtools("Input.insertText", &json!({ "text": text }));
    }

    /// Taps the middle of an element with a finger.
    ///
    /// # Panics
    /// If there is no such element in sight, or if something lies over it.
    pub fn tap(&self, selector: &str) {
        let (x, y) = self.middle(selector);
        let point = json!([{ "x": x, "y": y }]);
        self.devtools("Input.dispatchTouchEvent", &json!({ "type": "touchStart", "touchPoints": point }));
        self.devtools("Input.dispatchTouchEvent", &json!({ "type": "touchEnd", "touchPoints": [] }));
    }

    /// Clicks the middle of an element.
    ///
    /// # Panics
    /// If there is no such element in sight, or if something lies over it.
    pub fn click(&self, selector: &str) {
        let (x, y) = self.middle(selector);
        for kind in ["mousePressed", "mouseReleased"] {
            let event = json!({ "type": kind, "x": x, "y": y, "button": "left", "clickCount": 1 });
            self.devtools("Input.dispatchMouseEvent", &event);
        }
    }

    /// A selector of the button in sight whose label, or else text, begins so.
    ///
    /// # Panics
    /// If there is none.
    #[must_use]
    pub fn called(&self, name: &str) -> String {
        let script = "const seen = (node) => node.checkVisibility({ visibilityProperty: true }) && node.getClientRects().length > 0;
             const label = (node) => (node.getAttribute('aria-label') ?? node.textContent).trim();
             const buttons = [...document.querySelectorAll('button, a[href], [role=button], summary')].filter(seen);
             const exact = buttons.find((node) => label(node) === arguments[0]);
             const button = exact ?? buttons.find((node) => label(node).startsWith(arguments[0]));
             if (!button) return buttons.map(label);
             globalThis.calledCount = (globalThis.calledCount ?? 0) + 1;
             button.dataset.called = calledCount;
             return `[data-called='${calledCount}']`;";
        // A part is drawn a frame or more after what called for it: on a busy machine the button is not there at once.
        let mut answer = self.run_script(script, vec![json!(name)]);
        for _ in 0..100 {
            if answer.is_string() {
                break;
            }
            std::thread::sleep(Duration::from_millis(50));
            answer = self.run_script(script, vec![json!(name)]);
        }
        answer.as_str().unwrap_or_else(|| panic!("no button is called {name}, of {answer}")).to_owned()
    }

    /// The middle of an element, scrolled into sight.
    fn middle(&self, selector: &str) -> (f64, f64) {
        let found = self.run_script(
            "const element = document.querySelector(arguments[0]);
             if (!element) return 'is not there';
             element.scrollIntoView({ block: 'nearest', inline: 'nearest', behavior: 'instant' });
             const box = element.getBoundingClientRect();
             const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
             const top = document.elementFromPoint(x, y);
             if (!top) return 'is not in sight';
             if (!element.contains(top) && !top.contains(element)) return 'is covered by ' + top.outerHTML.slice(0, 120);
             return [x, y];",
            vec![json!(selector)],
        );
        match (found.get(0).and_then(Value::as_f64), found.get(1).and_then(Value::as_f64)) {
            (Some(x), Some(y)) => (x, y),
            _ => panic!("{selector} {found}"),
        }
    }

    /// Writes a picture of the page; folders are made.
    ///
    /// # Panics
    /// If it cannot be written.
    pub fn picture(&self, path: &Path) {
        let answer = self.devtools("Page.captureScreenshot", &json!({ "format": "png" }));
        let text = answer["data"].as_str().unwrap_or_default();
        let bytes = base64::engine::general_purpose::STANDARD.decode(text).expect("a picture comes in base64");
        fs::create_dir_all(path.parent().expect("a picture has a folder")).expect("the folder can be made");
        fs::write(path, bytes).expect("the picture can be written");
    }

    /// Notes errors of scripts from now on, also over loads of the page; they are read with [`Browser::errors`].
    pub fn note_errors(&self) {
        let script = "globalThis.notedErrors = [];
             addEventListener('error', (event) => notedErrors.push(event.message));
             addEventListener('unhandledrejection', (event) => notedErrors.push(String(event.reason)));
             addEventListener('securitypolicyviolation', (event) => notedErrors.push('policy: ' + event.violatedDirective + ' ' + event.blockedURI));";
        self.devtools("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": script }));
    }

    /// Errors of scripts since the page was loaded.
    #[must_use]
    pub fn errors(&self) -> Value {
        self.value("globalThis.notedErrors ?? []")
    }

    /// The driver's process, to see whether it ends.
    #[must_use]
    pub fn driver(&self) -> u32 {
        self.driver.program.id()
    }
}

impl Driver {
    /// Starts a driver at a free port.
    fn start(profile: PathBuf) -> (Self, u16) {
        let mut program = Command::new(program(DRIVER))
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|why| {
                panic!("no chromedriver ({why}). On Debian: apt-get install chromium chromium-driver")
            });
        let output = program.stdout.take().expect("it is piped");
        let driver = Self { program, profile };
        let mut lines = BufReader::new(output).lines().map_while(Result::ok);
        let port = lines.find_map(|line| {
            let (_, port) = line.split_once("started successfully on port ")?;
            port.trim_end_matches('.').trim().parse().ok()
        });
        // What else it says is not of interest, but must be taken from it.
        std::thread::spawn(move || lines.for_each(drop));
        (driver, port.expect("chromedriver says its port"))
    }
}
