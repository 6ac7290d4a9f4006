//! The checklists that a phone takes along. Which phone has which is noted, so that what was done with them is heard even when the unit
//! is given to others meanwhile.

use actix_web::HttpRequest;

use super::asked::{self, PHONE};
use super::{Answer, json};
use crate::actions::phone::{Fetched, Words, fetch, note_fetched};
use crate::domain::code::Coded as _;
use crate::domain::register::{TagId, UnitId};
use crate::domain::trade::FixtureKind;
use crate::exchange::phone::measures::measures;
use crate::exchange::phone::units::{Unit, Units};
use crate::exchange::phone::{VERSION, instant};
use crate::store::phones;
use crate::web::context::Context;
use crate::web::origin;
use crate::web::pages::record::leak_points::{Wrong, drawing};

/// Answers with them.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> Answer {
    let now = context.now;
    let (words, fetched) = context
        .read(move |conn, actor| {
            let language = match actor.person {
                Some(person) => phones::language_of(conn, person)?,
                None => String::new(),
            };
            let words = Words::new(&language);
            let fetched = fetch(conn, actor, now, &words)?;
            Ok((words, fetched))
        })
        .await?;
    if let Some(phone) = asked::uuid(&request, PHONE) {
        let units: Vec<UnitId> = fetched.iter().map(|one| one.unit).collect();
        let agent = origin::agent(&request);
        context
            .act(move |db, actor, now| note_fetched(db, actor, now, phone, &agent, &units))
            .await?;
    }
    json(&Units {
        v: VERSION,
        now: instant::text(now.0),
        language: words.language().to_owned(),
        measures: measures(),
        units: fetched.into_iter().map(drawn).collect(),
    })
}

/// The checklist with the drawings of its fixtures.
fn drawn(fetched: Fetched) -> Unit {
    let wrong = fetched.wrong.into_iter().map(|one| Wrong {
        id: one.id,
        tag: one.tag,
        part: one.part,
        check: one.check,
    });
    let wrong: Vec<Wrong> = wrong.collect();
    let mut list = fetched.list;
    for place in &mut list.places {
        let kind = FixtureKind::from_code(place.kind).ok();
        if let Some(section) = kind.and_then(|kind| drawing(kind, TagId(place.tag), &wrong)) {
            place.drawing = section.svg;
            place.points = section.names;
        }
    }
    list
}
