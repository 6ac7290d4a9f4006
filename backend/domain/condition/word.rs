//! What the records say of a fixture on a day, in one word, each by a stated rule. Says nothing that nobody recorded.

use crate::domain::code::words;
use crate::domain::result::Outcome;

words! {
    /// What the records say, gravest first.
    Condition "condition" {
        Unsafe = "unsafe", "Unsafe";
        Repair = "repair", "Repair";
        Watch = "watch", "Watch";
        Sound = "sound", "Sound";
        Unknown = "unknown", "Unknown";
    }
}

impl Condition {
    /// The rule behind the word, as pages and the documentation print it.
    #[must_use]
    pub const fn rule(self) -> &'static str {
        match self {
            Self::Unsafe => "A life-threatening or severe deficiency is open.",
            Self::Repair => "A moderate deficiency is open, and none is graver.",
            Self::Watch => "A low deficiency is open, or a check is overdue.",
            Self::Sound => "It was checked, nothing is open and nothing is overdue.",
            Self::Unknown => "Nobody has recorded a check of it yet.",
        }
    }
}

/// Open deficiencies by how grave they are.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Open {
    /// Life-threatening.
    pub life_threatening: u32,
    /// Severe.
    pub severe: u32,
    /// Moderate.
    pub moderate: u32,
    /// Low.
    pub low: u32,
    /// Of all of these, those that came back within twelve months of being closed.
    pub repeated: u32,
}

/// What is on record of a fixture on a day.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct OnRecord {
    /// Open deficiencies.
    pub open: Open,
    /// Days since the earliest last day of grace, 0 when nothing is overdue.
    pub days_over: i64,
    /// How the last day on which it was checked came out: a fail when any check of that day failed.
    pub last_outcome: Option<Outcome>,
}

/// The condition and its reason in words.
///
/// ```
/// use anglestop::domain::condition::{Condition, OnRecord, condition};
/// assert_eq!(condition(&OnRecord::default()).0, Condition::Unknown);
/// ```
#[must_use]
pub fn condition(record: &OnRecord) -> (Condition, String) {
    let open = &record.open;
    let some = |count: u32, word: &str| {
        format!(
            "{count} {word} {} open",
            if count == 1 { "deficiency" } else { "deficiencies" }
        )
    };
    if open.life_threatening > 0 {
        (Condition::Unsafe, some(open.life_threatening, "life-threatening"))
    } else if open.severe > 0 {
        (Condition::Unsafe, some(open.severe, "severe"))
    } else if open.moderate > 0 {
        (Condition::Repair, some(open.moderate, "moderate"))
    } else if open.low > 0 {
        (Condition::Watch, some(open.low, "low"))
    } else if record.last_outcome.is_none() {
        (Condition::Unknown, "no check on record".to_owned())
    } else if record.days_over > 0 {
        let unit = if record.days_over == 1 { "day" } else { "days" };
        (
            Condition::Watch,
            format!("a check is {} {unit} over", record.days_over),
        )
    } else {
        (
            Condition::Sound,
            "checked, nothing open, nothing overdue".to_owned(),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn checked(open: Open, days_over: i64) -> OnRecord {
        OnRecord {
            open,
            days_over,
            last_outcome: Some(Outcome::Pass),
        }
    }

    #[test]
    fn the_gravest_open_deficiency_decides() {
        let open = Open {
            severe: 1,
            low: 4,
            ..Open::default()
        };
        assert_eq!(condition(&checked(open, 90)).0, Condition::Unsafe);
        let open = Open {
            moderate: 1,
            low: 4,
            ..Open::default()
        };
        assert_eq!(condition(&checked(open, 0)).0, Condition::Repair);
    }

    #[test]
    fn an_overdue_check_is_watched_and_says_by_how_much() {
        let (word, reason) = condition(&checked(Open::default(), 12));
        assert_eq!(
            (word, reason.as_str()),
            (Condition::Watch, "a check is 12 days over")
        );
    }

    #[test]
    fn a_fixture_never_checked_is_unknown_even_when_overdue() {
        let never = OnRecord {
            days_over: 40,
            ..OnRecord::default()
        };
        assert_eq!(condition(&never).0, Condition::Unknown);
    }

    #[test]
    fn a_graver_record_never_gives_a_better_word() {
        let mut last = Condition::Sound;
        for open in [
            Open {
                low: 1,
                ..Open::default()
            },
            Open {
                low: 1,
                moderate: 1,
                ..Open::default()
            },
            Open {
                low: 1,
                moderate: 1,
                severe: 1,
                ..Open::default()
            },
        ] {
            let word = condition(&checked(open, 0)).0;
            assert!(word < last);
            last = word;
        }
    }
}
