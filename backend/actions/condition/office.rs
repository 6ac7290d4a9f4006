//! The figures that an office puts in place of the built-in ones: lives, prices, bands of the index, the month a budget year begins in.

use chrono::{Datelike, NaiveDate};

use crate::clock::Now;
use crate::domain::condition::index::Bands;
use crate::domain::register::person::{Actor, Role};
use crate::domain::result::money;
use crate::domain::trade::Source;
use crate::domain::trade::life::{Item, Lives};
use crate::error::{Error, FieldError, Result};
use crate::exchange::catalogue;
use crate::store::{AnyConnection, Db, audit, settings};

const BANDS: &str = "index.bands_per_mille";
const MONTH: &str = "budget.first_month";

fn key(item: Item, what: &str) -> String {
    format!("life.{item}.{what}")
}

/// The figures that hold.
#[derive(Debug, Clone)]
pub struct Figures {
    /// Lives and prices, the office's own in place of the built-in ones.
    pub lives: Lives,
    /// Bands of the facility condition index.
    pub bands: Bands,
    /// The month in which a budget year begins, 1 to 12.
    pub budget_month: u32,
}

impl Figures {
    /// The budget year that begins next after a day: its first and its last day.
    #[must_use]
    pub fn next_budget_year(&self, day: NaiveDate) -> (NaiveDate, NaiveDate) {
        let begins = |year: i32| NaiveDate::from_ymd_opt(year, self.budget_month, 1).unwrap_or(day);
        let this_year = begins(day.year());
        let from = if this_year > day {
            this_year
        } else {
            begins(day.year() + 1)
        };
        let next = begins(from.year() + 1);
        (from, next.pred_opt().unwrap_or(next))
    }
}

/// The figures that hold now.
///
/// # Errors
/// When the database does not answer.
pub fn figures(conn: &mut AnyConnection) -> Result<Figures> {
    let built_in = catalogue::years().map_err(Error::internal)?;
    let mut lives = built_in.lives.clone();
    let own = Source {
        standing: crate::domain::trade::Standing::Computed,
        citation: "the office's own figure".to_owned(),
    };
    for (key, value) in settings::beginning(conn, "life.")? {
        let mut words = key.split('.').skip(1);
        let (Some(code), Some(what)) = (words.next(), words.next()) else {
            continue;
        };
        let life = Item::from_code(code)
            .ok()
            .and_then(|item| lives.of.get_mut(&item));
        let Some(life) = life else { continue };
        match (what, value.parse::<f64>(), value.parse::<i64>()) {
            ("years", Ok(years), _) => {
                life.mean_years = years;
                life.life_source = own.clone();
            }
            ("cost_minor", _, Ok(minor)) => {
                life.replacement_minor = minor;
                life.cost_source = own.clone();
            }
            _ => {}
        }
    }
    let bands = settings::get(conn, BANDS)?.and_then(|text| {
        let parts: Vec<i64> = text.split(' ').filter_map(|part| part.parse().ok()).collect();
        let [good, fair, poor] = parts.as_slice() else {
            return None;
        };
        Bands::new(*good, *fair, *poor).ok()
    });
    let month = settings::get(conn, MONTH)?.and_then(|text| text.parse::<u32>().ok());
    Ok(Figures {
        lives,
        bands: bands.unwrap_or(built_in.bands.0),
        budget_month: month.filter(|month| (1..=12).contains(month)).unwrap_or(1),
    })
}

/// A life and a price as typed; an empty one stays what it is.
#[derive(Debug, Clone, Default)]
pub struct Typed {
    /// Whether what is empty takes the built-in figure again.
    pub built_in: bool,
    /// Code of the kind.
    pub item: String,
    /// Mean life, years.
    pub years: String,
    /// Price of a new one with labour.
    pub cost: String,
}

/// Bands and budget year as typed; an empty one takes the built-in figure again.
#[derive(Debug, Clone, Default)]
pub struct TypedBands {
    /// Up to where it is good, per cent.
    pub good: String,
    /// Up to where it is fair, per cent.
    pub fair: String,
    /// Up to where it is poor, per cent.
    pub poor: String,
    /// First month of the budget year, 1 to 12.
    pub month: String,
}

fn only_managers(actor: &Actor) -> Result<()> {
    if actor.role == Role::Manager {
        Ok(())
    } else {
        Err(Error::Forbidden(
            "Lives and prices are set by a manager.".to_owned(),
        ))
    }
}

