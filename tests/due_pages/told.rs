//! What pages say of due items in words: the date, why it is that one, which schedule asks, and that a count opens what it counted.

use std::collections::{BTreeMap, BTreeSet};

use anglestop::domain::due::State;
use chrono::{Datelike as _, NaiveDate};
use scraper::{ElementRef, Selector};

use super::fleet::{NOW, Row, file, follow, plant};
use crate::due::command::{anglestop, out, refusal};
use crate::support::on_both;
use crate::support::server::{Answer, Server};

fn selector(css: &str) -> Selector {
    Selector::parse(css).unwrap()
}

fn text(element: ElementRef<'_>) -> String {
    let all: String = element.text().collect();
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn rows_of(answer: &Answer) -> Vec<String> {
    let page = answer.page();
    page.select(&selector("table.ledger tbody tr"))
        .map(text)
        .collect()
}

/// As people write a day; the year stands where it is another than that of the list.
fn written(day: NaiveDate) -> String {
    let form = if day.year() == 2026 {
        "%a %-d %b"
    } else {
        "%a %-d %b %Y"
    };
    day.format(form).to_string()
}

#[test]
fn every_row_of_the_list_of_a_unit_and_of_a_visit_says_the_due_date() {
    on_both(|fleet| {
        let planted = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let open: Vec<&Row> = planted.iter().filter(|row| row.state() != State::Later).collect();
        let page = manager.get("/due");
        let shown = page.page();
        let first: Vec<String> = shown
            .select(&selector("table.ledger td.shared small"))
            .map(text)
            .collect();
        assert_eq!(first.len(), 50);
        for (said, row) in first.iter().zip(&open) {
            assert!(
                said.starts_with(&format!("due {}", written(row.due))),
                "{said}: {row:?}"
            );
        }
        let sample = open[0];
        let record = manager.get(&format!("/fixtures/{}", sample.fixture_id));
        let unit = record.page();
        let unit = unit
            .select(&selector("p.trail a[href^='/units/']"))
            .next()
            .unwrap();
        let unit = unit.attr("href").unwrap().to_owned();
        let due = format!("due {}", written(sample.due));
        for address in [unit.clone(), format!("{unit}/now")] {
            let rows = rows_of(&manager.get(&address));
            assert!(
                rows.iter().any(|row| row.contains(&due)),
                "{address}: {due}: {rows:?}"
            );
        }
        let now = manager.get(&format!("{unit}/now"));
        assert!(now.body.contains("Checks that can be done today"), "{}", now.body);
    });
}

/// The words with which a basis is said.
fn reason(basis: &str) -> &'static str {
    match basis {
        "done" => "when it was last done",
        "installed" => "when it was installed",
        "imported" => "last done according to the import",
        "joined" => "when the building joined",
        other => panic!("no basis {other}"),
    }
}

#[test]
fn a_fixture_says_of_each_check_who_asks_and_from_which_day_it_counts_and_why() {
    on_both(|fleet| {
        out(&anglestop(&fleet.url, &["import", "seeds/fleet-example"]));
        let server = Server::start(&fleet.db, super::NOW);
        let manager = super::manager(fleet, &server);
        let names: BTreeMap<String, String> = fleet
            .db
            .read(anglestop::store::schedules::load_all)
            .unwrap()
            .into_iter()
            .map(|schedule| (schedule.terms.code, schedule.terms.name))
            .collect();
        let lines = file(&manager, "/due.csv?state=all");
        let planted: BTreeMap<_, _> = super::fleet::rows(fleet)
            .into_iter()
            .map(|row| ((row.building.clone(), row.unit.clone(), row.fixture.clone()), row))
            .collect();
        let mut seen = BTreeSet::new();
        for line in &lines {
            if !seen.insert(line["basis"].clone()) {
                continue;
            }
            let place = ["building", "unit", "fixture"].map(|name| line[name].clone());
            let fixture = planted[&place.into()].fixture_id;
            let rows = rows_of(&manager.get(&format!("/fixtures/{fixture}")));
            let counted = format!(
                "{}: counted from {}, {}",
                names[&line["schedule"]],
                written(line["counts_from"].parse().unwrap()),
                reason(&line["basis"])
            );
            let due = format!("due {}", written(line["due"].parse().unwrap()));
            let said = |row: &String| {
                row.starts_with(&line["title"]) && row.contains(&counted) && row.contains(&due)
            };
            assert!(rows.iter().any(said), "{counted}, {due}: {rows:#?}");
        }
        assert!(
            seen.contains("joined") && seen.contains("imported"),
            "the fleet has only {seen:?}"
        );
    });
}

