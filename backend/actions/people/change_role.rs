//! Changes what a person may do and where. Another role ends their sessions; other places hold from the next page on.

use serde::Serialize;

use super::invite::subject;
use super::{another_manager_stays, managers_alone, person_of};
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::domain::register::person::{Actor, Role};
use crate::error::Result;
use crate::store::sessions::{self, Keep};
use crate::store::{Db, assignments, audit, people};

/// What a person may do from now on.
#[derive(Debug, Clone)]
pub struct Assignment {
    /// Their role.
    pub role: Role,
    /// Codes of the buildings of a technician or the portfolios of an owner.
    pub places: Vec<String>,
}

#[derive(Serialize)]
struct Noted {
    role: &'static str,
    places: Vec<String>,
}

/// Gives a person a role and places.
///
/// # Errors
/// When the actor is no manager, the person is the only one and would stop being it, or there is no such place.
pub fn assign(db: &Db, actor: &Actor, now: Now, person: PersonId, to: &Assignment) -> Result<()> {
    managers_alone(actor)?;
    db.write(|tx| {
        let person = person_of(tx, person)?;
        let before = Noted {
            role: person.role.code(),
            places: codes(assignments::by_person(tx)?.remove(&person.id).unwrap_or_default()),
        };
        if to.role != person.role {
            if to.role != Role::Manager {
                another_manager_stays(tx, &person)?;
            }
            people::set_role(tx, person.id, to.role)?;
            sessions::end_all(tx, person.id, Keep::None)?;
        }
        let places = assignments::with_codes(tx, to.role, &to.places)?;
        assignments::replace(tx, person.id, to.role, &places)?;
        let after = Noted {
            role: to.role.code(),
            places: codes(assignments::by_person(tx)?.remove(&person.id).unwrap_or_default()),
        };
        audit::note(
            tx,
            actor,
            now,
            "assign person",
            subject(person.id),
            &before,
            &after,
        )
    })
}

fn codes(places: Vec<assignments::Place>) -> Vec<String> {
    places.into_iter().map(|place| place.code).collect()
}
