//! A building's figures on an invented fleet: each opens into the rows that make it, for any day, on both databases; and the forecast at
//! the terminal says what the page says.

use std::process::Command;

use anglestop::actions::condition::{ahead, rating, together};
use anglestop::clock::Now;
use anglestop::domain::condition::score::{Method, score};
use anglestop::domain::register::person::Scope;
use anglestop::domain::trade::Severity;
use diesel::prelude::*;
use scraper::{Html, Selector};

use crate::support::demo::{self, AS_OF, AS_OF_INSTANT};
use crate::support::server::{Browser, Server};
use crate::support::{Fleet, on_both, sqlite};

const BUILDING: &str = "ALDER-HOUSE";

fn now() -> Now {
    Now(AS_OF_INSTANT.parse().unwrap())
}

fn rate(fleet: &Fleet, day: Option<&str>) -> rating::Rating {
    let day = day.map(|day| day.parse().unwrap());
    fleet
        .db
        .read(|conn| rating::rate(conn, &Scope::All, now(), BUILDING, day))
        .unwrap()
}

fn words(browser: &Browser, path: &str) -> String {
    let answer = browser.get(path);
    assert_eq!(answer.status, 200, "{path}: {}", answer.body);
    let page = Html::parse_document(&answer.body);
    let main = page.select(&Selector::parse("main").unwrap()).next().unwrap();
    main.text().collect::<Vec<_>>().join(" ")
}

#[test]
fn each_figure_is_the_sum_of_its_rows_today_and_on_a_past_day() {
    on_both(|fleet| {
        demo::make(fleet, 20);
        for day in [None, Some("2026-03-01")] {
            let found = rate(fleet, day);
            let defects: Vec<_> = found.defects().cloned().collect();
            let units = found.units_inspected();
            let scored = score(&Method::published(), &defects, units.max(1)).unwrap();
            if units > 0 {
                assert_eq!(found.score.as_ref(), Some(&scored));
            }
            let all: usize = found.shares.values().map(|share| share.all).sum();
            assert_eq!(found.share().all, all);
            assert!(all > 100, "{all}");
            let index = found.index.unwrap();
            let deferred: i64 = found.rows.iter().map(|row| row.remedy_minor).sum();
            assert_eq!(index.deferred_minor, deferred);
            assert!(index.replacement_minor > 1_000_000);
            for unit in &found.units {
                assert!(unit.answered <= unit.asked);
            }
        }
    });
}

/// The published method (88 FR 43371) weighs what failed and knows no second time.
#[test]
fn what_a_repeat_adds_to_the_severity_is_not_scored() {
    on_both(|fleet| {
        demo::make(fleet, 20);
        let before = rate(fleet, None);
        let raised = fleet
            .db
            .write(|tx| {
                let query = "UPDATE deficiencies SET own_severity = severity, severity = 'severe' WHERE severity = 'moderate'";
                Ok(diesel::sql_query(query).execute(&mut **tx)?)
            })
            .unwrap();
        let after = rate(fleet, None);
        let severe = |of: &rating::Rating| {
            let rows = of.rows.iter().filter(|row| row.open.severity == Severity::Severe);
            rows.count()
        };
        assert!(raised > 0 && severe(&after) > severe(&before));
        assert!(before.defects().count() > 0);
        assert_eq!(before.score, after.score);
    });
}

#[test]
fn a_portfolios_figures_are_those_of_all_its_buildings_on_any_day() {
    on_both(|fleet| {
        demo::make(fleet, 70);
        for day in [None, Some("2026-03-01")] {
            let as_of = day.map(|day| day.parse().unwrap());
            let (each, all) = fleet
                .db
                .read(|conn| {
                    let buildings = anglestop::store::buildings::list(conn, &Scope::All)?;
                    let mut each = Vec::new();
                    for building in &buildings {
                        let code = &building.facts.code;
                        each.push(rating::rate(conn, &Scope::All, now(), code, as_of)?);
                    }
                    Ok((each, together::rate(conn, now(), buildings, as_of)?))
                })
                .unwrap();
            assert!(each.len() > 1 && all.lines.len() == each.len());
            let defects: Vec<_> = each.iter().flat_map(rating::Rating::defects).cloned().collect();
            let inspected: u32 = each.iter().map(rating::Rating::units_inspected).sum();
            assert_eq!(all.score, score(&Method::published(), &defects, inspected).ok());
            let deferred: i64 = each
                .iter()
                .filter_map(|one| one.index)
                .map(|one| one.deferred_minor)
                .sum();
            assert_eq!(all.index.unwrap().deferred_minor, deferred);
            assert_eq!(
                all.share.all,
                each.iter().map(|one| one.share().all).sum::<usize>()
            );
            let open: usize = all.lines.iter().map(|line| line.open).sum();
            assert_eq!(open, each.iter().map(|one| one.rows.len()).sum::<usize>());
        }
    });
}

