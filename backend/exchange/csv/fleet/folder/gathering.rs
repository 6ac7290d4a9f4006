//! Rows of the folder's files while they are gathered into a statement, each put to what it belongs to.

use std::collections::HashMap;

use super::{Folder, text};
use crate::domain::code::Coded;
use crate::domain::field::FieldError;
use crate::domain::trade::PartKind;
use crate::exchange::csv::fleet::columns::{
    BUILDING, BUILDING_FACTS, FIXTURE, FolderFile, HOUSEHOLD, NOTE, PART, PORTFOLIO, PRIOR_DONE, REPLACES,
    ROOM, ROOM_ORDER, TAG, UNIT, UNIT_FACTS,
};
use crate::exchange::csv::fleet::record::{Place, Record};
use crate::exchange::csv::fleet::statement::{
    FixtureSaid, PartsSaid, PriorSaid, RoomSaid, Statement, TagSaid, UnitSaid,
};
use crate::exchange::csv::{Column, Problem};

/// A statement while the files come in.
pub(super) struct Gathering<'o, 'f> {
    pub(super) folder: &'o Folder<'f>,
    pub(super) statement: Statement,
    pub(super) units: HashMap<String, usize>,
    pub(super) tags: HashMap<(usize, String), usize>,
    pub(super) problems: Vec<Problem>,
}

impl Gathering<'_, '_> {
    pub(super) fn all(&mut self) {
        self.building();
        self.each(FolderFile::Units, &UNIT_FACTS, |this, key, record| {
            let at = this.unit(&key, &record.place);
            let said = this.statement.units.get(at).and_then(|unit| unit.record.as_ref());
            if let Some(first) = said {
                let problem = twice(&record, UNIT.name, &key.unit, first);
                this.problems.push(problem);
            } else if let Some(unit) = this.statement.units.get_mut(at) {
                unit.record = Some(record);
            }
        });
        self.each(FolderFile::Households, &HOUSEHOLD, |this, key, record| {
            let at = this.unit(&key, &record.place);
            if let Some(unit) = this.statement.units.get_mut(at) {
                unit.households.push(record);
            }
        });
        self.each(FolderFile::Rooms, &[ROOM, ROOM_ORDER], |this, key, record| {
            this.room(&key, record)
        });
        self.each(FolderFile::Tags, &[TAG, ROOM], |this, key, record| {
            this.place(&key, record)
        });
        let fixture = [&FIXTURE[..], &[REPLACES, NOTE]].concat();
        self.each(FolderFile::Fixtures, &fixture, |this, key, record| {
            this.fixture(&key, record)
        });
        if self.folder.sheets.contains_key(&FolderFile::Parts) {
            self.each(FolderFile::Parts, &PART[1..], |this, key, record| {
                this.part(&key, record)
            });
        }
        self.each(FolderFile::PriorDone, &PRIOR_DONE, |this, key, record| {
            this.prior(&key, &record)
        });
    }

    fn building(&mut self) {
        let Some(buildings) = self.folder.sheets.get(&FolderFile::Buildings) else {
            return;
        };
        let code = self.statement.code.clone();
        buildings.each(
            &code,
            &[&BUILDING_FACTS[..], &[PORTFOLIO]].concat(),
            |_, record| {
                if let Some(first) = &self.statement.building {
                    self.problems.push(twice(&record, BUILDING.name, &code, first));
                    return;
                }
                let mut portfolio = Record::new(record.place.clone());
                portfolio.say(PORTFOLIO.name, record.text(PORTFOLIO.name));
                self.statement.portfolio = Some(portfolio);
                self.statement.building = Some(record);
            },
        );
    }

    /// Gives each row of a file with what it belongs to.
    fn each(&mut self, file: FolderFile, columns: &[Column], mut take: impl FnMut(&mut Self, Key, Record)) {
        let Some(indexed) = self.folder.sheets.get(&file) else {
            return;
        };
        let code = self.statement.code.clone();
        indexed.each(&code, columns, |row, record| {
            let sheet = &indexed.sheet;
            let key = Key {
                unit: text(sheet, row, UNIT.name).to_owned(),
                tag: text(sheet, row, TAG.name).to_uppercase(),
                number: text(sheet, row, "number").to_owned(),
            };
            take(self, key, record);
        });
    }

