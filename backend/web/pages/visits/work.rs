//! What a visit can serve or serves, as rows in the order of a walk: room by room, a dry look before water, water before measuring.

use std::collections::HashMap;

use chrono::NaiveDate;

use crate::actions::deficiencies::Titles;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::due::Window;
use crate::domain::register::person::Actor;
use crate::domain::register::{CheckId, DeficiencyId, FixtureId, UnitId};
use crate::domain::result::Deficiency;
use crate::domain::visit::Service;
use crate::error::Result;
use crate::language::Language;
use crate::picture::window_line::{WindowLine, window_line};
use crate::store::checks::StoredCheck;
use crate::store::lists::due::Key;
use crate::store::lists::record;
use crate::store::spots::Spot;
use crate::store::{AnyConnection, checks, deficiencies, spots};
use crate::web::pages::deficiencies::words;
use crate::web::pages::due::key_text;

/// A check that a visit can serve.
#[derive(Debug, Clone)]
pub struct CheckRow {
    pub item: Key,
    /// As forms carry it.
    pub key: String,
    pub place: String,
    pub title: String,
    pub minutes: f64,
    /// When it is due; none when nothing asks for it any more.
    pub window: Option<Window>,
    pub window_svg: String,
    pub state: &'static str,
    pub words: String,
    /// The due date; empty when nothing asks for it any more.
    pub due: String,
    /// Whether a form shows it ticked.
    pub is_chosen: bool,
}

/// A deficiency that a visit can serve.
#[derive(Debug, Clone)]
pub struct RepairRow {
    pub id: DeficiencyId,
    pub place: String,
    pub title: String,
    pub severity: &'static str,
    pub severity_words: String,
    pub lateness: &'static str,
    pub until: String,
    pub stands: String,
    /// Whether a form shows it ticked.
    pub is_chosen: bool,
}

/// What stands in a unit and what is asked there.
pub struct Walk {
    spots: Vec<Spot>,
    checks: HashMap<CheckId, StoredCheck>,
    windows: HashMap<Key, Window>,
    today: NaiveDate,
    language: Language,
}

impl Walk {
    /// Reads it for a unit that the person sees.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn load(conn: &mut AnyConnection, actor: &Actor, unit: UnitId, today: NaiveDate) -> Result<Self> {
        let rows = record::of_unit(conn, unit)?;
        Ok(Self {
            spots: spots::in_unit(conn, &actor.scope, unit)?,
            checks: checks::load_all(conn)?
                .into_iter()
                .map(|stored| (stored.id, stored))
                .collect(),
            windows: rows
                .into_iter()
                .map(|row| {
                    let (fixture, part, check) = (row.fixture, row.part, row.check);
                    (Key { fixture, part, check }, row.window)
                })
                .collect(),
            today,
            language: Language::ENGLISH,
        })
    }

    /// The same, said in a language.
    #[must_use]
    pub fn read_in(mut self, language: Language) -> Self {
        self.language = language;
        self
    }

    /// Adds fixtures that no longer stand there, so that an old visit can still be read.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn with_fixtures(
        mut self,
        conn: &mut AnyConnection,
        actor: &Actor,
        fixtures: &[FixtureId],
    ) -> Result<Self> {
        let mut missing: Vec<FixtureId> = fixtures.to_vec();
        missing.retain(|fixture| self.spots.iter().all(|spot| spot.fixture != *fixture));
        let mut gone: Vec<Spot> = spots::of_fixtures(conn, &actor.scope, &missing)?
            .into_values()
            .collect();
        gone.sort_by_key(|spot| spot.fixture);
        self.spots.extend(gone);
        Ok(self)
    }

    /// Every check that comes due in the unit.
    pub fn due(&self) -> Vec<CheckRow> {
        self.rows(self.windows.keys().copied())
    }

    /// These checks in the order of the walk.
    pub fn rows(&self, items: impl Iterator<Item = Key>) -> Vec<CheckRow> {
        let mut rows: Vec<_> = items.filter_map(|item| self.row(item)).collect();
        rows.sort_by_key(|(order, _)| *order);
        rows.into_iter().map(|(_, row)| row).collect()
    }

    fn row(&self, item: Key) -> Option<((usize, crate::domain::trade::Group, Key), CheckRow)> {
        let at = self.spots.iter().position(|spot| spot.fixture == item.fixture)?;
        let spot = self.spots.get(at)?;
        let stored = self.checks.get(&item.check)?;
        let window = self.windows.get(&item).copied();
        let room = Some(spot.room.as_str()).filter(|room| !room.is_empty());
        let part = item.part.map(|part| self.language.word(part).to_lowercase());
        let place = room
            .into_iter()
            .chain([spot.tag_label.as_str()])
            .chain(part.as_deref());
        let row = CheckRow {
            item,
            key: key_text(&item),
            place: place.collect::<Vec<_>>().join(" · "),
            title: self.language.check(&stored.check).title,
            minutes: stored.check.minutes,
            window,
            window_svg: window
                .map(|window| window_line(&WindowLine::new(window, self.today).read_in(self.language)))
                .unwrap_or_default(),
            state: window.map_or("later", |window| window.state(self.today).code()),
            words: window.map_or_else(
                || self.language.say("visit-not-asked").into(),
                |window| self.language.due(&window, self.today),
            ),
            due: window
                .map(|window| self.language.due_on(&window, self.today))
                .unwrap_or_default(),
            is_chosen: false,
        };
        Some(((at, stored.check.group, item), row))
    }
}

