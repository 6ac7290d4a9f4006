//! Gives a place a new label; the old code ends, and whoever scans it is told.

use super::fresh_code;
use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::printed_label::LabelCode;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::Db;
use crate::store::audit::{self, Subject};
use crate::store::labels::{self, Found};

/// Renews the label with this code, and answers with its place and the new code.
///
/// # Errors
/// When no label within the person's scope has the code, when it was withdrawn already, or for anybody but a manager.
pub fn renew(db: &Db, actor: &Actor, now: Now, code: &str) -> Result<(Found, LabelCode)> {
    rights::manager(actor, "renew a label")?;
    let unknown = || Error::not_found("label with this code");
    let code = LabelCode::read(code).ok_or_else(unknown)?;
    db.write(|tx| {
        let found = labels::find(tx, &code)?.filter(|found| actor.scope.sees(found.building));
        let found = found.ok_or_else(unknown)?;
        if found.ended_at.is_some() {
            return Err(Error::refused(format!(
                "This label of {} was withdrawn before. Load the page again to see the one that holds now.",
                found.tag_label
            )));
        }
        let fresh = fresh_code(tx)?;
        labels::end(tx, found.tag, now.0)?;
        labels::insert(tx, &fresh, found.tag, now.0, actor.person)?;
        let subject = Subject {
            kind: "label_of_tag",
            id: found.tag.0,
        };
        let (was, is) = (
            serde_json::json!({ "code": code.as_str() }),
            serde_json::json!({ "code": fresh.as_str() }),
        );
        audit::note(tx, actor, now, "renew_label", subject, &was, &is)?;
        Ok((found, fresh))
    })
}
