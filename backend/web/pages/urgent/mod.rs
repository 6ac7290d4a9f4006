//! What to do first, and whom to call: for anybody, before any form and without signing in. Staff take down afterwards what was urgent.

pub mod edit;
pub mod report;
pub mod show;

use crate::domain::register::Building;
use crate::error::{Error, Result};
use crate::web::context::Visitor;

/// The building that an address names, when whoever asks is signed in and may see it; what to do first never waits for the right code.
async fn building(visitor: &Visitor, code: &str) -> Result<Option<Building>> {
    let Some(session) = visitor.session.as_ref().filter(|_| !code.is_empty()) else {
        return Ok(None);
    };
    let (scope, code) = (session.actor.scope.clone(), code.to_owned());
    let found = visitor
        .app
        .read(move |conn| crate::store::buildings::by_code(conn, &scope, &code))
        .await;
    match found {
        Ok(building) => Ok(Some(building)),
        Err(Error::NotFound(_)) => Ok(None),
        Err(other) => Err(other),
    }
}
