//! Ending one's own sessions: one, or all but this.

use actix_web::web;

use crate::actions::people::account;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Ends one session.
///
/// # Errors
/// When it is not one's own, or the database does not answer.
pub async fn end(context: Context, session: web::Path<i64>, _: Form) -> PageResult {
    let id = session.into_inner();
    context
        .act(move |db, actor, _| account::end_session(db, actor, id))
        .await?;
    Ok(respond::redirect_saying(
        "/account",
        &context.say("account-session-ended").to_string(),
    ))
}

/// Ends every session but this.
///
/// # Errors
/// When the database does not answer.
pub async fn end_others(context: Context, _: Form) -> PageResult {
    let this = context.session.id;
    let ended = context
        .act(move |db, actor, _| account::end_other_sessions(db, actor, this))
        .await?;
    Ok(respond::redirect_saying(
        "/account",
        &context.language().count("account-sessions-ended", ended),
    ))
}
