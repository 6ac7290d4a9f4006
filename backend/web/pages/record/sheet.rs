//! Lays questions out for the eye: rooms, fixtures, groups of the walk, and in each the questions with their bars. Decides what is
//! said beside a question; which questions there are and what an answer means is decided elsewhere.

use chrono::NaiveDate;
use uuid::Uuid;

use super::answers::{Key, Kind};
use super::leak_points::{self, Section, Wrong};
use super::questions::Question;
use crate::domain::code::Coded as _;
use crate::domain::result::MissedReason;
use crate::domain::trade::{Answer, Caution, Group, Performer};
use crate::error::FieldError;
use crate::language::{CheckWords, Language};
use crate::web::choice::Choice;
use crate::web::form::Fields;

/// A page of questions.
#[derive(Debug, Default)]
pub struct Sheet {
    /// Room by room.
    pub rooms: Vec<Room>,
    /// How many questions there are.
    pub asked: usize,
    /// How many are answered in what was typed.
    pub answered: usize,
    /// The reasons that are offered for not checking.
    pub reasons: Vec<Choice>,
}

impl Sheet {
    /// Every question, in the order of the walk.
    pub fn asks(&self) -> impl Iterator<Item = &Ask> {
        let fixtures = self.rooms.iter().flat_map(|room| &room.fixtures);
        let groups = fixtures.flat_map(|fixture| &fixture.groups);
        groups.flat_map(|group| &group.asks)
    }
}

/// A room.
#[derive(Debug)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// What stands in it.
    pub fixtures: Vec<Fixture>,
}

/// A fixture.
#[derive(Debug)]
pub struct Fixture {
    /// Key.
    pub id: i64,
    /// Label of its place.
    pub tag: String,
    /// Its kind in words.
    pub kind: String,
    /// The parts of the walk.
    pub groups: Vec<GroupView>,
}

/// A part of the walk at one fixture.
#[derive(Debug)]
pub struct GroupView {
    /// Its number on the page.
    pub number: usize,
    /// Look, water or measure.
    pub name: String,
    /// How much it is: "7 checks · 1.5 min".
    pub size: String,
    /// What to mind, gas first.
    pub cautions: Vec<String>,
    /// The drawing with its leak points.
    pub drawing: Option<Section>,
    /// The questions.
    pub asks: Vec<Ask>,
    /// How many of them pass with the rest when nothing else is said.
    pub verdicts: usize,
    /// Whether the rest was passed in what was typed: `pass` or empty.
    pub rest: String,
    /// Unfolded, because something in it is to be mended or was answered.
    pub unfolded: Unfolded,
}

/// Whether a group is shown open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unfolded {
    /// Open.
    Yes,
    /// Folded away.
    No,
}

impl Unfolded {
    /// For the template.
    #[must_use]
    pub const fn is_open(self) -> bool {
        matches!(self, Self::Yes)
    }
}

/// A question with what was typed.
#[derive(Debug)]
pub struct Ask {
    /// Its number on the page.
    pub number: usize,
    /// What the form carries of it.
    pub key: String,
    /// The check in a few words, with its part.
    pub title: String,
    /// What to do, one sentence.
    pub how: String,
    /// How, step by step.
    pub method: Vec<String>,
    /// Who may do it, when not everybody of the office may.
    pub performer: Option<String>,
    /// When it is due, or what it re-checks.
    pub due: String,
    /// What is answered.
    pub wanted: Wanted,
    /// The chosen bar.
    pub outcome: String,
    /// The reading as typed.
    pub reading: String,
    /// The chosen reason.
    pub reason: String,
    /// The reason in words.
    pub why: String,
    /// The note.
    pub note: String,
    /// What is to be mended.
    pub error: Option<String>,
}

/// What is answered.
#[derive(Debug)]
pub enum Wanted {
    /// Pass or fail, in the check's words.
    Verdict {
        /// What passes.
        pass: String,
        /// What fails.
        fail: String,
    },
    /// A figure.
    Reading {
        /// What is read.
        of: String,
        /// The unit of a bare number.
        unit: &'static str,
        /// What passes, with its source.
        limit: String,
    },
}

