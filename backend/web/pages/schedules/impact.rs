//! What a change of schedules would mean, as a picture and in sentences, before anybody confirms it.

use chrono::{Datelike, Months, NaiveDate};

use crate::actions::schedules::Impact;
use crate::domain::due::impact::{MINUTES_A_MONTH, Work};
use crate::domain::due::{Anchor, Terms};
use crate::language;
use crate::picture::before_after::{BeforeAfter, Month, before_after};

/// A change as a page shows it.
pub(super) struct View {
    /// The months as a picture.
    pub svg: String,
    /// What changes, a line each: the word, as it is, as it would be.
    pub lines: Vec<(&'static str, String, String)>,
    /// What is overdue at once, in a sentence.
    pub overdue: String,
    /// How many technicians that takes, and how that is reckoned.
    pub reckoned: String,
    /// The months as a table: month, checks as they are, as they would be.
    pub months: Vec<(String, u64, u64)>,
}

/// Says it.
pub(super) fn view(found: &Impact, today: NaiveDate) -> View {
    let (before, after) = (&found.before, &found.after);
    let first = today.with_day(1).unwrap_or(today);
    let counts = before.checks.iter().zip(&after.checks);
    let months: Vec<(String, u64, u64)> = counts
        .zip(0_u32..)
        .filter_map(|((before, after), number)| {
            let month = first.checked_add_months(Months::new(number))?;
            Some((month.format("%b %Y").to_string(), *before, *after))
        })
        .collect();
    let both = |of: &dyn Fn(&Work) -> String| (of(before), of(after));
    let line = |word, of: &dyn Fn(&Work) -> String| {
        let (before, after) = both(of);
        (word, before, after)
    };
    View {
        svg: picture(found, first),
        lines: vec![
            line("Fixtures asked about", &|work| language::grouped(work.fixtures())),
            line("Checks in 24 months", &|work| grouped(work.all_checks())),
            line("Hours of work a month", &|work| {
                figure(work.minutes_a_month() / 60.0, 1)
            }),
            line("Technicians needed", &|work| figure(work.technicians(), 2)),
            line("Overdue today", &|work| grouped(work.overdue)),
        ],
        overdue: overdue(before.overdue, after.overdue),
        reckoned: format!(
            "Each check is taken as done on the day it comes due, what is past that as done today. A technician does {:.0} hours of checks a month (common practice, no source); the way there and repairs come on top.",
            MINUTES_A_MONTH / 60.0
        ),
        months,
    }
}

/// What one would wonder at when a schedule's figures are looked at: why nothing comes of it, or why so much at once.
pub(super) fn notes(terms: &Terms, found: &Impact, today: NaiveDate) -> Vec<&'static str> {
    let mut notes = Vec::new();
    if !terms.active {
        notes.push("It is off, so it asks for nothing until it is switched on.");
    } else if terms.recorded_only {
        notes.push("It is recorded only, so nothing comes due by it.");
    }
    if let Anchor::Calendar(rule) = terms.timing.anchor()
        && rule.start() < today
        && found.after.overdue > found.before.overdue
    {
        notes.push(
            "Its first day has passed. With a first day from today on, nothing is overdue by it at once.",
        );
    }
    notes
}

/// A figure to so many decimals; one that is there but would read as nothing is said to be less than the least.
fn figure(figure: f64, decimals: u8) -> String {
    let (least, places) = (10_f64.powi(-i32::from(decimals)), usize::from(decimals));
    if figure > 0.0 && figure < least {
        format!("under {least:.places$}")
    } else {
        format!("{figure:.places$}")
    }
}

fn grouped(count: u64) -> String {
    language::grouped(usize::try_from(count).unwrap_or(usize::MAX))
}

fn overdue(before: u64, after: u64) -> String {
    match after.checked_sub(before) {
        Some(0) => "Nothing more becomes overdue at once.".to_owned(),
        Some(1) => "One check becomes overdue at once.".to_owned(),
        Some(more) => format!("{} checks become overdue at once.", grouped(more)),
        None => format!("{} fewer are overdue.", grouped(before - after)),
    }
}

fn picture(found: &Impact, first: NaiveDate) -> String {
    let (before, after) = (&found.before, &found.after);
    let counts = before.checks.iter().zip(&after.checks);
    let months = counts.zip(0_u32..).map(|((before, after), number)| {
        let month = first.checked_add_months(Months::new(number)).unwrap_or(first);
        Month {
            label: match (number % 6, month.month()) {
                (0, _) => month.format("%b %y").to_string(),
                _ => String::new(),
            },
            before: amount(*before),
            after: amount(*after),
        }
    });
    before_after(&BeforeAfter {
        title: format!(
            "Checks a month for 24 months: {} as it is, {} as it would be",
            grouped(before.all_checks()),
            grouped(after.all_checks())
        ),
        months: months.collect(),
    })
}

fn amount(count: u64) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}
