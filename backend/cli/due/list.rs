//! Gathers due items of many buildings, keeps those in the wanted states, and orders them. Small rows, so that a fleet fits.

use std::collections::HashMap;

use chrono::NaiveDate;

use crate::domain::code::Coded;
use crate::domain::due::{Anchor, Book, ClosedDays, DueRow, State, missed};
use crate::domain::register::{Building, CheckId, ScheduleId};
use crate::error::Result;
use crate::exchange::due_line::DueLine;
use crate::store::AnyConnection;
use crate::store::due::{Place, compute_building};

/// A due item, with where to find the rest of it.
struct Entry {
    building: usize,
    place: usize,
    row: DueRow,
}

struct Asked {
    code: String,
    day: NaiveDate,
    closed: ClosedDays,
}

/// Due items in the order of a list.
pub struct DueList {
    book: Book,
    states: Vec<State>,
    /// Which schedules' items are kept; every one's when empty.
    asking: Vec<ScheduleId>,
    buildings: Vec<Asked>,
    places: Vec<Place>,
    entries: Vec<Entry>,
}

impl DueList {
    pub fn new(book: Book, states: Vec<State>, asking: Vec<ScheduleId>) -> Self {
        Self {
            book,
            states,
            asking,
            buildings: Vec::new(),
            places: Vec::new(),
            entries: Vec::new(),
        }
    }

    /// Adds what is due in a building on a day.
    pub fn add(&mut self, conn: &mut AnyConnection, building: &Building, day: NaiveDate) -> Result<()> {
        let mut computed = compute_building(conn, &self.book, building.id, day)?;
        let at = self.buildings.len();
        self.buildings.push(Asked {
            code: building.facts.code.clone(),
            day,
            closed: computed.closed.remove(&building.id).unwrap_or_default(),
        });
        // Places without an item in these states are not kept.
        let mut kept: HashMap<usize, usize> = HashMap::new();
        let mut places: Vec<Option<Place>> = computed.places.into_iter().map(Some).collect();
        for (place, row) in computed.rows {
            let is_asked = self.asking.is_empty() || self.asking.contains(&row.schedule);
            if !is_asked || !self.states.contains(&row.item.window.state(day)) {
                continue;
            }
            let next = self.places.len();
            let index = *kept.entry(place).or_insert(next);
            if index == next
                && let Some(place) = places.get_mut(place).and_then(Option::take)
            {
                self.places.push(place);
            }
            self.entries.push(Entry {
                building: at,
                place: index,
                row,
            });
        }
        Ok(())
    }

    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Last day, building, unit, tag, part, check.
    pub fn sort(&mut self) {
        let Self {
            book,
            buildings,
            places,
            entries,
            ..
        } = self;
        entries.sort_by(|a, b| {
            let place = |entry: &Entry| {
                places.get(entry.place).map(|place| {
                    (
                        place.unit_order.as_str(),
                        place.unit_label.as_str(),
                        place.tag_order.as_str(),
                        place.tag_label.as_str(),
                    )
                })
            };
            let building = |entry: &Entry| {
                buildings
                    .get(entry.building)
                    .map(|building| building.code.as_str())
            };
            let part = |entry: &Entry| entry.row.part.map_or("", Coded::code);
            let last_day = |entry: &Entry| entry.row.item.window.last_day();
            last_day(a)
                .cmp(&last_day(b))
                .then_with(|| building(a).cmp(&building(b)))
                .then_with(|| place(a).cmp(&place(b)))
                .then_with(|| part(a).cmp(part(b)))
                .then_with(|| check_code(book, a.row.check).cmp(check_code(book, b.row.check)))
        });
    }

    /// The items as lines.
    pub fn lines(&self) -> impl Iterator<Item = DueLine<'_>> {
        self.entries.iter().filter_map(|entry| self.line(entry))
    }

    /// The items with the day that was asked about.
    pub fn shown(&self) -> impl Iterator<Item = (NaiveDate, &DueRow, DueLine<'_>)> {
        self.entries.iter().filter_map(|entry| {
            let day = self.buildings.get(entry.building)?.day;
            Some((day, &entry.row, self.line(entry)?))
        })
    }

    fn line(&self, entry: &Entry) -> Option<DueLine<'_>> {
        let building = self.buildings.get(entry.building)?;
        let place = self.places.get(entry.place)?;
        let schedule = self.book.schedule(entry.row.schedule)?;
        let timing = &schedule.terms.timing;
        let item = &entry.row.item;
        let window = &item.window;
        Some(DueLine {
            building: &building.code,
            unit: &place.unit_label,
            fixture: &place.tag_label,
            part: entry.row.part.map(Coded::code),
            check: check_code(&self.book, entry.row.check),
            schedule: &schedule.terms.code,
            anchor: timing.anchor().code(),
            rule: timing.anchor().text(),
            start: match timing.anchor() {
                Anchor::Calendar(rule) => Some(rule.start()),
                Anchor::LastDone(_) => None,
            },
            lead_days: timing.lead_days(),
            grace_days: timing.grace_days(),
            early_days: timing.early_days(),
            basis: item.basis.code(),
            counts_from: item.counts_from,
            opens: window.opens(),
            due: window.due(),
            last_day: window.last_day(),
            state: window.state(building.day).code(),
            days_overdue: window.days_overdue(building.day),
            missed: missed(timing, item, &building.closed, building.day),
            moved_from: item.moved_from,
        })
    }
}

fn check_code(book: &Book, id: CheckId) -> &str {
    book.check(id).map_or("", |asked| asked.check.code.as_str())
}
