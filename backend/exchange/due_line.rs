//! One due item as programs read it: the fields of `anglestop due`, the same in JSON and CSV. Decides names and forms; computes nothing.

use std::io::{self, Write};

use chrono::NaiveDate;
use serde::Serialize;

use super::csv::{Audience, Cell, Column, Table, column};

/// One due item. Dates are local to the building.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DueLine<'a> {
    /// Code of the building.
    pub building: &'a str,
    /// Label of the unit.
    pub unit: &'a str,
    /// Tag of the fixture.
    pub fixture: &'a str,
    /// Code of the part; none for the fixture itself.
    pub part: Option<&'static str>,
    /// Code of the check.
    pub check: &'a str,
    /// Code of the schedule that is shown.
    pub schedule: &'a str,
    /// `calendar` or `last_done`.
    pub anchor: &'static str,
    /// RFC 5545 rule text, or ISO 8601 interval.
    pub rule: String,
    /// The rule's first day; none for intervals.
    pub start: Option<NaiveDate>,
    /// Days the window is open before the due date.
    pub lead_days: u32,
    /// Days after the due date that are not yet overdue.
    pub grace_days: u32,
    /// Days before an occurrence from which a result satisfies it.
    pub early_days: u32,
    /// `done`, `installed`, `imported` or `joined`.
    pub basis: &'static str,
    /// The day it counts from.
    pub counts_from: NaiveDate,
    /// First day of the window.
    pub opens: NaiveDate,
    /// Due date.
    pub due: NaiveDate,
    /// Last day of grace.
    pub last_day: NaiveDate,
    /// `later`, `in_window`, `due` or `overdue`.
    pub state: &'static str,
    /// Days past the last day of grace.
    pub days_overdue: u32,
    /// Occurrences whose grace has ended.
    pub missed: u32,
    /// Due date before it was moved; none when it was not.
    pub moved_from: Option<NaiveDate>,
}

/// The columns of the CSV, in order.
pub const COLUMNS: [Column; 21] = [
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("unit", "Label of the unit", "text", "204"),
    Column::new("fixture", "Tag of the fixture", "text", "WC-1"),
    Column::new("part", "Part that is checked", "code", "wax_seal").or_blank("the fixture itself"),
    Column::new("check", "Code of the check", "code", "wc_base_dry"),
    Column::new(
        "schedule",
        "Code of the schedule that asks first",
        "code",
        "yearly_wax_seal",
    ),
    Column::new(
        "anchor",
        "calendar, or last_done when it counts from the last time",
        "code",
        "last_done",
    ),
    Column::new(
        "rule",
        "RFC 5545 rule text, or an ISO 8601 interval from the last time",
        "text",
        "P1Y",
    ),
    Column::new("start", "First day of the rule", "date", "2024-10-01").or_blank("an interval has none"),
    Column::new(
        "lead_days",
        "Days the window is open before the due date",
        "days",
        "30",
    ),
    Column::new(
        "grace_days",
        "Days after the due date that are not yet overdue",
        "days",
        "30",
    ),
    Column::new(
        "early_days",
        "Days before an occurrence from which a result satisfies it",
        "days",
        "182",
    ),
    Column::new(
        "basis",
        "Why it counts from that day: done, installed, imported or joined",
        "code",
        "done",
    ),
    Column::new("counts_from", "Day it counts from", "date", "2025-09-10"),
    Column::new("opens", "First day of the window", "date", "2026-08-11"),
    Column::new("due", "Due date", "date", "2026-09-10"),
    Column::new("last_day", "Last day of grace", "date", "2026-10-10"),
    Column::new("state", "later, in_window, due or overdue", "code", "overdue"),
    Column::new(
        "days_overdue",
        "Days past the last day of grace, else 0",
        "days",
        "9",
    ),
    Column::new("missed", "Occurrences whose grace has ended", "number", "1"),
    Column::new("moved_from", "Due date before it was moved", "date", "2026-09-06")
        .or_blank("it was not moved"),
];

impl DueLine<'_> {
    fn cells(&self) -> [Cell<'_>; 21] {
        [
            Cell::text(self.building),
            Cell::text(self.unit),
            Cell::text(self.fixture),
            self.part.map_or(Cell::Blank, Cell::Code),
            Cell::text(self.check),
            Cell::text(self.schedule),
            Cell::Code(self.anchor),
            Cell::text(self.rule.as_str()),
            Cell::date(self.start),
            Cell::Whole(self.lead_days.into()),
            Cell::Whole(self.grace_days.into()),
            Cell::Whole(self.early_days.into()),
            Cell::Code(self.basis),
            Cell::Date(self.counts_from),
            Cell::Date(self.opens),
            Cell::Date(self.due),
            Cell::Date(self.last_day),
            Cell::Code(self.state),
            Cell::Whole(self.days_overdue.into()),
            Cell::Whole(self.missed.into()),
            Cell::date(self.moved_from),
        ]
    }
}

/// Writes a CSV, line by line.
///
/// # Errors
/// When `out` can't be written.
pub fn write_csv<'a>(
    out: impl Write,
    audience: Audience,
    lines: impl Iterator<Item = DueLine<'a>>,
) -> io::Result<()> {
    let mut table = Table::begin(out, audience, &column::names(&COLUMNS))?;
    for line in lines {
        table.row(line.cells())?;
    }
    table.finish().map(drop)
}

/// Writes a JSON array, an object a line.
///
/// # Errors
/// When `out` can't be written.
pub fn write_json<'a>(mut out: impl Write, lines: impl Iterator<Item = DueLine<'a>>) -> io::Result<()> {
    let mut before = "[\n";
    for line in lines {
        out.write_all(before.as_bytes())?;
        serde_json::to_writer(&mut out, &line)?;
        before = ",\n";
    }
    let end = if before == "[\n" { "[]\n" } else { "\n]\n" };
    out.write_all(end.as_bytes())?;
    out.flush()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line() -> DueLine<'static> {
        let day = NaiveDate::default();
        DueLine {
            building: "ALDER",
            unit: "204",
            fixture: "WC-1",
            part: None,
            check: "wc_base_dry",
            schedule: "yearly_wax_seal",
            anchor: "last_done",
            rule: "P1Y".to_owned(),
            start: None,
            lead_days: 30,
            grace_days: 30,
            early_days: 30,
            basis: "joined",
            counts_from: day,
            opens: day,
            due: day,
            last_day: day,
            state: "due",
            days_overdue: 0,
            missed: 0,
            moved_from: None,
        }
    }

    #[test]
    fn csv_and_json_have_the_same_fields_in_the_same_order() {
        let value = serde_json::to_value(line()).unwrap_or_default();
        let fields: Vec<String> = value
            .as_object()
            .map(|object| object.keys().cloned().collect())
            .unwrap_or_default();
        assert_eq!(fields, column::names(&COLUMNS));
        assert!(value["part"].is_null() && value["start"].is_null());
    }

    #[test]
    fn a_list_of_none_is_an_empty_array() {
        for (lines, length) in [(vec![], 0), (vec![line()], 1), (vec![line(), line()], 2)] {
            let mut out = Vec::new();
            write_json(&mut out, lines.into_iter()).unwrap_or_default();
            let read: Vec<serde_json::Value> = serde_json::from_slice(&out).unwrap_or_default();
            assert_eq!(read.len(), length, "{}", String::from_utf8_lossy(&out));
        }
    }
}
