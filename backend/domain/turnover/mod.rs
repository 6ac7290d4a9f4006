//! The work between a move-out and a move-in: its stages, its checklist in the order of a walk, and what blocks each next step.
//!
//! This room decides from values: what stands in the unit, which checks there are, what falls due, what is wrong, what was answered.
//! It knows no database and no page, and is told what day it is. Answers are results like any other; what they mean is `result`'s.

pub mod answered;
pub mod blocks;
pub mod checklist;
pub mod facts;
pub mod item;
pub mod phones;
pub mod stage;
pub mod waiver;
mod walk;

pub use blocks::{Block, Days, blocks};
pub use checklist::Checklist;
pub use facts::{DueBy, Facts, KnownItem, Offered, Place, Standing, Word};
pub use item::{Answer, Count, Item, ItemKey, Matter};
pub use stage::Stage;
pub use waiver::{Waiver, WaiverFacts, WaiverText};
pub use walk::{GroupWalk, PlaceWalk, RoomWalk};

use chrono::{NaiveDate, NaiveDateTime};

use crate::domain::field::FieldError;
use crate::domain::register::typed::{Typed, a_year_ahead};
use crate::domain::register::{BuildingId, PersonId, TurnoverId, UnitId};

/// A turnover as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turnover {
    /// Key, also its number for people.
    pub id: TurnoverId,
    /// Where.
    pub building: BuildingId,
    /// Where.
    pub unit: UnitId,
    /// What it is.
    pub facts: TurnoverFacts,
    /// The stage it is in.
    pub stage: Stage,
    /// UTC.
    pub opened_at: NaiveDateTime,
    /// Who opened it; none for the command line.
    pub opened_by: Option<PersonId>,
    /// UTC, when it was declared ready.
    pub ready_at: Option<NaiveDateTime>,
    /// Who declared it ready; none for the command line.
    pub ready_by: Option<PersonId>,
    /// UTC, when it was closed or cancelled.
    pub closed_at: Option<NaiveDateTime>,
    /// Who closed or cancelled it; none for the command line.
    pub closed_by: Option<PersonId>,
    /// The name typed at closing, empty before.
    pub signed_name: String,
    /// The signature as drawn on a phone, an SVG path in a box of 1000 by 300; empty when only a name was typed.
    pub signature: String,
    /// UTC, when it was signed on a phone; none when it was signed on a page.
    pub signed_at: Option<NaiveDateTime>,
}

/// A turnover as typed.
#[derive(Debug, Clone, Default)]
pub struct TurnoverText {
    /// Local date.
    pub move_out_on: String,
    /// Local date.
    pub move_in_on: String,
    /// Free text.
    pub note: String,
}

/// A turnover as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurnoverFacts {
    /// Local date.
    pub move_out_on: NaiveDate,
    /// Local date, not before the move-out.
    pub move_in_on: NaiveDate,
    /// Free text, may be empty.
    pub note: String,
}

impl TurnoverFacts {
    /// Reads what was typed; `today` is the unit's local date.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`TurnoverText`].
    pub fn read(text: &TurnoverText, today: NaiveDate) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        let move_out_on = day(&mut typed, "move_out_on", "Move-out", &text.move_out_on, today);
        let move_in_on = day(&mut typed, "move_in_on", "Move-in", &text.move_in_on, today);
        if let (Some(out), Some(back)) = (move_out_on, move_in_on) {
            if back < out {
                typed.refuse(
                    "move_in_on",
                    format!("Move-in {back} lies before the move-out on {out}. Give a day on or after it."),
                );
            } else if back < today {
                typed.refuse(
                    "move_in_on",
                    format!(
                        "Move-in {back} is past. Give the day the next household moves in, {today} or later."
                    ),
                );
            }
        }
        let facts = Self {
            move_out_on: move_out_on.unwrap_or(today),
            move_in_on: move_in_on.unwrap_or(today),
            note: typed.lines("note", "Note", &text.note, 1000),
        };
        typed.finish(facts)
    }
}

fn day(typed: &mut Typed, field: &str, label: &str, given: &str, today: NaiveDate) -> Option<NaiveDate> {
    if given.trim().is_empty() {
        typed.refuse(
            field,
            format!("{label} is empty. Give the day, such as {today}; a good guess will do."),
        );
        return None;
    }
    typed.date(
        field,
        label,
        given,
        a_year_ahead(today),
        "that is more than a year ahead",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(out: &str, back: &str) -> Result<TurnoverFacts, Vec<FieldError>> {
        let text = TurnoverText {
            move_out_on: out.to_owned(),
            move_in_on: back.to_owned(),
            note: String::new(),
        };
        TurnoverFacts::read(&text, NaiveDate::from_ymd_opt(2026, 11, 25).unwrap_or_default())
    }

    #[test]
    fn nobody_moves_in_before_the_move_out_or_in_the_past() {
        assert!(read("2026-11-30", "2026-12-05").is_ok());
        assert!(read("2026-11-25", "2026-11-25").is_ok(), "out and in on one day");
        for (out, back) in [
            ("2026-11-30", "2026-11-29"),
            ("2026-11-01", "2026-11-24"),
            ("2026-11-30", ""),
        ] {
            let errors = read(out, back).err().unwrap_or_default();
            assert_eq!(
                errors.first().map(|e| e.field.as_str()),
                Some("move_in_on"),
                "{out} {back}"
            );
        }
    }
}
