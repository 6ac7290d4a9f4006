//! The checklists that a phone takes along. Which phone has which is noted, so that what was done with them is heard even when the unit
//! is given to others meanwhile.

use actix_web::HttpRequest;

use super::asked::{self, PHONE};
use super::{Answer, json};
use crate::actions::phone::{Fetched, Words, fetch, note_fetched};
use crate::domain::code::Coded as _;
use crate::domain::register::person::Role;
use crate::domain::register::{TagId, UnitId};
use crate::domain::trade::FixtureKind;
use crate::exchange::phone::measures::measures;
use crate::exchange::phone::units::{Unit, Units};
use crate::exchange::phone::{VERSION, instant};
use crate::language::Language;
use crate::web::context::Context;
use crate::web::origin;
use crate::web::pages::record::leak_points::drawing_in;

/// Answers with them; an owner works in no unit, and is told so like whoever has none today.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> Answer {
    let now = context.now;
    let language = context.language();
    let works = context.actor().role != Role::Owner;
    let fetched = if works {
        context
            .read(move |conn, actor| fetch(conn, actor, now, &Words::new(language)))
            .await?
    } else {
        Vec::new()
    };
    if let Some(phone) = asked::uuid(&request, PHONE).filter(|_| works) {
        let units: Vec<UnitId> = fetched.iter().map(|one| one.unit).collect();
        let agent = origin::agent(&request);
        context
            .act(move |db, actor, now| note_fetched(db, actor, now, phone, &agent, &units))
            .await?;
    }
    json(&Units {
        v: VERSION,
        now: instant::text(now.0),
        language: language.tag().to_owned(),
        measures: measures(),
        units: fetched.into_iter().map(|one| drawn(language, one)).collect(),
    })
}

/// The checklist with the drawings of its fixtures.
fn drawn(language: Language, fetched: Fetched) -> Unit {
    let mut list = fetched.list;
    for place in &mut list.places {
        let kind = FixtureKind::from_code(place.kind).ok();
        let section = kind.and_then(|kind| drawing_in(language, kind, TagId(place.tag), &fetched.wrong));
        if let Some(section) = section {
            place.drawing = section.svg;
            place.points = section.names;
        }
    }
    list
}
