//! The rules of recording, each by its name, at the action.

use anglestop::actions::register::replace_fixture::{ReplaceFixture, replace};
use anglestop::actions::register::retire_fixture::{RetireFixture, retire};
use anglestop::actions::results::{Answer, RecordResults, record};
use anglestop::domain::register::person::{Actor, Role, Scope};
use anglestop::domain::register::{FixtureId, TurnoverId};
use anglestop::domain::result::{ClosedHow, DeficiencyStatus, Outcome};
use anglestop::domain::trade::{PartKind, Severity, TurnoverStage};
use anglestop::error::Error;
use anglestop::store::lists::record as due_rows;
use diesel::RunQueryDsl as _;
use uuid::Uuid;

use super::stage::{Stage, noon, of, of_part, read, sentences, stage};
use crate::support::on_both;

#[test]
fn a_repeat_changes_nothing_and_the_same_id_with_another_content_is_refused() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let fail = of(closet, "wc_seat", Outcome::Fail);
        let id = fail.client_id;
        let first = stage.answer("2026-11-24", fail.clone()).unwrap();
        let again = stage.answer("2026-11-25", fail.clone()).unwrap();
        assert_eq!((first.results.len(), first.already), (1, 0));
        assert_eq!((again.results.len(), again.already), (0, 1));
        assert_eq!(again.received_at, first.received_at);
        assert!(again.opened.is_empty() && again.added_to.is_empty());
        assert_eq!(stage.count("results"), 1);
        let other = Answer {
            outcome: Some(Outcome::Pass),
            ..fail
        };
        let refused = stage.answer("2026-11-25", other);
        assert!(
            matches!(&refused, Err(Error::Conflict(sentence)) if sentence.contains("new id")),
            "{refused:?}"
        );
        let another_check = Answer {
            client_id: id,
            ..of(closet, "wc_cracks", Outcome::Fail)
        };
        let refused = stage.answer("2026-11-25", another_check);
        assert!(matches!(refused, Err(Error::Conflict(_))), "{refused:?}");
        assert_eq!((stage.count("results"), stage.count("deficiencies")), (1, 1));
    });
}

#[test]
fn a_failure_opens_a_deficiency_with_its_deadline_in_clock_hours() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let wet = of_part(closet, PartKind::WaxSeal, "wc_base_dry", Outcome::Fail);
        let id = stage.opened("2026-11-24", wet);
        let one = stage.deficiency(id);
        assert_eq!(
            (one.severity, one.status),
            (Severity::Severe, DeficiencyStatus::Open)
        );
        assert_eq!(one.title, "Base dry while flushing: Wet, stained or smells");
        assert_eq!(one.opened_at, noon("2026-11-24").0);
        assert_eq!(
            one.correct_by,
            Some(noon("2026-11-25").0),
            "24 clock hours for severe (HUD NSPIRE, 88 FR 43371)"
        );
        assert_eq!(stage.events(id), ["opened"]);
    });
}

#[test]
fn the_only_water_closet_is_graver_than_one_of_two_and_than_one_in_a_common_area() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let grave = |day: &str, fixture: FixtureId| {
            let id = stage.opened(day, of(fixture, "wc_flushes", Outcome::Fail));
            stage.deficiency(id).severity
        };
        let only = stage.water_closet();
        assert_eq!(grave("2026-11-01", only), Severity::LifeThreatening);
        stage
            .answer("2026-11-02", of(only, "wc_flushes", Outcome::Pass))
            .unwrap();
        let second = stage.water_closet();
        assert_eq!(grave("2026-11-03", second), Severity::Moderate);
        // The second still does not flush, so the first is the only one that can be used.
        assert_eq!(grave("2026-11-04", only), Severity::LifeThreatening);
        let hall = stage.add(stage.hall, "water_closet", "");
        assert_eq!(grave("2026-11-05", hall), Severity::Moderate);
    });
}

#[test]
fn a_passing_re_check_closes_and_a_failing_one_adds() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let id = stage.opened("2026-11-01", of(closet, "wc_bowl_firm", Outcome::Fail));
        let again = stage
            .answer("2026-11-02", of(closet, "wc_bowl_firm", Outcome::Fail))
            .unwrap();
        assert_eq!((again.opened, again.added_to), (vec![], vec![id]));
        assert_eq!(stage.events(id), ["opened", "failed_again"]);
        let passed = stage
            .answer("2026-11-03", of(closet, "wc_bowl_firm", Outcome::Pass))
            .unwrap();
        assert_eq!(passed.closed, [id]);
        let one = stage.deficiency(id);
        assert_eq!(
            (one.status, one.closed_how),
            (DeficiencyStatus::Closed, Some(ClosedHow::Recheck))
        );
        assert_eq!(
            stage.events(id),
            ["opened", "failed_again", "recheck_passed", "closed"]
        );
    });
}

