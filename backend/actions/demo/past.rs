//! Lets two years pass in an invented building: what is asked there comes from the due engine, what was seen from chance.

use chrono::{NaiveDateTime, TimeDelta};

use super::ByUnit;
use crate::demo::Scenario;
use crate::demo::chance::Chance;
use crate::demo::history::{self, Ask, Happened, Home, Story};
use crate::demo::words::Words;
use crate::domain::due::Book;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, DeficiencyId, PersonId, ResultId, UnitId, VisitId};
use crate::domain::result::EventKind;
use crate::error::{Error, Result};
use crate::store::deficiencies::{self, Event};
use crate::store::past::PastVisit;
use crate::store::{Tx, buildings, due, past, results};

/// The riser that has trouble in the first building, and the check that fails there.
const TROUBLE: (i64, &str) = (4, "wc_base_dry");

/// Lets the years pass in a building that was just stored.
///
/// # Errors
/// When the database refuses.
pub fn live(
    tx: &mut Tx<'_>,
    scenario: &Scenario,
    words: &Words,
    book: &Book,
    (building, number): (BuildingId, usize),
    technician: PersonId,
) -> Result<()> {
    let facts = buildings::by_key(tx, &Scope::All, building)?.facts;
    let mut chance = Chance::new(scenario.seed, 1_000_000 + number as u64);
    for (unit, (riser, asks)) in asks(tx, book, building, scenario)? {
        let home = Home {
            building,
            unit: UnitId(unit),
            zone: facts.time_zone,
            profile: &facts.code_profile,
            technician,
            as_of: scenario.as_of,
            asks: &asks,
            trouble: (number == 0 && riser == Some(TROUBLE.0)).then_some(TROUBLE.1),
        };
        let happened = history::invent(&home, words, &mut chance);
        store(tx, &home, &happened)?;
    }
    Ok(())
}

type Asked = std::collections::BTreeMap<i64, (Option<i64>, Vec<Ask>)>;

/// Everything that is asked in each unit, with its riser.
fn asks(tx: &mut Tx<'_>, book: &Book, building: BuildingId, scenario: &Scenario) -> Result<Asked> {
    let computed = due::compute_building(tx, book, building, scenario.as_of)?;
    let placed = crate::store::units::risers(tx, building)?;
    let stood = crate::store::fixtures::stood_from(tx, building)?;
    let mut by_unit: ByUnit<Ask> = ByUnit::new();
    for (at, row) in &computed.rows {
        let place = computed
            .places
            .get(*at)
            .ok_or_else(|| Error::internal("a due row without a place"))?;
        let asked = book
            .check(row.check)
            .ok_or_else(|| Error::internal("a due row without a check"))?;
        by_unit.entry(place.unit.0).or_default().push(Ask {
            tag: place.tag,
            fixture: place.fixture,
            stood_from: stood.get(&place.fixture).copied().unwrap_or(scenario.as_of),
            part: row.part,
            check: row.check,
            procedure: asked.check.clone(),
            first_due: row.item.window.due(),
        });
    }
    Ok(by_unit
        .into_iter()
        .map(|(unit, asks)| (unit, (placed.get(&UnitId(unit)).copied().flatten(), asks)))
        .collect())
}

fn store(tx: &mut Tx<'_>, home: &Home<'_>, happened: &Happened) -> Result<()> {
    let mut visits = Vec::with_capacity(happened.visits.len());
    for visit in &happened.visits {
        let closed_at: NaiveDateTime = visit.on.and_time(chrono::NaiveTime::MIN) + TimeDelta::hours(20);
        visits.push(past::visit(
            tx,
            &PastVisit {
                building: home.building,
                unit: home.unit,
                on: visit.on,
                technician: home.technician,
                no_access: visit.no_access.clone(),
                closed_at,
            },
        )?);
    }
    let results = store_results(tx, happened, &visits)?;
    let mut keys: Vec<DeficiencyId> = Vec::with_capacity(happened.stories.len());
    for story in &happened.stories {
        let key = store_story(tx, home, story, &results, &keys)?;
        keys.push(key);
    }
    Ok(())
}

/// Stores the results; answers with the keys of those that a deficiency refers to, by position.
fn store_results(
    tx: &mut Tx<'_>,
    happened: &Happened,
    visits: &[VisitId],
) -> Result<std::collections::HashMap<usize, ResultId>> {
    let referred: std::collections::HashSet<usize> = happened
        .stories
        .iter()
        .flat_map(|story| [Some(story.opened_by), story.closed_by])
        .flatten()
        .collect();
    let mut keys = std::collections::HashMap::new();
    let mut plain = Vec::new();
    for (position, (entry, visit)) in happened.results.iter().enumerate() {
        let mut entry = entry.clone();
        entry.visit = visit.and_then(|number| visits.get(number).copied());
        if referred.contains(&position) {
            keys.insert(position, results::append(tx, &entry)?);
        } else {
            plain.push(entry);
        }
    }
    results::append_many(tx, &plain)?;
    Ok(keys)
}

fn store_story(
    tx: &mut Tx<'_>,
    home: &Home<'_>,
    story: &Story,
    results: &std::collections::HashMap<usize, ResultId>,
    earlier: &[DeficiencyId],
) -> Result<DeficiencyId> {
    let mut deficiency = story.deficiency.clone();
    deficiency.result = results.get(&story.opened_by).copied();
    deficiency.repeats = story.repeats.and_then(|number| earlier.get(number).copied());
    let key = deficiencies::insert(tx, &deficiency)?;
    let event = |at: NaiveDateTime, kind: EventKind, text: &str, result: Option<ResultId>| Event {
        deficiency: key,
        at,
        person: Some(home.technician),
        kind,
        text: text.to_owned(),
        result,
    };
    let mut events = vec![event(
        deficiency.opened_at,
        EventKind::Opened,
        &deficiency.title,
        deficiency.result,
    )];
    if let Some(at) = deficiency.repaired_at {
        events.push(event(at, EventKind::Repaired, &deficiency.detail, None));
    }
    if let Some(at) = deficiency.closed_at {
        let result = story
            .closed_by
            .and_then(|position| results.get(&position).copied());
        events.push(event(at, EventKind::RecheckPassed, "", result));
        events.push(event(at, EventKind::Closed, "", result));
    }
    deficiencies::append_events(tx, &events)?;
    Ok(key)
}
