//! What the signed record of a turnover says: dates and names, every item with its answers, what stays open, what was put right, what
//! was waived, what came late, the photos, and the cautions. Nothing of the residents stands in it, since it is kept for ever.

pub(super) mod copy;
mod deficiencies;
mod photos;

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use chrono::{NaiveDate, NaiveDateTime};

use crate::domain::register::CheckId;
use crate::domain::result::{Deficiency, Outcome};
use crate::domain::trade::caution::{DEFERENCE, GAS_SMELL};
use crate::domain::trade::outcome::Context;
use crate::domain::trade::{Caution, Check, TurnoverStage};
use crate::domain::turnover::{Answer, Item, RoomWalk, Turnover, answered};
use crate::exchange::evidence;
use crate::exchange::paper::{Paper, Row, Section, Signature, Weight};
use crate::language;
use crate::store::deficiencies::Event;
use crate::store::lists::turnovers::Survey;
use crate::store::photos::Photo;

/// What stands before the SHA-256 of the manifest in every form of a record.
pub(super) const MARK: &str = "anglestop-record-";

const STAGES: [TurnoverStage; 3] = [TurnoverStage::Found, TurnoverStage::Ready, TurnoverStage::MoveIn];

/// A turnover at the moment of its closing.
pub(super) struct Closing<'a> {
    /// As it was before.
    pub survey: &'a Survey,
    /// As it is after.
    pub closed: &'a Turnover,
    /// Number of the record in its building.
    pub number: i64,
    /// The account that closed it.
    pub closed_by: &'a str,
    /// What was closed since the opening.
    pub put_right: &'a [Deficiency],
    /// What was done about deficiencies, in the order in which it was done.
    pub repairs: &'a [Event],
    /// Procedures as they were asked, where today's are others.
    pub earlier: &'a HashMap<(CheckId, i64), Arc<Check>>,
    /// The photos in the order in which they were taken, each with its bytes as far as it is there.
    pub photos: &'a [(Photo, Option<Vec<u8>>)],
    /// SHA-256 of what the record is made from.
    pub manifest: &'a str,
}

fn date(day: NaiveDate) -> String {
    day.format("%a %-d %b %Y").to_string()
}

impl Closing<'_> {
    fn when(&self, at: NaiveDateTime) -> String {
        self.survey.local(at).format("%a %-d %b %Y, %H:%M").to_string()
    }

    fn local_day(&self, at: NaiveDateTime) -> String {
        date(self.survey.local(at).date())
    }
}

/// The record as a paper.
pub(super) fn compose(closing: &Closing<'_>) -> Paper {
    let survey = closing.survey;
    let building = &survey.building.facts;
    let walk = survey.list.walk(&STAGES);
    // On a phone without signal it is signed before it is closed.
    let signed_at = closing.closed.signed_at.or(closing.closed.closed_at);
    let mut sections: Vec<Section> = walk.iter().map(|room| of_room(closing, room)).collect();
    sections.extend(deficiencies::sections(closing));
    sections.extend(late(closing));
    sections.extend(photos::of_record(closing));
    sections.extend(cautions(&survey.list.items));
    Paper {
        title: format!("Turnover record {}", closing.number),
        subject: format!("{} ({}), unit {}", building.name, building.code, survey.unit.facts.label),
        facts: facts(closing),
        sections,
        signatures: vec![Signature {
            name: closing.closed.signed_name.clone(),
            drawn: closing.closed.signature.clone(),
            beneath: format!(
                "Signed {} · account: {}",
                signed_at.map(|at| closing.when(at)).unwrap_or_default(),
                closing.closed_by
            ),
        }],
        foot: vec![
            "This record was made when the turnover was closed and is kept unchanged; its SHA-256 stands in the office's register.".to_owned(),
            format!(
                "Made from a list of every result, deficiency, waiver and photo whose SHA-256 is {}. The command anglestop verify turnover {} holds the list, this record and its photos against what is stored.",
                closing.manifest, closing.closed.id
            ),
            format!("Times are those of {}. What was seen counts on the day it was seen.", building.time_zone),
            format!("Which list a new household is given, and when it is signed, is a matter of local law. {DEFERENCE}"),
        ],
        mark: mark(closing.manifest),
    }
}

