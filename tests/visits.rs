//! Visits by hand, on both databases: planning with notice, "I am in this unit now", closing as done, without access or cancelled.

use anglestop::actions::results::{RecordResults, record};
use anglestop::actions::visits::{NoAccess, PlanVisit, cancel, done, no_access, plan, start};
use anglestop::clock::Now;
use anglestop::domain::register::person::Actor;
use anglestop::domain::register::{FixtureId, VisitId};
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::{PartKind, Severity};
use anglestop::domain::visit::{Service, Visit, VisitStatus};
use anglestop::error::{Error, Result};
use anglestop::store::lists::record::{self as due_rows, DueRow};
use anglestop::store::{Db, results, visits};
use chrono::NaiveDate;

use crate::results::stage::{Stage, noon, of, stage};
use crate::support::on_both;
use crate::support::server::Server;

/// Noon in Chicago on 25 Nov 2026.
const NOW: &str = "2026-11-25T18:00:00";

fn today() -> Now {
    noon("2026-11-25")
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Everything that comes due in unit 204, the earliest window first.
fn due(stage: &Stage) -> Vec<DueRow> {
    let mut rows = stage.db.read(|conn| due_rows::of_unit(conn, stage.unit)).unwrap();
    rows.sort_by_key(|row| (row.window.opens(), row.fixture, row.part, row.check));
    rows
}

fn service(row: &DueRow) -> Service {
    Service::Check {
        fixture: row.fixture,
        part: row.part,
        check: row.check,
    }
}

/// A visit to unit 204 in two days by the technician, for the first two checks.
fn planned(stage: &Stage) -> PlanVisit {
    PlanVisit {
        unit: stage.unit,
        on_date: day("2026-11-27"),
        technician: stage.technician.person,
        services: due(stage).iter().take(2).map(service).collect(),
        earlier_because: String::new(),
        note: String::new(),
    }
}

fn visit(stage: &Stage, id: VisitId) -> Visit {
    stage
        .db
        .read(|conn| visits::find(conn, &stage.manager.scope, id))
        .unwrap()
}

fn served(db: &Db, id: VisitId) -> Vec<Service> {
    db.read(|conn| visits::services(conn, id)).unwrap()
}

/// The sentence about one field of a refusal.
fn refusal<T: std::fmt::Debug>(answer: Result<T>, field: &str) -> String {
    match answer {
        Err(Error::Fields(errors)) => errors
            .iter()
            .find(|error| error.field == field)
            .unwrap_or_else(|| panic!("{field} is not refused: {errors:?}"))
            .message
            .clone(),
        other => panic!("not a refusal of fields: {other:?}"),
    }
}

#[test]
fn a_household_is_given_its_notice_unless_it_is_said_why_not() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        let early = PlanVisit {
            on_date: day("2026-11-25"),
            ..planned(&stage)
        };
        let sentence = refusal(plan(&stage.db, &stage.manager, today(), &early), "on_date");
        assert!(
            sentence.contains("notice of 24 h, so enter not before Thu 26 Nov, 12:00"),
            "{sentence}"
        );
        let agreed = PlanVisit {
            earlier_because: "agreed by telephone".to_owned(),
            ..early.clone()
        };
        let id = plan(&stage.db, &stage.manager, today(), &agreed).unwrap();
        assert_eq!(
            visit(&stage, id).note,
            "Earlier than the notice of 24 h: agreed by telephone"
        );
        // On the day on which the notice ends it may be planned; the hour is told on the form.
        let next = PlanVisit {
            on_date: day("2026-11-26"),
            ..early
        };
        plan(&stage.db, &stage.manager, today(), &next).unwrap();
    });
}

#[test]
fn where_nobody_lives_no_notice_is_needed() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.add(stage.hall, "floor_drain", "");
        let rows = stage.db.read(|conn| due_rows::of_unit(conn, stage.hall)).unwrap();
        let now = PlanVisit {
            unit: stage.hall,
            on_date: day("2026-11-25"),
            services: rows.iter().map(service).collect(),
            ..planned(&stage)
        };
        plan(&stage.db, &stage.manager, today(), &now).unwrap();
    });
}

