//! The only place that asks the system what time it is. Everything else is told.

use chrono::{NaiveDate, NaiveDateTime, Utc};
use chrono_tz::Tz;

/// The instant at which a request, a command or a job runs, in UTC. Passed on as a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Now(pub NaiveDateTime);

impl Now {
    /// What the machine's clock says, to the millisecond.
    #[must_use]
    pub fn from_system() -> Self {
        let now = Utc::now();
        Self(
            chrono::DateTime::from_timestamp_millis(now.timestamp_millis())
                .unwrap_or(now)
                .naive_utc(),
        )
    }

    /// The local date in `zone`.
    #[must_use]
    pub fn date_in(self, zone: Tz) -> NaiveDate {
        self.0.and_utc().with_timezone(&zone).date_naive()
    }
}

/// Where a server takes its time from: the machine's clock, or one that a test moves by hand.
#[derive(Debug, Clone, Default)]
pub enum Clock {
    /// The machine's clock.
    #[default]
    System,
    /// The machine's clock, so many seconds ahead (or behind): a demo as of another day.
    Shifted(chrono::TimeDelta),
    /// Stands still until a test moves it.
    Held(std::sync::Arc<std::sync::Mutex<NaiveDateTime>>),
}

impl Clock {
    /// A clock that stands at `instant` (UTC).
    #[must_use]
    pub fn held(instant: NaiveDateTime) -> Self {
        Self::Held(std::sync::Arc::new(std::sync::Mutex::new(instant)))
    }

    /// The instant now.
    #[must_use]
    pub fn now(&self) -> Now {
        match self {
            Self::System => Now::from_system(),
            Self::Shifted(by) => Now(Now::from_system().0 + *by),
            Self::Held(instant) => Now(*instant.lock().unwrap_or_else(std::sync::PoisonError::into_inner)),
        }
    }

    /// Moves a held clock to `instant`; the machine's clock is left alone.
    pub fn set(&self, to: NaiveDateTime) {
        if let Self::Held(instant) = self {
            *instant.lock().unwrap_or_else(std::sync::PoisonError::into_inner) = to;
        }
    }
}
