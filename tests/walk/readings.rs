//! Readings mean the same on the phone and on the server: what people type, and whether it passes.

use anglestop::domain::code::Coded as _;
use anglestop::domain::measure::{Amount, Unit};
use serde_json::json;

use super::Office;
use super::thumb::Thumb;
use crate::support::sqlite;

/// What people type, with the unit that a bare number is in.
const TYPED: &[(&str, &str)] = &[
    ("14 7/8", "in"),
    ("14-7/8 in", "in"),
    ("14⅞\"", "in"),
    ("2 ft 3 in", "in"),
    ("2 ft 3", "in"),
    ("2' 3\"", "in"),
    ("378 mm", "in"),
    ("37,8 cm", "in"),
    ("37.8 cm", "mm"),
    ("0,5 in", "in"),
    ("1,234", "in"),
    ("15", "in"),
    ("-3", "in"),
    ("7/8", "in"),
    (".5", "in"),
    ("14 7/0", "in"),
    ("fourteen", "in"),
    ("", "in"),
    ("14 in 3 in", "in"),
    ("14 s", "in"),
    ("1.5 m", "in"),
    ("45", "s"),
    ("45 s", "s"),
    ("1:20", "s"),
    ("1:75", "s"),
    ("1 min 20", "s"),
    ("1 min 20 s", "s"),
    ("2 h", "s"),
    ("1' 20\"", "s"),
    ("118", "F"),
    ("118 F", "F"),
    ("48 C", "F"),
    ("48 °C", "F"),
    ("-4 F", "F"),
    ("62", "psi"),
    ("430 kPa", "psi"),
    ("4.3 bar", "psi"),
    ("2.2", "gpm"),
    ("8.3 L/min", "gpm"),
    ("1.28 gal", "gal"),
    ("4.8 L", "gal"),
    ("8 fl oz", "gal"),
    ("1 imp gal", "gal"),
    ("16 %", "%"),
    ("16", "%"),
    ("3", "count"),
    ("3 times", "count"),
    ("123456789012345", "in"),
];

#[test]
fn what_is_typed_means_the_same_on_the_phone_as_on_the_server() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    for (typed, code) in TYPED {
        let unit = Unit::from_code(code).unwrap();
        let here = Amount::parse(typed, unit).ok().map(|amount| {
            let base = amount.base();
            format!("{}/{}", base.numerator(), base.denominator())
        });
        let there = phone.chrome.ask(&format!(
            "const store = await import('/assets/phone/store.js'); const {{ read }} = await import('/assets/phone/reading.js');
             const measures = await store.value('measures');
             const lowest = ([n, d]) => {{ let [a, b] = [n < 0n ? -n : n, d]; while (b) [a, b] = [b, a % b]; return `${{n / (a || 1n)}}/${{d / (a || 1n)}}` }};
             try {{ return lowest(read({}, {}, measures[{}], {})) }} catch (error) {{ if (!error.key) throw error; return null }}",
            json!(typed),
            json!(code),
            json!(unit.quantity().code()),
            json!(unit.quantity().code()),
        ));
        assert_eq!(there.as_str().map(str::to_owned), here, "“{typed}” in {code}");
    }
}

#[test]
fn a_reading_far_from_what_is_usual_is_asked_about_once() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    phone.enter(&office.label);
    let key = phone.chrome.ask(&format!(
        "const store = await import('/assets/phone/store.js'); const unit = await store.unit({});
         const item = unit.items.find((one) => one.check === 'wc_refill'); return `#/${{unit.id}}/i/${{encodeURIComponent(item.key)}}`",
        office.unit
    ));
    phone.go(key.as_str().unwrap());
    phone.chrome.fill("#reading", "4500");
    phone.tap("#keep-reading");
    phone
        .chrome
        .expect("4500 s? That is far from what is usual here.");
    phone.chrome.expect("I meant 450.0 s");
    assert!(phone.kept().is_empty(), "nothing is kept before the answer");
    phone.tap_on(".bars .first ~ button");
    phone.chrome.expect("4500 s is over 180 s");
    phone.tap_on("#done");
    phone.until_sent(30);
    assert_eq!(office.results()[0].reading, "4500", "it takes the answer");
}

#[test]
fn the_stopwatch_goes_on_while_the_screen_is_drawn_anew() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    let unit = office.unit.0;
    let key = phone.chrome.ask(&format!(
        "const store = await import('/assets/phone/store.js');
         return (await store.unit({unit})).items.find((one) => one.answer.tool === 'stopwatch').key"
    ));
    let screen = format!("#/{unit}/i/{}", key.as_str().unwrap());
    phone.go(&screen);
    phone.tap("#stopwatch");
    for _ in 0..4 {
        std::thread::sleep(std::time::Duration::from_millis(400));
        phone
            .chrome
            .script("dispatchEvent(new HashChangeEvent('hashchange'))");
    }
    phone.go(&format!("#/{unit}"));
    phone.go(&screen);
    phone.until("return Number.parseInt(document.querySelector('#stopwatch-face').textContent, 10) >= 2");
    phone.tap("#stopwatch");
    phone.until("return Number(document.querySelector('#reading').value) >= 2");
    assert!(phone.chrome.console_errors().is_empty());
}
