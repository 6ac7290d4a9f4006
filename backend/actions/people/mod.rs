//! People: signing in, inviting, resetting, disabling.
//!
//! A person is `invited` until they chose a password through a link, `active` from then on, `disabled` when a manager says so.
//! Sessions end when the password, the role or the standing changes.

pub mod account;
pub mod change_role;
pub mod hashing;
pub mod invite;
pub mod link;
pub mod reset;
pub mod set_up;
pub mod sign_in;
pub mod standing;
pub mod throttle;

use crate::domain::register::password::{OwnWords, Password, Whose};
use crate::domain::register::person::{Actor, Role, Standing};
use crate::domain::register::{LanguageTag, Person, PersonId};
use crate::error::{Error, FieldError, Result};
use crate::language::Language;
use crate::store::{AnyConnection, assignments, people};

/// Lets managers pass.
fn managers_alone(actor: &Actor) -> Result<()> {
    if actor.role == Role::Manager {
        Ok(())
    } else {
        Err(Error::Forbidden(
            "Only a manager decides about people. Ask one.".to_owned(),
        ))
    }
}

/// Refuses what would leave nobody to decide.
fn another_manager_stays(conn: &mut AnyConnection, person: &Person) -> Result<()> {
    let managers = people::active(conn, Role::Manager)?;
    let leaves = person.role == Role::Manager && person.standing == Standing::Active;
    if leaves && managers.iter().all(|manager| manager.id == person.id) {
        return Err(Error::refused(format!(
            "{} is the only active manager. Make somebody else manager first.",
            person.facts.name
        )));
    }
    Ok(())
}

/// Lets languages pass that pages and mails can be said in.
fn spoken(language: &LanguageTag) -> std::result::Result<(), FieldError> {
    if Language::known(language.as_str()).is_some() {
        return Ok(());
    }
    let known: Vec<&str> = Language::all().map(Language::tag).collect();
    let sentence = format!(
        "There are no words in “{language}” here. Choose one of {}.",
        known.join(", ")
    );
    Err(FieldError::new("language", sentence))
}

/// Loads a person.
fn person_of(conn: &mut AnyConnection, person: PersonId) -> Result<Person> {
    Ok(people::by_id(conn, person)?.person)
}

/// Judges a password that a person chooses, against their own words and those of the buildings they may see.
fn choose(conn: &mut AnyConnection, person: &Person, typed: &str) -> Result<Password> {
    let mut own = OwnWords::of(&person.facts);
    let scope = assignments::scope_of(conn, person.id, person.role)?;
    for name in assignments::names_within(conn, &scope)? {
        own.add(Whose::Building, &name);
    }
    Password::chosen(typed, &own).map_err(|sentence| Error::field("password", sentence))
}
