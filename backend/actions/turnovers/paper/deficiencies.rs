//! The deficiencies of a record: what stands at the closing with its waivers, and what was put right since the opening.

use super::{Closing, date};
use crate::domain::result::Deficiency;
use crate::domain::turnover::blocks;
use crate::exchange::paper::{Row, Section, Weight};
use crate::store::lists::turnovers::Survey;

/// What is open, then what was put right since the opening.
pub(super) fn sections(closing: &Closing<'_>) -> Vec<Section> {
    let survey = closing.survey;
    let standing = survey.deficiencies.iter().map(|one| Row {
        last: one
            .correct_by
            .map(|by| format!("to be right by {}", closing.when(by)))
            .into_iter()
            .collect(),
        middle: repaired(closing, one).chain(open_words(survey, one)).collect(),
        ..of_deficiency(closing, one)
    });
    let right = closing.put_right.iter().map(|one| Row {
        middle: repaired(closing, one)
            .chain(one.closed_how.map(|how| how.name().to_owned()))
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
        ..Section::default()
    };
    let mut sections = vec![open];
    if !right.is_empty() {
        sections.push(Section {
            heading: "Put right since the opening".to_owned(),
            columns: ["Deficiency", "How", "When"],
            rows: right,
            ..Section::default()
        });
    }
    sections
}

/// What was done about it, each with its time.
fn repaired<'a>(closing: &'a Closing<'_>, one: &Deficiency) -> impl Iterator<Item = String> + use<'a> {
    let id = one.id;
    let done = closing.repairs.iter().filter(move |event| event.deficiency == id);
    done.map(|event| {
        let said = event.text.replace('\n', " · ");
        format!("Repaired {}. {said}", closing.when(event.at))
            .trim()
            .to_owned()
    })
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
