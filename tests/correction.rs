//! Until when a deficiency must be right.

use anglestop::domain::trade::Severity;
use anglestop::domain::trade::correction::CorrectionTimes;
use anglestop::exchange::catalogue::builtin;
use chrono::{DateTime, Utc};
use chrono_tz::Tz;

fn instant(text: &str) -> DateTime<Utc> {
    DateTime::parse_from_rfc3339(text).unwrap().with_timezone(&Utc)
}

fn by(programme: &str, severity: Severity, notified: &str, zone: Tz) -> Option<DateTime<Utc>> {
    let times = builtin()
        .unwrap()
        .programmes
        .iter()
        .find(|known| known.code == programme)
        .unwrap()
        .times;
    times.correct_by(severity, instant(notified), zone)
}

/// Source: HUD NSPIRE standards (2023): 24 hours, 24 hours, 30 days, 60 days; voucher programmes 24 hours, 30 days, 30 days, passes.
#[test]
fn the_times_are_those_of_the_standard() {
    use Severity as S;
    let zone = Tz::UTC;
    let cases = [
        ("default", S::LifeThreatening, Some("2026-03-03T09:30:00Z")),
        ("default", S::Severe, Some("2026-03-03T09:30:00Z")),
        ("default", S::Moderate, Some("2026-04-01T09:30:00Z")),
        ("default", S::Low, Some("2026-05-01T09:30:00Z")),
        ("voucher", S::LifeThreatening, Some("2026-03-03T09:30:00Z")),
        ("voucher", S::Severe, Some("2026-04-01T09:30:00Z")),
        ("voucher", S::Moderate, Some("2026-04-01T09:30:00Z")),
        ("voucher", S::Low, None),
    ];
    for (programme, severity, expected) in cases {
        let found = by(programme, severity, "2026-03-02T09:30:00Z", zone);
        assert_eq!(found, expected.map(instant), "{programme} {severity}");
    }
    assert_eq!(builtin().unwrap().programmes[0].times, CorrectionTimes::DEFAULT);
}

/// Clocks go forward in New York on 8 March 2026 at 2:00 (IANA time zone database).
#[test]
fn hours_are_clock_hours_and_days_keep_the_time_of_day() {
    let zone: Tz = "America/New_York".parse().unwrap();
    // 15:00 EST on the 7th: 24 clock hours later it is 16:00 EDT.
    assert_eq!(
        by("default", Severity::Severe, "2026-03-07T20:00:00Z", zone),
        Some(instant("2026-03-08T20:00:00Z"))
    );
    // 15:00 EST on 20 February: 30 days later 15:00 EDT, an hour less than 720.
    assert_eq!(
        by("default", Severity::Moderate, "2026-02-20T20:00:00Z", zone),
        Some(instant("2026-03-22T19:00:00Z"))
    );
    // 2:30 EST on 6 February: 30 days later that time does not exist; the first instant after the gap is 3:00 EDT.
    assert_eq!(
        by("default", Severity::Moderate, "2026-02-06T07:30:00Z", zone),
        Some(instant("2026-03-08T07:00:00Z"))
    );
    // 1:30 EDT on 2 October: 30 days later that time comes twice; the earlier one counts.
    assert_eq!(
        by("default", Severity::Moderate, "2026-10-02T05:30:00Z", zone),
        Some(instant("2026-11-01T05:30:00Z"))
    );
}

#[test]
fn a_graver_failure_never_has_more_time() {
    let notified = instant("2026-01-31T23:59:00Z");
    for programme in &builtin().unwrap().programmes {
        let ordered = [
            Severity::LifeThreatening,
            Severity::Severe,
            Severity::Moderate,
            Severity::Low,
        ];
        let deadlines = ordered.map(|severity| {
            programme
                .times
                .correct_by(severity, notified, Tz::UTC)
                .unwrap_or(DateTime::<Utc>::MAX_UTC)
        });
        assert!(deadlines.is_sorted(), "{}", programme.code);
    }
    assert!(Severity::LifeThreatening.rank() > Severity::Severe.rank());
    assert_eq!(Severity::Low.graver(Severity::Moderate), Severity::Moderate);
}
