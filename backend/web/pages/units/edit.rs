//! Changes a unit.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use super::words;
use crate::actions::register::change_unit;
use crate::domain::register::{Building, Unit, UnitId};
use crate::error::FieldError;
use crate::language::Language;
use crate::store::units;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form with the unit as it is.
///
/// # Errors
/// When there is no such unit.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let found = context
        .read(move |conn, actor| units::by_key(conn, &actor.scope, UnitId(*key)))
        .await?;
    let fields = form::fields_of(&found.1.facts);
    respond::page(&page(&context, &request, &found, (fields, Vec::new())))
}

/// Changes the unit to what was typed.
///
/// # Errors
/// When there is no such unit.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let id = UnitId(*key);
    let found = context
        .read(move |conn, actor| units::by_key(conn, &actor.scope, id))
        .await?;
    let typed = form::read(&form);
    match context
        .act(move |db, actor, now| change_unit::change(db, actor, now, id, &typed))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying(&format!("/units/{id}"), "Unit changed.")),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, &found, (form.0, errors)))
        }
    }
}

fn page(
    context: &Context,
    request: &HttpRequest,
    (building, unit): &(Building, Unit),
    (fields, errors): (Fields, Vec<FieldError>),
) -> Page {
    let heading = format!(
        "Change {}",
        words::heading(Language::ENGLISH, &unit.facts).replacen("Unit", "unit", 1)
    );
    Page {
        chrome: Chrome::new(context, request, &heading),
        building: building.facts.code.clone(),
        heading,
        word: "Save the unit",
        back: format!("/units/{}", unit.id),
        fields,
        errors,
        kinds: form::kinds(),
        occupancies: form::occupancies(Some(unit.facts.occupancy)),
    }
}
