//! The form that asks on which day a part was replaced or retired, with what to mind at it.

use actix_web::HttpRequest;
use askama::Template;

use crate::domain::register::PartId;
use crate::error::FieldError;
use crate::store::parts;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageError;
use crate::web::form::Fields;
use crate::web::pages::fixtures::rows;
use crate::web::pages::units::words;

/// What is said of the change, each the key of a message.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wording {
    /// The heading, with the part and its place.
    pub heading: &'static str,
    /// Beneath the heading.
    pub lead: &'static str,
    /// On the button.
    pub word: &'static str,
}

#[derive(Template)]
#[template(path = "pages/parts/end.html")]
pub(super) struct Page {
    chrome: Chrome,
    fixture: i64,
    building: String,
    unit_key: i64,
    unit: String,
    tag: String,
    heading: String,
    wording: Wording,
    cautions: Vec<String>,
    fields: Fields,
    errors: Vec<FieldError>,
}

/// The page for a part.
pub(super) async fn page(
    context: &Context,
    request: &HttpRequest,
    id: PartId,
    wording: Wording,
    (fields, errors): (Fields, Vec<FieldError>),
) -> Result<Page, PageError> {
    let language = context.language();
    let (placed, part, cautions) = context
        .read(move |conn, actor| {
            let (placed, part) = parts::by_key(conn, &actor.scope, id)?;
            let dangers = rows::dangers(conn, placed.fixture.facts.kind)?;
            let cautions = language.warnings(&dangers, Some(placed.fixture.facts.kind));
            Ok((placed, part, cautions))
        })
        .await?;
    let heading: String = language
        .say(wording.heading)
        .with("part", language.word(part.facts.kind).to_lowercase())
        .with("tag", &placed.tag.label)
        .into();
    Ok(Page {
        chrome: Chrome::new(context, request, &heading).spoken(),
        fixture: placed.fixture.id.0,
        building: placed.building.facts.code,
        unit_key: placed.unit.id.0,
        unit: words::heading(language, &placed.unit.facts),
        tag: placed.tag.label,
        heading,
        wording,
        cautions,
        fields,
        errors: language.errors(errors),
    })
}
