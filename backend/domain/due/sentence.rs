//! The state of a window in a few words for a list.

use chrono::{Datelike, NaiveDate};

use super::window::{State, Window, days_from};

/// "opens Tue 3 Feb", "due in 5 days", "due today", "due, 9 days left", "9 days over".
///
/// A day in another year than `as_of` carries its year.
#[must_use]
pub fn sentence(window: &Window, as_of: NaiveDate) -> String {
    match window.state(as_of) {
        State::Later => format!("opens {}", day_in_words(window.opens(), as_of)),
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

/// The due date as it stands beside the state: "due Thu 17 Sep", "due Mon 4 Jan 2027, moved from Sun 20 Dec: no working day". `moved` says
/// where it was moved from and why (see [`super::moved_in_words`]), and is empty when it was not.
///
/// ```
/// # use anglestop::domain::due::{Window, due_in_words};
/// let (today, window) = ("2026-11-27".parse()?, Window::around("2027-01-04".parse()?, 30, 14));
/// assert_eq!(due_in_words(&window, today, ""), "due Mon 4 Jan 2027");
/// assert_eq!(
///     due_in_words(&window, today, "moved from Sun 20 Dec: no working day"),
///     "due Mon 4 Jan 2027, moved from Sun 20 Dec: no working day"
/// );
/// # Ok::<(), chrono::ParseError>(())
/// ```
#[must_use]
pub fn due_in_words(window: &Window, as_of: NaiveDate, moved: &str) -> String {
    let due = format!("due {}", day_in_words(window.due(), as_of));
    if moved.is_empty() {
        due
    } else {
        format!("{due}, {moved}")
    }
}

/// A day as `Tue 3 Feb`, with its year when that is another than `as_of`'s.
#[must_use]
pub fn day_in_words(day: NaiveDate, as_of: NaiveDate) -> String {
    let form = if day.year() == as_of.year() {
        "%a %-d %b"
    } else {
        "%a %-d %b %Y"
    };
    day.format(form).to_string()
}

fn count(days: u32) -> String {
    if days == 1 {
        "1 day".to_owned()
    } else {
        format!("{days} days")
    }
}
