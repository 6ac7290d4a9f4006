//! The part of the catalogue about lost water and about symptoms: from the files' words to domain values, and what must hold of them.

use std::collections::BTreeSet;

use super::read::Reader;
use super::{CatalogueError, wire};
use crate::domain::trade::Catalogue;
use crate::domain::trade::symptom::{Cause, Next, Question, Reply, Symptom};
use crate::domain::trade::water::{DripConvention, Figure, Water};

/// The most minutes that one remedy is planned with: a working day.
const MOST_MINUTES: f64 = 480.0;

pub(super) fn add(
    reader: &Reader<'_>,
    file: &str,
    from: &wire::File,
    to: &mut Catalogue,
) -> Result<(), CatalogueError> {
    to.water.leaking.extend(from.leaking_checks.iter().cloned());
    for one in &from.drip_conventions {
        to.water.conventions.push(DripConvention {
            code: one.code.clone(),
            name: one.name.clone(),
            drips_per_gallon: one.drips_per_gallon,
            source: reader.source(&format!("{file}, {}", one.code), &one.source)?,
        });
    }
    for one in &from.water_figures {
        to.water.figures.push(Figure {
            code: one.code.clone(),
            name: one.name.clone(),
            value: one.value,
            unit: one.unit.clone(),
            source: reader.source(&format!("{file}, {}", one.code), &one.source)?,
        });
    }
    let minutes = from
        .defaults
        .as_ref()
        .and_then(|defaults| defaults.minutes_source.as_deref());
    for one in &from.causes {
        to.symptoms.causes.push(cause(reader, file, one, minutes)?);
    }
    for one in &from.symptoms {
        to.symptoms.symptoms.push(symptom(reader, file, one)?);
    }
    Ok(())
}

fn cause(
    reader: &Reader<'_>,
    file: &str,
    one: &wire::Cause,
    minutes: Option<&str>,
) -> Result<Cause, CatalogueError> {
    let place = format!("{file}, {}", one.code);
    let minutes = one.minutes_source.as_deref().or(minutes).ok_or_else(|| {
        CatalogueError::new(
            &place,
            "minutes have no source; write minutes_source here or under [defaults]",
        )
    })?;
    Ok(Cause {
        code: one.code.clone(),
        name: one.name.clone(),
        remedy: one.remedy.clone(),
        parts: one.parts.clone(),
        also: one.also.clone(),
        minutes: one.minutes,
        minutes_source: reader.source(&place, minutes)?,
        performer: one.performer,
        cautions: one.cautions.clone(),
        source: reader.source(&place, &one.source)?,
    })
}

fn symptom(reader: &Reader<'_>, file: &str, one: &wire::Symptom) -> Result<Symptom, CatalogueError> {
    let place = format!("{file}, {}", one.code);
    let reply = |reply: &wire::Reply| {
        let next = match (&reply.ask, &reply.cause) {
            (Some(ask), None) => Next::Ask(ask.clone()),
            (None, Some(cause)) => Next::Found(cause.clone()),
            _ => {
                return Err(CatalogueError::new(
                    &place,
                    format!(
                        "the answer \"{}\" leads to a question or to a cause; write one of the two",
                        reply.say
                    ),
                ));
            }
        };
        Ok(Reply {
            say: reply.say.clone(),
            next,
        })
    };
    let question = |question: &wire::Question| {
        Ok(Question {
            code: question.code.clone(),
            ask: question.ask.clone(),
            replies: question.answers.iter().map(reply).collect::<Result<_, _>>()?,
            cautions: question.cautions.clone(),
        })
    };
    Ok(Symptom {
        code: one.code.clone(),
        name: one.name.clone(),
        kinds: one.kinds.clone(),
        questions: one
            .questions
            .iter()
            .map(question)
            .collect::<Result<_, CatalogueError>>()?,
        source: reader.source(&place, &one.source)?,
    })
}

pub(super) fn validate(catalogue: &Catalogue) -> Result<(), CatalogueError> {
    for code in Water::NEEDED {
        let found = catalogue
            .water
            .figures
            .iter()
            .filter(|figure| figure.code == code);
        if found.count() != 1 {
            return Err(CatalogueError::new(
                "water.toml",
                format!("the figure \"{code}\" is needed once; write it once"),
            ));
        }
    }
    for figure in &catalogue.water.figures {
        if !(figure.value > 0.0 && figure.value.is_finite()) || figure.unit.trim().is_empty() {
            return Err(CatalogueError::new(
                figure.code.as_str(),
                "a figure is above zero and has a unit; write both",
            ));
        }
    }
    for check in &catalogue.water.leaking {
        if catalogue.check(check.as_str()).is_none() {
            return Err(CatalogueError::new(
                "water.toml",
                format!("there is no check \"{check}\"; name one that is"),
            ));
        }
    }
    if catalogue.water.conventions.is_empty() {
        return Err(CatalogueError::new(
            "water.toml",
            "no convention of a drip; write one",
        ));
    }
    let mut reached = BTreeSet::new();
    for symptom in &catalogue.symptoms.symptoms {
        validate_symptom(catalogue, symptom, &mut reached)?;
    }
    for cause in &catalogue.symptoms.causes {
        let code = cause.code.as_str();
        if !cause.code.is_well_formed() || cause.remedy.trim().is_empty() || cause.name.trim().is_empty() {
            return Err(CatalogueError::new(
                code,
                "a cause has a code, a name and a remedy; write them",
            ));
        }
        if !(cause.minutes > 0.0 && cause.minutes <= MOST_MINUTES) {
            return Err(CatalogueError::new(
                code,
                "the minutes can't be planned; write more than 0 and at most 480",
            ));
        }
        if !reached.contains(code) {
            return Err(CatalogueError::new(
                code,
                "no symptom leads to this cause; let one, or take it out",
            ));
        }
    }
    Ok(())
}

fn validate_symptom<'a>(
    catalogue: &'a Catalogue,
    symptom: &'a Symptom,
    reached: &mut BTreeSet<&'a str>,
) -> Result<(), CatalogueError> {
    let code = symptom.code.as_str();
    let wrong = |problem: String| CatalogueError::new(code, problem);
    if !symptom.code.is_well_formed() || symptom.kinds.is_empty() || symptom.name.trim().is_empty() {
        return Err(wrong(
            "a symptom has a code, a name and a kind of fixture; write them".to_owned(),
        ));
    }
    if let Some(question) = symptom
        .questions
        .iter()
        .find(|question| question.replies.len() < 2)
    {
        return Err(wrong(format!(
            "\"{}\" has fewer than two answers; write what else may be seen",
            question.ask
        )));
    }
    for (_, cause) in catalogue.symptoms.ways(symptom).map_err(wrong)? {
        reached.insert(cause.code.as_str());
    }
    Ok(())
}
