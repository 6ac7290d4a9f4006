//! People: who they are, what they may do, and the hash of their password. Which places are theirs stands in `assignments`.

use chrono::NaiveDateTime;
use chrono_tz::Tz;
use diesel::prelude::*;

use super::schema::people;
use super::{AnyConnection, Tx};
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::person::{Role, Standing};
use crate::domain::register::{LanguageTag, Person, PersonFacts, PersonId};
use crate::error::{Error, Result};

/// A person as the list shows them.
#[derive(Debug, Clone)]
pub struct Listed {
    /// Who.
    pub person: Person,
    /// UTC, to the minute; none before the first sign-in.
    pub last_seen_at: Option<NaiveDateTime>,
}

#[derive(Queryable, Selectable)]
#[diesel(table_name = people)]
struct Row {
    id: i64,
    name: String,
    email: String,
    role: String,
    status: String,
    time_zone: String,
    digest_hour: i64,
    last_seen_at: Option<NaiveDateTime>,
    language: String,
}

impl Row {
    fn read(self) -> Result<Listed> {
        let person = Person {
            id: PersonId(self.id),
            role: Role::from_code(&self.role).map_err(Error::internal)?,
            standing: Standing::from_code(&self.status).map_err(Error::internal)?,
            facts: PersonFacts {
                name: self.name,
                email: self.email,
                time_zone: self.time_zone.parse::<Tz>().unwrap_or(Tz::UTC),
                digest_hour: self.digest_hour,
                language: LanguageTag::read(&self.language).unwrap_or_else(|_malformed| LanguageTag::usual()),
            },
        };
        Ok(Listed {
            person,
            last_seen_at: self.last_seen_at,
        })
    }
}

/// Everybody, active people first, by name.
///
/// # Errors
/// When the database does not answer.
pub fn list(conn: &mut AnyConnection) -> Result<Vec<Listed>> {
    let rows: Vec<Row> = people::table
        .order((people::name, people::id))
        .select(Row::as_select())
        .load(conn)?;
    let mut listed = rows.into_iter().map(Row::read).collect::<Result<Vec<_>>>()?;
    listed.sort_by_key(|listed| {
        (
            listed.person.standing == Standing::Disabled,
            listed.person.facts.name.to_lowercase(),
        )
    });
    Ok(listed)
}

/// The person with this key.
///
/// # Errors
/// When there is none.
pub fn by_id(conn: &mut AnyConnection, person: PersonId) -> Result<Listed> {
    let row: Option<Row> = people::table
        .find(person.0)
        .select(Row::as_select())
        .first(conn)
        .optional()?;
    row.ok_or_else(|| Error::not_found("such person"))?.read()
}

/// The person with this address, given in the form in which it is kept.
///
/// # Errors
/// When the database does not answer.
pub fn by_email(conn: &mut AnyConnection, email: &str) -> Result<Option<Person>> {
    let row: Option<Row> = people::table
        .filter(people::email.eq(email))
        .select(Row::as_select())
        .first(conn)
        .optional()?;
    Ok(row.map(Row::read).transpose()?.map(|listed| listed.person))
}

/// The hash of a person's password, when they chose one.
///
/// # Errors
/// When the database does not answer.
pub fn password_hash(conn: &mut AnyConnection, person: PersonId) -> Result<Option<String>> {
    Ok(people::table
        .find(person.0)
        .select(people::password_hash)
        .first::<Option<String>>(conn)
        .optional()?
        .flatten())
}

/// Whether there is nobody at all, so that the first set-up is open.
///
/// # Errors
/// When the database does not answer.
pub fn nobody(conn: &mut AnyConnection) -> Result<bool> {
    let first: Option<i64> = people::table.select(people::id).first(conn).optional()?;
    Ok(first.is_none())
}

