//! The history of a place or unit as a page shows it: results at a tag, deficiencies at a tag or in a unit.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use crate::domain::code::Coded as _;
use crate::domain::measure::Unit;
use crate::domain::register::{CheckId, DeficiencyId, FixtureId, ResultId, TagId, UnitId};
use crate::domain::result::{ClosedHow, DeficiencyStatus, Outcome};
use crate::domain::trade::{Answer, PartKind, Severity};
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::checks::parsed;
use crate::store::coded::{read_code, read_part};
use crate::store::schema::{check_versions, checks, deficiencies, people, results, tags};

/// One result, as a row of the place's history.
#[derive(Debug, Clone)]
pub struct ResultLine {
    /// Key.
    pub id: ResultId,
    /// UTC.
    pub done_at: NaiveDateTime,
    /// Local date on which it was done.
    pub done_on: NaiveDate,
    /// Who saw it; none for an import or the command line.
    pub who: Option<String>,
    /// Code of the check.
    pub check: String,
    /// The check in a few words.
    pub title: String,
    /// Of which part, none for the fixture itself.
    pub part: Option<PartKind>,
    /// How it came out.
    pub outcome: Outcome,
    /// Why it failed or was not checked.
    pub reason: String,
    /// As typed, empty when the answer is a verdict.
    pub reading: String,
    /// The unit that a bare number had then; none when the answer is a verdict.
    pub unit: Option<Unit>,
    /// Free text.
    pub note: String,
    /// What stood there then.
    pub fixture: FixtureId,
    /// What was asked, its limits and their sources, as they were then; empty for old rows.
    pub asked: String,
    /// JSON of what was measured beyond a reading; empty when nothing was.
    pub detail: String,
}

/// One deficiency, as a row.
#[derive(Debug, Clone)]
pub struct DeficiencyLine {
    /// Key, also its number for people.
    pub id: DeficiencyId,
    /// At which place, none when a report named none.
    pub tag: Option<String>,
    /// In one line, as it is kept.
    pub title: String,
    /// Which check failed; none for a report.
    pub check: Option<CheckId>,
    /// How grave.
    pub severity: Severity,
    /// Where it stands.
    pub status: DeficiencyStatus,
    /// UTC.
    pub opened_at: NaiveDateTime,
    /// UTC, none without a deadline.
    pub correct_by: Option<NaiveDateTime>,
    /// UTC, none while it is not closed.
    pub closed_at: Option<NaiveDateTime>,
    /// How it was closed, none while it is not.
    pub closed_how: Option<ClosedHow>,
}

type Seen = (
    (i64, NaiveDateTime, NaiveDate),
    Option<String>,
    (String, String),
    String,
    String,
    String,
    String,
    String,
    i64,
    (String, String, Option<String>),
);

/// The results at a place, the latest first, as rows of [`Seen`].
macro_rules! seen_at {
    ($tag:expr, $limit:expr) => {
        results::table
            .inner_join(checks::table.on(checks::id.eq(results::check_id)))
            .left_join(people::table.on(people::id.nullable().eq(results::person_id)))
            .left_join(
                check_versions::table.on(check_versions::check_id
                    .eq(results::check_id)
                    .and(check_versions::version.eq(results::check_version))),
            )
            .filter(results::tag_id.eq($tag.0))
            .order((results::done_at.desc(), results::id.desc()))
            .limit($limit)
            .select((
                (results::id, results::done_at, results::done_on),
                people::name.nullable(),
                (checks::code, checks::title),
                results::part,
                results::outcome,
                results::reason,
                results::reading,
                results::note,
                results::fixture_id,
                (results::asked, results::detail, check_versions::body.nullable()),
            ))
    };
}

/// The most rows that a drawing's history takes.
const MOST: i64 = 200;

/// The answers to these checks at a place that the caller may see, the latest first; at most 200. What could not be checked is left out
/// unless a part of it was looked at.
///
/// # Errors
/// When the database does not answer.
pub fn answers_at(conn: &mut AnyConnection, tag: TagId, codes: &[&str]) -> Result<Vec<ResultLine>> {
    let rows: Vec<Seen> = seen_at!(tag, MOST)
        .filter(
            results::outcome
                .ne(Outcome::NotChecked.code())
                .or(results::detail.ne("")),
        )
        .filter(checks::code.eq_any(codes.to_vec()))
        .load(conn)?;
    rows.into_iter().map(seen).collect()
}

