//! Adds a remark to a deficiency. A closed one may be remarked upon too: its history grows, its state stays.

use super::happened;
use crate::actions::results::staff_only;
use crate::actions::results::take::{LONGEST_TEXT, text};
use crate::clock::Now;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::result::EventKind;
use crate::error::{Error, Result};
use crate::store::{Db, deficiencies};

/// The command.
#[derive(Debug, Clone)]
pub struct Note {
    /// Which deficiency.
    pub deficiency: DeficiencyId,
    /// Free text.
    pub note: String,
}

/// Adds a remark.
///
/// # Errors
/// A sentence when it is empty or too long; [`Error::NotFound`] outside of what the caller may see.
pub fn note(db: &Db, actor: &Actor, now: Now, command: &Note) -> Result<()> {
    staff_only(actor)?;
    let words = text(&command.note);
    let length = words.chars().count();
    if length == 0 || length > LONGEST_TEXT {
        return Err(Error::field(
            "note",
            format!("Note: write 1 to {LONGEST_TEXT} characters; there are {length}."),
        ));
    }
    db.write(|tx| {
        let one = deficiencies::find(tx, &actor.scope, command.deficiency)?;
        happened(tx, actor, now.0, &one, (EventKind::Noted, words, None))
    })
}
