//! Changing schedules and checks: what is refused and in which words, and what a change does to the due rows.

use anglestop::actions::checks;
use anglestop::actions::schedules::{Switch, Words, add, change, copy, preview, switch, switch_pack};
use anglestop::domain::due::ScheduleText;
use anglestop::domain::register::person::{Actor, Role};
use anglestop::domain::trade::catalogue::Pack;
use anglestop::domain::trade::{CheckText, FixtureKind, PartKind};
use anglestop::error::Error;
use anglestop::store::{self, schedules};

use super::office::{Office, day, now};
use crate::support::on_both;

fn manager() -> Actor {
    Actor::operator()
}

fn yearly() -> ScheduleText {
    ScheduleText {
        code: "bowls".to_owned(),
        name: "Bowls, yearly".to_owned(),
        active: "yes".to_owned(),
        anchor: "last_done".to_owned(),
        rule: "P1Y".to_owned(),
        lead_days: "30".to_owned(),
        grace_days: "30".to_owned(),
        checks: vec!["wc_bowl_firm".to_owned()],
        ..ScheduleText::default()
    }
}

/// The field that was refused and the sentence.
fn refused<T: std::fmt::Debug>(outcome: Result<T, Error>) -> (String, String) {
    match outcome {
        Err(Error::Fields(errors)) => (errors[0].field.clone(), errors[0].message.clone()),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_schedule_that_can_not_work_is_refused_with_what_to_do_and_nothing_is_written() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2024-01-15");
        let before = office.write(|tx| schedules::load_all(tx).unwrap().len());
        let text = |change: &dyn Fn(&mut ScheduleText)| {
            let mut text = yearly();
            change(&mut text);
            refused(add(&fleet.db, &manager(), now(), &text))
        };
        let calendar = |rule: &str| {
            text(&|text| {
                text.anchor = "calendar".to_owned();
                text.rule = rule.to_owned();
                text.start = "2026-01-01".to_owned();
            })
        };
        let cases = [
            (calendar("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30"), "rule", "never"),
            (calendar("FREQ=HOURLY"), "rule", "HOURLY"),
            (calendar("FREQ=MONTHLY"), "lead_days", "at most 27"),
            (text(&|text| text.rule = "1 year".to_owned()), "rule", "P1Y"),
            (
                text(&|text| text.rule = "P60D".to_owned()),
                "lead_days",
                "at most 59",
            ),
            (
                text(&|text| text.anchor = "calendar".to_owned()),
                "start",
                "2026-10-01",
            ),
            (
                text(&|text| text.lead_days = "some".to_owned()),
                "lead_days",
                "whole number",
            ),
            (
                text(&|text| text.checks = vec!["wc_bowl_frim".to_owned()]),
                "checks",
                "wc_bowl_frim",
            ),
            (text(&|text| text.checks.clear()), "checks", "No check"),
            (
                text(&|text| text.scope_kinds = vec!["toilet".to_owned()]),
                "scope_kinds",
                "water_closet",
            ),
            (
                text(&|text| text.scope_kinds = vec!["lavatory".to_owned()]),
                "scope_kinds",
                "Widen",
            ),
            (
                text(&|text| text.scope_parts = vec!["wax_seal".to_owned()]),
                "scope_parts",
                "Widen",
            ),
            (
                text(&|text| text.scope_buildings = vec!["ELM".to_owned()]),
                "scope_buildings",
                "ELM",
            ),
            (
                text(&|text| text.technician = "nobody@office.example".to_owned()),
                "technician",
                "nobody@office.example",
            ),
            (
                text(&|text| text.code = "yearly_flush".to_owned()),
                "code",
                "another code",
            ),
            (
                text(&|text| text.code = "Yearly flush".to_owned()),
                "code",
                "lower-case",
            ),
            (
                text(&|text| {
                    text.scope_min_age_years = "10".to_owned();
                    text.scope_max_age_years = "5".to_owned();
                }),
                "scope_max_age_years",
                "at least 10",
            ),
            (
                text(&|text| text.scope_min_failures = "5".to_owned()),
                "scope_min_failures",
                "1 to 4",
            ),
        ];
        for ((field, sentence), expected, word) in cases {
            assert_eq!(field, expected, "{sentence}");
            assert!(sentence.contains(word) && sentence.ends_with('.'), "{sentence}");
        }
        let owner = Actor {
            role: Role::Technician,
            ..manager()
        };
        assert!(matches!(
            add(&fleet.db, &owner, now(), &yearly()),
            Err(Error::Forbidden(_))
        ));
        assert_eq!(office.write(|tx| schedules::load_all(tx).unwrap().len()), before);
    });
}

