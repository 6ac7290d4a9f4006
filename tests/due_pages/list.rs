//! The list itself: what a filter keeps, that pages lose and repeat nothing, who sees what, what the counts say.

use std::collections::BTreeMap;

use anglestop::domain::due::State;
use diesel::RunQueryDsl as _;

use super::fleet::{NOW, Row, file, follow, keys, order, plant, rows};
use crate::support::on_both;
use crate::support::server::{Answer, Server};

fn keys_of<'r>(rows: impl IntoIterator<Item = &'r Row>) -> Vec<String> {
    rows.into_iter().map(Row::key).collect()
}

fn open(row: &&Row) -> bool {
    row.state() != State::Later
}

#[test]
fn every_row_that_can_be_done_today_stands_once_over_the_pages_the_most_overdue_first() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        assert_eq!(follow(&manager, "/due"), keys_of(rows.iter().filter(open)));
    });
}

#[test]
fn by_building_every_row_stands_once_in_the_order_of_codes_and_the_most_overdue_of_each_first() {
    on_both(|fleet| {
        let mut rows = plant(fleet);
        rows.sort_by(|a, b| (&a.building, order(a)).cmp(&(&b.building, order(b))));
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let shown = follow(&manager, "/due?order=building");
        assert_eq!(shown, keys_of(rows.iter().filter(open)));
        let later = follow(&manager, "/due?order=building&state=later&kind=water_heater");
        let expected = rows
            .iter()
            .filter(|row| row.state() == State::Later && row.kind == "water_heater");
        assert_eq!(later, keys_of(expected));
    });
}

#[test]
fn a_state_is_judged_on_the_date_of_each_building() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        for state in State::ALL {
            let code = state.code();
            let expected: Vec<&Row> = rows.iter().filter(|row| row.state() == state).collect();
            assert!(!expected.is_empty(), "the fleet has nothing {code}");
            let file = file(&manager, &format!("/due.csv?state={code}"));
            assert_eq!(file.len(), expected.len(), "{code}");
            assert!(file.iter().all(|row| row["state"] == code), "{code}");
        }
        let all = file(&manager, "/due.csv?state=all");
        assert_eq!(all.len(), rows.len());
    });
}

#[test]
fn each_filter_keeps_its_rows_and_no_other_and_several_keep_what_all_keep() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let sample = rows
            .iter()
            .find(|row| row.state() == State::Overdue && row.technician.is_some());
        let sample = sample.unwrap().clone();
        let technician = sample.technician.unwrap();
        type Keeps = Box<dyn Fn(&Row, &Row) -> bool>;
        let filters: Vec<(String, Keeps)> = vec![
            (
                format!("building={}", sample.building),
                Box::new(|row, sample| row.building == sample.building),
            ),
            (
                format!("unit={}", sample.unit),
                Box::new(|row, sample| row.unit == sample.unit),
            ),
            (
                format!("kind={}", sample.kind),
                Box::new(|row, sample| row.kind == sample.kind),
            ),
            (
                format!("check={}", sample.check),
                Box::new(|row, sample| row.check == sample.check),
            ),
            (
                format!("schedule={}", sample.schedule),
                Box::new(|row, sample| row.schedule == sample.schedule),
            ),
            (
                format!("technician={technician}"),
                Box::new(|row, sample| row.technician == sample.technician),
            ),
            (
                format!("severity={}", sample.severity),
                Box::new(|row, sample| row.severity == sample.severity),
            ),
        ];
        for (query, keeps) in &filters {
            let expected = rows.iter().filter(open).filter(|row| keeps(row, &sample));
            assert_eq!(
                follow(&manager, &format!("/due?{query}")),
                keys_of(expected),
                "{query}"
            );
        }
        let together: Vec<&str> = filters.iter().map(|(query, _)| query.as_str()).collect();
        let expected = rows
            .iter()
            .filter(|row| row.state() == State::Overdue)
            .filter(|row| filters.iter().all(|(_, keeps)| keeps(row, &sample)));
        let address = format!("/due?state=overdue&{}", together.join("&"));
        assert_eq!(follow(&manager, &address), keys_of(expected));
    });
}