#[test]
fn a_day_that_has_passed_or_is_far_off_somebody_from_elsewhere_and_nothing_to_do_are_refused() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        let attempt = |change: &dyn Fn(&mut PlanVisit)| {
            let mut command = planned(&stage);
            change(&mut command);
            plan(&stage.db, &stage.manager, today(), &command)
        };
        let passed = attempt(&|command| command.on_date = day("2026-11-24"));
        assert!(refusal(passed, "on_date").starts_with("Tue 24 Nov has passed"));
        let far = attempt(&|command| command.on_date = day("2028-01-01"));
        assert!(refusal(far, "on_date").contains("more than 400 days ahead"));
        let nothing = attempt(&|command| command.services.clear());
        assert!(refusal(nothing, "items").starts_with("Nothing is chosen"));
        let not_due = attempt(&|command| {
            command.services.push(Service::Check {
                fixture: FixtureId(9_999),
                part: None,
                check: anglestop::domain::register::CheckId(1),
            });
        });
        assert!(refusal(not_due, "items").contains("does not come due in this unit"));
        stage.send_the_technician_elsewhere();
        let elsewhere = attempt(&|_| {});
        assert!(refusal(elsewhere, "technician").contains("does not work in Alder House"));
    });
}

#[test]
fn nobody_plans_or_reads_a_visit_of_a_building_they_do_not_see() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        let id = plan(&stage.db, &stage.manager, today(), &planned(&stage)).unwrap();
        let elsewhere = Actor {
            scope: anglestop::domain::register::person::Scope::Buildings([].into()),
            ..stage.technician.clone()
        };
        let attempts = [
            plan(&stage.db, &elsewhere, today(), &planned(&stage)).map(|_| ()),
            done(&stage.db, &elsewhere, today(), id),
            cancel(&stage.db, &elsewhere, today(), id, ""),
            start(&stage.db, &elsewhere, today(), stage.unit).map(|_| ()),
        ];
        for attempt in attempts {
            assert!(matches!(attempt, Err(Error::NotFound(_))), "{attempt:?}");
        }
        let owner = Actor {
            role: anglestop::domain::register::person::Role::Owner,
            ..stage.manager.clone()
        };
        assert!(matches!(
            done(&stage.db, &owner, today(), id),
            Err(Error::Forbidden(_))
        ));
        assert_eq!(visit(&stage, id).status, VisitStatus::Planned);
    });
}

#[test]
fn in_this_unit_now_makes_one_visit_with_all_that_is_in_its_window_and_goes_on_with_it() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        // Everything of 204 has come round by the end of 2026.
        let now = noon("2026-12-30");
        let rows = due(&stage);
        let open = rows.iter().filter(|row| row.window.opens() <= day("2026-12-30"));
        let begun = start(&stage.db, &stage.technician, now, stage.unit).unwrap();
        assert_eq!(served(&stage.db, begun.visit).len(), open.count());
        let made = visit(&stage, begun.visit);
        assert_eq!(
            (made.on_date, made.technician),
            (day("2026-12-30"), stage.technician.person)
        );
        let deficiency = report(&stage, now);
        let again = start(&stage.db, &stage.technician, now, stage.unit).unwrap();
        assert_eq!(again.visit, begun.visit);
        assert_eq!(again.services, begun.services + 1);
        assert!(served(&stage.db, begun.visit).contains(&Service::Repair(deficiency)));
        let third = start(&stage.db, &stage.technician, now, stage.unit).unwrap();
        assert_eq!(third, again);
        assert_eq!(stage.count("visits"), 1);
        let other = start(&stage.db, &stage.manager, now, stage.unit).unwrap();
        assert_ne!(
            other.visit, begun.visit,
            "a visit of somebody else is not taken over"
        );
    });
}

fn report(stage: &Stage, now: Now) -> anglestop::domain::register::DeficiencyId {
    use anglestop::actions::deficiencies::report::{Report, report};
    let said = Report {
        unit: stage.unit,
        title: "Drip under the basin".to_owned(),
        severity: Some(Severity::Moderate),
        tag: None,
        detail: String::new(),
    };
    report(&stage.db, &stage.manager, now, &said).unwrap()
}

#[test]
fn a_planned_visit_of_mine_is_gone_on_with_and_one_left_over_becomes_today_s() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        let id = plan(&stage.db, &stage.manager, today(), &planned(&stage)).unwrap();
        let later = noon("2026-12-01");
        let begun = start(&stage.db, &stage.technician, later, stage.unit).unwrap();
        assert_eq!(begun.visit, id);
        assert_eq!(visit(&stage, id).on_date, day("2026-12-01"));
    });
}

