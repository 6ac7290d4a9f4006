//! What the office's own records say of lives, beside what the catalogue says: how many were replaced in how much watched time, between
//! which bounds the mean life lies, and the lifetime that fits best where enough were replaced.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::domain::register::person::Scope;
use crate::domain::trade::life::fit::{Bounds, End, Watched, fit, mean_bounds};
use crate::domain::trade::life::{Item, Weibull};
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::lists::histories;

/// Replacements from which a lifetime is fitted.
const ENOUGH: u32 = 5;
/// How sure the bounds are.
const CONFIDENCE: f64 = 0.9;

/// What the records say of a kind.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnLife {
    /// Which kind.
    pub item: Item,
    /// How many were replaced while they were watched.
    pub replaced: u32,
    /// Watched time of all together, years.
    pub watched_years: f64,
    /// Bounds on the mean life, 90 %, as if failures came at a constant rate.
    pub bounds: Bounds,
    /// The lifetime that fits best; none when too few were replaced, or none fits.
    pub fitted: Option<Weibull>,
}

/// Reads what the records within a scope say; kinds of which none was replaced are left out.
///
/// # Errors
/// When the database does not answer.
pub fn own_lives(conn: &mut AnyConnection, scope: &Scope, today: NaiveDate) -> Result<Vec<OwnLife>> {
    let mut by_item: BTreeMap<Item, Vec<Watched>> = BTreeMap::new();
    for (item, watched) in histories::watched(conn, scope, today)? {
        by_item.entry(item).or_default().push(watched);
    }
    let said = by_item.into_iter().filter_map(|(item, watched)| {
        let failed = watched.iter().filter(|one| one.end == End::Failed).count();
        let replaced = u32::try_from(failed).ok().filter(|count| *count > 0)?;
        let watched_years = watched.iter().map(|one| one.to - one.from).sum();
        Some(OwnLife {
            item,
            replaced,
            watched_years,
            bounds: mean_bounds(watched_years, replaced, CONFIDENCE),
            fitted: (replaced >= ENOUGH).then(|| fit(&watched)).flatten(),
        })
    });
    Ok(said.collect())
}
