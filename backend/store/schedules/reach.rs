//! How much lies in a schedule's scope now: counted, without computing any date.

use std::collections::HashSet;
use std::sync::Arc;

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::due::Scope;
use crate::domain::trade::Check;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::due::ALWAYS;
use crate::store::schema::{buildings, fixtures, parts, tags, units};

/// What lies in a scope.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Reach {
    /// Fixtures in service.
    pub fixtures: usize,
    /// Checks on them or their parts: that many due items, when nothing else asks for them.
    pub items: usize,
}

/// Fixture, its label, its building's code, and the day that its age counts from.
type Row = (i64, String, String, Option<NaiveDate>);

/// What lies in a scope for these checks; ages are judged on `today`, policies of buildings are left out.
///
/// # Errors
/// When the database does not answer.
pub fn reach(
    conn: &mut AnyConnection,
    scope: &Scope,
    checks: &[Arc<Check>],
    today: NaiveDate,
) -> Result<Reach> {
    let mut seen: HashSet<i64> = HashSet::new();
    let mut items = 0;
    for check in checks {
        let kinds: Vec<&str> = check
            .kinds
            .iter()
            .filter(|kind| scope.kinds.is_empty() || scope.kinds.contains(kind))
            .map(|kind| kind.code())
            .collect();
        let of_parts: Vec<&str> = check
            .parts
            .iter()
            .filter(|part| scope.parts.is_empty() || scope.parts.contains(part))
            .map(|part| part.code())
            .collect();
        let rows = match (check.parts.is_empty(), scope.parts.is_empty()) {
            (true, true) => on_fixtures(conn, &kinds)?,
            (true, false) => Vec::new(),
            (false, _) => on_parts(conn, &kinds, &of_parts)?,
        };
        for (fixture, tag, building, installed_on) in rows {
            let old_enough = scope
                .first_day_of_age(installed_on)
                .is_none_or(|day| day <= today);
            if scope.reaches_tag(&tag)
                && scope.reaches_building(&building)
                && old_enough
                && scope.allows_age_on(today, installed_on)
            {
                seen.insert(fixture);
                items += 1;
            }
        }
    }
    Ok(Reach {
        fixtures: seen.len(),
        items,
    })
}

fn on_fixtures(conn: &mut AnyConnection, kinds: &[&str]) -> Result<Vec<Row>> {
    Ok(fixtures::table
        .inner_join(tags::table.inner_join(units::table.inner_join(buildings::table)))
        .filter(fixtures::kind.eq_any(kinds))
        .filter(
            fixtures::stood_until
                .is_null()
                .or(fixtures::stood_until.gt(ALWAYS)),
        )
        .select((fixtures::id, tags::label, buildings::code, fixtures::installed_on))
        .load(conn)?)
}

fn on_parts(conn: &mut AnyConnection, kinds: &[&str], of_parts: &[&str]) -> Result<Vec<Row>> {
    type PartRow = (i64, String, String, Option<NaiveDate>, Option<NaiveDate>);
    let rows: Vec<PartRow> = parts::table
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
            tags::label,
            buildings::code,
            parts::installed_on,
            fixtures::installed_on,
        ))
        .load(conn)?;
    Ok(rows
        .into_iter()
        .map(|(fixture, tag, building, own, of_fixture)| (fixture, tag, building, own.or(of_fixture)))
        .collect())
}
