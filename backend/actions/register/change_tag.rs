//! Gives a place another label, or another room of its unit. Its history goes with it.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::tag::read_label;
use crate::domain::register::{FixtureId, Tag};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::fixtures::Placed;
use crate::store::{Db, Tx, due, fixtures, tags};

/// A place as typed.
#[derive(Debug, Clone, Default)]
pub struct TagForm {
    /// Its label.
    pub tag: String,
    /// The name of its room, empty for none; added when the unit has none of that name.
    pub room: String,
}

/// Changes the place of a fixture.
///
/// # Errors
/// A sentence when the label can't be used or is taken, or there is no such fixture.
pub fn change(db: &Db, actor: &Actor, now: Now, fixture: FixtureId, form: &TagForm) -> Result<()> {
    rights::manager(actor, "rename a tag or put it into another room")?;
    db.write(|tx| {
        let placed = fixtures::by_key(tx, &actor.scope, fixture)?;
        apply(tx, actor, now, &placed, form)?;
        due::refresh_fixtures(tx, &[fixture])
    })
}

/// Writes the place when it differs.
pub(super) fn apply(tx: &mut Tx<'_>, actor: &Actor, now: Now, placed: &Placed, form: &TagForm) -> Result<()> {
    let label = read_label(&form.tag).map_err(Error::Fields)?;
    let other = tags::by_label(tx, placed.unit.id, &label)?;
    if other.is_some_and(|other| other.id != placed.tag.id) {
        let free = tags::next_free_label(tx, placed.unit.id, placed.fixture.facts.kind)?;
        return Err(Error::field(
            "tag",
            format!(
                "Unit {} has a tag {label} already. Choose another, such as {free}.",
                placed.unit.facts.label
            ),
        ));
    }
    let room = super::add_room::find_or_add(tx, actor, now, &placed.unit, &form.room)?;
    let after = Tag {
        label,
        room,
        ..placed.tag.clone()
    };
    if after == placed.tag {
        return Ok(());
    }
    tags::update(tx, &after)?;
    let subject = Subject {
        kind: "tag",
        id: after.id.0,
    };
    let (was, is) = (snapshot::tag(&placed.tag), snapshot::tag(&after));
    audit::note(tx, actor, now, "change_tag", subject, &was, &is)
}
