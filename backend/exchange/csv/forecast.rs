//! What remains to each fixture and part of a building as a CSV: a row each, the likeliest to fail first. New columns come at the end.

use std::io::Write;

use chrono::NaiveDate;

use super::column::names;
use super::{Audience, Cell, Column, Table};
use crate::domain::code::Coded;
use crate::domain::condition::Condition;
use crate::domain::forecast::Sum;
use crate::domain::register::Installed;
use crate::domain::trade::life::Item;

/// What each column means.
pub const COLUMNS: [Column; 12] = [
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("unit", "Label of the unit or common area", "text", "204"),
    Column::new("tag", "Label of its place", "text", "WC-1"),
    Column::new("kind", "Kind of fixture or part", "code", "water_heater"),
    Column::new("installed_on", "Local date of installation", "date", "2016-05-01").or_blank("unknown"),
    Column::new("age_years", "Its age, or what it is taken for", "years", "10.6"),
    Column::new("condition", "Condition of its fixture", "code", "watch"),
    Column::new("effective_age_years", "The age that counts", "years", "11.7"),
    Column::new(
        "mean_residual_years",
        "How long it still lives on average",
        "years",
        "1.4",
    ),
    Column::new(
        "before_budget_end",
        "How likely it fails before the next budget year ends",
        "0 to 1",
        "0.6320",
    ),
    Column::new("replacement_minor", "A new one", "minor units of money", "165000"),
    Column::new("as_of", "The local date it speaks of", "date", "2026-11-25"),
];

/// One fixture or part.
#[derive(Debug, Clone)]
pub struct Row<'a> {
    /// Code of the building.
    pub building: &'a str,
    /// Label of the unit.
    pub unit: &'a str,
    /// Label of the place.
    pub tag: &'a str,
    /// What it is.
    pub item: Item,
    /// When it was installed.
    pub installed: Installed,
    /// Years.
    pub age_years: f64,
    /// Of its fixture.
    pub condition: Condition,
    /// Years.
    pub effective_age_years: f64,
    /// Years.
    pub mean_residual_years: f64,
    /// 0 to 1.
    pub before_budget_end: f64,
    /// Minor units.
    pub replacement_minor: i64,
    /// The day it speaks of.
    pub as_of: NaiveDate,
}

/// Begins the file.
///
/// # Errors
/// When `out` can't be written.
pub fn begin<W: Write>(out: W, audience: Audience) -> std::io::Result<Table<W>> {
    Table::begin(out, audience, &names(&COLUMNS))
}

/// Writes one row.
///
/// # Errors
/// When the file can't be written.
pub fn write(table: &mut Table<impl Write>, row: &Row<'_>) -> std::io::Result<()> {
    table.row([
        Cell::text(row.building),
        Cell::text(row.unit),
        Cell::text(row.tag),
        Cell::Code(row.item.code()),
        Cell::date(row.installed.date()),
        Cell::text(format!("{:.1}", row.age_years)),
        Cell::Code(row.condition.code()),
        Cell::text(format!("{:.1}", row.effective_age_years)),
        Cell::text(format!("{:.1}", row.mean_residual_years)),
        Cell::text(format!("{:.4}", row.before_budget_end)),
        Cell::Whole(row.replacement_minor),
        Cell::Date(row.as_of),
    ])
}

/// What each column of the years means.
pub const YEAR_COLUMNS: [Column; 9] = [
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("from", "First local date of the year", "date", "2026-11-25"),
    Column::new("to", "Last local date of the year", "date", "2027-11-24"),
    Column::new("replacements", "Replacements expected", "count", "12.4"),
    Column::new(
        "expected_minor",
        "What they cost on average",
        "minor units of money",
        "1655000",
    ),
    Column::new(
        "low_minor",
        "One in ten stays below",
        "minor units of money",
        "1200000",
    ),
    Column::new(
        "median_minor",
        "Half stay below",
        "minor units of money",
        "1640000",
    ),
    Column::new(
        "high_minor",
        "Nine in ten stay below",
        "minor units of money",
        "2100000",
    ),
    Column::new("as_of", "The local date it speaks of", "date", "2026-11-25"),
];

/// One year.
#[derive(Debug, Clone, Copy)]
pub struct YearRow<'a> {
    /// Code of the building.
    pub building: &'a str,
    /// First and last day.
    pub span: (NaiveDate, NaiveDate),
    /// What is expected.
    pub sum: &'a Sum,
    /// The day it speaks of.
    pub as_of: NaiveDate,
}

/// Begins the file of years.
///
/// # Errors
/// When `out` can't be written.
pub fn begin_years<W: Write>(out: W, audience: Audience) -> std::io::Result<Table<W>> {
    Table::begin(out, audience, &names(&YEAR_COLUMNS))
}

/// Writes one year.
///
/// # Errors
/// When the file can't be written.
pub fn write_year(table: &mut Table<impl Write>, row: &YearRow<'_>) -> std::io::Result<()> {
    table.row([
        Cell::text(row.building),
        Cell::Date(row.span.0),
        Cell::Date(row.span.1),
        Cell::text(format!("{:.1}", row.sum.expected.replacements)),
        Cell::Whole(row.sum.expected.cost_minor),
        Cell::Whole(row.sum.low_minor),
        Cell::Whole(row.sum.median_minor),
        Cell::Whole(row.sum.high_minor),
        Cell::Date(row.as_of),
    ])
}
