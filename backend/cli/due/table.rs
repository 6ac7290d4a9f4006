//! Due items as a table for a terminal: aligned columns, the window line, and its words.

use std::io::{self, Write};

use super::line;
use super::list::DueList;
use crate::domain::due::sentence;

const HEAD: [&str; 6] = ["BUILDING", "UNIT", "FIXTURE", "PART", "CHECK", "DUE"];

/// Writes the table; nothing at all when there are no items.
pub fn write(out: &mut impl Write, list: &DueList) -> io::Result<()> {
    if list.is_empty() {
        return Ok(());
    }
    let mut widths = HEAD.map(str::len);
    for (_, _, line) in list.shown() {
        let cells = [
            line.building,
            line.unit,
            line.fixture,
            line.part.unwrap_or("-"),
            line.check,
            "2026-01-01",
        ];
        for (width, cell) in widths.iter_mut().zip(cells) {
            *width = (*width).max(cell.chars().count());
        }
    }
    let window_width = usize::try_from(line::WIDTH).unwrap_or_default();
    row(out, &widths, HEAD)?;
    writeln!(out, "{:window_width$}  STATE", "WINDOW")?;
    for (day, row_of, line) in list.shown() {
        let due = line.due.to_string();
        let cells = [
            line.building,
            line.unit,
            line.fixture,
            line.part.unwrap_or("-"),
            line.check,
            &due,
        ];
        row(out, &widths, cells)?;
        let window = &row_of.item.window;
        writeln!(out, "{}  {}", line::draw(window, day), sentence(window, day))?;
    }
    Ok(())
}

fn row(out: &mut impl Write, widths: &[usize; 6], cells: [&str; 6]) -> io::Result<()> {
    for (width, cell) in widths.iter().zip(cells) {
        write!(out, "{cell:width$}  ")?;
    }
    Ok(())
}