/// The word for programs that says of which record a file is: it leads to the record's manifest.
pub(super) fn mark(manifest: &str) -> String {
    format!("{MARK}{manifest}")
}

fn facts(closing: &Closing<'_>) -> Vec<(String, String)> {
    let (survey, closed) = (closing.survey, closing.closed);
    let total = survey.list.total();
    let by = |at: Option<NaiveDateTime>, who: &str| {
        at.map(|at| format!("{} · {who}", closing.when(at)))
            .unwrap_or_default()
    };
    let address = survey.building.facts.address.replace('\n', ", ");
    let mut facts = vec![
        ("Turnover".to_owned(), closed.id.to_string()),
        ("Address".to_owned(), address),
        ("Move-out".to_owned(), date(closed.facts.move_out_on)),
        ("Move-in".to_owned(), date(closed.facts.move_in_on)),
        (
            "Opened".to_owned(),
            by(Some(closed.opened_at), survey.name(closed.opened_by)),
        ),
        (
            "Ready".to_owned(),
            by(closed.ready_at, survey.name(closed.ready_by)),
        ),
        ("Closed".to_owned(), by(closed.closed_at, closing.closed_by)),
        (
            "Answered".to_owned(),
            format!(
                "{} of {}{}",
                total.answered,
                language::count(total.asked, "item", "items"),
                match total.missed {
                    0 => String::new(),
                    missed => format!(", of which {missed} could not be checked"),
                }
            ),
        ),
        ("Note".to_owned(), closed.facts.note.replace('\n', " · ")),
    ];
    facts.retain(|(_, value)| !value.is_empty());
    facts
}

fn of_room(closing: &Closing<'_>, room: &RoomWalk<'_>) -> Section {
    let items = room.groups.iter().flat_map(|group| group.items());
    Section {
        heading: room_name(room),
        columns: ["Check", "Seen", "When and who"],
        rows: items.map(|item| of_item(closing, item)).collect(),
        ..Section::default()
    }
}

/// As a heading is written, whatever the register has.
fn room_name(room: &RoomWalk<'_>) -> String {
    let mut letters = room.room.chars();
    letters.next().map_or_else(
        || "Without a room".to_owned(),
        |first| first.to_uppercase().chain(letters).collect(),
    )
}

fn of_item(closing: &Closing<'_>, item: &Item) -> Row {
    let survey = closing.survey;
    let place = survey.list.places.get(item.place);
    let kind = place.and_then(|place| place.kind).map_or("", |kind| kind.name());
    let mut under = vec![
        item.check.group.name().to_owned(),
        stage_words(item.key.stage).to_owned(),
    ];
    under.extend((!kind.is_empty()).then(|| kind.to_owned()));
    under.extend(item.due.map(|due| format!("due {}", date(due))));
    under.extend(about(closing, item));
    let (mut middle, mut last) = (Vec::new(), Vec::new());
    for answer in item.answers.iter().rev() {
        middle.extend(seen(closing, item, answer));
        last.push(closing.when(answer.entry.done_at));
        last.push(survey.name(answer.entry.person).to_owned());
    }
    if item.answers.len() > 1 {
        last.push("The latest counts; the earlier ones stand beneath it.".to_owned());
    }
    let is_pass = item
        .last()
        .is_some_and(|answer| answer.entry.outcome == Outcome::Pass);
    Row {
        head: survey.list.name(item),
        under: under.join(" · "),
        middle,
        last,
        weight: if is_pass { Weight::Plain } else { Weight::Grave },
    }
}

