//! Results as CSV, a row each: what was seen where, when and by whom. Written only.

use std::io::{self, Write};

use chrono::{NaiveDate, NaiveDateTime};

use super::{Audience, Cell, Column, Table, column};

/// The columns, in order.
pub const COLUMNS: [Column; 18] = [
    Column::new(
        "id",
        "UUID of the result, made by whoever recorded it",
        "UUID",
        "0193f2a4-7c1e-7a55-9c0a-2f3b5d6e7f80",
    ),
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("unit", "Label of the unit", "text", "204"),
    Column::new("tag", "Label of the place", "text", "WC-1"),
    Column::new("kind", "What stood there then", "code", "water_closet"),
    Column::new("part", "Part that was checked", "code", "wax_seal").or_blank("the fixture itself"),
    Column::new("check", "Code of the check", "code", "wc_base_dry"),
    Column::new(
        "check_version",
        "Version of the procedure as it was asked",
        "number",
        "1",
    ),
    Column::new(
        "outcome",
        "pass, fail or not_checked, which satisfies nothing",
        "code",
        "pass",
    ),
    Column::new(
        "reason",
        "Why it was not checked, or why it failed",
        "text",
        "Nobody home",
    )
    .or_blank("none"),
    Column::new("reading", "What was read, as typed", "text", "14 7/8").or_blank("a verdict has none"),
    Column::new("note", "Free text", "text", "Shutoff stiff").or_blank("none"),
    Column::new(
        "done_at",
        "When it was done, UTC",
        "instant",
        "2026-09-01T14:05:00Z",
    ),
    Column::new(
        "done_on",
        "The same as the building's local date",
        "date",
        "2026-09-01",
    ),
    Column::new(
        "received_at",
        "When the server received it, UTC",
        "instant",
        "2026-09-01T14:06:11Z",
    ),
    Column::new(
        "person",
        "Mail address of who saw it",
        "mail address",
        "ines@anglestop.example",
    )
    .or_blank("the command line or an import"),
    Column::new(
        "asked",
        "What the check asked, its limits and their sources, as they were then",
        "text",
        "Time the refill. Refill time, at most 180 s (common practice)",
    )
    .or_blank("recorded before this was kept"),
    Column::new(
        "detail",
        "What was measured beyond one reading: a clearance, a flush test, leak points",
        "JSON",
        "",
    )
    .or_blank("nothing was"),
];

/// One result.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ResultLine {
    /// UUID.
    pub id: String,
    /// Label of the unit.
    pub unit: String,
    /// Label of the place.
    pub tag: String,
    /// Code of the kind.
    pub kind: String,
    /// Code of the part, may be empty.
    pub part: String,
    /// Code of the check.
    pub check: String,
    /// Version of the procedure.
    pub check_version: i64,
    /// Code of the outcome.
    pub outcome: String,
    /// May be empty.
    pub reason: String,
    /// May be empty.
    pub reading: String,
    /// May be empty.
    pub note: String,
    /// UTC.
    pub done_at: NaiveDateTime,
    /// Local date.
    pub done_on: NaiveDate,
    /// UTC.
    pub received_at: NaiveDateTime,
    /// Mail address.
    pub person: Option<String>,
    /// May be empty.
    pub asked: String,
    /// May be empty.
    pub detail: String,
}

/// A file that is being written.
pub struct ResultWriter<W: Write> {
    table: Table<W>,
}

impl<W: Write> ResultWriter<W> {
    /// Begins with the line of names.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn begin(out: W, audience: Audience) -> io::Result<Self> {
        let table = Table::begin(out, audience, &column::names(&COLUMNS))?;
        Ok(Self { table })
    }

    /// Writes one result of a building.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn write(&mut self, building: &str, line: &ResultLine) -> io::Result<()> {
        self.table.row([
            Cell::text(&line.id),
            Cell::text(building),
            Cell::text(&line.unit),
            Cell::text(&line.tag),
            Cell::text(&line.kind),
            Cell::text(&line.part),
            Cell::text(&line.check),
            Cell::Whole(line.check_version),
            Cell::text(&line.outcome),
            Cell::text(&line.reason),
            Cell::text(&line.reading),
            Cell::text(&line.note),
            Cell::Instant(line.done_at),
            Cell::Date(line.done_on),
            Cell::Instant(line.received_at),
            Cell::text(line.person.as_deref().unwrap_or_default()),
            Cell::text(&line.asked),
            Cell::text(&line.detail),
        ])
    }

    /// Ends the file.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn finish(self) -> io::Result<()> {
        self.table.finish()?.flush()
    }
}
