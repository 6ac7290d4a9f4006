//! The condition of every building that somebody sees, some buildings at a time, so that a fleet of any size is written as it is read.

use chrono::NaiveDate;

use super::{Standing, day_of};
use crate::clock::Now;
use crate::domain::due::Book;
use crate::domain::register::Building;
use crate::domain::register::person::Scope;
use crate::error::{Error, Result};
use crate::store::lists::condition;
use crate::store::{AnyConnection, buildings, portfolios, schedules};

/// Buildings that are read together.
const TOGETHER: usize = 40;

/// The buildings that are still to be read.
#[derive(Debug)]
pub struct Every {
    left: std::vec::IntoIter<Building>,
    as_of: Option<NaiveDate>,
    now: Now,
    book: Option<Book>,
}

impl Every {
    /// Begins with the buildings of a scope, by code; with the code of a portfolio only those of it. Today when no day is given, in each building's
    /// own zone; on another day those that joined later are left out.
    ///
    /// # Errors
    /// When there is no such portfolio within the scope, the day lies more than two years ahead, or the database does not answer.
    pub fn begin(
        conn: &mut AnyConnection,
        scope: &Scope,
        portfolio: Option<&str>,
        now: Now,
        as_of: Option<NaiveDate>,
    ) -> Result<Self> {
        let mut found = buildings::list(conn, scope)?;
        if let Some(code) = portfolio {
            let seen = portfolios::list(conn, scope)?;
            let one = seen.iter().find(|one| one.facts.code == code.to_uppercase());
            let id = one.ok_or_else(|| Error::not_found("such portfolio"))?.id;
            found.retain(|building| building.portfolio == id);
        }
        found.retain(|building| as_of.is_none_or(|day| building.facts.had_joined(day)));
        if let Some(building) = found.first() {
            day_of(building, now.date_in(building.facts.time_zone), as_of)?;
        }
        Ok(Self {
            left: found.into_iter(),
            as_of,
            now,
            book: as_of.map(|_| schedules::book(conn)).transpose()?,
        })
    }

    /// The next buildings; none when all were read.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn next(&mut self, conn: &mut AnyConnection) -> Result<Option<Vec<Standing>>> {
        let together: Vec<Building> = self.left.by_ref().take(TOGETHER).collect();
        if together.is_empty() {
            return Ok(None);
        }
        let mut standings = Vec::with_capacity(together.len());
        for same in together.chunk_by(|one, other| one.facts.time_zone == other.facts.time_zone) {
            let Some(first) = same.first() else { continue };
            let today = self.now.date_in(first.facts.time_zone);
            let as_of = self.as_of.unwrap_or(today);
            let book = self.book.as_ref().filter(|_| as_of != today);
            let mut found = condition::of_buildings(conn, same, as_of, book)?;
            standings.extend(same.iter().map(|building| {
                let (lines, loose) = found.remove(&building.id).unwrap_or_default();
                Standing {
                    building: building.clone(),
                    as_of,
                    today,
                    lines,
                    loose,
                }
            }));
        }
        Ok(Some(standings))
    }
}
