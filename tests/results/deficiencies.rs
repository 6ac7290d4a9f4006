//! What is done with a deficiency: reported, assigned, repaired, re-checked, noted, and until when.

use anglestop::actions::condition;
use anglestop::actions::deficiencies::times::{self, Times};
use anglestop::actions::deficiencies::{
    self as acts, Assign, Assignee, Note, Rechecked, Repaired, Report, assign, repaired, report,
};
use anglestop::actions::register::move_fixture::{MoveFixture, relocate};
use anglestop::actions::register::replace_fixture::{ReplaceFixture, replace};
use anglestop::actions::results::Answer;
use anglestop::domain::register::person::{Actor, Scope};
use anglestop::domain::register::{DeficiencyId, PersonId};
use anglestop::domain::result::{DeficiencyStatus, Origin, Outcome};
use anglestop::domain::trade::{Escalation, Severity};
use anglestop::error::Error;
use anglestop::store::lists::deficiencies::{self as list, By, Filter, Status};

use super::stage::{Stage, noon, of, stage};
use crate::support::on_both;

fn reported(stage: &Stage, day: &str, severity: Severity) -> DeficiencyId {
    let command = Report {
        unit: stage.unit,
        tag: None,
        title: "Water under the kitchen sink".to_owned(),
        detail: String::new(),
        severity: Some(severity),
    };
    report(&stage.db, &stage.technician, noon(day), &command).unwrap()
}

#[test]
fn a_report_opens_a_deficiency_judged_by_who_takes_it_down() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let id = reported(&stage, "2026-11-01", Severity::Moderate);
        let one = stage.deficiency(id);
        assert_eq!((one.origin, one.severity), (Origin::Report, Severity::Moderate));
        // 30 days, at the same time of day in Chicago.
        assert_eq!(one.correct_by, Some(noon("2026-12-01").0));
        let empty = Report {
            unit: stage.unit,
            tag: None,
            title: " ".to_owned(),
            detail: String::new(),
            severity: None,
        };
        let refused = report(&stage.db, &stage.technician, noon("2026-11-01"), &empty);
        assert!(
            matches!(&refused, Err(Error::Fields(errors)) if errors.len() == 2),
            "{refused:?}"
        );
    });
}

#[test]
fn it_is_assigned_to_somebody_who_works_there_or_to_a_licensed_vendor() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let deficiency = reported(&stage, "2026-11-01", Severity::Low);
        let to = |to: Assignee| {
            let command = Assign { deficiency, to };
            assign(&stage.db, &stage.manager, noon("2026-11-02"), &command)
        };
        to(Assignee::Person(stage.technician.person.unwrap())).unwrap();
        assert_eq!(stage.deficiency(deficiency).assignee, stage.technician.person);
        to(Assignee::Vendor("Northgate Gas Fitters".to_owned())).unwrap();
        let one = stage.deficiency(deficiency);
        assert_eq!(
            (one.assignee, one.vendor.as_str()),
            (None, "Northgate Gas Fitters")
        );
        assert!(matches!(
            to(Assignee::Person(PersonId(99))),
            Err(Error::Fields(_))
        ));
        assert!(matches!(
            to(Assignee::Vendor(String::new())),
            Err(Error::Fields(_))
        ));
        assert_eq!(stage.events(deficiency), ["opened", "assigned", "assigned"]);
    });
}

