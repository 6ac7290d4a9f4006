//! Every screen of the phone, in both languages, light and dark: no fault that axe-core finds, no sideways scroll at 320 px nor with text
//! twice as large, targets of at least 48 px, and the answers within a thumb's reach.

use super::Office;
use super::thumb::{PHONE_PX, Thumb};
use crate::support::chrome::Scheme;
use crate::support::sqlite;

/// The screens: a way to each from today's list.
const SCREENS: &[&str] = &[
    "", "unit", "stretch", "item", "reading", "fail", "fix", "report", "sign", "unsent", "more", "out",
    "urgent",
];

#[test]
fn every_screen_is_accessible_in_both_languages_light_and_dark() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    for language in ["en", "es"] {
        office.speak(language);
        let phone = Thumb::in_hand(&office);
        let mut faults = Vec::new();
        for screen in SCREENS {
            phone.show(&office, screen);
            for scheme in [Scheme::Light, Scheme::Dark] {
                phone.chrome.show_as(PHONE_PX, scheme);
                let found = phone.chrome.faults();
                faults.extend(
                    found
                        .into_iter()
                        .map(|fault| format!("{screen} in {language}, {scheme:?}: {fault}")),
                );
            }
            phone.chrome.show_as(PHONE_PX, Scheme::Light);
            faults.extend(
                small(&phone)
                    .into_iter()
                    .map(|target| format!("{screen} in {language}: {target}")),
            );
            phone
                .chrome
                .script("document.documentElement.style.fontSize = '200%'");
            let over = phone
                .chrome
                .script("return document.documentElement.scrollWidth - document.documentElement.clientWidth");
            if over != 0 {
                faults.push(format!(
                    "{screen} in {language} at twice the text: {over} px sideways"
                ));
            }
            phone
                .chrome
                .script("document.documentElement.style.fontSize = ''");
        }
        assert!(faults.is_empty(), "{}", faults.join("\n"));
        let errors = phone.chrome.console_errors();
        assert!(errors.is_empty(), "{errors:?}");
    }
}

/// Links, buttons and fields that are smaller than a thumb, but for links within a sentence.
fn small(phone: &Thumb) -> Vec<String> {
    let found = phone.chrome.script(
        "const inSentence = (one) => one.matches('p a, li > a:only-of-type') && getComputedStyle(one).display === 'inline';
         return [...document.querySelectorAll('a, button, summary, input:not(.unseen), select, textarea')]
           .filter((one) => one.checkVisibility() && !inSentence(one) && !one.matches('.skip'))
           .map((one) => [one, one.getBoundingClientRect()])
           .filter(([, box]) => box.height < 47.5)
           .map(([one, box]) => `${one.outerHTML.slice(0, 100)} is ${Math.round(box.height)} px high`)",
    );
    found
        .as_array()
        .unwrap()
        .iter()
        .map(|line| line.as_str().unwrap().to_owned())
        .collect()
}

impl Thumb {
    /// Shows a screen by the way that leads to it.
    fn show(&self, office: &Office<'_>, screen: &str) {
        let unit = office.unit;
        match screen {
            "" | "unsent" | "more" | "out" | "urgent" => self.go(&format!("#/{screen}")),
            "unit" => self.go(&format!("#/{unit}")),
            "stretch" => {
                self.go(&format!("#/{unit}"));
                self.tap_on(".bars a.first");
            }
            "item" => {
                self.show(office, "stretch");
                self.tap_on(".checks a");
            }
            "reading" => {
                let key = self.chrome.ask(&format!(
                    "const store = await import('/assets/phone/store.js'); const unit = await store.unit({unit});
                     const item = unit.items.find((one) => one.answer.kind === 'reading'); return `#/{unit}/i/${{encodeURIComponent(item.key)}}`"
                ));
                self.go(key.as_str().unwrap());
            }
            "fail" => {
                self.show(office, "item");
                self.tap_on("#fail");
            }
            other => self.go(&format!("#/{unit}/{other}")),
        }
    }
}
