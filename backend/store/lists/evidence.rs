//! What was measured and what failed at a place, for drawings and their histories. Reads rows; what they mean is decided elsewhere.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use crate::domain::code::Coded as _;
use crate::domain::register::{ResultId, TagId};
use crate::domain::result::Outcome;
use crate::domain::trade::PartKind;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::coded::{read_code, read_part};
use crate::store::schema::{checks, people, results};

/// The most rows of a history.
const MOST: i64 = 200;

/// A result at a place.
#[derive(Debug, Clone)]
pub struct EvidenceLine {
    /// Key.
    pub id: ResultId,
    /// UTC.
    pub done_at: NaiveDateTime,
    /// Local date.
    pub done_on: NaiveDate,
    /// Who saw it; none for an import or the command line.
    pub who: Option<String>,
    /// Code of the check.
    pub check: String,
    /// The check in a few words.
    pub title: String,
    /// Of which part.
    pub part: Option<PartKind>,
    /// How it came out.
    pub outcome: Outcome,
    /// Why it failed.
    pub reason: String,
    /// As typed.
    pub reading: String,
    /// JSON of what was measured; empty when nothing was.
    pub detail: String,
}

type Row = (
    i64,
    NaiveDateTime,
    NaiveDate,
    Option<String>,
    String,
    String,
    String,
    String,
    String,
    String,
    String,
);

macro_rules! lines {
    ($conn:expr, $filter:expr) => {{
        let rows: Vec<Row> = results::table
            .inner_join(checks::table.on(checks::id.eq(results::check_id)))
            .left_join(people::table.on(people::id.nullable().eq(results::person_id)))
            .filter($filter)
            .order((results::done_at.desc(), results::id.desc()))
            .limit(MOST)
            .select((
                results::id,
                results::done_at,
                results::done_on,
                people::name.nullable(),
                checks::code,
                checks::title,
                results::part,
                results::outcome,
                results::reason,
                results::reading,
                results::detail,
            ))
            .load($conn)?;
        rows.into_iter().map(read).collect()
    }};
}

fn read(
    (id, done_at, done_on, who, check, title, part, outcome, reason, reading, detail): Row,
) -> Result<EvidenceLine> {
    Ok(EvidenceLine {
        id: ResultId(id),
        done_at,
        done_on,
        who,
        check,
        title,
        part: read_part(&part)?,
        outcome: read_code(&outcome)?,
        reason,
        reading,
        detail,
    })
}

/// The answers to these checks at a place that the caller may see, the latest first; at most 200.
///
/// # Errors
/// When the database does not answer.
pub fn answers_at(conn: &mut AnyConnection, tag: TagId, codes: &[&str]) -> Result<Vec<EvidenceLine>> {
    lines!(
        conn,
        results::tag_id
            .eq(tag.0)
            .and(results::outcome.ne(Outcome::NotChecked.code()))
            .and(checks::code.eq_any(codes.to_vec()))
    )
}

/// Everything that failed at a place that the caller may see, the latest first; at most 200.
///
/// # Errors
/// When the database does not answer.
pub fn failures_at(conn: &mut AnyConnection, tag: TagId) -> Result<Vec<EvidenceLine>> {
    lines!(
        conn,
        results::tag_id
            .eq(tag.0)
            .and(results::outcome.eq(Outcome::Fail.code()))
    )
}
