//! A thumb on the phone: taps what a technician would tap, counts the taps, and waits until the next screen stands.

use std::cell::Cell;
use std::time::{Duration, Instant};

use serde_json::Value;

use super::Office;
use crate::support::chrome::{Chrome, Scheme};

/// Width of the phone, CSS pixels.
pub const PHONE_PX: u32 = 320;

/// The phone's own modules, for looking into what it keeps.
const STORE: &str = "const store = await import('/assets/phone/store.js');";

/// A technician's phone.
pub struct Thumb {
    pub chrome: Chrome,
    pub address: String,
    taps: Cell<u32>,
}

impl Thumb {
    /// A phone of a technician who is signed in and has fetched today's units.
    pub fn in_hand(office: &Office<'_>) -> Self {
        Self::of(office, "technician", 0)
    }

    /// A phone of somebody in a role, whose clock is off by so many milliseconds.
    pub fn of(office: &Office<'_>, role: &str, off_by: i64) -> Self {
        let chrome = Chrome::start();
        chrome.show_as(PHONE_PX, Scheme::Light);
        if off_by != 0 {
            chrome.clock_off_by(off_by);
        }
        let phone = Self {
            chrome,
            address: office.line.address.clone(),
            taps: Cell::new(0),
        };
        phone.sign_in(role);
        phone.until("return document.querySelector('a.to-unit') !== null");
        phone.until_kept();
        phone
    }

    /// Signs in by one click and opens today's units.
    pub fn sign_in(&self, role: &str) {
        self.chrome.open(&format!("{}/sign-in", self.address));
        self.chrome
            .click(&format!("form[action='/demo/sign-in/{role}'] button"));
        // A browser that is killed while it makes its store for the first time may not open it again before it is closed.
        if role == "technician" {
            self.until("return document.documentElement.dataset.drawn !== undefined");
        }
        self.open("/today");
    }

    /// Waits until the worker keeps the shell, so that it opens without a line.
    pub fn until_kept(&self) {
        self.chrome
            .ask("const ready = await navigator.serviceWorker.ready; while (ready.active?.state !== 'activated') await new Promise((go) => setTimeout(go, 50));");
    }

    /// Opens an address of the line.
    pub fn open(&self, path: &str) {
        self.chrome.open("about:blank");
        self.chrome.open(&format!("{}{path}", self.address));
        self.until("return document.documentElement.dataset.drawn !== undefined");
    }

    /// Goes to a screen, as a link would.
    pub fn go(&self, hash: &str) {
        self.chrome.script(&format!("location.hash = {hash:?}"));
        self.until(&format!(
            "return document.documentElement.dataset.drawn === {hash:?}"
        ));
    }

    /// Waits until a condition holds; fails with what the page says.
    pub fn until(&self, condition: &str) {
        self.until_within(condition, 60);
    }

