//! Writes the checklist of a unit for a phone: its places, what is asked at each, what is wrong, what to take along.

use std::collections::HashMap;
use std::sync::Arc;

use super::asked::{self, Asked, Everything};
use super::fetch::Fetched;
use super::ground::Ground;
use super::words::{CheckWords, Words};
use crate::actions::measures::flush;
use crate::domain::code::Coded as _;
use crate::domain::due::State;
use crate::domain::measure::{Amount, Quantity};
use crate::domain::register::person::Actor;
use crate::domain::register::{DeficiencyId, PersonId};
use crate::domain::result::{Deficiency, Entry, Wrong};
use crate::domain::trade::flush::flushes;
use crate::domain::trade::likely::likely;
use crate::domain::trade::outcome::bare_unit;
use crate::domain::trade::{Answer, Check};
use crate::domain::turnover::{answered, blocks};
use crate::domain::visit::Visit;
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::exchange::phone::measures::exact_amount;
use crate::exchange::phone::{instant, units as wire};
use crate::store::AnyConnection;
use crate::store::lists::deficiencies::names;
use crate::store::lists::turnovers::Survey;

/// The checklist.
pub(super) fn list(
    conn: &mut AnyConnection,
    actor: &Actor,
    ground: &Ground<'_>,
    survey: Option<&Survey>,
    visit: Option<&Visit>,
    words: &Words,
) -> Result<Fetched> {
    let Everything { asked, matters } = asked::everything(conn, actor, ground, survey, visit)?;
    let people = asked.iter().filter_map(|asked| asked.last.as_ref()?.person);
    let people: Vec<PersonId> = people.collect();
    let names = names(conn, &people)?;
    let items: Result<Vec<wire::Item>> = asked.iter().map(|one| item(ground, one, &names, words)).collect();
    let items = items?;
    let facts = &ground.building.facts;
    let list = wire::Unit {
        unit: wire::UnitName {
            id: ground.unit.id.0,
            label: ground.unit.facts.label.clone(),
            floor: ground.unit.facts.floor,
        },
        building: wire::Building {
            id: ground.building.id.0,
            code: facts.code.clone(),
            name: facts.name.clone(),
            address: facts.address.clone(),
            zone: facts.time_zone.name().to_owned(),
            length_unit: facts.length_unit.code(),
        },
        today: ground.today.to_string(),
        visit: visit.map(|visit| wire::Visit {
            id: visit.id.0,
            on: visit.on_date.to_string(),
        }),
        turnover: survey.map(|survey| wire::Turnover {
            id: survey.turnover.id.0,
            stage: survey.turnover.stage.code(),
            move_out_on: survey.turnover.facts.move_out_on.to_string(),
            move_in_on: survey.turnover.facts.move_in_on.to_string(),
            note: survey.turnover.facts.note.clone(),
        }),
        load: ground.load_of_day(words),
        places: places(ground, words),
        matters: matters
            .iter()
            .filter_map(|(id, said)| matter(ground, *id, *said, words))
            .collect(),
        standing: ground
            .wrong
            .iter()
            .map(|one| standing(ground, survey, one, &items, words))
            .collect(),
        items,
    };
    Ok(Fetched {
        unit: ground.unit.id,
        list,
        wrong: ground.wrong.iter().map(|one| wrong(ground, one)).collect(),
    })
}

fn wrong(ground: &Ground<'_>, one: &Deficiency) -> Wrong {
    let check = one.check.and_then(|check| ground.checks.get(&check));
    Wrong::of(one, check.map_or("", |check| check.code.as_str()))
}

fn places(ground: &Ground<'_>, words: &Words) -> Vec<wire::Place> {
    let places = ground.places.iter().map(|(tag, label, room)| {
        let there = ground.spots.iter().find(|spot| spot.tag == *tag);
        wire::Place {
            tag: tag.0,
            label: label.clone(),
            room: room.clone(),
            fixture: there.map(|spot| spot.fixture.0),
            kind: there.map_or("", |spot| spot.kind.code()),
            kind_name: there.map_or_else(String::new, |spot| words.kind(spot.kind)),
            codes: ground.codes.get(tag).cloned().unwrap_or_default(),
            ..wire::Place::default()
        }
    });
    places.collect()
}

fn key(asked: &Asked) -> String {
    let (fixture, part, _) = asked.spot;
    format!(
        "{fixture}.{}.{}.{}",
        part.map_or("", |part| part.code()),
        asked.check.code,
        asked.stage.map_or("", |stage| stage.code())
    )
}

