//! Writes the checklist of a unit for a phone: its places, what is asked at each, what is wrong, what to take along. Nothing of residents,
//! entry or cost is read here, so none can be written.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use chrono::NaiveDate;

use super::asked::{self, Asked, Everything};
use super::fetch::{Fetched, Wrong};
use super::words::Words;
use crate::actions::measures::flush;
use crate::domain::code::Coded as _;
use crate::domain::due::{State, Window};
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{Building, CheckId, DeficiencyId, FixtureId, Part, PersonId, TagId, Unit};
use crate::domain::result::setting::Use;
use crate::domain::result::{Deficiency, DeficiencyStatus, Entry, Neighbour, setting};
use crate::domain::trade::life::{Item, Lives};
use crate::domain::trade::likely::likely;
use crate::domain::trade::outcome::{Context, bare_unit};
use crate::domain::trade::{Answer, Check, PartKind, Severity};
use crate::domain::turnover::{answered, blocks};
use crate::domain::visit::Visit;
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::exchange::phone::measures::exact_amount;
use crate::exchange::phone::{instant, units as wire};
use crate::store::checks::StoredCheck;
use crate::store::lists::deficiencies::names;
use crate::store::lists::record;
use crate::store::lists::turnovers::Survey;
use crate::store::spots::Spot;
use crate::store::{AnyConnection, deficiencies, labels, parts, spots};

/// Flushes at a turnover: three to five by common practice, so that what clogs at the second is seen.
const FLUSHES_AT_TURNOVER: u32 = 3;

/// What is known of a unit.
pub(super) struct Ground<'a> {
    pub building: Building,
    pub unit: Unit,
    pub today: NaiveDate,
    pub spots: Vec<Spot>,
    pub places: Vec<(TagId, String, String)>,
    pub wrong: Vec<Deficiency>,
    pub checks: HashMap<CheckId, Arc<Check>>,
    windows: HashMap<asked::Spot, Window>,
    parts: BTreeMap<FixtureId, Vec<Part>>,
    codes: HashMap<TagId, Vec<String>>,
    lives: &'a Lives,
}

impl<'a> Ground<'a> {
    pub fn load(
        conn: &mut AnyConnection,
        building: Building,
        unit: Unit,
        today: NaiveDate,
        checks: &[StoredCheck],
        lives: &'a Lives,
    ) -> Result<Self> {
        let spots = spots::in_unit(conn, &Scope::All, unit.id)?;
        let fixtures: Vec<FixtureId> = spots.iter().map(|spot| spot.fixture).collect();
        let rows = record::of_unit(conn, unit.id)?.into_iter();
        Ok(Self {
            places: spots::tags_of(conn, unit.id)?,
            wrong: deficiencies::standing_in(conn, &[unit.id])?,
            checks: checks
                .iter()
                .map(|stored| (stored.id, Arc::clone(&stored.check)))
                .collect(),
            windows: rows
                .map(|row| ((row.fixture, row.part, row.check), row.window))
                .collect(),
            parts: parts::in_service_of(conn, &fixtures)?,
            codes: labels::codes_of_unit(conn, unit.id)?,
            building,
            unit,
            today,
            spots,
            lives,
        })
    }

    pub fn has(&self, fixture: FixtureId, kind: PartKind) -> bool {
        let parts = self.parts.get(&fixture);
        parts.is_some_and(|parts| parts.iter().any(|part| part.facts.kind == kind))
    }

    /// The rank of each place's room: rooms come in the order of their first place.
    pub fn room_ranks(&self) -> Vec<usize> {
        let mut ranks: HashMap<&str, usize> = HashMap::new();
        let rooms = self.places.iter().map(|(_, _, room)| room.as_str());
        rooms
            .map(|room| {
                let next = ranks.len();
                *ranks.entry(room).or_insert(next)
            })
            .collect()
    }

    fn context(&self) -> Context {
        Context {
            profile: self.building.facts.code_profile.clone(),
            length_unit: self.building.facts.length_unit,
        }
    }

    fn label(&self, tag: Option<TagId>) -> &str {
        let place = self.places.iter().find(|(known, ..)| Some(*known) == tag);
        place.map_or("", |(_, label, _)| label)
    }