#[test]
fn a_repair_waits_for_its_re_check_and_a_failing_one_opens_it_again() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let deficiency = stage.opened("2026-11-01", of(closet, "wc_seat", Outcome::Fail));
        let repair = |minutes: &str, cost: &str| {
            let command = Repaired {
                deficiency,
                parts_used: "seat with hinges".to_owned(),
                minutes: minutes.to_owned(),
                cost: cost.to_owned(),
                note: String::new(),
            };
            repaired(&stage.db, &stage.technician, noon("2026-11-02"), &command)
        };
        let refused = repair("soon", "84,50");
        assert!(
            matches!(&refused, Err(Error::Fields(errors)) if errors.len() == 2),
            "{refused:?}"
        );
        repair("35", "84.50").unwrap();
        let one = stage.deficiency(deficiency);
        assert_eq!(one.status, DeficiencyStatus::Repaired);
        assert_eq!((one.minutes, one.cost_minor), (Some(35.0), Some(8_450)));
        let again = stage.recheck("2026-11-03", deficiency, Outcome::Fail).unwrap();
        assert_eq!(again, Rechecked::FailedAgain);
        assert_eq!(stage.deficiency(deficiency).status, DeficiencyStatus::Open);
        let nobody_in = stage
            .recheck("2026-11-04", deficiency, Outcome::NotChecked)
            .unwrap();
        assert_eq!(nobody_in, Rechecked::NotChecked);
        let passed = stage.recheck("2026-11-05", deficiency, Outcome::Pass).unwrap();
        assert_eq!(passed, Rechecked::Closed);
        assert_eq!(stage.count("results"), 4, "a re-check is a result like any other");
        let closed = repair("5", "");
        assert!(
            matches!(&closed, Err(Error::Refused(s)) if s.contains("is closed")),
            "{closed:?}"
        );
        assert_eq!(
            stage.events(deficiency),
            [
                "opened",
                "repaired",
                "failed_again",
                "missed",
                "recheck_passed",
                "closed"
            ]
        );
    });
}

#[test]
fn a_report_is_closed_by_what_was_seen_since_no_check_found_it() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let id = reported(&stage, "2026-11-01", Severity::Low);
        assert_eq!(
            stage.recheck("2026-11-02", id, Outcome::Fail).unwrap(),
            Rechecked::FailedAgain
        );
        assert_eq!(
            stage.recheck("2026-11-03", id, Outcome::Pass).unwrap(),
            Rechecked::Closed
        );
        assert_eq!(stage.count("results"), 0);
        assert_eq!(
            stage.events(id),
            ["opened", "failed_again", "recheck_passed", "closed"]
        );
    });
}

#[test]
fn a_note_grows_the_history_even_of_a_closed_one() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let id = reported(&stage, "2026-11-01", Severity::Low);
        stage.recheck("2026-11-03", id, Outcome::Pass).unwrap();
        let say = |note: &str| {
            let command = Note {
                deficiency: id,
                note: note.to_owned(),
            };
            acts::note(&stage.db, &stage.technician, noon("2026-11-04"), &command)
        };
        say("The resident called again: all dry.").unwrap();
        assert!(matches!(say("  "), Err(Error::Fields(_))));
        assert_eq!(stage.events(id).last().unwrap(), "noted");
        assert!(!stage.deficiency(id).stands());
    });
}

#[test]
fn the_programme_of_the_office_sets_the_deadline_and_only_a_manager_chooses_it() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let own = vec![(Severity::Severe, "72 h".to_owned())];
        let chosen = Times {
            programme: "voucher".to_owned(),
            own,
            escalation: Escalation::OneGrade,
        };
        let now = noon("2026-11-01");
        let refused = times::choose(&stage.db, &stage.technician, now, &chosen);
        assert!(matches!(refused, Err(Error::Forbidden(_))));
        times::choose(&stage.db, &stage.manager, now, &chosen).unwrap();
        let low = reported(&stage, "2026-11-02", Severity::Low);
        assert_eq!(
            stage.deficiency(low).correct_by,
            None,
            "voucher programmes pass a low one"
        );
        let severe = reported(&stage, "2026-11-02", Severity::Severe);
        assert_eq!(stage.deficiency(severe).correct_by, Some(noon("2026-11-05").0));
        let soon = Times {
            programme: "default".to_owned(),
            own: vec![(Severity::Low, "soon".to_owned())],
            escalation: Escalation::OneGrade,
        };
        let refused = times::choose(&stage.db, &stage.manager, now, &soon);
        assert!(
            matches!(&refused, Err(Error::Fields(errors)) if errors[0].field == "low"),
            "{refused:?}"
        );
    });
}

