//! The steps of a turnover and what keeps them back.

use anglestop::actions::deficiencies::{Repaired, repaired};
use anglestop::actions::turnovers::{Advance, Cancel, Open, Stay, Waive, advance, cancel, open, waive};
use anglestop::domain::register::person::Scope;
use anglestop::domain::register::{DeficiencyId, HouseholdText, Occupancy, TurnoverId};
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::{PartKind, TurnoverStage};
use anglestop::domain::turnover::{Stage, WaiverText};
use anglestop::error::Error;

use super::stage::{Flat, MOVE_IN, OPENED, answer_to, flat, refused, text};
use crate::results::stage::{noon, of, of_part};
use crate::support::on_both;

/// A turnover at the stage repaired in which only `check` of the heater's `part` failed as it was found and was repaired.
fn repaired_with(flat: &Flat, check: &str, part: PartKind) -> (TurnoverId, DeficiencyId) {
    let id = flat.opened();
    let fail = of_part(flat.heater, part, check, Outcome::Fail);
    let number = flat.record(id, OPENED, vec![(fail, None)]).unwrap().opened[0];
    flat.pass(id, OPENED, TurnoverStage::Found);
    assert!(
        refused(flat.step(id, OPENED))
            .to_lowercase()
            .contains("note the repair")
    );
    let repair = Repaired {
        deficiency: number,
        parts_used: String::new(),
        minutes: String::new(),
        cost: String::new(),
        note: String::new(),
    };
    repaired(flat.db(), &flat.small.technician, noon("2026-02-04"), &repair).unwrap();
    assert_eq!(flat.step(id, "2026-02-04").unwrap(), Stage::Repaired);
    (id, number)
}

#[test]
fn each_step_waits_for_the_answers_before_it_and_names_what_is_missing() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.opened();
        assert_eq!(flat.occupancy(), Occupancy::Turnover);
        let sentence = refused(flat.step(id, OPENED));
        let asked = flat.survey(id, OPENED).list.count(TurnoverStage::Found).asked;
        assert!(
            sentence.starts_with(&format!(
                "Not repaired yet. {asked} of {asked} as-found checks have no answer: LAV-1, "
            )),
            "{sentence}"
        );
        flat.pass(id, OPENED, TurnoverStage::Found);
        assert_eq!(flat.step(id, OPENED).unwrap(), Stage::Repaired);
        assert!(refused(flat.step(id, OPENED)).contains("checks before ready have no answer"));
        flat.pass(id, OPENED, TurnoverStage::Ready);
        assert_eq!(flat.step(id, OPENED).unwrap(), Stage::Ready);
        assert_eq!(
            refused(flat.close(id, MOVE_IN)),
            "Not moved in yet. 1 of 1 move-in day check has no answer: WC-1, Carries a full load of paper."
        );
        assert!(refused(flat.step(id, MOVE_IN)).contains("closing"));
        flat.pass(id, MOVE_IN, TurnoverStage::MoveIn);
        flat.close(id, MOVE_IN).unwrap();
    });
}

#[test]
fn a_step_that_is_taken_already_changes_nothing_and_none_is_skipped() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.opened();
        flat.pass(id, OPENED, TurnoverStage::Found);
        let to = |to: Stage| {
            let command = Advance {
                turnover: id,
                to: Some(to),
            };
            advance(flat.db(), &flat.small.technician, noon(OPENED), command)
        };
        assert!(refused(to(Stage::Ready)).contains("Repaired comes before ready"));
        assert_eq!(to(Stage::Repaired).unwrap(), Stage::Repaired);
        assert_eq!(to(Stage::Repaired).unwrap(), Stage::Repaired);
        assert!(refused(to(Stage::Cancelled)).contains("cancel it"));
    });
}

