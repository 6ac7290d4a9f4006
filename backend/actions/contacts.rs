//! The numbers to call when something is urgent: read by anybody, set by a manager, for the office and for a building with
//! utilities of its own.

use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::BuildingId;
use crate::domain::register::person::Actor;
use crate::domain::trade::urgent::{Contact, read_number};
use crate::error::{Error, FieldError, Result};
use crate::store::{AnyConnection, Db, audit, buildings, settings, urgent};

use super::register::rights;

/// The name under which a number is kept.
pub(in crate::actions) fn key(contact: Contact) -> String {
    format!("urgent.{contact}")
}

/// Every contact with its number, empty where none was set.
///
/// # Errors
/// When the database does not answer.
pub fn numbers(conn: &mut AnyConnection) -> Result<Vec<(Contact, String)>> {
    Contact::ALL
        .iter()
        .map(|contact| {
            let set = settings::get(conn, &key(*contact))?;
            Ok((*contact, set.unwrap_or_else(|| contact.usual_number().to_owned())))
        })
        .collect()
}

/// Every contact with the number that holds in a building: its own, else the office's.
///
/// # Errors
/// When the database does not answer. The caller may see the building.
pub fn numbers_in(conn: &mut AnyConnection, building: BuildingId) -> Result<Vec<(Contact, String)>> {
    let own = urgent::numbers_of(conn, building)?;
    let mut all = numbers(conn)?;
    for (contact, number) in own {
        all.iter_mut()
            .filter(|(known, _)| *known == contact)
            .for_each(|(_, holds)| holds.clone_from(&number));
    }
    Ok(all)
}

/// The numbers that a building has of its own; an empty one where the office's holds.
///
/// # Errors
/// When the database does not answer. The caller may see the building.
pub fn own_numbers(conn: &mut AnyConnection, building: BuildingId) -> Result<Vec<(Contact, String)>> {
    let own = urgent::numbers_of(conn, building)?;
    let number = |contact: Contact| own.iter().find(|(known, _)| *known == contact);
    let all = Contact::ALL.iter();
    Ok(all
        .map(|contact| {
            (
                *contact,
                number(*contact)
                    .map(|(_, number)| number.clone())
                    .unwrap_or_default(),
            )
        })
        .collect())
}

/// Sets the office's numbers; an empty one is forgotten, the emergency number excepted.
///
/// # Errors
/// A sentence for each number that can't be dialled; a refusal for anybody but a manager.
pub fn set(db: &Db, actor: &Actor, now: Now, numbers_typed: &[(Contact, String)]) -> Result<()> {
    rights::manager(actor, "set the numbers to call")?;
    let read = read(numbers_typed, |contact| contact == Contact::Emergency)?;
    db.write(|tx| {
        let before = told(&numbers(tx)?);
        for (contact, number) in &read {
            settings::set(tx, &key(*contact), number)?;
        }
        let after = told(&numbers(tx)?);
        let subject = audit::Subject {
            kind: "settings",
            id: 0,
        };
        audit::note(tx, actor, now, "set_urgent_numbers", subject, &before, &after)
    })
}

/// Sets the numbers of one building; where one is empty, the office's holds.
///
/// # Errors
/// A sentence for each number that can't be dialled; a refusal for anybody but a manager, or when there is no such building.
pub fn set_of_building(
    db: &Db,
    actor: &Actor,
    now: Now,
    building: &str,
    numbers_typed: &[(Contact, String)],
) -> Result<()> {
    rights::manager(actor, "set the numbers to call")?;
    let mut read = read(numbers_typed, |_| false)?;
    read.retain(|(_, number)| !number.is_empty());
    db.write(|tx| {
        let building = buildings::by_code(tx, &actor.scope, building)?;
        let before = told(&urgent::numbers_of(tx, building.id)?);
        urgent::set_numbers(tx, building.id, &read)?;
        let subject = audit::Subject {
            kind: "numbers_of_building",
            id: building.id.0,
        };
        audit::note(
            tx,
            actor,
            now,
            "set_urgent_numbers",
            subject,
            &before,
            &told(&read),
        )
    })
}

fn read(typed: &[(Contact, String)], must_be: impl Fn(Contact) -> bool) -> Result<Vec<(Contact, String)>> {
    let mut errors = Vec::new();
    let mut read = Vec::new();
    for (contact, typed) in typed {
        match typed.trim() {
            "" if must_be(*contact) => errors.push(FieldError::new(
                contact.code(),
                "Emergency number: it can't be empty. Write the number of the place, such as 911 or 112.",
            )),
            "" => read.push((*contact, String::new())),
            typed => match read_number(typed) {
                Ok(number) => read.push((*contact, number)),
                Err(sentence) => errors.push(FieldError::new(contact.code(), sentence)),
            },
        }
    }
    if errors.is_empty() {
        Ok(read)
    } else {
        Err(Error::Fields(errors))
    }
}

fn told(numbers: &[(Contact, String)]) -> serde_json::Value {
    let told: serde_json::Map<_, _> = numbers
        .iter()
        .map(|(contact, number)| (contact.to_string(), number.clone().into()))
        .collect();
    told.into()
}
