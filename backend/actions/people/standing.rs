//! Disables people and lets them in again. A disabled person's sessions and links end at once; their records stay.

use super::invite::subject;
use super::{another_manager_stays, managers_alone, person_of};
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::domain::register::person::{Actor, Standing};
use crate::error::Result;
use crate::store::sessions::{self, Keep};
use crate::store::{Db, audit, people, tokens};

/// Keeps a person out.
///
/// # Errors
/// When the actor is no manager, or the person is the only one.
pub fn disable(db: &Db, actor: &Actor, now: Now, person: PersonId) -> Result<()> {
    managers_alone(actor)?;
    db.write(|tx| {
        let person = person_of(tx, person)?;
        if person.standing == Standing::Disabled {
            return Ok(());
        }
        another_manager_stays(tx, &person)?;
        people::set_standing(tx, person.id, Standing::Disabled)?;
        sessions::end_all(tx, person.id, Keep::None)?;
        tokens::close(tx, now, person.id)?;
        let (before, after) = (person.standing.code(), Standing::Disabled.code());
        audit::note(
            tx,
            actor,
            now,
            "disable person",
            subject(person.id),
            &before,
            &after,
        )
    })
}

/// Lets a person in again: with their password, or by a new invitation when they never chose one.
///
/// # Errors
/// When the actor is no manager.
pub fn enable(db: &Db, actor: &Actor, now: Now, person: PersonId) -> Result<Standing> {
    managers_alone(actor)?;
    db.write(|tx| {
        let person = person_of(tx, person)?;
        if person.standing != Standing::Disabled {
            return Ok(person.standing);
        }
        let standing = match people::password_hash(tx, person.id)? {
            Some(_) => Standing::Active,
            None => Standing::Invited,
        };
        people::set_standing(tx, person.id, standing)?;
        let (before, after) = (Standing::Disabled.code(), standing.code());
        audit::note(
            tx,
            actor,
            now,
            "enable person",
            subject(person.id),
            &before,
            &after,
        )?;
        Ok(standing)
    })
}