#[test]
fn a_life_threatening_deficiency_is_never_waived_and_the_unit_stays_off_line() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let (id, number) = repaired_with(&flat, "heater_gas_connector", PartKind::GasConnector);
        assert_eq!(
            flat.occupancy(),
            Occupancy::OffLine,
            "from the moment it was seen"
        );
        flat.answer_with(id, "2026-02-05", TurnoverStage::Ready, |item| {
            if item.rechecks == [number] {
                Outcome::NotChecked
            } else {
                Outcome::Pass
            }
        });
        let never = refused(flat.waive(id, "2026-02-05", number, "2026-03-01"));
        assert!(never.contains("never waived"), "{never}");
        let sentence = refused(flat.step(id, "2026-02-05"));
        assert!(
            sentence.contains(&format!(
                "No. {number} at WH-1 is life-threatening and repaired but not re-checked"
            )) && sentence.contains("off line"),
            "{sentence}"
        );
        assert_eq!(flat.occupancy(), Occupancy::OffLine);
        let fixed = of_part(
            flat.heater,
            PartKind::GasConnector,
            "heater_gas_connector",
            Outcome::Pass,
        );
        flat.record(id, "2026-02-06", vec![(fixed, Some(TurnoverStage::Ready))])
            .unwrap();
        assert_eq!(flat.occupancy(), Occupancy::Turnover, "its re-check passed");
        assert_eq!(flat.step(id, "2026-02-06").unwrap(), Stage::Ready);
    });
}

#[test]
fn a_life_threatening_deficiency_that_appears_after_ready_keeps_the_unit_from_being_closed() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.ready();
        flat.pass(id, MOVE_IN, TurnoverStage::MoveIn);
        let broken = of(flat.closet, "wc_flushes", Outcome::Fail);
        flat.small.answer("2026-02-09", broken).unwrap();
        assert_eq!(
            flat.occupancy(),
            Occupancy::OffLine,
            "the only water closet of the unit"
        );
        let sentence = refused(flat.close(id, MOVE_IN));
        assert!(sentence.contains("life-threatening"), "{sentence}");
        assert!(sentence.contains("1 of"), "its re-check is asked too: {sentence}");
    });
}

#[test]
fn a_severe_deficiency_needs_a_manager_with_reason_name_and_an_end_date_not_before_the_move_in() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let (id, number) = repaired_with(&flat, "heater_relief_valve", PartKind::ReliefValve);
        assert_eq!(flat.occupancy(), Occupancy::Turnover);
        flat.answer_with(id, "2026-02-05", TurnoverStage::Ready, |item| {
            if item.rechecks == [number] {
                Outcome::NotChecked
            } else {
                Outcome::Pass
            }
        });
        assert!(refused(flat.step(id, "2026-02-05")).contains("let a manager waive it"));

        let command = Waive {
            turnover: id,
            deficiency: number,
            text: WaiverText {
                reason: "ordered".to_owned(),
                name: "Rosa Vance".to_owned(),
                until: "2026-03-01".to_owned(),
            },
        };
        let by_technician = waive(flat.db(), &flat.small.technician, noon("2026-02-05"), &command);
        assert!(
            matches!(by_technician, Err(Error::Forbidden(_))),
            "{by_technician:?}"
        );
        let wrong = [
            ("", "Ola Brandt", "2026-03-01", "reason"),
            ("ordered", " ", "2026-03-01", "name"),
            ("ordered", "Ola Brandt", "", "until"),
            ("ordered", "Ola Brandt", "2026-02-09", "until"),
            ("ordered", "Ola Brandt", "2027-03-01", "until"),
            ("ordered", "Ola Brandt", "soon", "until"),
        ];
        for (reason, name, until, field) in wrong {
            let command = Waive {
                text: WaiverText {
                    reason: reason.to_owned(),
                    name: name.to_owned(),
                    until: until.to_owned(),
                },
                ..command.clone()
            };
            let answer = waive(flat.db(), &flat.small.manager, noon("2026-02-05"), &command);
            assert!(
                matches!(&answer, Err(Error::Fields(errors)) if errors.len() == 1 && errors[0].field == field),
                "{reason} {name} {until}: {answer:?}"
            );
        }
        assert_eq!(flat.small.count("turnover_waivers"), 0);

        flat.waive(id, "2026-02-05", number, MOVE_IN).unwrap();
        assert!(refused(flat.waive(id, "2026-02-05", number, MOVE_IN)).contains("waived already"));
        assert_eq!(flat.step(id, "2026-02-05").unwrap(), Stage::Ready);
        flat.pass(id, MOVE_IN, TurnoverStage::MoveIn);
        let over = refused(flat.close(id, "2026-02-11"));
        assert!(
            over.contains("Its waiver until Tue 10 Feb 2026 no longer covers"),
            "{over}"
        );
        flat.waive(id, "2026-02-11", number, "2026-03-01").unwrap();
        flat.close(id, "2026-02-11").unwrap();
    });
}