#[test]
fn what_nobody_is_named_for_is_found_as_unassigned() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let building = &rows[0].building;
        fleet
            .db
            .write(|tx| {
                diesel::sql_query(format!(
                    "UPDATE buildings SET technician_id = NULL WHERE code = '{building}'"
                ))
                .execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let expected = rows.iter().filter(open).filter(|row| row.building == *building);
        assert_eq!(follow(&manager, "/due?technician=nobody"), keys_of(expected));
        assert!(manager.get("/due?technician=nobody").body.contains("unassigned"));
    });
}

#[test]
fn the_file_holds_the_rows_of_the_pages_in_their_order() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let by_key: BTreeMap<String, &Row> = rows.iter().map(|row| (row.key(), row)).collect();
        for query in ["?state=overdue", "?order=building&kind=lavatory"] {
            let pages = follow(&manager, &format!("/due{query}"));
            let file = file(&manager, &format!("/due.csv{query}"));
            assert_eq!(file.len(), pages.len(), "{query}");
            for (line, key) in file.iter().zip(&pages) {
                let row = by_key[key];
                let said = ["building", "unit", "fixture", "part", "check"].map(|name| line[name].as_str());
                let wanted = [&row.building, &row.unit, &row.fixture, &row.part, &row.check];
                assert_eq!(said, wanted.map(String::as_str));
                assert_eq!(line["last_day"], row.last_day.to_string());
                let over = (row.today() - row.last_day).num_days().max(0);
                assert_eq!(line["days_overdue"], over.to_string());
            }
        }
    });
}

/// A figure above the list, by the word beneath it.
fn figure(answer: &Answer, word: &str) -> i64 {
    let selector = scraper::Selector::parse("ul.counts li").unwrap();
    let page = answer.page();
    let found = page.select(&selector).find_map(|item| {
        let text: Vec<&str> = item
            .text()
            .map(str::trim)
            .filter(|text| !text.is_empty())
            .collect();
        (text[1] == word).then(|| text[0].replace(',', "").parse().unwrap())
    });
    found.unwrap_or_else(|| panic!("no figure {word} on {}", answer.body))
}

#[test]
fn the_counts_are_those_of_the_rows_and_follow_a_change_at_once() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let count = |rows: &[Row], state| {
            let found = rows.iter().filter(|row| row.state() == state).count();
            i64::try_from(found).unwrap()
        };
        let words = [
            (State::Overdue, "overdue"),
            (State::Due, "due"),
            (State::InWindow, "in the window"),
        ];
        // Twice, so that the second answer comes from what was kept.
        for _ in 0..2 {
            let page = manager.get("/due");
            for (state, word) in words {
                assert_eq!(figure(&page, word), count(&rows, state), "{word}");
            }
        }
        let late = rows
            .iter()
            .find(|row| row.state() == State::Overdue && row.part.is_empty());
        let late = late.unwrap();
        let address = format!("/fixtures/{}/record?check={}", late.fixture_id, late.check);
        record_pass(&manager, &address);
        let now = super::fleet::rows(fleet);
        let page = manager.get("/due");
        assert!(count(&now, State::Overdue) < count(&rows, State::Overdue));
        assert_eq!(figure(&page, "overdue"), count(&now, State::Overdue));
    });
}

/// Records a pass, with a figure where one is asked.
fn record_pass(browser: &crate::support::server::Browser, address: &str) {
    let page = browser.get(address);
    let ask = scraper::Selector::parse("input[name=ask]").unwrap();
    let key = page
        .page()
        .select(&ask)
        .next()
        .unwrap_or_else(|| panic!("nothing is asked at {address}: {}", page.body))
        .attr("value")
        .unwrap()
        .to_owned();
    let number = key.split(' ').next().unwrap();
    let (outcome, reading) = (format!("outcome-{number}"), format!("reading-{number}"));
    let hidden = scraper::Selector::parse("input[type=hidden]").unwrap();
    let document = page.page();
    let mut fields: Vec<(String, String)> = document
        .select(&hidden)
        .map(|field| {
            let of = |name| field.attr(name).unwrap_or_default().to_owned();
            (of("name"), of("value"))
        })
        .collect();
    let asks_reading = page.body.contains(&format!("name=\"{reading}\""));
    fields.push(if asks_reading {
        (reading, "60".to_owned())
    } else {
        (outcome, "pass".to_owned())
    });
    let fields: Vec<(&str, &str)> = fields.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
    let to = address.split('?').next().unwrap();
    let answer = browser.send(to, &fields);
    assert_eq!(answer.status, 303, "{}", answer.body);
}

