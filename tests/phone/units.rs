//! What a phone takes along: the checklists of its units and nothing that a stranger who finds it should read.

use anglestop::actions::register::{add_fixture, add_household};
use anglestop::domain::code::Coded as _;
use anglestop::domain::measure::{Quantity, Unit};
use anglestop::domain::register::{FixtureText, HouseholdText};
use anglestop::exchange::phone::measures::{WORDS, measures};
use diesel::RunQueryDsl as _;
use serde_json::{Value, json};

use super::stage::{NOW, Site, op, states};
use crate::results::stage::noon;
use crate::support::on_both;

#[test]
fn the_checklist_of_a_turnover_goes_along_whole_and_in_its_order() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let fetched = phone.fetch();
        assert_eq!(
            (&fetched["v"], &fetched["now"]),
            (&json!(1), &json!("2026-02-03T18:00:00.000Z"))
        );
        let units = fetched["units"].as_array().unwrap();
        assert_eq!(units.len(), 1);
        let (unit, survey) = (&units[0], site.survey());
        assert_eq!(unit["unit"]["label"], "204");
        assert_eq!(unit["turnover"]["id"], site.turnover.0);
        assert_eq!(unit["visit"], Value::Null);
        let keys: Vec<String> = survey
            .list
            .items
            .iter()
            .map(|item| {
                let part = item.key.part.map_or("", |part| part.code());
                format!(
                    "{}.{part}.{}.{}",
                    item.key.fixture, item.check.code, item.key.stage
                )
            })
            .collect();
        let items = unit["items"].as_array().unwrap();
        let seen: Vec<&str> = items.iter().map(|item| item["key"].as_str().unwrap()).collect();
        assert_eq!(seen, keys);
        let item = |code: &str| items.iter().find(|item| item["check"] == code).unwrap();
        assert_eq!(item("wc_flush_clears")["flushes"], 3);
        let refill = &item("wc_refill")["answer"];
        assert_eq!(
            (
                &refill["kind"],
                &refill["bare"],
                &refill["tool"],
                &refill["likely"]
            ),
            (
                &json!("reading"),
                &json!("s"),
                &json!("stopwatch"),
                &json!([[5, 1], [1800, 1]])
            )
        );
        assert_eq!(refill["limits"][0]["exact"], json!([180, 1]));
        let places = unit["places"].as_array().unwrap();
        let closet = places
            .iter()
            .find(|place| place["kind"] == "water_closet")
            .unwrap();
        assert!(
            closet["drawing"].as_str().unwrap().starts_with("<svg"),
            "{closet}"
        );
        assert!(closet["points"].as_str().unwrap().starts_with("1 "), "{closet}");
        assert_eq!(site.count("phone_units"), 1);
    });
}

#[test]
fn nothing_of_residents_entry_or_cost_is_on_a_phone() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let db = site.flat.db();
        let manager = &site.flat.small.manager;
        let household = HouseholdText {
            name: "MARKER-name".to_owned(),
            language: "pt-BR".to_owned(),
            contact: "MARKER-contact".to_owned(),
            agreed_hours: "MARKER-hours".to_owned(),
            no_entry_days: "MARKER-days".to_owned(),
            moved_in_on: "2026-02-03".to_owned(),
        };
        add_household::add(db, manager, noon("2026-02-03"), site.unit(), &household).unwrap();
        let failed = site.answer(
            "2026-02-03T17:59:00.000Z",
            "wc_tank_firm",
            "found",
            json!({"outcome": "fail"}),
        );
        assert_eq!(states(&site.phone().send(&site, &[failed])), ["kept"]);
        let unit = site.unit();
        db.write(|tx| {
            for statement in [
                format!(
                    "INSERT INTO visits (building_id, unit_id, on_date, technician_id, status, reason, note, created_at) \
                     VALUES (1, {unit}, '2026-02-03', 2, 'planned', '', 'MARKER-visit', '2026-02-01 15:00:00')"
                ),
                "UPDATE deficiencies SET cost_minor = 7654321, vendor = 'MARKER-vendor', detail = 'MARKER-detail'".to_owned(),
                "UPDATE fixtures SET note = 'MARKER-fixture'".to_owned(),
            ] {
                diesel::sql_query(statement).execute(&mut **tx)?;
            }
            Ok(())
        })
        .unwrap();
        let phone = site.phone();
        let text = phone.fetch().to_string();
        for word in ["MARKER", "7654321", "76543.21", "pt-BR", "household"] {
            assert!(!text.contains(word), "{word} is on the phone");
        }
        assert!(text.contains("wc_tank_firm"), "the list is there");
        let entry = phone.browser.get("/phone/entry").body;
        for line in [
            "Household: MARKER-name",
            "Agreed hours: MARKER-hours",
            "No entry: MARKER-days",
            "Note of the visit: MARKER-visit",
        ] {
            assert!(entry.contains(line), "{entry}");
        }
        assert!(!entry.contains("MARKER-contact"), "{entry}");
    });
}

