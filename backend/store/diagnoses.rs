//! What was found behind symptoms. Append-only.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::schema::{diagnoses, people};
use super::{AnyConnection, Tx};
use crate::domain::register::{DeficiencyId, TagId};
use crate::domain::result::Diagnosis;
use crate::error::{Error, Result};

/// Appends a diagnosis.
///
/// # Errors
/// When the database refuses.
pub fn append(tx: &mut Tx<'_>, one: &Diagnosis) -> Result<()> {
    let said = serde_json::to_string(&one.said).map_err(Error::internal)?;
    diesel::insert_into(diagnoses::table)
        .values((
            diagnoses::building_id.eq(one.building.0),
            diagnoses::unit_id.eq(one.unit.0),
            diagnoses::tag_id.eq(one.tag.0),
            diagnoses::fixture_id.eq(one.fixture.0),
            diagnoses::deficiency_id.eq(one.deficiency.map(|id| id.0)),
            diagnoses::symptom.eq(&one.symptom),
            diagnoses::said.eq(said),
            diagnoses::cause.eq(&one.cause),
            diagnoses::found.eq(&one.found),
            diagnoses::note.eq(&one.note),
            diagnoses::found_at.eq(one.found_at),
            diagnoses::person_id.eq(one.person.map(|person| person.0)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// A diagnosis as a row of a history.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// UTC.
    pub found_at: NaiveDateTime,
    /// Who found it; none for the command line.
    pub who: Option<String>,
    /// Questions and answers in words; the first is the symptom.
    pub said: Vec<(String, String)>,
    /// Code of the cause.
    pub cause: String,
    /// The cause in words.
    pub found: String,
    /// Free text.
    pub note: String,
    /// The deficiency that it explains.
    pub deficiency: Option<DeficiencyId>,
}

type Row = (
    NaiveDateTime,
    Option<String>,
    String,
    String,
    String,
    String,
    Option<i64>,
);

fn read((found_at, who, said, cause, found, note, deficiency): Row) -> Result<Line> {
    Ok(Line {
        found_at,
        who,
        said: serde_json::from_str(&said).map_err(Error::internal)?,
        cause,
        found,
        note,
        deficiency: deficiency.map(DeficiencyId),
    })
}

macro_rules! lines {
    ($conn:expr, $filter:expr) => {{
        let rows: Vec<Row> = diagnoses::table
            .left_join(people::table)
            .filter($filter)
            .order((diagnoses::found_at.desc(), diagnoses::id.desc()))
            .limit(20)
            .select((
                diagnoses::found_at,
                people::name.nullable(),
                diagnoses::said,
                diagnoses::cause,
                diagnoses::found,
                diagnoses::note,
                diagnoses::deficiency_id,
            ))
            .load($conn)?;
        rows.into_iter().map(read).collect()
    }};
}

/// The last 20 diagnoses at a place that the caller may see, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn at_tag(conn: &mut AnyConnection, tag: TagId) -> Result<Vec<Line>> {
    lines!(conn, diagnoses::tag_id.eq(tag.0))
}

/// The last 20 diagnoses that explain a deficiency that the caller may see, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn of_deficiency(conn: &mut AnyConnection, deficiency: DeficiencyId) -> Result<Vec<Line>> {
    lines!(conn, diagnoses::deficiency_id.eq(Some(deficiency.0)))
}
