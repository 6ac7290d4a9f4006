//! Connections to either database, the pools that keep them, and the two kinds of transaction.
//!
//! SQLite: one writer, four readers that can't write, WAL, every commit synced. PostgreSQL: one pool; writers take an advisory
//! lock, so that on both databases one write transaction runs at a time and none has to be run again.

use std::path::PathBuf;
use std::str::FromStr;
use std::time::{Duration, Instant};

use diesel::connection::{AnsiTransactionManager, SimpleConnection, TransactionManager};
use diesel::r2d2::{ManageConnection, Pool};
use diesel::{Connection as _, PgConnection, SqliteConnection};

use super::either::AnyConnection;
use crate::error::{Error, Result};

/// Where the fleet is kept: `sqlite://FILE` or `postgres://…`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DatabaseUrl {
    /// A file.
    Sqlite(PathBuf),
    /// A server, with the whole URL as the client library reads it.
    Postgres(String),
}

impl FromStr for DatabaseUrl {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        if let Some(file) = text.strip_prefix("sqlite://") {
            if file.is_empty() {
                return Err("sqlite:// needs a file after it, such as sqlite://fleet.db.".to_owned());
            }
            return Ok(Self::Sqlite(PathBuf::from(file)));
        }
        if text.starts_with("postgres://") || text.starts_with("postgresql://") {
            return Ok(Self::Postgres(text.to_owned()));
        }
        Err(format!(
            "“{text}” is not a database. Give sqlite://FILE or postgres://USER@HOST/NAME."
        ))
    }
}

/// Opens connections for a pool, by the URL's scheme.
#[derive(Debug, Clone)]
struct Opener {
    url: DatabaseUrl,
    access: Access,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Access {
    Write,
    Read,
}

impl Opener {
    fn open(&self) -> Result<AnyConnection, diesel::r2d2::Error> {
        match &self.url {
            DatabaseUrl::Sqlite(file) => {
                let mut inner = SqliteConnection::establish(&file.to_string_lossy())
                    .map_err(diesel::r2d2::Error::ConnectionError)?;
                let mut pragmas = String::from(
                    "PRAGMA busy_timeout = 10000; PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; \
                     PRAGMA foreign_keys = ON; PRAGMA temp_store = MEMORY;",
                );
                // Readers look into the file as the system keeps it, shared; a cache of their own is memory that is lost to others.
                pragmas.push_str(match self.access {
                    Access::Read => {
                        "PRAGMA query_only = ON; PRAGMA cache_size = -4000; PRAGMA mmap_size = 8589934592;"
                    }
                    // 64,000 KiB hold what one transaction changes of the indexes of a large fleet; after 4,000 pages of 4 KiB, a page
                    // that many transactions changed is carried over once.
                    Access::Write => "PRAGMA cache_size = -64000; PRAGMA wal_autocheckpoint = 4000;",
                });
                inner
                    .batch_execute(&pragmas)
                    .map_err(diesel::r2d2::Error::QueryError)?;
                Ok(AnyConnection::Sqlite(inner))
            }
            DatabaseUrl::Postgres(url) => {
                let mut inner = PgConnection::establish(url).map_err(diesel::r2d2::Error::ConnectionError)?;
                inner
                    .batch_execute("SET TIME ZONE 'UTC'; SET jit = off; SET lock_timeout = '30s'")
                    .map_err(diesel::r2d2::Error::QueryError)?;
                Ok(AnyConnection::Postgres(inner))
            }
        }
    }
}

/// For so long after an answer a connection is taken to be there still.
const TRUSTED: Duration = Duration::from_secs(1);

/// A connection of a pool.
struct Pooled {
    connection: AnyConnection,
    /// When it answered last that it is there.
    answered: Instant,
}

impl ManageConnection for Opener {
    type Connection = Pooled;
    type Error = diesel::r2d2::Error;

    fn connect(&self) -> Result<Pooled, Self::Error> {
        Ok(Pooled {
            connection: self.open()?,
            answered: Instant::now(),
        })
    }

    fn is_valid(&self, pooled: &mut Pooled) -> Result<(), Self::Error> {
        if pooled.answered.elapsed() > TRUSTED {
            pooled
                .connection
                .batch_execute("SELECT 1")
                .map_err(diesel::r2d2::Error::QueryError)?;
            pooled.answered = Instant::now();
        }
        Ok(())
    }