/// What is kept for today and what is computed from the ground state are the same figures.
#[test]
fn today_read_and_today_computed_agree() {
    on_both(|fleet| {
        demo::make(fleet, 20);
        let kept = rate(fleet, None);
        let (building, day) = (kept.building.id, kept.as_of);
        let computed = fleet
            .db
            .read(|conn| {
                let book = anglestop::store::schedules::book(conn)?;
                anglestop::store::lists::rating::asked(conn, building, day, Some(&book))
            })
            .unwrap();
        assert_eq!(kept.share().all, computed.len());
        let overdue = computed.iter().filter(|one| one.last_day < day).count();
        assert_eq!(kept.share().all - kept.share().current, overdue);
    });
}

#[test]
fn the_pages_show_the_figures_and_the_owner_sees_them_without_leaving_the_condition() {
    let fleet = sqlite();
    demo::make(&fleet, 24);
    let server = Server::start(&fleet.db, AS_OF_INSTANT);
    for role in ["manager", "owner"] {
        let browser = server.signed_in(role);
        let page = words(&browser, &format!("/condition/{BUILDING}/score"));
        for part in [
            "no official score",
            "Facility condition index",
            "Units inspected",
            "current",
        ] {
            assert!(page.contains(part), "{role}: {part}");
        }
        let past = words(&browser, &format!("/condition/{BUILDING}/score?as_of=2026-03-01"));
        assert!(past.contains("A past day"), "{past}");
        let ahead = words(&browser, &format!("/condition/{BUILDING}/forecast?years=10"));
        for part in [
            "All years",
            "Due in the next budget year",
            "Best age",
            "1 Jan 2027 to 31 Dec 2027",
            "built-in prices are US dollars",
        ] {
            assert!(ahead.contains(part), "{role}: {part}");
        }
        assert!(words(&browser, "/condition/score").contains("Alder House"));
        let past = words(&browser, "/condition/score?as_of=2026-03-01");
        assert!(
            past.contains("A past day") && past.contains("Alder House"),
            "{past}"
        );
        assert!(words(&browser, "/condition/forecast").contains("All years"));
        assert!(words(&browser, "/condition/lives").contains("NAHB 2007"));
        let today = words(&browser, "/condition");
        let past = words(&browser, "/condition?as_of=2026-03-01");
        assert!(!today.contains("A past day"), "{today}");
        assert!(
            past.contains("A past day") && past.contains("Sun 1 Mar") && past.contains("Alder House"),
            "{past}"
        );
        let linked = browser.get("/condition?as_of=2026-03-01").body;
        for href in ["/condition/ALDER-HOUSE", "/condition/ALDER-HOUSE.csv"] {
            assert!(
                linked.contains(&format!("href=\"{href}?as_of=2026-03-01\"")),
                "{href}: {linked}"
            );
        }
        let before = words(&browser, "/condition?as_of=1990-01-01");
        assert!(before.contains("No building was there yet."), "{before}");
        assert_eq!(browser.get("/condition?as_of=2066-01-01").status, 422);
        assert_eq!(browser.get("/condition?as_of=soon").status, 422);
        let csv = browser.get(&format!("/condition/{BUILDING}/forecast.csv"));
        assert!(csv.body.contains("mean_residual_years"), "{}", csv.body);
        let front = browser.get(&format!("/condition/{BUILDING}?as_of=2026-03-01"));
        assert!(front.body.contains("From the street") && front.body.contains("elevation-full"));
        assert_eq!(front.body.contains("href=\"#unit-"), role == "owner");
    }
    let manager = server.signed_in("manager");
    let front = words(&manager, &format!("/buildings/{BUILDING}?as_of=2026-03-01"));
    assert!(front.contains("A past day"));
    assert_eq!(
        manager
            .get(&format!("/buildings/{BUILDING}?as_of=1990-01-01"))
            .status,
        422
    );
}

