//! One check a screen: its name, what to do, and the answers as bars at the foot. A passing verdict is one tap.

use askama::Template;

use super::page::Loaded;
use super::sheet::{Ask, Sheet, Wanted};
use crate::error::FieldError;
use crate::store::spots::SpotUnit;
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::error::PageResult;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/record/one.html")]
struct One {
    chrome: Chrome,
    unit: SpotUnit,
    place: String,
    action: String,
    passed_on: Vec<(&'static str, String)>,
    cautions: Vec<String>,
    drawing: Option<super::leak_points::Section>,
    ask: Ask,
    reasons: Vec<Choice>,
    errors: Vec<FieldError>,
}

/// Shows the only question of a sheet.
pub(super) fn render(
    mut chrome: Chrome,
    action: String,
    passed_on: Vec<(&'static str, String)>,
    loaded: &Loaded,
    sheet: Sheet,
    errors: Vec<FieldError>,
) -> PageResult {
    let reasons = sheet.reasons.clone();
    let is_again = !errors.is_empty();
    let Some((place, group)) = only_group(sheet) else {
        return Err(crate::error::Error::not_found("such question").into());
    };
    let Some(ask) = group.asks.into_iter().next() else {
        return Err(crate::error::Error::not_found("such question").into());
    };
    chrome.title.clone_from(&ask.title);
    let page = One {
        chrome,
        unit: loaded.unit.clone(),
        place,
        action,
        passed_on,
        cautions: group.cautions,
        drawing: group.drawing,
        ask,
        reasons,
        errors,
    };
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

fn only_group(sheet: Sheet) -> Option<(String, super::sheet::GroupView)> {
    let room = sheet.rooms.into_iter().next()?;
    let fixture = room.fixtures.into_iter().next()?;
    let place = format!("{} · {}", room.name, fixture.tag);
    Some((place, fixture.groups.into_iter().next()?))
}
