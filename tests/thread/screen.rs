//! A person's own browser: at a desk or on a phone, tapped where a person would tap, and its console kept clean.

use super::form::good_reading;
use super::{OWNER, Office, Somebody, TECHNICIAN};
use crate::support::chrome::{Chrome, Scheme};

pub const DESK_PX: u32 = 1280;
pub const PHONE_PX: u32 = 320;

/// Somebody's own browser.
pub struct Screen<'a> {
    pub chrome: Chrome,
    pub office: &'a Office,
    is_phone: bool,
}

impl<'a> Screen<'a> {
    pub fn at(office: &'a Office, width_px: u32) -> Self {
        let chrome = Chrome::start();
        chrome.show_as(width_px, Scheme::Light);
        Self {
            chrome,
            office,
            is_phone: width_px == PHONE_PX,
        }
    }

    pub fn open(&self, path: &str) {
        self.chrome.open(&format!("{}{path}", self.office.server.address));
        self.chrome
            .show_as(if self.is_phone { PHONE_PX } else { DESK_PX }, Scheme::Light);
    }

    pub fn tap(&self, css: &str) {
        self.chrome.tap(css);
    }

    /// Clicks the link or button of the page that shows these words and no others.
    pub fn press(&self, words: &str) {
        self.tap(self.chrome.named(words));
    }

    /// Goes to a place of the menu.
    pub fn go(&self, href: &str) {
        if self.chrome.script("return document.body.matches('.on-phone')") == true {
            self.tap("a[href='#/more']");
            self.chrome.expect("These pages need a line");
            self.tap(&format!("main a[href='{href}']"));
        } else if self.is_phone {
            self.tap("details.menu > summary");
            self.tap(&format!(".menu-panel a[href='{href}']"));
        } else {
            self.tap(&format!(".margin-desk a[href='{href}']"));
        }
    }

    pub fn is_clean(&self) {
        assert_eq!(
            self.chrome.console_errors(),
            Vec::<String>::new(),
            "{}",
            self.chrome.address()
        );
        let over = "return document.documentElement.scrollWidth - document.documentElement.clientWidth";
        assert_eq!(
            self.chrome.script(over),
            0,
            "{} scrolls sideways",
            self.chrome.address()
        );
    }

    pub fn sign_in(&self, somebody: &Somebody) {
        self.open("/sign-in");
        self.chrome.fill("#email", somebody.email);
        self.chrome.fill("#password", somebody.password);
        self.press("Sign in");
        let home = match somebody.email {
            email if email == OWNER.email => "Condition",
            email if email == TECHNICIAN.email => "Today",
            _ => "Due",
        };
        self.chrome.expect(home);
        self.is_clean();
    }

    pub fn take_invitation(&self, somebody: &Somebody) {
        self.open(&self.office.invitation_of(somebody));
        self.chrome.expect(&format!("Welcome, {}", somebody.name));
        self.chrome.fill("#password", somebody.password);
        self.press("Take the invitation");
        self.chrome.expect(if somebody.email == OWNER.email {
            "Alder Court"
        } else {
            "Today"
        });
        self.is_clean();
    }

    /// Unfolds every group of a walk, fails one check with a note, passes what else is there, and sends it.
    pub fn answer(&self, failing: Option<(&str, &str)>, send: &str) {
        let asked = self.chrome.script(
            "return [...document.querySelectorAll('main details.fixture')].map((group, at) => {
                 group.setAttribute('data-group', at);
                 return { isOpen: group.open, rest: group.querySelector('.all-pass input')?.id ?? '',
                     asks: [...group.querySelectorAll('input[name=ask]')].map((ask) => ask.value) } })",
        );
        let groups = asked.as_array().unwrap();
        assert!(!groups.is_empty(), "nothing is asked:\n{}", self.chrome.text());
        for (at, group) in groups.iter().enumerate() {
            if group["isOpen"] == false {
                self.tap(&format!("[data-group='{at}'] > summary"));
            }
            let rest = group["rest"].as_str().unwrap();
            if !rest.is_empty() {
                self.tap(&format!("label[for={rest}]"));
            }
            for ask in group["asks"].as_array().unwrap() {
                let words: Vec<&str> = ask.as_str().unwrap().split(' ').collect();
                let (number, check) = (words[0], words[5]);
                match failing {
                    Some((code, note)) if code == check => {
                        self.tap(&format!("label[for=outcome-{number}-fail]"));
                        self.chrome.fill(&format!("#note-{number}"), note);
                    }
                    _ if words[6] == "reading" => {
                        self.chrome
                            .fill(&format!("#reading-{number}"), good_reading(check));
                    }
                    _ if rest.is_empty() => self.tap(&format!("label[for=outcome-{number}]")),
                    _ => {}
                }
            }
        }
        self.press(send);
    }
}
