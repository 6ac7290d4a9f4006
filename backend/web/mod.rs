//! Pages over HTTP. Reads from `store`, changes through `actions`; decides nothing of the trade.
//!
//! A page is a struct beside its handler in `pages/<area>/<action>.rs` with a template of the same path. The table in
//! [`routes`] is the only list of addresses and says who may ask for each; [`gate`] enforces it before a handler runs.

pub mod assets;
pub mod choice;
pub mod chrome;
pub mod context;
pub mod error;
pub mod form;
pub mod gate;
pub mod origin;
pub mod pages;
pub mod phone;
pub mod problem;
pub mod respond;
pub mod routes;
pub mod server;
pub mod spoken;
pub mod upload;

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::Semaphore;

use crate::clock::Clock;
use crate::error::{Error, Result};
use crate::store::{AnyConnection, Db, READERS};

/// What the handlers share.
#[derive(Clone)]
pub struct App {
    /// The fleet.
    pub db: Db,
    /// Where the time comes from.
    pub clock: Clock,
    /// How this server was started.
    pub settings: Arc<Settings>,
    reading: Arc<Semaphore>,
}

impl App {
    /// What the handlers of a server share.
    #[must_use]
    pub fn new(db: Db, clock: Clock, settings: Settings) -> Self {
        let reading = usize::try_from(READERS).unwrap_or(1);
        Self {
            db,
            clock,
            settings: Arc::new(settings),
            reading: Arc::new(Semaphore::new(reading)),
        }
    }

    /// Reads on the blocking pool, when a connection is free: threads that only wait for one would take time from those that work.
    ///
    /// # Errors
    /// What `work` answers.
    pub async fn read<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut AnyConnection) -> Result<T> + Send + 'static,
    ) -> Result<T> {
        self.in_turn(move |db| db.read(work)).await
    }

    /// As [`App::read`], by queries that need not see the same state.
    ///
    /// # Errors
    /// What `work` answers.
    pub async fn glance<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut AnyConnection) -> Result<T> + Send + 'static,
    ) -> Result<T> {
        self.in_turn(move |db| db.glance(work)).await
    }

    async fn in_turn<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Db) -> Result<T> + Send + 'static,
    ) -> Result<T> {
        let turn = tokio::time::timeout(PATIENCE, Arc::clone(&self.reading).acquire_owned()).await;
        let turn = turn.map_err(|_too_long| busy())?.map_err(Error::internal)?;
        let db = self.db.clone();
        context::off_worker(move || {
            let answer = work(&db);
            drop(turn);
            answer
        })
        .await
    }
}

/// So long a page waits for a connection that reads.
const PATIENCE: Duration = Duration::from_secs(15);

fn busy() -> Error {
    Error::Unavailable(
        "The server is busy with long lists. Nothing was stored. Try again in a minute.".to_owned(),
    )
}

/// How this server was started.
#[derive(Debug, Clone)]
pub struct Settings {
    /// The address that people type, without a trailing slash; the only source of links in mails.
    pub public_url: String,
    /// Whether sign-in by one click is offered; only a demo on loopback is started so.
    pub mode: Mode,
}

/// What kind of server this is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// An office's own fleet.
    Office,
    /// An invented fleet on loopback, with sign-in by one click.
    Demo,
}

impl Settings {
    /// Whether people reach the server by https, so that cookies are kept to it.
    #[must_use]
    pub fn is_https(&self) -> bool {
        self.public_url.starts_with("https://")
    }
}
