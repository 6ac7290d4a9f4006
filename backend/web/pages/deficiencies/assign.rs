//! Sends who sees to a deficiency.

use actix_web::{HttpRequest, web};

use super::one;
use crate::actions::deficiencies::{Assign, Assignee, assign};
use crate::domain::register::PersonId;
use crate::error::Error;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;

/// Assigns a deficiency to a person, a licensed vendor or nobody.
///
/// # Errors
/// When there is none that may be seen.
pub async fn submit(
    context: Context,
    deficiency: web::Path<i64>,
    request: HttpRequest,
    form: Form,
) -> PageResult {
    let id = one::number(&deficiency);
    let Form(typed) = form;
    let to = match typed.text("to") {
        "" => Ok(Assignee::Nobody),
        "vendor" => Ok(Assignee::Vendor(typed.text("vendor").to_owned())),
        key => match key.parse() {
            Ok(key) => Ok(Assignee::Person(PersonId(key))),
            Err(_) => Err(Error::field(
                "to",
                "This names nobody of the office. Choose one of the list.",
            )),
        },
    };
    let done = match to {
        Err(error) => Err(error),
        Ok(to) => {
            let command = Assign { deficiency: id, to };
            context
                .act(move |db, actor, now| assign(db, actor, now, &command))
                .await
        }
    };
    one::answer(&context, &request, id, typed, done, |()| "deficiency-assigned").await
}
