//! Sheets of labels in their true size, to print. The page shows what has a label already; it makes none.

use actix_web::HttpRequest;
use askama::Template;

use super::building::grid_of;
use super::{chosen, first_position, home};
use crate::actions::labels;
use crate::domain::code::Coded as _;
use crate::domain::printed_label::LabelGrid;
use crate::error::{Error, FieldError};
use crate::language;
use crate::picture::label_sheet::{Label, label_sheets};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Labels on one page: 20 sheets of 30, which a browser still lays out at once.
const LABELS: usize = 600;

#[derive(Template)]
#[template(path = "pages/labels/sheet.html")]
struct Sheet {
    chrome: Chrome,
    home: String,
    name: String,
    summary: String,
    missing: usize,
    building: String,
    grid: String,
    grids: Vec<Choice>,
    start: String,
    kept: Vec<(&'static str, String)>,
    errors: Vec<FieldError>,
    sheets: Vec<String>,
    shown: String,
    first: Option<String>,
    next: Option<String>,
}

/// Shows the sheets.
///
/// # Errors
/// When there is no such building within what the person may see.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    if fields.text("building").is_empty() {
        return Ok(respond::redirect("/buildings"));
    }
    let choice = chosen(fields.text("building"), &fields);
    let one_unit = choice.units.first().copied().filter(|_| choice.units.len() == 1);
    let (building, places) = context
        .read(move |conn, actor| labels::choose(conn, &actor.scope, &choice))
        .await?;
    let grid = grid_of(&building, &fields);
    let skipped: usize = fields.text("from").parse().unwrap_or(0);
    let (start, errors) = match grid.start(fields.text("start")) {
        Ok(start) => (start, Vec::new()),
        Err(sentence) => (1, vec![FieldError::new("start", sentence)]),
    };
    let code = &building.facts.code;
    let public_url = &context.app.settings.public_url;
    let labels: Vec<Label> = places
        .iter()
        .filter_map(|place| {
            Some(Label::of(
                public_url,
                code,
                place.code.as_deref()?,
                &place.unit_label,
                &place.tag_label,
            ))
        })
        .collect();
    let here: Vec<Label> = labels.iter().skip(skipped).take(LABELS).cloned().collect();
    let more = labels.len().saturating_sub(skipped + here.len());
    // What follows on a page of its own goes on where the last sheet ended.
    let next_start = (start - 1 + u32::try_from(here.len()).unwrap_or(0)) % grid.capacity() + 1;
    respond::page(&Sheet {
        chrome: Chrome::new(&context, &request, "Sheets of labels"),
        home: home(code, one_unit),
        name: building.facts.name.clone(),
        summary: language::count(labels.len(), "label", "labels"),
        missing: places.len() - labels.len(),
        building: code.clone(),
        grid: grid.code().to_owned(),
        grids: Choice::every(LabelGrid::name),
        start: first_position(&fields),
        kept: kept(&fields),
        errors,
        sheets: label_sheets(grid, start, &here).map_err(Error::refused)?,
        shown: language::count(here.len(), "label on this page", "labels on this page"),
        first: (skipped > 0).then(|| address(&fields, 0, 1)),
        next: (more > 0).then(|| address(&fields, skipped + here.len(), next_start)),
    })
}

/// What chooses the places, to stay when another sheet is chosen.
fn kept(fields: &Fields) -> Vec<(&'static str, String)> {
    ["unit", "place"]
        .into_iter()
        .flat_map(|name| fields.all(name).map(move |value| (name, value.to_owned())))
        .collect()
}

fn address(fields: &Fields, from: usize, start: u32) -> String {
    let mut query = url::form_urlencoded::Serializer::new(String::new());
    for (name, value) in fields
        .iter()
        .filter(|(name, _)| !matches!(*name, "from" | "start"))
    {
        query.append_pair(name, value);
    }
    query.append_pair("from", &from.to_string());
    query.append_pair("start", &start.to_string());
    format!("/labels/sheet?{}", query.finish())
}