/// How questions are said and shown.
#[derive(Debug, Clone, Copy)]
pub struct Layout<'a> {
    /// In which language.
    pub language: Language,
    /// What stands as deficient in the unit.
    pub wrong: &'a [Wrong],
    /// The local date.
    pub today: NaiveDate,
}

/// Lays out questions, newly numbered or, for a form shown again, under the keys that it carried.
#[must_use]
pub fn sheet(questions: &[Question], layout: Layout<'_>, fields: &Fields, errors: &[FieldError]) -> Sheet {
    let carried = super::answers::keys(fields);
    let mut sheet = Sheet {
        reasons: reasons(layout.language),
        ..Sheet::default()
    };
    let mut number = carried.iter().map(|key| key.number + 1).max().unwrap_or(0);
    let mut group = carried.iter().map(|key| key.group + 1).max().unwrap_or(0);
    for walk in by_group(questions) {
        let of_group = walk.iter().find_map(|question| find(&carried, question));
        let group_number = of_group.map_or(group, |key| key.group);
        group = group.max(group_number + 1);
        let asks: Vec<(Ask, Kind)> = walk
            .iter()
            .map(|question| {
                let key = find(&carried, question)
                    .cloned()
                    .unwrap_or_else(|| new_key(question, number, group_number));
                number = number.max(key.number + 1);
                (ask(question, &key, layout, fields, errors), key.kind)
            })
            .collect();
        sheet.asked += asks.len();
        let laid = group_view(&walk, group_number, asks, layout, fields);
        sheet.answered += laid.asks.iter().filter(|ask| is_answered(ask, &laid)).count();
        place(&mut sheet.rooms, &walk, laid, layout.language);
    }
    sheet
}

/// The reasons that are offered for not checking.
fn reasons(language: Language) -> Vec<Choice> {
    let all = MissedReason::ALL.iter();
    all.map(|reason| Choice::new(reason.code(), language.word(*reason)))
        .collect()
}

/// Questions of one fixture and one part of the walk together, in the order in which they come.
fn by_group(questions: &[Question]) -> Vec<Vec<&Question>> {
    let same = |one: &Question, other: &Question| {
        one.spot.fixture == other.spot.fixture && one.check.group == other.check.group
    };
    questions
        .chunk_by(same)
        .map(|chunk| chunk.iter().collect())
        .collect()
}

fn find<'a>(keys: &'a [Key], question: &Question) -> Option<&'a Key> {
    keys.iter().find(|key| key.is_of(question))
}

fn new_key(question: &Question, number: usize, group: usize) -> Key {
    Key {
        number,
        group,
        client_id: Uuid::new_v4(),
        fixture: question.spot.fixture,
        part: question.part,
        check: question.check.code.to_string(),
        kind: match question.check.answer {
            Answer::Verdict { .. } => Kind::Verdict,
            Answer::Reading { .. } => Kind::Reading,
        },
    }
}

fn is_answered(ask: &Ask, group: &GroupView) -> bool {
    let with_the_rest = group.rest == "pass" && matches!(ask.wanted, Wanted::Verdict { .. });
    !ask.outcome.is_empty() || !ask.reading.is_empty() || with_the_rest
}

fn place(rooms: &mut Vec<Room>, walk: &[&Question], group: GroupView, language: Language) {
    let Some(first) = walk.first() else { return };
    let name = match first.spot.room.as_str() {
        "" => language.say("record-no-room").to_string(),
        room => room.to_owned(),
    };
    if rooms.last().is_none_or(|room| room.name != name) {
        rooms.push(Room {
            name,
            fixtures: Vec::new(),
        });
    }
    let Some(room) = rooms.last_mut() else { return };
    if room
        .fixtures
        .last()
        .is_none_or(|fixture| fixture.id != first.spot.fixture.0)
    {
        room.fixtures.push(Fixture {
            id: first.spot.fixture.0,
            tag: first.spot.tag_label.clone(),
            kind: language.word(first.spot.kind),
            groups: Vec::new(),
        });
    }
    if let Some(fixture) = room.fixtures.last_mut() {
        fixture.groups.push(group);
    }
}

