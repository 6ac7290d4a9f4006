//! The due list as a file: every row that the address asks for, in the order of the page, written while it is read.

use std::sync::Arc;

use actix_web::HttpRequest;
use actix_web::web::Bytes;
use futures_util::stream;

use super::address::Asked;
use crate::domain::code::Coded as _;
use crate::error::{Error, Result};
use crate::exchange::csv::{self, Audience, Cell, Column, Table, column};
use crate::store::lists::due::{self, Cursor, Desk, Line};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Rows read at once.
const CHUNK: usize = 2_000;

/// The columns; those that `anglestop due` has too are named alike.
pub const COLUMNS: [Column; 20] = [
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("unit", "Label of the unit", "text", "204"),
    Column::new("room", "Room", "text", "Hall bath").or_blank("none was named"),
    Column::new("fixture", "Tag of the fixture", "text", "WC-1"),
    Column::new("kind", "Kind of fixture", "code", "water_closet"),
    Column::new("part", "Part that is checked", "code", "wax_seal").or_blank("the fixture itself"),
    Column::new("check", "Code of the check", "code", "wc_base_dry"),
    Column::new(
        "title",
        "The check in a few words",
        "text",
        "Base dry while flushing",
    ),
    Column::new("severity", "How grave a failure is", "code", "severe"),
    Column::new(
        "schedule",
        "Code of the schedule that asks first",
        "code",
        "yearly_wax_seal",
    ),
    Column::new("technician", "Who does it", "text", "Rosa Vance").or_blank("unassigned"),
    Column::new("minutes", "Work", "minutes", "1.5"),
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
    Column::new(
        "state",
        "later, in_window, due or overdue, on the building's own date",
        "code",
        "overdue",
    ),
    Column::new(
        "days_overdue",
        "Days past the last day of grace, else 0",
        "days",
        "9",
    ),
    Column::new("moved_from", "Due date before it was moved", "date", "2026-09-06")
        .or_blank("it was not moved"),
];

/// What is left to be written.
struct Rest {
    context: Context,
    desk: Arc<Desk>,
    asked: Asked,
    after: Option<Cursor>,
}

/// Sends the file.
///
/// # Errors
/// When a filter can't be used or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let now = context.now;
    let (desk, asked) = context
        .read(move |conn, actor| {
            let desk = Desk::load(conn, &actor.scope, now)?;
            let mut asked = Asked::read(conn, &actor.scope, &desk, fields)?;
            asked.after = None;
            Ok((desk, asked))
        })
        .await?;
    let rest = Rest {
        context,
        desk,
        asked,
        after: None,
    };
    let names = Table::begin(Vec::new(), Audience::Spreadsheet, &column::names(&COLUMNS))?.finish()?;
    let (first, rest) = rest.chunk(names).await?;
    let later = stream::try_unfold(rest, |rest| async move {
        match rest {
            None => Ok::<_, Error>(None),
            Some(rest) => rest.chunk(Vec::new()).await.map(Some),
        }
    });
    let body = stream::StreamExt::chain(stream::once(async move { Ok::<_, Error>(first) }), later);
    Ok(respond::streamed("due.csv", csv::MEDIA_TYPE, body))
}

impl Rest {
    /// The next rows after what was written already; nothing is left when they were the last.
    async fn chunk(mut self, begun: Vec<u8>) -> Result<(Bytes, Option<Self>)> {
        let context = self.context.clone();
        context
            .read(move |conn, _| {
                let (desk, asked) = (&self.desk, &self.asked);
                let lines = due::page(conn, desk, &asked.filter, asked.order, self.after.as_ref(), CHUNK)?;
                let mut table = Table::go_on(begun);
                for line in &lines {
                    table.row(cells(desk, line))?;
                }
                let bytes = Bytes::from(table.finish()?);
                self.after = lines.last().map(Line::cursor);
                let is_last = lines.len() < CHUNK;
                Ok((bytes, (!is_last).then_some(self)))
            })
            .await
    }
}

fn cells<'a>(desk: &'a Desk, line: &'a Line) -> [Cell<'a>; 20] {
    let name = line.technician.and_then(|person| desk.name(person));
    [
        Cell::text(&line.building_code),
        Cell::text(&line.unit_label),
        Cell::text(&line.room),
        Cell::text(&line.tag),
        Cell::Code(line.kind.code()),
        line.key.part.map_or(Cell::Blank, |part| Cell::Code(part.code())),
        Cell::text(&line.check),
        Cell::text(&line.title),
        Cell::Code(line.severity.code()),
        Cell::text(&line.schedule),
        Cell::text(name.unwrap_or_default()),
        Cell::Decimal(line.minutes),
        Cell::Code(line.basis.code()),
        Cell::Date(line.counts_from),
        Cell::Date(line.window.opens()),
        Cell::Date(line.window.due()),
        Cell::Date(line.window.last_day()),
        Cell::Code(line.window.state(line.today).code()),
        Cell::Whole(i64::from(line.window.days_overdue(line.today))),
        Cell::date(line.moved_from),
    ]
}