#[test]
fn the_list_is_by_deadline_within_what_may_be_seen_and_pages_by_key() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let low = reported(&stage, "2026-11-01", Severity::Low);
        let moderate = reported(&stage, "2026-11-02", Severity::Moderate);
        let severe = reported(&stage, "2026-11-03", Severity::Severe);
        let closed = reported(&stage, "2026-11-03", Severity::Severe);
        stage.recheck("2026-11-03", closed, Outcome::Pass).unwrap();
        let ask = |actor: &Actor, filter: &Filter, after, limit| {
            let scope: Scope = actor.scope.clone();
            let rows = fleet
                .db
                .read(|conn| list::list(conn, &scope, filter, after, limit))
                .unwrap();
            rows.iter()
                .map(|row| (row.correct_by, row.id))
                .collect::<Vec<_>>()
        };
        let ids = |rows: &[(_, DeficiencyId)]| rows.iter().map(|(_, id)| *id).collect::<Vec<_>>();
        let all = ask(&stage.technician, &Filter::default(), None, 50);
        assert_eq!(ids(&all), [severe, moderate, low]);
        let first = ask(&stage.technician, &Filter::default(), None, 1);
        let rest = ask(&stage.technician, &Filter::default(), first.last().copied(), 50);
        assert_eq!(ids(&rest), [moderate, low]);
        let only = Filter {
            status: Status::Only(DeficiencyStatus::Closed),
            assignee: Some(By::Nobody),
            severity: Some(Severity::Severe),
            building: Some(stage.building),
        };
        assert_eq!(ids(&ask(&stage.manager, &only, None, 50)), [closed]);
        let elsewhere = Actor {
            scope: Scope::Buildings([].into()),
            ..stage.technician.clone()
        };
        assert!(ask(&elsewhere, &Filter::default(), None, 50).is_empty());
        let hidden = fleet
            .db
            .read(|conn| anglestop::store::deficiencies::find(conn, &elsewhere.scope, low));
        assert!(matches!(hidden, Err(Error::NotFound(_))));
    });
}

#[test]
fn a_failure_seen_before_the_repair_and_recorded_after_it_leaves_the_repair() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let deficiency = stage.opened("2026-11-01", of(closet, "wc_seat", Outcome::Fail));
        let command = Repaired {
            deficiency,
            parts_used: String::new(),
            minutes: String::new(),
            cost: String::new(),
            note: String::new(),
        };
        repaired(&stage.db, &stage.technician, noon("2026-11-05"), &command).unwrap();
        let seen = |day: &str| Answer {
            done_at: Some(noon(day).0),
            ..of(closet, "wc_seat", Outcome::Fail)
        };
        stage.answer("2026-11-06", seen("2026-11-03")).unwrap();
        assert_eq!(stage.deficiency(deficiency).status, DeficiencyStatus::Repaired);
        stage.answer("2026-11-07", seen("2026-11-06")).unwrap();
        assert_eq!(stage.deficiency(deficiency).status, DeficiencyStatus::Open);
    });
}

#[test]
fn a_deficiency_moves_with_its_fixture_and_the_condition_tells_of_it_there() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let deficiency = stage.opened("2026-11-01", of(closet, "wc_cracks", Outcome::Fail));
        let loose = reported(&stage, "2026-11-01", Severity::Low);
        let command = MoveFixture {
            tag: "WC-7".to_owned(),
            room: "Rear bath".to_owned(),
            ..MoveFixture::default()
        };
        let moved = relocate(&stage.db, &stage.manager, noon("2026-11-10"), closet, &command).unwrap();
        assert_eq!(stage.deficiency(deficiency).fixture, Some(moved));
        assert_eq!(stage.events(deficiency), ["opened", "moved"]);
        let read = || {
            fleet
                .db
                .read(|conn| condition::read(conn, &Scope::All, noon("2026-11-12"), "ALDER", None))
                .unwrap()
        };
        let standing = read();
        let line = standing.lines.iter().find(|line| line.fixture == moved).unwrap();
        assert_eq!((line.tag.as_str(), line.record.open.moderate), ("WC-7", 1));
        let titles: Vec<_> = standing.loose.iter().map(|one| one.title.clone()).collect();
        assert_eq!(titles, [stage.deficiency(loose).title]);

        // A new one that nobody has checked is not sound by what was seen of the old one.
        stage
            .answer("2026-11-11", of(moved, "wc_seat", Outcome::Pass))
            .unwrap();
        let new = replace(
            &stage.db,
            &stage.manager,
            noon("2026-11-12"),
            moved,
            &ReplaceFixture::default(),
        )
        .unwrap();
        let standing = read();
        let line = standing.lines.iter().find(|line| line.fixture == new).unwrap();
        assert_eq!(line.record.last_outcome, None);
    });
}
