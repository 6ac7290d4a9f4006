//! Keeps which items a turnover's checklist is known to have had, so that what comes later can be named with its day.

use std::collections::HashSet;

use crate::clock::Now;
use crate::domain::register::TurnoverId;
use crate::domain::turnover::{ItemKey, KnownItem};
use crate::error::Result;
use crate::store::lists::turnovers::{Survey, Surveyor};
use crate::store::{Tx, turnovers};

/// Notes the items of a new turnover; they were there from the opening on.
pub(super) fn begin(tx: &mut Tx<'_>, survey: &Survey) -> Result<()> {
    let items = survey.list.items.iter().map(|item| KnownItem {
        key: item.key,
        added_on: None,
    });
    turnovers::insert_items(tx, survey.turnover.id, &items.collect::<Vec<_>>())
}

/// Notes the items that came since the checklist was last looked at by a change.
pub(super) fn keep(tx: &mut Tx<'_>, survey: &Survey) -> Result<()> {
    let known: HashSet<ItemKey> = survey.known.iter().map(|item| item.key).collect();
    let new = survey
        .list
        .items
        .iter()
        .filter(|item| item.is_asked && !known.contains(&item.key))
        .map(|item| KnownItem {
            key: item.key,
            added_on: item.added_on,
        });
    turnovers::insert_items(tx, survey.turnover.id, &new.collect::<Vec<_>>())
}

/// Looks again after a change and notes what it brought.
pub(crate) fn keep_after(tx: &mut Tx<'_>, now: Now, id: TurnoverId) -> Result<()> {
    let scope = crate::domain::register::person::Scope::All;
    let survey = Surveyor::new(tx, now)?.survey(tx, &scope, id)?;
    if survey.turnover.stage.is_open() {
        keep(tx, &survey)?;
    }
    Ok(())
}
