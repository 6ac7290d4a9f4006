//! A mark that is another one after every change of a due row, so that what was counted from them can be kept until then.

use uuid::Uuid;

use crate::error::Result;
use crate::store::{AnyConnection, Tx, settings};

/// Under which name it stands.
const KEY: &str = "due.mark";

/// The mark of the rows as they are; none before the first row was written.
///
/// # Errors
/// When the database does not answer.
pub fn mark(conn: &mut AnyConnection) -> Result<Option<String>> {
    settings::get(conn, KEY)
}

/// Notes that rows changed. No two databases and no two changes have the same mark.
pub(super) fn renew(tx: &mut Tx<'_>) -> Result<()> {
    settings::set(tx, KEY, &Uuid::new_v4().simple().to_string())
}
