//! The digest in words.

use askama::Template;

use super::Letter;
use crate::domain::digest::{Digest, OpenDeficiency, OpenTurnover, UnitLine};
use crate::error::{Error, Result};
use crate::language;

#[derive(Template)]
#[template(path = "mail/digest.txt")]
struct Text<'a> {
    said: &'a Said<'a>,
}

#[derive(Template)]
#[template(path = "mail/digest.html")]
struct Html<'a> {
    said: &'a Said<'a>,
}

/// The digest as sentences, the same for both forms.
struct Said<'a> {
    name: &'a str,
    day: String,
    sections: Vec<Section>,
    more: Option<String>,
    due_url: String,
}

struct Section {
    heading: String,
    lines: Vec<Line>,
}

struct Line {
    head: String,
    detail: String,
}

/// Writes the digest of `name`; links lead to `public_url`.
///
/// # Errors
/// When a template fails.
pub fn write(digest: &Digest, name: &str, public_url: &str) -> Result<Letter> {
    let said = Said {
        name,
        day: language::day(digest.date, digest.date),
        sections: sections(digest),
        more: (digest.more_units > 0).then(|| {
            format!(
                "And {} more with {}{}.",
                language::count(digest.more_units, "unit", "units"),
                language::count(digest.more_checks, "check", "checks"),
                match digest.overdue_units - digest.overdue.len() {
                    0 => String::new(),
                    overdue => format!(", {overdue} of them with something overdue"),
                }
            )
        }),
        due_url: format!("{public_url}/due"),
    };
    let text = Text { said: &said }.render().map_err(Error::internal)?;
    let html = Html { said: &said }.render().map_err(Error::internal)?;
    Ok(Letter {
        subject: subject(digest),
        text,
        html,
    })
}

fn subject(digest: &Digest) -> String {
    let mut parts = Vec::new();
    if digest.overdue_checks > 0 {
        parts.push(format!(
            "{} overdue in {}",
            language::count(digest.overdue_checks, "check", "checks"),
            language::count(digest.overdue_units, "unit", "units")
        ));
    }
    let this_week = digest.checks() - digest.overdue_checks;
    if this_week > 0 {
        parts.push(format!(
            "{} due this week",
            language::count(this_week, "check", "checks")
        ));
    }
    if !digest.turnovers.is_empty() {
        parts.push(language::count(digest.turnovers.len(), "turnover", "turnovers"));
    }
    if !digest.deficiencies.is_empty() {
        parts.push(language::count(
            digest.deficiencies.len(),
            "deficiency",
            "deficiencies",
        ));
    }
    format!(
        "{}: {}",
        language::day(digest.date, digest.date),
        parts.join(", ")
    )
}

fn sections(digest: &Digest) -> Vec<Section> {
    let mut sections = Vec::new();
    let mut add = |heading: &str, lines: Vec<Line>| {
        if !lines.is_empty() {
            sections.push(Section {
                heading: heading.to_owned(),
                lines,
            });
        }
    };
    add(
        "Overdue",
        digest
            .overdue
            .iter()
            .map(|line| unit_line(line, digest))
            .collect(),
    );
    add(
        "Due this week",
        digest
            .this_week
            .iter()
            .map(|line| unit_line(line, digest))
            .collect(),
    );
    add(
        "Turnovers, by move-in",
        digest
            .turnovers
            .iter()
            .map(|turnover| turnover_line(turnover, digest))
            .collect(),
    );
    add(
        "Deficiencies, by deadline",
        digest
            .deficiencies
            .iter()
            .map(|open| deficiency_line(open, digest))
            .collect(),
    );
    sections
}

fn unit_line(line: &UnitLine, digest: &Digest) -> Line {
    let work = format!(
        "{} · {:.0} min",
        language::count(line.checks, "check", "checks"),
        line.minutes.ceil()
    );
    let when = if line.days_over > 0 {
        let over = language::count(usize::try_from(line.days_over).unwrap_or(0), "day", "days");
        if line.overdue < line.checks {
            format!("{} overdue, up to {over} over", line.overdue)
        } else {
            format!("{over} over")
        }
    } else if line.first_due < digest.date {
        format!("due since {}", language::day(line.first_due, digest.date))
    } else {
        format!("due {}", language::day(line.first_due, digest.date))
    };
    Line {
        head: format!("{} {}", line.building, line.label),
        detail: format!("{work} · {when}"),
    }
}

fn turnover_line(turnover: &OpenTurnover, digest: &Digest) -> Line {
    let stage = match turnover.stage.as_str() {
        "found" => "being looked through",
        "repaired" => "under repair",
        _ => "ready",
    };
    let (day, distance) = (
        language::day(turnover.move_in, digest.date),
        language::distance(turnover.move_in, digest.date),
    );
    Line {
        head: format!("{} {}", turnover.building, turnover.label),
        detail: format!("{stage} · move-in {day}, {distance}"),
    }
}

fn deficiency_line(open: &OpenDeficiency, digest: &Digest) -> Line {
    let by = open.correct_by.map_or_else(
        || "no deadline".to_owned(),
        |at| {
            let late = (digest.date - at.date()).num_days();
            let over = match usize::try_from(late) {
                Ok(days) if days > 0 => format!(", {} over", language::count(days, "day", "days")),
                _ => String::new(),
            };
            format!(
                "right by {}, {}{over}",
                language::day(at.date(), digest.date),
                at.format("%H:%M")
            )
        },
    );
    Line {
        head: format!("{} {}", open.building, open.label),
        detail: format!(
            "no. {} {} · {} · {by}",
            open.number,
            open.title,
            open.severity.name().to_lowercase()
        ),
    }
}