/// What was seen, then its note.
fn seen(closing: &Closing<'_>, item: &Item, answer: &Answer) -> Vec<String> {
    let entry = &answer.entry;
    let words = answer_words(closing, item, answer);
    let words = match entry.outcome {
        Outcome::NotChecked => words,
        outcome => format!("{}: {words}", outcome.name()),
    };
    let reading = (entry.outcome == Outcome::Fail && !entry.reading.is_empty())
        .then(|| format!("Reading: {}", entry.reading));
    let note = (!entry.note.is_empty()).then(|| entry.note.replace('\n', " · "));
    let detail = Some(evidence::in_words(&entry.detail)).filter(|words| !words.is_empty());
    let asked = (!entry.asked.is_empty()).then(|| format!("Asked: {}", entry.asked));
    let photos = photos::numbers(closing, entry.client_id);
    std::iter::once(words)
        .chain(reading)
        .chain(note)
        .chain(detail)
        .chain(asked)
        .chain(photos)
        .collect()
}

/// An answer by the procedure as it was asked.
fn answer_words(closing: &Closing<'_>, item: &Item, answer: &Answer) -> String {
    let entry = &answer.entry;
    let building = &closing.survey.building.facts;
    let context = Context {
        profile: building.code_profile.clone(),
        length_unit: building.length_unit,
    };
    let asked = closing.earlier.get(&(entry.check, entry.check_version));
    answered::in_words(asked.unwrap_or(&item.check), entry, &context)
}

fn stage_words(stage: TurnoverStage) -> &'static str {
    match stage {
        TurnoverStage::Found => "as found",
        TurnoverStage::Ready => "before ready",
        TurnoverStage::MoveIn => "move-in day",
    }
}

/// Which deficiencies it opened, and which it looked at again.
fn about(closing: &Closing<'_>, item: &Item) -> Vec<String> {
    let survey = closing.survey;
    let tag = survey.list.places.get(item.place).map(|place| place.tag);
    let same = |one: &&Deficiency| {
        one.check == Some(item.key.check) && one.part == item.key.part && one.tag.is_some() && one.tag == tag
    };
    let all = survey.deficiencies.iter().chain(closing.put_right).filter(same);
    let (opened, before): (Vec<&Deficiency>, Vec<&Deficiency>) = all.partition(|one| {
        let failed =
            |answer: &Answer| answer.entry.outcome == Outcome::Fail && answer.entry.done_at == one.opened_at;
        item.answers.iter().any(failed)
    });
    let again: Vec<&Deficiency> = before
        .into_iter()
        .filter(|_| item.key.stage == TurnoverStage::Ready)
        .collect();
    let words = |what: &str, those: Vec<&Deficiency>| {
        let numbers: Vec<String> = those.iter().map(|one| format!("No. {}", one.id)).collect();
        (!numbers.is_empty()).then(|| format!("{what} {}", numbers.join(", ")))
    };
    let said = [words("opened", opened), words("re-check of", again)];
    said.into_iter().flatten().collect()
}

/// What came to the checklist after the opening.
fn late(closing: &Closing<'_>) -> Option<Section> {
    let list = &closing.survey.list;
    let items = list
        .items
        .iter()
        .filter_map(|item| Some((item.added_on?, list.name(item))));
    let matters = list.matters.iter().filter_map(|matter| {
        Some((
            matter.added_on?,
            format!("No. {}: {}", matter.deficiency, matter.title),
        ))
    });
    let lines: Vec<String> = items
        .chain(matters)
        .map(|(day, name)| format!("Added {}: {name}.", date(day)))
        .collect();
    (!lines.is_empty()).then(|| Section {
        heading: "Added after the opening".to_owned(),
        lead: lines,
        ..Section::default()
    })
}

/// The dangers that the checks of this record touch.
fn cautions(items: &[Item]) -> Option<Section> {
    let touched: BTreeSet<Caution> = items
        .iter()
        .flat_map(|item| item.check.cautions.iter().copied())
        .collect();
    let mut lead: Vec<String> = touched
        .iter()
        .map(|caution| format!("{}: {}", caution.name(), caution.advice()))
        .collect();
    if touched.contains(&Caution::Gas) {
        lead.insert(0, GAS_SMELL.to_owned());
    }
    (!lead.is_empty()).then(|| {
        lead.push(DEFERENCE.to_owned());
        Section {
            heading: "Cautions".to_owned(),
            lead,
            ..Section::default()
        }
    })
}