#[test]
fn an_empty_unit_has_nothing_to_start() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let refused = start(&stage.db, &stage.technician, today(), stage.unit);
        assert!(
            matches!(&refused, Err(Error::Refused(sentence)) if sentence.contains("No check can be done in unit 204 today")),
            "{refused:?}"
        );
        assert_eq!(stage.count("visits"), 0);
    });
}

#[test]
fn no_access_keeps_each_unanswered_check_as_not_checked_and_all_stay_due() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let command = PlanVisit {
            services: due(&stage).iter().map(service).collect(),
            ..planned(&stage)
        };
        let id = plan(&stage.db, &stage.manager, today(), &command).unwrap();
        let then = noon("2026-11-27");
        let answered = RecordResults {
            answers: vec![of(closet, "wc_bowl_firm", Outcome::Pass)],
            visit: Some(id),
            ..RecordResults::default()
        };
        record(&stage.db, &stage.technician, then, &answered).unwrap();
        let before = due(&stage);
        let why = NoAccess {
            offered: "nobody_home".to_owned(),
            text: "knocked twice".to_owned(),
        };
        no_access(&stage.db, &stage.technician, then, id, &why).unwrap();
        let closed = visit(&stage, id);
        assert_eq!(closed.status, VisitStatus::NoAccess);
        assert_eq!(closed.reason, "Nobody at home: knocked twice");
        assert_eq!(due(&stage), before, "an attempt moved a due date");
        let kept = stage.db.read(|conn| results::of_visit(conn, id)).unwrap();
        assert_eq!(kept.len(), command.services.len());
        let (attempts, answers): (Vec<_>, Vec<_>) = kept
            .iter()
            .map(|(_, entry)| entry)
            .partition(|entry| entry.outcome == Outcome::NotChecked);
        assert_eq!(answers.len(), 1);
        assert!(
            attempts
                .iter()
                .all(|entry| entry.reason.contains("No access: Nobody at home: knocked twice"))
        );
        assert_eq!(stage.count("deficiencies"), 0);
    });
}

#[test]
fn no_access_needs_a_reason_and_its_day() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        let id = plan(&stage.db, &stage.manager, today(), &planned(&stage)).unwrap();
        let then = noon("2026-11-27");
        let silent = no_access(&stage.db, &stage.technician, then, id, &NoAccess::default());
        assert!(refusal(silent, "no_access_reason").starts_with("No reason is given"));
        let why = NoAccess {
            offered: "key".to_owned(),
            text: String::new(),
        };
        let early = no_access(&stage.db, &stage.technician, today(), id, &why);
        assert!(matches!(&early, Err(Error::Refused(sentence)) if sentence.contains("Fri 27 Nov")));
        assert_eq!(stage.count("results"), 0);
    });
}

#[test]
fn a_part_that_was_taken_out_meanwhile_is_left_out_of_an_attempt() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        let of_wax: Vec<Service> = due(&stage)
            .iter()
            .filter(|row| row.part == Some(PartKind::WaxSeal))
            .map(service)
            .collect();
        assert!(!of_wax.is_empty());
        let command = PlanVisit {
            services: of_wax,
            ..planned(&stage)
        };
        let id = plan(&stage.db, &stage.manager, today(), &command).unwrap();
        stage
            .db
            .write(|tx| {
                use diesel::RunQueryDsl as _;
                diesel::sql_query("UPDATE parts SET status = 'retired' WHERE kind = 'wax_seal'")
                    .execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        let why = NoAccess {
            offered: "alarm".to_owned(),
            text: String::new(),
        };
        no_access(&stage.db, &stage.technician, noon("2026-11-27"), id, &why).unwrap();
        assert_eq!(stage.count("results"), 0);
    });
}

#[test]
fn a_closed_visit_is_closed_once() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        let then = noon("2026-11-27");
        let id = plan(&stage.db, &stage.manager, today(), &planned(&stage)).unwrap();
        done(&stage.db, &stage.technician, then, id).unwrap();
        assert_eq!(visit(&stage, id).status, VisitStatus::Done);
        let why = NoAccess {
            offered: "key".to_owned(),
            text: String::new(),
        };
        let attempts = [
            done(&stage.db, &stage.technician, then, id),
            cancel(&stage.db, &stage.manager, then, id, ""),
            no_access(&stage.db, &stage.technician, then, id, &why),
        ];
        for attempt in attempts {
            assert!(
                matches!(&attempt, Err(Error::Conflict(sentence)) if sentence.contains("closed already as “done”")),
                "{attempt:?}"
            );
        }
    });
}

