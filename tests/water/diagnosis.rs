//! Symptoms to causes: every way ends in at most four answers, and leads where others' troubleshooting leads.

use std::collections::BTreeSet;

use anglestop::domain::code::Coded;
use anglestop::domain::trade::symptom::{MOST_ANSWERS, Step, Symptoms};
use anglestop::domain::trade::{Caution, FixtureKind, PartKind, Performer};
use anglestop::exchange::catalogue::builtin;

fn symptoms() -> &'static Symptoms {
    &builtin().unwrap().symptoms
}

#[test]
fn every_way_reaches_a_cause_in_at_most_four_answers() {
    let mut ways = 0;
    for symptom in &symptoms().symptoms {
        for (answers, cause) in symptoms().ways(symptom).unwrap() {
            ways += 1;
            // The choice of the symptom is the first answer.
            assert!(
                answers.len() < MOST_ANSWERS,
                "{} {answers:?} {}",
                symptom.code,
                cause.code
            );
            assert_eq!(
                symptoms().walk(symptom, &answers).unwrap().said.len(),
                answers.len()
            );
        }
    }
    assert!(ways > 80, "{ways}");
}

#[test]
fn each_kind_that_is_diagnosed_has_symptoms_to_choose_from() {
    for kind in [
        FixtureKind::WaterCloset,
        FixtureKind::Lavatory,
        FixtureKind::KitchenSink,
        FixtureKind::Bathtub,
        FixtureKind::Shower,
        FixtureKind::WaterHeater,
        FixtureKind::Disposer,
        FixtureKind::WashingMachine,
        FixtureKind::Dishwasher,
    ] {
        assert!(symptoms().of_kind(kind).count() >= 2, "{kind}");
    }
}

#[test]
fn the_answers_lead_where_others_troubleshooting_leads() {
    for row in super::rows(include_str!("../oracles/symptoms.csv"), 12) {
        let symptom = symptoms().symptom(&row[2]).unwrap();
        assert!(symptom.kinds.contains(&FixtureKind::from_code(&row[1]).unwrap()));
        let answers: Vec<usize> = row[3]
            .split_whitespace()
            .map(|answer| answer.parse().unwrap())
            .collect();
        let Step::Found(cause) = symptoms().walk(symptom, &answers).unwrap().step else {
            panic!("{row:?} reaches no cause");
        };
        assert_eq!(cause.code.as_str(), &row[4], "{row:?}");
    }
}

#[test]
fn an_answer_too_much_or_out_of_range_is_refused() {
    let symptom = symptoms().symptom("wc_runs_on").unwrap();
    assert!(symptoms().walk(symptom, &[9]).unwrap_err().contains("Choose one"));
    assert!(
        symptoms()
            .walk(symptom, &[1, 0])
            .unwrap_err()
            .contains("Begin again")
    );
}

/// Work that can hurt says so: what touches gas, electricity, sewage, hot water or pressure carries its caution, and gas is nobody's
/// but a licensed fitter's.
#[test]
fn every_cause_that_can_hurt_carries_its_caution() {
    let says = |text: &str, words: &[&str]| {
        let text = text.to_lowercase();
        words.iter().any(|word| text.contains(word))
    };
    let mut seen = BTreeSet::new();
    for cause in &symptoms().causes {
        let text = format!("{} {}", cause.name, cause.remedy);
        let wanted = [
            (
                says(&text, &["gas.", "gas ", "flue", "pilot", "burner"]) && !says(&text, &["gasket"]),
                Caution::Gas,
            ),
            (
                says(&text, &["breaker", "power off", "plug out", "outlet", "element"]),
                Caution::Electricity,
            ),
            (
                says(&text, &["lift the bowl", "bowl is lifted", "cleanout"]),
                Caution::Sewage,
            ),
            (
                cause
                    .parts
                    .iter()
                    .any(|part| matches!(part, PartKind::SupplyLine | PartKind::HoseHot)),
                Caution::Pressure,
            ),
            (says(&text, &["mixing valve", "relief valve"]), Caution::HotWater),
        ];
        for (touches, caution) in wanted {
            if touches {
                seen.insert(caution);
                assert!(
                    cause.cautions.contains(&caution),
                    "{} touches {caution} and says nothing",
                    cause.code
                );
            }
        }
        if cause.cautions.contains(&Caution::Gas) && cause.code.as_str() != "heater_tank_leaks" {
            assert_eq!(cause.performer, Performer::LicensedGasFitter, "{}", cause.code);
        }
    }
    assert_eq!(seen.len(), 5, "{seen:?}");
}
