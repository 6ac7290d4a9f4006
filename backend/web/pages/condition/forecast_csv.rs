//! What remains to each fixture and part of a building, as a file; or the years ahead.

use actix_web::{HttpRequest, web};

use super::asked_day;
use super::forecast::{asked_years, year_of};
use crate::actions::condition::ahead::{self, Ahead};
use crate::error::Error;
use crate::exchange::csv::forecast::{Row, YearRow, begin, begin_years, write, write_year};
use crate::exchange::csv::{self, Audience};
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
    let (now, years) = (context.now, asked_years(&asked));
    let found = context
        .read(move |conn, actor| ahead::look(conn, &actor.scope, now, &code, day, years))
        .await?;
    if asked.text("of") == "years" {
        return the_years(&found);
    }
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
    Ok(respond::file(&name, csv::MEDIA_TYPE, bytes))
}

fn the_years(found: &Ahead) -> PageResult {
    let building = &found.building.facts.code;
    let mut table = begin_years(Vec::new(), Audience::Spreadsheet).map_err(Error::from)?;
    for (year, sum) in found.forecast.years.iter().enumerate() {
        let row = YearRow {
            building,
            span: year_of(found.as_of, year),
            sum,
            as_of: found.as_of,
        };
        write_year(&mut table, &row).map_err(Error::from)?;
    }
    let bytes = table.finish().map_err(Error::from)?;
    let name = format!("forecast-years-{building}-{}.csv", found.as_of);
    Ok(respond::file(&name, csv::MEDIA_TYPE, bytes))
}
