//! What the catalogue asks of each kind, of whom, where, and with which caution.

use FixtureKind as K;

use super::*;

/// What the trade wants looked at, kind by kind, with the checks that do.
const WANTED: &[(FixtureKind, &[&str])] = &[
    (
        K::WaterCloset,
        &[
            "wc_tank_firm",
            "wc_bowl_firm",
            "wc_cracks",
            "wc_seat",
            "wc_base_joint_sealed",
            "wc_base_joint_rear_open",
            "stop_works",
            "supply_line_sound",
            "wc_tank_bowl_dry",
            "wc_base_dry",
            "wc_flush_clears",
            "wc_refill",
            "wc_runs_on",
            "wc_flushes_again",
            "wc_dye",
            "wc_clearance_side",
            "wc_clearance_front",
            "wc_paper_load",
            "wc_flushes",
            "floor_around",
            "floor_moisture",
        ],
    ),
    (
        K::Lavatory,
        &[
            "supply_line_sound",
            "stop_works",
            "sink_firm",
            "sink_trap_dry",
            "sink_drains",
            "faucet_sound",
        ],
    ),
    (
        K::KitchenSink,
        &[
            "supply_line_sound",
            "stop_works",
            "sink_firm",
            "sink_trap_dry",
            "sink_drains",
            "faucet_sound",
        ],
    ),
    (
        K::LaundrySink,
        &[
            "supply_line_sound",
            "stop_works",
            "sink_trap_dry",
            "sink_drains",
            "faucet_sound",
        ],
    ),
    (
        K::Bathtub,
        &[
            "bath_whole",
            "bath_works",
            "bath_usable",
            "bath_drains",
            "bath_hot_temperature",
        ],
    ),
    (
        K::Shower,
        &[
            "bath_whole",
            "bath_works",
            "bath_usable",
            "bath_drains",
            "bath_hot_temperature",
        ],
    ),
    (
        K::WaterHeater,
        &[
            "heater_relief_valve",
            "heater_discharge_pipe",
            "heater_discharge_height",
            "heater_pan",
            "heater_gas_connector",
            "heater_flue",
            "heater_leaks",
            "heater_hot_water",
            "heater_relief_test",
            "heater_anode",
            "stop_works",
        ],
    ),
    (
        K::WashingMachine,
        &["washer_hose_sound", "washer_drain", "stop_works"],
    ),
    (
        K::Dishwasher,
        &[
            "dishwasher_dry",
            "dishwasher_drain_hose",
            "supply_line_sound",
            "stop_works",
        ],
    ),
    (K::Disposer, &["disposer_works"]),
    (
        K::IceMaker,
        &["ice_maker_line", "supply_line_sound", "stop_works"],
    ),
    (K::HoseBibb, &["hose_bibb_frost", "hose_bibb_sound"]),
    (K::FloorDrain, &["trap_holds", "floor_drain_clears"]),
    (K::SeldomUsedTrap, &["trap_holds"]),
    (K::SumpPump, &["sump_runs", "sump_check_valve"]),
    (K::MainShutoff, &["main_shutoff_works"]),
    (K::UnitShutoff, &["unit_shutoff_works"]),
    (K::PressurePoint, &["static_pressure"]),
    (
        K::CrawlSpace,
        &["crawl_space_wood", "crawl_space_dry", "crawl_space_moisture"],
    ),
    (K::MainDrain, &["main_drain_camera", "main_drain_cleanout"]),
    (K::BackflowDevice, &["backflow_test"]),
    (
        K::SmokeAlarm,
        &[
            "smoke_alarm_sounds",
            "smoke_alarm_in_date",
            "alarm_battery",
            "smoke_alarm_monthly",
        ],
    ),
    (
        K::CoAlarm,
        &[
            "co_alarm_sounds",
            "co_alarm_in_date",
            "alarm_battery",
            "co_alarm_monthly",
        ],
    ),
    (K::GfciOutlet, &["gfci_trips", "gfci_monthly"]),
    (K::ExhaustFan, &["exhaust_fan_draws"]),
    (K::Urinal, &["urinal_flushes"]),
];

#[test]
fn every_check_that_the_trade_wants_is_there() {
    for (kind, codes) in WANTED {
        for code in *codes {
            assert!(
                check(code).kinds.contains(kind),
                "{code} is not asked of a {kind}"
            );
        }
    }
    let named: BTreeSet<_> = WANTED.iter().map(|(kind, _)| *kind).collect();
    let all: BTreeSet<_> = FixtureKind::ALL.iter().copied().collect();
    assert_eq!(named, all, "a kind of fixture that nothing is asked of");
}

