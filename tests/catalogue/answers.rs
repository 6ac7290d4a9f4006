//! What an answer means: limits, reasons, severities, and the stored form of a check.

use super::*;

/// Source: HUD NSPIRE standards (2023), toilet, bathtub and shower, water heater, smoke alarm.
#[test]
fn severities_are_those_of_the_standard() {
    use Severity as S;
    let cases = [
        ("wc_flushes", Setting::OnlyOneInUnit, S::LifeThreatening),
        ("wc_flushes", Setting::OneOfSeveral, S::Moderate),
        ("wc_flushes", Setting::CommonArea, S::Moderate),
        ("wc_bowl_firm", Setting::OnlyOneInUnit, S::Moderate),
        ("wc_seat", Setting::OnlyOneInUnit, S::Low),
        ("bath_usable", Setting::OnlyOneInUnit, S::Severe),
        ("bath_usable", Setting::CommonArea, S::Low),
        ("bath_works", Setting::OneOfSeveral, S::Moderate),
        ("heater_relief_valve", Setting::OnlyOneInUnit, S::Severe),
        ("heater_discharge_pipe", Setting::OnlyOneInUnit, S::Moderate),
        ("heater_hot_water", Setting::OnlyOneInUnit, S::Severe),
        ("heater_hot_water", Setting::CommonArea, S::Low),
        ("heater_flue", Setting::OneOfSeveral, S::LifeThreatening),
        ("heater_gas_connector", Setting::OneOfSeveral, S::LifeThreatening),
        ("smoke_alarm_sounds", Setting::OneOfSeveral, S::LifeThreatening),
        ("co_alarm_sounds", Setting::OneOfSeveral, S::LifeThreatening),
        ("supply_line_sound", Setting::OnlyOneInUnit, S::Moderate),
        ("wc_base_dry", Setting::OneOfSeveral, S::Severe),
        ("exhaust_fan_draws", Setting::OnlyOneInUnit, S::Moderate),
    ];
    for (code, setting, severity) in cases {
        assert_eq!(check(code).severity_in(setting), severity, "{code} {setting:?}");
    }
}

/// At each limit and on both sides of it; limits inclusive. Sources of the limits: IRC P2903.3.1 (80 psi), IRC P2903.3 (40 psi),
/// UPC 408.3 and IPC 607.1.2 (120 F), IPC 504 (6 in), 10 CFR 430.32 (2.2 and 2.5 gal/min); refill and moisture are common practice.
#[test]
fn readings_pass_at_their_limit_and_fail_beyond() {
    let cases = [
        ("static_pressure", "80 psi", "pass"),
        ("static_pressure", "80.01", "fail"),
        ("static_pressure", "40", "pass"),
        ("static_pressure", "39.99", "fail"),
        ("static_pressure", "551 kPa", "pass"),
        ("static_pressure", "552 kPa", "fail"),
        ("bath_hot_temperature", "120 F", "pass"),
        ("bath_hot_temperature", "120.1", "fail"),
        ("bath_hot_temperature", "48.8 C", "pass"),
        ("bath_hot_temperature", "48.9 C", "fail"),
        ("heater_discharge_height", "6", "pass"),
        ("heater_discharge_height", "6 1/16", "fail"),
        ("heater_discharge_height", "152.4 mm", "pass"),
        ("heater_discharge_height", "153 mm", "fail"),
        ("heater_discharge_height", "1 7/16", "fail"),
        ("wc_refill", "3 min", "pass"),
        ("wc_refill", "181", "fail"),
        ("wc_refill", "1 min 20", "pass"),
        ("floor_moisture", "16 %", "pass"),
        ("floor_moisture", "16.1", "fail"),
        ("faucet_flow", "2.2", "pass"),
        ("faucet_flow", "2.21 gpm", "fail"),
        ("faucet_flow", "8.3 L/min", "pass"),
        ("shower_flow", "2.5", "pass"),
        ("shower_flow", "9.5 L/min", "fail"),
        ("heater_anode", "1/2", "pass"),
        ("heater_anode", "7/16", "fail"),
    ];
    for (code, given, verdict) in cases {
        let found = answer(code, given);
        assert_eq!(found.verdict.code(), verdict, "{code} {given}: {}", found.reason);
        assert!(found.reading.is_some());
    }
}

#[test]
fn the_reason_says_what_was_read_and_which_limit_it_breaks() {
    assert_eq!(
        answer("static_pressure", "92").reason,
        "92 psi is over 80 psi (IRC P2903.3.1; UPC 608)"
    );
    assert_eq!(
        answer("static_pressure", "62 psi").reason,
        "62 psi, at most 80 psi, at least 40 psi"
    );
    assert_eq!(
        answer("wc_clearance_side", "14 7/8\"").reason,
        "14 7/8\" is under 15 in (IPC 405.3.1; IRC P2705.1)"
    );
    assert_eq!(answer("wc_base_dry", "fail").reason, "Wet, stained or smells");
    assert_eq!(answer("wc_base_dry", "pass").verdict, Verdict::Pass);
}

#[test]
fn an_answer_that_cannot_be_read_is_refused_and_not_guessed() {
    let context = Context {
        profile: "ipc".parse().unwrap(),
        length_unit: LengthUnit::Millimetre,
    };
    for (code, given, part) in [
        ("wc_base_dry", "yes", "answer pass or fail"),
        ("wc_base_dry", "", "answer pass or fail"),
        ("wc_refill", "pass", "can't be read"),
        ("wc_refill", "", "nothing was entered"),
        ("static_pressure", "high", "can't be read"),
        ("static_pressure", "60 F", "a pressure is asked for"),
    ] {
        let error = outcome(check(code), given, &context)
            .expect_err(given)
            .to_string();
        assert!(error.contains(part), "{code} {given}: {error}");
    }
    let bare = outcome(check("wc_clearance_side"), "381", &context).unwrap();
    assert_eq!(
        (bare.verdict, bare.reason.as_str()),
        (Verdict::Pass, "381 mm, at least 15 in")
    );
}

#[test]
fn a_check_stored_as_json_comes_back_as_it_was_asked() {
    for check in &catalogue().checks {
        let stored = check_to_json(check).unwrap();
        assert_eq!(&check_from_json(&stored).unwrap(), check, "{}", check.code);
    }
    assert!(check_from_json("{}").is_err());
    let unnamed = check_to_json(check("wc_refill")).unwrap().replace("180 s", "180");
    assert!(
        check_from_json(&unnamed)
            .unwrap_err()
            .to_string()
            .contains("no unit")
    );
}

/// Codes stand in databases and files: they are the same in serde and in `code()`.
#[test]
fn serde_writes_the_codes() {
    fn same<T: Coded + serde::Serialize + serde::de::DeserializeOwned + PartialEq + std::fmt::Debug>() {
        for word in T::ALL.iter().copied() {
            let text = serde_json::to_string(&word).unwrap();
            assert_eq!(text, format!("\"{}\"", word.code()));
            assert_eq!(serde_json::from_str::<T>(&text).unwrap(), word);
            assert_eq!(T::from_code(word.code()).unwrap(), word);
        }
        assert!(T::from_code("nothing of the kind").is_err());
    }
    same::<FixtureKind>();
    same::<PartKind>();
    same::<Severity>();
    same::<Caution>();
    same::<Performer>();
    same::<TurnoverStage>();
    same::<BaseJoint>();
    same::<Pack>();
}
