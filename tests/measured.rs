//! Clearances, flush tests and leak points, by page on both databases and by clicks on a phone's width; every value with its source.

use std::collections::BTreeSet;

use anglestop::domain::register::person::Scope;
use anglestop::exchange::catalogue::values;
use anglestop::store::lists::water::{Leak, leaks};

use crate::results::stage::{Stage, stage};
use crate::support::chrome::{Chrome, Scheme};
use crate::support::on_both;
use crate::support::server::{Answer, Browser, Server};
use crate::support::sqlite;

const NOW: &str = "2026-11-25T18:00:00";

fn send(browser: &Browser, page: &str, fields: &[(&str, &str)]) -> Answer {
    let shown = browser.get(page);
    assert_eq!(shown.status, 200, "{page}: {}", shown.body);
    let (token, mark) = (shown.csrf(), "name=\"client_id\" value=\"");
    let id = shown
        .body
        .split(mark)
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap()
        .to_owned();
    let mut all = vec![("csrf", token.as_str()), ("client_id", id.as_str())];
    all.extend_from_slice(fields);
    let answer = browser.send(page, &all);
    // The same form again changes nothing.
    if answer.status == 303 {
        let again = browser.send(page, &all);
        assert_eq!(again.status, 303, "{}", again.body);
    }
    answer
}

fn open_leaks(stage: &Stage) -> Vec<Leak> {
    let leaking = ["leak_points_water"];
    stage
        .db
        .read(|conn| leaks(conn, &Scope::All, Some(stage.building), &leaking))
        .unwrap()
}

fn lost_now(stage: &Stage) -> f64 {
    open_leaks(stage)[0].loss.as_ref().unwrap().gallons_a_day()
}

fn open_at(stage: &Stage) -> i64 {
    stage.count("deficiencies")
}

#[test]
fn a_short_clearance_wants_a_decision_and_is_drawn_before_it_is_recorded() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let page = format!("/fixtures/{}/clearance", stage.water_closet());
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        let measures = [("left", "15 1/8"), ("right", "14 7/8"), ("front", "22")];
        let wants = send(&technician, &page, &measures);
        assert_eq!(wants.status, 422);
        assert!(
            wants.body.contains("Something is short") && wants.body.contains(">short of 15 in<"),
            "{}",
            wants.body
        );
        assert!(wants.body.contains("value=\"14 7/8\""), "what was typed stays");
        assert_eq!(stage.count("results"), 0);
        let unsigned = [&measures[..], &[("decision", "as_found")]].concat();
        assert!(
            send(&technician, &page, &unsigned)
                .body
                .contains("Say who accepts it")
        );
        let accepted = [&unsigned[..], &[("accepted", "the office")]].concat();
        assert_eq!(send(&technician, &page, &accepted).status, 303);
        assert_eq!(
            (stage.count("results"), open_at(&stage)),
            (1, 0),
            "older work may stay as found"
        );
        let fix = [&measures[..], &[("decision", "must_fix")]].concat();
        assert_eq!(send(&technician, &page, &fix).status, 303);
        assert_eq!(open_at(&stage), 1);
        let shown = technician.get(&page).body;
        assert!(
            shown.contains("class=\"pic plan\"") && shown.contains("must be put right"),
            "{shown}"
        );
        let history = technician.get(&page.replace("/clearance", "")).body;
        assert!(
            history.contains("centreline to the right short of 15 in by 1/8 in"),
            "{history}"
        );
        assert!(
            history.contains("hold them against"),
            "what was asked is shown: {history}"
        );
        let unread = send(&technician, &page, &[("left", "about")]);
        assert!(
            unread.status == 422 && unread.body.contains("Centreline to the left"),
            "{}",
            unread.body
        );
    });
}

