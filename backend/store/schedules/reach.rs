//! How much lies in a schedule's scope now: counted, without computing any date.

use std::collections::HashSet;

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::due::{AskedCheck, Scope};
use crate::domain::register::TagId;
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::due::{ALWAYS, Done, done_at};
use crate::store::schema::{buildings, fixtures, parts, results, tags, units};

/// What lies in a scope.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Reach {
    /// Fixtures in service.
    pub fixtures: usize,
    /// Checks on them or their parts: that many due items, when nothing else asks for them.
    pub items: usize,
}

/// A fixture or a part in service, and where.
struct InService {
    fixture: i64,
    tag: TagId,
    label: String,
    building: String,
    joined_on: NaiveDate,
    part: Option<PartKind>,
    /// The day that its age counts from.
    installed_on: Option<NaiveDate>,
}

/// What lies in a scope for these checks; ages are judged on `today`, failures as a due row counts them, policies of buildings are left
/// out.
///
/// # Errors
/// When the database does not answer.
pub fn reach(
    conn: &mut AnyConnection,
    scope: &Scope,
    checks: &[&AskedCheck],
    today: NaiveDate,
) -> Result<Reach> {
    let done = scope
        .min_failures
        .map(|_| where_failed(conn, checks))
        .transpose()?;
    let mut seen: HashSet<i64> = HashSet::new();
    let mut items = 0;
    for asked in checks {
        for found in in_service(conn, scope, asked)? {
            let failed_enough = |done: &Done| {
                let days = done.at(found.tag, found.part, asked.id);
                scope.failed_enough(
                    &days.failed,
                    &days.history(found.installed_on, found.joined_on, 0),
                )
            };
            if is_there(scope, &found, today) && done.as_ref().is_none_or(failed_enough) {
                seen.insert(found.fixture);
                items += 1;
            }
        }
    }
    Ok(Reach {
        fixtures: seen.len(),
        items,
    })
}

/// Whether a place and an age are in scope.
fn is_there(scope: &Scope, found: &InService, today: NaiveDate) -> bool {
    scope.reaches_tag(&found.label)
        && scope.reaches_building(&found.building)
        && scope
            .first_day_of_age(found.installed_on)
            .is_none_or(|day| day <= today)
        && scope.allows_age_on(today, found.installed_on)
}

/// When checks were done, and failed, at the places where one of them ever failed.
fn where_failed(conn: &mut AnyConnection, checks: &[&AskedCheck]) -> Result<Done> {
    let ids: Vec<i64> = checks.iter().map(|asked| asked.id.0).collect();
    let failed: Vec<i64> = results::table
        .filter(results::check_id.eq_any(ids))
        .filter(results::outcome.eq("fail"))
        .select(results::tag_id)
        .distinct()
        .load(conn)?;
    done_at(conn, &failed)
}

/// What a check can be asked of in this scope, places and ages aside.
fn in_service(conn: &mut AnyConnection, scope: &Scope, asked: &AskedCheck) -> Result<Vec<InService>> {
    let check = &asked.check;
    let kinds = codes_in(&check.kinds, &scope.kinds);
    let of_parts = codes_in(&check.parts, &scope.parts);
    match (check.parts.is_empty(), scope.parts.is_empty()) {
        (true, true) => on_fixtures(conn, &kinds),
        (true, false) => Ok(Vec::new()),
        (false, _) => on_parts(conn, &kinds, &of_parts),
    }
}

/// The codes of those that are named, of all where none is.
fn codes_in<T: Coded + PartialEq>(all: &[T], named: &[T]) -> Vec<&'static str> {
    all.iter()
        .filter(|one| named.is_empty() || named.contains(one))
        .map(|one| one.code())
        .collect()
}

fn on_fixtures(conn: &mut AnyConnection, kinds: &[&str]) -> Result<Vec<InService>> {
    type Row = (i64, i64, String, String, NaiveDate, Option<NaiveDate>);
    let rows: Vec<Row> = fixtures::table
        .inner_join(tags::table.inner_join(units::table.inner_join(buildings::table)))
        .filter(fixtures::kind.eq_any(kinds))
        .filter(
            fixtures::stood_until
                .is_null()
                .or(fixtures::stood_until.gt(ALWAYS)),
        )
        .select((
            fixtures::id,
            tags::id,
            tags::label,
            buildings::code,
            buildings::joined_on,
            fixtures::installed_on,
        ))
        .load(conn)?;
    let found = rows.into_iter().map(
        |(fixture, tag, label, building, joined_on, installed_on)| InService {
            fixture,
            tag: TagId(tag),
            label,
            building,
            joined_on,
            part: None,
            installed_on,
        },
    );
    Ok(found.collect())
}

fn on_parts(conn: &mut AnyConnection, kinds: &[&str], of_parts: &[&str]) -> Result<Vec<InService>> {
    type Row = (
        i64,
        i64,
        String,
        String,
        NaiveDate,
        String,
        Option<NaiveDate>,
        Option<NaiveDate>,
    );
    let rows: Vec<Row> = parts::table
        .inner_join(
            fixtures::table.inner_join(tags::table.inner_join(units::table.inner_join(buildings::table))),
        )
        .filter(fixtures::kind.eq_any(kinds))
        .filter(parts::kind.eq_any(of_parts))
        .filter(
            fixtures::stood_until
                .is_null()
                .or(fixtures::stood_until.gt(ALWAYS)),
        )
        .filter(parts::stood_until.is_null().or(parts::stood_until.gt(ALWAYS)))
        .select((
            fixtures::id,
            tags::id,
            tags::label,
            buildings::code,
            buildings::joined_on,
            parts::kind,
            parts::installed_on,
            fixtures::installed_on,
        ))
        .load(conn)?;
    let read = |(fixture, tag, label, building, joined_on, part, own, of_fixture): Row| {
        Ok(InService {
            fixture,
            tag: TagId(tag),
            label,
            building,
            joined_on,
            part: Some(PartKind::from_code(&part).map_err(Error::internal)?),
            installed_on: own.or(of_fixture),
        })
    };
    rows.into_iter().map(read).collect()
}
