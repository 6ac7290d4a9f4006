//! An invented fleet in several time zones at an hour when they have different dates, and its due rows read straight from the tables.

use anglestop::actions;
use anglestop::clock::Now;
use anglestop::demo::Scenario;
use anglestop::domain::due::{State, Window};
use chrono::NaiveDate;
use diesel::sql_types::{BigInt, Date, Nullable, Text};
use diesel::{QueryableByName, RunQueryDsl as _};

use crate::support::Fleet;
use crate::support::server::{Answer, Browser};

/// 00:30 on 25 Nov in New York, still 24 Nov in Chicago and west of it.
pub const NOW: &str = "2026-11-25T05:30:00";

/// A due row with everything that a filter looks at.
#[derive(Debug, Clone, PartialEq, QueryableByName)]
pub struct Row {
    #[diesel(sql_type = Text)]
    pub building: String,
    #[diesel(sql_type = Text)]
    pub zone: String,
    #[diesel(sql_type = Text)]
    pub unit: String,
    #[diesel(sql_type = Text)]
    pub fixture: String,
    #[diesel(sql_type = Text)]
    pub kind: String,
    #[diesel(sql_type = Text)]
    pub part: String,
    #[diesel(sql_type = Text)]
    pub check: String,
    #[diesel(sql_type = Text)]
    pub schedule: String,
    #[diesel(sql_type = Text)]
    pub severity: String,
    #[diesel(sql_type = Nullable<BigInt>)]
    pub technician: Option<i64>,
    #[diesel(sql_type = Date)]
    pub opens: NaiveDate,
    #[diesel(sql_type = Date)]
    pub due: NaiveDate,
    #[diesel(sql_type = Date)]
    pub last_day: NaiveDate,
    #[diesel(sql_type = BigInt)]
    pub fixture_id: i64,
    #[diesel(sql_type = BigInt)]
    pub check_id: i64,
}

impl Row {
    /// The date in its building now.
    pub fn today(&self) -> NaiveDate {
        Now(NOW.parse().unwrap()).date_in(self.zone.parse().unwrap())
    }

    /// Its state there.
    pub fn state(&self) -> State {
        Window::from_days(self.opens, self.due, self.last_day)
            .unwrap()
            .state(self.today())
    }

    /// As the page's boxes name it.
    pub fn key(&self) -> String {
        format!("{}.{}.{}", self.fixture_id, self.part, self.check_id)
    }
}

/// Makes the fleet and answers its due rows, the earliest last day first, as the list orders them.
pub fn plant(fleet: &Fleet) -> Vec<Row> {
    let scenario = Scenario::new(36, 5, "2026-11-25".parse().unwrap()).unwrap();
    let now = Now("2026-11-25T16:00:00".parse().unwrap());
    actions::demo::make(&fleet.db, now, &scenario, |_, _| {}).unwrap();
    let rows = rows(fleet);
    let dates: std::collections::BTreeSet<NaiveDate> = rows.iter().map(Row::today).collect();
    assert!(dates.len() > 1, "the fleet has one date only");
    assert!(rows.len() > 1_000, "{} rows are few", rows.len());
    rows
}

/// The due rows as they stand in the tables.
pub fn rows(fleet: &Fleet) -> Vec<Row> {
    fleet
        .db
        .read(|conn| {
            let rows = diesel::sql_query(
                "SELECT b.code AS building, b.time_zone AS zone, u.label AS unit, t.label AS fixture, f.kind AS kind, d.part AS part, \
                 c.code AS \"check\", c.severity AS severity, s.code AS schedule, COALESCE(s.technician_id, b.technician_id) AS technician, \
                 d.opens AS opens, d.due AS due, d.last_day AS last_day, d.fixture_id AS fixture_id, d.check_id AS check_id \
                 FROM due_items d JOIN buildings b ON b.id = d.building_id JOIN units u ON u.id = d.unit_id \
                 JOIN fixtures f ON f.id = d.fixture_id JOIN tags t ON t.id = f.tag_id JOIN checks c ON c.id = d.check_id \
                 JOIN schedules s ON s.id = d.schedule_id",
            )
            .load::<Row>(conn)?;
            Ok(rows)
        })
        .map(|mut rows| {
            rows.sort_by(|a, b| order(a).cmp(&order(b)));
            rows
        })
        .unwrap()
}

/// What the list is ordered by.
pub fn order(row: &Row) -> (NaiveDate, i64, &str, i64) {
    (row.last_day, row.fixture_id, &row.part, row.check_id)
}

/// Every row of a list in the order of its pages, by following "Next rows".
pub fn follow(browser: &Browser, address: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut next = Some(address.to_owned());
    while let Some(address) = next {
        let answer = browser.get(&address);
        assert_eq!(answer.status, 200, "{address}: {}", answer.body);
        let keys = keys(&answer);
        assert!(keys.len() <= 50, "{} rows on {address}", keys.len());
        found.extend(keys);
        next = next_page(&answer);
    }
    found
}

/// The keys of the rows of one page.
pub fn keys(answer: &Answer) -> Vec<String> {
    let boxes = scraper::Selector::parse("input[name=item]").unwrap();
    let page = answer.page();
    page.select(&boxes)
        .map(|found| found.attr("value").unwrap().to_owned())
        .collect()
}

fn next_page(answer: &Answer) -> Option<String> {
    let link = scraper::Selector::parse("a[rel=next]").unwrap();
    let page = answer.page();
    page.select(&link)
        .next()
        .map(|found| found.attr("href").unwrap().to_owned())
}

/// The rows of a file as fields by the name of their column.
pub fn file(browser: &Browser, address: &str) -> Vec<std::collections::HashMap<String, String>> {
    let answer = browser.get(address);
    assert_eq!(answer.status, 200, "{address}");
    let text = answer.body.trim_start_matches('\u{feff}');
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}
