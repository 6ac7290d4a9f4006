//! The share of checks that are current: none of their last days has passed. Decides the share; knows neither checks nor dates.

/// How many of all are current.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Share {
    /// Current.
    pub current: usize,
    /// All.
    pub all: usize,
}

impl Share {
    /// Counts one more.
    pub fn add(&mut self, standing: Standing) {
        self.all += 1;
        self.current += usize::from(standing == Standing::Current);
    }

    /// Both together.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self {
            current: self.current + other.current,
            all: self.all + other.all,
        }
    }

    /// Parts of a thousand, rounded down, so that one overdue check never reads as all current; none of none.
    #[must_use]
    pub const fn per_mille(self) -> Option<usize> {
        (self.current * 1_000).checked_div(self.all)
    }

    /// "96.4 %", "no checks".
    #[must_use]
    pub fn words(self) -> String {
        match self.per_mille() {
            None => "no checks".to_owned(),
            Some(parts) => format!("{}.{} %", parts / 10, parts % 10),
        }
    }
}

/// Whether a check is past its last day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Its last day has not passed.
    Current,
    /// It has.
    Overdue,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_overdue_check_of_many_is_never_all_current() {
        let share = Share {
            current: 9_999,
            all: 10_000,
        };
        assert_eq!(share.words(), "99.9 %");
        assert_eq!(Share::default().words(), "no checks");
    }
}