/// Changes the life and the price of a kind.
///
/// # Errors
/// A sentence for each field that can't be used; [`Error::Forbidden`] for anybody but a manager.
pub fn change(db: &Db, actor: &Actor, now: Now, typed: &Typed) -> Result<Item> {
    only_managers(actor)?;
    let mut errors = Vec::new();
    let built_in = &catalogue::years().map_err(Error::internal)?.lives;
    let item = Item::from_code(typed.item.trim())
        .ok()
        .filter(|item| built_in.of.contains_key(item));
    if item.is_none() {
        errors.push(FieldError::new(
            "item",
            "Choose the kind whose life or price you change.",
        ));
    }
    let years = typed.years.trim();
    if !years.is_empty()
        && !years
            .parse::<f64>()
            .is_ok_and(|years| (0.5..=200.0).contains(&years))
    {
        errors.push(FieldError::new(
            "years",
            format!("“{years}” is no life. Give years from 0.5 to 200, such as 12.5, or nothing."),
        ));
    }
    let cost = match typed.cost.trim() {
        "" => String::new(),
        text => match money::parse(text) {
            Ok(0) => {
                errors.push(FieldError::new(
                    "cost",
                    "A new one costs more than 0. Give its price.",
                ));
                String::new()
            }
            Ok(minor) => minor.to_string(),
            Err(sentence) => {
                errors.push(FieldError::new("cost", sentence));
                String::new()
            }
        },
    };
    let Some(item) = item.filter(|_| errors.is_empty()) else {
        return Err(Error::Fields(errors));
    };
    let values = [
        (key(item, "years"), years.to_owned()),
        (key(item, "cost_minor"), cost),
    ];
    let values: Vec<_> = values
        .into_iter()
        .filter(|(_, value)| typed.built_in || !value.is_empty())
        .collect();
    if values.is_empty() {
        return Err(Error::field(
            "years",
            "Nothing is given. Give a life or a price, or tick that the built-in figures hold again.",
        ));
    }
    keep(db, actor, now, "change_life", &values)?;
    Ok(item)
}

/// Changes the bands of the index and the budget year.
///
/// # Errors
/// As [`change`].
pub fn change_bands(db: &Db, actor: &Actor, now: Now, typed: &TypedBands) -> Result<()> {
    only_managers(actor)?;
    let mut errors = Vec::new();
    let texts = [&typed.good, &typed.fair, &typed.poor].map(|text| text.trim());
    let mut bands = String::new();
    if texts.iter().any(|text| !text.is_empty()) {
        let read: Vec<i64> = texts.iter().filter_map(|text| per_mille(text)).collect();
        match read.as_slice() {
            [good, fair, poor] => match Bands::new(*good, *fair, *poor) {
                Ok(_) => bands = format!("{good} {fair} {poor}"),
                Err(sentence) => errors.push(FieldError::new("good", sentence)),
            },
            _ => errors.push(FieldError::new(
                "good",
                "Give all three bands as percentages with at most one decimal, such as 5, 10 and 30; or none.",
            )),
        }
    }
    let month = typed.month.trim();
    if !month.is_empty() && !month.parse::<u32>().is_ok_and(|month| (1..=12).contains(&month)) {
        errors.push(FieldError::new(
            "month",
            format!("“{month}” is no month. Give 1 to 12, or nothing for January."),
        ));
    }
    if !errors.is_empty() {
        return Err(Error::Fields(errors));
    }
    let values = [(BANDS.to_owned(), bands), (MONTH.to_owned(), month.to_owned())];
    keep(db, actor, now, "change_bands", &values)
}

/// A percentage with at most one decimal, as parts of 1,000.
fn per_mille(text: &str) -> Option<i64> {
    let (whole, tenth) = text.split_once('.').unwrap_or((text, "0"));
    let figures = format!("{whole}{tenth}");
    let is_plain = tenth.len() == 1 && !whole.is_empty() && figures.chars().all(|c| c.is_ascii_digit());
    is_plain.then(|| figures.parse().ok()).flatten()
}

fn keep(db: &Db, actor: &Actor, now: Now, action: &'static str, values: &[(String, String)]) -> Result<()> {
    db.write(|tx| {
        let mut before = serde_json::Map::new();
        let mut after = serde_json::Map::new();
        for (key, value) in values {
            let known = settings::get(tx, key)?.unwrap_or_default();
            before.insert(key.clone(), known.into());
            after.insert(key.clone(), value.clone().into());
            settings::set(tx, key, value)?;
        }
        let subject = audit::Subject {
            kind: "settings",
            id: 0,
        };
        audit::note(tx, actor, now, action, subject, &before, &after)
    })
}
