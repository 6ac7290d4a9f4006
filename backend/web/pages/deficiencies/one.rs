//! One deficiency: what is wrong, until when, what happened, and forms for what can be done to it now. The forms' own files send what
//! was typed and come back here with what to mend.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::words;
use crate::actions::deficiencies::recheck;
use crate::actions::water::Instead;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::result::{Deficiency, DeficiencyStatus, MissedReason, money};
use crate::domain::trade::{Answer, Caution, Check};
use crate::error::{Error, FieldError, Result};
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
    severity_words: &'static str,
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
    what: &'static str,
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
    say: impl FnOnce(T) -> &'static str,
) -> PageResult {
    match done {
        Ok(done) => Ok(respond::redirect_saying(
            &format!("/deficiencies/{id}"),
            say(done),
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
    let now = context.now;
    let is_again = !errors.is_empty();
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, id, typed))
        .await?;
    page.chrome = Chrome::new(context, request, &format!("Deficiency {id}"));
    page.errors = errors;
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

fn load(conn: &mut AnyConnection, actor: &Actor, now: Now, id: DeficiencyId, typed: Fields) -> Result<One> {
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
    Ok(One {
        chrome: Chrome::anonymous(""),
        id: one.id.0,
        title: one.title.clone(),
        detail: one.detail.clone(),
        severity: one.severity.code(),
        severity_words: one.severity.name(),
        stands: one.stands(),
        repaired: one.status == DeficiencyStatus::Repaired,
        lateness: words::lateness(one.correct_by, now),
        until: words::until(one.correct_by, now, zone),
        facts: facts(conn, now, &one, &unit)?,
        tag: tag(conn, &one)?,
        repeats: one.repeats.map(|repeats| repeats.0),
        cautions: Caution::warnings(touched, spot.as_ref().map(|spot| spot.kind)),
        drawing: drawing(conn, &one, spot.as_ref())?,
        history: history(conn, now, &one, &unit)?,
        matter: of_deficiency::load(conn, now, &one, &unit, Instead::default())?,
        staff: lists::deficiencies::staff_of(conn, one.building)?
            .into_iter()
            .map(|(person, name)| Choice::new(person.to_string(), name))
            .collect(),
        asks: asked.map(|(_, check)| asks(&check, &unit)),
        recheck_id,
        reasons: Choice::every(MissedReason::name),
        typed,
        errors: Vec::new(),
        unit,
    })
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

fn facts(conn: &mut AnyConnection, now: Now, one: &Deficiency, unit: &SpotUnit) -> Result<Vec<Fact>> {
    let zone = unit.building.zone;
    let mut facts = vec![
        Fact::new("State", one.status.name()),
        Fact::new("Found by", one.origin.name()),
        Fact::new("Since", words::instant(one.opened_at, now, zone)),
    ];
    if let Some(part) = one.part {
        facts.push(Fact::new("Part", part.name()));
    }
    let names = lists::deficiencies::names(conn, &one.assignee.into_iter().collect::<Vec<_>>())?;
    let sees_to_it = match (one.assignee, one.vendor.as_str()) {
        (Some(person), _) => names.get(&person).cloned().unwrap_or_default(),
        (None, "") => "nobody yet".to_owned(),
        (None, vendor) => format!("{vendor} (licensed vendor)"),
    };
    facts.push(Fact::new("Sees to it", sees_to_it));
    if let Some(at) = one.repaired_at {
        facts.push(Fact::new("Repaired", words::instant(at, now, zone)));
    }
    if !one.parts_used.is_empty() {
        facts.push(Fact::new("Parts used", one.parts_used.clone()));
    }
    if let Some(minutes) = one.minutes {
        facts.push(Fact::new("Work", format!("{minutes} min")));
    }
    if let Some(cost) = one.cost_minor {
        facts.push(Fact::new("Cost", money::text(cost)));
    }
    if let (Some(at), Some(how)) = (one.closed_at, one.closed_how) {
        facts.push(Fact::new(
            "Closed",
            format!("{}. {}", words::instant(at, now, zone), how.name()),
        ));
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
    one: &Deficiency,
    spot: Option<&Spot>,
) -> Result<Option<leak_points::Section>> {
    let Some(spot) = spot else { return Ok(None) };
    let all = checks::load_all(conn)?;
    let wrong = questions::wrong_in(conn, one.unit, &all)?;
    if !leak_points::is_at_a_point(spot.kind, &wrong, one.id) {
        return Ok(None);
    }
    Ok(leak_points::drawing(spot.kind, spot.tag, &wrong))
}

fn history(conn: &mut AnyConnection, now: Now, one: &Deficiency, unit: &SpotUnit) -> Result<Vec<Line>> {
    let events: Vec<Event> = deficiencies::events_of(conn, &[one.id])?;
    let people: Vec<_> = events.iter().filter_map(|event| event.person).collect();
    let names = lists::deficiencies::names(conn, &people)?;
    let line = |event: Event| Line {
        at: words::instant(event.at, now, unit.building.zone),
        who: match event.person {
            None => "command line".to_owned(),
            Some(person) => names.get(&person).cloned().unwrap_or_default(),
        },
        what: event.kind.name(),
        text: event.text,
    };
    Ok(events.into_iter().map(line).collect())
}

fn asks(check: &Check, unit: &SpotUnit) -> Asks {
    let (pass, fail, reading) = match &check.answer {
        Answer::Verdict { pass, fail } => (pass.clone(), fail.clone(), None),
        Answer::Reading {
            of, unit: measured, ..
        } => {
            let shown = crate::domain::trade::outcome::bare_unit(*measured, unit.building.length_unit);
            let (pass, fail) = ("Passes by its reading", "Fails, without a figure");
            (
                pass.to_owned(),
                fail.to_owned(),
                Some((of.clone(), shown.symbol())),
            )
        }
    };
    Asks {
        how: check.ask.clone(),
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