    fn has_broken(&self, _: &mut Pooled) -> bool {
        std::thread::panicking()
    }
}

/// The database, cheap to clone. All work goes through [`Db::read`], [`Db::glance`] and [`Db::write`], which block: call them off the
/// asynchronous workers.
#[derive(Clone)]
pub struct Db {
    readers: Pool<Opener>,
    writers: Pool<Opener>,
    url: DatabaseUrl,
}

/// Connections that only read; more reads at once would wait for one.
pub const READERS: u32 = 4;

impl Db {
    /// Opens the database without changing it; see [`super::migrate`] for its tables.
    ///
    /// # Errors
    /// A sentence with the cause when it can't be opened.
    pub fn open(url: &DatabaseUrl) -> Result<Self> {
        let opener = |access| Opener {
            url: url.clone(),
            access,
        };
        opener(Access::Write).open().map_err(|cause| {
            Error::Unavailable(format!(
                "The database can't be opened: {cause}. Check the address and that it runs."
            ))
        })?;
        // A server may have gone away in between; a file has not.
        let asks_first = matches!(url, DatabaseUrl::Postgres(_));
        let pool = |access, size| {
            Pool::builder()
                .test_on_check_out(asks_first)
                .max_size(size)
                .min_idle(Some(1))
                .connection_timeout(Duration::from_secs(15))
                .build(opener(access))
        };
        let writers_at_once = if matches!(url, DatabaseUrl::Sqlite(_)) {
            1
        } else {
            4
        };
        Ok(Self {
            readers: pool(Access::Read, READERS)?,
            writers: pool(Access::Write, writers_at_once)?,
            url: url.clone(),
        })
    }

    /// Where the fleet is kept.
    #[must_use]
    pub fn url(&self) -> &DatabaseUrl {
        &self.url
    }

    /// A writer without a transaction, for [`super::migrate`] alone, which begins its own.
    pub(super) fn with_writer<T>(&self, work: impl FnOnce(&mut AnyConnection) -> Result<T>) -> Result<T> {
        work(&mut self.writers.get()?.connection)
    }

    /// Reads; all queries of `work` see the same state.
    ///
    /// # Errors
    /// What `work` answers, or that the database does not answer.
    pub fn read<T>(&self, work: impl FnOnce(&mut AnyConnection) -> Result<T>) -> Result<T> {
        let connection = &mut self.readers.get()?.connection;
        begin(
            connection,
            "BEGIN",
            "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY",
        )?;
        finish(connection, work)
    }

    /// Reads by queries that need not see the same state: there is no transaction to begin and to end.
    ///
    /// # Errors
    /// What `work` answers, or that the database does not answer.
    pub fn glance<T>(&self, work: impl FnOnce(&mut AnyConnection) -> Result<T>) -> Result<T> {
        work(&mut self.readers.get()?.connection)
    }

    /// Writes in one transaction: all of `work`, or nothing when it answers with an error.
    ///
    /// # Errors
    /// What `work` answers, or that the database does not answer.
    pub fn write<T>(&self, work: impl FnOnce(&mut Tx<'_>) -> Result<T>) -> Result<T> {
        let connection = &mut self.writers.get()?.connection;
        begin(connection, "BEGIN IMMEDIATE", "BEGIN")?;
        finish(connection, |inner| {
            if let AnyConnection::Postgres(postgres) = inner {
                postgres.batch_execute("SELECT pg_advisory_xact_lock(4920417)")?;
            }
            work(&mut Tx { connection: inner })
        })
    }
}

fn begin(connection: &mut AnyConnection, on_sqlite: &str, on_postgres: &str) -> Result<()> {
    match connection {
        AnyConnection::Sqlite(inner) => AnsiTransactionManager::begin_transaction_sql(inner, on_sqlite)?,
        AnyConnection::Postgres(inner) => AnsiTransactionManager::begin_transaction_sql(inner, on_postgres)?,
    }
    Ok(())
}

/// Runs `work`, then commits, or rolls back when it failed or panicked.
fn finish<T>(
    connection: &mut AnyConnection,
    work: impl FnOnce(&mut AnyConnection) -> Result<T>,
) -> Result<T> {
    let answer = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| work(&mut *connection)));
    match answer {
        Ok(Ok(value)) => {
            on_each_inner(connection, End::Commit)?;
            Ok(value)
        }
        Ok(Err(error)) => {
            on_each_inner(connection, End::RollBack)?;
            Err(error)
        }
        Err(panic) => {
            let _ = on_each_inner(connection, End::RollBack);
            std::panic::resume_unwind(panic)
        }
    }
}

#[derive(Clone, Copy)]
enum End {
    Commit,
    RollBack,
}

fn on_each_inner(connection: &mut AnyConnection, end: End) -> Result<()> {
    crate::on_each!(connection, inner => match end {
        End::Commit => AnsiTransactionManager::commit_transaction(inner),
        End::RollBack => AnsiTransactionManager::rollback_transaction(inner),
    })?;
    Ok(())
}

/// A write transaction. Only [`Db::write`] makes one.
pub struct Tx<'a> {
    connection: &'a mut AnyConnection,
}

impl std::ops::Deref for Tx<'_> {
    type Target = AnyConnection;
    fn deref(&self) -> &AnyConnection {
        self.connection
    }
}

impl std::ops::DerefMut for Tx<'_> {
    fn deref_mut(&mut self) -> &mut AnyConnection {
        self.connection
    }
}

#[cfg(test)]
mod tests {
    use super::DatabaseUrl;

    #[test]
    fn a_database_address_without_a_known_scheme_is_refused_with_what_to_give() {
        let refusal = "fleet.db".parse::<DatabaseUrl>();
        assert!(refusal.is_err_and(|sentence| sentence.contains("sqlite://FILE")));
    }
}
