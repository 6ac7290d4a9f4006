//! The condition of a building as a CSV: a row a fixture that stood there on the day, documented column by column. New columns come
//! at the end.

use std::io::Write;

use chrono::NaiveDate;

use super::column::names;
use super::{Audience, Cell, Column, Table};
use crate::domain::code::Coded;
use crate::domain::condition::{OnRecord, condition};
use crate::domain::register::Installed;
use crate::domain::result::Outcome;
use crate::domain::trade::FixtureKind;

/// What each column means.
pub const COLUMNS: [Column; 21] = [
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("unit", "Label of the unit or common area", "text", "204"),
    Column::new("room", "Room in which it stands", "text", "hall bath").or_blank("no room was named"),
    Column::new("tag", "Label of its place, unique in the unit", "text", "WC-1"),
    Column::new("kind", "Kind of fixture", "code", "water_closet"),
    Column::new("maker", "Maker", "text", "Orvenda").or_blank("not noted"),
    Column::new("model", "Model", "text", "K440").or_blank("not noted"),
    Column::new("installed_on", "Local date of installation", "date", "2016-05-01").or_blank("unknown"),
    Column::new(
        "installed_estimated",
        "Whether that date is an estimate",
        "true or false",
        "false",
    )
    .or_blank("the date is unknown"),
    Column::new("age_years", "Whole years since installation", "years", "10").or_blank("unknown"),
    Column::new(
        "last_done",
        "Last day on which any check of it was done",
        "date",
        "2026-03-02",
    )
    .or_blank("never done"),
    Column::new(
        "last_outcome",
        "fail when any check of that day failed, else pass",
        "code",
        "pass",
    )
    .or_blank("never done"),
    Column::new(
        "next_due",
        "Earliest due date of its checks",
        "date",
        "2027-03-02",
    )
    .or_blank("nothing comes due"),
    Column::new(
        "days_over",
        "Days since the earliest last day of grace",
        "days",
        "0",
    ),
    Column::new(
        "open_life_threatening",
        "Open deficiencies of this severity",
        "count",
        "0",
    ),
    Column::new("open_severe", "Open deficiencies of this severity", "count", "0"),
    Column::new(
        "open_moderate",
        "Open deficiencies of this severity",
        "count",
        "1",
    ),
    Column::new("open_low", "Open deficiencies of this severity", "count", "0"),
    Column::new(
        "condition",
        "unsafe, repair, watch, sound or unknown",
        "code",
        "repair",
    ),
    Column::new(
        "reason",
        "Why it is called so",
        "text",
        "1 moderate deficiency open",
    ),
    Column::new("as_of", "The local date it speaks of", "date", "2026-11-25"),
];

/// One fixture.
#[derive(Debug, Clone)]
pub struct Row<'a> {
    /// Code of the building.
    pub building: &'a str,
    /// Label of the unit.
    pub unit: &'a str,
    /// Name of the room, may be empty.
    pub room: &'a str,
    /// Label of the place.
    pub tag: &'a str,
    /// What it is.
    pub kind: FixtureKind,
    /// Free text.
    pub maker: &'a str,
    /// Free text.
    pub model: &'a str,
    /// When it was installed.
    pub installed: Installed,
    /// The last day on which it was checked.
    pub last_done: Option<NaiveDate>,
    /// The earliest due date.
    pub next_due: Option<NaiveDate>,
    /// What its condition follows from.
    pub record: OnRecord,
    /// The day it speaks of.
    pub as_of: NaiveDate,
}

/// Begins the file.
///
/// # Errors
/// When `out` can't be written.
pub fn begin<W: Write>(out: W, audience: Audience) -> std::io::Result<Table<W>> {
    Table::begin(out, audience, &names(&COLUMNS))
}

/// Writes one fixture.
///
/// # Errors
/// When the file can't be written.
pub fn write(table: &mut Table<impl Write>, row: &Row<'_>) -> std::io::Result<()> {
    let (word, reason) = condition(&row.record);
    let open = &row.record.open;
    let estimated = row.installed.date().map(|_| {
        if row.installed.is_estimated() {
            "true"
        } else {
            "false"
        }
    });
    table.row([
        Cell::text(row.building),
        Cell::text(row.unit),
        Cell::text(row.room),
        Cell::text(row.tag),
        Cell::Code(row.kind.code()),
        Cell::text(row.maker),
        Cell::text(row.model),
        Cell::date(row.installed.date()),
        estimated.map_or(Cell::Blank, Cell::Code),
        Cell::whole(row.installed.age_years(row.as_of).map(i64::from)),
        Cell::date(row.last_done),
        row.record
            .last_outcome
            .map_or(Cell::Blank, |outcome: Outcome| Cell::Code(outcome.code())),
        Cell::date(row.next_due),
        Cell::Whole(row.record.days_over),
        Cell::Whole(i64::from(open.life_threatening)),
        Cell::Whole(i64::from(open.severe)),
        Cell::Whole(i64::from(open.moderate)),
        Cell::Whole(i64::from(open.low)),
        Cell::Code(word.code()),
        Cell::text(reason),
        Cell::Date(row.as_of),
    ])
}
