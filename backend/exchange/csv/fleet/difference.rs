//! What an import would do, counted and told: added, changed column by column, unchanged. Nothing is ever taken away.

use std::borrow::Cow;

use serde::Serialize;

use super::cells;
use super::columns::{
    BUILDING_FACTS, FIXTURE, HOUSEHOLD, NOTE, PART, PORTFOLIO, REPLACES, ROOM, ROOM_ORDER, UNIT_FACTS,
};
use crate::domain::code::Coded;
use crate::domain::due::Known;
use crate::domain::due::WorkCalendar;
use crate::domain::register::inventory::{FixtureLine, Inventory, TagInventory, UnitInventory};
use crate::exchange::csv::schedules::{Wanted, own_cells, own_columns};
use crate::exchange::csv::{Cell, Column, calendars, checks};

/// Counts of one kind of thing.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Count {
    /// Not known before.
    pub added: usize,
    /// Known, and other than before.
    pub changed: usize,
    /// As before.
    pub unchanged: usize,
}

/// Counts by kind of thing.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Counts {
    /// Portfolios.
    pub portfolios: Count,
    /// Buildings.
    pub buildings: Count,
    /// Units and common areas.
    pub units: Count,
    /// Households.
    pub households: Count,
    /// Rooms.
    pub rooms: Count,
    /// Places.
    pub tags: Count,
    /// Fixtures.
    pub fixtures: Count,
    /// Parts.
    pub parts: Count,
    /// Last-done days.
    pub last_done: Count,
    /// Checks of the users' own.
    pub checks: Count,
    /// Calendars of buildings.
    pub calendars: Count,
    /// Schedules.
    pub schedules: Count,
}

impl Counts {
    /// Each with its name, one and many.
    #[must_use]
    pub fn named(&self) -> [(&'static str, Count); 12] {
        [
            ("portfolios", self.portfolios),
            ("buildings", self.buildings),
            ("units", self.units),
            ("households", self.households),
            ("rooms", self.rooms),
            ("places", self.tags),
            ("fixtures", self.fixtures),
            ("parts", self.parts),
            ("last-done days", self.last_done),
            ("checks", self.checks),
            ("calendars", self.calendars),
            ("schedules", self.schedules),
        ]
    }

    /// Whether nothing is added or changed.
    #[must_use]
    pub fn is_unchanged(&self) -> bool {
        self.named()
            .iter()
            .all(|(_, count)| count.added + count.changed == 0)
    }
}

/// One value that becomes another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    /// What changes, by its address: `ALDER 204 WC-1`.
    pub what: String,
    /// In which column.
    pub column: &'static str,
    /// Before.
    pub before: String,
    /// After.
    pub after: String,
}

/// What would be done, so far.
#[derive(Debug, Default)]
pub struct Difference {
    /// Counts.
    pub counts: Counts,
    /// Values that change, the first [`TOLD`] of them.
    pub changes: Vec<Change>,
}

/// How many changes are told one by one; the counts hold for all.
pub const TOLD: usize = 1000;

impl Difference {
    /// Adds what a building becomes.
    pub fn add(&mut self, known: Option<&Inventory>, wanted: &Inventory) {
        let code = &wanted.facts.code;
        let cells = |building: &Inventory| {
            let mut cells: Vec<Cell<'static>> = vec![Cell::text(building.portfolio.clone())];
            cells.extend(cells::building(building).map(owned));
            cells
        };
        let columns = [&[PORTFOLIO][..], &BUILDING_FACTS].concat();
        let fate = self.tell(code, &columns, known.map(cells), cells(wanted));
        self.counts.buildings.add(fate);
        for unit in &wanted.units {
            let before = known.and_then(|known| known.units.iter().find(|other| same(other.id, unit.id)));
            self.unit(&format!("{code} {}", unit.facts.label), before, unit);
        }
    }

    /// Adds what a check becomes.
    pub fn check(&mut self, wanted: &checks::Wanted) {
        let columns = ["active", "version"].map(|name| Column::new(name, "", "", ""));
        let cells = |active: bool, version: u32| {
            let active = Cell::Code(if active { "yes" } else { "no" });
            vec![active, Cell::Whole(i64::from(version))]
        };
        let before = wanted.before.map(|(_, active, version)| cells(active, version));
        let after = cells(wanted.active, wanted.check.version);
        let fate = self.tell(wanted.check.code.as_str(), &columns, before, after);
        self.counts.checks.add(fate);
    }

    /// Adds what the calendar of a building becomes, and answers whether it is new or changed.
    pub fn calendar(&mut self, before: Option<&WorkCalendar>, wanted: &calendars::Wanted) -> bool {
        // A building without one has the calendar in which every day is a working day.
        let usual = WorkCalendar::default();
        let before = before.or_else(|| (wanted.calendar == usual).then_some(&usual));
        let fate = self.tell(
            &wanted.building,
            &calendars::own_columns(),
            before.map(calendars::own_cells),
            calendars::own_cells(&wanted.calendar),
        );
        self.counts.calendars.add(fate);
        fate != Fate::Unchanged
    }

    /// Adds what a schedule becomes, and answers whether it is new or changed.
    pub fn schedule(&mut self, wanted: &Wanted, known: &Known<'_>) -> bool {
        let before = wanted.before.as_ref();
        let fate = self.tell(
            &wanted.terms.code,
            &own_columns(),
            before.map(|schedule| own_cells(&schedule.terms, known)),
            own_cells(&wanted.terms, known),
        );
        self.counts.schedules.add(fate);
        fate != Fate::Unchanged
    }

