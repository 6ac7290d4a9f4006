//! The digest in words.

use askama::Template;
use chrono::{NaiveDate, NaiveDateTime};

use super::Letter;
use crate::domain::digest::{Digest, OpenDeficiency, OpenTurnover, UnitLine};
use crate::error::{Error, Result};
use crate::language::Language;

#[derive(Template)]
#[template(path = "mail/digest.txt")]
struct Text<'a> {
    said: &'a Said,
}

#[derive(Template)]
#[template(path = "mail/digest.html")]
struct Html<'a> {
    said: &'a Said,
}

/// The digest as sentences, the same for both forms.
struct Said {
    language: Language,
    day: String,
    greeting: String,
    sections: Vec<Section>,
    more: Option<String>,
    all: String,
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

/// Writes the digest of `name` in their language; links lead to `public_url`.
///
/// # Errors
/// When a template fails.
pub fn write(digest: &Digest, name: &str, language: Language, public_url: &str) -> Result<Letter> {
    let words = Words { language, digest };
    let said = Said {
        language,
        day: words.day(digest.date),
        greeting: language
            .say("digest-greeting")
            .with("name", name)
            .with("day", words.day(digest.date))
            .into(),
        sections: words.sections(),
        more: words.more(),
        all: language.say("digest-all").into(),
        due_url: format!("{public_url}/due"),
    };
    let text = Text { said: &said }.render().map_err(Error::internal)?;
    let html = Html { said: &said }.render().map_err(Error::internal)?;
    Ok(Letter {
        subject: words.subject(),
        text,
        html,
    })
}

/// A digest and the language that it is said in.
struct Words<'a> {
    language: Language,
    digest: &'a Digest,
}

impl Words<'_> {
    fn day(&self, date: NaiveDate) -> String {
        self.language.day(date, self.digest.date)
    }

    fn days(&self, days: i64) -> String {
        let days = usize::try_from(days).unwrap_or(0);
        self.language.count("figures-days", days)
    }

    fn checks(&self, checks: usize) -> String {
        self.language.count("figures-checks", checks)
    }

    fn units(&self, units: usize) -> String {
        self.language.count("figures-units", units)
    }

    fn more(&self) -> Option<String> {
        let digest = self.digest;
        if digest.more_units == 0 {
            return None;
        }
        let overdue = digest.overdue_units - digest.overdue.len();
        let said = match overdue {
            0 => self.language.say("digest-more"),
            overdue => self.language.say("digest-more-overdue").with("overdue", overdue),
        };
        let said = said.with("units", self.units(digest.more_units));
        Some(said.with("checks", self.checks(digest.more_checks)).into())
    }

    fn subject(&self) -> String {
        let (language, digest) = (self.language, self.digest);
        let mut parts: Vec<String> = Vec::new();
        if digest.overdue_checks > 0 {
            let said = language.say("digest-subject-overdue");
            let said = said.with("checks", self.checks(digest.overdue_checks));
            parts.push(said.with("units", self.units(digest.overdue_units)).into());
        }
        let this_week = digest.checks() - digest.overdue_checks;
        if this_week > 0 {
            let said = language.say("digest-subject-week");
            parts.push(said.with("checks", self.checks(this_week)).into());
        }
        if !digest.turnovers.is_empty() {
            parts.push(language.count("digest-turnovers", digest.turnovers.len()));
        }
        if !digest.deficiencies.is_empty() {
            parts.push(language.count("digest-deficiencies", digest.deficiencies.len()));
        }
        let said = language.say("digest-subject").with("day", self.day(digest.date));
        said.with("parts", parts.join(", ")).into()
    }

    fn sections(&self) -> Vec<Section> {
        let digest = self.digest;
        let units = |lines: &[UnitLine]| lines.iter().map(|line| self.unit_line(line)).collect();
        let turnovers = digest
            .turnovers
            .iter()
            .map(|turnover| self.turnover_line(turnover));
        let deficiencies = digest.deficiencies.iter().map(|open| self.deficiency_line(open));
        let all: [(&'static str, Vec<Line>); 4] = [
            ("digest-overdue", units(&digest.overdue)),
            ("digest-week", units(&digest.this_week)),
            ("digest-by-move-in", turnovers.collect()),
            ("digest-by-deadline", deficiencies.collect()),
        ];
        all.into_iter()
            .filter(|(_, lines)| !lines.is_empty())
            .map(|(heading, lines)| Section {
                heading: self.language.say(heading).into(),
                lines,
            })
            .collect()
    }

    fn unit_line(&self, line: &UnitLine) -> Line {
        let language = self.language;
        let when = if line.days_over > 0 && line.overdue < line.checks {
            let said = language.say("digest-some-over").with("overdue", line.overdue);
            said.with("days", self.days(line.days_over))
        } else if line.days_over > 0 {
            language
                .say("digest-days-over")
                .with("days", self.days(line.days_over))
        } else if line.first_due < self.digest.date {
            language
                .say("digest-due-since")
                .with("day", self.day(line.first_due))
        } else {
            language.say("digest-due").with("day", self.day(line.first_due))
        };
        Line {
            head: format!("{} {}", line.building, line.label),
            detail: language
                .say("digest-work")
                .with("checks", self.checks(line.checks))
                .with("minutes", format!("{:.0}", line.minutes.ceil()))
                .with("when", when)
                .into(),
        }
    }

    fn turnover_line(&self, turnover: &OpenTurnover) -> Line {
        let stage = match turnover.stage.as_str() {
            "found" => "digest-stage-found",
            "repaired" => "digest-stage-repaired",
            _ => "digest-stage-ready",
        };
        Line {
            head: format!("{} {}", turnover.building, turnover.label),
            detail: self
                .language
                .say("digest-turnover")
                .with("stage", self.language.say(stage))
                .with("day", self.day(turnover.move_in))
                .with(
                    "distance",
                    self.language.distance(turnover.move_in, self.digest.date),
                )
                .into(),
        }
    }

    fn deficiency_line(&self, open: &OpenDeficiency) -> Line {
        let said = self
            .language
            .say("digest-deficiency")
            .with("number", open.number.to_string());
        let said = said.with("title", &open.title);
        let severity = self.language.word(open.severity).to_lowercase();
        Line {
            head: format!("{} {}", open.building, open.label),
            detail: said
                .with("severity", severity)
                .with("by", self.by(open.correct_by))
                .into(),
        }
    }

    fn by(&self, deadline: Option<NaiveDateTime>) -> String {
        let Some(at) = deadline else {
            return self.language.say("digest-no-deadline").into();
        };
        let late = (self.digest.date - at.date()).num_days();
        let said = if late > 0 {
            let said = self.language.say("digest-right-by-over");
            said.with("days", self.days(late))
        } else {
            self.language.say("digest-right-by")
        };
        let said = said.with("day", self.day(at.date()));
        said.with("time", at.format("%H:%M").to_string()).into()
    }
}
