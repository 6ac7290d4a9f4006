//! Rows of the one CSV while they are gathered into a statement. Cells that are repeated say nothing new; cells that differ
//! contradict each other.

use std::collections::HashMap;

use super::{NONE, OneFile, key, said};
use crate::exchange::csv::fleet::columns::{ROOM, TAG, UNIT};
use crate::exchange::csv::fleet::record::{Place, Record};
use crate::exchange::csv::fleet::statement::{
    FixtureSaid, PartsSaid, PriorSaid, RoomSaid, Statement, TagSaid, UnitSaid,
};
use crate::exchange::csv::{Problem, Row};

/// A statement while its rows come in.
pub(super) struct Gathering<'o, 'f> {
    pub(super) file: &'o OneFile<'f>,
    pub(super) statement: Statement,
    pub(super) units: HashMap<String, usize>,
    pub(super) tags: HashMap<(usize, String), usize>,
    pub(super) problems: Vec<Problem>,
}

impl Gathering<'_, '_> {
    pub(super) fn take(&mut self, row: &Row<'_>) {
        let at = &self.file.at;
        let place = self.file.place(row.at.line);
        let statement = &mut self.statement;
        for (record, group) in [
            (&mut statement.portfolio, &at.portfolio),
            (&mut statement.building, &at.building_facts),
        ] {
            if let Some(record) = record {
                repeat(record, said(row, group), &place, "building", &mut self.problems);
            }
        }
        let label = key(row, at.unit);
        if label.is_empty() {
            let groups = [&at.unit_facts, &at.room_order, &at.fixture];
            self.needs(row, UNIT.name, "unit", &groups, &place);
            return;
        }
        let unit = self.unit(label, &place);
        self.unit_facts(row, unit, &place);
        let tag = key(row, at.tag);
        if tag.is_empty() {
            self.needs(row, TAG.name, "tag", &[&at.fixture], &place);
        } else {
            self.tag(row, unit, tag, &place);
        }
    }

    /// A row without a key may say nothing that belongs to it.
    fn needs(
        &mut self,
        row: &Row<'_>,
        column: &str,
        noun: &str,
        groups: &[&Vec<(usize, &'static str)>],
        place: &Place,
    ) {
        let at = &self.file.at;
        let stray = groups.iter().find_map(|group| said(row, group).next());
        let prior = at
            .prior
            .iter()
            .find(|(index, _)| !row.cell(*index).trim().is_empty());
        let stray = stray
            .map(|(name, text)| (name.to_owned(), text))
            .or_else(|| prior.map(|(index, _)| (self.file.sheet.header()[*index].clone(), row.cell(*index))));
        if let Some((name, text)) = stray {
            self.problems.push(Problem::new(
                &place.file,
                place.line,
                column,
                "",
                format!("The row says {name} “{}”, but names no {noun}.", text.trim()),
                format!("Fill in {column}, or blank the rest of the row."),
            ));
        }
    }

    fn unit(&mut self, label: &str, place: &Place) -> usize {
        if let Some(known) = self.units.get(label) {
            return *known;
        }
        let units = &mut self.statement.units;
        units.push(UnitSaid {
            label: label.to_owned(),
            record: Some(Record::new(place.clone())),
            place: place.clone(),
            households: Vec::new(),
            rooms: Vec::new(),
            tags: Vec::new(),
        });
        self.units.insert(label.to_owned(), units.len() - 1);
        units.len() - 1
    }

    fn unit_facts(&mut self, row: &Row<'_>, unit: usize, place: &Place) {
        let at = &self.file.at;
        let Some(unit) = self.statement.units.get_mut(unit) else {
            return;
        };
        if let Some(record) = &mut unit.record {
            repeat(
                record,
                said(row, &at.unit_facts),
                place,
                "unit",
                &mut self.problems,
            );
        }
        let cell = at.room.map_or("", |index| row.cell(index).trim());
        let name = key(row, at.room);
        let mut order = said(row, &at.room_order).peekable();
        if matches!(cell, "" | NONE) {
            if let Some((_, text)) = order.peek() {
                self.problems.push(Problem::new(
                    &place.file,
                    place.line,
                    ROOM.name,
                    "",
                    format!("The row says room_order “{}”, but names no room.", text.trim()),
                    "Fill in room, or blank room_order.",
                ));
            }
            return;
        }
        let known = unit.rooms.iter().position(|room| room.name == name);
        let room = known.unwrap_or_else(|| {
            let mut record = Record::new(place.clone());
            record.say(ROOM.name, name);
            unit.rooms.push(RoomSaid {
                name: name.to_owned(),
                record,
            });
            unit.rooms.len() - 1
        });
        repeat(
            &mut unit.rooms[room].record,
            order,
            place,
            "room",
            &mut self.problems,
        );
    }

    fn tag(&mut self, row: &Row<'_>, unit: usize, label: &str, place: &Place) {
        let at = &self.file.at;
        let label = label.to_uppercase();
        let Some(unit_said) = self.statement.units.get_mut(unit) else {
            return;
        };
        let tags = &mut unit_said.tags;
        let index = *self.tags.entry((unit, label.clone())).or_insert_with(|| {
            let mut record = Record::new(place.clone());
            record.say(TAG.name, &label);
            tags.push(TagSaid {
                label,
                record: Some(record),
                place: place.clone(),
                fixtures: Vec::new(),
                prior_done: Vec::new(),
            });
            tags.len() - 1
        });
        let Some(tag) = tags.get_mut(index) else { return };
        if let Some(record) = &mut tag.record {
            let room = at.room.map(|index| (index, ROOM.name));
            repeat(
                record,
                said(row, room.as_slice()),
                place,
                "place",
                &mut self.problems,
            );
        }
        let mut record = Record::new(place.clone());
        for (name, text) in said(row, &at.fixture) {
            record.say(name, text);
        }
        tag.fixtures.push(FixtureSaid {
            record,
            number: None,
            parts: PartsSaid::Now,
        });
        let header = self.file.sheet.header();
        let days = at.prior.iter().filter_map(|(index, check)| {
            let day = row.cell(*index).trim();
            (!day.is_empty()).then(|| PriorSaid {
                check: check.check.clone(),
                part: check.part,
                column: header[*index].clone(),
                day: day.to_owned(),
                place: place.clone(),
            })
        });
        tag.prior_done.extend(days);
    }
}

/// Says cells once more of the same thing.
fn repeat<'r>(
    record: &mut Record,
    cells: impl Iterator<Item = (&'static str, &'r str)>,
    place: &Place,
    noun: &str,
    problems: &mut Vec<Problem>,
) {
    for (name, text) in cells {
        problems.extend(record.say_again(name, text, place, noun).err());
    }
}
