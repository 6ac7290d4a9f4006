//! How the checks come into packs and turnovers.

use super::*;

#[test]
fn every_check_is_reached_by_a_pack_a_turnover_or_a_page_of_its_own() {
    let scheduled: BTreeSet<&str> = catalogue()
        .schedules
        .iter()
        .flat_map(|schedule| schedule.checks.iter().map(|code| code.as_str()))
        .collect();
    for check in &catalogue().checks {
        let code = check.code.as_str();
        let at_registration = code.starts_with("wc_clearance_") || code.starts_with("leak_points_");
        let reached = scheduled.contains(check.code.as_str()) || !check.turnover.is_empty();
        assert!(
            reached != at_registration,
            "{} is reached by nothing, or too often",
            check.code
        );
    }
}

/// Recording a water closet takes at most five minutes, so the work asked at one visit does not take longer.
#[test]
fn a_water_closet_takes_at_most_five_minutes() {
    let building = BuildingFacts {
        age_years: None,
        base_joint: BaseJoint::Sealed,
    };
    let minutes = |wanted: &dyn Fn(&Check) -> bool| -> f64 {
        let kind = FixtureKind::WaterCloset;
        catalogue()
            .checks
            .iter()
            .filter(|check| check.is_asked_in(building) && wanted(check))
            .map(|check| {
                let times = if check.parts.is_empty() {
                    usize::from(check.is_asked_of(kind, None))
                } else {
                    kind.standard_parts()
                        .iter()
                        .filter(|part| check.is_asked_of(kind, Some(**part)))
                        .count()
                };
                check.minutes * f64::from(u8::try_from(times).unwrap())
            })
            .sum()
    };
    let in_pack = |pack: Pack| {
        move |check: &Check| {
            catalogue()
                .pack(pack)
                .any(|schedule| schedule.checks.contains(&check.code))
        }
    };
    for pack in [Pack::Yearly, Pack::HalfYearly] {
        let asked = minutes(&in_pack(pack));
        assert!(asked > 1.0 && asked <= 5.0, "{pack}: {asked} minutes");
    }
    let turnover = minutes(&|check| check.turnover.iter().any(|stage| *stage != TurnoverStage::MoveIn));
    assert!(turnover > 1.0 && turnover <= 5.0, "turnover: {turnover} minutes");
}

#[test]
fn the_turnover_asks_at_every_stage_and_paper_on_the_day_of_move_in() {
    let at = |stage: TurnoverStage| {
        catalogue()
            .checks
            .iter()
            .filter(|check| check.turnover.contains(&stage))
            .count()
    };
    assert!(at(TurnoverStage::Found) >= 15 && at(TurnoverStage::Ready) >= 15);
    assert_eq!(check("wc_paper_load").turnover, [TurnoverStage::MoveIn]);
}

#[test]
fn the_default_pack_is_one_yearly_visit_a_unit() {
    for schedule in catalogue().pack(Pack::Yearly) {
        let timing = schedule.timing().unwrap();
        let gap = timing.anchor().shortest_gap_days().unwrap();
        assert!(
            (365..=366).contains(&gap),
            "{} comes round after {gap} days",
            schedule.code
        );
    }
    let themes: BTreeSet<&str> = catalogue()
        .pack(Pack::Yearly)
        .map(|schedule| schedule.code.as_str())
        .collect();
    for theme in [
        "yearly_wax_seal",
        "yearly_supply_lines",
        "yearly_shutoffs",
        "yearly_flush",
        "yearly_hoses",
        "yearly_heater",
        "yearly_alarms",
    ] {
        assert!(themes.contains(theme), "{theme}");
    }
    let seasonal = catalogue()
        .pack(Pack::Yearly)
        .filter(|schedule| matches!(schedule.timing().unwrap().anchor(), Anchor::Calendar(_)))
        .count();
    assert!(seasonal >= 3);
    for schedule in catalogue().pack(Pack::HalfYearly) {
        assert_eq!(schedule.rule, "P6M", "{}", schedule.code);
    }
}

#[test]
fn the_residents_monthly_tests_are_recorded_and_never_planned() {
    for schedule in &catalogue().schedules {
        assert_eq!(
            schedule.recorded_only,
            schedule.pack == Pack::Resident,
            "{}",
            schedule.code
        );
        for code in &schedule.checks {
            let by_resident = check(code.as_str()).performer == Performer::Resident;
            assert_eq!(by_resident, schedule.recorded_only, "{code} in {}", schedule.code);
        }
    }
}

#[test]
fn relief_test_anode_and_camera_are_off_until_chosen() {
    for code in ["heater_relief_test", "heater_anode", "main_drain_camera"] {
        assert!(check(code).off_until_chosen, "{code}");
        let packs: Vec<Pack> = catalogue()
            .schedules
            .iter()
            .filter(|schedule| schedule.checks.iter().any(|named| named.as_str() == code))
            .map(|schedule| schedule.pack)
            .collect();
        assert_eq!(packs, [Pack::Chosen], "{code}");
    }
}
