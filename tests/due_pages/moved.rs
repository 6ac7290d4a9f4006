//! A due date that was moved says on the list, in the file and on the page of its unit where it was moved from, and why.

use std::collections::BTreeMap;

use chrono::{Datelike as _, NaiveDate, Weekday};
use diesel::RunQueryDsl as _;
use diesel::sql_types::{BigInt, Date, Nullable, Text};
use scraper::{ElementRef, Selector};

use super::fleet::{NOW, Row, file, plant};
use crate::support::Fleet;
use crate::support::on_both;
use crate::support::server::{Answer, Browser, Server};

/// A stored row with the date before it was moved.
#[derive(Debug, diesel::QueryableByName)]
struct Stored {
    #[diesel(sql_type = BigInt)]
    fixture_id: i64,
    #[diesel(sql_type = Text)]
    part: String,
    #[diesel(sql_type = BigInt)]
    check_id: i64,
    #[diesel(sql_type = BigInt)]
    unit_id: i64,
    #[diesel(sql_type = Nullable<Date>)]
    moved_from: Option<NaiveDate>,
}

/// The date before each row was moved, and its unit, by the row's key.
fn stored(fleet: &Fleet) -> BTreeMap<String, (Option<NaiveDate>, i64)> {
    let sql = "SELECT fixture_id, part, check_id, unit_id, moved_from FROM due_items";
    let rows: Vec<Stored> = fleet
        .db
        .read(|conn| Ok(diesel::sql_query(sql).load(conn)?))
        .unwrap();
    let key = |row: &Stored| format!("{}.{}.{}", row.fixture_id, row.part, row.check_id);
    rows.iter()
        .map(|row| (key(row), (row.moved_from, row.unit_id)))
        .collect()
}

/// What a row says of its move, by the key in its box, over all pages.
fn said(browser: &Browser, address: &str) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut next = Some(address.to_owned());
    while let Some(address) = next {
        let answer = browser.get(&address);
        assert_eq!(answer.status, 200, "{address}");
        let page = answer.page();
        for row in page.select(&selector("table.ledger tr")) {
            let Some(key) = row.select(&selector("input[name=item]")).next() else {
                continue;
            };
            let key = key.attr("value").unwrap().to_owned();
            found.insert(key, small(row));
        }
        let link = page.select(&selector("a[rel=next]")).next();
        next = link.map(|link| link.attr("href").unwrap().to_owned());
    }
    found
}

fn small(row: ElementRef<'_>) -> String {
    let moved = row.select(&selector(".shared small")).next();
    moved.map(|moved| moved.text().collect()).unwrap_or_default()
}

fn selector(css: &str) -> Selector {
    Selector::parse(css).unwrap()
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
fn a_row_whose_date_was_moved_says_from_where_and_no_other_does() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let stored = stored(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let said = said(&manager, "/due?state=all&check=supply_line_sound");
        let asked: Vec<&Row> = rows
            .iter()
            .filter(|row| row.check == "supply_line_sound")
            .collect();
        assert_eq!(said.len(), asked.len());
        let (mut moved, mut weekends) = (0, 0);
        let due: BTreeMap<String, NaiveDate> = asked.iter().map(|row| (row.key(), row.due)).collect();
        for (key, words) in &said {
            let due = format!("due {}", written(due[key]));
            let Some(from) = stored[key].0 else {
                assert_eq!(*words, due, "{key} was not moved");
                continue;
            };
            moved += 1;
            let why = words.strip_prefix(&format!("{due}, moved from {}: ", written(from)));
            let why = why.unwrap_or_else(|| panic!("{key}, from {from}: {words:?}"));
            if matches!(from.weekday(), Weekday::Sat | Weekday::Sun) {
                weekends += 1;
            } else {
                let named = why.starts_with("public holiday ") || why.starts_with("shut-down period ");
                assert!(named, "{from}: {why}");
            }
        }
        assert!(
            weekends > 0 && weekends < moved && moved < said.len(),
            "{weekends} {moved} {}",
            said.len()
        );
    });
}

#[test]
fn the_file_has_the_date_before_it_was_moved_in_a_column_of_its_own() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let stored = stored(fleet);
        let server = Server::start(&fleet.db, NOW);
        let file = file(&server.signed_in("manager"), "/due.csv?state=all");
        assert_eq!(file.len(), rows.len());
        let mut moved = 0;
        for (line, row) in file.iter().zip(&rows) {
            let from = stored[&row.key()].0;
            moved += usize::from(from.is_some());
            assert_eq!(
                line["moved_from"],
                from.map(|day| day.to_string()).unwrap_or_default()
            );
            assert_eq!(line["due"], row.due.to_string());
        }
        assert!(moved > 0);
    });
}

#[test]
fn the_page_of_a_unit_says_it_in_the_same_words_as_the_list() {
    on_both(|fleet| {
        let rows = plant(fleet);
        let stored = stored(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let said = said(&manager, "/due?check=supply_line_sound");
        let open = |row: &&Row| row.opens <= row.today() && stored[&row.key()].0.is_some();
        let row = rows.iter().find(open).unwrap();
        let words = &said[&row.key()];
        assert!(words.contains(", moved from "), "{words:?}");
        let unit: Answer = manager.get(&format!("/units/{}", stored[&row.key()].1));
        let page = unit.page();
        let on_page: Vec<String> = page.select(&selector("table.ledger tr")).map(small).collect();
        assert!(on_page.contains(words), "{words:?} is not among {on_page:?}");
    });
}