#[test]
fn a_built_in_schedule_takes_no_check_that_is_off_until_chosen() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2024-01-15");
        let (text, version) = office.write(|tx| {
            let words = Words::load(tx).unwrap();
            let schedule = schedules::by_code(tx, "yearly_heater").unwrap().unwrap();
            (
                ScheduleText::of(&schedule.terms, &words.known()),
                schedule.version,
            )
        });
        let mut with_anode = text.clone();
        with_anode.checks.push("heater_anode".to_owned());
        let (field, sentence) = refused(change(
            &fleet.db,
            &manager(),
            now(),
            "yearly_heater",
            version,
            &with_anode,
        ));
        assert_eq!(field, "checks");
        assert!(sentence.contains("off until chosen"), "{sentence}");
        // Unchanged is no change: no version is used up.
        change(&fleet.db, &manager(), now(), "yearly_heater", version, &text).unwrap();
        let after = office.write(|tx| schedules::by_code(tx, "yearly_heater").unwrap().unwrap());
        assert_eq!(after.version, version);
    });
}

#[test]
fn a_change_moves_what_is_due_and_one_made_meanwhile_is_not_overwritten() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2024-01-15");
        office.switch_all_off();
        let wc = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        office.result(wc, "", "wc_bowl_firm", "pass", "2026-03-01");
        let due = || office.stored(wc, "", "wc_bowl_firm").map(|shown| shown.due);
        assert_eq!(due(), None);
        add(&fleet.db, &manager(), now(), &yearly()).unwrap();
        assert_eq!(due().as_deref(), Some("2027-03-01"));
        let half_yearly = ScheduleText {
            rule: "P6M".to_owned(),
            ..yearly()
        };
        change(&fleet.db, &manager(), now(), "bowls", 1, &half_yearly).unwrap();
        assert_eq!(due().as_deref(), Some("2026-09-01"));
        let late = change(&fleet.db, &manager(), now(), "bowls", 1, &yearly());
        assert!(matches!(late, Err(Error::Conflict(_))), "{late:?}");
        switch(&fleet.db, &manager(), now(), "bowls", Switch::Off).unwrap();
        assert_eq!(due(), None);
        let copied = copy(&fleet.db, &manager(), now(), "bowls").unwrap();
        assert_eq!((copied.as_str(), due()), ("bowls_copy", None));
        assert_eq!(
            copy(&fleet.db, &manager(), now(), "bowls").unwrap(),
            "bowls_copy_2"
        );
        switch(&fleet.db, &manager(), now(), "bowls_copy", Switch::On).unwrap();
        assert_eq!(
            office
                .stored(wc, "", "wc_bowl_firm")
                .map(|shown| shown.schedule)
                .as_deref(),
            Some("bowls_copy")
        );
    });
}

#[test]
fn the_half_yearly_pack_can_be_chosen_as_a_whole() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2024-01-15");
        let lav = office.stand(
            "LAV-1",
            FixtureKind::Lavatory,
            None,
            &[(PartKind::SupplyLineHot, None)],
        );
        let schedule = || {
            office
                .stored(lav, "supply_line_hot", "supply_line_sound")
                .map(|shown| shown.schedule)
        };
        office.result(lav, "supply_line_hot", "supply_line_sound", "pass", "2026-03-01");
        assert_eq!(schedule().as_deref(), Some("yearly_supply_lines"));
        assert!(switch_pack(&fleet.db, &manager(), now(), Pack::HalfYearly, Switch::On).unwrap() > 2);
        assert_eq!(schedule().as_deref(), Some("half_yearly_supply_lines"));
        assert_eq!(
            switch_pack(&fleet.db, &manager(), now(), Pack::HalfYearly, Switch::On).unwrap(),
            0
        );
    });
}

