//! Everybody, with what they may do and when they were last seen.

use std::collections::BTreeMap;

use actix_web::HttpRequest;
use askama::Template;

use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::domain::register::person::Role;
use crate::language;
use crate::store::assignments::{self, Place};
use crate::store::people::{self, Listed};
use crate::web::chrome::{Chrome, role_word};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/people/list.html")]
struct List {
    chrome: Chrome,
    shown: String,
    rows: Vec<Row>,
}

struct Row {
    id: PersonId,
    name: String,
    email: String,
    role: &'static str,
    places: String,
    standing: &'static str,
    key: &'static str,
    seen: String,
}

/// Lists the people.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let (listed, places) = context
        .read(|conn, _| Ok((people::list(conn)?, assignments::by_person(conn)?)))
        .await?;
    respond::page(&List {
        chrome: Chrome::new(&context, &request, "People"),
        shown: language::count(listed.len(), "person", "people"),
        rows: listed
            .into_iter()
            .map(|listed| row(listed, &places, &context))
            .collect(),
    })
}

fn row(listed: Listed, places: &BTreeMap<PersonId, Vec<Place>>, context: &Context) -> Row {
    let person = listed.person;
    let seen = listed.last_seen_at.map_or_else(
        || "never".to_owned(),
        |at| language::moment(at, context.zone(), context.today()),
    );
    Row {
        id: person.id,
        name: person.facts.name,
        email: person.facts.email,
        role: role_word(person.role),
        places: where_of(person.role, places.get(&person.id).map_or(&[], Vec::as_slice)),
        standing: super::standing_word(person.standing),
        key: person.standing.code(),
        seen,
    }
}

/// Where a person works or what they see, in a few words.
fn where_of(role: Role, places: &[Place]) -> String {
    let names: Vec<&str> = places.iter().take(3).map(|place| place.name.as_str()).collect();
    match (role, places.len()) {
        (Role::Manager, _) => "every building".to_owned(),
        (Role::Technician, 0) => "no building yet".to_owned(),
        (Role::Owner, 0) => "no portfolio yet".to_owned(),
        (_, count @ 4..) => format!("{} and {} more", names.join(", "), count - names.len()),
        _ => names.join(", "),
    }
}