    /// How grave a failure is where the fixture stands.
    fn severity(&self, fixture: FixtureId, check: &Check) -> Severity {
        let Some(spot) = self.spots.iter().find(|spot| spot.fixture == fixture) else {
            return check.severity;
        };
        let others = self.spots.iter().filter(|other| other.fixture != fixture);
        let neighbours: Vec<Neighbour> = others
            .map(|other| Neighbour {
                kind: other.kind,
                use_now: self.use_now(other.tag),
            })
            .collect();
        check.severity_in(setting(spot.unit.kind, spot.kind, &neighbours))
    }

    /// Whether what stands at a place works: no check that says it does not has a deficiency there.
    fn use_now(&self, tag: TagId) -> Use {
        let says_no = |check: CheckId| {
            let check = self.checks.get(&check);
            check.is_some_and(|check| check.severity_only_one.is_some())
        };
        let here = self
            .wrong
            .iter()
            .filter(|one| one.stands() && one.tag == Some(tag));
        if here.filter_map(|one| one.check).any(says_no) {
            Use::OutOfUse
        } else {
            Use::Works
        }
    }

    /// Parts to take along: those that open deficiencies name, and those whose useful life is over.
    fn load_of_day(&self, words: &Words) -> Vec<String> {
        let mut wanted: Vec<(PartKind, TagId)> = Vec::new();
        for one in self
            .wrong
            .iter()
            .filter(|one| one.status == DeficiencyStatus::Open)
        {
            wanted.extend(one.part.zip(one.tag));
        }
        for spot in &self.spots {
            let parts = self.parts.get(&spot.fixture).into_iter().flatten();
            let old = parts.filter(|part| self.is_worn_out(part));
            wanted.extend(old.map(|part| (part.facts.kind, spot.tag)));
        }
        let mut seen = HashSet::new();
        wanted.retain(|one| seen.insert(*one));
        wanted
            .into_iter()
            .map(|(part, tag)| words.load(part, self.label(Some(tag))))
            .collect()
    }

    fn is_worn_out(&self, part: &Part) -> bool {
        let life = self.lives.of.get(&Item::Part(part.facts.kind));
        let age = part.facts.installed.age_years(self.today).map(f64::from);
        matches!((age, life), (Some(age), Some(life)) if age >= life.mean_years)
    }
}

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
    Wrong {
        id: one.id,
        tag: one.tag,
        part: one.part,
        check: check.map_or_else(String::new, |check| check.code.to_string()),
    }
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
        is_grave: matches!(severity, Severity::LifeThreatening | Severity::Severe),
        flushes: is_flush.then_some(if asked.stage.is_some() {
            FLUSHES_AT_TURNOVER
        } else {
            1
        }),
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

fn wanted(
    ground: &Ground<'_>,
    check: &Check,
    said: &super::words::CheckWords,
    words: &Words,
) -> Result<wire::Wanted> {
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
            let bar = crate::domain::measure::Amount::parse(&limit.value, unit);
            Ok(wire::Limit {
                bound: limit.bound.code(),
                value: limit.value.clone(),
                exact: exact_amount(&bar.map_err(Error::internal)?),
                source: words.source(&limit.source),
            })
        })
        .collect();
    let quantity = unit.quantity();
    let is_time = quantity == crate::domain::measure::Quantity::Time;
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
        title: one.title.clone(),
        severity: one.severity.code(),
        severity_name: words.severity(one.severity),
        place: ground.places.iter().position(|(tag, ..)| Some(*tag) == one.tag),
        status: one.status.code(),
        is_answered,
    })
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
        title: one.title.clone(),
        severity: one.severity.code(),
        severity_name: words.severity(one.severity),
        status: one.status.code(),
        is_waived: survey.is_some_and(|survey| blocks::is_waived(one, &survey.waivers, survey.days())),
        place: ground.label(one.tag).to_owned(),
        repaired_at: one.repaired_at.map(instant::text),
        recheck: again.map_or_else(String::new, |item| item.key.clone()),
    }
}
