//! A real browser for tests: Chromium through its driver, headless, with a fresh profile, at a width and in a colour scheme of choice.

use std::time::{Duration, Instant};

use fantoccini::actions::{InputSource as _, KeyAction, KeyActions};
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};

/// One browser; it closes with the value.
pub struct Chrome {
    client: Client,
    runtime: tokio::runtime::Runtime,
    _profile: tempfile::TempDir,
}

/// How a page is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scheme {
    Light,
    Dark,
}

/// A command to the browser's own protocol, for what WebDriver can't say.
#[derive(Debug)]
struct Devtools {
    command: &'static str,
    parameters: Value,
}

impl WebDriverCompatibleCommand for Devtools {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/goog/cdp/execute", session.unwrap()))
    }

    fn method_and_body(&self, _: &url::Url) -> (ureq::http::Method, Option<String>) {
        let body = json!({ "cmd": self.command, "params": self.parameters });
        (ureq::http::Method::POST, Some(body.to_string()))
    }
}

/// What the browser wrote to its console since the last time.
#[derive(Debug)]
struct Console;

impl WebDriverCompatibleCommand for Console {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/se/log", session.unwrap()))
    }

    fn method_and_body(&self, _: &url::Url) -> (ureq::http::Method, Option<String>) {
        (
            ureq::http::Method::POST,
            Some(json!({ "type": "browser" }).to_string()),
        )
    }
}

impl Chrome {
    /// Starts a browser through the driver at `ANGLESTOP_TEST_DRIVER`.
    pub fn start() -> Self {
        let driver = std::env::var("ANGLESTOP_TEST_DRIVER")
            .expect("ANGLESTOP_TEST_DRIVER names no chromedriver; ./ops/check starts one and sets it");
        let profile = tempfile::tempdir().unwrap();
        let arguments = [
            "--headless=new".to_owned(),
            "--no-sandbox".to_owned(),
            "--disable-gpu".to_owned(),
            "--disable-quic".to_owned(),
            "--disable-dev-shm-usage".to_owned(),
            "--no-first-run".to_owned(),
            "--disable-background-networking".to_owned(),
            "--disable-component-update".to_owned(),
            "--disable-sync".to_owned(),
            format!("--user-data-dir={}", profile.path().display()),
        ];
        let capabilities = json!({
            "goog:chromeOptions": { "args": arguments },
            "goog:loggingPrefs": { "browser": "ALL" },
        });
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .unwrap();
        let client = runtime
            .block_on(
                ClientBuilder::new(HttpConnector::new())
                    .capabilities(capabilities.as_object().unwrap().clone())
                    .connect(&driver),
            )
            .unwrap();
        Self {
            client,
            runtime,
            _profile: profile,
        }
    }

    fn run<T>(&self, work: impl Future<Output = Result<T, fantoccini::error::CmdError>>) -> T {
        self.runtime.block_on(work).unwrap()
    }

    /// Opens an address and waits until it is loaded.
    pub fn open(&self, address: &str) {
        self.run(self.client.goto(address));
    }

    /// The address now.
    pub fn address(&self) -> String {
        self.run(self.client.current_url()).to_string()
    }

