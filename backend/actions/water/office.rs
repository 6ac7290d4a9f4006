//! The office's own prices behind a choice: an hour of work, an entry, a failure that comes before. Minor units; none until somebody sets
//! them, since nobody else can know.

use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::result::money;
use crate::error::{Error, FieldError, Result};
use crate::store::{AnyConnection, Db, audit, settings};

/// The prices, by name and label.
pub const PRICES: [(&str, &str, &str); 3] = [
    (
        "hour",
        "An hour of work",
        "With its overhead, as 65.00; a repair without a cost is reckoned from its minutes",
    ),
    (
        "entry",
        "An entry",
        "The way, the notice, the household's time, as 25.00",
    ),
    (
        "failure",
        "A failure that comes before",
        "Damage and emergency call, as 5,584.00: the mean of 1,304 claims after water closets (IBHS study)",
    ),
];

/// The name under which a price is kept.
pub(in crate::actions) fn key(name: &str) -> String {
    format!("price.{name}")
}

/// The prices of the office.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Prices {
    /// An hour of work, minor units.
    pub hour_minor: Option<i64>,
    /// An entry, minor units.
    pub entry_minor: Option<i64>,
    /// A failure that comes before, minor units.
    pub failure_minor: Option<i64>,
}

/// The prices that hold now.
///
/// # Errors
/// When the database does not answer.
pub fn prices(conn: &mut AnyConnection) -> Result<Prices> {
    let mut price = |name: &str| -> Result<Option<i64>> {
        let kept = settings::get(conn, &key(name))?.unwrap_or_default();
        Ok(kept.parse().ok())
    };
    Ok(Prices {
        hour_minor: price("hour")?,
        entry_minor: price("entry")?,
        failure_minor: price("failure")?,
    })
}

/// Sets the prices; an empty text takes one away.
///
/// # Errors
/// A sentence for each amount that can't be read; [`Error::Forbidden`] for anybody but a manager.
pub fn set_prices(db: &Db, actor: &Actor, now: Now, typed: &[(&str, String)]) -> Result<()> {
    rights::manager(actor, "set the office's prices")?;
    let mut errors = Vec::new();
    let mut values = Vec::new();
    for (name, text) in typed {
        match text.trim() {
            "" => values.push((*name, String::new())),
            text => match money::parse(text) {
                Ok(minor) => values.push((*name, minor.to_string())),
                Err(sentence) => errors.push(FieldError::new(*name, sentence)),
            },
        }
    }
    if !errors.is_empty() {
        return Err(Error::Fields(errors));
    }
    db.write(|tx| {
        for (name, value) in &values {
            settings::set(tx, &key(name), value)?;
        }
        let subject = audit::Subject {
            kind: "settings",
            id: 0,
        };
        let after: serde_json::Map<_, _> = values
            .iter()
            .map(|(name, value)| ((*name).to_owned(), value.clone().into()))
            .collect();
        audit::note(tx, actor, now, "set_prices", subject, &(), &after)
    })
}
