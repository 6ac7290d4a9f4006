//! One schedule: its rule in words, its next dates, what it reaches and what it asks.

use actix_web::{HttpRequest, web};
use askama::Template;
use chrono::NaiveDate;

use super::words;
use crate::actions::schedules::{Preview, Words, is_as_added, preview};
use crate::domain::due::{Anchor, Dated, Moving, Schedule, Window, moved_in_words, timing_in_words};
use crate::domain::trade::{FixtureKind, Group, Performer};
use crate::error::{Error, Result};
use crate::language;
use crate::store::lists::deficiencies::names;
use crate::store::{AnyConnection, schedules};
use crate::web::choice::Fact;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/schedules/show.html")]
struct Show {
    chrome: Chrome,
    code: String,
    name: String,
    is_on: bool,
    is_recorded_only: bool,
    sentence: String,
    dates: Vec<Date>,
    year: String,
    /// Whose closed days move the dates; empty where none do.
    calendar: String,
    version: u32,
    undo: Option<Undo>,
    example: String,
    facts: Vec<Fact>,
    checks: Vec<CheckRow>,
}

/// What one click would undo.
struct Undo {
    said: String,
    word: &'static str,
}

struct Date {
    day: String,
    distance: String,
    /// Where it was moved from, and why; empty when it was not.
    moved: String,
}

struct CheckRow {
    code: String,
    title: String,
    of: String,
    group: &'static str,
    performer: &'static str,
    minutes: f64,
    is_off: bool,
}

/// Shows it.
///
/// # Errors
/// When there is no such schedule.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let today = context.today();
    let mut page = context.read(move |conn, _| load(conn, &code, today)).await?;
    page.chrome = Chrome::new(&context, &request, &page.name);
    respond::page(&page)
}

fn load(conn: &mut AnyConnection, code: &str, today: NaiveDate) -> Result<Show> {
    let schedule = schedules::by_code(conn, code)?.ok_or_else(|| Error::not_found("such schedule"))?;
    let terms = &schedule.terms;
    let words = Words::load(conn)?;
    let seen = preview(conn, &words, terms, today)?;
    let is_calendar = matches!(terms.timing.anchor(), Anchor::Calendar(_));
    let dates: Vec<NaiveDate> = seen.next_dates.iter().map(|date| date.day).collect();
    let technician = match terms.technician {
        None => "the building's technician".to_owned(),
        Some(person) => names(conn, &[person])?.remove(&person).unwrap_or_default(),
    };
    Ok(Show {
        chrome: Chrome::anonymous(""),
        code: terms.code.clone(),
        name: terms.name.clone(),
        is_on: terms.active,
        is_recorded_only: terms.recorded_only,
        calendar: seen.calendar.clone(),
        sentence: seen.sentence.clone(),
        example: if is_calendar {
            String::new()
        } else {
            example(&schedule, &seen, today)
        },
        dates: if is_calendar {
            seen.next_dates
                .iter()
                .map(|one| date(one, &seen, terms.timing.moving(), today))
                .collect()
        } else {
            Vec::new()
        },
        year: words::year(format!("The next dates of {}", terms.name), dates, today),
        version: schedule.version,
        undo: undo(conn, &schedule, today)?,
        facts: vec![
            Fact::new("Pack", words::pack(terms.pack)),
            Fact::new("Asks about", words::scope(&terms.scope)),
            Fact::new(
                "Reaches now",
                format!(
                    "{}, {}",
                    language::count(seen.reach.fixtures, "fixture", "fixtures"),
                    language::count(seen.reach.items, "check", "checks")
                ),
            ),
            Fact::new("Who does it", technician),
            Fact::new("Rule as text", terms.timing.anchor().text()),
            Fact::new("Code", terms.code.clone()),
            Fact::new("Version", schedule.version.to_string()),
        ],
        checks: checks(&words, &schedule),
    })
}

/// What can be undone by one click: who changed it last, when, and what it said before. None when there is nothing.
fn undo(conn: &mut AnyConnection, schedule: &Schedule, today: NaiveDate) -> Result<Option<Undo>> {
    let Some(former) = schedules::former(conn, schedule.id)? else {
        return Ok(is_as_added(schedule).then(|| Undo {
            said: "Added, and not changed since. Undoing that switches it off: it asks for nothing then."
                .to_owned(),
            word: "Undo the adding",
        }));
    };
    let who = match former.name.as_str() {
        "" => "by command".to_owned(),
        name => format!("by {name}"),
    };
    let day = language::day(former.replaced_at.date(), today);
    let (was, is) = (&former.schedule.terms, &schedule.terms);
    let did = match (was.active, is.active) {
        (true, false) => "Switched off",
        (false, true) => "Switched on",
        (true, true) | (false, false) => "Changed",
    };
    let before = if was.timing == is.timing {
        String::new()
    } else {
        format!(" Its rule before: {}", timing_in_words(&was.timing))
    };
    Ok(Some(Undo {
        said: format!("{did} {day} {who}.{before}"),
        word: "Undo that change",
    }))
}

fn date(date: &Dated, seen: &Preview, moving: Moving, today: NaiveDate) -> Date {
    let why = |from| moved_in_words(moving, (from, date.day), &seen.closed, today);
    Date {
        day: language::day(date.day, today),
        distance: language::distance(date.day, today),
        moved: date.moved_from.map(why).unwrap_or_default(),
    }
}

/// What follows when it is done today.
fn example(schedule: &Schedule, seen: &Preview, today: NaiveDate) -> String {
    let Some(due) = seen.next_dates.first() else {
        return String::new();
    };
    let timing = &schedule.terms.timing;
    let window = Window::around(due.day, timing.lead_days(), timing.grace_days());
    let day = |day| language::day(day, today);
    let moved = due
        .moved_from
        .map(|from| {
            let why = moved_in_words(timing.moving(), (from, due.day), &seen.closed, today);
            format!(" ({why})")
        })
        .unwrap_or_default();
    format!(
        "Done today, it opens again {}, is due {}{moved} and is overdue after {}.",
        day(window.opens()),
        day(window.due()),
        day(window.last_day())
    )
}

fn checks(words: &Words, schedule: &Schedule) -> Vec<CheckRow> {
    let asked = schedule.terms.checks.iter();
    asked
        .filter_map(|id| words.book.check(*id))
        .map(|asked| {
            let check = &asked.check;
            let kinds: Vec<String> = check.kinds.iter().copied().map(of_kind).collect();
            CheckRow {
                code: check.code.as_str().to_owned(),
                title: check.title.clone(),
                of: kinds.join(", "),
                group: Group::name(check.group),
                performer: Performer::name(check.performer),
                minutes: check.minutes,
                is_off: !words.book.is_on(asked),
            }
        })
        .collect()
}

fn of_kind(kind: FixtureKind) -> String {
    kind.name().to_lowercase()
}