#[test]
fn what_one_schedule_asks_for_is_a_list_a_file_and_a_command() {
    on_both(|fleet| {
        let planted = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let code = &planted[0].schedule;
        let theirs: Vec<&Row> = planted.iter().filter(|row| row.schedule == *code).collect();
        assert!(theirs.len() < planted.len(), "one schedule asks for everything");
        let open = theirs.iter().filter(|row| row.state() != State::Later);
        let keys: Vec<String> = open.map(|row| row.key()).collect();
        assert_eq!(follow(&manager, &format!("/due?schedule={code}")), keys);
        let lines = file(&manager, &format!("/due.csv?state=all&schedule={code}"));
        assert_eq!(lines.len(), theirs.len());
        assert!(lines.iter().all(|line| line["schedule"] == *code));
        let link = format!("/due?schedule={code}");
        assert!(manager.get(&format!("/schedules/{code}")).body.contains(&link));

        let ask = |code: &str| {
            let day = [
                "due",
                "--as-of",
                "2026-11-25",
                "--state",
                "all",
                "--format",
                "csv",
            ];
            anglestop(&fleet.url, &[&day[..], &["--schedule", code]].concat())
        };
        let printed = out(&ask(code));
        assert_eq!(printed.lines().count() - 1, theirs.len());
        assert!(refusal(&ask("nope")).contains("No schedule has the code nope"));
    });
}

#[test]
fn each_count_of_a_building_opens_as_many_rows_as_it_says() {
    on_both(|fleet| {
        let planted = plant(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let building = &planted[0].building;
        let page = manager.get(&format!("/buildings/{building}"));
        let shown = page.page();
        let mut opened = 0;
        for item in shown.select(&selector("ul.counts li")) {
            let link = item.select(&selector("a")).next().unwrap();
            let href = link.attr("href").unwrap();
            let Some(query) = href.strip_prefix("/due") else {
                continue;
            };
            let count: usize = text(item.select(&selector("b")).next().unwrap()).parse().unwrap();
            let rows = file(&manager, &format!("/due.csv{query}"));
            assert_eq!(rows.len(), count, "{} at {href}", text(link));
            opened += count;
        }
        let open = planted
            .iter()
            .filter(|row| row.building == *building && row.state() != State::Later);
        assert_eq!(opened, open.count());
    });
}

#[test]
fn a_page_says_that_it_shows_the_first_rows_and_no_other_page_says_so() {
    let fleet = crate::support::sqlite();
    let planted = plant(&fleet);
    let server = Server::start(&fleet.db, NOW);
    let manager = server.signed_in("manager");
    let open = planted.iter().filter(|row| row.state() != State::Later).count();
    let all = anglestop::language::grouped(open);
    let first = manager.get("/due");
    assert!(
        first.body.contains(&format!("The first 50 of {all}")),
        "{}",
        first.body
    );
    let page = first.page();
    let next = page.select(&selector("a[rel=next]")).next().unwrap();
    let second = manager.get(next.attr("href").unwrap());
    assert!(
        second
            .body
            .contains(&format!("50 rows on this page, {all} in all")),
        "{}",
        second.body
    );
}
