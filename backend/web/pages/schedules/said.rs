//! The part of the form that says when without rule syntax, and what the whole form says once that is read.

use chrono::NaiveDate;
use sha2::{Digest as _, Sha256};

use crate::actions::schedules::Preview;
use crate::domain::code::Coded;
use crate::domain::due::{
    Dated, DayOfWeek, Known, Moving, Nth, Pattern, PlainText, Schedule, ScheduleText, Span, Timing,
    moved_in_words, read_timing,
};
use crate::domain::recurrence::MONTHS;
use crate::error::FieldError;
use crate::language;
use crate::web::choice::{Choice, Tick};
use crate::web::form::Fields;

/// What a form says.
#[derive(Debug, Clone)]
pub(super) struct Typed {
    /// The schedule, its rule as the saying makes it.
    pub text: ScheduleText,
    /// The saying as it was typed.
    pub said: PlainText,
    /// Lead and grace as they were typed, before what suits the rule stood in for what was left empty.
    pub window: [String; 2],
    /// What is wrong with the saying.
    pub errors: Vec<FieldError>,
}

impl Typed {
    /// A schedule as it stands, with the saying that its rule is recognised as.
    pub fn of(text: ScheduleText) -> Self {
        Self {
            said: PlainText::of(&text.anchor, &text.rule, &text.start),
            window: [text.lead_days.clone(), text.grace_days.clone()],
            text,
            errors: Vec::new(),
        }
    }

    /// Reads a form; one without a pattern says its rule as text.
    pub fn read(fields: &Fields) -> Self {
        let mut text = text(fields);
        if text.code.trim().is_empty() {
            text.code = code_of(&text.name);
        }
        let said = said(fields);
        let mut errors = Vec::new();
        if !said.pattern.is_empty() {
            match said.rule(&text.start) {
                Ok(Some((anchor, rule))) => {
                    anchor.clone_into(&mut text.anchor);
                    text.rule = rule;
                }
                Ok(None) => {}
                Err(wrong) => errors = wrong,
            }
        }
        let window = [text.lead_days.clone(), text.grace_days.clone()];
        fill_window(&mut text);
        Self {
            text,
            said,
            window,
            errors,
        }
    }

    /// What is wrong with a form whose saying can't be read: that, and what is wrong with its other fields.
    pub fn wrong(&self, known: &Known<'_>, before: Option<&Schedule>) -> Vec<FieldError> {
        // Without the saying there is no rule that a window could be held to.
        let text = ScheduleText {
            rule: String::new(),
            ..self.text.clone()
        };
        let others = text.read(known, before).err().unwrap_or_default();
        let others = others.into_iter().filter(|error| error.field != "rule");
        self.errors.iter().cloned().chain(others).collect()
    }

    /// What stands for everything that the form says, so that only what was looked at can be confirmed.
    pub fn print(&self) -> String {
        let digest = Sha256::digest(format!("{:?}", self.text));
        digest.iter().take(12).map(|byte| format!("{byte:02x}")).collect()
    }
}

/// Lead and grace that were left empty become what suits the rule; where that can't be read, nothing more is to be mended for them.
fn fill_window(text: &mut ScheduleText) {
    let start = text.start.trim().parse().ok();
    let timing = read_timing(text.anchor.trim(), text.rule.trim(), start, 0, 0, None);
    let (lead, grace) = timing.map_or((0, 0), |timing| Timing::usual_window(timing.anchor()));
    for (field, days) in [(&mut text.lead_days, lead), (&mut text.grace_days, grace)] {
        if field.trim().is_empty() {
            *field = days.to_string();
        }
    }
}

/// The longest code that is made of a name.
const CODE_LETTERS: usize = 48;

/// A code made of a name: `Hoses, twice a year` is `hoses_twice_a_year`; a name with too few letters for one, such as `X`, is `schedule_x`.
/// Nothing for no name.
fn code_of(name: &str) -> String {
    let lower = name.trim().to_lowercase();
    let from_letter = lower.trim_start_matches(|letter: char| !letter.is_ascii_lowercase());
    let code = joined(from_letter);
    match code.len() {
        _ if lower.is_empty() => String::new(),
        0 | 1 => joined(&format!("schedule {lower}")),
        _ => code,
    }
}

/// The letters and digits of a text with underscores between.
fn joined(text: &str) -> String {
    let words = text
        .split(|letter: char| !letter.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty());
    let code: String = words
        .collect::<Vec<_>>()
        .join("_")
        .chars()
        .take(CODE_LETTERS)
        .collect();
    code.trim_end_matches('_').to_owned()
}

