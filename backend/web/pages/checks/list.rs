//! The catalogue: every check by kind of fixture.

use actix_web::HttpRequest;
use askama::Template;

use super::words;
use crate::domain::code::Coded as _;
use crate::domain::due::Book;
use crate::domain::register::person::Role;
use crate::domain::trade::{FixtureKind, Origin};
use crate::error::{Error, Result};
use crate::language;
use crate::store::checks::{self, StoredCheck};
use crate::store::{AnyConnection, schedules};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/checks/list.html")]
struct List {
    chrome: Chrome,
    may_change: bool,
    fields: Fields,
    kinds: Vec<Choice>,
    origins: Vec<Choice>,
    groups: Vec<KindGroup>,
    shown: String,
}

/// The checks of one kind of fixture.
struct KindGroup {
    name: &'static str,
    rows: Vec<Row>,
}

struct Row {
    code: String,
    title: String,
    group: &'static str,
    answer: String,
    severity: &'static str,
    severity_words: &'static str,
    minutes: f64,
    performer: &'static str,
    marks: Vec<&'static str>,
}

/// What the address asks for.
struct Asked {
    kind: Option<FixtureKind>,
    origin: Option<Origin>,
}

/// Shows it.
///
/// # Errors
/// When a filter can't be used or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let may_change = context.actor().role == Role::Manager;
    let mut page = context.read(move |conn, _| load(conn, fields)).await?;
    page.may_change = may_change;
    page.chrome = Chrome::new(&context, &request, "Checks");
    respond::page(&page)
}

fn load(conn: &mut AnyConnection, fields: Fields) -> Result<List> {
    let asked = Asked {
        kind: match fields.text("kind") {
            "" => None,
            code => Some(FixtureKind::from_code(code).map_err(Error::refused)?),
        },
        origin: match fields.text("origin") {
            "" => None,
            code => Some(Origin::from_code(code).map_err(Error::refused)?),
        },
    };
    let book = schedules::book(conn)?;
    let all = checks::load_all(conn)?;
    let groups: Vec<KindGroup> = FixtureKind::ALL
        .iter()
        .filter(|kind| asked.kind.is_none_or(|wanted| wanted == **kind))
        .map(|kind| group(*kind, &asked, &all, &book))
        .filter(|group| !group.rows.is_empty())
        .collect();
    let count = groups.iter().map(|group| group.rows.len()).sum();
    Ok(List {
        chrome: Chrome::anonymous(""),
        may_change: false,
        fields,
        kinds: Choice::every(FixtureKind::name),
        origins: Choice::every(Origin::name),
        groups,
        shown: language::count(count, "check", "checks"),
    })
}

/// Without a kind asked for, a check that is asked of several stands with the first alone.
fn group(kind: FixtureKind, asked: &Asked, all: &[StoredCheck], book: &Book) -> KindGroup {
    let rows = all.iter().filter(|stored| {
        let kinds = &stored.check.kinds;
        let here = match asked.kind {
            Some(_) => kinds.contains(&kind),
            None => kinds.first() == Some(&kind),
        };
        here && asked.origin.is_none_or(|origin| stored.origin == origin)
    });
    KindGroup {
        name: kind.name(),
        rows: rows.map(|stored| row(stored, book)).collect(),
    }
}

fn row(stored: &StoredCheck, book: &Book) -> Row {
    let check = &stored.check;
    let mut marks = Vec::new();
    if stored.origin == Origin::Own {
        marks.push("your own");
    }
    if check.kinds.len() > 1 {
        marks.push("of several kinds");
    }
    if book.check(stored.id).is_some_and(|asked| !book.is_on(asked)) {
        marks.push("off until chosen");
    }
    if !stored.active {
        marks.push("withdrawn");
    }
    Row {
        code: check.code.as_str().to_owned(),
        title: check.title.clone(),
        group: check.group.name(),
        answer: words::answer(check),
        severity: check.severity.code(),
        severity_words: check.severity.name(),
        minutes: check.minutes,
        performer: check.performer.name(),
        marks,
    }
}
