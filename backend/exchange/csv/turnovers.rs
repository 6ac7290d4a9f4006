//! Turnovers as CSV, a row each: from which household to which, and where each stands. Written only.

use std::io::{self, Write};

use chrono::{NaiveDate, NaiveDateTime};

use super::{Audience, Cell, Column, Table, column};
use crate::domain::code::Coded as _;
use crate::domain::turnover::Turnover;
use crate::domain::turnover::phones::Heard;

/// Name of the file.
pub const FILE: &str = "turnovers.csv";

/// The columns, in order.
pub const COLUMNS: [Column; 21] = [
    Column::new("turnover", "Its number", "whole number", "17"),
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("unit", "Label of the unit", "text", "204"),
    Column::new(
        "move_out_on",
        "Day the household before moves out, local to the building",
        "date",
        "2026-11-18",
    ),
    Column::new(
        "move_in_on",
        "Day the next household moves in, local to the building",
        "date",
        "2026-11-30",
    ),
    Column::new(
        "stage",
        "found, repaired or ready while it is open, then moved_in or cancelled",
        "code",
        "ready",
    ),
    Column::new(
        "opened_at",
        "When it was opened, UTC",
        "instant",
        "2026-11-18T17:00:00Z",
    ),
    Column::new(
        "opened_on",
        "The same as the building's local date",
        "date",
        "2026-11-18",
    ),
    Column::new(
        "opened_by",
        "Mail address of who opened it",
        "mail address",
        "ines@anglestop.example",
    )
    .or_blank("the command line"),
    Column::new(
        "ready_at",
        "When it was declared ready, UTC",
        "instant",
        "2026-11-27T15:30:00Z",
    )
    .or_blank("not ready yet"),
    Column::new(
        "ready_by",
        "Mail address of who declared it ready",
        "mail address",
        "ines@anglestop.example",
    )
    .or_blank("the command line, or not ready yet"),
    Column::new(
        "closed_at",
        "When it was closed or cancelled, UTC",
        "instant",
        "2026-11-30T14:00:00Z",
    )
    .or_blank("it is open"),
    Column::new(
        "closed_by",
        "Mail address of who closed or cancelled it",
        "mail address",
        "ines@anglestop.example",
    )
    .or_blank("the command line, or it is open"),
    Column::new(
        "signed_name",
        "Name that was signed at closing",
        "text",
        "A. Okafor",
    )
    .or_blank("not closed with a signature"),
    Column::new("note", "Free text", "text", "New kitchen floor").or_blank("none"),
    Column::new(
        "phone_heard_at",
        "When the phone that holds what is not sent was last heard, UTC; when none does, the one heard last",
        "instant",
        "2026-11-24T20:05:00Z",
    )
    .or_blank("it is over, or no phone fetched it"),
    Column::new(
        "unsent_answers",
        "Answers and steps that phones last said are not sent yet",
        "whole number",
        "3",
    )
    .or_blank("it is over, or no phone fetched it"),
    Column::new(
        "unsent_photos",
        "Photos that phones last said are not sent yet",
        "whole number",
        "2",
    )
    .or_blank("it is over, or no phone fetched it"),
    Column::new(
        "record",
        "Number of its signed record in the building",
        "whole number",
        "3",
    )
    .or_blank("not closed, so it has none"),
    Column::new(
        "record_sha256",
        "SHA-256 of the record as a page, hexadecimal",
        "text",
        "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
    )
    .or_blank("it has none"),
    Column::new(
        "record_pdf_sha256",
        "SHA-256 of the record as PDF, hexadecimal",
        "text",
        "60303ae22b998861bce3b28f33eec1be758a213c86c93c076dbe9f558c11c752",
    )
    .or_blank("it has none, or was made before records were PDFs too"),
];

/// What a row says beside the turnover itself.
#[derive(Debug, Clone, Copy)]
pub struct Beside<'a> {
    /// Code of the building.
    pub building: &'a str,
    /// Label of the unit.
    pub unit: &'a str,
    /// The building's local date on which it was opened.
    pub opened_on: NaiveDate,
    /// Mail addresses of who opened it, declared it ready, and closed or cancelled it.
    pub by: [Option<&'a str>; 3],
    /// What its phones last said, the one heard last first.
    pub phones: &'a [Heard],
    /// Number of its record, SHA-256 of its page and of its PDF; none while it has none.
    pub record: Option<(i64, &'a str, Option<&'a str>)>,
}

/// Of the phones that hold something the one that is silent longest: what it holds is on no other.
fn heard_at(phones: &[Heard]) -> Option<NaiveDateTime> {
    let holding = phones.iter().filter(|phone| phone.holds_something());
    let longest = holding.map(|phone| phone.heard_at).min();
    longest.or_else(|| phones.first().map(|phone| phone.heard_at))
}

/// What all phones hold; blank without one.
fn sum(phones: &[Heard], of: impl Fn(&Heard) -> usize) -> Cell<'static> {
    if phones.is_empty() {
        return Cell::Blank;
    }
    Cell::Whole(i64::try_from(phones.iter().map(of).sum::<usize>()).unwrap_or(i64::MAX))
}

/// A file that is being written.
pub struct TurnoverWriter<W: Write> {
    table: Table<W>,
}

impl<W: Write> TurnoverWriter<W> {
    /// Begins with the line of names.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn begin(out: W, audience: Audience) -> io::Result<Self> {
        let table = Table::begin(out, audience, &column::names(&COLUMNS))?;
        Ok(Self { table })
    }

    /// Writes one turnover.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn write(&mut self, turnover: &Turnover, beside: Beside<'_>) -> io::Result<()> {
        let [opened_by, ready_by, closed_by] = beside.by.map(|who| Cell::text(who.unwrap_or_default()));
        let instant = |at: Option<NaiveDateTime>| at.map_or(Cell::Blank, Cell::Instant);
        let [number, page, pdf] = match beside.record {
            None => [Cell::Blank, Cell::Blank, Cell::Blank],
            Some((number, page, pdf)) => [
                Cell::Whole(number),
                Cell::text(page),
                Cell::text(pdf.unwrap_or_default()),
            ],
        };
        self.table.row([
            Cell::Whole(turnover.id.0),
            Cell::text(beside.building),
            Cell::text(beside.unit),
            Cell::Date(turnover.facts.move_out_on),
            Cell::Date(turnover.facts.move_in_on),
            Cell::Code(turnover.stage.code()),
            Cell::Instant(turnover.opened_at),
            Cell::Date(beside.opened_on),
            opened_by,
            instant(turnover.ready_at),
            ready_by,
            instant(turnover.closed_at),
            closed_by,
            Cell::text(&turnover.signed_name),
            Cell::text(&turnover.facts.note),
            instant(heard_at(beside.phones)),
            sum(beside.phones, |phone| phone.unsent_answers),
            sum(beside.phones, |phone| phone.unsent_photos),
            number,
            page,
            pdf,
        ])
    }

    /// Ends the file.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn finish(self) -> io::Result<W> {
        self.table.finish()
    }
}
