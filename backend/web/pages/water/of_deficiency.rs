//! What is known of the water and of the choice at one deficiency, for its own page and for the pages behind it.

use chrono::NaiveDate;

use super::words;
use crate::actions::water::{Instead, Sourced, known};
use crate::clock::Now;
use crate::domain::choice::{self, Choice, Known};
use crate::domain::measure::LengthUnit;
use crate::domain::result::Deficiency;
use crate::domain::trade::water::Tariff;
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::language;
use crate::store::lists::water::{self as entries, Entry};
use crate::store::spots::SpotUnit;
use crate::store::{AnyConnection, checks, diagnoses};

/// What a deficiency loses, as lines of a list.
pub(in crate::web::pages) struct Lost {
    /// For how long, and how much.
    pub spans: Vec<Span>,
    /// How it was reckoned; empty when nobody has measured.
    pub convention: String,
}

/// Water of a span of time.
pub(in crate::web::pages) struct Span {
    /// "A day", "Until Tue 3 Feb, the next check".
    pub over: String,
    /// How much.
    pub volume: String,
    /// What it costs, empty without a price of water.
    pub cost: String,
    /// The day until which it counts, empty for a span that is none.
    pub until: String,
}

/// What was found behind it.
pub(in crate::web::pages) struct Found {
    /// When and by whom.
    pub by: String,
    /// The cause.
    pub cause: String,
    /// Questions and answers in one line.
    pub said: String,
    /// Free text.
    pub note: String,
}

/// One column of the choice, in words.
pub(in crate::web::pages) struct Column {
    pub name: &'static str,
    pub is_least: bool,
    pub work: String,
    pub entries: String,
    pub water: String,
    pub risk: String,
    pub total: String,
    pub barred: Option<String>,
}

/// Everything about water and choice at a deficiency.
pub(in crate::web::pages) struct Matter {
    pub lost: Lost,
    pub found: Vec<Found>,
    pub columns: Vec<Column>,
    pub known: Known,
    /// Where the figures of the choice come from.
    pub from: Vec<String>,
    /// Whether a failure of its check loses water.
    pub leaks: bool,
}

/// Reads what is known.
pub(in crate::web::pages) fn load(
    conn: &mut AnyConnection,
    now: Now,
    one: &Deficiency,
    unit: &SpotUnit,
    instead: Instead,
) -> Result<Matter> {
    let today = now.date_in(unit.building.zone);
    let next = entries::next_entry(conn, unit.id, today)?;
    let Sourced { known, from } = known(conn, one, today, next.map(|(on, _)| on), instead)?;
    let columns = choice::choices(
        &known,
        one.severity,
        one.correct_by
            .map(|by| by.and_utc().with_timezone(&unit.building.zone).date_naive()),
        today,
    );
    Ok(Matter {
        lost: lost(&known, next, today, unit.building.length_unit),
        found: found(conn, now, one, unit)?,
        columns: in_words(&columns, &known, unit.building.length_unit),
        leaks: leaks(conn, one)?,
        known,
        from,
    })
}

fn leaks(conn: &mut AnyConnection, one: &Deficiency) -> Result<bool> {
    let Some(check) = one.check else { return Ok(true) };
    let leaking = &catalogue::builtin().map_err(Error::internal)?.water.leaking;
    let stored = checks::by_id(conn, check)?;
    Ok(stored.is_some_and(|stored| leaking.contains(&stored.check.code)))
}

fn lost(known: &Known, next: Option<(NaiveDate, Entry)>, today: NaiveDate, unit: LengthUnit) -> Lost {
    let Some(loss) = &known.loss else {
        return Lost {
            spans: Vec::new(),
            convention: String::new(),
        };
    };
    let tariff = known.tariff.as_ref();
    let span = |over: String, days: f64| Span {
        over,
        volume: words::volume(loss.litres_a_day() * days, unit),
        cost: words::cost(loss.litres_a_day() * days, tariff),
        until: String::new(),
    };
    let mut spans = vec![
        span("A day".to_owned(), 1.0),
        span("A week".to_owned(), 7.0),
        span("A month of 30 days".to_owned(), 30.0),
    ];
    if let Some((on, entry)) = next {
        let why = match entry {
            Entry::Visit => "the next visit",
            Entry::Check => "the next check",
        };
        let days = i32::try_from((on - today).num_days()).unwrap_or(i32::MAX);
        spans.push(Span {
            until: language::day(on, today),
            ..span(format!("Until {why}"), f64::from(days))
        });
    }
    Lost {
        spans,
        convention: loss.convention_name().to_owned(),
    }
}

fn found(conn: &mut AnyConnection, now: Now, one: &Deficiency, unit: &SpotUnit) -> Result<Vec<Found>> {
    let zone = unit.building.zone;
    let lines = diagnoses::of_deficiency(conn, one.id)?;
    Ok(lines.into_iter().map(|line| row(line, now, zone)).collect())
}

/// A diagnosis as a row.
pub(in crate::web::pages) fn row(line: diagnoses::Line, now: Now, zone: chrono_tz::Tz) -> Found {
    let who = line.who.unwrap_or_else(|| "command line".to_owned());
    let said: Vec<String> = line
        .said
        .iter()
        .map(|(ask, say)| format!("{ask} {say}."))
        .collect();
    Found {
        by: format!(
            "{} · {who}",
            language::moment(line.found_at, zone, now.date_in(zone))
        ),
        cause: line.found,
        said: said.join(" "),
        note: line.note,
    }
}

fn in_words(columns: &[Choice], known: &Known, unit: LengthUnit) -> Vec<Column> {
    let least = choice::least(columns);
    let currency = known
        .tariff
        .as_ref()
        .map_or("", |tariff: &Tariff| tariff.currency.as_str());
    let money_or = |minor: Option<i64>, otherwise: &str| {
        minor.map_or_else(|| otherwise.to_owned(), |minor| words::amount(minor, currency))
    };
    columns
        .iter()
        .map(|column| Column {
            name: column.way.name(),
            is_least: least == Some(column.way),
            work: money_or(column.work_minor, "not known"),
            entries: match (column.extra_entries, column.entries_minor) {
                (0, _) => "none more".to_owned(),
                (count, Some(minor)) => format!("{count} more, {}", words::amount(minor, currency)),
                (count, None) => format!("{count} more"),
            },
            water: match (column.water_litres, column.water_minor) {
                (None, _) => "not known".to_owned(),
                (Some(litres), Some(minor)) if litres > 0.0 => {
                    format!(
                        "{}, {}",
                        words::volume(litres, unit),
                        words::amount(minor, currency)
                    )
                }
                (Some(litres), _) => words::volume(litres, unit),
            },
            risk: match (column.fails_before, column.risk_minor) {
                (None, _) if column.way == choice::Way::Wait => "not known".to_owned(),
                (None, _) => "none before".to_owned(),
                (Some(chance), Some(minor)) => {
                    format!("{:.1} %, {}", chance * 100.0, words::amount(minor, currency))
                }
                (Some(chance), None) => format!("{:.1} %", chance * 100.0),
            },
            total: money_or(column.total_minor, "not known"),
            barred: column.barred.clone(),
        })
        .collect()
}
