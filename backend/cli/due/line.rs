//! The window line as text: the days around today to scale, with a bracket where the window opens, a notch at the due date, an end
//! at the last day and a tick for today, which stands at the same column in every row.
//!
//! The order always shows, however short the distance: whatever is before today stands left of the tick, whatever is after it right, and
//! one day over already shows a stroke of its own.

use chrono::NaiveDate;

use crate::domain::due::Window;

/// Columns of a line.
pub const WIDTH: i64 = 29;
/// The column of today's tick, from 0.
const TODAY: i64 = 18;
/// Days a column.
const DAYS: i64 = 5;

/// Draws the line.
pub fn draw(window: &Window, as_of: NaiveDate) -> String {
    let [opens, due, last] = columns(window, as_of);
    (0..WIDTH)
        .map(|column| match column {
            TODAY => '│',
            _ if column == opens => '[',
            _ if column == last => ']',
            _ if column == due => '┴',
            _ if opens < column && column < last => '═',
            _ if last < column && column < TODAY => '/',
            _ => '─',
        })
        .collect()
}

/// Where opening, due date and last day stand; off the ends when they lie too far away, and on the tick when they are today. Days that
/// differ stand apart: what is past is pushed to the left, what is ahead to the right.
fn columns(window: &Window, as_of: NaiveDate) -> [i64; 3] {
    let [opens_on, due_on, last_on] = [window.opens(), window.due(), window.last_day()];
    let apart = |a: NaiveDate, b: NaiveDate| i64::from(a != b);
    let [opens, due, last] = [opens_on, due_on, last_on].map(|day| scaled(day, as_of));
    if as_of >= due_on {
        // One day over leaves room for a stroke between the end and today.
        let last = if as_of > last_on {
            last.min(TODAY - 2)
        } else {
            last
        };
        let due = due.min(last - apart(due_on, last_on));
        [opens.min(due - apart(opens_on, due_on)), due, last]
    } else {
        let due = due.max(opens + apart(opens_on, due_on));
        [opens, due, last.max(due + apart(due_on, last_on))]
    }
}

fn scaled(day: NaiveDate, as_of: NaiveDate) -> i64 {
    let days = (day - as_of).num_days();
    let columns = (days.abs() + DAYS / 2) / DAYS;
    TODAY + days.signum() * columns.max(days.abs().min(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(lead: u32, grace: u32, due_in_days: i64) -> String {
        let as_of = NaiveDate::from_ymd_opt(2026, 9, 1).unwrap_or_default();
        let due = as_of + chrono::TimeDelta::days(due_in_days);
        draw(&Window::around(due, lead, grace), as_of)
    }

    #[test]
    fn today_stands_before_within_and_past_the_window() {
        assert_eq!(line(30, 30, 40), "──────────────────│─[═════┴══", "later");
        assert_eq!(line(10, 20, 5), "─────────────────[│┴═══]─────", "in its window");
        assert_eq!(line(30, 30, -15), "─────────[═════┴══│══]───────", "due");
        assert_eq!(line(15, 10, -45), "──────[══┴═]//////│──────────", "overdue");
    }

    #[test]
    fn one_day_over_is_told_from_the_last_day() {
        assert_eq!(
            line(0, 10, -10),
            "────────────────[═│──────────",
            "last day today"
        );
        assert_eq!(line(0, 10, -11), "───────────────[]/│──────────", "one day over");
    }
}
