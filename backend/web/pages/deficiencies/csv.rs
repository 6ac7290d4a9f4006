//! The list of deficiencies as a file: every row that the address asks for, in the order of the page. Written to a spool first, so
//! that its length takes no memory.

use std::io::{BufWriter, Seek as _, Write};

use actix_web::HttpRequest;

use super::list::Asked;
use crate::domain::code::Coded as _;
use crate::error::{Error, Result};
use crate::exchange::csv::{self, Audience, Cell, Column, Table, column};
use crate::store::lists::deficiencies::{self, Line};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Rows read at once.
const CHUNK: i64 = 2_000;

/// The columns.
pub const COLUMNS: [Column; 15] = [
    Column::new("deficiency", "Its number", "whole number", "17"),
    Column::new("building", "Code of the building", "text", "ALDER"),
    Column::new("unit", "Label of the unit", "text", "204"),
    Column::new("room", "Room", "text", "Hall bath").or_blank("none was named"),
    Column::new("tag", "Label of the place", "text", "WC-1").or_blank("a report that named no place"),
    Column::new("part", "Part", "code", "wax_seal").or_blank("the fixture itself"),
    Column::new(
        "title",
        "What is wrong",
        "text",
        "Base dry while flushing: Wet, stained or smells",
    ),
    Column::new("source", "What opened it", "code", "result"),
    Column::new("severity", "How grave", "code", "severe"),
    Column::new("status", "Where it stands", "code", "open"),
    Column::new(
        "opened_at",
        "When it was found or reported",
        "instant, UTC",
        "2026-11-24T18:00:00Z",
    ),
    Column::new(
        "correct_by",
        "Until when it must be right",
        "instant, UTC",
        "2026-11-25T18:00:00Z",
    )
    .or_blank("the programme sets no deadline"),
    Column::new(
        "closed_at",
        "When it was closed",
        "instant, UTC",
        "2026-11-25T10:00:00Z",
    )
    .or_blank("not closed"),
    Column::new("sees_to_it", "Person or licensed vendor", "text", "Rosa Vance").or_blank("nobody yet"),
    Column::new(
        "repeats",
        "Number of the one it repeats within twelve months",
        "whole number",
        "9",
    )
    .or_blank("repeats none"),
];

/// Sends the file.
///
/// # Errors
/// When a filter can't be used or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let file = context
        .read(move |conn, actor| {
            let asked = Asked::read(conn, &actor.scope, fields)?;
            let mut table = Table::begin(
                BufWriter::new(tempfile::tempfile()?),
                Audience::Spreadsheet,
                &column::names(&COLUMNS),
            )?;
            let mut after = None;
            loop {
                let lines = deficiencies::list(conn, &actor.scope, &asked.filter, after, CHUNK)?;
                let Some(last) = lines.last() else { break };
                after = Some((last.correct_by, last.id));
                write(&mut table, &lines)?;
            }
            let mut file = table
                .finish()?
                .into_inner()
                .map_err(|cause| Error::from(cause.into_error()))?;
            file.rewind()?;
            Ok(file)
        })
        .await?;
    Ok(respond::spooled("deficiencies.csv", csv::MEDIA_TYPE, file))
}

fn write(table: &mut Table<impl Write>, lines: &[Line]) -> Result<()> {
    for line in lines {
        let sees_to_it = if line.vendor.is_empty() {
            &line.assignee
        } else {
            &line.vendor
        };
        let instant = |at: Option<chrono::NaiveDateTime>| at.map_or(Cell::Blank, Cell::Instant);
        table.row([
            Cell::Whole(line.id.0),
            Cell::text(&line.building_code),
            Cell::text(&line.unit_label),
            Cell::text(&line.room),
            Cell::text(&line.tag),
            line.part.map_or(Cell::Blank, |part| Cell::Code(part.code())),
            Cell::text(&line.title),
            Cell::Code(line.origin.code()),
            Cell::Code(line.severity.code()),
            Cell::Code(line.status.code()),
            Cell::Instant(line.opened_at),
            instant(line.correct_by),
            instant(line.closed_at),
            Cell::text(sees_to_it),
            Cell::whole(line.repeats.map(|repeats| repeats.0)),
        ])?;
    }
    Ok(())
}
