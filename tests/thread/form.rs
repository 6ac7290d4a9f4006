//! A form of a page, filled in and sent as a browser sends it: every field with the value that it holds, what was changed, and
//! nothing that the page does not offer.

use scraper::{ElementRef, Html, Selector};

use crate::support::server::{Answer, Browser};

/// A form.
#[derive(Debug)]
pub struct Form {
    action: String,
    fields: Vec<(String, String)>,
    offered: Vec<(String, String, Takes)>,
}

/// How many of the values that a name offers are sent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Takes {
    One,
    Many,
}

impl Form {
    /// The form of the page at `path` whose address ends in `action`; a form without an address is sent to where it stands.
    pub fn at(browser: &Browser, path: &str, action: &str) -> Self {
        let answer = browser.get(path);
        assert_eq!(answer.status, 200, "{path}: {}", answer.body);
        Self::on(&answer, path, action)
    }

    /// The same of a page that was fetched from `path`.
    pub fn on(answer: &Answer, path: &str, action: &str) -> Self {
        let page = answer.page();
        let here = path.split(['?', '#']).next().unwrap();
        let of = |form: &ElementRef| form.attr("action").unwrap_or(here).to_owned();
        let found = page
            .select(&selector("form[method=post]"))
            .find(|form| of(form).ends_with(action));
        let form = found.unwrap_or_else(|| panic!("no form to {action} on {path}: {}", answer.body));
        let mut read = Self {
            action: of(&form),
            fields: Vec::new(),
            offered: Vec::new(),
        };
        for element in form.select(&selector("input[name], select[name], textarea[name]")) {
            read.take(element);
        }
        read
    }

    fn take(&mut self, element: ElementRef) {
        let name = element.attr("name").unwrap().to_owned();
        let value = element.attr("value").unwrap_or_default().to_owned();
        match (element.value().name(), element.attr("type")) {
            ("select", _) => {
                let options: Vec<ElementRef> = element.select(&selector("option")).collect();
                let value = |option: &ElementRef| option.attr("value").unwrap_or_default().to_owned();
                for option in &options {
                    self.offered.push((name.clone(), value(option), Takes::One));
                }
                let chosen = options.iter().find(|option| option.attr("selected").is_some());
                if let Some(option) = chosen.or(options.first()) {
                    self.fields.push((name, value(option)));
                }
            }
            ("textarea", _) => self.fields.push((name, element.text().collect())),
            (_, Some(kind @ ("checkbox" | "radio"))) => {
                let takes = if kind == "radio" { Takes::One } else { Takes::Many };
                self.offered.push((name.clone(), value.clone(), takes));
                if element.attr("checked").is_some() {
                    self.fields.push((name, value));
                }
            }
            _ => self.fields.push((name, value)),
        }
    }

    /// The values that a field holds.
    pub fn values(&self, name: &str) -> Vec<&str> {
        let held = self.fields.iter().filter(|(known, _)| known == name);
        held.map(|(_, value)| value.as_str()).collect()
    }

    /// Types into a field that is there.
    pub fn fill(mut self, name: &str, text: &str) -> Self {
        let field = self.fields.iter_mut().find(|(known, _)| known == name);
        let field = field.unwrap_or_else(|| panic!("no field {name}"));
        text.clone_into(&mut field.1);
        self
    }

    /// Ticks a box, or chooses what a group of buttons or a list offers.
    pub fn choose(mut self, name: &str, value: &str) -> Self {
        let offer = self
            .offered
            .iter()
            .find(|(of, offered, _)| of == name && offered == value);
        let offer = offer.unwrap_or_else(|| panic!("{name} offers no {value}, but {:?}", self.offered));
        if offer.2 == Takes::One {
            self.fields.retain(|(of, _)| of != name);
        }
        self.fields.push((name.to_owned(), value.to_owned()));
        self
    }

    /// Answers every question of a walk: fails the checks of `failing` with a note, passes the rest, reads a good figure.
    pub fn answer(mut self, failing: &[(&str, &str)]) -> Self {
        let asked: Vec<String> = self.values("ask").into_iter().map(str::to_owned).collect();
        assert!(!asked.is_empty(), "nothing is asked");
        for key in asked {
            let words: Vec<&str> = key.split(' ').collect();
            let (number, check) = (words[0], words[5]);
            let fails = failing.iter().find(|(failing, _)| *failing == check);
            self = match (fails, words[6]) {
                (Some((_, note)), _) => self
                    .choose(&format!("outcome-{number}"), "fail")
                    .fill(&format!("note-{number}"), note),
                (None, "reading") => self.fill(&format!("reading-{number}"), good_reading(check)),
                (None, _) => self.choose(&format!("outcome-{number}"), "pass"),
            };
        }
        self
    }

    /// Sends it.
    pub fn send(&self, browser: &Browser) -> Answer {
        let fields: Vec<(&str, &str)> = self
            .fields
            .iter()
            .map(|(name, value)| (name.as_str(), value.as_str()))
            .collect();
        browser.send(&self.action, &fields)
    }

    /// Sends it and follows where it leads.
    pub fn sent(&self, browser: &Browser) -> (String, Answer) {
        let sent = self.send(browser);
        assert_eq!(sent.status, 303, "{}: {}", self.action, text_of(&sent, "main"));
        let page = browser.get(sent.location.split('#').next().unwrap());
        (sent.location, page)
    }
}

/// A reading within the limits of the check.
pub fn good_reading(check: &str) -> &'static str {
    match check {
        "bath_hot_temperature" => "115 F",
        "faucet_flow" | "shower_flow" => "1.8 gpm",
        "floor_moisture" => "9 %",
        "wc_refill" => "45 s",
        "wc_clearance_side" | "wc_clearance_front" => "30 in",
        other => panic!("no figure is known for {other}"),
    }
}

pub fn selector(css: &str) -> Selector {
    Selector::parse(css).unwrap()
}

/// The texts of what a selector finds, in one line each.
pub fn texts(page: &Html, css: &str) -> Vec<String> {
    let words = |element: ElementRef| element.text().collect::<Vec<_>>().join(" ");
    page.select(&selector(css))
        .map(words)
        .map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

/// The text of the first element that a selector finds.
pub fn text_of(answer: &Answer, css: &str) -> String {
    let found = texts(&answer.page(), css).into_iter().next();
    found.unwrap_or_else(|| panic!("no {css} on {}", answer.body))
}

/// Where the link leads whose words begin with these.
pub fn link(answer: &Answer, words: &str) -> String {
    let page = answer.page();
    let found = page.select(&selector("main a[href]")).find(|link| {
        let text = link.text().collect::<String>();
        text.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .starts_with(words)
    });
    let found = found.unwrap_or_else(|| panic!("no link “{words}” on {}", answer.body));
    found.attr("href").unwrap().to_owned()
}
