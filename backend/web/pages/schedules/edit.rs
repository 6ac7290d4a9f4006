//! Changes a schedule.

use actix_web::{HttpRequest, web};

use super::form::{self, Looks, Shown};
use super::said::Typed;
use crate::actions::schedules::{self, Words};
use crate::domain::due::{Schedule, ScheduleText, Timing};
use crate::error::{Error, Result};
use crate::store;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Shows the form as the schedule stands.
///
/// # Errors
/// When there is no such schedule.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let before = find(&context, code.into_inner()).await?;
    let terms = before.terms.clone();
    let text = context
        .read(move |conn, _| {
            let words = Words::load(conn)?;
            let mut text = ScheduleText::of(&terms, &words.known());
            if has_usual_early_days(&terms.timing) {
                text.early_days.clear();
            }
            Ok(text)
        })
        .await?;
    let shown = Shown {
        before: Some(before),
        typed: Typed::of(text),
        errors: Vec::new(),
        looks: Looks::No,
    };
    form::show(&context, &request, shown).await
}

/// Shows what the change would do; changes it once that is confirmed.
///
/// # Errors
/// When there is no such schedule, or somebody changed it meanwhile.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let code = code.into_inner();
    let before = find(&context, code.clone()).await?;
    let typed = Typed::read(&form);
    let again = |errors, looks| Shown {
        before: Some(before.clone()),
        typed: typed.clone(),
        errors,
        looks,
    };
    if form.text("confirmed") != typed.print() {
        return form::show(&context, &request, again(Vec::new(), Looks::Ahead)).await;
    }
    let version = form.text("version").parse().unwrap_or(0);
    let asked = typed.text.clone();
    let changed = context
        .act(move |db, actor, now| schedules::change(db, actor, now, &code, version, &asked))
        .await;
    match changed.map_err(to_mend) {
        Ok(()) => {
            let to = format!("/schedules/{}", typed.text.code.trim());
            Ok(respond::redirect_saying(
                &to,
                "Schedule changed. The due list follows it.",
            ))
        }
        Err(Ok(errors)) => form::show(&context, &request, again(errors, Looks::No)).await,
        Err(Err(other)) => Err(other.into()),
    }
}

/// Half the gap was not typed as a figure, and would be wrong for a rule with another gap.
fn has_usual_early_days(timing: &Timing) -> bool {
    let usual = Timing::new(
        timing.anchor().clone(),
        timing.lead_days(),
        timing.grace_days(),
        None,
    );
    usual.is_ok_and(|usual| usual.early_days() == timing.early_days())
}

async fn find(context: &Context, code: String) -> Result<Schedule> {
    context
        .read(move |conn, _| {
            store::schedules::by_code(conn, &code)?.ok_or_else(|| Error::not_found("such schedule"))
        })
        .await
}