    /// Shows pages at a width of `width_px` in a colour scheme.
    pub fn show_as(&self, width_px: u32, scheme: Scheme) {
        let height_px = if width_px < 600 { 640 } else { 900 };
        self.devtools(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width_px, "height": height_px, "deviceScaleFactor": 1, "mobile": width_px < 600 }),
        );
        let value = if scheme == Scheme::Dark { "dark" } else { "light" };
        let features = json!([{ "name": "prefers-color-scheme", "value": value }]);
        self.devtools("Emulation.setEmulatedMedia", json!({ "features": features }));
    }

    /// From the next page on, no page runs a script of its own.
    pub fn without_script(&self) {
        self.devtools("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
    }

    /// Presses and lets go keys one after the other, wherever the focus is.
    pub fn keys(&self, keys: impl IntoIterator<Item = char>) {
        let none = KeyActions::new("keyboard".to_owned());
        let strokes = keys.into_iter().fold(none, |strokes, value| {
            strokes
                .then(KeyAction::Down { value })
                .then(KeyAction::Up { value })
        });
        self.run(self.client.perform_actions(strokes));
    }

    /// Presses a key while another one is held.
    pub fn chord(&self, held: char, key: char) {
        let strokes = KeyActions::new("keyboard".to_owned())
            .then(KeyAction::Down { value: held })
            .then(KeyAction::Down { value: key })
            .then(KeyAction::Up { value: key })
            .then(KeyAction::Up { value: held });
        self.run(self.client.perform_actions(strokes));
    }

    fn devtools(&self, command: &'static str, parameters: Value) -> Value {
        self.run(self.client.issue_cmd(Devtools { command, parameters }))
    }

    /// Lets downloads land in a folder, without a question.
    pub fn download_to(&self, folder: &std::path::Path) {
        let folder = folder.to_string_lossy();
        self.devtools(
            "Page.setDownloadBehavior",
            json!({ "behavior": "allow", "downloadPath": folder }),
        );
    }

    /// Runs a function body in the page and answers what it returns.
    pub fn script(&self, body: &str) -> Value {
        self.run(self.client.execute(body, vec![]))
    }

    /// Runs an async function body in the page and answers what it returns.
    pub fn ask(&self, body: &str) -> Value {
        let answer = self.run(self.client.execute_async(
            &format!(
                "const done = arguments[arguments.length - 1];
                 (async () => {{ {body} }})().then((found) => done({{ found: found ?? null }}), (error) => done({{ error: String(error) }}))"
            ),
            vec![],
        ));
        assert!(answer.get("error").is_none(), "{body}: {answer}");
        answer["found"].clone()
    }

    /// Flight mode, as far as a page knows of it, or back.
    pub fn flight_mode(&self, is_on: bool) {
        self.devtools("Network.enable", json!({}));
        self.devtools(
            "Network.emulateNetworkConditions",
            json!({ "offline": is_on, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 }),
        );
    }

    /// From the next page on, the clock of every page is off by so much.
    pub fn clock_off_by(&self, milliseconds: i64) {
        let source = format!(
            "(() => {{ const Real = Date; const off = {milliseconds};
               self.Date = class extends Real {{ constructor(...given) {{ if (given.length === 0) super(Real.now() + off); else super(...given); }}
               static now() {{ return Real.now() + off; }} }}; }})()"
        );
        self.devtools(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({ "source": source }),
        );
    }

    /// Kills the tab without a word to its page, and goes on in a new one.
    pub fn kill_tab(&self) {
        let fresh = self.run(self.client.new_window(true));
        self.run(self.client.close_window());
        self.run(self.client.switch_to_window(fresh.handle));
    }

    /// A second tab beside this one, and the handles of both: the old one, the new one, which is in front.
    pub fn second_tab(&self) -> (String, String) {
        let before = self.run(self.client.window());
        let fresh = self.run(self.client.new_window(true));
        self.run(self.client.switch_to_window(fresh.handle.clone()));
        (String::from(before), String::from(fresh.handle))
    }

    /// Brings a tab to the front.
    pub fn to_tab(&self, handle: &str) {
        let handle = fantoccini::wd::WindowHandle::try_from(handle.to_owned()).unwrap();
        self.run(self.client.switch_to_window(handle));
    }

    /// Gives the browser at `origin` so many bytes of room.
    pub fn room(&self, origin: &str, bytes: u64) {
        self.devtools(
            "Storage.overrideQuotaForOrigin",
            json!({ "origin": origin, "quotaSize": bytes }),
        );
    }

    /// Lines of the console since the last call that are errors, violations of the content policy among them.
    pub fn console_errors(&self) -> Vec<String> {
        let lines = self.run(self.client.issue_cmd(Console));
        let lines = lines.as_array().cloned().unwrap_or_default();
        lines
            .iter()
            .filter(|line| line["level"] == "SEVERE")
            .map(|line| line["message"].to_string())
            .collect()
    }

    /// Clicks the first thing that a CSS selector finds.
    pub fn click(&self, selector: &str) {
        let found = self.run(self.client.find(Locator::Css(selector)));
        self.run(found.click());
    }

    /// Clicks a link or button by its whole visible text.
    pub fn click_text(&self, text: &str) {
        let path = format!(
            "//*[self::a or self::button or self::summary or self::label][normalize-space(.)=\"{text}\"]"
        );
        let found = self.run(self.client.find(Locator::XPath(&path)));
        self.run(found.click());
    }

    /// Brings a thing to the middle of the screen, as a thumb does, and clicks it.
    pub fn tap(&self, css: &str) {
        let found = self.script(&format!(
            "const found = document.querySelector({css:?}); found?.scrollIntoView({{ block: 'center' }}); return !!found"
        ));
        assert_eq!(
            found,
            Value::Bool(true),
            "no {css} on {}:\n{}",
            self.address(),
            self.text()
        );
        self.click(css);
    }

    /// Finds the link, button or summary of the page that shows these words and no others, and answers with its selector.
    pub fn named(&self, words: &str) -> &'static str {
        let marked = self.script(&format!(
            "for (const old of document.querySelectorAll('[data-walk]')) old.removeAttribute('data-walk');
             const seen = (e) => e.checkVisibility() && (e.innerText ?? e.textContent).trim().split(/\\s+/).join(' ') === {words:?};
             const found = [...document.querySelectorAll('main a, main button, main summary')].find(seen);
             found?.setAttribute('data-walk', ''); return !!found"
        ));
        assert_eq!(
            marked,
            Value::Bool(true),
            "no “{words}” on {}:\n{}",
            self.address(),
            self.text()
        );
        "[data-walk]"
    }

    /// Replaces the text of a field.
    pub fn fill(&self, selector: &str, text: &str) {
        let field = self.run(self.client.find(Locator::Css(selector)));
        self.run(field.clear());
        self.run(field.send_keys(text));
    }

    /// Chooses an option of a select by its value.
    pub fn choose(&self, selector: &str, value: &str) {
        let field = self.run(self.client.find(Locator::Css(selector)));
        self.run(field.select_by_value(value));
    }

    /// Gives a file to a file field.
    pub fn attach(&self, selector: &str, file: &std::path::Path) {
        let field = self.run(self.client.find(Locator::Css(selector)));
        self.run(field.send_keys(&file.to_string_lossy()));
    }

    /// The visible text of the page.
    pub fn text(&self) -> String {
        self.script("return document.body.innerText")
            .as_str()
            .unwrap_or_default()
            .to_owned()
    }

    /// Waits until the page says `words`; fails with what it says instead.
    pub fn expect(&self, words: &str) {
        let until = Instant::now() + Duration::from_secs(10);
        while !self.text().contains(words) {
            assert!(
                Instant::now() < until,
                "“{words}” is not on {}:\n{}",
                self.address(),
                self.text()
            );
            std::thread::yield_now();
        }
    }

    /// Violations that axe-core finds (WCAG A and AA up to 2.2, and its best practice), a line each; and a line when the page
    /// scrolls sideways.
    pub fn faults(&self) -> Vec<String> {
        let axe = std::env::var("ANGLESTOP_TEST_AXE")
            .expect("ANGLESTOP_TEST_AXE names no axe-core script; ./ops/check fetches one and sets it");
        self.script(&std::fs::read_to_string(axe).unwrap());
        let tags = json!([
            "wcag2a",
            "wcag2aa",
            "wcag21a",
            "wcag21aa",
            "wcag22aa",
            "best-practice"
        ]);
        let body = format!(
            "const done = arguments[arguments.length - 1];
             axe.run({{ runOnly: {tags} }}).then((found) => done(found.violations.map((v) =>
                 v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + ' ' + (n.any[0] || n.all[0] || n.none[0] || {{}}).message).join(' | '))));"
        );
        let found = self.run(self.client.execute_async(&body, vec![]));
        let mut faults: Vec<String> = found
            .as_array()
            .unwrap()
            .iter()
            .map(|line| line.as_str().unwrap().to_owned())
            .collect();
        let sideways = self.script(
            "const over = document.documentElement.scrollWidth - document.documentElement.clientWidth; return over",
        );
        if sideways.as_i64().unwrap_or(0) > 0 {
            faults.push(format!("scrolls sideways by {sideways} px"));
        }
        faults
    }

    /// The page as it is printed, on the paper that its style asks for.
    pub fn paper(&self) -> Vec<u8> {
        use base64::Engine as _;
        let wishes = json!({ "preferCSSPageSize": true, "printBackground": true });
        let paper = self.devtools("Page.printToPDF", wishes);
        let bytes = paper["data"].as_str().unwrap();
        base64::engine::general_purpose::STANDARD.decode(bytes).unwrap()
    }

    /// Keeps a picture of the whole page, for people to look at.
    pub fn picture(&self, file: &std::path::Path) {
        let size = self.devtools("Page.getLayoutMetrics", json!({}));
        let clip = json!({ "x": 0, "y": 0, "scale": 1,
            "width": size["cssContentSize"]["width"], "height": size["cssContentSize"]["height"] });
        let shot = self.devtools(
            "Page.captureScreenshot",
            json!({ "format": "png", "captureBeyondViewport": true, "clip": clip }),
        );
        use base64::Engine as _;
        let bytes = base64::engine::general_purpose::STANDARD
            .decode(shot["data"].as_str().unwrap())
            .unwrap();
        std::fs::write(file, bytes).unwrap();
    }
}

impl Drop for Chrome {
    fn drop(&mut self) {
        let _ = self.runtime.block_on(self.client.clone().close());
    }
}
