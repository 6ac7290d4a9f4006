//! What an answer does to the deficiencies of its place: opens one, adds to the one that stands, closes it, or nothing.
//! Decides from what is known at that check, place and part; how grave it is and until when is decided elsewhere.

use chrono::{Months, NaiveDate, NaiveDateTime};

use super::answer::Outcome;
use super::deficiency::{ClosedHow, DeficiencyStatus};
use crate::domain::register::{DeficiencyId, FixtureId};

/// How long after its closing a deficiency is repeated by a new failure, months.
///
/// # Source
/// Common practice, no source: a year, so that one yearly round lies within.
pub const REPEATED_WITHIN_MONTHS: u32 = 12;

/// An answer that was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seen {
    /// How it came out.
    pub outcome: Outcome,
    /// The fixture that was looked at.
    pub fixture: FixtureId,
    /// UTC.
    pub done_at: NaiveDateTime,
    /// The building's local date then.
    pub done_on: NaiveDate,
}

/// A deficiency of the same check at the same place and part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Known {
    /// Which one.
    pub id: DeficiencyId,
    /// Where it stands.
    pub status: DeficiencyStatus,
    /// What stood there when it was opened.
    pub fixture: Option<FixtureId>,
    /// UTC.
    pub opened_at: NaiveDateTime,
    /// The local date of its closing.
    pub closed_on: Option<NaiveDate>,
}

/// What follows from an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FollowUp {
    /// Nothing changes.
    Nothing,
    /// A deficiency opens.
    Open {
        /// The one it repeats, closed within twelve months before.
        repeats: Option<DeficiencyId>,
    },
    /// It is added to one that stands already; a repaired one is open again.
    AddTo(DeficiencyId),
    /// These are right again.
    Close(Vec<(DeficiencyId, ClosedHow)>),
}

/// Decides what follows. `later` is the outcome of the latest answer (pass or fail) to the same check that was done after this one:
/// of two answers the later done counts, whichever arrived first.
///
/// A passing answer closes what was opened before it; on a fixture that replaced the failed one it closes it as replaced. An attempt
/// that checked nothing changes nothing.
#[must_use]
pub fn follow_up(seen: &Seen, known: &[Known], later: Option<Outcome>) -> FollowUp {
    let standing = |known: &&Known| known.status != DeficiencyStatus::Closed;
    if later.is_some() {
        return FollowUp::Nothing;
    }
    match seen.outcome {
        Outcome::NotChecked => FollowUp::Nothing,
        Outcome::Pass => {
            let right: Vec<_> = known
                .iter()
                .filter(standing)
                .filter(|known| known.opened_at <= seen.done_at)
                .map(|known| (known.id, closed_how(known, seen)))
                .collect();
            if right.is_empty() {
                FollowUp::Nothing
            } else {
                FollowUp::Close(right)
            }
        }
        Outcome::Fail => match known.iter().filter(standing).max_by_key(|known| known.id) {
            Some(standing) => FollowUp::AddTo(standing.id),
            None => FollowUp::Open {
                repeats: repeated(seen, known),
            },
        },
    }
}

fn closed_how(known: &Known, seen: &Seen) -> ClosedHow {
    match known.fixture {
        Some(fixture) if fixture != seen.fixture => ClosedHow::Replaced,
        _ => ClosedHow::Recheck,
    }
}

/// The latest one closed within twelve months before the failure, its anniversary included.
fn repeated(seen: &Seen, known: &[Known]) -> Option<DeficiencyId> {
    known
        .iter()
        .filter_map(|known| Some((known.closed_on?, known.id)))
        .filter(|(closed_on, _)| {
            *closed_on <= seen.done_on
                && closed_on
                    .checked_add_months(Months::new(REPEATED_WITHIN_MONTHS))
                    .is_some_and(|last| seen.done_on <= last)
        })
        .max()
        .map(|(_, id)| id)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> NaiveDateTime {
        format!("{text}T12:00:00").parse().unwrap_or_default()
    }

    fn seen(outcome: Outcome, day: &str) -> Seen {
        Seen {
            outcome,
            fixture: FixtureId(7),
            done_at: at(day),
            done_on: at(day).date(),
        }
    }

    fn known(id: i64, status: DeficiencyStatus, closed: Option<&str>) -> Known {
        Known {
            id: DeficiencyId(id),
            status,
            fixture: Some(FixtureId(7)),
            opened_at: at("2025-10-01"),
            closed_on: closed.map(|day| at(day).date()),
        }
    }

    #[test]
    fn a_failure_opens_and_a_second_one_adds() {
        let fail = seen(Outcome::Fail, "2026-11-25");
        assert_eq!(follow_up(&fail, &[], None), FollowUp::Open { repeats: None });
        let repaired = known(3, DeficiencyStatus::Repaired, None);
        assert_eq!(
            follow_up(&fail, &[repaired], None),
            FollowUp::AddTo(DeficiencyId(3))
        );
    }

    #[test]
    fn repeated_is_within_twelve_months_of_the_closing_the_anniversary_included() {
        let closed = known(3, DeficiencyStatus::Closed, Some("2025-11-25"));
        let of = |day| follow_up(&seen(Outcome::Fail, day), &[closed], None);
        assert_eq!(
            of("2026-11-25"),
            FollowUp::Open {
                repeats: Some(DeficiencyId(3))
            }
        );
        assert_eq!(of("2026-11-26"), FollowUp::Open { repeats: None });
    }

    #[test]
    fn a_pass_closes_what_stood_and_says_when_the_fixture_is_another() {
        let pass = seen(Outcome::Pass, "2026-11-25");
        let same = known(3, DeficiencyStatus::Open, None);
        let older = Known {
            fixture: Some(FixtureId(2)),
            ..known(2, DeficiencyStatus::Open, None)
        };
        assert_eq!(
            follow_up(&pass, &[same, older], None),
            FollowUp::Close(vec![
                (DeficiencyId(3), ClosedHow::Recheck),
                (DeficiencyId(2), ClosedHow::Replaced)
            ])
        );
    }

    #[test]
    fn of_two_answers_the_later_done_counts_whichever_arrived_first() {
        let open = Known {
            opened_at: at("2026-11-25"),
            ..known(3, DeficiencyStatus::Open, None)
        };
        let earlier_pass = seen(Outcome::Pass, "2026-11-24");
        assert_eq!(
            follow_up(&earlier_pass, &[open], Some(Outcome::Fail)),
            FollowUp::Nothing
        );
        let earlier_fail = seen(Outcome::Fail, "2026-11-24");
        assert_eq!(
            follow_up(&earlier_fail, &[], Some(Outcome::Pass)),
            FollowUp::Nothing
        );
    }

    #[test]
    fn an_attempt_changes_nothing() {
        let open = known(3, DeficiencyStatus::Open, None);
        assert_eq!(
            follow_up(&seen(Outcome::NotChecked, "2026-11-25"), &[open], None),
            FollowUp::Nothing
        );
    }
}