#[test]
fn a_flush_test_answers_four_checks_with_one_run() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let page = format!("/fixtures/{}/flush", stage.water_closet());
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        let two = [("refill-1", "40"), ("refill-2", "41")];
        let few = send(&technician, &page, &two);
        assert!(
            few.status == 422 && few.body.contains("time 3 to 6"),
            "{}",
            few.body
        );
        let run = [
            ("tank", "1.6"),
            ("refill-1", "40"),
            ("refill-2", "1:05"),
            ("refill-3", "41"),
            ("again-3", "yes"),
            ("level", "at_mark"),
        ];
        assert_eq!(send(&technician, &page, &run).status, 303);
        assert_eq!(
            (stage.count("results"), open_at(&stage)),
            (4, 1),
            "it flushed again by itself"
        );
        let shown = technician.get(&page).body;
        assert!(
            shown.contains("class=\"pic trend\"") && shown.contains("unsteady"),
            "{shown}"
        );
        assert!(
            shown.contains("refills 40 s, 1:05, 41 s") && shown.contains("of a tank of 1.6 gal"),
            "each figure as typed, a bare one with its unit: {shown}"
        );
        let form = shown.find("id=\"refill-1\"").unwrap();
        let near = shown
            .find("Mind sewage")
            .expect("the dangers stand before the form");
        let all = shown
            .find("Sewage carries disease")
            .expect("what to mind stands on the page");
        assert!(
            near < form && form < all,
            "the form comes before the long cautions"
        );
        let steady = [("refill-1", "40"), ("refill-2", "41"), ("refill-3", "43")];
        assert_eq!(send(&technician, &page, &steady).status, 303);
        let history = technician.get(&page.replace("/flush", "")).body;
        assert!(
            history.contains(">43 s<"),
            "a bare reading has its unit: {history}"
        );
    });
}

#[test]
fn a_tapped_point_is_kept_with_its_loss_and_opens_a_deficiency_when_it_is_wet() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let page = format!("/fixtures/{}/leaks", stage.water_closet());
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        assert_eq!(send(&technician, &page, &[("all_dry", "yes")]).status, 303);
        assert_eq!(
            (stage.count("results"), open_at(&stage)),
            (2, 0),
            "water and sewage apart"
        );
        let fast = [("point", "tank"), ("state", "drip"), ("per_minute", "301")];
        assert_eq!(
            send(&technician, &page, &fast).status,
            422,
            "301 a minute is a stream"
        );
        let drip = [("point", "tank"), ("state", "drip"), ("per_minute", "60")];
        assert_eq!(send(&technician, &page, &drip).status, 303);
        assert_eq!(open_at(&stage), 1);
        let shown = technician.get(&page).body;
        // 60 drips a minute at 10,000 a gallon: 8.64 gal a day (AWWA's convention).
        assert!(shown.contains("Drip, 8.64 gal"), "{shown}");
        // Once, though the form was sent twice: it adds up among the building's open leaks.
        assert_eq!(stage.count("water_losses"), 1);
        let lost = open_leaks(&stage);
        assert_eq!(lost.len(), 1);
        assert!((lost[0].loss.as_ref().unwrap().gallons_a_day() - 8.64).abs() < 0.005);
        let at_supply = [
            ("point", "supply"),
            ("state", "stream"),
            ("ounces", "8"),
            ("seconds", "45"),
        ];
        assert_eq!(send(&technician, &page, &at_supply).status, 303);
        assert_eq!(open_at(&stage), 1, "another point of the same check adds to it");
        // 8 fl oz in 45 s are 86,400 / 45 x 8 / 128 = 120 gal a day, and the drip of before runs on beside it.
        assert!((lost_now(&stage) - 128.64).abs() < 0.005);
        // A point that is dry says nothing of the others.
        let dry = |point| [("point", point), ("state", "dry")];
        assert_eq!(send(&technician, &page, &dry("shutoff")).status, 303);
        assert_eq!(stage.count("deficiencies WHERE status = 'open'"), 1);
        assert!((lost_now(&stage) - 128.64).abs() < 0.005);
        assert_eq!(send(&technician, &page, &dry("supply")).status, 303);
        assert!((lost_now(&stage) - 8.64).abs() < 0.005, "the drip alone");
        // Damp at the shutoff is not measured: once the tank is dry, its figure stands no longer.
        let damp = [("point", "shutoff"), ("state", "damp")];
        assert_eq!(send(&technician, &page, &damp).status, 303);
        assert!((lost_now(&stage) - 8.64).abs() < 0.005);
        assert_eq!(send(&technician, &page, &dry("tank")).status, 303);
        assert!(lost_now(&stage).abs() < 0.005);
        assert_eq!(send(&technician, &page, &dry("shutoff")).status, 303);
        assert_eq!(
            stage.count("deficiencies WHERE status = 'closed'"),
            1,
            "each that was wet is dry"
        );
        assert_eq!(open_leaks(&stage).len(), 0);
        let again = [("point", "tank"), ("state", "drip"), ("per_minute", "60")];
        assert_eq!(send(&technician, &page, &again).status, 303);
        assert_eq!(open_at(&stage), 2, "closed and leaking again");
        assert!(
            shown.contains("point-wrong") && shown.contains("?point=tank"),
            "{shown}"
        );
        assert_eq!(
            send(&technician, &page, &[("point", "base"), ("state", "damp")]).status,
            303
        );
        assert_eq!(open_at(&stage), 3, "sewage is graver and stands for itself");
    });
}

