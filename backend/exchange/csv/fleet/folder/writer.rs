//! The fleet as a folder of CSVs, written: every file from the first building to the last, without loss.

use std::io::{Result, Write};

use crate::domain::register::PortfolioFacts;
use crate::domain::register::inventory::{Inventory, TagInventory};
use crate::exchange::csv::fleet::cells;
use crate::exchange::csv::fleet::columns::FolderFile;
use crate::exchange::csv::{Audience, Cell, Table, column};

/// Writes all files at once, building by building.
pub struct FolderWriter<W: Write> {
    tables: Vec<(FolderFile, Table<W>)>,
}

impl<W: Write> FolderWriter<W> {
    /// Begins each file where `open` says; portfolios are written at once.
    ///
    /// # Errors
    /// When a file can't be written.
    pub fn begin(
        mut open: impl FnMut(FolderFile) -> Result<W>,
        audience: Audience,
        portfolios: &[PortfolioFacts],
    ) -> Result<Self> {
        let mut tables = Vec::new();
        for file in FolderFile::ALL {
            let names = column::names(&file.columns());
            tables.push((file, Table::begin(open(file)?, audience, &names)?));
        }
        let mut writer = Self { tables };
        for portfolio in portfolios {
            let cells = [Cell::text(&portfolio.code), Cell::text(&portfolio.name)];
            writer.row(FolderFile::Portfolios, &[], cells)?;
        }
        Ok(writer)
    }

    fn row<'c>(
        &mut self,
        file: FolderFile,
        key: &[Cell<'c>],
        cells: impl IntoIterator<Item = Cell<'c>>,
    ) -> Result<()> {
        let table = self.tables.iter_mut().find(|(known, _)| *known == file);
        match table {
            Some((_, table)) => table.row(key.iter().cloned().chain(cells)),
            None => Ok(()),
        }
    }

    /// Writes a building.
    ///
    /// # Errors
    /// When a file can't be written.
    pub fn write(&mut self, building: &Inventory) -> Result<()> {
        let code = Cell::text(&building.facts.code);
        let portfolio = Cell::text(&building.portfolio);
        self.row(
            FolderFile::Buildings,
            &[code.clone(), portfolio],
            cells::building(building),
        )?;
        for unit in &building.units {
            let key = [code.clone(), Cell::text(&unit.facts.label)];
            self.row(FolderFile::Units, &key, cells::unit(unit))?;
            for household in &unit.households {
                self.row(FolderFile::Households, &key, cells::household(household))?;
            }
            for room in &unit.rooms {
                let cells = [Cell::text(&room.name), Cell::Whole(room.walk_order)];
                self.row(FolderFile::Rooms, &key, cells)?;
            }
            for tag in &unit.tags {
                let [building, unit] = key.clone();
                self.tag(&[building, unit, Cell::text(&tag.label)], tag)?;
            }
        }
        Ok(())
    }

    fn tag(&mut self, key: &[Cell<'_>; 3], tag: &TagInventory) -> Result<()> {
        let room = Cell::text(tag.room.as_deref().unwrap_or_default());
        self.row(FolderFile::Tags, key, [room])?;
        for (at, fixture) in tag.fixtures.iter().enumerate() {
            let number = number(at);
            let replaces = fixture.replaces.map_or(Cell::Blank, self::number);
            let rest = [replaces, Cell::text(&fixture.facts.note)];
            let cells = [number.clone()]
                .into_iter()
                .chain(cells::fixture(fixture))
                .chain(rest);
            self.row(FolderFile::Fixtures, key, cells)?;
            for part in &fixture.parts {
                let cells = [number.clone()].into_iter().chain(cells::part(*part));
                self.row(FolderFile::Parts, key, cells)?;
            }
        }
        for (check, day) in &tag.prior_done {
            let part = check.part.map_or(Cell::Blank, |part| {
                Cell::Code(crate::domain::code::Coded::code(part))
            });
            let cells = [Cell::text(&check.check), part, Cell::Date(*day)];
            self.row(FolderFile::PriorDone, key, cells)?;
        }
        Ok(())
    }

    /// Flushes all files and gives them back.
    ///
    /// # Errors
    /// When a file can't be written.
    pub fn finish(self) -> Result<Vec<(FolderFile, W)>> {
        self.tables
            .into_iter()
            .map(|(file, table)| Ok((file, table.finish()?)))
            .collect()
    }
}

fn number(at: usize) -> Cell<'static> {
    Cell::Whole(i64::try_from(at).unwrap_or(i64::MAX - 1) + 1)
}
