//! Schedules as CSV: a row for each check that a schedule asks for, with what the check says of itself, so that the file alone tells what
//! comes due. Reading takes the same file; what it says of checks is the checks' own and is not read back.

mod read;

use std::io::{self, Write};

pub use read::{Read, Wanted, read};

use super::{Audience, Cell, Column, Table, column};
use crate::domain::code::Coded;
use crate::domain::due::{Known, Schedule, ScheduleText, Terms};
use crate::domain::trade::Check;

/// Name of the file in a folder.
pub const FILE: &str = "schedules.csv";

const EMPTY_FOR_ALL: &str = "all";

/// The columns, in order.
pub const COLUMNS: [Column; 28] = [
    Column::new("schedule", "Code of the schedule", "code", "yearly_hoses"),
    Column::new("name", "Its name", "text", "Hoses, yearly"),
    Column::new(
        "pack",
        "Where it came from: yearly, half_yearly, resident, chosen or own",
        "code",
        "yearly",
    )
    .or_blank("unchanged; own when it is new"),
    Column::new("active", "yes when it asks for anything", "yes or no", "yes").or_blank("no"),
    Column::new(
        "recorded_only",
        "yes when results are recorded and nothing comes due",
        "yes or no",
        "no",
    )
    .or_blank("no"),
    Column::new(
        "anchor",
        "calendar, or last_done when it counts from the last time",
        "code",
        "last_done",
    )
    .or_blank("last_done"),
    Column::new(
        "rule",
        "RFC 5545 rule text, or an ISO 8601 interval from the last time",
        "text",
        "P1Y",
    ),
    Column::new("start", "First day of a calendar rule", "date", "2024-10-01").or_blank("an interval has none"),
    Column::new(
        "lead_days",
        "Days the window is open before the due date",
        "days",
        "30",
    )
    .or_blank("0"),
    Column::new(
        "grace_days",
        "Days after the due date that are not yet overdue",
        "days",
        "30",
    )
    .or_blank("0"),
    Column::new(
        "early_days",
        "Days before an occurrence from which a result satisfies it",
        "days",
        "182",
    )
    .or_blank("half the shortest gap, at least the lead"),
    Column::new("scope_kinds", "Only these kinds of fixture", "codes", "lavatory").or_blank(EMPTY_FOR_ALL),
    Column::new("scope_parts", "Only these parts", "codes", "hose_hot hose_cold").or_blank(EMPTY_FOR_ALL),
    Column::new("scope_buildings", "Only these buildings", "codes", "ALDER").or_blank(EMPTY_FOR_ALL),
    Column::new("scope_tags", "Only places with these tags", "labels", "WC-1").or_blank(EMPTY_FOR_ALL),
    Column::new(
        "scope_min_age_years",
        "Nothing is due before it is so old; an unknown age counts as old",
        "years",
        "10",
    )
    .or_blank("any age"),
    Column::new(
        "scope_max_age_years",
        "Nothing is due after it is so old",
        "years",
        "5",
    )
    .or_blank("any age"),
    Column::new(
        "technician",
        "Mail address of who does it",
        "mail address",
        "ines@anglestop.example",
    )
    .or_blank("the building's technician"),
    Column::new("check", "Code of a check it asks for", "code", "washer_hose_sound"),
    Column::new(
        "check_kinds",
        "Kinds of fixture that the check is asked of",
        "codes",
        "washing_machine",
    )
    .or_blank("not read"),
    Column::new(
        "check_parts",
        "Parts that the check is asked of",
        "codes",
        "hose_hot hose_cold",
    )
    .or_blank("the fixture itself"),
    Column::new(
        "check_building_age_years",
        "The check is asked only in buildings at least so old, counted from 1 January of the year they were built",
        "years",
        "40",
    )
    .or_blank("any age"),
    Column::new(
        "check_base_joint",
        "The check is asked only under these policies for the base joint",
        "codes",
        "sealed",
    )
    .or_blank(EMPTY_FOR_ALL),
    Column::new(
        "off_until_chosen",
        "yes when the check is asked only where an active schedule of the packs chosen or own names it",
        "yes or no",
        "no",
    )
    .or_blank("not read"),
    Column::new(
        "scope_min_failures",
        "Only where the check failed at least so often in the 24 months before the day it counts from",
        "1 to 4",
        "2",
    )
    .or_blank("whatever happened"),
    Column::new(
        "on_closed_days",
        "What a due date does on a day that the building is closed: stays, forward or back",
        "code",
        "forward",
    )
    .or_blank("stays"),
    Column::new(
        "season_months",
        "Months by number that due dates of an interval keep to",
        "numbers",
        "4 5 6 7 8 9 10",
    )
    .or_blank("the whole year"),
    Column::new(
        "vacancy",
        "What a vacant unit does to it: any, not_while_vacant or at_turnover",
        "code",
        "not_while_vacant",
    )
    .or_blank("any"),
];

