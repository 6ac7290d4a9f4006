//! Notes that an arrival was seen.

use actix_web::web;

use crate::actions::arrivals;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Notes it and leads back to the list.
///
/// # Errors
/// When there is no such arrival within what the person may see.
pub async fn submit(context: Context, arrival: web::Path<i64>, form: Form) -> PageResult {
    let arrival = arrival.into_inner();
    context
        .act(move |db, actor, now| arrivals::note(db, actor, now, arrival))
        .await?;
    let turnover: Option<i64> = form.text("turnover").parse().ok();
    let of = turnover.map_or_else(String::new, |turnover| format!("?turnover={turnover}"));
    Ok(respond::redirect_saying(
        &format!("/arrivals{of}"),
        "Noted. It stays under all that arrived.",
    ))
}
