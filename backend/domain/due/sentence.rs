//! The state of a window in a few words for a list.

use chrono::{Datelike, NaiveDate};

use super::window::{State, Window, days_from};

/// "opens Tue 3 Feb", "due in 5 days", "due today", "due, 9 days left", "9 days over".
///
/// A day in another year than `as_of` carries its year.
#[must_use]
pub fn sentence(window: &Window, as_of: NaiveDate) -> String {
    match window.state(as_of) {
        State::Later => {
            let opens = window.opens();
            let form = if opens.year() == as_of.year() {
                "%a %-d %b"
            } else {
                "%a %-d %b %Y"
            };
            format!("opens {}", opens.format(form))
        }
        State::InWindow => match days_from(as_of, window.due()) {
            1 => "due tomorrow".to_owned(),
            days => format!("due in {days} days"),
        },
        State::Due if as_of == window.due() => "due today".to_owned(),
        State::Due => match days_from(as_of, window.last_day()) {
            0 => "due, last day today".to_owned(),
            days => format!("due, {} left", count(days)),
        },
        State::Overdue => format!("{} over", count(window.days_overdue(as_of))),
    }
}

fn count(days: u32) -> String {
    if days == 1 {
        "1 day".to_owned()
    } else {
        format!("{days} days")
    }
}
