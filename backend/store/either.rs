//! One connection type for both databases, so that a query is written once.
#![expect(
    missing_docs,
    reason = "the derive adds items of its own without documentation"
)]

use diesel::{PgConnection, SqliteConnection};

/// A connection to either database.
#[derive(diesel::MultiConnection)]
pub enum AnyConnection {
    Postgres(PgConnection),
    Sqlite(SqliteConnection),
}
