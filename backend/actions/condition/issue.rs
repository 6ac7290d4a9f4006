//! Issues a numbered copy of a building's condition, kept byte for byte with its SHA-256.

use chrono::NaiveDate;

use super::{read, write};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Role};
use crate::error::{Error, Result};
use crate::exchange::csv::{self, Audience};
use crate::store::Db;
use crate::store::audit::{self, Subject};
use crate::store::documents::{self, Document, DocumentKind, NewDocument};

/// Issues the condition of a building on a day; today when no day is given.
///
/// # Errors
/// When it is a technician who asks, there is no such building in scope, or the day has no condition.
pub fn issue(db: &Db, actor: &Actor, now: Now, code: &str, as_of: Option<NaiveDate>) -> Result<Document> {
    if actor.role == Role::Technician {
        return Err(Error::Forbidden(
            "A condition is issued by the owner or the manager.".to_owned(),
        ));
    }
    db.write(|tx| {
        let standing = read(tx, &actor.scope, now, code, as_of)?;
        let building = standing.building.id;
        let mut bytes = Vec::new();
        write::write(&standing, &mut bytes, Audience::Spreadsheet)?;
        let number = documents::next_number(tx, building, DocumentKind::Condition)?;
        let file_name = format!("condition-{}-{number}.csv", standing.building.facts.code);
        let document = documents::insert(
            tx,
            &NewDocument {
                kind: DocumentKind::Condition,
                building,
                turnover: None,
                number,
                as_of: standing.as_of,
                media_type: csv::MEDIA_TYPE,
                file_name: &file_name,
                bytes: &bytes,
                issued_at: now.0,
                issued_by: actor.person,
            },
        )?;
        let subject = Subject {
            kind: "document",
            id: document.id.0,
        };
        audit::note(tx, actor, now, "issue condition", subject, &(), &document.sha256)?;
        Ok(document)
    })
}
