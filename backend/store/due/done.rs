//! When each check was last done and when it failed, read in a few queries for many places at once.
//!
//! It decides what counts as done by a day. It knows no schedule but whether one asks for failures.

use std::collections::HashMap;

use chrono::NaiveDate;
use diesel::dsl::max;
use diesel::prelude::*;

use super::ground::{Place, Selection, part_of};
use crate::domain::due::{Book, DoneDays};
use crate::domain::register::{BuildingId, CheckId, TagId};
use crate::domain::trade::PartKind;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::schema::{prior_done, results, tags, units};

/// Where something was done.
#[derive(Debug, Clone, Copy)]
pub enum Sites<'a> {
    /// At these places, a few thousand at most.
    Tags(&'a [i64]),
    /// At all places of a building.
    Building(BuildingId),
}

/// When each check was last done at each place.
#[derive(Debug, Default)]
pub struct Done(HashMap<(TagId, Option<PartKind>, CheckId), DoneDays>);

impl Done {
    /// At one place.
    #[must_use]
    pub fn at(&self, tag: TagId, part: Option<PartKind>, check: CheckId) -> DoneDays {
        self.0.get(&(tag, part, check)).copied().unwrap_or_default()
    }
}

/// Whether failures are read beside what was done last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Failures {
    /// A schedule asks for them.
    Read,
    /// None does.
    Left,
}

impl Failures {
    /// What a book needs.
    pub fn of(book: &Book) -> Self {
        if book.counts_failures() {
            Self::Read
        } else {
            Self::Left
        }
    }
}

/// When each check was last done, until a day, at the places of a selection.
pub fn done_in(
    conn: &mut AnyConnection,
    selection: Selection<'_>,
    places: &[Place],
    day: NaiveDate,
    failures: Failures,
) -> Result<Done> {
    match selection {
        Selection::Building(building) => done(conn, Sites::Building(building), day, failures),
        Selection::Fixtures(_) => {
            let at: Vec<i64> = places.iter().map(|place| place.tag.0).collect();
            done(conn, Sites::Tags(&at), day, failures)
        }
    }
}

/// When each check was last done, until a day, at some places.
pub fn done(conn: &mut AnyConnection, sites: Sites<'_>, day: NaiveDate, failures: Failures) -> Result<Done> {
    let counted = results::outcome.ne("not_checked").and(results::done_on.le(day));
    let key = (results::tag_id, results::part, results::check_id);
    let columns = (
        results::tag_id,
        results::part,
        results::check_id,
        max(results::done_on),
    );
    let imported_columns = (
        prior_done::tag_id,
        prior_done::part,
        prior_done::check_id,
        prior_done::done_on,
    );
    let mut done = Done::default();
    let (answered, imported): (Vec<DoneRow>, Vec<ImportedRow>) = match sites {
        Sites::Tags(at) => {
            let answered = results::table
                .filter(results::tag_id.eq_any(at))
                .filter(counted)
                .group_by(key)
                .select(columns)
                .load(conn)?;
            let imported = prior_done::table
                .filter(prior_done::tag_id.eq_any(at))
                .filter(prior_done::done_on.le(day))
                .select(imported_columns)
                .load(conn)?;
            (answered, imported)
        }
        Sites::Building(building) => {
            let answered = results::table
                .filter(results::building_id.eq(building.0))
                .filter(counted)
                .group_by(key)
                .select(columns)
                .load(conn)?;
            let imported = prior_done::table
                .inner_join(tags::table.inner_join(units::table))
                .filter(units::building_id.eq(building.0))
                .filter(prior_done::done_on.le(day))
                .select(imported_columns)
                .load(conn)?;
            (answered, imported)
        }
    };
    for (tag, part, check, day) in answered {
        done.days_at(tag, &part, check)?.done = day;
    }
    for (tag, part, check, day) in imported {
        done.days_at(tag, &part, check)?.imported = Some(day);
    }
    if failures == Failures::Read {
        for (tag, part, check, day) in failed(conn, sites, day)? {
            let days = &mut done.days_at(tag, &part, check)?.failed;
            if let Some(free) = days.iter_mut().find(|day| day.is_none()) {
                *free = Some(day);
            }
        }
    }
    Ok(done)
}

/// The days on which checks failed, the latest first.
fn failed(conn: &mut AnyConnection, sites: Sites<'_>, day: NaiveDate) -> Result<Vec<ImportedRow>> {
    let counted = results::outcome.eq("fail").and(results::done_on.le(day));
    let columns = (
        results::tag_id,
        results::part,
        results::check_id,
        results::done_on,
    );
    let latest_first = (results::done_on.desc(), results::id.desc());
    Ok(match sites {
        Sites::Tags(at) => results::table
            .filter(results::tag_id.eq_any(at))
            .filter(counted)
            .order(latest_first)
            .select(columns)
            .load(conn)?,
        Sites::Building(building) => results::table
            .filter(results::building_id.eq(building.0))
            .filter(counted)
            .order(latest_first)
            .select(columns)
            .load(conn)?,
    })
}

type DoneRow = (i64, String, i64, Option<NaiveDate>);
type ImportedRow = (i64, String, i64, NaiveDate);

impl Done {
    /// With what was done at other places.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.0.extend(other.0);
        self
    }

    fn days_at(&mut self, tag: i64, part: &str, check: i64) -> Result<&mut DoneDays> {
        let key = (TagId(tag), part_of(part)?, CheckId(check));
        Ok(self.0.entry(key).or_default())
    }
}
