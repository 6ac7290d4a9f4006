//! Where a due date stands, in the words of a language. What stands is for `domain::due` to decide; a test holds the English of the
//! catalogue to that of the domain, day by day.

use chrono::{NaiveDate, TimeDelta};

use super::Language;
use crate::domain::due::{State, Window};

impl Language {
    /// "opens Tue 3 Feb", "due in 5 days", "due, 9 days left", "9 days over".
    #[must_use]
    pub fn due(self, window: &Window, today: NaiveDate) -> String {
        let between = |from: NaiveDate, to: NaiveDate| usize::try_from((to - from).num_days()).unwrap_or(0);
        match window.state(today) {
            State::Later => self
                .say("due-opens")
                .with("day", self.day(window.opens(), today))
                .into(),
            State::InWindow => match between(today, window.due()) {
                1 => self.say("due-tomorrow").into(),
                days => self.say("due-in-days").with("count", days).into(),
            },
            State::Due if today == window.due() => self.say("due-today").into(),
            State::Due => match between(today, window.last_day()) {
                0 => self.say("due-last-day").into(),
                days => self
                    .say("due-days-left")
                    .with("days", self.count("figures-days", days))
                    .into(),
            },
            State::Overdue => {
                let days = usize::try_from(window.days_overdue(today)).unwrap_or(0);
                // A count of days over is written without marks between thousands, as the domain does.
                self.say("due-days-over").with("count", days).into()
            }
        }
    }

    /// The time to a deadline, or since: "5 h left", "12 days over", "due now".
    #[must_use]
    pub fn time_left(self, left: TimeDelta) -> String {
        let span = left.abs();
        let (key, number) = match (span.num_minutes(), span.num_hours()) {
            (0, _) => return self.say("due-now").into(),
            (minutes @ 0..120, _) => ("due-minutes", minutes),
            (_, hours @ 0..48) => ("due-hours", hours),
            _ => ("due-days", span.num_days()),
        };
        let side = if left < TimeDelta::zero() { "over" } else { "left" };
        self.say(key).with("number", number).with("side", side).into()
    }

    /// The due date as it stands beside the state, with where it was moved from and why when it was (see [`Self::moved`]): "due Mon 4 Jan
    /// 2027, moved from Sun 20 Dec: no working day".
    #[must_use]
    pub fn due_on_moved(self, window: &Window, today: NaiveDate, moved: &str) -> String {
        let due = self.due_on(window, today);
        if moved.is_empty() {
            due
        } else {
            format!("{due}, {moved}")
        }
    }

    /// The due date as it stands beside the state: "due Thu 17 Sep".
    #[must_use]
    pub fn due_on(self, window: &Window, today: NaiveDate) -> String {
        self.say("due-on")
            .with("day", self.day(window.due(), today))
            .into()
    }
}
