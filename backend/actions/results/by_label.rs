//! Finds what an answer is about by the labels people use: building, unit, place. For files and the command line.

use std::collections::HashMap;

use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::FixtureId;
use crate::domain::register::person::Scope;
use crate::domain::result::Outcome;
use crate::domain::result::done_at;
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::exchange::csv::answers::AnswerRow;
use crate::store::{AnyConnection, buildings, fixtures, tags, units};
use uuid::Uuid;

use super::Answer;

/// The namespace of ids that are made from a row: a UUID of our own.
const ROWS: Uuid = Uuid::from_u128(0x5d0b_6a3e_41f7_4c52_9e0d_7a1c_8b24_f36d);

/// Places that were found before: most rows of a file are about few units.
#[derive(Default)]
pub struct Found {
    buildings: HashMap<String, crate::domain::register::Building>,
    places: HashMap<(String, String, String), FixtureId>,
}

impl Found {
    /// The answer that a row gives.
    ///
    /// # Errors
    /// [`Error::Refused`] with a sentence that names the building, unit, place or cell that can't be used.
    pub fn answer(
        &mut self,
        conn: &mut AnyConnection,
        scope: &Scope,
        now: Now,
        row: &AnswerRow,
    ) -> Result<Answer> {
        let fixture = self.fixture(conn, scope, row)?;
        let zone = self.building(conn, scope, &row.building)?.facts.time_zone;
        let part = match row.part.as_str() {
            "" => None,
            code => Some(PartKind::from_code(code).map_err(Error::refused)?),
        };
        let outcome = match row.outcome.as_str() {
            "" => None,
            code => Some(Outcome::from_code(code).map_err(Error::refused)?),
        };
        let done_at = match row.done_at.as_str() {
            "" => None,
            text => Some(done_at::read(text, zone, now.0).map_err(Error::refused)?),
        };
        let client_id = match row.id.as_str() {
            "" if done_at.is_some() => id_of(row),
            "" => Uuid::new_v4(),
            text => text.parse().map_err(|_no_uuid| {
                Error::refused(format!(
                    "“{text}” is no UUID. Write one such as {}, or leave the id out.",
                    Uuid::from_u128(0x0193_f2a4_7c1e_7a55_9c0a_2f3b_5d6e_7f80)
                ))
            })?,
        };
        // An export tells why a check failed; here only a check that was not done needs a reason.
        let reason = if outcome == Some(Outcome::NotChecked) {
            row.reason.clone()
        } else {
            String::new()
        };
        Ok(Answer {
            client_id,
            fixture,
            part,
            check: row.check.clone(),
            outcome,
            reading: row.reading.clone(),
            reason,
            note: row.note.clone(),
            done_at,
        })
    }

    fn building(
        &mut self,
        conn: &mut AnyConnection,
        scope: &Scope,
        code: &str,
    ) -> Result<&crate::domain::register::Building> {
        let code = code.trim().to_uppercase();
        if !self.buildings.contains_key(&code) {
            let found = buildings::by_code(conn, scope, &code).map_err(|error| match error {
                Error::NotFound(_) => {
                    Error::refused(format!("There is no building “{code}” here. Check its code."))
                }
                other => other,
            })?;
            self.buildings.insert(code.clone(), found);
        }
        self.buildings
            .get(&code)
            .ok_or_else(|| Error::not_found("such building"))
    }

    fn fixture(&mut self, conn: &mut AnyConnection, scope: &Scope, row: &AnswerRow) -> Result<FixtureId> {
        let key = (
            row.building.to_uppercase(),
            row.unit.clone(),
            row.tag.to_uppercase(),
        );
        if let Some(found) = self.places.get(&key) {
            return Ok(*found);
        }
        let building = self.building(conn, scope, &row.building)?.id;
        let (code, unit_label, tag_label) = &key;
        let unit = units::by_label(conn, building, unit_label)?.ok_or_else(|| {
            Error::refused(format!(
                "There is no unit “{unit_label}” in {code}. Check its label."
            ))
        })?;
        let tag = tags::by_label(conn, unit.id, tag_label)?.ok_or_else(|| {
            Error::refused(format!(
                "There is no place “{tag_label}” in unit {unit_label} of {code}. Check its label."
            ))
        })?;
        let fixture = fixtures::in_service_at(conn, tag.id)?.ok_or_else(|| {
            Error::refused(format!(
                "Nothing is in service at {tag_label} in unit {unit_label} of {code}, so nothing is recorded there."
            ))
        })?;
        self.places.insert(key, fixture.id);
        Ok(fixture.id)
    }
}

/// An id made from what a row says, so that the same row twice is the same answer.
fn id_of(row: &AnswerRow) -> Uuid {
    let cells = [
        &row.building,
        &row.unit,
        &row.tag,
        &row.part,
        &row.check,
        &row.outcome,
        &row.reading,
        &row.reason,
        &row.note,
        &row.done_at,
    ];
    let said = cells.map(String::as_str).join("\u{1f}");
    Uuid::new_v5(&ROWS, said.as_bytes())
}
