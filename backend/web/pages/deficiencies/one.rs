//! One deficiency: what is wrong, until when, what happened, and forms for what can be done to it now. The forms' own files send what
//! was typed and come back here with what to mend.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::{events, words};
use crate::actions::deficiencies::{Titles, recheck};
use crate::actions::water::Instead;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::result::{Deficiency, DeficiencyStatus, MissedReason, money};
use crate::domain::trade::{Answer, Check, leak_point};
use crate::error::{Error, FieldError, Result};
use crate::language::Language;
use crate::store::deficiencies::{self, Event};
use crate::store::spots::{self, Spot, SpotUnit};
use crate::store::{AnyConnection, checks, lists};
use crate::web::choice::{Choice, Fact};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, to_mend};
use crate::web::pages::record::{leak_points, questions};
use crate::web::pages::water::of_deficiency::{self, Matter};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/deficiencies/one.html")]
struct One {
    chrome: Chrome,
    id: i64,
    title: String,
    detail: String,
    unit: SpotUnit,
    severity: &'static str,
    severity_words: String,
    stands: bool,
    repaired: bool,
    lateness: &'static str,
    until: String,
    facts: Vec<Fact>,
    tag: Option<(i64, String)>,
    repeats: Option<i64>,
    cautions: Vec<String>,
    drawing: Option<leak_points::Section>,
    history: Vec<Line>,
    matter: Matter,
    staff: Vec<Choice>,
    asks: Option<Asks>,
    recheck_id: String,
    reasons: Vec<Choice>,
    typed: Fields,
    errors: Vec<FieldError>,
}

/// The check that is asked again.
struct Asks {
    how: String,
    pass: String,
    fail: String,
    /// What is read and in which unit, when the check asks for a figure.
    reading: Option<(String, &'static str)>,
}

/// One event.
struct Line {
    at: String,
    who: String,
    what: String,
    text: String,
}

impl One {
    /// What was typed in a field, or what is kept.
    fn value(&self, name: &str) -> &str {
        self.typed.text(name)
    }
}

/// Shows a deficiency.
///
/// # Errors
/// When there is none that may be seen.
pub async fn show(context: Context, deficiency: web::Path<i64>, request: HttpRequest) -> PageResult {
    let id = DeficiencyId(*deficiency);
    render(&context, &request, id, Fields::default(), Vec::new()).await
}

/// Goes back to the deficiency with a word of what was done, or shows it again with what to mend.
pub(super) async fn answer<T>(
    context: &Context,
    request: &HttpRequest,
    id: DeficiencyId,
    typed: Fields,
    done: Result<T>,
    key: impl FnOnce(T) -> &'static str,
) -> PageResult {
    match done {
        Ok(done) => Ok(respond::redirect_saying(
            &format!("/deficiencies/{id}"),
            &context.say(key(done)).to_string(),
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            render(context, request, id, typed, errors).await
        }
    }
}

async fn render(
    context: &Context,
    request: &HttpRequest,
    id: DeficiencyId,
    typed: Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let (now, language) = (context.now, context.language());
    let is_again = !errors.is_empty();
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, language, id, typed))
        .await?;
    let title = context.say("deficiency-number").with("number", id.to_string());
    page.chrome = Chrome::new(context, request, &title.to_string()).spoken();
    page.errors = language.errors(errors);
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    language: Language,
    id: DeficiencyId,
    typed: Fields,
) -> Result<One> {
    let one = deficiencies::find(conn, &actor.scope, id)?;
    let unit = spots::unit(conn, &actor.scope, one.unit)?;
    let asked = recheck::asks(conn, actor, &one)?;
    let stored = match one.check {
        Some(check) => checks::by_id(conn, check)?.map(|stored| stored.check),
        None => None,
    };
    let touched = stored.as_deref().map_or(&[][..], |check| &check.cautions);
    let spot = match one.tag {
        Some(tag) => spots::at_tag(conn, &actor.scope, tag)?,
        None => None,
    };
    let zone = unit.building.zone;
    let recheck_id = typed.client_id_or_new();
    let mut typed = typed;
    keep(&one, &mut typed);
    let titles = Titles::load(conn, language)?;
    Ok(One {
        chrome: Chrome::anonymous(""),
        id: one.id.0,
        title: titles.of(&one),
        detail: detail(language, &one, stored.as_deref()),
        severity: one.severity.code(),
        severity_words: language.word(one.severity),
        stands: one.stands(),
        repaired: one.status == DeficiencyStatus::Repaired,
        lateness: words::lateness(one.correct_by, now),
        until: words::until_in(language, one.correct_by, now, zone),
        facts: facts(conn, now, language, &one, &unit)?,
        tag: tag(conn, &one)?,
        repeats: one.repeats.map(|repeats| repeats.0),
        cautions: language.warnings(touched, spot.as_ref().map(|spot| spot.kind)),
        drawing: drawing(conn, language, &one, spot.as_ref())?,
        history: history(conn, now, &titles, &one, &unit)?,
        matter: of_deficiency::load(conn, now, language, (&one, &unit), Instead::default())?,
        staff: lists::deficiencies::staff_of(conn, one.building)?
            .into_iter()
            .map(|(person, name)| Choice::new(person.to_string(), name))
            .collect(),
        asks: asked.map(|(_, check)| asks(&check, language, &unit)),
        recheck_id,
        reasons: Choice::every_in::<MissedReason>(language),
        typed,
        errors: Vec::new(),
        unit,
    })
}

