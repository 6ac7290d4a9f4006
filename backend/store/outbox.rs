//! Mail that waits for delivery: written in the transaction of its cause, delivered by the jobs, at most once a unique key.
//!
//! A mail with a one-time link holds [`LINK_PLACE`] in its bodies, and `sealed_link` says which kind of link belongs there. The link
//! itself is stored nowhere, so that no page, log or dump can show it: delivery makes one in the moment of sending
//! (`actions::people::link::make_for_mail`, which keeps only the hash of its token), puts it in place of [`LINK_PLACE`] in both
//! bodies, and forgets it. A mail that is tried again carries a new link; the earlier one stays good as well, and whichever is
//! taken first ends both. A link's time counts from `created_at` of the mail: when it is over before the mail could be sent, or
//! the person no longer waits for it, `make_for_mail` answers with nothing and the mail has failed for good.

use chrono::{NaiveDate, NaiveDateTime, TimeDelta};
use diesel::prelude::*;

use super::schema::{digest_days, outbox};
use super::tokens::LinkKind;
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::error::{Error, Result};
use crate::{coded, on_each};

/// Where a one-time link stands in a body until delivery.
pub const LINK_PLACE: &str = "{{link}}";

coded! {
    /// What a mail is.
    MailKind "kind of mail" {
        /// What is due, each morning.
        Digest = "digest",
        /// An invitation to sign in.
        Invite = "invite",
        /// A new password.
        Reset = "reset",
        /// Any other note.
        Note = "note",
    }
}

coded! {
    /// Where a mail stands.
    MailStatus "mail status" {
        /// Waits for its next try.
        Queued = "queued",
        /// A process is delivering it.
        Sending = "sending",
        /// The mail server took it.
        Sent = "sent",
        /// It will not be tried again.
        Failed = "failed",
    }
}

/// A mail to be delivered, to one recipient.
#[derive(Debug, Clone)]
pub struct NewMail {
    /// Kind, person and date or token; a second mail with the same key is not stored.
    pub unique_key: String,
    /// What it is.
    pub kind: MailKind,
    /// To whom, when it is a person of the office.
    pub person: Option<PersonId>,
    /// The recipient's local date of a digest.
    pub local_date: Option<NaiveDate>,
    /// The address.
    pub to_address: String,
    /// Subject line.
    pub subject: String,
    /// Complete in itself.
    pub text: String,
    /// The same in HTML.
    pub html: String,
    /// Ours, stable over retries.
    pub message_id: String,
    /// The kind of one-time link that delivery makes for [`LINK_PLACE`].
    pub sealed_link: Option<LinkKind>,
}

/// Stores a mail, and answers with its key, or `None` when there is one with the same unique key.
///
/// # Errors
/// When the database refuses.
pub fn enqueue(tx: &mut Tx<'_>, mail: &NewMail, now: NaiveDateTime) -> Result<Option<i64>> {
    let row = (
        outbox::unique_key.eq(&mail.unique_key),
        outbox::kind.eq(mail.kind.code()),
        outbox::person_id.eq(mail.person.map(|person| person.0)),
        outbox::local_date.eq(mail.local_date),
        outbox::to_address.eq(&mail.to_address),
        outbox::subject.eq(&mail.subject),
        outbox::text_body.eq(&mail.text),
        outbox::html_body.eq(&mail.html),
        outbox::message_id.eq(&mail.message_id),
        outbox::sealed_link.eq(mail.sealed_link.map(Coded::code)),
        outbox::status.eq(MailStatus::Queued.code()),
        outbox::attempts.eq(0_i64),
        outbox::next_try_at.eq(now),
        outbox::last_error.eq(""),
        outbox::created_at.eq(now),
    );
    let stored = on_each!(&mut **tx, inner => diesel::insert_into(outbox::table)
        .values(row)
        .on_conflict(outbox::unique_key)
        .do_nothing()
        .returning(outbox::id)
        .get_result(inner)
        .optional())?;
    Ok(stored)
}

/// A mail as the list and its page show it; the sealed link is not among it.
#[derive(Debug, Clone, Queryable)]
pub struct Mail {
    /// Key.
    pub id: i64,
    /// Code of [`MailKind`].
    pub kind: String,
    /// The address.
    pub to_address: String,
    /// Subject line.
    pub subject: String,
    /// Complete in itself.
    pub text: String,
    /// The same in HTML.
    pub html: String,
    /// Ours.
    pub message_id: String,
    /// Code of [`MailStatus`].
    pub status: String,
    /// Tries so far.
    pub attempts: i64,
    /// What the mail server said last.
    pub last_error: String,
    /// UTC.
    pub created_at: NaiveDateTime,
    /// UTC.
    pub sent_at: Option<NaiveDateTime>,
}

type Columns = (
    outbox::id,
    outbox::kind,
    outbox::to_address,
    outbox::subject,
    outbox::text_body,
    outbox::html_body,
    outbox::message_id,
    outbox::status,
    outbox::attempts,
    outbox::last_error,
    outbox::created_at,
    outbox::sent_at,
);

const COLUMNS: Columns = (
    outbox::id,
    outbox::kind,
    outbox::to_address,
    outbox::subject,
    outbox::text_body,
    outbox::html_body,
    outbox::message_id,
    outbox::status,
    outbox::attempts,
    outbox::last_error,
    outbox::created_at,
    outbox::sent_at,
);

