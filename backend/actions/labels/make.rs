//! Makes labels for the chosen places that have none.

use super::{Choice, choose, fresh_code};
use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::store::audit::{self, Subject};
use crate::store::{Db, labels};

/// Makes them, and answers how many. What has a label keeps it, so that nothing that is stuck on a wall goes dead.
///
/// # Errors
/// When there is no such building, or for anybody but a manager.
pub fn make(db: &Db, actor: &Actor, now: Now, choice: &Choice) -> Result<usize> {
    rights::manager(actor, "make labels")?;
    db.write(|tx| {
        let (building, places) = choose(tx, &actor.scope, choice)?;
        let mut made = Vec::new();
        for place in places.iter().filter(|place| place.code.is_none()) {
            let code = fresh_code(tx)?;
            labels::insert(tx, &code, place.tag, now.0, actor.person)?;
            made.push(place.tag.0);
        }
        if !made.is_empty() {
            let subject = Subject {
                kind: "labels_of_building",
                id: building.id.0,
            };
            let told = serde_json::json!({ "tags": made });
            audit::note(tx, actor, now, "make_labels", subject, &(), &told)?;
        }
        Ok(made.len())
    })
}
