//! How long fixtures and parts stood, as far as the register watched them: from the age at which each came into it to the age at which
//! it was replaced, or to its age today. Those of unknown installation say nothing and are left out.

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::register::Service;
use crate::domain::register::person::Scope;
use crate::domain::trade::life::Item;
use crate::domain::trade::life::fit::{End, Watched};
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::buildings::keys_of;
use crate::store::coded::read_code;
use crate::store::schema::{fixtures, parts, tags, units};

/// Days of a mean year.
const YEAR_DAYS: f64 = 365.2425;

type Row = (String, Option<NaiveDate>, String, NaiveDate, Option<NaiveDate>);

/// Every history within a scope, ages in years.
///
/// # Errors
/// When the database does not answer.
pub fn watched(conn: &mut AnyConnection, scope: &Scope, today: NaiveDate) -> Result<Vec<(Item, Watched)>> {
    let keys = keys_of(scope);
    let mut of_fixtures = fixtures::table
        .inner_join(tags::table.inner_join(units::table))
        .filter(fixtures::installed_on.is_not_null())
        .select((
            fixtures::kind,
            fixtures::installed_on,
            fixtures::status,
            fixtures::stood_from,
            fixtures::stood_until,
        ))
        .into_boxed();
    let mut of_parts = parts::table
        .inner_join(fixtures::table.inner_join(tags::table.inner_join(units::table)))
        .filter(parts::installed_on.is_not_null())
        .select((
            parts::kind,
            parts::installed_on,
            parts::status,
            parts::stood_from,
            parts::stood_until,
        ))
        .into_boxed();
    if let Some(keys) = keys {
        of_fixtures = of_fixtures.filter(units::building_id.eq_any(keys.clone()));
        of_parts = of_parts.filter(units::building_id.eq_any(keys));
    }
    let mut all = Vec::new();
    for row in of_fixtures.load::<Row>(conn)? {
        let item = Item::Fixture(read_code(&row.0)?);
        all.extend(history(&row, today).map(|watched| (item, watched)));
    }
    for row in of_parts.load::<Row>(conn)? {
        let item = Item::Part(read_code(&row.0)?);
        all.extend(history(&row, today).map(|watched| (item, watched)));
    }
    Ok(all)
}

fn history((_, installed, status, from, until): &Row, today: NaiveDate) -> Option<Watched> {
    let installed = (*installed)?;
    let years = |day: NaiveDate| (day - installed).num_days().max(0) as f64 / YEAR_DAYS;
    let to = years(until.unwrap_or(today).min(today));
    let watched = Watched {
        from: years(*from),
        to,
        end: if status == Service::Replaced.code() {
            End::Failed
        } else {
            End::Standing
        },
    };
    (watched.to > watched.from).then_some(watched)
}