#[test]
fn a_moderate_deficiency_keeps_nobody_back_and_is_not_waived() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.opened();
        let tank = of(flat.closet, "wc_tank_firm", Outcome::Fail);
        let number = flat.record(id, OPENED, vec![(tank, None)]).unwrap().opened[0];
        assert!(refused(flat.waive(id, OPENED, number, "2026-03-01")).contains("needs no waiver"));
        flat.pass(id, OPENED, TurnoverStage::Found);
        flat.step(id, OPENED).unwrap();
        flat.answer_with(id, OPENED, TurnoverStage::Ready, |item| {
            if item.rechecks == [number] {
                Outcome::Fail
            } else {
                Outcome::Pass
            }
        });
        assert_eq!(flat.step(id, OPENED).unwrap(), Stage::Ready);
    });
}

#[test]
fn one_turnover_of_a_unit_is_open_and_none_of_a_common_area() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.opened();
        let second = refused(flat.open_at(flat.small.unit, OPENED, MOVE_IN));
        assert!(
            second.starts_with(&format!("Turnover {id} of unit 204 is open")),
            "{second}"
        );
        let hall = refused(flat.open_at(flat.small.hall, OPENED, MOVE_IN));
        assert!(hall.contains("common area"), "{hall}");
        for (out, back) in [("", MOVE_IN), ("2026-02-31", MOVE_IN), (OPENED, "2026-02-02")] {
            let command = Open {
                unit: flat.small.unit,
                text: text(out, back),
                stay: Stay::AsItIs,
            };
            cancel_open(&flat);
            let answer = open(flat.db(), &flat.small.technician, noon(OPENED), &command);
            assert!(
                matches!(answer, Err(Error::Fields(_))),
                "{out} {back}: {answer:?}"
            );
        }
    });
}

fn cancel_open(flat: &Flat) {
    let there = flat
        .db()
        .read(|conn| anglestop::store::turnovers::open_of_unit(conn, flat.small.unit))
        .unwrap();
    if let Some(one) = there {
        let command = Cancel {
            turnover: one.id,
            reason: "opened by mistake".to_owned(),
        };
        cancel(flat.db(), &flat.small.manager, noon(OPENED), &command).unwrap();
    }
}

#[test]
fn a_cancelled_turnover_keeps_its_results_and_gives_the_unit_back() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.opened();
        let seat = of(flat.closet, "wc_seat", Outcome::Fail);
        flat.record(id, OPENED, vec![(seat, None)]).unwrap();
        let give_up = |reason: &str| {
            let command = Cancel {
                turnover: id,
                reason: reason.to_owned(),
            };
            cancel(flat.db(), &flat.small.manager, noon("2026-02-04"), &command)
        };
        assert!(matches!(give_up(" "), Err(Error::Fields(_))));
        give_up("The household stays").unwrap();
        assert_eq!(flat.occupancy(), Occupancy::Vacant);
        assert_eq!(
            (flat.small.count("results"), flat.small.count("deficiencies")),
            (1, 1)
        );
        assert!(refused(give_up("again")).contains("was cancelled"));
        assert!(refused(flat.step(id, OPENED)).contains("was cancelled"));
        let late = flat.record(
            id,
            OPENED,
            vec![(of(flat.closet, "wc_seat", Outcome::Pass), None)],
        );
        assert!(matches!(late, Err(Error::Refused(_))), "{late:?}");
        flat.opened();
    });
}