/// The active people of a role, by name.
///
/// # Errors
/// When the database does not answer.
pub fn active(conn: &mut AnyConnection, role: Role) -> Result<Vec<Person>> {
    let listed = list(conn)?;
    Ok(listed
        .into_iter()
        .map(|listed| listed.person)
        .filter(|person| person.role == role && person.standing == Standing::Active)
        .collect())
}

/// The active person of a role who was there first.
///
/// # Errors
/// When the database does not answer.
pub fn first_active(conn: &mut AnyConnection, role: Role) -> Result<Option<PersonId>> {
    let found: Option<i64> = people::table
        .filter(people::role.eq(role.code()))
        .filter(people::status.eq(Standing::Active.code()))
        .order(people::id)
        .select(people::id)
        .first(conn)
        .optional()?;
    Ok(found.map(PersonId))
}

/// Adds a person without a password, who can't sign in before they have one.
///
/// # Errors
/// When somebody has the address.
pub fn insert(
    tx: &mut Tx<'_>,
    now: Now,
    facts: &PersonFacts,
    role: Role,
    standing: Standing,
) -> Result<PersonId> {
    if by_email(tx, &facts.email)?.is_some() {
        return Err(Error::field(
            "email",
            format!(
                "Somebody with the address {} is here already. Open them under People instead.",
                facts.email
            ),
        ));
    }
    let id = diesel::insert_into(people::table)
        .values((
            people::name.eq(&facts.name),
            people::email.eq(&facts.email),
            people::role.eq(role.code()),
            people::status.eq(standing.code()),
            people::time_zone.eq(facts.time_zone.name()),
            people::digest_hour.eq(facts.digest_hour),
            people::language.eq(facts.language.as_str()),
            people::created_at.eq(now.0),
        ))
        .returning(people::id)
        .get_result(&mut **tx)?;
    Ok(PersonId(id))
}

/// Lets a person sign in, or not any more.
///
/// # Errors
/// When the database refuses.
pub fn set_standing(tx: &mut Tx<'_>, person: PersonId, standing: Standing) -> Result<()> {
    diesel::update(people::table.find(person.0))
        .set(people::status.eq(standing.code()))
        .execute(&mut **tx)?;
    Ok(())
}

/// Changes what a person may do.
///
/// # Errors
/// When the database refuses.
pub fn set_role(tx: &mut Tx<'_>, person: PersonId, role: Role) -> Result<()> {
    diesel::update(people::table.find(person.0))
        .set(people::role.eq(role.code()))
        .execute(&mut **tx)?;
    Ok(())
}

/// Keeps the hash of a password.
///
/// # Errors
/// When the database refuses.
pub fn set_password_hash(tx: &mut Tx<'_>, person: PersonId, hash: &str) -> Result<()> {
    diesel::update(people::table.find(person.0))
        .set(people::password_hash.eq(hash))
        .execute(&mut **tx)?;
    Ok(())
}

/// Changes a person's zone and the hour of their morning mail.
///
/// # Errors
/// When the database refuses.
pub fn set_hours(tx: &mut Tx<'_>, person: PersonId, zone: Tz, digest_hour: i64) -> Result<()> {
    diesel::update(people::table.find(person.0))
        .set((
            people::time_zone.eq(zone.name()),
            people::digest_hour.eq(digest_hour),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// Changes the language that a person reads.
///
/// # Errors
/// When the database refuses.
pub fn set_language(tx: &mut Tx<'_>, person: PersonId, language: &LanguageTag) -> Result<()> {
    diesel::update(people::table.find(person.0))
        .set(people::language.eq(language.as_str()))
        .execute(&mut **tx)?;
    Ok(())
}

/// The zone in which a person's days are counted.
///
/// # Errors
/// When there is no such person.
pub fn zone_of(conn: &mut AnyConnection, person: PersonId) -> Result<chrono_tz::Tz> {
    let name: String = people::table
        .find(person.0)
        .select(people::time_zone)
        .first(conn)?;
    Ok(name.parse().unwrap_or(chrono_tz::Tz::UTC))
}