fn text(fields: &Fields) -> ScheduleText {
    let one = |name: &str| fields.text(name).to_owned();
    let all = |name: &str| fields.all(name).map(str::to_owned).collect::<Vec<_>>();
    ScheduleText {
        code: one("code"),
        name: one("name"),
        pack: String::new(),
        active: one("active"),
        recorded_only: one("recorded_only"),
        anchor: one("anchor"),
        rule: one("rule"),
        start: one("start"),
        lead_days: one("lead_days"),
        grace_days: one("grace_days"),
        early_days: one("early_days"),
        checks: all("checks"),
        scope_kinds: all("scope_kinds"),
        scope_parts: all("scope_parts"),
        scope_buildings: all("scope_buildings"),
        scope_tags: all("scope_tags"),
        scope_min_age_years: one("scope_min_age_years"),
        scope_max_age_years: one("scope_max_age_years"),
        scope_min_failures: one("scope_min_failures"),
        on_closed_days: one("on_closed_days"),
        vacancy: one("vacancy"),
        season_months: all("season_months"),
        technician: one("technician"),
    }
}

fn said(fields: &Fields) -> PlainText {
    let one = |name: &str| fields.text(name).to_owned();
    PlainText {
        pattern: one("pattern"),
        every: one("every"),
        unit: one("unit"),
        nth: one("nth"),
        weekday: one("weekday"),
        month_step: one("month_step"),
        months: fields.all("months").map(str::to_owned).collect(),
        month_day: one("month_day"),
        season_from: one("season_from"),
        season_to: one("season_to"),
        season_times: one("season_times"),
    }
}

/// What the part offers.
pub(super) struct Offers {
    /// Ways of saying it.
    pub patterns: Vec<Choice>,
    /// Days to years.
    pub units: Vec<Choice>,
    /// First to last.
    pub nths: Vec<Choice>,
    /// Monday to Sunday.
    pub weekdays: Vec<Choice>,
    /// January to December, to choose one.
    pub months: Vec<Choice>,
    /// January to December, to choose some.
    pub month_ticks: Vec<Tick>,
}

impl Offers {
    /// With what was said chosen.
    pub fn of(said: &PlainText) -> Self {
        let months = || (1..).zip(MONTHS);
        Self {
            patterns: every(Pattern::name),
            units: every(Span::name),
            nths: every(Nth::name),
            weekdays: every(DayOfWeek::name),
            months: months()
                .map(|(number, name): (usize, _)| Choice::new(number.to_string(), name))
                .collect(),
            month_ticks: months_of(&said.months),
        }
    }
}

/// January to December, with those that were chosen ticked.
pub(super) fn months_of(chosen: &[String]) -> Vec<Tick> {
    let chosen = |number: &str| {
        chosen
            .iter()
            .flat_map(|text| text.split_whitespace())
            .any(|one| one == number)
    };
    (1..)
        .zip(MONTHS)
        .map(|(number, name): (usize, _)| Tick {
            value: number.to_string(),
            label: name.to_owned(),
            is_ticked: chosen(&number.to_string()),
        })
        .collect()
}

/// The dates of a preview, each with where it was moved from and why; empty where it was not.
pub(super) fn dates(would: &Preview, moving: Moving, today: NaiveDate) -> Vec<(String, String)> {
    let why = |to, from| moved_in_words(moving, (from, to), &would.closed, today);
    let of = |date: &Dated| {
        let moved = date
            .moved_from
            .map(|from| why(date.day, from))
            .unwrap_or_default();
        (language::day(date.day, today), moved)
    };
    would.next_dates.iter().map(of).collect()
}

fn every<T: Coded + Copy + 'static>(name: fn(T) -> &'static str) -> Vec<Choice> {
    Choice::every(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_made_of_the_name_s_letters_and_digits() {
        for (name, code) in [
            ("Hoses, twice a year", "hoses_twice_a_year"),
            ("2nd look: WC-1 & WC-2", "nd_look_wc_1_wc_2"),
            ("  Élan (north)  ", "lan_north"),
            ("7", "schedule_7"),
            ("X", "schedule_x"),
            ("Öl", "schedule_l"),
            ("тест", "schedule"),
            ("", ""),
        ] {
            assert_eq!(code_of(name), code, "{name}");
        }
        let long = code_of(&"hose ".repeat(20));
        assert!(long.len() <= CODE_LETTERS && !long.ends_with('_'), "{long}");
    }
}
