//! The first line of a file: which columns are known, and what is wrong with the others.

use super::columns::LAST_DONE;
use super::one::read_last_done;
use super::settle::{Context, Reading};
use crate::domain::register::inventory::PriorCheck;
use crate::exchange::csv::{Column, Problem, Sheet};

/// Sign before the name of a column that is to be left out.
const LEFT_OUT: char = '#';

/// Tells which columns are unknown, missing or there twice. With a `context` columns with last-done days are taken, and answered
/// with where they stand.
pub(super) fn check(
    sheet: &Sheet<'_>,
    known: &[Column],
    needed: &[&str],
    context: Option<&Context>,
    reading: &mut Reading,
) -> Vec<(usize, PriorCheck)> {
    let mut prior = Vec::new();
    let problem = |name: &str, reason: String, remedy: String| {
        Problem::new(sheet.name(), 1, name, name, reason, remedy)
    };
    for (index, name) in sheet.header().iter().enumerate() {
        if name.starts_with(LEFT_OUT) {
            continue;
        }
        if sheet.column(name) != Some(index) {
            reading.problems.push(problem(
                name,
                if name.is_empty() {
                    "A column has no name.".to_owned()
                } else {
                    format!("The column {name} is there twice.")
                },
                "Name each column once, or take one out.".to_owned(),
            ));
        } else if let Some(rest) = name.strip_prefix(LAST_DONE)
            && let Some(context) = context
        {
            match last_done(rest, context) {
                Ok(check) => prior.push((index, check)),
                Err((reason, remedy)) => reading.problems.push(problem(name, reason, remedy)),
            }
        } else if !known.iter().any(|column| column.name == name) {
            let reason = if name.is_empty() {
                "A column has no name.".to_owned()
            } else {
                format!("There is no column {name}.")
            };
            reading.problems.push(problem(name, reason, meant(name, known)));
        }
    }
    for name in needed.iter().filter(|name| sheet.column(name).is_none()) {
        reading.problems.push(Problem::new(
            sheet.name(),
            1,
            name,
            "",
            format!("The column {name} is missing."),
            format!("Add a column {name}, and check that the first line holds the names of the columns."),
        ));
    }
    prior
}

fn last_done(rest: &str, context: &Context) -> Result<PriorCheck, (String, String)> {
    let read = read_last_done(rest).map_err(|sentence| {
        let (reason, remedy) = sentence.split_once("; it is").unwrap_or((&sentence, ""));
        (format!("{reason}."), format!("It is{remedy}"))
    })?;
    if context.checks.contains_key(&read.check) {
        return Ok(read);
    }
    let alike = nearest(&read.check, context.checks.keys().map(String::as_str));
    Err((
        format!("There is no check “{}”.", read.check),
        match alike {
            Some(check) => {
                format!("Did you mean {LAST_DONE}{check}? Name a check that there is, or add yours first.")
            }
            None => "Name a check that there is, or add yours first.".to_owned(),
        },
    ))
}

fn meant(name: &str, known: &[Column]) -> String {
    let left_out = format!("put {LEFT_OUT} before its name to have it left out");
    match nearest(name, known.iter().map(|column| column.name)) {
        Some(column) => format!("Did you mean {column}? Otherwise take the column out, or {left_out}."),
        None => format!("Take the column out, or {left_out}."),
    }
}

/// The name that is few letters away.
fn nearest<'n>(name: &str, known: impl Iterator<Item = &'n str>) -> Option<&'n str> {
    known
        .map(|other| (distance(name, other), other))
        .min()
        .filter(|(distance, _)| *distance <= 1 + name.len() / 4)
        .map(|(_, other)| other)
}

/// How many letters must be added, taken out or changed (Levenshtein).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, letter) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, other) in b.iter().enumerate() {
            let changed = diagonal + usize::from(letter != *other);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_misspelt_column_is_told_what_was_meant() {
        let names = ["time_zone", "tag", "joined_on"];
        assert_eq!(nearest("timezone", names.into_iter()), Some("time_zone"));
        assert_eq!(nearest("colour", names.into_iter()), None);
        assert_eq!(distance("kitten", "sitting"), 3);
    }
}
