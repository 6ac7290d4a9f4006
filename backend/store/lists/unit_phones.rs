//! The phones that fetched units, as they were heard last, for the list of turnovers.

use std::collections::HashMap;

use chrono::NaiveDateTime;
use diesel::prelude::*;

use crate::domain::register::UnitId;
use crate::domain::turnover::Turnover;
use crate::domain::turnover::phones::{Heard, silent};
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::among::among;
use crate::store::schema::{people, phone_units};

/// A phone, by who fetched the unit on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnitPhone {
    /// Who.
    pub person: String,
    /// What it last said.
    pub heard: Heard,
}

type Row = (i64, String, NaiveDateTime, NaiveDateTime, i64, i64);

/// The phones of each of these units, the one heard last first.
///
/// # Errors
/// When the database does not answer. The caller may see the units.
pub fn of_units(conn: &mut AnyConnection, units: &[UnitId]) -> Result<HashMap<UnitId, Vec<UnitPhone>>> {
    let mut found: HashMap<UnitId, Vec<UnitPhone>> = HashMap::new();
    for chunk in units.chunks(500) {
        let keys: Vec<i64> = chunk.iter().map(|unit| unit.0).collect();
        let rows: Vec<Row> = phone_units::table
            .inner_join(people::table)
            .filter(among(conn, "phone_units.unit_id", &keys))
            .order((
                phone_units::unit_id,
                phone_units::heard_at.desc(),
                phone_units::phone_id,
            ))
            .select((
                phone_units::unit_id,
                people::name,
                phone_units::fetched_at,
                phone_units::heard_at,
                phone_units::unsent_answers,
                phone_units::unsent_photos,
            ))
            .load(conn)?;
        for (unit, person, fetched_at, heard_at, answers, photos) in rows {
            found.entry(UnitId(unit)).or_default().push(UnitPhone {
                person,
                heard: Heard {
                    fetched_at,
                    heard_at,
                    unsent_answers: usize::try_from(answers).unwrap_or_default(),
                    unsent_photos: usize::try_from(photos).unwrap_or_default(),
                },
            });
        }
    }
    Ok(found)
}

/// The phones that are worth a word in a turnover, each with whether it was silent for too long.
#[must_use]
pub fn of_note<'a>(
    phones: &'a [UnitPhone],
    turnover: &Turnover,
    now: NaiveDateTime,
) -> Vec<(&'a UnitPhone, bool)> {
    let of_note: Vec<&UnitPhone> = phones
        .iter()
        .filter(|phone| phone.heard.matters(turnover))
        .collect();
    let heard: Vec<Heard> = of_note.iter().map(|phone| phone.heard).collect();
    of_note.into_iter().zip(silent(&heard, now)).collect()
}
