//! Writes a building's condition as a CSV.

use std::io::Write;

use super::Standing;
use crate::error::Result;
pub use crate::exchange::csv::condition::begin;
use crate::exchange::csv::condition::{self, Row};
use crate::exchange::csv::{Audience, Table};
use crate::store::lists::condition::Line;

/// Writes the condition line by line.
///
/// # Errors
/// When `out` can't be written.
pub fn write(standing: &Standing, out: impl Write, audience: Audience) -> Result<()> {
    let mut table = condition::begin(out, audience)?;
    rows(&mut table, standing, &standing.lines)?;
    table.finish()?;
    Ok(())
}

/// Writes some of its lines.
///
/// # Errors
/// When the table can't be written.
pub fn rows(table: &mut Table<impl Write>, standing: &Standing, lines: &[Line]) -> std::io::Result<()> {
    lines.iter().try_for_each(|line| row(table, standing, line))
}

fn row(table: &mut Table<impl Write>, standing: &Standing, line: &Line) -> std::io::Result<()> {
    let row = Row {
        building: &standing.building.facts.code,
        unit: &line.unit,
        room: &line.room,
        tag: &line.tag,
        kind: line.kind,
        maker: &line.maker,
        model: &line.model,
        installed: line.installed,
        last_done: line.last_done,
        next_due: line.next_due,
        record: line.record,
        as_of: standing.as_of,
    };
    condition::write(table, &row)
}