/// Everything that failed at a place that the caller may see, the latest first; at most 200.
///
/// # Errors
/// When the database does not answer.
pub fn failures_at(conn: &mut AnyConnection, tag: TagId) -> Result<Vec<ResultLine>> {
    let rows: Vec<Seen> = seen_at!(tag, MOST)
        .filter(results::outcome.eq(Outcome::Fail.code()))
        .load(conn)?;
    rows.into_iter().map(seen).collect()
}

/// At most `limit` results at a place that the caller may see, the latest first; `before` is the last row of the page before.
///
/// # Errors
/// When `before` is not there, or the database does not answer.
pub fn results_at(
    conn: &mut AnyConnection,
    tag: TagId,
    before: Option<ResultId>,
    limit: i64,
) -> Result<Vec<ResultLine>> {
    let mut query = seen_at!(tag, limit).into_boxed();
    if let Some(before) = before {
        let done_at: Option<NaiveDateTime> = results::table
            .filter(results::id.eq(before.0))
            .filter(results::tag_id.eq(tag.0))
            .select(results::done_at)
            .first(conn)
            .optional()?;
        let done_at = done_at.ok_or_else(|| Error::not_found("such result"))?;
        query = query.filter(
            results::done_at
                .lt(done_at)
                .or(results::done_at.eq(done_at).and(results::id.lt(before.0))),
        );
    }
    let rows: Vec<Seen> = query.load(conn)?;
    rows.into_iter().map(seen).collect()
}

fn seen(
    (
        (id, done_at, done_on),
        who,
        (check, title),
        part,
        outcome,
        reason,
        reading,
        note,
        fixture,
        (asked, detail, body),
    ): Seen,
) -> Result<ResultLine> {
    let check_then = body.as_deref().map(parsed).transpose()?;
    Ok(ResultLine {
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
        unit: check_then.and_then(|check| match check.answer {
            Answer::Reading { unit, .. } => Some(unit),
            _ => None,
        }),
        note,
        fixture: FixtureId(fixture),
        asked,
        detail,
    })
}

type Wrong = (
    i64,
    Option<String>,
    String,
    Option<i64>,
    String,
    String,
    NaiveDateTime,
    Option<NaiveDateTime>,
    Option<NaiveDateTime>,
    Option<String>,
);

fn wrong(
    (id, tag, title, check, severity, status, opened_at, correct_by, closed_at, closed_how): Wrong,
) -> Result<DeficiencyLine> {
    Ok(DeficiencyLine {
        id: DeficiencyId(id),
        tag,
        title,
        check: check.map(CheckId),
        severity: read_code(&severity)?,
        status: read_code(&status)?,
        opened_at,
        correct_by,
        closed_at,
        closed_how: closed_how.as_deref().map(read_code).transpose()?,
    })
}

macro_rules! deficiency_lines {
    ($conn:expr, $filter:expr) => {{
        let rows: Vec<Wrong> = deficiencies::table
            .left_join(tags::table.on(tags::id.nullable().eq(deficiencies::tag_id)))
            .filter($filter)
            .order((
                deficiencies::closed_at.is_not_null(),
                deficiencies::opened_at.desc(),
                deficiencies::id.desc(),
            ))
            .select((
                deficiencies::id,
                tags::label.nullable(),
                deficiencies::title,
                deficiencies::check_id,
                deficiencies::severity,
                deficiencies::status,
                deficiencies::opened_at,
                deficiencies::correct_by,
                deficiencies::closed_at,
                deficiencies::closed_how,
            ))
            .limit(200)
            .load($conn)?;
        rows.into_iter().map(wrong).collect::<Result<Vec<_>>>()
    }};
}

/// The deficiencies at a place that the caller may see, open ones first, then the latest; at most 200.
///
/// # Errors
/// When the database does not answer.
pub fn deficiencies_at(conn: &mut AnyConnection, tag: TagId) -> Result<Vec<DeficiencyLine>> {
    deficiency_lines!(conn, deficiencies::tag_id.eq(tag.0))
}

/// The deficiencies of a unit that are not closed, the gravest first; at most 200.
///
/// # Errors
/// When the database does not answer.
pub fn open_in_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<DeficiencyLine>> {
    let mut lines = deficiency_lines!(
        conn,
        deficiencies::unit_id
            .eq(unit.0)
            .and(deficiencies::status.ne(DeficiencyStatus::Closed.code()))
    )?;
    lines.sort_by_key(|line| std::cmp::Reverse(line.severity.rank()));
    Ok(lines)
}