/// The deficiencies that stand in a unit, the gravest first.
///
/// # Errors
/// When the database does not answer.
pub fn repairs(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    language: Language,
    unit: UnitId,
) -> Result<Vec<RepairRow>> {
    let standing = deficiencies::standing_in(conn, &[unit])?;
    let titles = Titles::load(conn, language)?;
    let unit = spots::unit(conn, &actor.scope, unit)?;
    let labels = spots::tags_of(conn, unit.id)?;
    Ok(standing
        .iter()
        .map(|one| {
            let tag = labels.iter().find(|(tag, ..)| Some(*tag) == one.tag);
            repair(
                one,
                now,
                unit.building.zone,
                tag.map_or("", |(_, label, _)| label),
                &titles,
            )
        })
        .collect())
}

/// A deficiency as a row.
pub fn repair(one: &Deficiency, now: Now, zone: chrono_tz::Tz, tag: &str, titles: &Titles) -> RepairRow {
    let language = titles.language();
    RepairRow {
        id: one.id,
        place: if tag.is_empty() {
            language.say("whole-unit").into()
        } else {
            tag.to_owned()
        },
        title: titles.of(one),
        severity: one.severity.code(),
        severity_words: language.word(one.severity),
        lateness: if one.stands() {
            words::lateness(one.correct_by, now)
        } else {
            "later"
        },
        until: if one.stands() {
            words::until_in(language, one.correct_by, now, zone)
        } else {
            String::new()
        },
        stands: language.word(one.status),
        is_chosen: false,
    }
}

/// "9 checks, 35 min", with repairs when there are any.
pub fn load_in_words(language: Language, checks: usize, minutes: f64, repairs: usize) -> String {
    let mut parts = Vec::new();
    if checks > 0 {
        parts.push(language.count("figures-checks", checks));
        parts.push(format!("{minutes:.0} min"));
    }
    if repairs > 0 {
        parts.push(language.count("visit-repairs", repairs));
    }
    if parts.is_empty() {
        language.say("visit-nothing-chosen").into()
    } else {
        parts.join(" · ")
    }
}

/// What of a form or an address a visit is to serve: `item` for checks, `repair` for deficiencies.
pub fn chosen(fields: &crate::web::form::Fields) -> Vec<Service> {
    let checks = fields
        .all("item")
        .filter_map(crate::web::pages::due::read_key)
        .map(service);
    let repairs = fields
        .all("repair")
        .filter_map(|key| key.parse().ok())
        .map(|key| Service::Repair(DeficiencyId(key)));
    checks.chain(repairs).collect()
}

/// A due item as a service of a visit.
pub fn service(key: Key) -> Service {
    Service::Check {
        fixture: key.fixture,
        part: key.part,
        check: key.check,
    }
}
