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
use crate::language::Language;
use crate::store::lists::water::{self as entries, Entry};
use crate::store::spots::SpotUnit;
use crate::store::{AnyConnection, checks, diagnoses};
use crate::web::pages::fixtures::causes;

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
    pub name: String,
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
    language: Language,
    (one, unit): (&Deficiency, &SpotUnit),
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
        lost: lost(language, &known, next, (today, unit.building.length_unit)),
        found: found(conn, now, language, one, unit)?,
        columns: in_words(language, &columns, &known, unit.building.length_unit),
        leaks: leaks(conn, one)?,
        known,
        from: from.iter().map(|line| language.sentence(line)).collect(),
    })
}

fn leaks(conn: &mut AnyConnection, one: &Deficiency) -> Result<bool> {
    let Some(check) = one.check else { return Ok(true) };
    let leaking = &catalogue::builtin().map_err(Error::internal)?.water.leaking;
    let stored = checks::by_id(conn, check)?;
    Ok(stored.is_some_and(|stored| leaking.contains(&stored.check.code)))
}

fn lost(
    language: Language,
    known: &Known,
    next: Option<(NaiveDate, Entry)>,
    (today, unit): (NaiveDate, LengthUnit),
) -> Lost {
    let Some(loss) = &known.loss else {
        return Lost {
            spans: Vec::new(),
            convention: String::new(),
        };
    };
    let tariff = known.tariff.as_ref();
    let span = |over: &'static str, days: f64| Span {
        over: language.say(over).into(),
        volume: words::volume(language, loss.litres_a_day() * days, unit),
        cost: words::cost(loss.litres_a_day() * days, tariff),
        until: String::new(),
    };
    let mut spans = vec![
        span("water-span-day", 1.0),
        span("water-span-week", 7.0),
        span("water-span-month", 30.0),
    ];
    if let Some((on, entry)) = next {
        let over = match entry {
            Entry::Visit => "water-until-visit",
            Entry::Check => "water-until-check",
        };
        let days = i32::try_from((on - today).num_days()).unwrap_or(i32::MAX);
        spans.push(Span {
            until: language.day(on, today),
            ..span(over, f64::from(days))
        });
    }
    Lost {
        spans,
        convention: language.sentence(loss.convention_name()),
    }
}

fn found(
    conn: &mut AnyConnection,
    now: Now,
    language: Language,
    one: &Deficiency,
    unit: &SpotUnit,
) -> Result<Vec<Found>> {
    let zone = unit.building.zone;
    let lines = diagnoses::of_deficiency(conn, one.id)?;
    Ok(lines
        .into_iter()
        .map(|line| row(line, now, zone, language))
        .collect())
}

/// A diagnosis as a row.
pub(in crate::web::pages) fn row(
    line: diagnoses::Line,
    now: Now,
    zone: chrono_tz::Tz,
    language: Language,
) -> Found {
    let who = line
        .who
        .unwrap_or_else(|| language.say("deficiency-command-line").into());
    let said = causes::said(language, &line.said);
    let said: Vec<String> = said.iter().map(|(ask, say)| format!("{ask} {say}.")).collect();
    Found {
        by: format!(
            "{} · {who}",
            language.moment(line.found_at, zone, now.date_in(zone))
        ),
        cause: causes::named(language, &line.cause, &line.found),
        said: said.join(" "),
        note: line.note,
    }
}

fn in_words(language: Language, columns: &[Choice], known: &Known, unit: LengthUnit) -> Vec<Column> {
    let least = choice::least(columns);
    let currency = known
        .tariff
        .as_ref()
        .map_or("", |tariff: &Tariff| tariff.currency.as_str());
    columns
        .iter()
        .map(|column| Column {
            name: language.word(column.way),
            is_least: least == Some(column.way),
            work: money_or_not(language, column.work_minor, currency),
            entries: entries_in_words(language, column, currency),
            water: match (column.water_litres, column.water_minor) {
                (None, _) => language.say("choice-not-known").into(),
                (Some(litres), Some(minor)) if litres > 0.0 => {
                    format!(
                        "{}, {}",
                        words::volume(language, litres, unit),
                        words::amount(minor, currency)
                    )
                }
                (Some(litres), _) => words::volume(language, litres, unit),
            },
            risk: risk_in_words(language, column, currency),
            total: money_or_not(language, column.total_minor, currency),
            barred: column.barred.as_deref().map(|why| language.sentence(why)),
        })
        .collect()
}

fn money_or_not(language: Language, minor: Option<i64>, currency: &str) -> String {
    minor.map_or_else(
        || language.say("choice-not-known").into(),
        |minor| words::amount(minor, currency),
    )
}

fn entries_in_words(language: Language, column: &Choice, currency: &str) -> String {
    let more = |key| language.say(key).with("number", column.extra_entries);
    match (column.extra_entries, column.entries_minor) {
        (0, _) => language.say("choice-none-more").into(),
        (_, Some(minor)) => more("choice-more-for")
            .with("cost", words::amount(minor, currency))
            .into(),
        (_, None) => more("choice-more").into(),
    }
}

fn risk_in_words(language: Language, column: &Choice, currency: &str) -> String {
    let percent = |chance: f64| format!("{} %", language.decimal(chance * 100.0, 1));
    match (column.fails_before, column.risk_minor) {
        (None, _) if column.way == choice::Way::Wait => language.say("choice-not-known").into(),
        (None, _) => language.say("choice-none-before").into(),
        (Some(chance), Some(minor)) => format!("{}, {}", percent(chance), words::amount(minor, currency)),
        (Some(chance), None) => percent(chance),
    }
}
