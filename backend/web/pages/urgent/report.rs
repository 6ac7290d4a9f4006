//! Takes down what was urgent, once people are safe. The page that it comes from has the numbers to call above the form.

use actix_web::HttpRequest;

use super::show;
use crate::actions::urgent::{self, Report};
use crate::domain::code::Coded as _;
use crate::domain::trade::urgent::Urgency;
use crate::error::{Error, FieldError};
use crate::store::units;
use crate::web::context::{Context, Visitor};
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Takes it down and mails it to the managers.
///
/// # Errors
/// When the database refuses.
pub async fn submit(context: Context, visitor: Visitor, request: HttpRequest, form: Form) -> PageResult {
    let Form(fields) = form;
    let building = super::building(&visitor, fields.text("building")).await?;
    let code = building
        .as_ref()
        .map_or(String::new(), |one| one.facts.code.clone());
    let unit = fields.text("unit").to_owned();
    let place = building.as_ref().map(|one| one.id);
    let found = match (place, unit.as_str()) {
        (_, "") => Ok(None),
        (None, _) => Err(FieldError::new(
            "building",
            "Choose the building that the unit is in.",
        )),
        (Some(place), label) => {
            let label = label.to_owned();
            let named =
                format!("There is no unit “{label}” in this building. Leave it empty when you are not sure.");
            let unit = context
                .read(move |conn, _| units::by_label(conn, place, &label))
                .await?;
            unit.map(|unit| Some(unit.id))
                .ok_or_else(|| FieldError::new("unit", named))
        }
    };
    let read = match (read(&fields), found) {
        (Ok((client_id, kind)), Ok(unit)) => Ok(Report {
            client_id,
            kind,
            building: place,
            unit,
            note: fields.text("note").to_owned(),
            said_at: context.now.0,
        }),
        (Err(error), _) => Err(error),
        (_, Err(error)) => Err(Error::Fields(vec![error])),
    };
    let done = match read {
        Ok(report) => {
            context
                .act(move |db, actor, now| urgent::report(db, actor, now, &report))
                .await
        }
        Err(error) => Err(error),
    };
    match done {
        Ok(_) => {
            let said = context.say("urgent-taken").to_string();
            let to = if code.is_empty() {
                "/urgent".to_owned()
            } else {
                format!("/urgent?building={code}")
            };
            Ok(respond::redirect_saying(&to, &said))
        }
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&show::page(&visitor, &request, building, (fields, errors)).await?)
        }
    }
}

fn read(fields: &Fields) -> Result<(uuid::Uuid, Urgency), Error> {
    let kind = Urgency::from_code(fields.text("kind"))
        .map_err(|_unknown| Error::field("kind", "Say what it is."))?;
    Ok((fields.client_id()?, kind))
}
