//! `anglestop register building calendar`: when planned work is done in a building.

use chrono::NaiveDate;
use clap::{Args, Subcommand};

use super::{Desk, place};
use crate::actions::calendars::{self, To};
use crate::domain::code::Coded as _;
use crate::domain::due::{ClosingKind, ClosingText};
use crate::domain::register::BuildingId;
use crate::error::{Error, Result};
use crate::language;
use crate::store;

/// What is done with the calendar of a building.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Set the weekdays on which planned work is done, such as MO TU WE TH FR
    Week {
        /// Code of the building
        building: String,
        /// MO to SU
        #[arg(required = true)]
        days: Vec<String>,
    },
    /// Add a public holiday or a shut-down period
    Close(Close),
    /// Take a public holiday or a shut-down period away
    Open {
        /// Code of the building
        building: String,
        /// Its name; every one that is called so is taken away
        name: String,
    },
    /// Give the calendar of one building to others
    Give {
        /// Code of the building whose calendar it is
        from: String,
        /// Codes of the buildings that get it
        #[arg(required_unless_present_any = ["all", "portfolio"])]
        to: Vec<String>,
        /// Every other building gets it
        #[arg(long, conflicts_with_all = ["to", "portfolio"])]
        all: bool,
        /// Those of this portfolio get it
        #[arg(long, value_name = "CODE", conflicts_with = "to")]
        portfolio: Option<String>,
    },
    /// Show it
    Show {
        /// Code of the building
        building: String,
        /// Also why it is open or closed on this day
        #[arg(long, value_name = "DATE", value_parser = crate::cli::date)]
        on: Option<NaiveDate>,
    },
}

/// Closed days.
#[derive(Debug, Args)]
#[command(
    after_help = "  anglestop register building calendar close ALDER --name \"New Year's Day\" --start 2026-01-01 --yearly\n  \
    anglestop register building calendar close ALDER --name \"Last Monday of May\" --start 2026-01-01 --rule \"FREQ=YEARLY;BYMONTH=5;BYDAY=-1MO\"\n  \
    anglestop register building calendar close ALDER --kind shut_down --name \"Winter break\" --start 2026-12-19 --days 16 --yearly"
)]
pub struct Close {
    /// Code of the building
    building: String,
    /// As people call it
    #[arg(long)]
    name: String,
    /// public_holiday or shut_down; public_holiday when not given
    #[arg(long, value_name = "KIND")]
    kind: Option<String>,
    /// The first day
    #[arg(long, value_name = "DATE")]
    start: String,
    /// How many days it lasts each time; 1 when not given
    #[arg(long, value_name = "DAYS")]
    days: Option<String>,
    /// Every year on that day; once when neither this nor a rule is given
    #[arg(long, conflicts_with = "rule")]
    yearly: bool,
    /// RFC 5545 rule text of the days it begins on
    #[arg(long, value_name = "RULE")]
    rule: Option<String>,
}

/// Does it, and says what holds now.
///
/// # Errors
/// A sentence for each value that can't be used, or that there is no such building.
pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    match what {
        What::Week { building, days } => {
            let id = find(desk, building)?;
            let moved = calendars::set_week(&desk.db, &desk.actor, desk.now, id, days)?;
            told_with(desk, id, moved)
        }
        What::Close(close) => {
            let id = find(desk, &close.building)?;
            let text = ClosingText {
                kind: close.kind.clone().unwrap_or_default(),
                name: close.name.clone(),
                start: close.start.clone(),
                repeats: if close.yearly {
                    "yearly".to_owned()
                } else {
                    String::new()
                },
                rule: close.rule.clone().unwrap_or_default(),
                days: close.days.clone().unwrap_or_default(),
            };
            let moved = calendars::close(&desk.db, &desk.actor, desk.now, id, &text)?;
            told_with(desk, id, moved)
        }
        What::Open { building, name } => {
            let id = find(desk, building)?;
            let moved = open(desk, id, name)?;
            told_with(desk, id, moved)
        }
        What::Give {
            from,
            to,
            all,
            portfolio,
        } => {
            let id = find(desk, from)?;
            let to = match (all, portfolio) {
                (true, _) => To::All,
                (false, Some(code)) => To::Portfolio(code.clone()),
                (false, None) => To::These(to.clone()),
            };
            let given = calendars::give(&desk.db, &desk.actor, desk.now, id, &to)?;
            eprintln!("{given} buildings got another calendar.");
            told(desk, id)
        }
        What::Show { building, on } => {
            let id = find(desk, building)?;
            told(desk, id)?;
            on.map_or(Ok(()), |day| why(desk, id, day))
        }
    }
}

fn find(desk: &Desk, code: &str) -> Result<BuildingId> {
    desk.db.read(|conn| Ok(place::building(conn, desk, code)?.id))
}

fn open(desk: &Desk, building: BuildingId, name: &str) -> Result<usize> {
    let known = desk
        .db
        .read(|conn| store::calendars::closings_of(conn, building))?;
    let mut named = known
        .into_iter()
        .filter(|(_, closing)| closing.name == name.trim())
        .peekable();
    if named.peek().is_none() {
        return Err(Error::refused(format!(
            "No closed days are called {name}. See their names with calendar show."
        )));
    }
    let mut moved = 0;
    for (closing, _) in named {
        moved += calendars::open(&desk.db, &desk.actor, desk.now, building, closing)?;
    }
    Ok(moved)
}

/// The calendar as it is now, and on standard error how many due dates moved by it.
fn told_with(desk: &Desk, building: BuildingId, moved: usize) -> Result<()> {
    told(desk, building)?;
    eprintln!("{}", language::due_dates_moved(moved));
    Ok(())
}

fn told(desk: &Desk, building: BuildingId) -> Result<()> {
    let calendar = desk
        .db
        .read(|conn| store::calendars::of_building(conn, building))?;
    crate::cli::say!("working days  {}", calendar.working_days.codes());
    for closing in &calendar.closings {
        let kind = closing.kind.code();
        let (rule, days) = (closing.rule.as_ref(), closing.days);
        let rule = rule.map_or("once", |rule| rule.text());
        let width = ClosingKind::PublicHoliday.code().len();
        crate::cli::say!(
            "{kind:width$}  {}  {days:>3} d  {rule}  {}",
            closing.start,
            closing.name
        );
    }
    Ok(())
}

fn why(desk: &Desk, building: BuildingId, day: NaiveDate) -> Result<()> {
    let calendar = desk
        .db
        .read(|conn| store::calendars::of_building(conn, building))?;
    let why = calendar.closed(day);
    let why = why.map_or_else(
        || "open".to_owned(),
        |closed| format!("closed: {}", closed.in_words()),
    );
    crate::cli::say!("{day}  {why}");
    Ok(())
}
