//! The numbers to call when something is urgent: read by anybody, set by a manager.

use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::person::Actor;
use crate::domain::trade::urgent::{Contact, read_number};
use crate::error::{Error, FieldError, Result};
use crate::store::{AnyConnection, Db, audit, settings};

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

/// Sets the numbers; an empty one is forgotten, the emergency number excepted.
///
/// # Errors
/// A sentence for each number that can't be dialled; a refusal for anybody but a manager.
pub fn set(db: &Db, actor: &Actor, now: Now, numbers_typed: &[(Contact, String)]) -> Result<()> {
    rights::manager(actor, "set the numbers to call")?;
    let mut errors = Vec::new();
    let mut read = Vec::new();
    for (contact, typed) in numbers_typed {
        match typed.trim() {
            "" if *contact == Contact::Emergency => errors.push(FieldError::new(
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
    if !errors.is_empty() {
        return Err(Error::Fields(errors));
    }
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

fn told(numbers: &[(Contact, String)]) -> serde_json::Value {
    let told: serde_json::Map<_, _> = numbers
        .iter()
        .map(|(contact, number)| (contact.to_string(), number.clone().into()))
        .collect();
    told.into()
}
