//! The main job from end to end as three people do it, from an empty database to the owner's file: over plain requests on both
//! databases, and by clicks in a browser. Here is what both walks need: the office with its mail server, its people, and forms that
//! are sent as a browser sends them.

mod browser;
pub mod form;
mod http;
mod screen;

use std::time::{Duration, Instant};

use anglestop::actions::people::set_up;
use anglestop::clock::{Clock, Now};
use anglestop::jobs::Clockwork;
use anglestop::mail::deliver::Mailer;
use anglestop::store::{Db, outbox};
use serde_json::Value;

use crate::mail::{received, smtp};
use crate::support::Fleet;
use crate::support::server::Server;

/// Somebody of the office.
pub struct Somebody {
    pub name: &'static str,
    pub email: &'static str,
    pub password: &'static str,
}

pub const MANAGER: Somebody = Somebody {
    name: "Ola Brandt",
    email: "ola@harbor-office.example",
    password: "kettle lantern gravel nine",
};
pub const TECHNICIAN: Somebody = Somebody {
    name: "Mira Fenn",
    email: "mira@harbor-office.example",
    password: "spanner meadow copper dusk",
};
pub const OWNER: Somebody = Somebody {
    name: "Henrik Vale",
    email: "henrik@harbor-homes.example",
    password: "ferry almond window slate",
};

/// The hours of the walk, UTC. In Chicago it is six hours earlier in winter.
pub const BEGIN: &str = "2026-03-16T15:00:00";
/// Eight months on: Wednesday, nine in the morning in Chicago.
pub const LATER: &str = "2026-11-25T15:00:00";
/// Friday, the day of the visit.
pub const VISIT: &str = "2026-11-27T16:00:00";
/// Monday, six in the morning in Chicago: the hour of the technician's mail.
pub const MONDAY: &str = "2026-11-30T12:00:00";
/// The day on which somebody moves in.
pub const MOVE_IN: &str = "2026-12-10T16:00:00";

/// A running office with nobody in it yet.
pub struct Office {
    pub server: Server,
    pub db: Db,
    clockwork: Clockwork,
}

impl Office {
    /// Opens it at the beginning of the walk. Its address is its own, so that no other test's mail has the same Message-ID.
    pub fn open(fleet: &Fleet) -> Self {
        let public_url = format!("http://walk-{}.example", uuid::Uuid::new_v4());
        Self {
            server: Server::start_at(&fleet.db, BEGIN, &public_url),
            db: fleet.db.clone(),
            clockwork: Clockwork {
                db: fleet.db.clone(),
                clock: Clock::System,
                mailer: Some(Mailer::new(&smtp(), "Harbor office <office@harbor-office.example>").unwrap()),
                public_url,
            },
        }
    }

    /// The path of the link that the first start prints.
    pub fn first_link(&self) -> String {
        let link = set_up::offer(&self.db, Now(BEGIN.parse().unwrap()), &self.clockwork.public_url);
        self.path(&link.unwrap().unwrap())
    }

    /// The time goes on.
    pub fn clock_to(&self, instant: &str) {
        self.server.clock.set(instant.parse().unwrap());
    }

    /// A round of the clockwork, then the mail to `address` whose subject says `words`, as the mail server kept it and Python's
    /// `email` module reads it.
    pub fn mail_to(&self, address: &str, words: &str) -> Value {
        self.clockwork.round(self.server.clock.now()).unwrap();
        let sent = self.db.read(|conn| outbox::list(conn, None, 100)).unwrap();
        let mut theirs = sent
            .into_iter()
            .filter(|mail| mail.to_address == address && mail.subject.contains(words));
        let mail = theirs
            .next()
            .unwrap_or_else(|| panic!("no mail to {address} with “{words}”"));
        assert!(theirs.next().is_none(), "one mail to {address} with “{words}”");
        assert_eq!(mail.status, "sent");
        let until = Instant::now() + Duration::from_secs(10);
        loop {
            let mut read = received(&mail.message_id);
            assert!(read.len() < 2, "one copy of each mail");
            if let Some(letter) = read.pop() {
                assert_eq!(letter["to"], address);
                assert_eq!(letter["defects"], 0);
                return letter;
            }
            assert!(Instant::now() < until, "the mail to {address} did not arrive");
        }
    }

    /// The path of the link in the mail that invites somebody.
    pub fn invitation_of(&self, somebody: &Somebody) -> String {
        let letter = self.mail_to(somebody.email, "");
        let text = letter["text"].as_str().unwrap();
        let link = text.split_whitespace().find(|word| word.contains("/invite/"));
        self.path(link.unwrap_or_else(|| panic!("no link in {text}")))
    }

    fn path(&self, link: &str) -> String {
        let path = link.strip_prefix(&self.clockwork.public_url);
        path.unwrap_or_else(|| panic!("{link} leads elsewhere"))
            .to_owned()
    }
}