/// What a person wrote stays; at leak points the tool wrote it.
fn detail(language: Language, one: &Deficiency, check: Option<&Check>) -> String {
    match check {
        Some(check) if leak_point::CHECKS.contains(&check.code.as_str()) => language.phrases(&one.detail),
        _ => one.detail.clone(),
    }
}

/// The forms show what is kept until something else was typed.
fn keep(one: &Deficiency, typed: &mut Fields) {
    let assignee = match (one.assignee, one.vendor.is_empty()) {
        (Some(person), _) => person.to_string(),
        (None, true) => String::new(),
        (None, false) => "vendor".to_owned(),
    };
    let kept = [
        ("to", assignee),
        ("vendor", one.vendor.clone()),
        ("parts_used", one.parts_used.clone()),
        (
            "minutes",
            one.minutes
                .map_or_else(String::new, |minutes| minutes.to_string()),
        ),
        ("cost", one.cost_minor.map_or_else(String::new, money::text)),
    ];
    for (name, value) in kept {
        if !typed.has(name) {
            typed.set(name, value);
        }
    }
}

fn facts(
    conn: &mut AnyConnection,
    now: Now,
    language: Language,
    one: &Deficiency,
    unit: &SpotUnit,
) -> Result<Vec<Fact>> {
    let moment = |at| language.moment(at, unit.building.zone, now.date_in(unit.building.zone));
    let fact = |key, value: String| Fact::new(language.say(key), value);
    let mut facts = vec![
        fact("state", language.word(one.status)),
        fact("deficiency-found-by", language.word(one.origin)),
        fact("deficiency-since", moment(one.opened_at)),
    ];
    if let Some(part) = one.part {
        facts.push(fact("deficiency-part", language.word(part)));
    }
    let names = lists::deficiencies::names(conn, &one.assignee.into_iter().collect::<Vec<_>>())?;
    let person = one.assignee.and_then(|person| names.get(&person));
    let who = words::sees_to_it(language, person.map_or("", String::as_str), &one.vendor);
    facts.push(fact("deficiencies-sees-to-it", who));
    if let Some(at) = one.repaired_at {
        facts.push(fact("deficiency-repaired", moment(at)));
    }
    if !one.parts_used.is_empty() {
        facts.push(fact("deficiency-parts-used", one.parts_used.clone()));
    }
    if let Some(minutes) = one.minutes {
        facts.push(fact("deficiency-work", format!("{minutes} min")));
    }
    if let Some(cost) = one.cost_minor {
        facts.push(fact("deficiency-cost", money::text(cost)));
    }
    if let (Some(at), Some(how)) = (one.closed_at, one.closed_how) {
        let said = language
            .say("deficiency-closed-how")
            .with("moment", moment(at))
            .with("how", language.word(how));
        facts.push(fact("deficiency-closed", said.into()));
    }
    Ok(facts)
}