fn item(
    ground: &Ground<'_>,
    asked: &Asked,
    names: &HashMap<PersonId, String>,
    words: &Words,
) -> Result<wire::Item> {
    let (fixture, part, _) = asked.spot;
    let check = &asked.check;
    let said = words.check(check);
    let severity = ground.severity(fixture, check);
    let window = ground.windows.get(&asked.spot);
    let window = window.filter(|window| window.state(ground.today) != State::Later);
    let kind = ground
        .spots
        .iter()
        .find(|spot| spot.fixture == fixture)
        .map(|spot| spot.kind);
    let is_flush = check.code.as_str() == flush::CHECK;
    Ok(wire::Item {
        key: key(asked),
        place: asked.place,
        fixture: fixture.0,
        part: part.map_or("", |part| part.code()),
        part_name: part.map_or_else(String::new, |part| words.part(part)),
        check: check.code.to_string(),
        version: check.version,
        stage: asked.stage.map_or("", |stage| stage.code()),
        group: check.group.code(),
        answer: wanted(ground, check, &said, words)?,
        title: said.title,
        ask: said.ask,
        method: said.method,
        cautions: words.cautions(check, kind),
        performer: words.performer(check.performer),
        severity: severity.code(),
        severity_name: words.severity(severity),
        is_grave: severity.is_grave(),
        flushes: is_flush.then_some(flushes(asked.stage)),
        due: window.map_or_else(String::new, |window| words.due(window, ground.today)),
        is_over: window.is_some_and(|window| window.state(ground.today) == State::Overdue),
        rechecks: asked.rechecks.iter().map(|id| id.0).collect(),
        minutes: check.minutes,
        is_answered: asked.is_answered,
        last: asked
            .last
            .as_ref()
            .map(|entry| last(ground, check, entry, names, words)),
    })
}

fn wanted(ground: &Ground<'_>, check: &Check, said: &CheckWords, words: &Words) -> Result<wire::Wanted> {
    let context = ground.context();
    let (unit, limits) = match &check.answer {
        Answer::Verdict { .. } => {
            return Ok(wire::Wanted::Verdict {
                pass: said.pass.clone(),
                fail: said.fail.clone(),
            });
        }
        Answer::Reading { unit, limits, .. } => (bare_unit(*unit, context.length_unit), limits),
    };
    let builtin = catalogue::builtin().map_err(Error::internal)?;
    let likely = likely(builtin, check).map_err(Error::internal)?;
    let limits = limits.iter().filter(|limit| limit.holds_under(&context.profile));
    let limits: Result<Vec<wire::Limit>> = limits
        .map(|limit| {
            let bar = Amount::parse(&limit.value, unit);
            Ok(wire::Limit {
                bound: limit.bound.code(),
                value: limit.value.clone(),
                exact: exact_amount(&bar.map_err(Error::internal)?),
                source: words.source(&limit.source),
            })
        })
        .collect();
    let quantity = unit.quantity();
    let is_time = quantity == Quantity::Time;
    Ok(wire::Wanted::Reading {
        of: said.pass.clone(),
        unit: unit.symbol(),
        bare: unit.code(),
        quantity: quantity.code(),
        limits: limits?,
        likely: likely.map(|(least, most)| (exact_amount(&least), exact_amount(&most))),
        tool: if is_time { "stopwatch" } else { "" },
    })
}

fn last(
    ground: &Ground<'_>,
    check: &Check,
    entry: &Entry,
    names: &HashMap<PersonId, String>,
    words: &Words,
) -> wire::Last {
    let who = entry
        .person
        .map(|person| names.get(&person).cloned().unwrap_or_default());
    wire::Last {
        outcome: entry.outcome.code(),
        said: words.answered(check, entry, answered::in_words(check, entry, &ground.context())),
        who: who.unwrap_or_else(|| "command line".to_owned()),
        at: instant::text(entry.done_at),
    }
}

fn matter(ground: &Ground<'_>, id: DeficiencyId, is_answered: bool, words: &Words) -> Option<wire::Matter> {
    let one = ground.wrong.iter().find(|one| one.id == id)?;
    Some(wire::Matter {
        deficiency: id.0,
        title: title(ground, one, words),
        severity: one.severity.code(),
        severity_name: words.severity(one.severity),
        place: ground.places.iter().position(|(tag, ..)| Some(*tag) == one.tag),
        status: one.status.code(),
        is_answered,
    })
}

fn title(ground: &Ground<'_>, one: &Deficiency, words: &Words) -> String {
    let check = one.check.and_then(|check| ground.checks.get(&check));
    words.deficiency(check.map(Arc::as_ref), &one.title)
}

fn standing(
    ground: &Ground<'_>,
    survey: Option<&Survey>,
    one: &Deficiency,
    items: &[wire::Item],
    words: &Words,
) -> wire::Standing {
    let again = items.iter().find(|item| item.rechecks.contains(&one.id.0));
    wire::Standing {
        deficiency: one.id.0,
        title: title(ground, one, words),
        severity: one.severity.code(),
        severity_name: words.severity(one.severity),
        status: one.status.code(),
        is_waived: survey.is_some_and(|survey| blocks::is_waived(one, &survey.waivers, survey.days())),
        place: ground.label(one.tag).to_owned(),
        repaired_at: one.repaired_at.map(instant::text),
        recheck: again.map_or_else(String::new, |item| item.key.clone()),
    }
}
