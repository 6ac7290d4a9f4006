//! Writes the digests whose hour has come: the person's local day and hour decide, one mail a local day, none when nothing is due.

use chrono::{Days, NaiveDate, Timelike};
use chrono_tz::Tz;

use super::deficiencies::Titles;
use crate::clock::Now;
use crate::domain::digest::{Digest, OpenDeficiency, WEEK_DAYS};
use crate::domain::register::person::Role;
use crate::domain::register::{DeficiencyId, PersonId};
use crate::error::Result;
use crate::language::Language;
use crate::mail::compose::{self, Letter};
use crate::store::lists::digest::{self as list, Recipient};
use crate::store::lists::past_digest::PastDay;
use crate::store::outbox::{self, MailKind, NewMail};
use crate::store::{AnyConnection, Db, assignments, deficiencies};

/// A digest that was written for somebody.
#[derive(Debug, Clone)]
pub struct Written {
    /// To whom.
    pub recipient: Recipient,
    /// The person's local date.
    pub date: NaiveDate,
    /// Its words, or nothing when nothing is due.
    pub letter: Option<Letter>,
}

/// What each technician would be told on a local date, or on the one that is today where they are; changes nothing. Of another day than
/// today results, deficiencies and turnovers are taken as they stood then; schedules, checks and who looks after what as they are now.
///
/// # Errors
/// When the database does not answer.
pub fn preview(db: &Db, now: Now, date: Option<NaiveDate>, public_url: &str) -> Result<Vec<Written>> {
    db.read(|conn| {
        let recipients = list::recipients(conn)?;
        let asked = date.map(|date| PastDay::new(conn, date)).transpose()?;
        recipients
            .into_iter()
            .map(|recipient| {
                let today = now.date_in(zone_of(&recipient));
                let date = date.unwrap_or(today);
                let other = asked.as_ref().filter(|_| date != today);
                write_for(conn, recipient, (date, other), public_url)
            })
            .collect()
    })
}

/// Puts into the outbox the digests of everybody whose local hour has passed today and who was not considered yet. Answers how
/// many mails there are.
///
/// # Errors
/// When the database does not answer; those written before stay.
pub fn enqueue_due(db: &Db, now: Now, public_url: &str) -> Result<usize> {
    let waiting = db.read(|conn| {
        let mut waiting = Vec::new();
        for recipient in list::recipients(conn)? {
            let local = now.0.and_utc().with_timezone(&zone_of(&recipient));
            let date = local.date_naive();
            let hour_has_come = i64::from(local.hour()) >= recipient.digest_hour;
            if hour_has_come && !outbox::digest_was_considered(conn, PersonId(recipient.id), date)? {
                waiting.push(write_for(conn, recipient, (date, None), public_url)?);
            }
        }
        Ok(waiting)
    })?;
    let mut mails = 0;
    for written in waiting {
        mails += usize::from(enqueue(db, now, &written, public_url)?);
    }
    Ok(mails)
}

/// Puts one digest into the outbox and notes that its person was considered on its date; whether there is a mail.
///
/// # Errors
/// When the database refuses.
pub fn enqueue(db: &Db, now: Now, written: &Written, public_url: &str) -> Result<bool> {
    let person = PersonId(written.recipient.id);
    let unique_key = format!("digest:{person}:{}", written.date);
    let mail = written.letter.as_ref().map(|letter| NewMail {
        message_id: compose::message_id(&unique_key, public_url),
        unique_key,
        kind: MailKind::Digest,
        person: Some(person),
        local_date: Some(written.date),
        to_address: written.recipient.email.clone(),
        subject: letter.subject.clone(),
        text: letter.text.clone(),
        html: letter.html.clone(),
        sealed_link: None,
    });
    db.write(|tx| {
        if outbox::digest_was_considered(tx, person, written.date)? {
            return Ok(false);
        }
        let stored = match &mail {
            Some(mail) => outbox::enqueue(tx, mail, now.0)?,
            None => None,
        };
        outbox::note_digest(tx, person, written.date, stored)?;
        Ok(stored.is_some())
    })
}

fn zone_of(recipient: &Recipient) -> Tz {
    recipient.time_zone.parse().unwrap_or(Tz::UTC)
}

/// Deficiencies by their titles in a language.
fn read_in(
    conn: &mut AnyConnection,
    language: Language,
    mut open: Vec<OpenDeficiency>,
) -> Result<Vec<OpenDeficiency>> {
    if language == Language::ENGLISH {
        return Ok(open);
    }
    let titles = Titles::load(conn, language)?;
    let ids: Vec<DeficiencyId> = open.iter().map(|one| DeficiencyId(one.number)).collect();
    let checks = deficiencies::checks_of(conn, &ids)?;
    for one in &mut open {
        let check = checks.get(&DeficiencyId(one.number)).copied();
        one.title = titles.read(check, &one.title);
    }
    Ok(open)
}

fn write_for(
    conn: &mut AnyConnection,
    recipient: Recipient,
    (date, other): (NaiveDate, Option<&PastDay>),
    public_url: &str,
) -> Result<Written> {
    let person = PersonId(recipient.id);
    let until = date.checked_add_days(Days::new(WEEK_DAYS - 1)).unwrap_or(date);
    let scope = assignments::scope_of(conn, person, Role::Technician)?;
    let language = Language::of(&recipient.language);
    let (due, turnovers, open) = match other {
        None => (
            list::due_checks(conn, person, &scope, until)?,
            list::open_turnovers(conn, person, &scope)?,
            list::open_deficiencies(conn, person, &scope)?,
        ),
        Some(day) => (
            day.due_checks(conn, person, &scope, until)?,
            day.open_turnovers(conn, person, &scope)?,
            day.open_deficiencies(conn, person, &scope)?,
        ),
    };
    let digest = Digest::of(date, due, turnovers, read_in(conn, language, open)?);
    let letter = digest
        .map(|digest| compose::digest::write(&digest, &recipient.name, language, public_url))
        .transpose()?;
    Ok(Written {
        recipient,
        date,
        letter,
    })
}