#[test]
fn a_manager_puts_the_offices_own_life_and_price_in_place_and_an_owner_may_not() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AS_OF_INSTANT);
        let manager = server.signed_in("manager");
        let set = |item: &str, years: &str, cost: &str| {
            let fields = [("item", item), ("years", years), ("cost", cost)];
            manager.submit("/condition/lives", "/condition/lives", &fields)
        };
        assert_eq!(set("water_heater", "13.5", "1,800.00").status, 303);
        let page = words(&manager, "/condition/lives");
        assert!(page.contains("13.5 years") && page.contains("1,800.00"), "{page}");
        assert_eq!(set("water_heater", "0", "none").status, 422);
        assert_eq!(set("moon", "3", "").status, 422);
        assert_eq!(set("water_heater", "", "").status, 422, "nothing is given");
        assert_eq!(set("water_heater", "", "1,900").status, 303);
        let page = words(&manager, "/condition/lives");
        assert!(
            page.contains("13.5 years") && page.contains("1,900.00"),
            "the life stays: {page}"
        );
        let built_in = [("item", "water_heater"), ("built_in", "yes")];
        assert_eq!(
            manager
                .submit("/condition/lives", "/condition/lives", &built_in)
                .status,
            303
        );
        assert!(words(&manager, "/condition/lives").contains("10.7 years"));
        let bands = [("good", "4"), ("fair", "8.5"), ("poor", "25"), ("month", "7")];
        let answer = manager.submit("/condition/lives", "/condition/bands", &bands);
        assert_eq!(answer.status, 303, "{}", answer.body);
        let page = words(&manager, "/condition/lives");
        assert!(
            page.contains("fair to 8.5 %") && page.contains("month 7"),
            "{page}"
        );
        let falling = [("good", "9"), ("fair", "8"), ("poor", "25"), ("month", "13")];
        assert_eq!(
            manager
                .submit("/condition/lives", "/condition/bands", &falling)
                .status,
            422
        );
        let owner = server.signed_in("owner");
        let tried = owner.submit("/condition", "/condition/lives", &[("item", "faucet")]);
        assert_eq!(tried.status, 403);
    });
}

#[test]
fn the_terminal_forecasts_in_numbers_whose_sums_equal_their_parts() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let run = |words: &[&str]| {
            Command::new(env!("CARGO_BIN_EXE_anglestop"))
                .args(["--database", &fleet.url, "forecast", "--building"])
                .args(words)
                .output()
                .unwrap()
        };
        let output = run(&[BUILDING, "--years", "5", "--as-of", AS_OF, "--json"]);
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        let found: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        let years = found["years"].as_array().unwrap();
        let sum = |list: &serde_json::Value| -> i64 {
            let list = list.as_array().unwrap();
            list.iter().map(|one| one["cost_minor"].as_i64().unwrap()).sum()
        };
        let total = found["total"]["cost_minor"].as_i64().unwrap();
        assert_eq!(years.len(), 5);
        assert!(total > 0);
        assert_eq!(sum(&found["years"]), total);
        assert_eq!(sum(&found["kinds"]), total);
        for (words, part) in [
            (["NOWHERE", "--years", "5"], "building"),
            ([BUILDING, "--years", "0"], "1 to 30"),
            ([BUILDING, "--years", "many"], "whole number"),
        ] {
            let output = run(&words);
            assert_eq!(output.status.code(), Some(1), "{words:?}");
            assert!(output.stdout.is_empty());
            let said = String::from_utf8(output.stderr).unwrap();
            assert!(said.contains(part), "{words:?}: {said}");
        }
    });
}

#[test]
fn what_is_in_repair_counts_as_older_and_what_nobody_dated_as_old_as_it_gets() {
    let fleet = sqlite();
    demo::make(&fleet, 24);
    let found = fleet
        .db
        .read(|conn| ahead::look(conn, &Scope::All, now(), BUILDING, None, 5))
        .unwrap();
    let worn = found
        .rows
        .iter()
        .filter(|row| row.effective_age_years > row.age_years)
        .count();
    assert!(worn > 0, "the demo has nothing in repair");
    for row in &found.rows {
        assert!(row.mean_residual_years > 0.0 && row.age_years >= 0.0, "{row:?}");
        if row.installed.date().is_none() {
            assert!(row.age_years <= found.figures.lives.of[&row.item].mean_years);
        }
    }
    assert!(found.due().count() > 5 && !found.best_ages().is_empty());
}

#[test]
fn the_demo_gives_the_pictures_of_the_years_something_to_show() {
    let fleet = sqlite();
    demo::make(&fleet, 40);
    let server = Server::start(&fleet.db, AS_OF_INSTANT);
    let owner = server.signed_in("owner");
    let count = |path: &str, part: &str| owner.get(path).body.matches(part).count();
    let ten_years = format!("/condition/{BUILDING}/forecast?years=10");
    assert_eq!(count(&ten_years, "class=\"bar\""), 10, "bars of the forecast");
    let front = format!("/condition/{BUILDING}");
    assert!(
        count(&front, "class=\"hatch") > 6,
        "hatched cells of the elevation"
    );
    let score = format!("/condition/{BUILDING}/score");
    assert!(count(&score, ">inspected<") > 3, "units inspected");
    assert!(count(&score, "class=\"grave ") > 3, "open deficiencies");
}
