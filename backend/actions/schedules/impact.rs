//! What changing schedules would mean: the work of the months ahead before and after, over every building that they reach. Changes
//! nothing.

use std::collections::BTreeSet;

use crate::clock::Now;
use crate::domain::due::impact::{Counting, Work, add};
use crate::domain::due::{Book, Schedule};
use crate::domain::register::CheckId;
use crate::domain::register::person::Scope;
use crate::error::Result;
use crate::store::{AnyConnection, buildings, due};

/// The work before and after.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Impact {
    /// As schedules stand.
    pub before: Work,
    /// As they would be.
    pub after: Work,
}

/// Reckons what it means that these schedules say what they say here; those that are new have a key that no other has. Looked at are
/// the checks that they ask for, before or after, whatever other schedule asks for them too.
///
/// # Errors
/// When the database does not answer.
pub fn impact(conn: &mut AnyConnection, book: &Book, now: Now, changed: &[Schedule]) -> Result<Impact> {
    let known = changed.iter().filter_map(|schedule| book.schedule(schedule.id));
    let touched: Vec<&Schedule> = known.chain(changed).collect();
    let asked: BTreeSet<CheckId> = touched
        .iter()
        .flat_map(|schedule| schedule.terms.checks.iter().copied())
        .collect();
    let checks: Vec<(CheckId, f64)> = asked
        .into_iter()
        .filter_map(|id| Some((id, book.check(id)?.check.minutes)))
        .collect();
    let after = book.changed(changed.iter().cloned());
    let mut impact = Impact::default();
    for building in buildings::list(conn, &Scope::All)? {
        let code = &building.facts.code;
        if !touched
            .iter()
            .any(|schedule| schedule.terms.scope.reaches_building(code))
        {
            continue;
        }
        let counting = Counting {
            today: now.date_in(building.facts.time_zone),
            checks: &checks,
        };
        let ground = due::ground_of(conn, building.id)?;
        let plans = [
            (book.plan(&ground.building), &mut impact.before),
            (after.plan(&ground.building), &mut impact.after),
        ];
        for (plan, work) in plans {
            for place in &ground.places {
                let done = |part, check| ground.done.at(place.tag, part, check);
                add(work, counting, &plan, &place.standing(), done);
            }
        }
    }
    Ok(impact)
}