#[test]
fn a_pass_of_another_part_or_another_check_closes_nothing() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let sink = stage.add(stage.unit, "lavatory", "Hall bath");
        let check = "supply_line_sound";
        let id = stage.opened(
            "2026-11-01",
            of_part(sink, PartKind::SupplyLineHot, check, Outcome::Fail),
        );
        let cold = of_part(sink, PartKind::SupplyLineCold, check, Outcome::Pass);
        assert!(stage.answer("2026-11-02", cold).unwrap().closed.is_empty());
        assert!(stage.deficiency(id).stands());
    });
}

#[test]
fn a_failure_is_repeated_within_twelve_months_of_the_closing_and_not_after() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let fail = || of(closet, "wc_seat", Outcome::Fail);
        let pass = || of(closet, "wc_seat", Outcome::Pass);
        let first = stage.opened("2025-02-01", fail());
        stage.answer("2025-03-01", pass()).unwrap();
        let second = stage.opened("2026-03-01", fail());
        assert_eq!(
            stage.deficiency(second).repeats,
            Some(first),
            "on the anniversary"
        );
        let graver = stage.deficiency(second);
        assert_eq!(graver.own_severity, stage.deficiency(first).severity);
        assert_eq!(graver.severity, graver.own_severity.escalated());
        assert_ne!(graver.severity, graver.own_severity);
        stage.answer("2026-03-02", pass()).unwrap();
        let third = stage.opened("2027-03-03", fail());
        assert_eq!(stage.deficiency(third).repeats, None, "a day after it");
    });
}

#[test]
fn an_attempt_satisfies_nothing_and_a_pass_moves_the_due_date() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let due = || {
            fleet
                .db
                .read(|conn| {
                    let check = anglestop::store::checks::by_code(conn, "wc_bowl_firm")?
                        .unwrap()
                        .id;
                    let rows = due_rows::of_fixtures(conn, &[closet])?;
                    Ok(rows.iter().find(|row| row.check == check).unwrap().window.due())
                })
                .unwrap()
        };
        let before = due();
        stage
            .answer("2025-11-24", of(closet, "wc_bowl_firm", Outcome::NotChecked))
            .unwrap();
        assert_eq!(due(), before);
        stage
            .answer("2025-11-24", of(closet, "wc_bowl_firm", Outcome::Fail))
            .unwrap();
        assert_eq!(due().to_string(), "2026-11-24", "a year from the day it was done");
    });
}

#[test]
fn of_two_answers_the_later_done_counts_whichever_arrived_first() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        stage
            .answer("2026-11-24", of(closet, "wc_seat", Outcome::Pass))
            .unwrap();
        let late = Answer {
            done_at: Some(noon("2026-11-23").0),
            ..of(closet, "wc_seat", Outcome::Fail)
        };
        let recorded = stage.answer("2026-11-25", late).unwrap();
        assert_eq!((recorded.results.len(), recorded.opened.len()), (1, 0));
        assert_eq!(stage.count("results"), 2, "both are kept");
    });
}

#[test]
fn a_replaced_fixtures_deficiency_closes_as_replaced_only_after_the_new_one_passed() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let old = stage.water_closet();
        let id = stage.opened("2026-11-01", of(old, "wc_cracks", Outcome::Fail));
        let other = stage.opened("2026-11-01", of(old, "wc_seat", Outcome::Fail));
        let new = replace(
            &stage.db,
            &stage.manager,
            noon("2026-11-10"),
            old,
            &ReplaceFixture::default(),
        )
        .unwrap();
        assert!(
            stage.deficiency(id).stands(),
            "a replacement alone closes nothing"
        );
        let refused = stage.answer("2026-11-11", of(old, "wc_cracks", Outcome::Pass));
        assert!(sentences(refused)[0].contains("204 WC-1 is replaced"));
        stage
            .answer("2026-11-11", of(new, "wc_cracks", Outcome::Pass))
            .unwrap();
        let one = stage.deficiency(id);
        assert_eq!(
            (one.status, one.closed_how),
            (DeficiencyStatus::Closed, Some(ClosedHow::Replaced))
        );
        assert!(
            stage.deficiency(other).stands(),
            "its own check has not passed on the new one"
        );
    });
}

#[test]
fn a_reading_is_judged_by_its_limit_and_kept_as_typed() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let valve = Some(PartKind::FillValve);
        let id = stage.opened("2026-11-24", read(closet, valve, "wc_refill", "3 min 1 s"));
        assert!(stage.deficiency(id).title.contains("3 min 1 s is over 180 s"));
        let passed = stage
            .answer("2026-11-25", read(closet, valve, "wc_refill", " 180 "))
            .unwrap();
        assert_eq!(passed.closed, [id], "limits are inclusive");
        let contradiction = Answer {
            outcome: Some(Outcome::Pass),
            ..read(closet, valve, "wc_refill", "200")
        };
        let said = sentences(stage.answer("2026-11-25", contradiction));
        assert!(said[0].contains("the reading says otherwise"), "{said:?}");
    });
}