#[test]
fn a_visit_takes_along_what_it_serves_and_what_is_in_its_window() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let small = &site.flat.small;
        let hall = small.add(small.hall, "water_closet", "Lobby");
        let begun = anglestop::actions::visits::start(
            site.flat.db(),
            &small.technician,
            noon("2026-02-03"),
            small.hall,
        );
        let visit = begun.unwrap().visit;
        let phone = site.phone();
        let fetched = phone.fetch();
        let units = fetched["units"].as_array().unwrap();
        let order: Vec<&str> = units
            .iter()
            .map(|unit| unit["unit"]["label"].as_str().unwrap())
            .collect();
        assert_eq!(order, ["204", "Hall"], "by floor, then by label");
        let list = &units[1];
        assert_eq!(list["visit"]["id"], visit.0);
        let items = list["items"].as_array().unwrap();
        assert!(!items.is_empty());
        assert!(
            items
                .iter()
                .all(|item| item["stage"] == "" && item["fixture"] == hall.0),
            "{items:?}"
        );
        let flush = items.iter().find(|item| item["check"] == "wc_flush_clears");
        assert!(flush.is_none_or(|flush| flush["flushes"] == 1), "{flush:?}");
        // Answered on the visit, it stays on the list with its answer.
        let first = &items[0];
        let mut answer = op(
            "answer",
            "2026-02-03T17:59:00.000Z",
            json!({"turnover": null, "visit": visit.0, "stage": ""}),
        );
        for name in ["fixture", "part", "check", "version"] {
            answer[name] = first[name].clone();
        }
        answer["outcome"] = json!("not_checked");
        answer["reason"] = json!("blocked");
        let body = json!({"v": 1, "unit": small.hall.0, "fetched_at": null, "ops": [answer]}).to_string();
        let told = super::stage::told(&phone.send_raw(&site, super::stage::id(), &body));
        assert_eq!(states(&told), ["kept"], "{told:?}");
        let again = phone.fetch();
        let item = &again["units"][1]["items"][0];
        assert_eq!(
            (&item["key"], &item["is_answered"]),
            (&first["key"], &json!(true))
        );
        assert_eq!(
            item["last"]["said"],
            "Could not check: Something stands in the way"
        );
    });
}

#[test]
fn a_phone_reads_the_units_and_words_that_the_domain_reads() {
    let all = measures();
    for unit in Unit::ALL.iter().copied() {
        let measure = &all[unit.quantity().code()][unit.code()];
        assert_eq!(
            measure.factor,
            (unit.factor().numerator(), unit.factor().denominator())
        );
        assert!(!measure.spellings.is_empty(), "{unit} has no word");
    }
    for word in WORDS {
        let read = Quantity::ALL
            .iter()
            .any(|quantity| Unit::from_word(word, *quantity).is_some());
        assert!(read, "“{word}” is read as nothing");
    }
    // Every word of the domain's own list is in this one.
    let source = include_str!("../../backend/domain/measure/unit.rs");
    let words = source.split("pub fn from_word").nth(1).unwrap();
    for line in words.lines().filter(|line| line.contains("=> Self::")) {
        for word in line.split("=>").next().unwrap().split('|') {
            let word = word
                .trim()
                .trim_start_matches('(')
                .split(", Quantity")
                .next()
                .unwrap();
            let word = word.trim_end_matches(", _)").trim();
            let word = word
                .strip_prefix('"')
                .and_then(|word| word.strip_suffix('"'))
                .unwrap_or(word);
            let word = if word == "\\\"" { "\"" } else { word };
            assert!(WORDS.contains(&word), "“{word}” is missing");
        }
    }
}

#[test]
fn every_reading_has_values_that_are_likely_and_its_limits_are_among_them() {
    use anglestop::domain::measure::Amount;
    use anglestop::domain::trade::Answer;
    use anglestop::domain::trade::likely::likely;
    let catalogue = anglestop::exchange::catalogue::builtin().unwrap();
    let mut readings = 0;
    for check in &catalogue.checks {
        let Answer::Reading { unit, limits, .. } = &check.answer else {
            assert_eq!(likely(catalogue, check), Ok(None));
            continue;
        };
        readings += 1;
        let (least, most) = likely(catalogue, check).unwrap().unwrap();
        for limit in limits {
            let bar = Amount::parse(&limit.value, *unit).unwrap();
            assert!(
                bar.compare(&least).unwrap().is_ge() && bar.compare(&most).unwrap().is_le(),
                "{}",
                check.code
            );
        }
    }
    assert!(readings >= 11, "{readings}");
}

#[test]
fn parts_that_are_wrong_or_worn_out_are_to_be_taken_along() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let answer = site.answer(
            "2026-02-03T17:59:00.000Z",
            "supply_line_sound",
            "found",
            json!({"outcome": "fail", "part": "supply_line", "note": "bulges"}),
        );
        let told = site.phone().send(&site, &[answer]);
        assert_eq!(states(&told), ["kept"], "{told:?}");
        let old = FixtureText {
            kind: "washing_machine".to_owned(),
            installed_on: "1990-01-01".to_owned(),
            ..FixtureText::default()
        };
        let command = add_fixture::AddFixture {
            room: "Kitchen".to_owned(),
            text: old,
            ..Default::default()
        };
        add_fixture::add(
            site.flat.db(),
            &site.flat.small.manager,
            noon("2026-02-03"),
            site.unit(),
            &command,
        )
        .unwrap();
        let fetched = site.phone().fetch();
        let load: Vec<String> = fetched["units"][0]["load"]
            .as_array()
            .unwrap()
            .iter()
            .map(|one| {
                format!(
                    "{} ({})",
                    one["part"].as_str().unwrap(),
                    one["place"].as_str().unwrap()
                )
            })
            .collect();
        assert!(load.contains(&"Supply line (WC-1)".to_owned()), "{load:?}");
        assert!(
            load.iter().any(|one| one.starts_with("Hose, hot (WM-1")),
            "{load:?} at {NOW}"
        );
    });
}
