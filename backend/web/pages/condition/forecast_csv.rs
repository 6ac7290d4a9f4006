//! What remains to each fixture and part of a building, as a file.

use actix_web::{HttpRequest, web};

use super::asked_day;
use crate::actions::condition::ahead;
use crate::error::Error;
use crate::exchange::csv::Audience;
use crate::exchange::csv::forecast::{Row, begin, write};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Sends the file.
///
/// # Errors
/// When there is no such building in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let now = context.now;
    let found = context
        .read(move |conn, actor| ahead::look(conn, &actor.scope, now, &code, day, 1))
        .await?;
    let building = &found.building.facts.code;
    let mut table = begin(Vec::new(), Audience::Spreadsheet).map_err(Error::from)?;
    for row in &found.rows {
        let row = Row {
            building,
            unit: &row.unit,
            tag: &row.tag,
            item: row.item,
            installed: row.installed,
            age_years: row.age_years,
            condition: row.condition,
            effective_age_years: row.effective_age_years,
            mean_residual_years: row.mean_residual_years,
            before_budget_end: row.before_budget_end,
            replacement_minor: row.cost_minor,
            as_of: found.as_of,
        };
        write(&mut table, &row).map_err(Error::from)?;
    }
    let bytes = table.finish().map_err(Error::from)?;
    let name = format!("forecast-{building}-{}.csv", found.as_of);
    Ok(respond::file(&name, "text/csv; charset=utf-8", bytes))
}
