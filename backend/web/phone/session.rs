//! Who is signed in on the phone, and the token that what it sends must carry. A queue fetches it anew before it is sent.

use serde::Serialize;

use super::{Answer, json};
use crate::domain::code::Coded as _;
use crate::error::Error;
use crate::exchange::phone::instant;
use crate::language::Language;
use crate::web::context::Visitor;

#[derive(Serialize)]
struct Told {
    person: Person,
    csrf: String,
    now: String,
}

#[derive(Serialize)]
struct Person {
    id: i64,
    name: String,
    role: &'static str,
    language: String,
}

/// Tells it.
///
/// # Errors
/// 401 when nobody is signed in.
pub async fn show(visitor: Visitor) -> Answer {
    let session = visitor.session.ok_or(Error::SignedOut)?;
    let person = session.actor.person.ok_or(Error::SignedOut)?;
    json(&Told {
        person: Person {
            id: person.0,
            name: session.actor.name,
            role: session.actor.role.code(),
            language: Language::of(session.language.as_str()).tag().to_owned(),
        },
        csrf: session.csrf,
        now: instant::text(visitor.now.0),
    })
}