fn group_view(
    walk: &[&Question],
    number: usize,
    asks: Vec<(Ask, Kind)>,
    layout: Layout<'_>,
    fields: &Fields,
) -> GroupView {
    let minutes: f64 = walk.iter().map(|question| question.check.minutes).sum();
    let verdicts = asks.iter().filter(|(_, kind)| *kind == Kind::Verdict).count();
    let asks: Vec<Ask> = asks.into_iter().map(|(ask, _)| ask).collect();
    let touched = asks
        .iter()
        .any(|ask| ask.error.is_some() || !ask.outcome.is_empty() || !ask.reading.is_empty());
    let (first, language) = (walk.first(), layout.language);
    GroupView {
        number,
        name: first.map_or_else(String::new, |question| language.word(question.check.group)),
        size: format!(
            "{} · {}",
            language.count("figures-checks", asks.len()),
            minutes_in_words(minutes)
        ),
        cautions: cautions(language, walk),
        drawing: first
            .filter(|question| question.check.group != Group::Measure)
            .and_then(|question| {
                let spot = &question.spot;
                leak_points::drawing_in(language, spot.kind, spot.tag, layout.wrong)
            }),
        verdicts,
        rest: fields.text(&format!("rest-{number}")).to_owned(),
        unfolded: if touched { Unfolded::Yes } else { Unfolded::No },
        asks,
    }
}

/// Minutes to a tenth, at least one tenth.
fn minutes_in_words(minutes: f64) -> String {
    let tenths = (minutes * 10.0).ceil() / 10.0;
    format!("{tenths} min")
}

/// What to mind in a group, each danger once, gas first and with what to do at its smell before anything else.
fn cautions(language: Language, walk: &[&Question]) -> Vec<String> {
    let touched: Vec<Caution> = walk
        .iter()
        .flat_map(|question| {
            let kind = question.spot.kind;
            question
                .check
                .cautions
                .iter()
                .copied()
                .filter(move |caution| caution.concerns(kind))
        })
        .collect();
    language.warnings(&touched, None)
}

fn ask(question: &Question, key: &Key, layout: Layout<'_>, fields: &Fields, errors: &[FieldError]) -> Ask {
    let language = layout.language;
    let words = language.check(&question.check);
    let text = |name: &str| fields.text(&format!("{name}-{}", key.number)).to_owned();
    let field = key.field();
    Ask {
        number: key.number,
        key: key.text(),
        title: language.check_at(&question.check, question.part),
        performer: performer(language, question.check.performer),
        due: due(language, question, layout.today),
        wanted: wanted(language, question, &words),
        how: words.ask,
        method: words.method,
        outcome: text("outcome"),
        reading: text("reading"),
        reason: text("reason"),
        why: text("why"),
        note: text("note"),
        error: errors
            .iter()
            .find(|error| error.field == field)
            .map(|error| error.message.clone()),
    }
}

fn performer(language: Language, performer: Performer) -> Option<String> {
    match performer {
        Performer::Staff => None,
        other => Some(language.word(other)),
    }
}

fn due(language: Language, question: &Question, today: NaiveDate) -> String {
    match (question.recheck, question.window) {
        (Some(number), _) => language.say("record-recheck-of").with("number", number.0).into(),
        (None, Some(window)) => language.due(&window, today),
        (None, None) => String::new(),
    }
}

fn wanted(language: Language, question: &Question, words: &CheckWords) -> Wanted {
    let context = question.spot.unit.building.context();
    match &question.check.answer {
        Answer::Verdict { .. } => Wanted::Verdict {
            pass: words.pass.clone(),
            fail: words.fail.clone(),
        },
        Answer::Reading { unit, limits, .. } => Wanted::Reading {
            of: words.of.clone(),
            unit: crate::domain::trade::outcome::bare_unit(*unit, context.length_unit).symbol(),
            limit: limits
                .iter()
                .filter(|limit| limit.holds_under(&context.profile))
                .map(|limit| format!("{}; {}", language.limit(limit), language.source(&limit.source)))
                .collect::<Vec<_>>()
                .join(" · "),
        },
    }
}
