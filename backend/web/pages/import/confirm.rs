//! Shows what the chosen files would do, row by row where something must be mended, and stores them when that is confirmed.

use actix_web::{HttpRequest, web};
use askama::Template;

use crate::actions::import_fleet::Report;
use crate::actions::stage_import;
use crate::exchange::csv::Problem;
use crate::exchange::csv::fleet::difference::{Change, Count};
use crate::language::{count, grouped};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Rows of one table that are shown; the download has all of them.
const SHOWN: usize = 200;

#[derive(Template)]
#[template(path = "pages/import/confirm.html")]
struct Confirm {
    chrome: Chrome,
    upload: String,
    names: String,
    verdict: String,
    sound: Option<Sound>,
    problems: Table<Shown>,
    notes: Table<Shown>,
}

/// A row of the file that must be looked at.
struct Shown {
    /// Line, with the file when there are several.
    place: String,
    column: String,
    value: String,
    reason: String,
    remedy: String,
}

/// What the files would do when nothing must be mended.
struct Sound {
    counts: Vec<Row>,
    changes: Table<Change>,
    /// The words of the button; none when nothing is new or changed.
    button: Option<String>,
}

/// Counts of one kind of thing, in words.
struct Row {
    name: &'static str,
    added: String,
    changed: String,
    unchanged: String,
}

/// The first rows of a list.
struct Table<T> {
    rows: Vec<T>,
    /// What is left out, in words.
    more: Option<String>,
}

impl<T> Table<T> {
    fn new(mut rows: Vec<T>, all: usize) -> Self {
        rows.truncate(SHOWN);
        let more = (all > rows.len())
            .then(|| format!("The first {} of {} are shown.", grouped(rows.len()), grouped(all)));
        Self { rows, more }
    }
}

impl Confirm {
    fn new(
        context: &Context,
        request: &HttpRequest,
        upload: String,
        names: &[String],
        report: Report,
    ) -> Self {
        let (problems, notes) = (report.problems.len(), report.notes.len());
        let sound = report.is_sound().then(|| sound(&report));
        Self {
            chrome: Chrome::new(context, request, "Import a fleet"),
            upload,
            names: names.join(", "),
            verdict: verdict(&report),
            sound,
            problems: Table::new(shown(report.problems, names), problems),
            notes: Table::new(shown(report.notes, names), notes),
        }
    }
}

fn shown(problems: Vec<Problem>, names: &[String]) -> Vec<Shown> {
    let problems = problems.into_iter().take(SHOWN);
    problems
        .map(|problem| Shown {
            place: match names {
                [_] => format!("line {}", problem.line),
                _ => format!("{}, line {}", problem.file, problem.line),
            },
            column: problem.column,
            value: problem.value,
            reason: problem.reason,
            remedy: problem.remedy,
        })
        .collect()
}

fn verdict(report: &Report) -> String {
    if !report.is_sound() {
        let what = count(report.problems.len(), "thing must", "things must");
        return format!("{what} be mended. Nothing was stored. Mend the file and choose it again.");
    }
    if report.counts.is_unchanged() {
        return "Nothing is new or changed: the register says the same already.".to_owned();
    }
    "Every row can be taken. Nothing is stored until you confirm.".to_owned()
}

fn sound(report: &Report) -> Sound {
    let named = report.counts.named();
    let (added, changed) = named.iter().fold((0, 0), |(added, changed), (_, count)| {
        (added + count.added, changed + count.changed)
    });
    let button = (added + changed > 0).then(|| match (added, changed) {
        (added, 0) => format!("Store {} new", grouped(added)),
        (0, changed) => format!("Store {} changed", grouped(changed)),
        _ => format!("Store {} new and {} changed", grouped(added), grouped(changed)),
    });
    Sound {
        counts: named
            .into_iter()
            .filter(|(_, count)| *count != Count::default())
            .map(row)
            .collect(),
        changes: Table::new(report.changes.clone(), report.changes.len().max(changed)),
        button,
    }
}

fn row((name, count): (&'static str, Count)) -> Row {
    Row {
        name,
        added: grouped(count.added),
        changed: grouped(count.changed),
        unchanged: grouped(count.unchanged),
    }
}

/// Shows what the files would do.
///
/// # Errors
/// When this session sent no such files.
pub async fn show(context: Context, request: HttpRequest, upload: web::Path<String>) -> PageResult {
    let upload = upload.into_inner();
    let (session, asked) = (context.session.id, upload.clone());
    let (names, report) = context
        .act(move |db, actor, now| stage_import::look(db, actor, now, session, &asked))
        .await?;
    respond::page(&Confirm::new(&context, &request, upload, &names, report))
}

/// Stores the very files that were looked at.
///
/// # Errors
/// When this session sent no such files, or the database refuses.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    upload: web::Path<String>,
    _form: Form,
) -> PageResult {
    let upload = upload.into_inner();
    let (session, asked) = (context.session.id, upload.clone());
    let report = context
        .act(move |db, actor, now| stage_import::confirm(db, actor, now, session, &asked))
        .await?;
    if !report.is_sound() {
        // The fleet was changed meanwhile, so that something must be mended after all.
        return respond::form_again(&Confirm::new(&context, &request, upload, &[], report));
    }
    let fixtures = report.counts.fixtures;
    let done = format!(
        "Fleet stored: {} added, {} changed.",
        count(fixtures.added, "fixture", "fixtures"),
        grouped(fixtures.changed)
    );
    Ok(respond::redirect_saying("/buildings", &done))
}