/// The newest mails before `before`, at most `limit`.
///
/// # Errors
/// When the database does not answer.
pub fn list(conn: &mut AnyConnection, before: Option<i64>, limit: i64) -> Result<Vec<Mail>> {
    let mails = outbox::table
        .filter(outbox::id.lt(before.unwrap_or(i64::MAX)))
        .order(outbox::id.desc())
        .limit(limit)
        .select(COLUMNS)
        .load(conn)?;
    Ok(mails)
}

/// One mail.
///
/// # Errors
/// When there is none.
pub fn find(conn: &mut AnyConnection, id: i64) -> Result<Mail> {
    Ok(outbox::table.find(id).select(COLUMNS).first(conn)?)
}

/// A mail that this process alone may deliver until its lease ends.
#[derive(Debug, Clone)]
pub struct Claimed {
    /// The mail.
    pub mail: Mail,
    /// The kind of one-time link that it wants; delivery makes it.
    pub sealed_link: Option<LinkKind>,
    /// The recipient's local date of a digest, after which it is not sent.
    pub local_date: Option<NaiveDate>,
    /// Whose.
    pub person: Option<PersonId>,
}

/// How long a process may take to deliver one mail.
pub const LEASE: TimeDelta = TimeDelta::minutes(3);

/// Claims the mails whose turn it is, at most `limit`.
///
/// # Errors
/// When the database refuses.
pub fn claim(tx: &mut Tx<'_>, now: NaiveDateTime, limit: i64) -> Result<Vec<Claimed>> {
    let waiting = outbox::status.eq("queued").and(outbox::next_try_at.le(now));
    let abandoned = outbox::status.eq("sending").and(outbox::lease_until.lt(now));
    let ids: Vec<i64> = outbox::table
        .filter(waiting.or(abandoned))
        .order((outbox::next_try_at, outbox::id))
        .limit(limit)
        .select(outbox::id)
        .load(&mut **tx)?;
    diesel::update(outbox::table.filter(outbox::id.eq_any(&ids)))
        .set((
            outbox::status.eq("sending"),
            outbox::lease_until.eq(Some(now + LEASE)),
            outbox::attempts.eq(outbox::attempts + 1),
        ))
        .execute(&mut **tx)?;
    let rows: Vec<(Mail, Option<String>, Option<NaiveDate>, Option<i64>)> = outbox::table
        .filter(outbox::id.eq_any(&ids))
        .order(outbox::id)
        .select((
            COLUMNS,
            outbox::sealed_link,
            outbox::local_date,
            outbox::person_id,
        ))
        .load(&mut **tx)?;
    rows.into_iter()
        .map(|(mail, sealed_link, local_date, person)| {
            let sealed_link = sealed_link
                .map(|code| LinkKind::from_code(&code))
                .transpose()
                .map_err(Error::internal)?;
            Ok(Claimed {
                mail,
                sealed_link,
                local_date,
                person: person.map(PersonId),
            })
        })
        .collect()
}

/// How a delivery ended.
#[derive(Debug, Clone)]
pub enum Delivery {
    /// The mail server took it.
    Sent,
    /// It is tried again at an instant (UTC).
    Later(NaiveDateTime, String),
    /// It is not tried again.
    Failed(String),
}

/// Notes how a delivery ended, and that no link is wanted any more once none is.
///
/// # Errors
/// When the database refuses.
pub fn settle(tx: &mut Tx<'_>, id: i64, delivery: &Delivery, now: NaiveDateTime) -> Result<()> {
    let mail = outbox::table.find(id);
    let none = None::<String>;
    let no_lease = outbox::lease_until.eq(None::<NaiveDateTime>);
    match delivery {
        Delivery::Sent => diesel::update(mail)
            .set((
                outbox::status.eq("sent"),
                outbox::sent_at.eq(Some(now)),
                outbox::sealed_link.eq(none),
                outbox::last_error.eq(""),
                no_lease,
            ))
            .execute(&mut **tx)?,
        Delivery::Later(next, said) => diesel::update(mail)
            .set((
                outbox::status.eq("queued"),
                outbox::next_try_at.eq(next),
                outbox::last_error.eq(said),
                no_lease,
            ))
            .execute(&mut **tx)?,
        Delivery::Failed(said) => diesel::update(mail)
            .set((
                outbox::status.eq("failed"),
                outbox::sealed_link.eq(none),
                outbox::last_error.eq(said),
                no_lease,
            ))
            .execute(&mut **tx)?,
    };
    Ok(())
}

/// Whether a person was considered for a digest on a local date.
///
/// # Errors
/// When the database does not answer.
pub fn digest_was_considered(conn: &mut AnyConnection, person: PersonId, on: NaiveDate) -> Result<bool> {
    let found = digest_days::table
        .find((person.0, on))
        .select(digest_days::person_id)
        .first::<i64>(conn);
    Ok(found.optional()?.is_some())
}

/// Notes that a person was considered for a digest on a local date, with the mail if there was one.
///
/// # Errors
/// When the database refuses, also when it was noted before.
pub fn note_digest(tx: &mut Tx<'_>, person: PersonId, on: NaiveDate, mail: Option<i64>) -> Result<()> {
    diesel::insert_into(digest_days::table)
        .values((
            digest_days::person_id.eq(person.0),
            digest_days::local_date.eq(on),
            digest_days::outbox_id.eq(mail),
        ))
        .execute(&mut **tx)?;
    Ok(())
}
