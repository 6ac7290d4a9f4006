//! The rules of measuring, of terms, of the second time and of what was found, at the actions, on both databases.

use anglestop::actions::deficiencies::times;
use anglestop::actions::diagnose::{Diagnose, diagnose};
use anglestop::actions::water::{Measure, SetTerms, TermsText, measure, set_terms};
use anglestop::domain::register::DeficiencyId;
use anglestop::domain::register::person::Scope;
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::water::{Method, TariffText};
use anglestop::domain::trade::{Escalation, PartKind, Severity};
use anglestop::error::Error;
use anglestop::exchange::catalogue::builtin;
use anglestop::store::{deficiencies, diagnoses, lists, terms, water};

use crate::results::stage::{Stage, noon, of, of_part, stage};
use crate::support::on_both;

fn measured(stage: &Stage, day: &str, deficiency: DeficiencyId, per_minute: &str) -> Result<(), Error> {
    let command = Measure {
        deficiency,
        method: Method::Drips,
        typed: vec![("per_minute".to_owned(), per_minute.to_owned())],
    };
    measure(&stage.db, &stage.technician, noon(day), &command).map(|_| ())
}

fn leaks(stage: &Stage) -> Vec<lists::water::Leak> {
    let leaking: Vec<&str> = builtin()
        .unwrap()
        .water
        .leaking
        .iter()
        .map(|code| code.as_str())
        .collect();
    stage
        .db
        .read(|conn| lists::water::leaks(conn, &Scope::All, Some(stage.building), &leaking))
        .unwrap()
}

#[test]
fn a_leak_is_measured_again_and_again_and_the_latest_counts() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let sink = stage.add(stage.unit, "lavatory", "Hall bath");
        let drips = stage.opened("2026-11-01", of(sink, "faucet_sound", Outcome::Fail));
        let firm = stage.opened("2026-11-01", of(sink, "sink_firm", Outcome::Fail));
        let found = leaks(&stage);
        assert_eq!(found.len(), 1, "a loose basin loses no water: {found:?}");
        assert_eq!((found[0].id, &found[0].loss), (drips, &None));
        measured(&stage, "2026-11-02", drips, "60").unwrap();
        measured(&stage, "2026-11-03", drips, "30").unwrap();
        let kept = stage.db.read(|conn| water::of_deficiency(conn, drips)).unwrap();
        assert_eq!(kept.len(), 2);
        assert_eq!(kept[0].typed, [("per_minute".to_owned(), "30".to_owned())]);
        // 30 drips a minute, 10,000 a gallon: 4.32 gal a day.
        let lost = leaks(&stage)[0].loss.as_ref().unwrap().gallons_a_day();
        assert!((lost - 4.32).abs() < 1e-9, "{lost}");
        assert!(matches!(
            measured(&stage, "2026-11-03", drips, "900"),
            Err(Error::Fields(_))
        ));
        measured(&stage, "2026-11-03", firm, "10").unwrap();
        assert_eq!(
            leaks(&stage).len(),
            2,
            "what was measured is a leak, whatever its check"
        );
        let closed = of(sink, "faucet_sound", Outcome::Pass);
        stage.answer("2026-11-04", closed).unwrap();
        assert!(matches!(
            measured(&stage, "2026-11-05", drips, "5"),
            Err(Error::Refused(_))
        ));
        assert_eq!(leaks(&stage).len(), 1);
    });
}

#[test]
fn the_second_time_within_twelve_months_is_a_grade_graver_unless_the_office_chose_otherwise() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let fail = || of(closet, "wc_seat", Outcome::Fail);
        let pass = || of(closet, "wc_seat", Outcome::Pass);
        let first = stage.opened("2026-01-01", fail());
        assert_eq!(stage.deficiency(first).severity, Severity::Low);
        stage.answer("2026-01-02", pass()).unwrap();
        let second = stage.opened("2026-03-01", fail());
        let one = stage.deficiency(second);
        assert_eq!(one.severity, Severity::Moderate);
        // 30 days for moderate, at the same time of day in Chicago.
        assert_eq!(
            one.correct_by,
            Some(noon("2026-03-31").0 - chrono::TimeDelta::hours(1))
        );
        let events = stage
            .db
            .read(|conn| deficiencies::events_of(conn, &[second]))
            .unwrap();
        assert!(
            events[0].text.contains("makes it moderate instead of low"),
            "{}",
            events[0].text
        );
        stage.answer("2026-03-02", pass()).unwrap();
        let mut chosen = stage.db.read(times::chosen).unwrap();
        chosen.escalation = Escalation::None;
        times::choose(&stage.db, &stage.manager, noon("2026-03-03"), &chosen).unwrap();
        let third = stage.opened("2026-04-01", fail());
        assert_eq!(stage.deficiency(third).severity, Severity::Low);
    });
}