#[test]
fn a_preview_says_the_rule_its_next_dates_and_how_much_it_reaches() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2024-01-15");
        for label in ["LAV-1", "LAV-2"] {
            let parts = [
                (PartKind::SupplyLineHot, Some("2010-01-01")),
                (PartKind::SupplyLineCold, None),
            ];
            office.stand(label, FixtureKind::Lavatory, Some("2024-05-01"), &parts);
        }
        let text = ScheduleText {
            anchor: "calendar".to_owned(),
            rule: "FREQ=YEARLY".to_owned(),
            start: "2024-10-01".to_owned(),
            grace_days: "14".to_owned(),
            checks: vec!["supply_line_sound".to_owned(), "faucet_sound".to_owned()],
            ..yearly()
        };
        let look = |text: &ScheduleText| {
            office.write(|tx| {
                let words = Words::load(tx).unwrap();
                let terms = text.read(&words.known(), None).unwrap();
                preview(tx, &words, &terms, day("2026-09-01")).unwrap()
            })
        };
        let seen = look(&text);
        assert_eq!(
            seen.sentence,
            "Every year on 1 October. Opens 30 days before, overdue after 14 days of grace. A result counts from 182 days before."
        );
        assert_eq!(
            seen.next_dates[..2]
                .iter()
                .map(|date| date.day)
                .collect::<Vec<_>>(),
            [day("2026-10-01"), day("2027-10-01")]
        );
        assert_eq!((seen.reach.fixtures, seen.reach.items), (2, 6));
        let old = ScheduleText {
            scope_min_age_years: "10".to_owned(),
            ..text
        };
        assert_eq!(look(&old).reach.items, 2);
    });
}

fn seat() -> CheckText {
    CheckText {
        code: "wc_seat_bumpers".to_owned(),
        title: "Seat bumpers there".to_owned(),
        kinds: vec!["water_closet".to_owned()],
        ask: "Lift the seat and count the bumpers.".to_owned(),
        pass: "All there".to_owned(),
        fail: "One is missing".to_owned(),
        severity: "low".to_owned(),
        minutes: "0.5".to_owned(),
        ..CheckText::default()
    }
}

#[test]
fn a_check_of_ones_own_gets_a_version_with_each_change_and_a_built_in_one_is_copied() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2024-01-15");
        let (db, actor) = (&fleet.db, manager());
        let id = checks::add(db, &actor, now(), &seat()).unwrap();
        assert_eq!(refused(checks::add(db, &actor, now(), &seat())).0, "code");
        office.only_schedule("seats", "last_done", "P1Y", None, &["wc_seat_bumpers"]);
        let wc = office.stand("WC-1", FixtureKind::WaterCloset, None, &[(PartKind::Seat, None)]);
        assert!(office.stored(wc, "", "wc_seat_bumpers").is_some());
        let on_part = CheckText {
            parts: vec!["seat".to_owned()],
            ..seat()
        };
        checks::change(db, &actor, now(), "wc_seat_bumpers", 1, &on_part).unwrap();
        assert_eq!(office.stored(wc, "", "wc_seat_bumpers"), None);
        assert!(office.stored(wc, "seat", "wc_seat_bumpers").is_some());
        let versions = office.write(|tx| {
            [1, 2, 3].map(|version| {
                store::checks::by_version(tx, id, version)
                    .unwrap()
                    .map(|check| check.parts.len())
            })
        });
        assert_eq!(versions, [Some(0), Some(1), None]);
        let late = checks::change(db, &actor, now(), "wc_seat_bumpers", 1, &seat());
        assert!(matches!(late, Err(Error::Conflict(_))), "{late:?}");
        let built_in = checks::change(db, &actor, now(), "wc_bowl_firm", 1, &seat());
        assert!(
            matches!(&built_in, Err(Error::Refused(sentence)) if sentence.contains("Copy it")),
            "{built_in:?}"
        );
        checks::copy(db, &actor, now(), "wc_bowl_firm", "our_bowl_firm").unwrap();
        assert_eq!(
            refused(checks::copy(db, &actor, now(), "wc_bowl_firm", "wc_cracks")).0,
            "code"
        );
        // What is theirs stays theirs, however often the catalogue is taken in.
        anglestop::actions::setup::prepare(db, now()).unwrap();
        let (copy, original) = office.write(|tx| {
            let copy = store::checks::by_code(tx, "our_bowl_firm").unwrap().unwrap();
            (copy, store::checks::by_code(tx, "wc_bowl_firm").unwrap().unwrap())
        });
        assert_eq!(
            (copy.check.title.as_str(), copy.check.version),
            (original.check.title.as_str(), 1)
        );
    });
}

