//! The only room that names diesel: connections, transactions and one module an aggregate, on SQLite and PostgreSQL alike.
//!
//! Reading functions take `&mut AnyConnection`; writing functions take `&mut Tx`, which only [`Db::write`] makes, so that
//! nothing is written outside a transaction. Lists for pages (joins over aggregates) live in `lists`.

pub mod among;
pub mod arrivals;
pub mod assignments;
pub mod attempts;
pub mod audit;
pub mod buildings;
pub mod calendars;
pub mod checks;
pub mod coded;
pub mod connection;
pub mod deficiencies;
pub mod diagnoses;
pub mod document_forms;
pub mod documents;
pub mod due;
pub mod either;
pub mod fixtures;
pub mod fleet;
pub mod households;
pub mod labels;
pub mod lists;
pub mod migrate;
pub mod outbox;
pub mod parts;
pub mod past;
pub mod people;
pub mod phones;
pub mod photos;
pub mod portfolios;
pub mod results;
pub mod rooms;
pub mod schedules;
pub mod schema;
pub mod sessions;
pub mod settings;
pub mod spots;
pub mod tags;
pub mod terms;
pub mod tokens;
pub mod turnovers;
pub mod units;
pub mod uploads;
pub mod urgent;
pub mod visits;
pub mod water;

pub use connection::{DatabaseUrl, Db, READERS, Tx};
pub use either::AnyConnection;

use crate::error::Error;

/// Runs the same expression on whichever database is behind `$connection`, for what the enum can't express
/// (`on_conflict`, inserts of many rows).
#[macro_export]
macro_rules! on_each {
    ($connection:expr, $inner:ident => $body:expr) => {
        match $connection {
            $crate::store::AnyConnection::Postgres($inner) => $body,
            $crate::store::AnyConnection::Sqlite($inner) => $body,
        }
    };
}

impl From<diesel::result::Error> for Error {
    fn from(cause: diesel::result::Error) -> Self {
        use diesel::result::{DatabaseErrorKind as Kind, Error as Cause};
        match cause {
            Cause::NotFound => Self::not_found("such record"),
            Cause::DatabaseError(Kind::UniqueViolation, _) => {
                Self::Conflict("Something with this name is already there. Choose another name, or change the one that is there.".to_owned())
            }
            Cause::DatabaseError(Kind::ForeignKeyViolation, _) => {
                Self::Conflict("Other records still refer to this, so it stays. Retire it instead.".to_owned())
            }
            Cause::DatabaseError(Kind::ClosedConnection | Kind::UnableToSendCommand, _) => Self::Unavailable(
                "The database does not answer. Nothing was stored. Try again in a minute.".to_owned(),
            ),
            other => Self::internal(other),
        }
    }
}

impl From<diesel::r2d2::PoolError> for Error {
    fn from(cause: diesel::r2d2::PoolError) -> Self {
        tracing::error!(%cause, "no database connection");
        Self::Unavailable(
            "The database does not answer. Nothing was stored. Try again in a minute.".to_owned(),
        )
    }
}
