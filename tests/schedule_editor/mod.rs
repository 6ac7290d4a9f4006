//! A manager at the schedules, in a real browser: a rule made without syntax, looked at as a sentence, a year and an impact, mended,
//! stored, changed and undone. Once by keyboard alone with every page looked at, once by pointer without any script.

mod sayings;
mod walk;

use std::cell::RefCell;

use serde_json::Value;

use crate::support::chrome::{Chrome, Scheme};
use crate::support::demo::{self, AS_OF_INSTANT};
use crate::support::hand::{By, Hand, tour};
use crate::support::server::{Browser, Server};
use crate::support::{Fleet, sqlite};

const DESK_PX: u32 = 1280;
const PHONE_PX: u32 = 320;

/// An invented fleet with its server, and a browser at it in which nobody is signed in.
struct Office {
    fleet: Fleet,
    server: Server,
    chrome: Chrome,
}

impl Office {
    fn new(fleet: Fleet) -> Self {
        demo::make(&fleet, 24);
        let server = Server::start(&fleet.db, AS_OF_INSTANT);
        let chrome = Chrome::start();
        chrome.show_as(DESK_PX, Scheme::Light);
        Self {
            fleet,
            server,
            chrome,
        }
    }

    /// The manager at the list of schedules.
    fn sit_down(&self, by: By) -> Desk<'_> {
        self.chrome
            .open(&format!("{}/sign-in?next=%2Fschedules", self.server.address));
        self.chrome.click("form[action='/demo/sign-in/manager'] button");
        self.chrome.expect("What makes checks come due.");
        Desk {
            office: self,
            chrome: &self.chrome,
            hand: Hand {
                chrome: &self.chrome,
                by,
            },
            behind: self.server.signed_in("manager"),
            looks: by == By::Keyboard,
            faults: RefCell::default(),
        }
    }
}

/// The manager at work.
struct Desk<'a> {
    office: &'a Office,
    chrome: &'a Chrome,
    hand: Hand<'a>,
    /// The same manager without a picture, to ask what is really stored.
    behind: Browser,
    /// Whether each page is looked at from all sides.
    looks: bool,
    faults: RefCell<Vec<String>>,
}

impl Desk<'_> {
    /// Looks at a page light and dark, on a phone and at a desk, goes through it by Tab on both, and comes back to its heading.
    fn look(&self, page: &str) {
        if !self.looks {
            return;
        }
        for (width_px, scheme) in [
            (PHONE_PX, Scheme::Light),
            (PHONE_PX, Scheme::Dark),
            (DESK_PX, Scheme::Dark),
            (DESK_PX, Scheme::Light),
        ] {
            self.chrome.show_as(width_px, scheme);
            // What the bar at the top covers for the moment is no fault.
            self.chrome.script("scrollTo(0, 0)");
            let mut found = self.chrome.faults();
            if scheme == Scheme::Light {
                found.extend(tour(self.chrome));
            }
            if let Ok(folder) = std::env::var("ANGLESTOP_PICTURES") {
                let file = format!("{page}-{width_px}-{scheme:?}.png");
                self.chrome.picture(&std::path::Path::new(&folder).join(file));
            }
            let named = found
                .into_iter()
                .map(|fault| format!("{page}, {width_px} px, {scheme:?}: {fault}"));
            self.faults.borrow_mut().extend(named);
        }
        self.chrome.script(
            "const head = document.querySelector('main h1'); head.tabIndex = -1; head.focus(); head.removeAttribute('tabindex')",
        );
    }

    /// Nothing of what was looked at is at fault, and the console is clean but for forms that came back.
    fn is_clean(&self) {
        let mut faults = self.faults.take();
        let told = self.chrome.console_errors().into_iter();
        faults.extend(told.filter(|line| !line.contains("status of 422")));
        assert!(
            faults.is_empty(),
            "{} faults:\n{}",
            faults.len(),
            faults.join("\n")
        );
    }

    /// The text of everything in sight that a selector finds.
    fn texts(&self, css: &str) -> Vec<String> {
        let found = self.chrome.script(&format!(
            "return [...document.querySelectorAll({css:?})].filter((e) => e.checkVisibility()).map((e) => e.innerText.trim().split(/\\s+/).join(' '))"
        ));
        let found = found.as_array().unwrap().iter();
        found.map(|text| text.as_str().unwrap().to_owned()).collect()
    }

    /// The only text that a selector finds.
    fn text(&self, css: &str) -> String {
        let mut found = self.texts(css);
        assert_eq!(found.len(), 1, "{css}: {found:?}");
        found.remove(0)
    }

    /// The days that the year's picture fills: its cells are the days one after the other, from the first of this month on.
    fn filled_days(&self) -> Vec<String> {
        let places = self.chrome.script(
            "return [...document.querySelectorAll('svg.year rect')].flatMap((cell, at) => cell.classList.contains('today-mark') ? [at] : [])",
        );
        let first: chrono::NaiveDate = demo::AS_OF.parse().unwrap();
        let first = chrono::Datelike::with_day(&first, 1).unwrap();
        let places = places.as_array().unwrap().iter();
        places
            .map(|at| (first + chrono::Days::new(at.as_u64().unwrap())).to_string())
            .collect()
    }

    /// Ticks a check behind its kind of fixture.
    fn tick_check(&self, kind: &str, check: &str) {
        self.hand.open(kind);
        self.hand.tick(&format!("#checks-{check}"));
    }

    /// What is overdue, what comes due, whatever is later: every row with everything that the file says of it.
    fn due_rows(&self) -> String {
        let file = self.behind.get("/due.csv?state=all");
        assert_eq!(file.status, 200);
        file.body
    }

    /// A figure of the preview as it is and as it would be.
    fn figure(&self, word: &str) -> (String, String) {
        let row = self.chrome.script(&format!(
            "const row = [...document.querySelectorAll('.pair .figures tbody tr')].find((row) => row.cells[0].innerText.trim() === {word:?});
             return row && [row.cells[1].innerText.trim(), row.cells[2].innerText.trim()]"
        ));
        let Value::Array(cells) = row else {
            panic!("no figure of “{word}”:\n{}", self.chrome.text())
        };
        let cell = |at: usize| cells[at].as_str().unwrap().to_owned();
        (cell(0), cell(1))
    }
}
