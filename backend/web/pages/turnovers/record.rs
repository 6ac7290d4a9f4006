//! Records the answers of a walk and goes on with it.

use actix_web::{HttpRequest, web};

use super::page::{self, Asked};
use super::said;
use crate::actions::results::Recorded;
use crate::actions::turnovers::{Record, StagedAnswer, record};
use crate::domain::register::{DeficiencyId, TurnoverId};
use crate::error::Error;
use crate::language::Language;
use crate::store::{turnovers, units};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::pages::record::answers;
use crate::web::respond;

/// Records.
///
/// # Errors
/// When there is no such turnover that may be seen.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let Form(fields) = form;
    let (id, keys, typed) = (TurnoverId(*key), answers::keys(&fields), fields.clone());
    let stage = said::part_named(fields.text("stage"));
    let done = context
        .act(move |db, actor, now| {
            let zone = db.read(|conn| {
                let turnover = turnovers::find(conn, &actor.scope, id)?;
                let (building, _) = units::by_key(conn, &actor.scope, turnover.unit)?;
                Ok(building.facts.time_zone)
            })?;
            let given = answers::answers(&typed, &keys).map_err(Error::Fields)?;
            let command = Record {
                turnover: id,
                answers: given
                    .into_iter()
                    .map(|answer| StagedAnswer { answer, stage })
                    .collect(),
                done_at: answers::done_at(&typed, zone, now).map_err(Error::Fields)?,
            };
            record(db, actor, now, &command)
        })
        .await;
    match done {
        Ok(recorded) => {
            let part = fields.text("stage");
            let to = format!("/turnovers/{id}?stage={part}#answers");
            Ok(respond::redirect_saying(
                &to,
                &in_words(context.language(), &recorded),
            ))
        }
        Err(error) => {
            let asked = Asked {
                part: stage,
                ..Asked::default()
            };
            page::again(&context, &request, id, asked, (fields, error)).await
        }
    }
}

/// What was done: `12 results recorded. Deficiency No. 7 opened.`
fn in_words(language: Language, recorded: &Recorded) -> String {
    let mut sentences = vec![match (recorded.results.len(), recorded.already) {
        (0, already) => language.count("turnover-there-already", already),
        (new, _) => language.count("turnover-recorded", new),
    }];
    for (ids, what) in [
        (&recorded.opened, "turnover-opened"),
        (&recorded.added_to, "turnover-failed-again"),
        (&recorded.closed, "turnover-closed-deficiency"),
    ] {
        if !ids.is_empty() {
            let said = language.say(what).with("numbers", numbers(language, ids));
            sentences.push(said.to_string());
        }
    }
    sentences.join(" ")
}

fn numbers(language: Language, ids: &[DeficiencyId]) -> String {
    let number = |id: &DeficiencyId| language.say("turnover-number").with("number", id.0).to_string();
    let numbers: Vec<String> = ids.iter().map(number).collect();
    numbers.join(", ")
}
