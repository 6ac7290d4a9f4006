//! What entering takes, for the units of the phone. Shown on line and never kept there: the page says so to the browser, and so does this.

use serde::Serialize;

use super::{Answer, json};
use crate::actions::phone::{Access as Known, entry};
use crate::language::Language;
use crate::web::context::Context;
use crate::web::pages::units::words::entry_in;

#[derive(Serialize)]
struct Told {
    units: Vec<Access>,
}

#[derive(Serialize)]
struct Access {
    unit: i64,
    lines: Vec<String>,
}

/// Tells it.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context) -> Answer {
    let (now, language) = (context.now, context.language());
    let all = context.read(move |conn, actor| entry(conn, actor, now)).await?;
    let units = all.into_iter().map(|one| Access {
        unit: one.unit.0,
        lines: lines(language, &one),
    });
    json(&Told {
        units: units.collect(),
    })
}

/// What the page of a visit says of the entry, a line each.
fn lines(language: Language, access: &Known) -> Vec<String> {
    let household = access.household.iter();
    let facts = household.flat_map(|household| entry_in(language, household, access.notice_hours));
    let mut lines: Vec<String> = facts
        .map(|fact| format!("{}: {}", fact.label, fact.value))
        .collect();
    if !access.note.is_empty() {
        lines.push(format!("{}: {}", language.say("entry-visit-note"), access.note));
    }
    lines
}
