//! The copy for the household that moves in: each item as it was last seen, what is not right yet, the photos, the cautions, and lines
//! to sign on. It leaves out what is the office's: notes, who did what, repairs and their cost, waivers.

use std::collections::BTreeMap;

use super::{Closing, answer_words, cautions, date, mark};
use crate::domain::register::{CheckId, DeficiencyId, FixtureId};
use crate::domain::result::{Deficiency, Outcome};
use crate::domain::trade::PartKind;
use crate::domain::trade::caution::DEFERENCE;
use crate::domain::turnover::{Answer, Item};
use crate::exchange::paper::{Paper, Row, Section, Signature, Weight};

/// An item whatever the stage.
type Place = (FixtureId, Option<PartKind>, CheckId);

/// The copy as a paper.
pub(in crate::actions::turnovers) fn compose(closing: &Closing<'_>) -> Paper {
    let survey = closing.survey;
    let building = &survey.building.facts;
    let last = last_seen(&survey.list.items);
    let mut sections = rooms(closing, &last);
    sections.push(not_right(closing));
    sections.extend(super::photos::of_copy(closing));
    sections.extend(cautions(&survey.list.items));
    Paper {
        title: format!("Move-in copy of turnover record {}", closing.number),
        subject: format!(
            "{} ({}), unit {}",
            building.name, building.code, survey.unit.facts.label
        ),
        facts: vec![
            ("Address".to_owned(), building.address.replace('\n', ", ")),
            ("Move-in".to_owned(), date(closing.closed.facts.move_in_on)),
            (
                "Looked at".to_owned(),
                format!("by the office, last on {}", last_day(closing, &last)),
            ),
        ]
        .into_iter()
        .filter(|(_, value)| !value.is_empty())
        .collect(),
        sections,
        signatures: vec![
            to_sign("For the household: name, signature and day"),
            to_sign("For the office: name, signature and day"),
        ],
        foot: vec![
            format!(
                "Signing says that this list was received and looked through; write beside it what you find otherwise. Which list a new household must be given, when it is signed and what follows from it is a matter of local law, which goes before this copy. {DEFERENCE}"
            ),
            format!(
                "Each check is shown as it was last seen before the move-in. Times are those of {}. The office keeps the whole record, made from a list whose SHA-256 is {}.",
                building.time_zone, closing.manifest
            ),
        ],
        mark: mark(closing.manifest),
    }
}

fn to_sign(words: &str) -> Signature {
    Signature {
        beneath: words.to_owned(),
        ..Signature::default()
    }
}

/// The item with the latest answer of each check at each place.
fn last_seen(items: &[Item]) -> BTreeMap<Place, &Item> {
    let mut last: BTreeMap<Place, &Item> = BTreeMap::new();
    for item in items {
        let place = (item.key.fixture, item.key.part, item.key.check);
        let is_later = last.get(&place).is_none_or(|other| at(other) <= at(item));
        if is_later {
            last.insert(place, item);
        }
    }
    last
}

fn at(item: &Item) -> Option<(chrono::NaiveDateTime, crate::domain::register::ResultId)> {
    item.last().map(|answer| (answer.entry.done_at, answer.id))
}

fn last_day(closing: &Closing<'_>, last: &BTreeMap<Place, &Item>) -> String {
    let latest = last.values().filter_map(|item| at(item)).max();
    latest.map_or_else(String::new, |(at, _)| closing.local_day(at))
}

fn rooms(closing: &Closing<'_>, last: &BTreeMap<Place, &Item>) -> Vec<Section> {
    let walk = closing.survey.list.walk(&super::STAGES);
    let rooms = walk.iter().map(|room| {
        let items = room.groups.iter().flat_map(|group| group.items());
        let shown = items.filter(|item| {
            let place = (item.key.fixture, item.key.part, item.key.check);
            last.get(&place).is_some_and(|latest| latest.key == item.key)
        });
        Section {
            heading: super::room_name(room),
            columns: ["Check", "As last seen", "When"],
            rows: shown.map(|item| row(closing, item)).collect(),
            ..Section::default()
        }
    });
    rooms.filter(|section| !section.rows.is_empty()).collect()
}

fn row(closing: &Closing<'_>, item: &Item) -> Row {
    let is_pass = |answer: &Answer| answer.entry.outcome == Outcome::Pass;
    let place = closing.survey.list.places.get(item.place);
    Row {
        head: closing.survey.list.name(item),
        under: place
            .and_then(|place| place.kind)
            .map_or_else(String::new, |kind| kind.name().to_owned()),
        middle: match item.last() {
            None => vec!["Not looked at".to_owned()],
            Some(answer) => {
                let photos = super::photos::numbers(closing, answer.entry.client_id);
                std::iter::once(state(closing, item, answer))
                    .chain(photos)
                    .collect()
            }
        },
        last: item
            .last()
            .map(|answer| closing.local_day(answer.entry.done_at))
            .into_iter()
            .collect(),
        weight: if item.last().is_some_and(is_pass) {
            Weight::Plain
        } else {
            Weight::Grave
        },
    }
}

/// The answer in words. Why something could not be checked is the office's: it may tell of those who lived there.
fn state(closing: &Closing<'_>, item: &Item, answer: &Answer) -> String {
    match answer.entry.outcome {
        Outcome::NotChecked => "Could not be checked".to_owned(),
        outcome => format!("{}: {}", outcome.name(), answer_words(closing, item, answer)),
    }
}

/// What is deficient at the move-in: what it is, and until when the office puts it right.
fn not_right(closing: &Closing<'_>) -> Section {
    let places = &closing.survey.list.places;
    let row = |one: &Deficiency| {
        let place = places.iter().find(|place| Some(place.tag) == one.tag);
        Row {
            head: format!("{}: {}", number(one.id), one.title),
            under: place.map_or_else(String::new, |place| {
                let kind = place.kind.map_or("", |kind| kind.name());
                format!("{} {kind}", place.label).trim().to_owned()
            }),
            middle: vec![one.status.name().to_owned()],
            last: one
                .correct_by
                .map(|by| format!("to be right by {}", closing.when(by)))
                .into_iter()
                .collect(),
            weight: Weight::Grave,
        }
    };
    let rows: Vec<Row> = closing.survey.deficiencies.iter().map(row).collect();
    Section {
        heading: "Not right yet".to_owned(),
        lead: if rows.is_empty() {
            vec!["Nothing is known to be wrong.".to_owned()]
        } else {
            Vec::new()
        },
        columns: ["What", "State", "Deadline"],
        rows,
        ..Section::default()
    }
}

fn number(id: DeficiencyId) -> String {
    format!("No. {id}")
}
