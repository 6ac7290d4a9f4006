//! Due rows: computed from the ground state, kept so that lists stay flat, and compared with it again.
//!
//! It is the one place that writes them. Whatever changes what makes a check due (a result, a fixture, a part, a building's day of
//! joining, age or policy) renews the rows of those fixtures in the same transaction: [`refresh_fixtures`], [`refresh_building`]. What
//! changes it for the whole fleet (a schedule, a check) marks all rows stale in its transaction, [`mark_stale`]; those that are wrong are
//! put right at once after it when they are few, or all are laid anew beside those in use in batches, [`renew_stale`], from wherever a
//! stopped process left off, and taken into use all at once.

mod changes;
mod done;
mod ground;
mod mark;
mod renewal;
mod rows;
mod stale;
mod tenancy;
mod turns;
mod verify;
mod width;

use std::collections::HashMap;

use chrono::NaiveDate;

use super::{AnyConnection, Tx, schedules};
use crate::domain::due::{AskedBuilding, Book, ClosedDays, DueRow};
use crate::domain::register::{BuildingId, FixtureId, UnitId};
use crate::error::Result;

pub use done::Done;
pub use ground::{ALWAYS, Place};
pub use mark::{changed_after, last_change};
pub use renewal::{Pace, Step, begin_renewal, renew_by, renew_stale};
pub use stale::{is_stale, mark_stale};
pub use turns::live;
pub use verify::{Difference, Labels, differences, labels};
pub use width::widest_days;

use done::{Failures, Sites};
use ground::Selection;
use rows::{InUse, Row};

/// Fixtures that are read and written at a time.
const BATCH: usize = 1_000;

/// Makes the due rows of these fixtures what the ground state says; those of fixtures no longer in service go.
///
/// # Errors
/// When the database refuses.
pub fn refresh_fixtures(tx: &mut Tx<'_>, fixtures: &[FixtureId]) -> Result<()> {
    if fixtures.is_empty() {
        return Ok(());
    }
    let book = schedules::book(tx)?;
    refresh_by(tx, &book, fixtures)
}

/// As [`refresh_fixtures`], for whoever has the book at hand: an import that writes many batches in one transaction.
///
/// # Errors
/// When the database refuses.
pub fn refresh_by(tx: &mut Tx<'_>, book: &Book, fixtures: &[FixtureId]) -> Result<()> {
    for chunk in fixtures.chunks(BATCH) {
        let ids: Vec<i64> = chunk.iter().map(|fixture| fixture.0).collect();
        refresh(tx, book, Selection::Fixtures(&ids), InUse::AtOnce)?;
    }
    Ok(())
}

/// Makes the due rows of a building what the ground state says, after its facts changed.
///
/// # Errors
/// When there is no such building or the database refuses.
pub fn refresh_building(tx: &mut Tx<'_>, building: BuildingId) -> Result<()> {
    let book = schedules::book(tx)?;
    refresh(tx, &book, Selection::Building(building), InUse::AtOnce)
}

/// Makes the due rows of a unit what the ground state says, after who lives there changed; nothing to do where no schedule asks for that.
///
/// # Errors
/// When the database refuses.
pub fn refresh_tenancy(tx: &mut Tx<'_>, unit: UnitId) -> Result<()> {
    let book = schedules::book(tx)?;
    if !book.asks_for_tenancy() {
        return Ok(());
    }
    let fixtures = crate::store::fixtures::keys_in_unit(tx, unit)?;
    refresh_by(tx, &book, &fixtures)
}

fn refresh(tx: &mut Tx<'_>, book: &Book, selection: Selection<'_>, in_use: InUse) -> Result<()> {
    let computed = compute(tx, book, selection, ALWAYS)?;
    let rows = computed.stored_rows();
    rows::write(tx, selection, &rows, in_use)
}

/// What is due in a selection on a day.
#[derive(Debug)]
pub struct Computed {
    /// The fixtures that stood there.
    pub places: Vec<Place>,
    /// The due rows, each with the index of its place.
    pub rows: Vec<(usize, DueRow)>,
    /// The closed days of each building, as far as a schedule asks for them.
    pub closed: HashMap<BuildingId, ClosedDays>,
}

impl Computed {
    fn stored_rows(&self) -> Vec<Row> {
        self.rows
            .iter()
            .filter_map(|(at, row)| Some(Row::new(self.places.get(*at)?, row)))
            .collect()
    }
}

/// What is due in a building on any day, straight from the ground state: fixtures and parts that stood there then, results until then,
/// schedules and checks as they are now.
///
/// # Errors
/// When there is no such building or the database does not answer.
pub fn compute_building(
    conn: &mut AnyConnection,
    book: &Book,
    building: BuildingId,
    as_of: NaiveDate,
) -> Result<Computed> {
    compute(conn, book, Selection::Building(building), as_of)
}

/// The facts of a building that due rows are computed from, whatever a book asks.
#[derive(Debug)]
pub struct Ground {
    /// What the building brings along.
    pub building: AskedBuilding,
    /// The fixtures that stand there.
    pub places: Vec<Place>,
    /// When each check was last done at each place.
    pub done: Done,
}

/// Reads them as they are now.
///
/// # Errors
/// When there is no such building or the database does not answer.
pub fn ground_of(conn: &mut AnyConnection, building: BuildingId) -> Result<Ground> {
    let selection = Selection::Building(building);
    let mut places = ground::places(conn, selection, ALWAYS)?;
    tenancy::fill(conn, &mut places)?;
    Ok(Ground {
        building: ground::building(conn, building)?,
        done: done::done_in(conn, selection, &places, ALWAYS, Failures::Read)?,
        places,
    })
}

/// When each check was last done, and the last days on which it failed, at some places.
///
/// # Errors
/// When the database does not answer.
pub fn done_at(conn: &mut AnyConnection, tags: &[i64]) -> Result<Done> {
    let mut found = Done::default();
    for chunk in tags.chunks(BATCH) {
        found = found.and(done::done(conn, Sites::Tags(chunk), ALWAYS, Failures::Read)?);
    }
    Ok(found)
}

fn compute(
    conn: &mut AnyConnection,
    book: &Book,
    selection: Selection<'_>,
    day: NaiveDate,
) -> Result<Computed> {
    let mut places = ground::places(conn, selection, day)?;
    if book.asks_for_tenancy() {
        tenancy::fill(conn, &mut places)?;
    }
    let done = done::done_in(conn, selection, &places, day, Failures::of(book))?;
    let mut plans = HashMap::new();
    let mut rows = Vec::new();
    let mut of_place = Vec::new();
    for (at, place) in places.iter().enumerate() {
        if !plans.contains_key(&place.building) {
            let plan = book.plan(&ground::building(conn, place.building)?).as_of(day);
            plans.insert(place.building, plan);
        }
        let Some(plan) = plans.get(&place.building) else {
            continue;
        };
        plan.rows_of(
            &place.standing(),
            |part, check| done.at(place.tag, part, check),
            &mut of_place,
        );
        rows.extend(of_place.drain(..).map(|row| (at, row)));
    }
    let closed = plans
        .into_iter()
        .map(|(building, plan)| (building, plan.closed_days().clone()))
        .collect();
    Ok(Computed { places, rows, closed })
}
