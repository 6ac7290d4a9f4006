//! What the signed record of a turnover says: dates and names, every item with its answers, what stays open, what was put right, what
//! was waived, what came late, and the cautions. Nothing of the residents stands in it, since it is kept for ever.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use chrono::{NaiveDate, NaiveDateTime};

use crate::domain::register::CheckId;
use crate::domain::result::{Deficiency, Outcome};
use crate::domain::trade::caution::{DEFERENCE, GAS_SMELL};
use crate::domain::trade::outcome::Context;
use crate::domain::trade::{Caution, Check, TurnoverStage};
use crate::domain::turnover::{Answer, Item, RoomWalk, Turnover, answered, blocks};
use crate::exchange::evidence;
use crate::exchange::paper::{Paper, Row, Section, Signature, Weight};
use crate::language;
use crate::store::lists::turnovers::Survey;

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
    /// Procedures as they were asked, where today's are others.
    pub earlier: &'a HashMap<(CheckId, i64), Arc<Check>>,
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
    let mut sections: Vec<Section> = walk.iter().map(|room| of_room(closing, room)).collect();
    sections.extend(deficiency_sections(closing));
    sections.extend(late(closing));
    sections.extend(cautions(&survey.list.items));
    Paper {
        title: format!("Turnover record {}", closing.number),
        subject: format!("{} ({}), unit {}", building.name, building.code, survey.unit.facts.label),
        facts: facts(closing),
        sections,
        signature: Some(Signature {
            name: closing.closed.signed_name.clone(),
            beneath: format!(
                "Signed {} · account: {}",
                closing.closed.closed_at.map(|at| closing.when(at)).unwrap_or_default(),
                closing.closed_by
            ),
        }),
        foot: vec![
            "This record was made when the turnover was closed and is kept unchanged; its SHA-256 stands in the office's register.".to_owned(),
            format!("Times are those of {}. What was seen counts on the day it was seen.", building.time_zone),
            format!("Which list a new household is given, and when it is signed, is a matter of local law. {DEFERENCE}"),
        ],
    }
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
                "{} of {}",
                total.answered,
                language::count(total.asked, "item", "items")
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
        heading: if room.room.is_empty() {
            "Without a room".to_owned()
        } else {
            room.room.to_owned()
        },
        lead: Vec::new(),
        columns: ["Check", "Seen", "When and who"],
        rows: items.map(|item| of_item(closing, item)).collect(),
    }
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
    under.extend((!item.rechecks.is_empty()).then(|| format!("re-check of {}", numbers(item))));
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
    let building = &closing.survey.building.facts;
    let context = Context {
        profile: building.code_profile.clone(),
        length_unit: building.length_unit,
    };
    let check = closing
        .earlier
        .get(&(entry.check, entry.check_version))
        .unwrap_or(&item.check);
    let words = answered::in_words(check, entry, &context);
    let words = match entry.outcome {
        Outcome::NotChecked => words,
        outcome => format!("{}: {words}", outcome.name()),
    };
    let reading = (entry.outcome == Outcome::Fail && !entry.reading.is_empty())
        .then(|| format!("Reading: {}", entry.reading));
    let note = (!entry.note.is_empty()).then(|| entry.note.replace('\n', " · "));
    let detail = Some(evidence::in_words(&entry.detail)).filter(|words| !words.is_empty());
    let asked = (!entry.asked.is_empty()).then(|| format!("Asked: {}", entry.asked));
    std::iter::once(words)
        .chain(reading)
        .chain(note)
        .chain(detail)
        .chain(asked)
        .collect()
}

fn stage_words(stage: TurnoverStage) -> &'static str {
    match stage {
        TurnoverStage::Found => "as found",
        TurnoverStage::Ready => "before ready",
        TurnoverStage::MoveIn => "move-in day",
    }
}

fn numbers(item: &Item) -> String {
    let numbers: Vec<String> = item.rechecks.iter().map(|id| format!("No. {id}")).collect();
    numbers.join(", ")
}

fn deficiency_sections(closing: &Closing<'_>) -> Vec<Section> {
    let survey = closing.survey;
    let standing = survey.deficiencies.iter().map(|one| Row {
        last: one
            .correct_by
            .map(|by| format!("to be right by {}", closing.when(by)))
            .into_iter()
            .collect(),
        middle: open_words(survey, one),
        ..of_deficiency(closing, one)
    });
    let right = closing.put_right.iter().map(|one| Row {
        middle: one
            .closed_how
            .map(|how| how.name().to_owned())
            .into_iter()
            .collect(),
        last: one.closed_at.map(|at| closing.when(at)).into_iter().collect(),
        weight: Weight::Plain,
        ..of_deficiency(closing, one)
    });
    let (standing, right): (Vec<Row>, Vec<Row>) = (standing.collect(), right.collect());
    let open = Section {
        heading: "Open at closing".to_owned(),
        lead: if standing.is_empty() {
            vec!["Nothing is open.".to_owned()]
        } else {
            Vec::new()
        },
        columns: ["Deficiency", "State", "Deadline"],
        rows: standing,
    };
    let mut sections = vec![open];
    if !right.is_empty() {
        sections.push(Section {
            heading: "Put right since the opening".to_owned(),
            lead: Vec::new(),
            columns: ["Deficiency", "How", "When"],
            rows: right,
        });
    }
    sections
}

fn of_deficiency(closing: &Closing<'_>, one: &Deficiency) -> Row {
    let places = &closing.survey.list.places;
    let place = places.iter().find(|place| Some(place.tag) == one.tag);
    let mut under = vec![one.severity.name().to_owned()];
    under.extend(place.map(|place| place.label.clone()));
    under.push(format!("opened {}", closing.local_day(one.opened_at)));
    Row {
        head: format!("No. {}: {}", one.id, one.title),
        under: under.join(" · "),
        middle: Vec::new(),
        last: Vec::new(),
        weight: Weight::Grave,
    }
}

fn open_words(survey: &Survey, one: &Deficiency) -> Vec<String> {
    let waivers = survey.waivers.iter().filter(|waiver| {
        waiver.deficiency == one.id && blocks::is_waived(one, &survey.waivers, survey.days())
    });
    let waived = waivers.map(|waiver| {
        format!(
            "Waived until {} by {} ({}): {}",
            date(waiver.facts.until_on),
            waiver.facts.signed_name,
            survey.name(waiver.person),
            waiver.facts.reason
        )
    });
    std::iter::once(one.status.name().to_owned())
        .chain(waived)
        .collect()
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