/// Every part that a fixture gets when nothing else is said has a check of its kind, and every part that a check names can come due.
#[test]
fn standard_parts_come_due() {
    for kind in FixtureKind::ALL.iter().copied() {
        for part in kind.standard_parts() {
            let asked = catalogue()
                .checks
                .iter()
                .any(|check| check.is_asked_of(kind, Some(*part)));
            assert!(asked, "nothing is asked of the {part} of a {kind}");
        }
    }
    let optional = [PartKind::Anode];
    for check in &catalogue().checks {
        for kind in &check.kinds {
            let fitted = check.parts.is_empty()
                || check
                    .parts
                    .iter()
                    .any(|part| kind.standard_parts().contains(part) || optional.contains(part));
            assert!(fitted, "{} is asked of parts that no {kind} has", check.code);
        }
    }
}

#[test]
fn tag_prefixes_differ_and_begin_with_letters() {
    let prefixes: BTreeSet<&str> = FixtureKind::ALL.iter().map(|kind| kind.tag_prefix()).collect();
    assert_eq!(prefixes.len(), FixtureKind::ALL.len());
    assert!(
        prefixes
            .iter()
            .all(|prefix| prefix.chars().all(|c| c.is_ascii_uppercase()))
    );
}

#[test]
fn the_camera_is_asked_where_the_building_is_old_or_of_unknown_age() {
    let camera = check("main_drain_camera");
    let of_age = |age_years| {
        camera.is_asked_in(BuildingFacts {
            age_years,
            base_joint: BaseJoint::Sealed,
        })
    };
    assert!(!of_age(Some(39)));
    assert!(of_age(Some(40)));
    assert!(of_age(None));
}

#[test]
fn the_base_joint_is_asked_by_the_buildings_policy() {
    let asked = |base_joint| -> Vec<&str> {
        catalogue()
            .checks
            .iter()
            .filter(|check| check.code.as_str().starts_with("wc_base_joint"))
            .filter(|check| {
                check.is_asked_in(BuildingFacts {
                    age_years: None,
                    base_joint,
                })
            })
            .map(|check| check.code.as_str())
            .collect()
    };
    assert_eq!(asked(BaseJoint::Sealed), ["wc_base_joint_sealed"]);
    assert_eq!(asked(BaseJoint::RearOpen), ["wc_base_joint_rear_open"]);
    assert!(asked(BaseJoint::NotNoted).is_empty());
}

/// Where work can hurt someone, the caution stands and defers to local codes and licensed practice.
#[test]
fn cautions_stand_where_work_can_hurt() {
    let expected: BTreeMap<&str, Caution> = [
        ("heater_gas_connector", Caution::Gas),
        ("heater_flue", Caution::Combustion),
        ("heater_relief_valve", Caution::HotWater),
        ("heater_relief_test", Caution::Pressure),
        ("bath_hot_temperature", Caution::HotWater),
        ("faucet_sound", Caution::HotWater),
        ("gfci_trips", Caution::Electricity),
        ("disposer_works", Caution::Electricity),
        ("sump_runs", Caution::Electricity),
        ("wc_base_dry", Caution::Sewage),
        ("main_drain_cleanout", Caution::Sewage),
        ("static_pressure", Caution::Pressure),
        ("supply_line_sound", Caution::Pressure),
        ("stop_works", Caution::OldStops),
        ("main_shutoff_works", Caution::OldStops),
        ("wc_bowl_firm", Caution::Asbestos),
        ("crawl_space_dry", Caution::ConfinedSpace),
        ("backflow_test", Caution::Backflow),
    ]
    .into();
    for (code, caution) in expected {
        assert!(check(code).cautions.contains(&caution), "{code} lacks {caution}");
    }
    for caution in Caution::ALL.iter().copied() {
        assert!(caution.sentence().ends_with(caution::DEFERENCE), "{caution}");
    }
    assert!(Caution::Gas.sentence().starts_with(caution::GAS_SMELL));
    let touches = |words: &[&str], check: &Check| {
        let text = format!("{} {} {}", check.title, check.ask, check.method.join(" ")).to_lowercase();
        words.iter().any(|word| text.contains(word))
    };
    for check in &catalogue().checks {
        if touches(&["gas connector", "flue"], check) {
            assert!(check.cautions.contains(&Caution::Gas), "{}", check.code);
        }
        if touches(&["relief valve", "run hot", "open hot"], check) {
            assert!(check.cautions.contains(&Caution::HotWater), "{}", check.code);
        }
    }
}

#[test]
fn licensed_work_says_who_may_do_it() {
    let performers = [
        ("backflow_test", Performer::LicensedTester),
        ("heater_relief_test", Performer::LicensedPlumber),
        ("heater_anode", Performer::LicensedPlumber),
        ("main_drain_camera", Performer::LicensedPlumber),
        ("wc_base_dry", Performer::Staff),
        ("gfci_monthly", Performer::Resident),
    ];
    for (code, performer) in performers {
        assert_eq!(check(code).performer, performer, "{code}");
    }
}