#[test]
fn every_value_of_the_catalogue_is_listed_with_where_it_comes_from() {
    let rows = values().unwrap();
    let files: BTreeSet<&str> = rows.iter().map(|row| row.file).collect();
    for file in [
        "clearance",
        "flush",
        "water",
        "water_closet",
        "schedules",
        "score",
        "lives",
    ] {
        assert!(files.contains(file), "{file} is not listed");
    }
    let correction = rows.iter().filter(|row| row.file == "correction");
    for row in correction {
        assert!(
            row.of.contains(" · "),
            "a time to correct says of which severity: {row:?}"
        );
    }
    for row in &rows {
        assert!(!row.of.is_empty() && !row.source.is_empty(), "{row:?}");
    }
    println!("{} values are listed", rows.len());
    assert!(rows.len() > 250);
    let fleet = sqlite();
    stage(&fleet.db);
    let server = Server::start(&fleet.db, NOW);
    let manager = server.signed_in("manager");
    let page = manager.get("/checks/values").body;
    assert!(page.contains("IPC Table 604.3") && page.contains("common practice"));
    let set = |least: &str, most: &str| {
        manager.submit(
            "/checks/values",
            "/checks/values",
            &[("usual_least", least), ("usual_most", most)],
        )
    };
    assert_eq!(set("60", "40").status, 422);
    assert_eq!(set("20", "1 min").status, 303);
    assert!(manager.get("/checks/values").body.contains("value=\"1 min\""));
}

#[test]
fn a_technician_measures_flushes_and_taps_a_leak_on_a_phone() {
    let fleet = sqlite();
    let stage = stage(&fleet.db);
    let closet = stage.water_closet();
    let server = Server::start(&fleet.db, NOW);
    let chrome = Chrome::start();
    let look = |name: &str| {
        for scheme in [Scheme::Light, Scheme::Dark] {
            chrome.show_as(320, scheme);
            let faults = chrome.faults();
            assert!(faults.is_empty(), "{name}, {scheme:?}: {faults:#?}");
            if let Ok(folder) = std::env::var("ANGLESTOP_PICTURES") {
                chrome.picture(&std::path::Path::new(&folder).join(format!("{name}-320-{scheme:?}.png")));
            }
        }
        let mut errors = chrome.console_errors();
        errors.retain(|line| !line.contains("status of 422"));
        assert_eq!(errors, Vec::<String>::new(), "{name}");
    };
    chrome.show_as(320, Scheme::Light);
    chrome.open(&format!(
        "{}/sign-in?next=%2Ffixtures%2F{closet}%2Fclearance",
        server.address
    ));
    chrome.click("form[action='/demo/sign-in/technician'] button");
    chrome.expect("Nothing is measured yet.");
    chrome.fill("#left", "15 1/8");
    chrome.fill("#right", "14 7/8");
    chrome.fill("#front", "22");
    chrome.click_text("Record the clearances");
    chrome.expect("Something is short.");
    look("clearance");
    chrome.click("#decision-2");
    chrome.click_text("Record the clearances");
    chrome.expect("Clearances recorded.");

    chrome.open(&format!("{}/fixtures/{closet}/flush", server.address));
    for (field, value) in [
        ("#tank", "1.6"),
        ("#refill-1", "45"),
        ("#refill-2", "46"),
        ("#refill-3", "44"),
    ] {
        chrome.fill(field, value);
    }
    chrome.click_text("Record the run");
    chrome.expect("Flush test recorded.");
    look("flush");

    chrome.open(&format!("{}/fixtures/{closet}/leaks", server.address));
    look("leaks");
    chrome.click("svg a[aria-label^='3,']");
    chrome.expect("Drips in a minute");
    chrome.click("label[for='state-drip']");
    chrome.fill("#per_minute", "12");
    chrome.click_text("Record what is seen");
    chrome.expect("is opened");
    look("leak-seen");
}