    /// Tells each column that differs.
    fn tell(
        &mut self,
        what: &str,
        columns: &[Column],
        known: Option<Vec<Cell<'_>>>,
        wanted: Vec<Cell<'_>>,
    ) -> Fate {
        let Some(known) = known else {
            return Fate::Added;
        };
        let mut fate = Fate::Unchanged;
        for ((column, before), after) in columns.iter().zip(known).zip(wanted) {
            if before == after {
                continue;
            }
            fate = Fate::Changed;
            if self.changes.len() < TOLD {
                self.changes.push(Change {
                    what: what.to_owned(),
                    column: column.name,
                    before: before.plain().into_owned(),
                    after: after.plain().into_owned(),
                });
            }
        }
        fate
    }

    fn unit(&mut self, what: &str, known: Option<&UnitInventory>, wanted: &UnitInventory) {
        // A new unit's place in the first interval is chosen when it is stored.
        let fate = self.tell(
            what,
            &UNIT_FACTS,
            known.map(|unit| cells::unit(unit).into()),
            cells::unit(wanted).into(),
        );
        self.counts.units.add(fate);
        for line in &wanted.households {
            let before =
                known.and_then(|known| known.households.iter().find(|other| same(other.id, line.id)));
            let before = before.map(|line| cells::household(line).into());
            let fate = self.tell(what, &HOUSEHOLD, before, cells::household(line).into());
            self.counts.households.add(fate);
        }
        for room in &wanted.rooms {
            let before = known.and_then(|known| known.rooms.iter().find(|other| same(other.id, room.id)));
            let order = |order| vec![Cell::Whole(order)];
            let what = format!("{what} {}", room.name);
            let before = before.map(|room| order(room.walk_order));
            let fate = self.tell(&what, &[ROOM_ORDER], before, order(room.walk_order));
            self.counts.rooms.add(fate);
        }
        for tag in &wanted.tags {
            let before = known.and_then(|known| known.tags.iter().find(|other| same(other.id, tag.id)));
            self.tag(&format!("{what} {}", tag.label), before, tag);
        }
    }

    fn tag(&mut self, what: &str, known: Option<&TagInventory>, wanted: &TagInventory) {
        let room = |tag: &TagInventory| vec![Cell::text(tag.room.clone().unwrap_or_default())];
        let fate = self.tell(what, &[ROOM], known.map(room), room(wanted));
        self.counts.tags.add(fate);
        for fixture in &wanted.fixtures {
            let before = known.and_then(|known| {
                let found = known.fixtures.iter().find(|other| same(other.id, fixture.id))?;
                Some((known, found))
            });
            self.fixture(what, before, (wanted, fixture));
        }
        for (check, day) in &wanted.prior_done {
            let before = known.and_then(|known| known.prior_done.get(check));
            let column = Column::new("last_done", "", "", "");
            let what = format!("{what} {}", check.check);
            let cell = |day: &_| vec![Cell::Date(*day)];
            let fate = self.tell(&what, &[column], before.map(cell), cell(day));
            self.counts.last_done.add(fate);
        }
    }

    fn fixture(
        &mut self,
        what: &str,
        known: Option<(&TagInventory, &FixtureLine)>,
        wanted: (&TagInventory, &FixtureLine),
    ) {
        let columns = [&FIXTURE[..], &[NOTE, REPLACES]].concat();
        let cells = |(tag, fixture): (&TagInventory, &FixtureLine)| {
            let mut cells: Vec<Cell<'static>> = cells::fixture(fixture).map(owned).into();
            cells.push(Cell::text(fixture.facts.note.clone()));
            cells.push(Cell::date(replaced(tag, fixture)));
            cells
        };
        let fate = self.tell(what, &columns, known.map(cells), cells(wanted));
        self.counts.fixtures.add(fate);
        for part in &wanted.1.parts {
            let before =
                known.and_then(|(_, known)| known.parts.iter().find(|other| same(other.id, part.id)));
            let before = before.map(|part| cells::part(*part).into());
            let what = format!("{what} {}", part.facts.kind.code());
            let fate = self.tell(&what, &PART[1..], before, cells::part(*part).into());
            self.counts.parts.add(fate);
        }
    }

    /// Adds a portfolio, whose name may change.
    pub fn portfolio(&mut self, code: &str, known: Option<&str>, name: &str) {
        let column = Column::new("portfolio_name", "", "", "");
        let before = known.map(|name| vec![Cell::text(name)]);
        let fate = self.tell(code, &[column], before, vec![Cell::text(name)]);
        self.counts.portfolios.add(fate);
    }
}

/// First day of what a fixture replaced: positions shift when one comes before, days don't.
fn replaced(tag: &TagInventory, fixture: &FixtureLine) -> Option<chrono::NaiveDate> {
    tag.fixtures.get(fixture.replaces?).map(|old| old.stood.from)
}

/// Whether two lines are the same stored thing.
fn same<I: PartialEq>(a: Option<I>, b: Option<I>) -> bool {
    a.is_some() && a == b
}

/// What becomes of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fate {
    Added,
    Changed,
    Unchanged,
}

impl Count {
    fn add(&mut self, fate: Fate) {
        match fate {
            Fate::Added => self.added += 1,
            Fate::Changed => self.changed += 1,
            Fate::Unchanged => self.unchanged += 1,
        }
    }
}

fn owned(cell: Cell<'_>) -> Cell<'static> {
    match cell {
        Cell::Text(text) => Cell::Text(Cow::Owned(text.into_owned())),
        Cell::Blank => Cell::Blank,
        Cell::Code(code) => Cell::Code(code),
        Cell::Whole(number) => Cell::Whole(number),
        Cell::Decimal(number) => Cell::Decimal(number),
        Cell::Date(date) => Cell::Date(date),
        Cell::Instant(instant) => Cell::Instant(instant),
    }
}