    fn unit(&mut self, key: &Key, place: &Place) -> usize {
        if let Some(known) = self.units.get(&key.unit) {
            return *known;
        }
        let units = &mut self.statement.units;
        units.push(UnitSaid {
            label: key.unit.clone(),
            record: None,
            place: place.clone(),
            households: Vec::new(),
            rooms: Vec::new(),
            tags: Vec::new(),
        });
        self.units.insert(key.unit.clone(), units.len() - 1);
        units.len() - 1
    }

    fn room(&mut self, key: &Key, record: Record) {
        let at = self.unit(key, &record.place);
        let Some(unit) = self.statement.units.get_mut(at) else {
            return;
        };
        let name = record.text(ROOM.name).to_owned();
        match unit.rooms.iter().find(|room| room.name == name) {
            Some(first) => self
                .problems
                .push(twice(&record, ROOM.name, &name, &first.record)),
            None => unit.rooms.push(RoomSaid { name, record }),
        }
    }

    fn tag(&mut self, key: &Key, place: &Place) -> Option<&mut TagSaid> {
        let unit = self.unit(key, place);
        let tags = &mut self.statement.units.get_mut(unit)?.tags;
        let at = *self.tags.entry((unit, key.tag.clone())).or_insert_with(|| {
            tags.push(TagSaid {
                label: key.tag.clone(),
                record: None,
                place: place.clone(),
                fixtures: Vec::new(),
                prior_done: Vec::new(),
            });
            tags.len() - 1
        });
        tags.get_mut(at)
    }

    fn place(&mut self, key: &Key, record: Record) {
        let place = record.place.clone();
        let Some(tag) = self.tag(key, &place) else { return };
        if let Some(first) = &tag.record {
            let problem = twice(&record, TAG.name, &key.tag, first);
            self.problems.push(problem);
        } else {
            tag.record = Some(record);
        }
    }

    fn fixture(&mut self, key: &Key, record: Record) {
        let parts = if self.folder.sheets.contains_key(&FolderFile::Parts) {
            PartsSaid::Each(Vec::new())
        } else {
            PartsSaid::Nothing
        };
        let place = record.place.clone();
        let Some(tag) = self.tag(key, &place) else { return };
        let first = tag
            .fixtures
            .iter()
            .find(|other| other.number.as_ref() == Some(&key.number));
        if let Some(first) = first {
            let problem = twice(&record, "number", &key.number, &first.record);
            self.problems.push(problem);
            return;
        }
        tag.fixtures.push(FixtureSaid {
            record,
            number: Some(key.number.clone()),
            parts,
        });
    }

    fn part(&mut self, key: &Key, record: Record) {
        let place = record.place.clone();
        let Some(tag) = self.tag(key, &place) else { return };
        let fixture = tag
            .fixtures
            .iter_mut()
            .find(|fixture| fixture.number.as_ref() == Some(&key.number));
        if let Some(FixtureSaid {
            parts: PartsSaid::Each(parts),
            ..
        }) = fixture
        {
            parts.push(record);
            return;
        }
        self.problems.push(Problem::new(
            &place.file,
            place.line,
            "number",
            &key.number,
            format!(
                "There is no fixture {} at {} of unit {} in fixtures.csv.",
                key.number, key.tag, key.unit
            ),
            "Add a row for it to fixtures.csv, or mend tag and number.",
        ));
    }

    fn prior(&mut self, key: &Key, record: &Record) {
        let part = match record.text("part") {
            "" => None,
            code => match PartKind::from_code(code) {
                Ok(part) => Some(part),
                Err(sentence) => {
                    let error = FieldError::new("part", sentence);
                    self.problems.extend(record.problems_of(&[error], &[]));
                    return;
                }
            },
        };
        let said = PriorSaid {
            check: record.text("check").to_owned(),
            part,
            column: "done_on".to_owned(),
            day: record.text("done_on").to_owned(),
            place: record.place.clone(),
        };
        if said.day.is_empty() {
            self.problems.push(record.problem(
                "done_on",
                "The day is missing.",
                "Give it, or take the row out.",
            ));
            return;
        }
        if let Some(tag) = self.tag(key, &record.place) {
            tag.prior_done.push(said);
        }
    }
}

/// What a row belongs to.
struct Key {
    unit: String,
    tag: String,
    number: String,
}

fn twice(record: &Record, column: &str, value: &str, first: &Record) -> Problem {
    Problem::new(
        &record.place.file,
        record.place.line,
        column,
        value,
        format!("Line {} speaks of the same one.", first.place.line),
        "Take one of the two rows out.",
    )
}