    /// The same within so many seconds.
    pub fn until_within(&self, condition: &str, seconds: u64) {
        let until = Instant::now() + Duration::from_secs(seconds);
        while self.chrome.script(condition) != Value::Bool(true) {
            assert!(
                Instant::now() < until,
                "{condition} does not come true on {}:\n{}\n{:?}",
                self.chrome.address(),
                self.chrome.text(),
                self.chrome.console_errors()
            );
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    fn hash(&self) -> String {
        let hash = self.chrome.script("return location.hash || '#'");
        hash.as_str().unwrap().to_owned()
    }

    /// Whether the screen has such a thing.
    pub fn has(&self, css: &str) -> bool {
        self.chrome
            .script(&format!("return document.querySelector({css:?}) !== null"))
            == Value::Bool(true)
    }

    /// A tap.
    pub fn tap(&self, css: &str) {
        self.taps.set(self.taps.get() + 1);
        self.chrome.tap(css);
    }

    /// A tap that leads to another screen.
    pub fn tap_on(&self, css: &str) {
        let before = self.hash();
        self.tap(css);
        self.until(&format!(
            "return (location.hash || '#') !== {before:?} && document.documentElement.dataset.drawn === (location.hash || '#')"
        ));
    }

    /// How many taps there were since the last time that somebody asked.
    pub fn taps(&self) -> u32 {
        self.taps.replace(0)
    }

    /// What the header says of what is not sent.
    pub fn unsent(&self) -> String {
        let said = self
            .chrome
            .script("return document.querySelector('#unsent').innerText");
        said.as_str().unwrap().to_owned()
    }

    /// Waits until everything is sent.
    pub fn until_sent(&self, seconds: u64) {
        self.until_within(
            "return document.querySelector('#unsent')?.innerText.trim() === 'All sent'",
            seconds,
        );
    }

    /// The ids of the answers that the phone keeps, in the order in which they were given.
    pub fn kept(&self) -> Vec<String> {
        let ids = self.chrome.ask(&format!(
            "{STORE} return (await store.ops()).filter((op) => op.kind === 'answer').map((op) => op.id)"
        ));
        ids.as_array()
            .unwrap()
            .iter()
            .map(|id| id.as_str().unwrap().to_owned())
            .collect()
    }

    /// How many answers there are, on the phone or with the office.
    pub fn kept_or_sent(&self, office: &Office<'_>) -> usize {
        let mut ids = self.kept();
        ids.extend(office.results().iter().map(|entry| entry.client_id.to_string()));
        ids.sort();
        ids.dedup();
        ids.len()
    }

    /// Everything that lies in the phone's store and caches, as one text.
    pub fn dump(&self) -> String {
        let dump = self.chrome.ask(&format!(
            "{STORE} const all = [await store.units(), await store.ops(), await store.photos(), await store.value('person')];
             for (const name of await caches.keys()) for (const request of await (await caches.open(name)).keys())
               all.push(request.url, /\\/assets\\//.test(request.url) ? '' : await (await (await caches.open(name)).match(request)).text());
             all.push({{ ...localStorage }}, {{ ...sessionStorage }}, document.cookie);
             return JSON.stringify(all)"
        ));
        dump.as_str().unwrap().to_owned()
    }

    /// Opens a unit's walk from today's list.
    pub fn enter(&self, label: &str) {
        let marked = self.chrome.script(&format!(
            "for (const old of document.querySelectorAll('[data-unit]')) old.removeAttribute('data-unit');
             const row = [...document.querySelectorAll('.to-unit')].find((one) => one.querySelector('b').innerText === {label:?});
             row?.setAttribute('data-unit', ''); return !!row"
        ));
        assert_eq!(marked, Value::Bool(true), "{label}:\n{}", self.chrome.text());
        // The list may be drawn anew between the look and the tap, when an answer of the server comes in: a thumb taps again.
        self.tap("[data-unit]");
        let until = Instant::now() + Duration::from_secs(5);
        while self.hash() == "#" && Instant::now() < until {
            std::thread::sleep(Duration::from_millis(20));
        }
        if self.hash() == "#" {
            self.tap("[data-unit]");
        }
        self.until(
            "return location.hash.length > 2 && document.documentElement.dataset.drawn === location.hash",
        );
    }

    /// One step of the walk: passes what the screen asks, or goes on. False when nothing is left to answer here.
    pub fn step(&self) -> bool {
        let hash = self.hash();
        if hash.contains("/i/") {
            self.pass_item();
        } else if hash.contains("/s/") || hash.contains("/p/") {
            let css = if self.has("#pass-all") {
                "#pass-all"
            } else {
                ".bars .first"
            };
            self.tap_on(css);
        } else {
            // A stretch that asks a single thing leads to that at once.
            let onward = ".bars a.first[href*='/s/'], .bars a.first[href*='/i/']";
            if !self.has(onward) {
                return false;
            }
            self.tap_on(onward);
        }
        true
    }

    /// Passes the check of the screen, by its bar, by as many flushes as it asks for, or by a reading that keeps its limits.
    pub fn pass_item(&self) {
        if !self.has("#pass") {
            let reading = self.good_reading();
            self.chrome.fill("#reading", &reading);
            self.tap_on("#keep-reading");
            return;
        }
        let before = self.hash();
        let small = "(document.querySelector('#pass small')?.innerText ?? '')";
        for _ in 0..10 {
            // A flush is counted on the same screen: its bar says another number then.
            let said = self.chrome.script(&format!("return {small}"));
            self.tap("#pass");
            self.until(&format!(
                "const hash = location.hash || '#'; const isDrawn = document.documentElement.dataset.drawn === hash;
                 return isDrawn && (hash !== {before:?} || {small} !== {said})"
            ));
            if self.hash() != before {
                return;
            }
        }
        panic!("the check does not pass:\n{}", self.chrome.text());
    }

    /// A reading that keeps every limit of the check of the screen: the first limit itself, since limits are inclusive.
    fn good_reading(&self) -> String {
        let found = self.chrome.ask(&format!(
            "{STORE} const [unit, , ...key] = decodeURIComponent(location.hash).replace(/^#\\/?/, '').split('/');
             const item = (await store.unit(Number(unit))).items.find((one) => one.key.replace(/\\.[a-z_]*$/, '') === key.join('/').replace(/\\.[a-z_]*$/, ''));
             return item.answer.limits[0]?.value ?? (item.answer.quantity === 'temperature' ? '100' : '12')"
        ));
        found.as_str().unwrap().to_owned()
    }

    /// Fails the check of the screen with a note and photos.
    pub fn fail_item(&self, note: &str, photos: &[std::path::PathBuf]) {
        self.tap_on("#fail");
        for (at, photo) in photos.iter().enumerate() {
            // The phone's own camera stands between this tap and the picture.
            self.taps.set(self.taps.get() + 1);
            self.chrome.attach("#photo", photo);
            self.until(&format!(
                "return (document.querySelector('.fill')?.innerText ?? '').includes('{} photo')",
                at + 1
            ));
        }
        if !note.is_empty() {
            self.taps.set(self.taps.get() + 1);
            self.chrome.fill("#note", note);
        }
        self.tap_on("#done");
    }
}
