//! What happened so far, as days: the only facts a due date is computed from.
//!
//! It decides which of several facts counts. The caller decides which results and fixtures they come
//! from, and leaves out what lies after the day it asks about.

use chrono::NaiveDate;

/// The days that count for one check on one fixture or part, each local to the building.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct History {
    /// The last day with a result "pass" or "fail".
    pub done: Option<NaiveDate>,
    /// The day the part, or the fixture, was installed. Counts only from the day the building joined.
    pub installed: Option<NaiveDate>,
    /// The `last_done` an import brought along.
    pub imported: Option<NaiveDate>,
    /// The day the building joined.
    pub joined: NaiveDate,
    /// The unit's place in the spread of a first round, in millionths of the interval: 0 to 999,999.
    pub spread_ppm: u32,
}

/// Why a due date counts from the day it does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Basis {
    /// A result of ours.
    Done,
    /// Installed while the building was in the register.
    Installed,
    /// A last-done day that was imported.
    Imported,
    /// Never done: the day the building joined.
    Joined,
}

impl History {
    /// Never done anything since the building joined.
    #[must_use]
    pub fn joined(joined: NaiveDate) -> Self {
        Self {
            done: None,
            installed: None,
            imported: None,
            joined,
            spread_ppm: 0,
        }
    }

    /// The basis and the day counting starts from: the latest of done, installed (when the building
    /// was in the register by then) and imported, in that order on the same day; else the day the
    /// building joined.
    #[must_use]
    pub fn counts_from(&self) -> (Basis, NaiveDate) {
        let installed = self.installed.filter(|day| *day >= self.joined);
        let facts = [
            (Basis::Done, self.done),
            (Basis::Installed, installed),
            (Basis::Imported, self.imported),
        ];
        let mut latest: Option<(Basis, NaiveDate)> = None;
        for (basis, day) in facts {
            if let Some(day) = day
                && latest.is_none_or(|(_, best)| day > best)
            {
                latest = Some((basis, day));
            }
        }
        latest.unwrap_or((Basis::Joined, self.joined))
    }
}

impl Basis {
    /// Every basis, in the order that decides between equal days.
    pub const ALL: [Self; 4] = [Self::Done, Self::Installed, Self::Imported, Self::Joined];

    /// The word used in JSON, CSV and the database.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::Installed => "installed",
            Self::Imported => "imported",
            Self::Joined => "joined",
        }
    }

    /// The basis with this code.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|basis| basis.code() == code)
    }
}
