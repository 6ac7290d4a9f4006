//! The invented fleet gives each picture something to show; the counts are printed.

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
