//! Writes a building's condition as a CSV.

use std::io::Write;

use super::Standing;
use crate::error::Result;
use crate::exchange::csv::Audience;
use crate::exchange::csv::condition::{self, Row};

/// Writes the condition line by line.
///
/// # Errors
/// When `out` can't be written.
pub fn write(standing: &Standing, out: impl Write, audience: Audience) -> Result<()> {
    let mut table = condition::begin(out, audience)?;
    for line in &standing.lines {
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
        condition::write(&mut table, &row)?;
    }
    table.finish()?;
    Ok(())
}
