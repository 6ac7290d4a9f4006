//! What came of a sent form: which answers were kept, which deficiencies opened, closed or failed again, and when each check is due
//! next. Read from what is stored, so that the page can be loaded again.

use std::collections::{BTreeSet, HashMap};

use actix_web::{HttpRequest, web};
use askama::Template;
use chrono::NaiveDateTime;

use crate::actions::deficiencies::Titles;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{CheckId, FixtureId, ResultId, UnitId};
use crate::domain::result::{Deficiency, Entry, EventKind, Outcome};
use crate::domain::trade::{Check, PartKind};
use crate::error::{Error, Result};
use crate::language::Language;
use crate::store::lists::record as rows;
use crate::store::spots::{self, SpotUnit};
use crate::store::{AnyConnection, checks, deficiencies, results};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::pages::deficiencies::words;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/record/done.html")]
struct Done {
    chrome: Chrome,
    unit: SpotUnit,
    heading: String,
    changes: Vec<(String, Vec<Changed>)>,
    kept: Vec<Kept>,
    visit: Option<i64>,
    turnover: Option<i64>,
}

/// A deficiency that an answer changed.
struct Changed {
    id: i64,
    title: String,
    severity: &'static str,
    severity_words: String,
    until: String,
}

/// An answer with the due date that follows.
struct Kept {
    tag: String,
    title: String,
    outcome: String,
    outcome_words: String,
    said: String,
    next: String,
}

/// Shows what came of the answers received at an instant.
///
/// # Errors
/// When there is no such unit that may be seen, or nothing was received there then.
pub async fn show(context: Context, unit: web::Path<i64>, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let at = asked
        .text("at")
        .parse::<NaiveDateTime>()
        .map_err(|_no_instant| Error::not_found("such record of answers"))?;
    let (unit, now) = (UnitId(*unit), (context.now, context.language()));
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, unit, at))
        .await?;
    page.chrome = Chrome::new(&context, &request, &page.heading).spoken();
    page.visit = asked.text("visit").parse().ok();
    page.turnover = asked.text("turnover").parse().ok();
    respond::page(&page)
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    (now, language): (Now, Language),
    unit: UnitId,
    at: NaiveDateTime,
) -> Result<Done> {
    let unit = spots::unit(conn, &actor.scope, unit)?;
    let tags = spots::tags_of(conn, unit.id)?;
    let ids: Vec<_> = tags.iter().map(|(tag, ..)| *tag).collect();
    let received = results::received_at(conn, &ids, at)?;
    if received.is_empty() {
        return Err(Error::not_found("such record of answers"));
    }
    let labels = tags.iter().map(|(tag, label, _)| (*tag, label.clone())).collect();
    let touched: BTreeSet<_> = received.iter().map(|(_, entry)| entry.tag).collect();
    let known = deficiencies::at_tags(conn, &touched.into_iter().collect::<Vec<_>>())?;
    let ids: Vec<_> = known.iter().map(|one| one.id).collect();
    let touched = Touched {
        events: deficiencies::events_of(conn, &ids)?,
        known,
    };
    Ok(Done {
        chrome: Chrome::anonymous(""),
        heading: language.count("record-results", received.len()),
        changes: changed(
            (now, &Titles::load(conn, language)?),
            &received,
            &touched,
            unit.building.zone,
        ),
        kept: kept(conn, (now, language), &unit, &received, (&labels, &touched))?,
        unit,
        visit: None,
        turnover: None,
    })
}

/// The deficiencies of the places, and what happened to them.
struct Touched {
    known: Vec<Deficiency>,
    events: Vec<deficiencies::Event>,
}

impl Touched {
    /// The deficiency that a result opened or failed again, while it stands.
    fn standing_after(&self, result: ResultId) -> Option<&Deficiency> {
        let event = self.events.iter().find(|event| event.result == Some(result))?;
        let one = self.known.iter().find(|one| one.id == event.deficiency)?;
        one.stands().then_some(one)
    }
}

