//! Copies a schedule as one of the office's own, switched off, so that it can be changed before it asks for anything.

use super::{find, managers_only, snapshot, subject};
use crate::clock::Now;
use crate::domain::due::Terms;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::store::{AnyConnection, Db, audit, schedules};

/// Copies the schedule with this code and answers with the code of the copy.
///
/// # Errors
/// When there is no such schedule or the database refuses.
pub fn copy(db: &Db, actor: &Actor, now: Now, code: &str) -> Result<String> {
    managers_only(actor)?;
    db.write(|tx| {
        let original = find(tx, code)?;
        let terms = Terms {
            code: free_code(tx, &original.terms.code)?,
            name: format!("{} (copy)", original.terms.name),
            pack: None,
            active: false,
            ..original.terms
        };
        let id = schedules::insert(tx, &terms)?;
        audit::note(
            tx,
            actor,
            now,
            "copy_schedule",
            subject(id),
            &(),
            &snapshot(&terms),
        )?;
        Ok(terms.code)
    })
}

/// `CODE_copy`, or with the first number that is free.
fn free_code(conn: &mut AnyConnection, code: &str) -> Result<String> {
    let taken: Vec<String> = schedules::load_all(conn)?
        .into_iter()
        .map(|schedule| schedule.terms.code)
        .collect();
    let base: String = code.chars().take(38).collect();
    let numbered = (2_u32..).map(|number| format!("{base}_copy_{number}"));
    Ok(std::iter::once(format!("{base}_copy"))
        .chain(numbered)
        .find(|candidate| !taken.contains(candidate))
        .unwrap_or_default())
}
