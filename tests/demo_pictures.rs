//! The invented fleet gives each picture something to show; the counts are printed.

use std::fs;
use std::path::Path;

use anglestop::domain::trade::evidence::Detail;
use anglestop::domain::trade::leak_point::Wetness;
use anglestop::exchange::evidence::from_json;
use diesel::prelude::*;
use diesel::sql_types::{BigInt, Text};

use crate::support::demo::{self, AS_OF_INSTANT};
use crate::support::server::Server;
use crate::support::{Fleet, sqlite};

#[derive(QueryableByName)]
struct Kept {
    #[diesel(sql_type = Text)]
    detail: String,
}

#[derive(QueryableByName)]
struct Counted {
    #[diesel(sql_type = BigInt)]
    count: i64,
}

fn details(fleet: &Fleet) -> Vec<Detail> {
    let rows: Vec<Kept> = fleet
        .db
        .read(|conn| Ok(diesel::sql_query("SELECT detail FROM results WHERE detail <> ''").load(conn)?))
        .unwrap();
    rows.iter().map(|row| from_json(&row.detail).unwrap()).collect()
}

fn one(fleet: &Fleet, query: &str) -> i64 {
    let row: Counted = fleet
        .db
        .read(|conn| Ok(diesel::sql_query(query).get_result(conn)?))
        .unwrap();
    row.count
}

#[test]
fn plans_trends_and_sections_of_the_demo_have_something_to_show() {
    let fleet = sqlite();
    demo::make(&fleet, 24);
    let (mut plans, mut short, mut runs, mut sections, mut wet) = (0, 0, 0, 0, 0);
    for detail in details(&fleet) {
        match detail {
            Detail::Clearance(taken) => {
                plans += 1;
                short += usize::from(taken.short().next().is_some());
            }
            Detail::Flush(_) => runs += 1,
            Detail::Leaks(seen) => {
                sections += 1;
                wet += seen
                    .points
                    .iter()
                    .filter(|point| point.state != Wetness::Dry)
                    .count();
            }
        }
    }
    println!(
        "plans {plans}, of them short {short}; flush runs {runs}; sections {sections}, wet points {wet}"
    );
    assert!(plans >= 4 && short >= 2 && runs >= 8 && sections >= 2 && wet >= 2);
    let slowing = one(
        &fleet,
        "SELECT fixture_id AS count FROM results WHERE detail LIKE '%\"measured\":\"flush\"%' GROUP BY fixture_id HAVING COUNT(*) >= 6",
    );
    let server = Server::start(&fleet.db, AS_OF_INSTANT);
    let page = server
        .signed_in("technician")
        .get(&format!("/fixtures/{slowing}/flush"))
        .body;
    assert!(
        page.contains("class=\"pic trend\"") && page.contains("leaves the usual band"),
        "{page}"
    );
    let asked = one(&fleet, "SELECT COUNT(*) AS count FROM results WHERE asked = ''");
    assert_eq!(asked, 0, "every answer keeps what was asked");
}

/// Every picture that a page draws, by its module: who sees it, a page of the demo that shows it, what of it must be there at least.
const PICTURES: [(&str, &str, &str, &str, usize); 13] = [
    // Seen when a manager asks what switching a pack would mean.
    (
        "before_after",
        "manager",
        "POST /packs/half_yearly",
        "class=\"bar\"",
        24,
    ),
    (
        "elevation",
        "manager",
        "/buildings/ALDER-HOUSE",
        "class=\"hatch",
        6,
    ),
    (
        "forecast",
        "owner",
        "/condition/ALDER-HOUSE/forecast?years=10",
        "class=\"bar\"",
        10,
    ),
    (
        "label_sheet",
        "manager",
        "/labels/sheet?building=ALDER-HOUSE",
        "class=\"label-ink bold\"",
        30,
    ),
    ("load", "manager", "/due/load", "class=\"bar\"", 50),
    (
        "plan",
        "technician",
        "/fixtures/{short}/clearance",
        "class=\"today\"",
        2,
    ),
    (
        "points",
        "technician",
        "/fixtures/{wet}/leaks",
        "class=\"point-wrong\"",
        1,
    ),
    ("shares", "owner", "/condition/ALDER-HOUSE", "class=\"thin\"", 6),
    (
        "stage_line",
        "manager",
        "/turnovers",
        "class=\"pic stage-line\"",
        1,
    ),
    (
        "trend",
        "technician",
        "/fixtures/{slowing}/flush",
        "class=\"pic trend\"",
        1,
    ),
    (
        "turnover_calendar",
        "manager",
        "/turnovers",
        "class=\"pic turnover-line\"",
        2,
    ),
    (
        "year",
        "manager",
        "/schedules/autumn_hose_bibbs",
        "class=\"today-mark\"",
        1,
    ),
    ("window_line", "manager", "/due", "class=\"pic window-line\"", 20),
];

#[test]
fn every_picture_has_something_to_show_in_the_demo() {
    let fleet = sqlite();
    demo::make(&fleet, 60);
    let found = |condition: &str| {
        let query =
            format!("SELECT fixture_id AS count FROM results WHERE {condition} ORDER BY id DESC LIMIT 1");
        one(&fleet, &query).to_string()
    };
    let places = [
        (
            "{short}",
            found("detail LIKE '%\"measured\":\"clearance\"%' AND outcome = 'fail'"),
        ),
        (
            "{wet}",
            found("detail LIKE '%\"measured\":\"leaks\"%' AND outcome = 'fail'"),
        ),
        (
            "{slowing}",
            found("detail LIKE '%\"measured\":\"flush\"%' GROUP BY fixture_id HAVING COUNT(*) >= 6"),
        ),
    ];
    let server = Server::start(&fleet.db, AS_OF_INSTANT);
    for (module, role, path, part, least) in PICTURES {
        let path = places
            .iter()
            .fold(path.to_owned(), |path, (name, key)| path.replace(name, key));
        let browser = server.signed_in(role);
        let page = match path.strip_prefix("POST ") {
            None => browser.get(&path),
            Some(path) => browser.submit("/schedules", path, &[("to", "on")]),
        };
        let count = page.body.matches(part).count();
        println!("{module}: {count} of {part} on {path}");
        assert!(count >= least, "{module}: {count}, fewer than {least} on {path}");
    }
}

/// A picture that is added is added here too.
#[test]
fn no_picture_that_a_page_draws_is_left_out() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let pages = sources(&root.join("backend/web"));
    let drawn: Vec<String> = fs::read_dir(root.join("backend/picture"))
        .unwrap()
        .map(|entry| {
            entry
                .unwrap()
                .path()
                .file_stem()
                .unwrap()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|module| {
            pages.contains(&format!("picture::{module}::{{"))
                || pages.contains(&format!("{module}::{module}"))
        })
        .collect();
    assert!(drawn.len() >= PICTURES.len(), "{drawn:?}");
    for module in drawn {
        assert!(PICTURES.iter().any(|(known, ..)| *known == module), "{module}");
    }
}

fn sources(folder: &Path) -> String {
    let mut text = String::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            text.push_str(&sources(&path));
        } else {
            text.push_str(&fs::read_to_string(&path).unwrap());
        }
    }
    text
}