#[test]
fn what_endangers_life_is_said_by_what_failed_and_not_by_how_often() {
    assert_eq!(Severity::Severe.escalated(), Severity::Severe);
    assert_eq!(Severity::Moderate.escalated(), Severity::Severe);
    assert_eq!(Severity::LifeThreatening.escalated(), Severity::LifeThreatening);
}

/// HUD NSPIRE, times to correct: 24 hours for severe, 30 days in voucher programmes.
#[test]
fn a_building_may_hold_to_another_programme_than_the_office() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let wet = || of_part(closet, PartKind::WaxSeal, "wc_base_dry", Outcome::Fail);
        let office = stage.opened("2026-11-01", wet());
        assert_eq!(stage.deficiency(office).correct_by, Some(noon("2026-11-02").0));
        let dry = of_part(closet, PartKind::WaxSeal, "wc_base_dry", Outcome::Pass);
        stage.answer("2026-11-02", dry).unwrap();
        let set = |programme: &str| {
            let command = SetTerms {
                building: stage.building,
                text: TermsText {
                    programme: programme.to_owned(),
                    ..TermsText::default()
                },
            };
            set_terms(&stage.db, &stage.manager, noon("2026-11-03"), &command)
        };
        assert!(matches!(set("state"), Err(Error::Fields(_))));
        set("voucher").unwrap();
        let voucher = stage.opened("2026-11-04", wet());
        assert_eq!(stage.deficiency(voucher).correct_by, Some(noon("2026-12-04").0));
    });
}

#[test]
fn a_tariff_is_the_buildings_own_and_only_a_manager_sets_it() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let command = SetTerms {
            building: stage.building,
            text: TermsText {
                tariff: TariffText {
                    water_price: "4.63".to_owned(),
                    sewer_price: "5.10".to_owned(),
                    billed: "ccf".to_owned(),
                    currency: "USD".to_owned(),
                },
                programme: String::new(),
            },
        };
        let refused = set_terms(&stage.db, &stage.technician, noon("2026-11-03"), &command);
        assert!(matches!(refused, Err(Error::Forbidden(_))));
        set_terms(&stage.db, &stage.manager, noon("2026-11-03"), &command).unwrap();
        let kept = |stage: &Stage| {
            stage
                .db
                .read(|conn| terms::of_building(conn, stage.building))
                .unwrap()
        };
        assert_eq!(kept(&stage).tariff.unwrap().water_minor, 463);
        let away = SetTerms {
            building: stage.building,
            text: TermsText::default(),
        };
        set_terms(&stage.db, &stage.manager, noon("2026-11-04"), &away).unwrap();
        assert_eq!(kept(&stage).tariff, None);
    });
}

#[test]
fn what_was_found_is_kept_in_words_and_explains_the_deficiency() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let runs = of_part(closet, PartKind::FillValve, "wc_runs_on", Outcome::Fail);
        let id = stage.opened("2026-11-01", runs);
        let found = |symptom: &str, answers: &[usize], deficiency: Option<DeficiencyId>| {
            let command = Diagnose {
                fixture: closet,
                symptom: symptom.to_owned(),
                answers: answers.to_vec(),
                deficiency,
                note: "Black on the finger".to_owned(),
            };
            diagnose(&stage.db, &stage.technician, noon("2026-11-02"), &command)
        };
        found("wc_runs_on", &[1], Some(id)).unwrap();
        assert_eq!(stage.events(id), ["opened", "noted"]);
        let kept = stage.db.read(|conn| diagnoses::of_deficiency(conn, id)).unwrap();
        assert_eq!(kept.len(), 1);
        assert_eq!(kept[0].cause, "flapper_worn");
        assert_eq!(
            kept[0].said[0],
            ("What is wrong".to_owned(), "Runs on and on".to_owned())
        );
        assert_eq!(kept[0].said.len(), 2);
        assert_eq!(kept[0].note, "Black on the finger");
        for (symptom, answers, deficiency) in [
            ("wc_runs_on", &[][..], None),
            ("heater_wet", &[0][..], None),
            ("wc_runs_on", &[1][..], Some(DeficiencyId(999))),
        ] {
            assert!(
                found(symptom, answers, deficiency).is_err(),
                "{symptom} {answers:?}"
            );
        }
        assert!(stage.deficiency(id).stands(), "a diagnosis closes nothing");
    });
}
