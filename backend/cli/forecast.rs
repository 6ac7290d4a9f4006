//! `anglestop forecast`: what of a building will have to be replaced in the years ahead, and what it costs.

use chrono::{Days, Months, NaiveDate};
use clap::Args;
use serde::Serialize;

use super::Setting;
use crate::actions::condition::ahead::{self, Ahead};
use crate::clock::Now;
use crate::domain::forecast::{Expected, Sum};
use crate::domain::register::person::Scope;
use crate::domain::result::money;
use crate::error::{Error, Result};

/// Options of `forecast`.
#[derive(Debug, Args)]
#[command(
    after_help = "Costs are in minor units of the office's currency. Of ten such buildings one stays below low, nine below high.\n\n  \
    anglestop forecast --building ALDER-HOUSE --years 5"
)]
pub struct Options {
    /// Which building, by its code
    #[arg(long, value_name = "CODE")]
    building: String,
    /// How many years, 1 to 30
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    years: String,
    /// From this day; today when not given
    #[arg(long, value_name = "DATE", value_parser = crate::cli::date)]
    as_of: Option<NaiveDate>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Told {
    building: String,
    as_of: NaiveDate,
    years: Vec<Year>,
    total: Amounts,
    kinds: Vec<Kind>,
    next_budget_year: BudgetYear,
    without_life: usize,
}

#[derive(Serialize)]
struct Year {
    year: usize,
    from: NaiveDate,
    to: NaiveDate,
    #[serde(flatten)]
    amounts: Amounts,
}

#[derive(Serialize)]
struct Amounts {
    replacements: f64,
    cost_minor: i64,
    low_minor: i64,
    median_minor: i64,
    high_minor: i64,
}

#[derive(Serialize)]
struct Kind {
    kind: &'static str,
    standing: usize,
    replacements: f64,
    cost_minor: i64,
    years: Vec<KindYear>,
}

#[derive(Serialize)]
struct KindYear {
    replacements: f64,
    cost_minor: i64,
}

#[derive(Serialize)]
struct BudgetYear {
    from: NaiveDate,
    to: NaiveDate,
    due: usize,
    cost_minor: i64,
}

/// Prints the forecast.
///
/// # Errors
/// When the building, the day or the years can't be used.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let years = options.years.trim().parse::<usize>().map_err(|_unread| {
        Error::refused(format!(
            "--years is “{}”, but must be a whole number from 1 to 30.",
            options.years
        ))
    })?;
    let db = setting.open_there()?;
    let now = Now::from_system();
    let found =
        db.read(|conn| ahead::look(conn, &Scope::All, now, &options.building, options.as_of, years))?;
    let told = told(&found);
    if options.json {
        crate::cli::say!(
            "{}",
            serde_json::to_string_pretty(&told).map_err(Error::internal)?
        );
        return Ok(());
    }
    for year in &told.years {
        crate::cli::say!(
            "{} to {}  {:>7.1} replacements  {:>14}  ({} to {})",
            year.from,
            year.to,
            year.amounts.replacements,
            money::text(year.amounts.cost_minor),
            money::text(year.amounts.low_minor),
            money::text(year.amounts.high_minor)
        );
    }
    crate::cli::say!(
        "all together  {:>7.1} replacements  {:>14}",
        told.total.replacements,
        money::text(told.total.cost_minor)
    );
    Ok(())
}

/// The first and the last day of a year of the forecast, the first being 0.
#[must_use]
pub fn year_of(as_of: NaiveDate, year: usize) -> (NaiveDate, NaiveDate) {
    let months = |years: usize| Months::new(u32::try_from(years * 12).unwrap_or(0));
    let from = as_of.checked_add_months(months(year)).unwrap_or(as_of);
    let next = as_of.checked_add_months(months(year + 1)).unwrap_or(from);
    (from, next.checked_sub_days(Days::new(1)).unwrap_or(next))
}

fn amounts(sum: &Sum) -> Amounts {
    Amounts {
        replacements: sum.expected.replacements,
        cost_minor: sum.expected.cost_minor,
        low_minor: sum.low_minor,
        median_minor: sum.median_minor,
        high_minor: sum.high_minor,
    }
}

fn told(found: &Ahead) -> Told {
    let (from, to) = found.budget_year;
    let of_year = |expected: &Expected| KindYear {
        replacements: expected.replacements,
        cost_minor: expected.cost_minor,
    };
    Told {
        building: found.building.facts.code.clone(),
        as_of: found.as_of,
        years: found
            .forecast
            .years
            .iter()
            .enumerate()
            .map(|(year, sum)| {
                let (from, to) = year_of(found.as_of, year);
                Year {
                    year: year + 1,
                    from,
                    to,
                    amounts: amounts(sum),
                }
            })
            .collect(),
        total: amounts(&found.forecast.total),
        kinds: found
            .forecast
            .lines
            .iter()
            .map(|line| Kind {
                kind: line.item.code(),
                standing: line.standing,
                replacements: line.total.replacements,
                cost_minor: line.total.cost_minor,
                years: line.years.iter().map(of_year).collect(),
            })
            .collect(),
        next_budget_year: BudgetYear {
            from,
            to,
            due: found.due().count(),
            cost_minor: found.due().map(|row| row.cost_minor).sum(),
        },
        without_life: found.forecast.without_life,
    }
}
