//! Sends a re-check. The form carries its client id, so that one sent twice records once.

use actix_web::{HttpRequest, web};

use super::one;
use crate::actions::deficiencies::{Recheck, Rechecked, recheck};
use crate::domain::code::Coded as _;
use crate::domain::result::{Outcome, missed_reason};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;

/// Records a re-check.
///
/// # Errors
/// When there is no such deficiency that may be seen, or the form carries no id.
pub async fn submit(
    context: Context,
    deficiency: web::Path<i64>,
    request: HttpRequest,
    form: Form,
) -> PageResult {
    let id = one::number(&deficiency);
    let Form(typed) = form;
    let client_id = typed.client_id()?;
    let outcome = Outcome::from_code(typed.text("outcome")).ok();
    let (reading, reason) = match outcome {
        Some(Outcome::NotChecked) => ("", missed_reason(typed.text("reason"), typed.text("why"))),
        _ => (typed.text("reading"), String::new()),
    };
    let command = Recheck {
        deficiency: id,
        client_id,
        outcome,
        reading: reading.to_owned(),
        reason,
        note: typed.text("recheck_note").to_owned(),
    };
    let done = context
        .act(move |db, actor, now| recheck(db, actor, now, &command))
        .await
        .map_err(|error| one::renamed(error, &[("answer", "outcome"), ("note", "recheck_note")]));
    let said = |done| match done {
        Rechecked::Closed => "deficiency-passed",
        Rechecked::FailedAgain => "deficiency-failed-again",
        Rechecked::NotChecked => "deficiency-not-checked",
    };
    one::answer(&context, &request, id, typed, done, said).await
}