/// The place, with the key of what stands there now, or stood there then.
fn tag(conn: &mut AnyConnection, one: &Deficiency) -> Result<Option<(i64, String)>> {
    let Some(tag) = one.tag else { return Ok(None) };
    let places = spots::tags_of(conn, one.unit)?;
    let label = places.into_iter().find(|(id, ..)| *id == tag);
    let all = crate::domain::register::person::Scope::All;
    let standing = spots::at_tag(conn, &all, tag)?.map(|spot| spot.fixture);
    let fixture = standing.or(one.fixture);
    Ok(fixture.zip(label).map(|(fixture, (_, label, room))| {
        let label = if room.is_empty() {
            label
        } else {
            format!("{label}, {room}")
        };
        (fixture.0, label)
    }))
}

fn drawing(
    conn: &mut AnyConnection,
    language: Language,
    one: &Deficiency,
    spot: Option<&Spot>,
) -> Result<Option<leak_points::Section>> {
    let Some(spot) = spot else { return Ok(None) };
    let all = checks::load_all(conn)?;
    let wrong = questions::wrong_in(conn, one.unit, &all)?;
    if !leak_points::is_at_a_point(spot.kind, &wrong, one.id) {
        return Ok(None);
    }
    Ok(leak_points::drawing_in(language, spot.kind, spot.tag, &wrong))
}

fn history(
    conn: &mut AnyConnection,
    now: Now,
    titles: &Titles,
    one: &Deficiency,
    unit: &SpotUnit,
) -> Result<Vec<Line>> {
    let (language, zone) = (titles.language(), unit.building.zone);
    let events: Vec<Event> = deficiencies::events_of(conn, &[one.id])?;
    let people: Vec<_> = events.iter().filter_map(|event| event.person).collect();
    let names = lists::deficiencies::names(conn, &people)?;
    let line = |event: Event| Line {
        at: language.moment(event.at, zone, now.date_in(zone)),
        who: match event.person {
            None => language.say("deficiency-command-line").into(),
            Some(person) => names.get(&person).cloned().unwrap_or_default(),
        },
        what: language.word(event.kind),
        text: events::in_words(titles, one, &event),
    };
    Ok(events.into_iter().map(line).collect())
}

fn asks(check: &Check, language: Language, unit: &SpotUnit) -> Asks {
    let said = language.check(check);
    let (pass, fail, reading) = match &check.answer {
        Answer::Verdict { .. } => (said.pass, said.fail, None),
        Answer::Reading { unit: measured, .. } => {
            let shown = crate::domain::trade::outcome::bare_unit(*measured, unit.building.length_unit);
            (
                language.say("deficiency-by-reading").into(),
                language.say("deficiency-fails-bare").into(),
                Some((said.of, shown.symbol())),
            )
        }
    };
    Asks {
        how: said.ask,
        pass,
        fail,
        reading,
    }
}

/// The number of a deficiency from an address.
pub(super) fn number(path: &web::Path<i64>) -> DeficiencyId {
    DeficiencyId(**path)
}

/// A refusal of a field of these forms when it names another field on this page.
pub(super) fn renamed(error: Error, names: &[(&str, &str)]) -> Error {
    match error {
        Error::Fields(errors) => Error::Fields(
            errors
                .into_iter()
                .map(|error| {
                    let field = names.iter().find(|(from, _)| *from == error.field);
                    let field = field.map_or(error.field.clone(), |(_, to)| (*to).to_owned());
                    FieldError::new(field, error.message)
                })
                .collect(),
        ),
        other => other,
    }
}
