//! How somebody works a page: by keyboard alone, or by pointer. By keyboard everything is reached by Tab, forwards, from where the
//! focus is; what can't be reached so fails the test.

use std::time::{Duration, Instant};

use serde_json::Value;

use super::chrome::Chrome;

const TAB: char = '\u{e004}';
const ENTER: char = '\u{e007}';
const CONTROL: char = '\u{e009}';
const DOWN: char = '\u{e015}';

/// What the hand lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    Keyboard,
    Pointer,
}

/// A hand at a browser.
pub struct Hand<'a> {
    pub chrome: &'a Chrome,
    pub by: By,
}

impl Hand<'_> {
    /// Replaces the text of a field.
    pub fn fill(&self, css: &str, text: &str) {
        if self.by == By::Pointer {
            return self.chrome.fill(css, text);
        }
        self.reach(css);
        self.chrome.chord(CONTROL, 'a');
        self.chrome.keys(std::iter::once('\u{e003}').chain(text.chars()));
    }

    /// Chooses the option of a select that reads so.
    pub fn choose(&self, css: &str, word: &str) {
        match self.by {
            By::Pointer => {
                let value = format!(
                    "return [...document.querySelector({css:?}).options].find((option) => option.text === {word:?}).value"
                );
                self.chrome
                    .choose(css, self.chrome.script(&value).as_str().unwrap());
            }
            By::Keyboard => {
                self.reach(css);
                self.chrome.keys(word.chars());
            }
        }
        let chosen = format!("return document.querySelector({css:?}).selectedOptions[0].text");
        assert_eq!(self.chrome.script(&chosen), word, "{css}");
    }

    /// Marks a radio button.
    pub fn mark(&self, css: &str) {
        if self.by == By::Pointer {
            return self.chrome.tap(css);
        }
        let name = self.chrome.script(&format!(
            "return `input[name=${{document.querySelector({css:?}).name}}]`"
        ));
        self.reach(name.as_str().unwrap());
        let is_marked = format!("return document.querySelector({css:?}).checked");
        for _ in 0..20 {
            if self.chrome.script(&is_marked) == Value::Bool(true) {
                return;
            }
            self.chrome.keys([DOWN]);
        }
        panic!("{css} is not reached by the arrow keys");
    }

    /// Ticks a box that is not ticked.
    pub fn tick(&self, css: &str) {
        match self.by {
            By::Pointer => self.chrome.tap(css),
            By::Keyboard => {
                self.reach(css);
                self.chrome.keys([' ']);
            }
        }
        let is_ticked = format!("return document.querySelector({css:?}).checked");
        assert_eq!(self.chrome.script(&is_ticked), Value::Bool(true), "{css}");
    }

    /// Unfolds what lies behind these words, or follows a link within the page.
    pub fn open(&self, words: &str) {
        let css = self.chrome.named(words);
        match self.by {
            By::Pointer => self.chrome.tap(css),
            By::Keyboard => {
                self.reach(css);
                self.chrome.keys([ENTER]);
            }
        }
    }

    /// Presses the button or follows the link that reads so, and waits for the page that comes.
    pub fn press(&self, words: &str) {
        self.chrome
            .script("document.documentElement.setAttribute('data-left', '')");
        self.open(words);
        let until = Instant::now() + Duration::from_secs(20);
        let is_new = "return document.readyState === 'complete' && !document.documentElement.hasAttribute('data-left')";
        while self.chrome.script(is_new) != Value::Bool(true) {
            assert!(
                Instant::now() < until,
                "no page came of “{words}”:\n{}",
                self.chrome.text()
            );
            std::thread::yield_now();
        }
    }

    /// Goes on by Tab until the focus is on a thing.
    fn reach(&self, css: &str) {
        let is_there = format!("return document.activeElement.matches({css:?})");
        let is_over = "return document.activeElement === document.body";
        let mut steps = 0;
        while self.chrome.script(&is_there) != Value::Bool(true) {
            self.chrome.keys([TAB]);
            steps += 1;
            assert!(
                steps < 400 && self.chrome.script(is_over) != Value::Bool(true),
                "{css} is not ahead of the focus on {}",
                self.chrome.address()
            );
        }
    }
}

/// Goes through everything after the heading by Tab and says what is wrong: a control that is left out or comes out of turn, one whose
/// focus can't be seen, one that stands above the one before it.
pub fn tour(chrome: &Chrome) -> Vec<String> {
    const MARK: &str = "
        const head = document.querySelector('main h1');
        const can = 'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex=\"0\"]';
        const isStop = (e) => !e.disabled && e.checkVisibility({ visibilityProperty: true })
            && (head.compareDocumentPosition(e) & Node.DOCUMENT_POSITION_FOLLOWING)
            && !(e.type === 'radio' && !e.checked && document.querySelector(`input[name=${e.name}]:checked`));
        const stops = [...document.querySelectorAll('main ' + can.replaceAll(', ', ', main '))].filter(isStop);
        stops.forEach((e, at) => e.setAttribute('data-stop', at));
        head.tabIndex = -1; head.focus(); head.removeAttribute('tabindex');
        return stops.map((e) => (e.id || e.innerText || e.value || e.tagName).slice(0, 60))";
    const WHERE: &str = "
        const e = document.activeElement, box = e.getBoundingClientRect(), style = getComputedStyle(e);
        if (!e.hasAttribute('data-stop')) return null;
        const isSeen = box.bottom > 0 && box.top < innerHeight && style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
        return { at: Number(e.getAttribute('data-stop')), isSeen, inColumns: !!e.closest('.boxes'), top: box.top + scrollY, bottom: box.bottom + scrollY }";
    let stops = chrome.script(MARK);
    let stops: Vec<&str> = stops
        .as_array()
        .unwrap()
        .iter()
        .map(|name| name.as_str().unwrap())
        .collect();
    let (mut faults, mut above) = (Vec::new(), 0.0);
    for (at, name) in stops.iter().enumerate() {
        chrome.keys([TAB]);
        let here = chrome.script(WHERE);
        if here["at"].as_u64() != u64::try_from(at).ok() {
            faults.push(format!("Tab comes to {here} instead of to {name}"));
            return faults;
        }
        if here["isSeen"] != true {
            faults.push(format!("the focus on {name} is not seen"));
        }
        if here["inColumns"] == false {
            if here["bottom"].as_f64().unwrap() <= above {
                faults.push(format!("{name} stands above what comes before it"));
            }
            above = here["top"].as_f64().unwrap();
        }
    }
    chrome.keys([TAB]);
    let beyond = chrome.script(WHERE);
    if !beyond.is_null() {
        faults.push(format!("after the last control comes {beyond}"));
    }
    faults
}
