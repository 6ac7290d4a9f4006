//! Keys taken before rows are written, so that what belongs to a new row can be written in the same breath.
//!
//! Only within a write transaction, of which one runs at a time.

use diesel::prelude::*;
use diesel::sql_types::{BigInt, Text};

use crate::error::{Error, Result};
use crate::store::{AnyConnection, Tx};

#[derive(QueryableByName)]
struct Key {
    #[diesel(sql_type = BigInt)]
    id: i64,
}

/// Takes `count` new keys of a table, ascending.
pub(super) fn take(tx: &mut Tx<'_>, table: &str, count: usize) -> Result<std::vec::IntoIter<i64>> {
    let wanted = i64::try_from(count).map_err(Error::internal)?;
    let mut keys: Vec<i64> = match &mut **tx {
        _ if wanted == 0 => Vec::new(),
        // An inserted key moves the sequence on, so the next ones are free until then.
        AnyConnection::Sqlite(inner) => {
            let last = diesel::sql_query("SELECT seq AS id FROM sqlite_sequence WHERE name = $1")
                .bind::<Text, _>(table)
                .get_result::<Key>(inner)
                .optional()?
                .map_or(0, |key| key.id);
            (last + 1..=last + wanted).collect()
        }
        AnyConnection::Postgres(inner) => {
            let sequence =
                "SELECT nextval(pg_get_serial_sequence($1, 'id')) AS id FROM generate_series(1, $2)";
            diesel::sql_query(sequence)
                .bind::<Text, _>(table)
                .bind::<BigInt, _>(wanted)
                .load::<Key>(inner)?
                .into_iter()
                .map(|key| key.id)
                .collect()
        }
    };
    keys.sort_unstable();
    Ok(keys.into_iter())
}