#[test]
fn the_stay_of_a_household_ends_only_when_that_is_said_and_the_next_one_makes_the_unit_occupied() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let household = |from: &str| HouseholdText {
            name: "Household A".to_owned(),
            moved_in_on: from.to_owned(),
            ..HouseholdText::default()
        };
        let add = |day: &str, from: &str| {
            let manager = &flat.small.manager;
            let text = household(from);
            anglestop::actions::register::add_household::add(
                flat.db(),
                manager,
                noon(day),
                flat.small.unit,
                &text,
            )
        };
        let left = || {
            let all = flat
                .db()
                .read(|conn| anglestop::store::households::of_unit(conn, flat.small.unit))
                .unwrap();
            all.last().unwrap().moved_out_on.map(|day| day.to_string())
        };
        add("2025-06-01", "2025-06-01").unwrap();
        let id = flat.opened();
        assert_eq!(left(), None);
        let command = Cancel {
            turnover: id,
            reason: "wrong unit".to_owned(),
        };
        cancel(flat.db(), &flat.small.manager, noon(OPENED), &command).unwrap();
        assert_eq!(flat.occupancy(), Occupancy::Occupied, "they still live there");
        let command = Open {
            unit: flat.small.unit,
            text: text(OPENED, MOVE_IN),
            stay: Stay::EndsOnMoveOut,
        };
        let by_technician = open(flat.db(), &flat.small.technician, noon(OPENED), &command);
        assert!(
            matches!(by_technician, Err(Error::Forbidden(_))),
            "{by_technician:?}"
        );
        assert_eq!(left(), None);
        let id = open(flat.db(), &flat.small.manager, noon(OPENED), &command).unwrap();
        assert_eq!(left().as_deref(), Some(OPENED));
        add("2026-02-04", MOVE_IN).unwrap();
        assert_eq!(flat.occupancy(), Occupancy::Turnover);
        for stage in [TurnoverStage::Found, TurnoverStage::Ready, TurnoverStage::MoveIn] {
            flat.pass(id, "2026-02-09", stage);
        }
        flat.step(id, "2026-02-09").unwrap();
        flat.step(id, "2026-02-09").unwrap();
        flat.close(id, "2026-02-09").unwrap();
        assert_eq!(flat.occupancy(), Occupancy::Occupied);
    });
}

#[test]
fn anothers_turnover_is_not_there() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.opened();
        let stranger = anglestop::domain::register::person::Actor {
            scope: Scope::Buildings([].into()),
            ..flat.small.technician.clone()
        };
        let step = Advance {
            turnover: id,
            to: None,
        };
        let taken = advance(flat.db(), &stranger, noon(OPENED), step);
        assert!(matches!(taken, Err(Error::NotFound(_))), "{taken:?}");
        let list = flat.survey(id, OPENED).list;
        let record = anglestop::actions::turnovers::Record {
            turnover: id,
            answers: vec![anglestop::actions::turnovers::StagedAnswer {
                answer: answer_to(&list.items[0], Outcome::Pass),
                stage: None,
            }],
            done_at: None,
        };
        let recorded = anglestop::actions::turnovers::record(flat.db(), &stranger, noon(OPENED), &record);
        assert!(matches!(recorded, Err(Error::NotFound(_))), "{recorded:?}");
        let owner = anglestop::domain::register::person::Actor {
            role: anglestop::domain::register::person::Role::Owner,
            ..flat.small.manager.clone()
        };
        let step = advance(flat.db(), &owner, noon(OPENED), step);
        assert!(matches!(step, Err(Error::Forbidden(_))), "{step:?}");
    });
}