#[test]
fn every_built_in_check_comes_back_from_a_form_as_it_was() {
    for check in &anglestop::exchange::catalogue::builtin().unwrap().checks {
        let mut read = CheckText::of(check)
            .read(Some(check))
            .unwrap_or_else(|errors| panic!("{}: {errors:?}", check.code));
        read.version = check.version;
        assert_eq!(read, *check);
    }
}

#[test]
fn a_check_that_can_not_be_asked_is_refused_with_what_to_do() {
    on_both(|fleet| {
        let text = |change: &dyn Fn(&mut CheckText)| {
            let mut text = seat();
            change(&mut text);
            refused(checks::add(&fleet.db, &manager(), now(), &text))
        };
        let reading = |limits: &str| {
            text(&|text| {
                text.answer = "reading".to_owned();
                text.reading_of = "Height".to_owned();
                text.unit = "in".to_owned();
                text.limits = limits.to_owned();
            })
        };
        let cases = [
            (text(&|text| text.code.clear()), "code", "wc_seat_firm"),
            (text(&|text| text.kinds.clear()), "kinds", "Choose"),
            (text(&|text| text.minutes = "0".to_owned()), "minutes", "480"),
            (
                text(&|text| text.severity = "awful".to_owned()),
                "severity",
                "severe",
            ),
            (text(&|text| text.fail.clear()), "fail", "empty"),
            (reading("at_least 15"), "limits", "unit"),
            (reading("over 15 in"), "limits", "at_least"),
            (reading("at_least 15 psi"), "limits", "psi"),
        ];
        for ((field, sentence), expected, word) in cases {
            assert_eq!(field, expected, "{sentence}");
            assert!(sentence.contains(word), "{sentence}");
        }
    });
}

#[test]
fn schedules_exported_and_imported_again_are_the_same_and_a_changed_file_changes_them() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2024-01-15");
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("schedules.csv");
        let run = |words: &[&str]| super::command::anglestop(&fleet.url, words);
        let csv = super::command::out(&run(&["export", "schedules"]));
        let import = |text: &str| {
            std::fs::write(&file, text).unwrap();
            run(&["import", file.to_str().unwrap()])
        };
        let before = office.write(|tx| schedules::load_all(tx).unwrap());
        let again = import(&csv);
        super::command::out(&again);
        assert!(String::from_utf8_lossy(&again.stderr).contains("Nothing is new"));
        assert_eq!(office.write(|tx| schedules::load_all(tx).unwrap()), before);

        let wc = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        office.result(wc, "", "wc_flushes", "pass", "2026-03-01");
        let header = csv.lines().next().unwrap();
        let flush: Vec<String> = csv
            .lines()
            .filter(|line| line.starts_with("yearly_flush,"))
            .map(|line| line.replace(",P1Y,", ",P9M,"))
            .collect();
        assert!(flush.len() > 3, "{csv}");
        super::command::out(&import(&format!("{header}\n{}\n", flush.join("\n"))));
        assert_eq!(
            office
                .stored(wc, "", "wc_flushes")
                .map(|shown| shown.due)
                .as_deref(),
            Some("2026-12-01")
        );

        let broken = csv.replace(",P1Y,", ",P20D,").replace("wc_cracks", "wc_crakcs");
        let refused = import(&broken);
        let told = super::command::refusal(&refused);
        assert!(told.contains("lead_days") && told.contains("wc_crakcs"), "{told}");
        assert_eq!(
            office
                .stored(wc, "", "wc_flushes")
                .map(|shown| shown.due)
                .as_deref(),
            Some("2026-12-01")
        );
    });
}