/// Writes every schedule.
///
/// # Errors
/// When `out` can't be written.
pub fn write(out: impl Write, audience: Audience, known: &Known<'_>) -> io::Result<()> {
    let mut table = Table::begin(out, audience, &column::names(&COLUMNS))?;
    let mut schedules: Vec<&Schedule> = known.book.schedules().collect();
    schedules.sort_by(|a, b| a.terms.code.cmp(&b.terms.code));
    for schedule in schedules {
        let text = ScheduleText::of(&schedule.terms, known);
        let early = schedule.terms.timing.early_days().to_string();
        let mut checks: Vec<&Check> = schedule
            .terms
            .checks
            .iter()
            .filter_map(|id| known.book.check(*id))
            .map(|asked| &*asked.check)
            .collect();
        checks.sort_by(|a, b| a.code.cmp(&b.code));
        for check in checks {
            table.row(cells(&text, &early, check))?;
        }
    }
    table.finish().map(drop)
}

fn cells<'a>(text: &'a ScheduleText, early: &'a str, check: &'a Check) -> Vec<Cell<'a>> {
    let yes_or_no = |is: bool| Cell::Code(if is { "yes" } else { "no" });
    let age = check.conditions.building_age.as_ref();
    let mut cells: Vec<Cell<'a>> = vec![
        Cell::text(&text.code),
        Cell::text(&text.name),
        Cell::text(&text.pack),
        Cell::text(&text.active),
        Cell::text(&text.recorded_only),
        Cell::text(&text.anchor),
        Cell::text(&text.rule),
        Cell::text(&text.start),
        Cell::text(&text.lead_days),
        Cell::text(&text.grace_days),
        Cell::text(early),
    ];
    let lists = [
        &text.scope_kinds,
        &text.scope_parts,
        &text.scope_buildings,
        &text.scope_tags,
    ];
    cells.extend(lists.map(|list| Cell::text(list.join(" "))));
    cells.extend([
        Cell::text(&text.scope_min_age_years),
        Cell::text(&text.scope_max_age_years),
        Cell::text(&text.technician),
        Cell::text(check.code.as_str()),
        Cell::text(codes(&check.kinds)),
        Cell::text(codes(&check.parts)),
        Cell::whole(age.map(|age| i64::from(age.at_least_years))),
        Cell::text(codes(&check.conditions.base_joint)),
        yes_or_no(check.off_until_chosen),
        Cell::text(&text.scope_min_failures),
        Cell::text(&text.on_closed_days),
        Cell::text(text.season_months.join(" ")),
        Cell::text(&text.vacancy),
    ]);
    cells
}

fn codes<T: Coded>(values: &[T]) -> String {
    values
        .iter()
        .map(|value| value.code())
        .collect::<Vec<_>>()
        .join(" ")
}

/// The columns that say what a schedule is, its checks among them, in the order of [`own_cells`].
#[must_use]
pub fn own_columns() -> Vec<Column> {
    let own = COLUMNS.iter().take(OWN);
    own.chain(COLUMNS.iter().skip(COLUMNS.len() - LATER))
        .copied()
        .collect()
}

/// How many columns from the first on say what a schedule is.
const OWN: usize = 19;

/// How many columns that came later say what a schedule is; they stand last.
const LATER: usize = 4;

/// A schedule as cells of [`own_columns`], its checks in one cell, to tell what changes.
#[must_use]
pub fn own_cells(terms: &Terms, known: &Known<'_>) -> Vec<Cell<'static>> {
    let text = ScheduleText::of(terms, known);
    let lists = [
        text.scope_kinds.join(" "),
        text.scope_parts.join(" "),
        text.scope_buildings.join(" "),
        text.scope_tags.join(" "),
    ];
    let before = [
        text.code,
        text.name,
        text.pack,
        text.active,
        text.recorded_only,
        text.anchor,
        text.rule,
        text.start,
        text.lead_days,
        text.grace_days,
        terms.timing.early_days().to_string(),
    ];
    let after = [
        text.scope_min_age_years,
        text.scope_max_age_years,
        text.technician,
        text.checks.join(" "),
        text.scope_min_failures,
        text.on_closed_days,
        text.season_months.join(" "),
        text.vacancy,
    ];
    before
        .into_iter()
        .chain(lists)
        .chain(after)
        .map(Cell::text)
        .collect()
}
