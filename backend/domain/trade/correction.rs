//! Until when a deficiency must be right. Decides the instant from the severity and the notification; knows no deficiency of ours.

use chrono::{DateTime, Days, LocalResult, NaiveDateTime, TimeDelta, TimeZone, Utc};
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};

use super::{Severity, Source};

/// How long there is to correct.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Allowance {
    /// Clock hours from the notification.
    Hours(u16),
    /// Days from the notification, to the same time of day in the building's zone.
    Days(u16),
    /// No deadline: the programme passes it.
    NoDeadline,
}

/// The time to correct each severity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CorrectionTimes {
    /// Life-threatening.
    pub life_threatening: Allowance,
    /// Severe.
    pub severe: Allowance,
    /// Moderate.
    pub moderate: Allowance,
    /// Low.
    pub low: Allowance,
}

/// A programme of times to correct, as data.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Programme {
    /// Its code: `default`, `voucher`.
    pub code: String,
    /// Its name.
    pub name: String,
    /// The times.
    pub times: CorrectionTimes,
    /// Where they come from.
    pub source: Source,
}

impl CorrectionTimes {
    /// The times when nothing else is set: 24 hours, 24 hours, 30 days, 60 days.
    ///
    /// # Source
    /// HUD NSPIRE standards, 88 FR 43371 (2023).
    pub const DEFAULT: Self = Self {
        life_threatening: Allowance::Hours(24),
        severe: Allowance::Hours(24),
        moderate: Allowance::Days(30),
        low: Allowance::Days(60),
    };

    /// The time for this severity.
    #[must_use]
    pub const fn of(&self, severity: Severity) -> Allowance {
        match severity {
            Severity::LifeThreatening => self.life_threatening,
            Severity::Severe => self.severe,
            Severity::Moderate => self.moderate,
            Severity::Low => self.low,
        }
    }

    /// The instant by which a deficiency of this severity must be right; none when the programme sets no deadline.
    ///
    /// Hours are clock hours. Days keep the time of day in the building's zone across a change of clocks; a time that the change
    /// skips becomes the first instant after it, one that comes twice the earlier.
    #[must_use]
    pub fn correct_by(
        &self,
        severity: Severity,
        notified_at: DateTime<Utc>,
        zone: Tz,
    ) -> Option<DateTime<Utc>> {
        match self.of(severity) {
            Allowance::Hours(hours) => notified_at.checked_add_signed(TimeDelta::hours(i64::from(hours))),
            Allowance::Days(days) => {
                let local = notified_at.with_timezone(&zone).naive_local();
                instant_in(zone, local.checked_add_days(Days::new(u64::from(days)))?)
            }
            Allowance::NoDeadline => None,
        }
    }
}

fn instant_in(zone: Tz, local: NaiveDateTime) -> Option<DateTime<Utc>> {
    match zone.from_local_datetime(&local) {
        LocalResult::Single(instant) | LocalResult::Ambiguous(instant, _) => {
            Some(instant.with_timezone(&Utc))
        }
        LocalResult::None => (1..=24 * 60).find_map(|minutes| {
            zone.from_local_datetime(&(local + TimeDelta::minutes(minutes)))
                .earliest()
                .map(|instant| instant.with_timezone(&Utc))
        }),
    }
}
