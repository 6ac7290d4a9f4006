//! Signing out: the session ends on the server.

use crate::error::Error;
use crate::store;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Ends this session.
///
/// # Errors
/// When the database refuses.
pub async fn submit(context: Context, _: Form) -> PageResult {
    let id = context.session.id;
    context
        .act(move |db, _, _| db.write(|tx| store::sessions::end(tx, id)))
        .await?;
    let mut response = respond::redirect("/sign-in");
    response
        .add_removal_cookie(&respond::sign_out_cookie(&context.app))
        .map_err(Error::internal)?;
    Ok(response)
}