#[test]
fn a_distance_that_is_kept_says_nothing_of_one_that_was_short() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let page = format!("/fixtures/{}/clearance", stage.water_closet());
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        let all = [
            ("left", "16"),
            ("right", "16"),
            ("front", "19"),
            ("decision", "must_fix"),
        ];
        assert_eq!(send(&technician, &page, &all).status, 303);
        assert_eq!(stage.count("deficiencies WHERE status = 'open'"), 1);
        assert_eq!(send(&technician, &page, &[("left", "16")]).status, 303);
        assert_eq!(
            stage.count("deficiencies WHERE status = 'open'"),
            1,
            "the front is as short as it was"
        );
        assert_eq!(stage.count("results WHERE outcome = 'not_checked'"), 1);
        assert_eq!(send(&technician, &page, &[("front", "22")]).status, 303);
        assert_eq!(stage.count("deficiencies WHERE status = 'closed'"), 1);
    });
}

#[test]
fn a_tank_that_nobody_looked_into_is_no_answer_to_whether_it_is_quiet() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let page = format!("/fixtures/{}/flush", stage.water_closet());
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        let run = [
            ("tank", "1.6"),
            ("refill-1", "45"),
            ("refill-2", "44"),
            ("refill-3", "46"),
        ];
        let quiet = "results WHERE check_id = (SELECT id FROM checks WHERE code = 'wc_runs_on')";
        assert_eq!(send(&technician, &page, &run).status, 303);
        assert_eq!(stage.count(quiet), 0);
        let looked = [&run[..], &[("level", "at_mark")]].concat();
        assert_eq!(send(&technician, &page, &looked).status, 303);
        assert_eq!(stage.count(quiet), 1);
    });
}

/// Three earlier ones for 10, 20 and 30: the middle one, on both databases.
#[test]
fn what_a_repair_costs_is_the_middle_of_earlier_ones_here() {
    use anglestop::actions::water::{Instead, known};
    use anglestop::domain::result::Outcome;
    use diesel::RunQueryDsl as _;

    use crate::results::stage::of;
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        for (cost, month) in [(1_000, 1), (3_000, 2), (2_000, 3)] {
            let closet = stage.water_closet();
            let id = stage.opened(&format!("2026-0{month}-01"), of(closet, "wc_seat", Outcome::Fail));
            stage
                .answer(&format!("2026-0{month}-02"), of(closet, "wc_seat", Outcome::Pass))
                .unwrap();
            stage
                .db
                .write(|tx| {
                    let query = format!("UPDATE deficiencies SET cost_minor = {cost} WHERE id = {id}");
                    diesel::sql_query(query).execute(&mut **tx)?;
                    Ok(())
                })
                .unwrap();
        }
        let closet = stage.water_closet();
        let id = stage.opened("2026-06-01", of(closet, "wc_seat", Outcome::Fail));
        let one = stage.deficiency(id);
        let found = stage
            .db
            .read(|conn| {
                known(
                    conn,
                    &one,
                    "2026-06-02".parse().unwrap(),
                    None,
                    Instead::default(),
                )
            })
            .unwrap();
        assert_eq!(found.known.repair_minor, Some(2_000), "{:?}", found.from);
    });
}

/// 60 drips a minute from a trap are a leak and no loss from the supply; from the faucet they are 8.64 gal a day.
#[test]
fn water_from_a_drain_is_a_leak_and_costs_nothing() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let page = format!(
            "/fixtures/{}/leaks",
            stage.add(stage.unit, "lavatory", "Hall bath")
        );
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        let drips = |point| [("point", point), ("state", "drip"), ("per_minute", "60")];
        assert_eq!(send(&technician, &page, &drips("trap")).status, 303);
        assert_eq!((open_at(&stage), stage.count("water_losses")), (1, 0));
        assert!(
            !technician.get(&page).body.contains("gal or"),
            "nothing is reckoned"
        );
        assert_eq!(send(&technician, &page, &drips("faucet")).status, 303);
        assert!((lost_now(&stage) - 8.64).abs() < 0.005);
    });
}

#[test]
fn a_bare_volume_of_a_tank_is_in_the_units_of_the_building() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let page = format!("/fixtures/{}/flush", stage.water_closet());
        let server = Server::start(&fleet.db, NOW);
        let technician = server.signed_in("technician");
        stage
            .db
            .write(|tx| {
                use diesel::RunQueryDsl as _;
                diesel::sql_query("UPDATE buildings SET length_unit = 'mm'").execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        let run = [
            ("tank", "6"),
            ("refill-1", "60"),
            ("refill-2", "60"),
            ("refill-3", "60"),
        ];
        assert_eq!(send(&technician, &page, &run).status, 303);
        let shown = technician.get(&page).body;
        // 6 L in a minute are 6 / 3.785411784 = 1.59 gal a minute.
        assert!(
            shown.contains("a tank of 6 L") && shown.contains("1.59 gal/min"),
            "{shown}"
        );
    });
}
