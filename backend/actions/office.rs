//! The office's own values by name, for the command line: the numbers to call, the times to correct, the prices. Each is set by the
//! action that its page uses, with the same checks.

use crate::actions::contacts;
use crate::actions::deficiencies::times::{self, Times};
use crate::actions::water::office as prices;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::person::Actor;
use crate::domain::trade::Escalation;
use crate::domain::trade::urgent::Contact;
use crate::error::{Error, Result};
use crate::store::{AnyConnection, Db};

/// A value of the office.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Value {
    /// Its name, such as `urgent.plumber`.
    pub name: String,
    /// What it is.
    pub help: String,
    /// What holds now; empty when nothing was set.
    pub value: String,
}

/// Every value of the office with what holds now.
///
/// # Errors
/// When the database does not answer.
pub fn values(conn: &mut AnyConnection) -> Result<Vec<Value>> {
    let mut all = Vec::new();
    for (contact, number) in contacts::numbers(conn)? {
        all.push(Value {
            name: contacts::key(contact),
            help: format!("{}, a telephone number", contact.name()),
            value: number,
        });
    }
    let chosen = times::chosen(conn)?;
    let programmes: Vec<_> = times::programmes()?.iter().map(|one| one.code.as_str()).collect();
    all.push(Value {
        name: times::PROGRAMME.to_owned(),
        help: format!("Programme of the times to correct: {}", programmes.join(", ")),
        value: chosen.programme,
    });
    let grades: Vec<_> = Escalation::ALL.iter().map(|one| one.code()).collect();
    all.push(Value {
        name: times::ESCALATION.to_owned(),
        help: format!(
            "What the second time within twelve months does: {}",
            grades.join(", ")
        ),
        value: chosen.escalation.to_string(),
    });
    for (severity, own) in chosen.own {
        all.push(Value {
            name: times::key(severity),
            help: format!(
                "Own time for {}: 24 h, 30 d or none",
                severity.name().to_lowercase()
            ),
            value: own,
        });
    }
    let kept = prices::prices(conn)?;
    for (name, label, hint) in prices::PRICES {
        let minor = match name {
            "hour" => kept.hour_minor,
            "entry" => kept.entry_minor,
            _ => kept.failure_minor,
        };
        all.push(Value {
            name: prices::key(name),
            help: format!("{label}. {hint}"),
            value: minor.map(crate::domain::result::money::text).unwrap_or_default(),
        });
    }
    Ok(all)
}

/// Sets one value.
///
/// # Errors
/// A sentence when there is no such name, or the value can't be used.
pub fn set(db: &Db, actor: &Actor, now: Now, name: &str, value: &str) -> Result<()> {
    if let Some(contact) = Contact::ALL.iter().find(|one| contacts::key(**one) == name) {
        return contacts::set(db, actor, now, &[(*contact, value.to_owned())]);
    }
    if let Some((price, ..)) = prices::PRICES.iter().find(|(one, ..)| prices::key(one) == name) {
        return prices::set_prices(db, actor, now, &[(price, value.to_owned())]);
    }
    let chosen = db.read(times::chosen)?;
    times::choose(db, actor, now, &changed(chosen, name, value)?)
}

fn changed(mut times: Times, name: &str, value: &str) -> Result<Times> {
    if name == times::PROGRAMME {
        value.trim().clone_into(&mut times.programme);
    } else if name == times::ESCALATION {
        times.escalation = Escalation::from_code(value.trim()).map_err(|_unknown| {
            let known: Vec<_> = Escalation::ALL.iter().map(|one| one.code()).collect();
            Error::refused(format!(
                "“{value}” can't be used. Choose one of {}.",
                known.join(", ")
            ))
        })?;
    } else {
        let own = times
            .own
            .iter_mut()
            .find(|(severity, _)| times::key(*severity) == name);
        let (_, own) = own.ok_or_else(|| unknown(name))?;
        value.clone_into(own);
    }
    Ok(times)
}

fn unknown(name: &str) -> Error {
    Error::refused(format!(
        "The office has no value “{name}”. anglestop config show lists their names."
    ))
}
