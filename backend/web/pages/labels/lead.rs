//! Where a scanned label leads: to its place on the phone's page, or to a sentence that says why it leads nowhere, and a way on.

use actix_web::http::StatusCode;
use actix_web::{HttpRequest, web};
use askama::Template;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

use crate::domain::printed_label::LabelCode;
use crate::domain::register::person::Role;
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
        // Who manages stands at a desk: the unit's page says what a phone's walk would not.
        Some(found) if found.ended_at.is_none() => Ok(respond::redirect(&match context.actor().role {
            Role::Manager => format!("/units/{}", found.unit),
            _ => walk(&found),
        })),
        Some(found) => respond::page_with(StatusCode::GONE, &ended(&context, &request, &found)),
        None => {
            let page = Ended {
                chrome: Chrome::new(&context, &request, &context.say("label-unknown").to_string()).spoken(),
                sentence: context.say("label-unknown-how").into(),
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
    let said = match on {
        Some(day) => {
            let day = context.language().day(day, context.now.date_in(found.zone));
            context.say("label-withdrawn-on").with("day", day)
        }
        None => context.say("label-withdrawn-once"),
    };
    let said = said
        .with("place", &found.tag_label)
        .with("unit", &found.unit_label);
    let onward = context.say("label-go-on").with("place", &found.tag_label);
    Ended {
        chrome: Chrome::new(context, request, &context.say("label-withdrawn").to_string()).spoken(),
        sentence: said.with("building", &found.building_name).into(),
        place: Some(Onward {
            href: walk(found),
            words: onward.with("unit", &found.unit_label).into(),
            unit: format!("/units/{}", found.unit),
        }),
    }
}
