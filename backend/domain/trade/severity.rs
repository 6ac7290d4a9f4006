//! How grave a failure is. Decides the four grades and their order; the time to correct is in `correction`.

use crate::domain::code::words;

words! {
    /// How grave a deficiency is, gravest first in the order of the type.
    ///
    /// # Source
    /// The four grades of the HUD NSPIRE standards (88 FR 43371, 2023).
    Severity "severity" {
        LifeThreatening = "life_threatening", "Life-threatening";
        Severe = "severe", "Severe";
        Moderate = "moderate", "Moderate";
        Low = "low", "Low";
    }
}

words! {
    /// What the second time within twelve months does to the severity.
    Escalation "escalation" {
        OneGrade = "one_grade", "One grade graver";
        None = "none", "As grave as the first time";
    }
}

impl Escalation {
    /// How grave it is the second time.
    #[must_use]
    pub const fn of(self, severity: Severity) -> Severity {
        match self {
            Self::OneGrade => severity.escalated(),
            Self::None => severity,
        }
    }
}

impl Severity {
    /// Whether it keeps somebody from moving in: life-threatening or severe.
    #[must_use]
    pub const fn is_grave(self) -> bool {
        matches!(self, Self::LifeThreatening | Self::Severe)
    }

    /// A number that grows with gravity, 1 (low) to 4 (life-threatening), for sorting and storing.
    #[must_use]
    pub const fn rank(self) -> i16 {
        match self {
            Self::LifeThreatening => 4,
            Self::Severe => 3,
            Self::Moderate => 2,
            Self::Low => 1,
        }
    }

    /// One grade graver, for what comes back a second time; severe stays severe, since what endangers life is said by what failed.
    ///
    /// # Source
    /// Common practice, no source: what comes back within a year was not put right the first time.
    #[must_use]
    pub const fn escalated(self) -> Self {
        match self {
            Self::Low => Self::Moderate,
            Self::Moderate | Self::Severe => Self::Severe,
            Self::LifeThreatening => Self::LifeThreatening,
        }
    }

    /// The graver of two.
    #[must_use]
    pub fn graver(self, other: Self) -> Self {
        if self.rank() >= other.rank() { self } else { other }
    }
}

/// Where the failed fixture stands, as far as gravity depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Setting {
    /// The only fixture in service of its kind in the unit.
    OnlyOneInUnit,
    /// The unit has another of the kind.
    OneOfSeveral,
    /// In a common area, where no household depends on it alone.
    CommonArea,
}
