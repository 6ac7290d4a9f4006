//! Adds a schedule.

use actix_web::HttpRequest;

use super::form::{self, Looks, Shown};
use super::said::Typed;
use crate::actions::schedules;
use crate::domain::due::ScheduleText;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Shows an empty form; lead and grace stay empty, so that they suit whatever pattern is chosen.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let text = ScheduleText {
        anchor: "last_done".to_owned(),
        rule: "P1Y".to_owned(),
        start: context.today().to_string(),
        on_closed_days: "stays".to_owned(),
        vacancy: "any".to_owned(),
        active: "yes".to_owned(),
        ..ScheduleText::default()
    };
    let shown = Shown {
        before: None,
        typed: Typed::of(text),
        errors: Vec::new(),
        looks: Looks::No,
    };
    form::show(&context, &request, shown).await
}

/// Shows what it would do; adds it once that is confirmed.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let typed = Typed::read(&form);
    let again = |errors, looks| Shown {
        before: None,
        typed: typed.clone(),
        errors,
        looks,
    };
    if form.text("confirmed") != typed.print() {
        return form::show(&context, &request, again(Vec::new(), Looks::Ahead)).await;
    }
    let asked = typed.text.clone();
    let added = context
        .act(move |db, actor, now| schedules::add(db, actor, now, &asked))
        .await;
    match added.map_err(to_mend) {
        Ok(_) => {
            let to = format!("/schedules/{}", typed.text.code.trim());
            Ok(respond::redirect_saying(&to, "Schedule added."))
        }
        Err(Ok(errors)) => form::show(&context, &request, again(errors, Looks::No)).await,
        Err(Err(other)) => Err(other.into()),
    }
}
