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

impl Severity {
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
