//! Gives the calendar of one building to others: to all that the person sees, to those of a portfolio, or to some.

use std::collections::BTreeSet;

use super::{managers_only, note};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Building, BuildingId};
use crate::error::{Error, Result};
use crate::store::{AnyConnection, Db, buildings, calendars, due, portfolios};

/// Who gets it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum To {
    /// Every other building that the person sees.
    All,
    /// The other buildings of the portfolio with this code.
    Portfolio(String),
    /// The buildings with these codes.
    These(Vec<String>),
}

/// A building that gets it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Given {
    /// Key.
    pub id: BuildingId,
    /// Code.
    pub code: String,
    /// Whether a calendar of its own is replaced.
    pub is_replaced: bool,
}

/// The buildings that would get it and whose calendar is another, by code.
///
/// # Errors
/// When a building or portfolio is not there, or the database does not answer.
pub fn receivers(conn: &mut AnyConnection, actor: &Actor, from: BuildingId, to: &To) -> Result<Vec<Given>> {
    let wanted = wanted(conn, actor, to)?;
    let mut known = calendars::all(conn)?;
    let calendar = known.get(&from).cloned().unwrap_or_default();
    let others = wanted.into_iter().filter(|building| building.id != from);
    let given = others.filter_map(|building| {
        let own = known.remove(&building.id);
        (own.clone().unwrap_or_default() != calendar).then_some(Given {
            id: building.id,
            code: building.facts.code,
            is_replaced: own.is_some(),
        })
    });
    Ok(given.collect())
}

fn wanted(conn: &mut AnyConnection, actor: &Actor, to: &To) -> Result<Vec<Building>> {
    let mut all = buildings::list(conn, &actor.scope)?;
    match to {
        To::All => {}
        To::Portfolio(code) => {
            let found = portfolios::list(conn, &actor.scope)?;
            let portfolio = found
                .into_iter()
                .find(|portfolio| portfolio.facts.code == code.trim().to_uppercase())
                .ok_or_else(|| {
                    Error::field(
                        "to",
                        format!("There is no portfolio {code}. Choose one that is there."),
                    )
                })?;
            all.retain(|building| building.portfolio == portfolio.id);
        }
        To::These(codes) => {
            let codes: BTreeSet<String> = codes.iter().map(|code| code.trim().to_uppercase()).collect();
            let unknown = codes
                .iter()
                .find(|code| all.iter().all(|building| building.facts.code != **code));
            if let Some(code) = unknown {
                return Err(Error::field(
                    "codes",
                    format!("There is no building {code}. Name one that is there."),
                ));
            }
            if codes.is_empty() {
                return Err(Error::field(
                    "codes",
                    "No building is named. Give codes with a space between.",
                ));
            }
            all.retain(|building| codes.contains(&building.facts.code));
        }
    }
    Ok(all)
}

/// Gives it, and answers how many buildings got another calendar.
///
/// # Errors
/// When a building or portfolio is not there, or the database refuses.
pub fn give(db: &Db, actor: &Actor, now: Now, from: BuildingId, to: &To) -> Result<usize> {
    managers_only(actor)?;
    let given = db.write(|tx| {
        buildings::by_key(tx, &actor.scope, from)?;
        let calendar = calendars::of_building(tx, from)?;
        let given = receivers(tx, actor, from, to)?;
        for one in &given {
            let before = calendars::of_building(tx, one.id)?;
            calendars::set(tx, one.id, &calendar)?;
            note(tx, actor, now, one.id, &before, &calendar)?;
        }
        if !given.is_empty() {
            due::mark_stale(tx)?;
        }
        Ok(given.len())
    })?;
    due::begin_renewal(db)?;
    Ok(given)
}