/// Sorts the deficiencies by what the answers did to them.
fn changed(
    (now, titles): (Now, &Titles),
    received: &[(ResultId, Entry)],
    touched: &Touched,
    zone: chrono_tz::Tz,
) -> Vec<(String, Vec<Changed>)> {
    let language = titles.language();
    let (mut opened, mut failed_again, mut closed) = (Vec::new(), Vec::new(), Vec::new());
    let results: BTreeSet<ResultId> = received.iter().map(|(id, _)| *id).collect();
    for event in &touched.events {
        if !event.result.is_some_and(|result| results.contains(&result)) {
            continue;
        }
        let Some(one) = touched.known.iter().find(|one| one.id == event.deficiency) else {
            continue;
        };
        let line = Changed {
            id: one.id.0,
            title: titles.of(one),
            severity: crate::domain::code::Coded::code(one.severity),
            severity_words: language.word(one.severity),
            until: if one.stands() {
                words::until_in(language, one.correct_by, now, zone)
            } else {
                String::new()
            },
        };
        match event.kind {
            EventKind::Opened => opened.push(line),
            EventKind::FailedAgain => failed_again.push(line),
            EventKind::Closed => closed.push(line),
            _ => {}
        }
    }
    vec![
        (language.say("record-opened").into(), opened),
        (language.say("record-failed-again").into(), failed_again),
        (language.say("record-closed").into(), closed),
    ]
}

fn kept(
    conn: &mut AnyConnection,
    (now, language): (Now, Language),
    unit: &SpotUnit,
    received: &[(ResultId, Entry)],
    (labels, touched): (&HashMap<crate::domain::register::TagId, String>, &Touched),
) -> Result<Vec<Kept>> {
    let today = now.date_in(unit.building.zone);
    let fixtures: BTreeSet<FixtureId> = received.iter().map(|(_, entry)| entry.fixture).collect();
    let due: HashMap<(FixtureId, Option<PartKind>, CheckId), _> =
        rows::of_fixtures(conn, &fixtures.into_iter().collect::<Vec<_>>())?
            .into_iter()
            .map(|row| ((row.fixture, row.part, row.check), row.window))
            .collect();
    let titles: HashMap<CheckId, _> = checks::load_all(conn)?
        .into_iter()
        .map(|stored| (stored.id, stored.check))
        .collect();
    let lines = received.iter().map(|(result, entry)| {
        let asked = match due.get(&(entry.fixture, entry.part, entry.check)) {
            None => language.say("record-not-asked").to_string(),
            Some(window) if entry.outcome == Outcome::NotChecked => language
                .say("record-still")
                .with("due", language.due(window, today))
                .into(),
            Some(window) => language.due_on(window, today),
        };
        // What failed is to be right long before the check comes round.
        let next = match touched.standing_after(*result) {
            Some(one) if entry.outcome == Outcome::Fail => language
                .say("record-failed-next")
                .with("number", one.id.0)
                .with(
                    "until",
                    words::until_in(language, one.correct_by, now, unit.building.zone),
                )
                .with("check", asked)
                .into(),
            _ => asked,
        };
        Kept {
            tag: labels.get(&entry.tag).cloned().unwrap_or_default(),
            title: titles
                .get(&entry.check)
                .map_or_else(String::new, |check| language.check_at(check, entry.part)),
            outcome: entry.outcome.to_string(),
            outcome_words: language.word(entry.outcome),
            said: said(language, entry, titles.get(&entry.check).map(|check| &**check)),
            next,
        }
    });
    Ok(lines.collect())
}

/// The reading or the reason.
fn said(language: Language, entry: &Entry, check: Option<&Check>) -> String {
    match (entry.outcome, check) {
        (Outcome::Pass, _) => entry.reading.clone(),
        (Outcome::Fail, Some(check)) => language.judged(Some(check), &entry.reason),
        (Outcome::Fail, None) => entry.reason.clone(),
        (Outcome::NotChecked, _) => language.reason(&entry.reason),
    }
}
