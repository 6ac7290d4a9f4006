//! What a handler is given about the request: who asks, what time it is, and how to reach the fleet off the workers.

use std::future::{Ready, ready};

use actix_web::{FromRequest, HttpMessage, HttpRequest, dev::Payload, web};
use chrono::NaiveDate;
use chrono_tz::Tz;

use super::App;
use super::error::PageError;
use super::spoken;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::language::{Language, Said};
use crate::store::sessions::Session;
use crate::store::{AnyConnection, Db};

/// Whatever a page needs whether or not somebody is signed in.
#[derive(Clone)]
pub struct Visitor {
    /// What the handlers share.
    pub app: web::Data<App>,
    /// The instant of this request.
    pub now: Now,
    /// The session, when somebody is signed in.
    pub session: Option<Session>,
    /// In which the answer is said.
    pub language: Language,
}

impl Visitor {
    /// A message in the language of the answer.
    #[must_use]
    pub fn say(&self, key: &'static str) -> Said {
        self.language.say(key)
    }
}

/// A signed-in request.
#[derive(Clone)]
pub struct Context {
    /// What the handlers share.
    pub app: web::Data<App>,
    /// The instant of this request.
    pub now: Now,
    /// The session.
    pub session: Session,
}

impl Context {
    /// Who asks, with what they may see.
    #[must_use]
    pub fn actor(&self) -> &Actor {
        &self.session.actor
    }

    /// The language that the person reads.
    #[must_use]
    pub fn language(&self) -> Language {
        Language::of(self.session.language.as_str())
    }

    /// A message in the language that the person reads.
    #[must_use]
    pub fn say(&self, key: &'static str) -> Said {
        self.language().say(key)
    }

    /// The date where the person is; a building's own date is asked with [`Now::date_in`].
    #[must_use]
    pub fn today(&self) -> NaiveDate {
        self.now.date_in(self.zone())
    }

    /// The zone of the person, in which instants are shown to them.
    #[must_use]
    pub fn zone(&self) -> Tz {
        self.session.time_zone.parse().unwrap_or(Tz::UTC)
    }

    /// Reads on the blocking pool, with who asks.
    ///
    /// # Errors
    /// What `work` answers.
    pub async fn read<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut AnyConnection, &Actor) -> Result<T> + Send + 'static,
    ) -> Result<T> {
        let actor = self.session.actor.clone();
        self.app.read(move |conn| work(conn, &actor)).await
    }

    /// Runs an action on the blocking pool.
    ///
    /// # Errors
    /// What `work` answers.
    pub async fn act<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Db, &Actor, Now) -> Result<T> + Send + 'static,
    ) -> Result<T> {
        let (db, actor, now) = (self.app.db.clone(), self.session.actor.clone(), self.now);
        off_worker(move || work(&db, &actor, now)).await
    }
}

/// Runs blocking work off the asynchronous workers.
///
/// # Errors
/// What `work` answers, or that it panicked.
pub async fn off_worker<T: Send + 'static>(work: impl FnOnce() -> Result<T> + Send + 'static) -> Result<T> {
    tokio::task::spawn_blocking(work).await.map_err(Error::internal)?
}

fn visitor(request: &HttpRequest) -> Result<Visitor> {
    let app = request
        .app_data::<web::Data<App>>()
        .cloned()
        .ok_or_else(|| Error::internal("the server was started without its state"))?;
    let session = request.extensions().get::<Session>().cloned();
    Ok(Visitor {
        now: app.clock.now(),
        language: spoken::of(request, session.as_ref()),
        app,
        session,
    })
}

impl FromRequest for Visitor {
    type Error = PageError;
    type Future = Ready<Result<Self, PageError>>;

    fn from_request(request: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(visitor(request).map_err(PageError::from))
    }
}

impl FromRequest for Context {
    type Error = PageError;
    type Future = Ready<Result<Self, PageError>>;

    fn from_request(request: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(visitor(request).map_err(PageError::from).and_then(
            |Visitor {
                 app, now, session, ..
             }| {
                let session = session.ok_or(PageError::from(Error::SignedOut))?;
                Ok(Self { app, now, session })
            },
        ))
    }
}
