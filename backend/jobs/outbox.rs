//! Delivers what waits: claims a few mails under a lease, hands them over, notes how it went.

use chrono::{NaiveDateTime, TimeDelta};

use crate::actions::people::link;
use crate::clock::Now;
use crate::error::Result;
use crate::mail::deliver::{Failure, Mailer};
use crate::store::outbox::{self, Claimed, Delivery};
use crate::store::{Db, people};

/// Mails claimed at a time; all must be handed over within the lease.
const AT_A_TIME: i64 = 20;
/// Tries after which a mail is given up.
const MOST_TRIES: i64 = 12;

/// Delivers every mail whose turn it is; answers how many were taken.
///
/// # Errors
/// When the database does not answer.
pub fn deliver_waiting(db: &Db, now: Now, mailer: &Mailer, public_url: &str) -> Result<usize> {
    let mut taken = 0;
    loop {
        let claimed = db.write(|tx| outbox::claim(tx, now.0, AT_A_TIME))?;
        if claimed.is_empty() {
            return Ok(taken);
        }
        for mail in &claimed {
            let delivery = deliver(db, now, mailer, public_url, mail)?;
            taken += usize::from(matches!(delivery, Delivery::Sent));
            db.write(|tx| outbox::settle(tx, mail.mail.id, &delivery, now.0))?;
        }
    }
}

fn deliver(db: &Db, now: Now, mailer: &Mailer, public_url: &str, claimed: &Claimed) -> Result<Delivery> {
    if is_past_its_day(db, now, claimed)? {
        return Ok(Delivery::Failed(
            "The day it speaks of is over, so it was not sent.".to_owned(),
        ));
    }
    let link = one_time_link(db, now, public_url, claimed)?;
    if claimed.sealed_link.is_some() && link.is_none() {
        return Ok(Delivery::Failed(
            "The time of its link is over, or nobody waits for it any more, so it was not sent.".to_owned(),
        ));
    }
    Ok(match mailer.deliver(claimed, link.as_deref()) {
        Ok(()) => Delivery::Sent,
        Err(Failure::Lasting(said)) => Delivery::Failed(said),
        Err(Failure::Passing(said)) if claimed.mail.attempts >= MOST_TRIES => Delivery::Failed(said),
        Err(Failure::Passing(said)) => Delivery::Later(next_try(now.0, claimed.mail.attempts), said),
    })
}

/// The link that a mail wants, made in this moment and stored nowhere; none when it is of no more use.
fn one_time_link(db: &Db, now: Now, public_url: &str, claimed: &Claimed) -> Result<Option<String>> {
    let (Some(kind), Some(person)) = (claimed.sealed_link, claimed.person) else {
        return Ok(None);
    };
    db.write(|tx| link::make_for_mail(tx, now, public_url, kind, person, claimed.mail.created_at))
}

/// A digest speaks of one local day of its person and is of no use after it.
fn is_past_its_day(db: &Db, now: Now, claimed: &Claimed) -> Result<bool> {
    let (Some(date), Some(person)) = (claimed.local_date, claimed.person) else {
        return Ok(false);
    };
    let zone = db.read(|conn| people::zone_of(conn, person))?;
    Ok(now.date_in(zone) > date)
}

/// One minute after the first try, then twice as long each time, at most an hour.
fn next_try(now: NaiveDateTime, attempts: i64) -> NaiveDateTime {
    let doublings = u32::try_from(attempts - 1).unwrap_or(0).min(6);
    now + TimeDelta::minutes(2_i64.pow(doublings).min(60))
}