#[test]
fn a_technician_sees_the_rows_of_their_buildings_alone() {
    on_both(|fleet| {
        let planted = plant(fleet);
        let theirs: Vec<String> = {
            let codes = fleet.db.read(|conn| {
                #[derive(diesel::QueryableByName)]
                struct Code {
                    #[diesel(sql_type = diesel::sql_types::Text)]
                    code: String,
                }
                let codes: Vec<Code> = diesel::sql_query(
                    "SELECT b.code AS code FROM buildings b JOIN person_buildings p ON p.building_id = b.id \
                     WHERE p.person_id = (SELECT MIN(id) FROM people WHERE role = 'technician')",
                )
                .load(conn)?;
                Ok(codes.into_iter().map(|row| row.code).collect())
            });
            codes.unwrap()
        };
        let elsewhere = planted.iter().find(|row| !theirs.contains(&row.building));
        let elsewhere = elsewhere.expect("every building is theirs").building.clone();
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        let expected = planted
            .iter()
            .filter(open)
            .filter(|row| theirs.contains(&row.building));
        assert_eq!(follow(&technician, "/due"), keys_of(expected));
        assert_eq!(technician.get(&format!("/due?building={elsewhere}")).status, 404);
        assert_eq!(
            technician.get(&format!("/due.csv?building={elsewhere}")).status,
            404
        );
        let file = file(&technician, "/due.csv?state=all");
        assert!(file.iter().all(|row| theirs.contains(&row["building"])));
    });
}

#[test]
fn a_technician_without_a_building_sees_nothing() {
    on_both(|fleet| {
        plant(fleet);
        fleet
            .db
            .write(|tx| {
                diesel::sql_query("DELETE FROM person_buildings").execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        let page = technician.get("/due?state=all");
        assert!(keys(&page).is_empty() && page.body.contains("Nothing is due here."));
        assert!(file(&technician, "/due.csv?state=all").is_empty());
        assert_eq!(figure(&page, "overdue"), 0);
    });
}

#[test]
fn what_is_no_filter_is_told() {
    let fleet = crate::support::sqlite();
    plant(&fleet);
    let server = Server::start(&fleet.db, NOW);
    let manager = server.signed_in("manager");
    for (query, sentence) in [
        ("state=late", "it is one of overdue, due, in_window, later, all"),
        ("kind=sink", "is not a fixture kind"),
        ("check=wc", "There is no check"),
        ("schedule=weekly", "There is no schedule"),
        ("technician=rosa", "names nobody we know"),
        ("severity=bad", "is not a severity"),
        ("order=name", "it is one of last_day, building"),
        ("after=2026", "Go back to the first rows"),
    ] {
        let page = manager.get(&format!("/due?{query}"));
        assert_eq!(page.status, 422, "{query}");
        assert!(page.body.contains(sentence), "{query}: {}", page.body);
    }
    assert_eq!(manager.get("/due?building=NOWHERE").status, 404);
}

#[test]
fn ticked_rows_of_one_unit_become_a_visit_and_of_two_units_a_sentence() {
    let fleet = crate::support::sqlite();
    plant(&fleet);
    let server = Server::start(&fleet.db, NOW);
    let manager = server.signed_in("manager");
    let all = rows(&fleet);
    let one = all.iter().find(|row| row.state() == State::Overdue).unwrap();
    let same = all
        .iter()
        .find(|row| row.fixture_id == one.fixture_id && row.key() != one.key())
        .unwrap();
    let other = all
        .iter()
        .find(|row| row.building == one.building && row.unit != one.unit)
        .unwrap();
    let (one_key, same_key, other_key) = (one.key(), same.key(), other.key());
    let both = [("item", one_key.as_str()), ("item", same_key.as_str())];
    let led = manager.submit("/due", "/visits/new", &both);
    assert_eq!(led.status, 303, "{}", led.body);
    let form = manager.get(&led.location);
    let ticked = scraper::Selector::parse("input[name=item][checked]").unwrap();
    assert_eq!(form.page().select(&ticked).count(), 2, "{}", led.location);
    let apart = [("item", one_key.as_str()), ("item", other_key.as_str())];
    let refused = manager.submit("/due", "/visits/new", &apart);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("are in 2 units"), "{}", refused.body);
    let none = manager.submit("/due", "/visits/new", &[]);
    assert_eq!(none.status, 422);
    assert!(none.body.contains("No row is ticked"));
}
