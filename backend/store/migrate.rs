//! Brings the tables of a database to what this binary knows, once, however many processes start together.

use diesel::Connection as _;
use diesel::connection::SimpleConnection;
use diesel::migration::{MigrationSource, MigrationVersion};
use diesel_migrations::{EmbeddedMigrations, HarnessWithOutput, MigrationHarness, embed_migrations};

use super::{AnyConnection, Db};
use crate::error::{Error, Result};

const SQLITE: EmbeddedMigrations = embed_migrations!("migrations/sqlite");
const POSTGRES: EmbeddedMigrations = embed_migrations!("migrations/postgres");

/// Runs the migrations that are missing and answers how many there were.
///
/// # Errors
/// When the database was made by a newer version, or a migration fails; then nothing was changed.
pub fn run(db: &Db) -> Result<usize> {
    db.with_writer(|connection| match connection {
        AnyConnection::Sqlite(inner) => inner.immediate_transaction(|inner| pending(inner, SQLITE)),
        AnyConnection::Postgres(inner) => inner.transaction(|inner| {
            inner.batch_execute("SELECT pg_advisory_xact_lock(4920418)")?;
            pending(inner, POSTGRES)
        }),
    })
}

fn pending<C, B>(connection: &mut C, migrations: EmbeddedMigrations) -> Result<usize>
where
    B: diesel::backend::Backend,
    C: MigrationHarness<B>,
    EmbeddedMigrations: MigrationSource<B>,
{
    let known: Vec<MigrationVersion<'static>> = MigrationSource::<B>::migrations(&migrations)
        .map_err(Error::Internal)?
        .iter()
        .map(|migration| migration.name().version().as_owned())
        .collect();
    let applied = connection.applied_migrations().map_err(Error::Internal)?;
    if let Some(newer) = applied.iter().find(|version| !known.contains(version)) {
        return Err(Error::refused(format!(
            "This database was made by a newer version of Anglestop (its step {newer} is not known here). Start that version, or restore a backup from before."
        )));
    }
    let mut silent = HarnessWithOutput::new(connection, std::io::sink());
    Ok(silent
        .run_pending_migrations(migrations)
        .map_err(Error::Internal)?
        .len())
}