#[test]
fn a_visit_is_planned_shown_recorded_and_closed_by_page() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let chosen = manager.get("/visits/new?building=ALDER&label=204");
        assert!(
            chosen.body.contains("enter not before Thu 26 Nov, 12:00"),
            "{}",
            chosen.body
        );
        let unknown = manager.get("/visits/new?building=ALDER&label=999");
        assert_eq!(unknown.status, 422);
        assert!(unknown.body.contains("Alder House has no unit 999"));
        let unit = stage.unit.to_string();
        let from = format!("/visits/new?unit={unit}");
        let key = due(&stage)
            .iter()
            .find(|row| row.fixture == closet && row.part.is_none())
            .map(|row| format!("{}..{}", row.fixture, row.check))
            .unwrap();
        let technician = stage.technician.person.unwrap().to_string();
        let mut fields = vec![
            ("unit", unit.as_str()),
            ("on_date", "tomorrow"),
            ("technician", technician.as_str()),
            ("item", key.as_str()),
            ("note", "Key at the office"),
        ];
        let refused = manager.submit(&from, "/visits", &fields);
        assert_eq!(refused.status, 422);
        assert!(refused.body.contains("tomorrow") && refused.body.contains("Key at the office"));
        assert!(
            refused.body.contains(&format!("value=\"{key}\" checked")),
            "{}",
            refused.body
        );
        fields[1] = ("on_date", "2026-11-27");
        let planned = manager.submit(&from, "/visits", &fields);
        assert_eq!(planned.status, 303, "{}", planned.body);
        let list = manager.get("/visits").body;
        assert!(
            list.contains("Fri 27 Nov, in 2 days") && list.contains("Rosa Vance"),
            "{list}"
        );
        let visit = planned.location.trim_start_matches("/visits/").to_owned();
        let technician = server.signed_in("technician");
        let page = technician.get(&planned.location);
        assert!(page.body.contains("Key at the office"));
        assert!(page.body.contains(&format!("/units/{unit}/record?visit={visit}")));
        let code = stage
            .db
            .read(|conn| anglestop::store::checks::by_id(conn, due_check(&key)))
            .unwrap()
            .unwrap();
        let answered = RecordResults {
            answers: vec![of(closet, code.check.code.as_str(), Outcome::Fail)],
            visit: Some(VisitId(visit.parse().unwrap())),
            ..RecordResults::default()
        };
        record(&stage.db, &stage.technician, today(), &answered).unwrap();
        let page = technician.get(&planned.location).body;
        assert!(
            page.contains("1 of 1 recorded") && page.contains("failed · 12:00"),
            "{page}"
        );
        let closed = technician.submit(&planned.location, &format!("/visits/{visit}/done"), &[]);
        assert_eq!(closed.status, 303);
        assert!(manager.get("/visits").body.contains("Lately closed"));
        assert!(
            manager
                .get("/visits?state=done")
                .body
                .contains("Wed 25 Nov, today")
        );
    });
}

fn due_check(key: &str) -> anglestop::domain::register::CheckId {
    anglestop::domain::register::CheckId(key.rsplit('.').next().unwrap().parse().unwrap())
}

#[test]
fn every_planned_visit_stands_once_over_the_pages_by_day() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        stage.water_closet();
        for number in 0..120 {
            let command = PlanVisit {
                on_date: day("2026-11-27") + chrono::Days::new(number * 7 % 30),
                ..planned(&stage)
            };
            plan(&stage.db, &stage.manager, today(), &command).unwrap();
        }
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let (mut found, mut next) = (Vec::new(), Some("/visits".to_owned()));
        while let Some(address) = next {
            let answer = manager.get(&address);
            let page = answer.page();
            let links = scraper::Selector::parse(".ledger td.end a").unwrap();
            found.extend(
                page.select(&links)
                    .map(|link| link.attr("href").unwrap().to_owned()),
            );
            let more = scraper::Selector::parse("a[rel=next]").unwrap();
            next = page
                .select(&more)
                .next()
                .map(|link| link.attr("href").unwrap().to_owned());
        }
        let days: Vec<(NaiveDate, i64)> = found
            .iter()
            .map(|href| {
                let id = href.trim_start_matches("/visits/").parse().unwrap();
                (visit(&stage, VisitId(id)).on_date, id)
            })
            .collect();
        assert_eq!(days.len(), 120);
        assert!(days.is_sorted() && days.windows(2).all(|pair| pair[0] != pair[1]));
    });
}
