//! When planned work is done in the demo's buildings: Monday to Friday, not on public holidays, not in the winter break of every other one.

use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::due::{
    ClosingKind, ClosingText, Moving, OnClosedDays, Terms, WorkCalendar, read_working_days,
};
use crate::domain::register::BuildingId;
use crate::error::{Error, Result};
use crate::store::{Tx, calendars, schedules};

/// Names, first days and rules of public holidays.
///
/// # Source
/// Legal public holidays of the United States, 5 U.S.C. 6103(a); from memory. Those that are named after a person are left out: nobody
/// real stands in the demo.
const HOLIDAYS: [(&str, &str, &str); 8] = [
    ("New Year's Day", "2024-01-01", "FREQ=YEARLY"),
    ("Memorial Day", "2024-01-01", "FREQ=YEARLY;BYMONTH=5;BYDAY=-1MO"),
    ("Juneteenth", "2024-06-19", "FREQ=YEARLY"),
    ("Independence Day", "2024-07-04", "FREQ=YEARLY"),
    ("Labor Day", "2024-01-01", "FREQ=YEARLY;BYMONTH=9;BYDAY=1MO"),
    ("Veterans Day", "2024-11-11", "FREQ=YEARLY"),
    (
        "Thanksgiving Day",
        "2024-01-01",
        "FREQ=YEARLY;BYMONTH=11;BYDAY=4TH",
    ),
    ("Christmas Day", "2024-12-25", "FREQ=YEARLY"),
];

/// The schedule whose dates move on to a working day.
const MOVED: &str = "yearly_supply_lines";

/// Gives a building its calendar.
pub(super) fn live(tx: &mut Tx<'_>, building: BuildingId, number: usize) -> Result<()> {
    let holiday = |(name, start, rule): (&str, &str, &str)| ClosingText {
        name: name.to_owned(),
        start: start.to_owned(),
        rule: rule.to_owned(),
        ..ClosingText::default()
    };
    let shut_down = ClosingText {
        kind: ClosingKind::ShutDown.code().to_owned(),
        name: "Winter break".to_owned(),
        start: "2024-12-23".to_owned(),
        rule: "FREQ=YEARLY".to_owned(),
        days: "11".to_owned(),
        ..ClosingText::default()
    };
    let mut texts: Vec<ClosingText> = HOLIDAYS.into_iter().map(holiday).collect();
    if number.is_multiple_of(2) {
        texts.push(shut_down);
    }
    let closings = texts
        .iter()
        .map(ClosingText::read)
        .collect::<std::result::Result<_, _>>();
    let calendar = WorkCalendar {
        working_days: read_working_days(["MO TU WE TH FR"]).map_err(Error::Fields)?,
        closings: closings.map_err(Error::Fields)?,
    };
    calendars::set(tx, building, &calendar)
}

/// Lets the dates of a schedule move on to a working day.
pub(super) fn move_some(tx: &mut Tx<'_>, now: Now) -> Result<()> {
    let Some(schedule) = schedules::by_code(tx, MOVED)? else {
        return Ok(());
    };
    let moving = Moving {
        on_closed_days: OnClosedDays::Forward,
        ..Moving::default()
    };
    let timing = schedule.terms.timing.clone().moved_by(moving);
    let terms = Terms {
        timing: timing.map_err(Error::internal)?,
        ..schedule.terms.clone()
    };
    let by = schedules::By {
        at: now.0,
        person: None,
    };
    schedules::update(tx, &schedule, &terms, by)
}
