//! The calendar of a building by page: closed days are changed in a form that keeps what was typed, and due dates follow.

use std::collections::HashMap;

use anglestop::store::{due, schedules};
use chrono::{Datelike as _, NaiveDate, Weekday};
use scraper::Selector;

use super::fleet::{NOW, file, plant};
use crate::support::server::{Answer, Browser, Server};
use crate::support::{Fleet, on_both};

const HOUSE: &str = "ALDER-HOUSE";

/// The address of the form that changes closed days, by their name.
fn edit(manager: &Browser, building: &str, name: &str) -> String {
    let page = manager.get(&format!("/buildings/{building}/calendar")).page();
    let links = Selector::parse("tbody th a").unwrap();
    let mut links = page.select(&links);
    let link = links.find(|link| link.text().collect::<String>() == format!("Change {name}"));
    link.unwrap_or_else(|| panic!("{name} can't be changed"))
        .attr("href")
        .unwrap()
        .to_owned()
}

/// The value of a field of a form; of radios the one that is chosen.
fn value(answer: &Answer, name: &str) -> String {
    let css = format!("input[name={name}]:not([type=radio]), input[name={name}][checked]");
    let page = answer.page();
    let found = page.select(&Selector::parse(&css).unwrap()).next();
    found
        .unwrap_or_else(|| panic!("no field {name}"))
        .attr("value")
        .unwrap()
        .to_owned()
}

fn values(answer: &Answer) -> [String; 6] {
    ["kind", "name", "start", "days", "repeats", "rule"].map(|name| value(answer, name))
}

fn due_dates(manager: &Browser, building: &str) -> Vec<HashMap<String, String>> {
    file(manager, &format!("/due.csv?state=all&building={building}"))
}

fn assert_verified(fleet: &Fleet) {
    let differences = fleet.db.read(|conn| {
        let book = schedules::book(conn)?;
        let mut found = Vec::new();
        for building in
            anglestop::store::buildings::list(conn, &anglestop::domain::register::person::Scope::All)?
        {
            found.extend(due::differences(conn, &book, building.id)?);
        }
        Ok(found)
    });
    assert_eq!(differences.unwrap(), []);
}

#[test]
fn closed_days_are_shown_as_they_are_and_changed_and_due_dates_follow() {
    on_both(|fleet| {
        plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let address = edit(&manager, HOUSE, "Veterans Day");
        let form = manager.get(&address);
        assert_eq!(
            values(&form),
            ["public_holiday", "Veterans Day", "2024-11-11", "1", "yearly", ""]
        );

        // A date that was not moved yet, on a Monday to Thursday, so that the day after is a working day or moved itself.
        let day_of = |line: &HashMap<String, String>| line["due"].parse::<NaiveDate>().unwrap();
        let before = due_dates(&manager, HOUSE);
        let asked = |line: &&HashMap<String, String>| {
            line["check"] == "supply_line_sound" && line["moved_from"].is_empty()
        };
        let early = |day: &NaiveDate| !matches!(day.weekday(), Weekday::Fri | Weekday::Sat | Weekday::Sun);
        let day = before.iter().filter(asked).map(day_of).find(early).unwrap();
        let once = [
            ("kind", "shut_down"),
            ("name", "Inspection of the risers"),
            ("start", &day.to_string()),
            ("days", ""),
            ("repeats", "once"),
            ("rule", ""),
        ];
        let done = manager.submit(&address, &address, &once);
        assert_eq!(
            (done.status, done.location.as_str()),
            (303, "/buildings/ALDER-HOUSE/calendar")
        );
        let told = manager.get(&done.location).body;
        let after = due_dates(&manager, HOUSE);
        let (mut moved, mut stood) = (0, 0);
        for (was, is) in by_row(&before, &after) {
            let is_asked = asked(&was) && day_of(was) == day;
            assert_eq!(is_asked, is["moved_from"] == day.to_string(), "{is:?}");
            if is_asked {
                moved += 1;
                assert!(day_of(is) > day, "{is:?}");
            } else if was["moved_from"].is_empty() {
                stood += 1;
                assert_eq!(was["due"], is["due"]);
            }
        }
        assert!(moved > 0 && stood > 0, "{moved} moved, {stood} stood");
        let dates = by_row(&before, &after).into_iter();
        let other = dates.filter(|(was, is)| was["due"] != is["due"]).count();
        assert!(
            told.contains(&format!("Inspection of the risers is saved. {other} due date")),
            "{told}"
        );
        assert_verified(fleet);
        let again = manager.get(&edit(&manager, HOUSE, "Inspection of the risers"));
        assert_eq!(
            values(&again),
            [
                "shut_down",
                "Inspection of the risers",
                &day.to_string(),
                "1",
                "once",
                ""
            ]
        );
    });
}

