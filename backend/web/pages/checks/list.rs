//! The catalogue: every check by kind of fixture.

use actix_web::HttpRequest;
use askama::Template;

use super::words;
use crate::domain::code::Coded as _;
use crate::domain::due::Book;
use crate::domain::register::person::Role;
use crate::domain::trade::{FixtureKind, Origin};
use crate::error::{Error, Result};
use crate::language::Language;
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
    heads: Heads,
    shown: String,
}

/// The heads of the table, which stand on every row of a narrow page too.
struct Heads {
    group: String,
    answer: String,
    who: String,
    minutes: String,
}

/// The checks of one kind of fixture.
struct KindGroup {
    name: String,
    rows: Vec<Row>,
}

struct Row {
    code: String,
    title: String,
    group: String,
    answer: String,
    severity: &'static str,
    severity_words: String,
    minutes: f64,
    performer: String,
    marks: Vec<String>,
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
    let language = context.language();
    let mut page = context.read(move |conn, _| load(conn, fields, language)).await?;
    page.may_change = may_change;
    page.chrome = Chrome::new(&context, &request, &String::from(language.say("place-checks"))).spoken();
    respond::page(&page)
}

fn load(conn: &mut AnyConnection, fields: Fields, language: Language) -> Result<List> {
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
        .map(|kind| group(*kind, &asked, &all, &book, language))
        .filter(|group| !group.rows.is_empty())
        .collect();
    let count = groups.iter().map(|group| group.rows.len()).sum();
    Ok(List {
        chrome: Chrome::anonymous(""),
        may_change: false,
        fields,
        kinds: Choice::every_in::<FixtureKind>(language),
        origins: Choice::every_in::<Origin>(language),
        groups,
        heads: Heads {
            group: language.say("checks-group").into(),
            answer: language.say("checks-answer").into(),
            who: language.say("checks-who").into(),
            minutes: language.say("minutes").into(),
        },
        shown: language.count("figures-checks", count),
    })
}

/// Without a kind asked for, a check that is asked of several stands with the first alone.
fn group(
    kind: FixtureKind,
    asked: &Asked,
    all: &[StoredCheck],
    book: &Book,
    language: Language,
) -> KindGroup {
    let rows = all.iter().filter(|stored| {
        let kinds = &stored.check.kinds;
        let here = match asked.kind {
            Some(_) => kinds.contains(&kind),
            None => kinds.first() == Some(&kind),
        };
        here && asked.origin.is_none_or(|origin| stored.origin == origin)
    });
    KindGroup {
        name: language.word(kind),
        rows: rows.map(|stored| row(stored, book, language)).collect(),
    }
}

fn row(stored: &StoredCheck, book: &Book, language: Language) -> Row {
    let check = &stored.check;
    let mut marks = Vec::new();
    if stored.origin == Origin::Own {
        marks.push(language.say("checks-mark-own").into());
    }
    if check.kinds.len() > 1 {
        marks.push(language.say("checks-mark-several-kinds").into());
    }
    if book.check(stored.id).is_some_and(|asked| !book.is_on(asked)) {
        marks.push(language.say("checks-mark-off").into());
    }
    if !stored.active {
        marks.push(language.say("checks-mark-withdrawn").into());
    }
    Row {
        code: check.code.as_str().to_owned(),
        title: language
            .check_title(check.code.as_str(), check.version, &check.title)
            .into_owned(),
        group: language.word(check.group),
        answer: words::answer(language, check),
        severity: check.severity.code(),
        severity_words: language.word(check.severity),
        minutes: check.minutes,
        performer: language.word(check.performer),
        marks,
    }
}
