//! The clockwork of a running server: each round renews due rows that a broken-off change left stale, counts ahead what the lists of all
//! buildings show, keeps photos whose server stopped before it could, forgets what phones sent long ago, writes the digests whose hour has
//! come and delivers what waits in the outbox. A round may be repeated or run by several processes; what it does is guarded in the database.

pub mod outbox;

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

use crate::actions;
use crate::clock::{Clock, Now};
use crate::error::Result;
use crate::mail::deliver::Mailer;
use crate::store::{self, Db};

/// Time between two rounds.
const ROUND: Duration = Duration::from_secs(15);

/// What the jobs need.
#[derive(Clone)]
pub struct Clockwork {
    /// The fleet.
    pub db: Db,
    /// Where the time comes from.
    pub clock: Clock,
    /// How mails leave, when it was configured; without, they wait.
    pub mailer: Option<Mailer>,
    /// The address that links lead to.
    pub public_url: String,
}

impl Clockwork {
    /// One round at an instant.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn round(&self, now: Now) -> Result<()> {
        store::due::renew_stale(&self.db)?;
        self.db
            .read(|conn| store::lists::due::count_ahead(conn, now).map(drop))?;
        actions::phone::photos::finish_left(&self.db, now)?;
        actions::phone::prune(&self.db, now)?;
        actions::digest::enqueue_due(&self.db, now, &self.public_url)?;
        if let Some(mailer) = &self.mailer {
            outbox::deliver_waiting(&self.db, now, mailer, &self.public_url)?;
        }
        Ok(())
    }

    /// Runs rounds on a thread of its own until the answer is stopped.
    #[must_use]
    pub fn start(self) -> Running {
        let signal = Arc::new(Signal::default());
        let heard = Arc::clone(&signal);
        let thread = std::thread::spawn(move || {
            while !heard.stop.load(Ordering::Acquire) {
                if let Err(error) = self.round(self.clock.now()) {
                    tracing::error!(%error, "a round of jobs failed; the next one tries again");
                }
                heard.wait(ROUND);
            }
        });
        Running {
            signal,
            thread: Some(thread),
        }
    }
}

#[derive(Default)]
struct Signal {
    stop: AtomicBool,
    guard: Mutex<()>,
    bell: Condvar,
}

impl Signal {
    fn wait(&self, at_most: Duration) {
        let guard = self.guard.lock().unwrap_or_else(PoisonError::into_inner);
        drop(
            self.bell
                .wait_timeout_while(guard, at_most, |()| !self.stop.load(Ordering::Acquire)),
        );
    }
}

/// A running clockwork; it finishes its round and ends when dropped.
pub struct Running {
    signal: Arc<Signal>,
    thread: Option<JoinHandle<()>>,
}

impl Drop for Running {
    fn drop(&mut self) {
        {
            let _guard = self.signal.guard.lock().unwrap_or_else(PoisonError::into_inner);
            self.signal.stop.store(true, Ordering::Release);
        }
        self.signal.bell.notify_all();
        if let Some(thread) = self.thread.take() {
            drop(thread.join());
        }
    }
}