/// The rows of a file before and after, each with itself.
fn by_row<'f>(
    before: &'f [HashMap<String, String>],
    after: &'f [HashMap<String, String>],
) -> Vec<(&'f HashMap<String, String>, &'f HashMap<String, String>)> {
    let key =
        |line: &HashMap<String, String>| ["unit", "fixture", "part", "check"].map(|name| line[name].clone());
    let known: HashMap<_, _> = after.iter().map(|line| (key(line), line)).collect();
    assert_eq!(known.len(), before.len());
    before.iter().map(|line| (line, known[&key(line)])).collect()
}

#[test]
fn what_can_t_be_used_comes_back_as_it_was_typed_with_a_sentence_at_each_field() {
    on_both(|fleet| {
        plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let address = edit(&manager, HOUSE, "Thanksgiving Day");
        let form = manager.get(&address);
        assert_eq!(value(&form, "repeats"), "rule");
        assert_eq!(value(&form, "rule"), "FREQ=YEARLY;BYMONTH=11;BYDAY=4TH");
        let typed = [
            ("kind", "public_holiday"),
            ("name", ""),
            ("start", "26 November"),
            ("days", "none"),
            ("repeats", "yearly"),
            ("rule", ""),
        ];
        let again = manager.submit(&address, &address, &typed);
        assert_eq!(again.status, 422);
        assert_eq!(values(&again), typed.map(|(_, value)| value.to_owned()));
        for field in ["name", "start", "days"] {
            let wrong = Selector::parse(&format!("#{field}[aria-invalid=true]")).unwrap();
            assert!(
                again.page().select(&wrong).next().is_some(),
                "{field}: {}",
                again.body
            );
        }
        let page = manager.get("/buildings/ALDER-HOUSE/calendar");
        assert!(page.body.contains("Thanksgiving Day"), "nothing was changed");

        let twice = [
            ("kind", "public_holiday"),
            ("name", "Juneteenth"),
            ("start", "2024-06-19"),
            ("repeats", "yearly"),
        ];
        let refused = manager.submit(&address, &address, &twice);
        assert_eq!(refused.status, 422);
        assert!(
            refused.body.contains("Juneteenth is there already."),
            "{}",
            refused.body
        );
    });
}

#[test]
fn closed_days_are_changed_at_their_own_building_alone() {
    on_both(|fleet| {
        plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let address = edit(&manager, HOUSE, "Labor Day");
        let other = file(&manager, "/due.csv?state=all");
        let other = other.iter().find(|line| line["building"] != HOUSE).unwrap();
        let elsewhere = address.replace(HOUSE, &other["building"]);
        assert_ne!(elsewhere, address);
        assert_eq!(manager.get(&elsewhere).status, 404);
        let typed = [
            ("name", "Labor Day"),
            ("start", "2024-09-02"),
            ("repeats", "once"),
        ];
        assert_eq!(manager.submit(&address, &elsewhere, &typed).status, 404);
        assert_eq!(value(&manager.get(&address), "repeats"), "rule");
    });
}
