//! The fleet as one CSV, written: a row a fixture, and one for whatever has none yet.

use std::io::Write;

use super::last_done_column;
use crate::domain::register::inventory::{FixtureLine, Inventory, PriorCheck, TagInventory, UnitInventory};
use crate::exchange::csv::fleet::cells;
use crate::exchange::csv::fleet::columns::{FIXTURE, UNIT_FACTS, one};
use crate::exchange::csv::{Audience, Cell, Table};

/// Writes the one CSV, building by building.
pub struct OneWriter<W: Write> {
    table: Table<W>,
    prior: Vec<PriorCheck>,
}

impl<W: Write> OneWriter<W> {
    /// Begins a file with a column for each of the `prior` checks.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn begin(out: W, audience: Audience, prior: Vec<PriorCheck>) -> std::io::Result<Self> {
        let columns = one();
        let mut names: Vec<String> = columns.iter().map(|column| column.name.to_owned()).collect();
        names.extend(prior.iter().map(last_done_column));
        Ok(Self {
            table: Table::begin(out, audience, &names)?,
            prior,
        })
    }

    /// Writes a building; `portfolio_name` is the name of its portfolio.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn write(&mut self, building: &Inventory, portfolio_name: &str) -> std::io::Result<()> {
        if building.units.is_empty() {
            self.row(building, portfolio_name, Line::default())?;
        }
        for unit in &building.units {
            let before = Line {
                unit: Some(unit),
                ..Line::default()
            };
            let empty_rooms = unit.rooms.iter().filter(|room| {
                !unit
                    .tags
                    .iter()
                    .any(|tag| tag.room.as_ref() == Some(&room.name) && !tag.fixtures.is_empty())
            });
            let mut has_row = false;
            for room in empty_rooms {
                has_row = true;
                let room = Some(room.name.as_str());
                self.row(building, portfolio_name, Line { room, ..before })?;
            }
            for tag in &unit.tags {
                let shown = tag.fixtures.iter().position(|line| line.stood.is_in_service());
                let shown = shown.or(tag.fixtures.len().checked_sub(1));
                for (at, fixture) in tag.fixtures.iter().enumerate() {
                    has_row = true;
                    let line = Line {
                        room: tag.room.as_deref(),
                        tag: Some(tag),
                        fixture: Some(fixture),
                        with_prior: Some(at) == shown,
                        ..before
                    };
                    self.row(building, portfolio_name, line)?;
                }
            }
            if !has_row {
                self.row(building, portfolio_name, before)?;
            }
        }
        Ok(())
    }

    fn row(&mut self, building: &Inventory, portfolio_name: &str, line: Line<'_>) -> std::io::Result<()> {
        let mut row = vec![
            Cell::text(&building.portfolio),
            Cell::text(portfolio_name),
            Cell::text(&building.facts.code),
        ];
        row.extend(cells::building(building));
        match line.unit {
            None => row.extend(blanks(1 + UNIT_FACTS.len())),
            Some(unit) => {
                row.push(Cell::text(&unit.facts.label));
                row.extend(cells::unit(unit));
            }
        }
        let room = line.unit.and_then(|unit| {
            unit.rooms
                .iter()
                .find(|room| Some(room.name.as_str()) == line.room)
        });
        row.push(Cell::text(line.room.unwrap_or_default()));
        row.push(Cell::whole(room.map(|room| room.walk_order)));
        row.push(Cell::text(line.tag.map_or("", |tag| &tag.label)));
        match line.fixture {
            None => row.extend(blanks(FIXTURE.len() + 2)),
            Some(fixture) => {
                row.extend(cells::fixture(fixture));
                row.extend([cells::parts(fixture), Cell::text(&fixture.facts.note)]);
            }
        }
        let days = line.tag.filter(|_| line.with_prior).map(|tag| &tag.prior_done);
        row.extend(
            self.prior
                .iter()
                .map(|check| Cell::date(days.and_then(|days| days.get(check)).copied())),
        );
        self.table.row(row)
    }

    /// Flushes and gives back what was written to.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn finish(self) -> std::io::Result<W> {
        self.table.finish()
    }
}

/// What a row speaks of, besides its building.
#[derive(Clone, Copy, Default)]
struct Line<'l> {
    unit: Option<&'l UnitInventory>,
    room: Option<&'l str>,
    tag: Option<&'l TagInventory>,
    fixture: Option<&'l FixtureLine>,
    with_prior: bool,
}

fn blanks<'c>(count: usize) -> impl Iterator<Item = Cell<'c>> {
    std::iter::repeat_n(Cell::Blank, count)
}