#[test]
fn what_cannot_be_recorded_is_told_in_one_pass_and_nothing_is_written() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let batch = vec![
            of(closet, "wc_seat", Outcome::Pass),
            of(closet, "heater_flue", Outcome::Pass),
            of(closet, "no_such_check", Outcome::Pass),
            of_part(closet, PartKind::TankBolts, "supply_line_sound", Outcome::Pass),
            of(closet, "wc_dye", Outcome::Pass),
            Answer {
                reason: String::new(),
                ..of(closet, "wc_cracks", Outcome::NotChecked)
            },
            read(closet, Some(PartKind::FillValve), "wc_refill", "soon"),
            Answer {
                done_at: Some(noon("2026-11-26").0),
                ..of(closet, "wc_cracks", Outcome::Pass)
            },
            Answer {
                done_at: Some(noon("2024-12-31").0),
                ..of(closet, "wc_cracks", Outcome::Pass)
            },
        ];
        let said = sentences(stage.answers("2026-11-25", batch));
        let wanted = [
            "is not asked of",
            "There is no check “no_such_check”",
            "is not asked of the tank bolts",
            "is asked of a part. Name it: flapper",
            "say why it could not be checked",
            "can't be read",
            "here it is 2026-11-25 12:00",
            "before the building joined on 2025-01-01",
        ];
        assert_eq!(said.len(), wanted.len(), "{said:#?}");
        for (sentence, part) in said.iter().zip(wanted) {
            assert!(sentence.contains(part), "{sentence} does not say {part}");
        }
        assert_eq!(stage.count("results"), 0);
    });
}

#[test]
fn a_retired_fixture_takes_no_more_results() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        retire(
            &stage.db,
            &stage.manager,
            noon("2026-11-20"),
            closet,
            &RetireFixture::default(),
        )
        .unwrap();
        let said = sentences(stage.answer("2026-11-25", of(closet, "wc_seat", Outcome::Pass)));
        assert!(said[0].contains("204 WC-1 is retired"), "{said:?}");
    });
}

#[test]
fn anothers_fixture_is_not_there_and_an_owner_may_not_record() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let as_role = |role: Role, scope: Scope| {
            let actor = Actor {
                role,
                scope,
                ..stage.technician.clone()
            };
            let batch = RecordResults {
                answers: vec![of(closet, "wc_seat", Outcome::Pass)],
                ..RecordResults::default()
            };
            record(&stage.db, &actor, noon("2026-11-25"), &batch)
        };
        let elsewhere = as_role(Role::Technician, Scope::Buildings([].into()));
        assert!(matches!(elsewhere, Err(Error::NotFound(_))), "{elsewhere:?}");
        let owner = as_role(Role::Owner, Scope::All);
        assert!(matches!(owner, Err(Error::Forbidden(_))), "{owner:?}");
        assert_eq!(stage.count("results"), 0);
    });
}

#[test]
fn a_closed_turnover_and_anothers_visit_take_nothing() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        turnover(&stage, "moved_in");
        let batch = RecordResults {
            answers: vec![of(closet, "wc_seat", Outcome::Pass)],
            turnover: Some((TurnoverId(1), TurnoverStage::Ready)),
            ..RecordResults::default()
        };
        let refused = record(&stage.db, &stage.technician, noon("2026-11-25"), &batch);
        assert!(
            matches!(&refused, Err(Error::Refused(s)) if s.contains("closed")),
            "{refused:?}"
        );
        let elsewhere = RecordResults {
            answers: vec![of(
                stage.add(stage.hall, "water_closet", ""),
                "wc_seat",
                Outcome::Pass,
            )],
            ..batch
        };
        let refused = record(&stage.db, &stage.technician, noon("2026-11-25"), &elsewhere);
        assert!(matches!(refused, Err(Error::NotFound(_))), "{refused:?}");
        assert_eq!(stage.count("results"), 0);
    });
}

fn turnover(stage: &Stage, stage_code: &str) {
    stage
        .db
        .write(|tx| {
            diesel::sql_query(format!(
                "INSERT INTO turnovers (building_id, unit_id, move_out_on, move_in_on, stage, opened_at, signed_name, note) \
                 VALUES ({}, {}, '2026-11-01', '2026-11-20', '{stage_code}', '2026-11-01 12:00:00', '', '')",
                stage.building, stage.unit
            ))
            .execute(&mut **tx)?;
            Ok(())
        })
        .unwrap();
}

#[test]
fn two_answers_under_one_id_are_refused() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let id = Uuid::new_v4();
        let twice = ["wc_seat", "wc_cracks"].map(|check| Answer {
            client_id: id,
            ..of(closet, check, Outcome::Pass)
        });
        let said = sentences(stage.answers("2026-11-25", twice.to_vec()));
        assert!(said[0].contains("stands on two answers"));
    });
}
