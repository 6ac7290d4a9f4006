//! Where a scanned label leads: to its place on the phone's page, or to a sentence that says why it leads nowhere, and a way on.

use actix_web::http::StatusCode;
use actix_web::{HttpRequest, web};
use askama::Template;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

use crate::domain::printed_label::LabelCode;
use crate::language;
use crate::store::labels::{self, Found};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

/// What of a place's label is escaped in an address.
const ESCAPED: &AsciiSet = &NON_ALPHANUMERIC.remove(b'-').remove(b'_').remove(b'.');

#[derive(Template)]
#[template(path = "pages/labels/ended.html")]
struct Ended {
    chrome: Chrome,
    heading: &'static str,
    sentence: String,
    place: Option<Onward>,
}

struct Onward {
    href: String,
    words: String,
    unit: String,
}

/// The address of a place on the phone's page.
fn walk(found: &Found) -> String {
    let label = utf8_percent_encode(&found.tag_label, ESCAPED);
    format!("/today#place={}/{label}", found.unit)
}

/// Leads to the place.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let read = LabelCode::read(&code);
    let found = context
        .read(move |conn, actor| {
            let found = read.map(|code| labels::find(conn, &code)).transpose()?.flatten();
            Ok(found.filter(|found| actor.scope.sees(found.building)))
        })
        .await?;
    match found {
        Some(found) if found.ended_at.is_none() => Ok(respond::redirect(&walk(&found))),
        Some(found) => respond::page_with(StatusCode::GONE, &ended(&context, &request, &found)),
        None => {
            let page = Ended {
                chrome: Chrome::new(&context, &request, "Unknown label"),
                heading: "Unknown label",
                sentence: "No label that you may see has this code. Scan it once more, or find the unit by its door.".to_owned(),
                place: None,
            };
            respond::page_with(StatusCode::NOT_FOUND, &page)
        }
    }
}

fn ended(context: &Context, request: &HttpRequest, found: &Found) -> Ended {
    let on = found
        .ended_at
        .map(|at| at.and_utc().with_timezone(&found.zone).date_naive());
    let on = on.map_or_else(String::new, |day| {
        format!(" on {}", language::day(day, context.now.date_in(found.zone)))
    });
    Ended {
        chrome: Chrome::new(context, request, "Withdrawn label"),
        heading: "Withdrawn label",
        sentence: format!(
            "This label was withdrawn{on}, and another took its place. It was stuck to {} in unit {} of {}. Look whether it still hangs there before you go on, and take it off.",
            found.tag_label, found.unit_label, found.building_name
        ),
        place: Some(Onward {
            href: walk(found),
            words: format!("Go on to {} in unit {}", found.tag_label, found.unit_label),
            unit: format!("/units/{}", found.unit),
        }),
    }
}
