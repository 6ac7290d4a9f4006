//! What is to be written so that stored due rows become what was computed, at once or with the next turn.

use std::collections::HashMap;

use super::rows::{Kept, Key, Row};
use super::turns::OPEN;

/// What is to be written.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Changes {
    /// Rows that are new or say something else.
    pub put: Vec<Kept>,
    /// Rows that stay as they are but for the turn until which they are in use.
    pub ended: Vec<Kept>,
    /// Rows that are to go.
    pub gone: Vec<Kept>,
}

/// What is stored under one key: in use now, and laid beside it for the next turn.
#[derive(Debug, Default)]
struct Stored {
    now: Option<Kept>,
    next: Option<Kept>,
}

fn by_key(live: i64, rows: Vec<Kept>) -> HashMap<Key, Stored> {
    let mut found: HashMap<Key, Stored> = HashMap::with_capacity(rows.len());
    for kept in rows {
        let stored = found.entry(kept.row.key()).or_default();
        if kept.since <= live {
            stored.now = Some(kept);
        } else {
            stored.next = Some(kept);
        }
    }
    found
}

impl Changes {
    pub(super) fn is_empty(&self) -> bool {
        self.put.is_empty() && self.ended.is_empty() && self.gone.is_empty()
    }

    /// What was computed is in use from now on, and nothing else waits.
    pub(super) fn at_once(live: i64, stored: Vec<Kept>, computed: Vec<Row>) -> Self {
        let mut stored = by_key(live, stored);
        let mut changes = Self::default();
        for row in computed {
            let Stored { now, next } = stored.remove(&row.key()).unwrap_or_default();
            let since = now.as_ref().map_or(live, |kept| kept.since);
            let wanted = Kept {
                since,
                until: OPEN,
                row,
            };
            changes.gone.extend(next);
            if now.as_ref() != Some(&wanted) {
                changes.put.push(wanted);
            }
        }
        for left in stored.into_values() {
            changes.gone.extend(left.now);
            changes.gone.extend(left.next);
        }
        changes
    }

    /// What is in use stays so; what was computed takes its place with the next turn.
    pub(super) fn for_next_turn(live: i64, stored: Vec<Kept>, computed: Vec<Row>) -> Self {
        let mut stored = by_key(live, stored);
        let turn = live + 1;
        let mut changes = Self::default();
        for row in computed {
            let Stored { now, next } = stored.remove(&row.key()).unwrap_or_default();
            let stays = now.as_ref().is_some_and(|kept| kept.row == row);
            changes.ends(now, if stays { OPEN } else { turn });
            if stays {
                changes.gone.extend(next);
                continue;
            }
            let wanted = Kept {
                since: turn,
                until: OPEN,
                row,
            };
            if next.as_ref() != Some(&wanted) {
                changes.put.push(wanted);
            }
        }
        for left in stored.into_values() {
            changes.ends(left.now, turn);
            changes.gone.extend(left.next);
        }
        changes
    }

    /// A row is in use until a turn.
    fn ends(&mut self, kept: Option<Kept>, until: i64) {
        self.ended.extend(
            kept.filter(|kept| kept.until != until)
                .map(|kept| Kept { until, ..kept }),
        );
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;

    const LIVE: i64 = 7;

    fn row(fixture: i64, schedule: i64) -> Row {
        let day = NaiveDate::default();
        Row {
            fixture_id: fixture,
            part: String::new(),
            check_id: 1,
            building_id: 1,
            unit_id: 1,
            schedule_id: schedule,
            basis: "joined".to_owned(),
            counts_from: day,
            opens: day,
            due: day,
            last_day: day,
            moved_from: None,
        }
    }

    fn kept(since: i64, until: i64, row: Row) -> Kept {
        Kept { since, until, row }
    }

    /// The rows after the changes, as the database would hold them.
    fn after(stored: &[Kept], changes: Changes) -> Vec<Kept> {
        let key = |kept: &Kept| (kept.row.key(), kept.since);
        let mut rows: Vec<Kept> = stored.to_vec();
        rows.retain(|kept| {
            changes
                .gone
                .iter()
                .chain(&changes.put)
                .chain(&changes.ended)
                .all(|other| key(other) != key(kept))
        });
        rows.extend(changes.put);
        rows.extend(changes.ended);
        rows.sort_by_key(key);
        rows
    }

    #[test]
    fn a_row_that_is_right_is_not_touched_at_once_or_later() {
        let stored = vec![kept(3, OPEN, row(1, 5))];
        assert!(Changes::at_once(LIVE, stored.clone(), vec![row(1, 5)]).is_empty());
        assert!(Changes::for_next_turn(LIVE, stored, vec![row(1, 5)]).is_empty());
    }

    #[test]
    fn another_row_is_laid_beside_the_one_in_use_and_takes_its_place_with_the_next_turn() {
        let stored = vec![kept(3, OPEN, row(1, 5))];
        let changes = Changes::for_next_turn(LIVE, stored.clone(), vec![row(1, 6), row(2, 6)]);
        let expected = [
            kept(3, LIVE + 1, row(1, 5)),
            kept(LIVE + 1, OPEN, row(1, 6)),
            kept(LIVE + 1, OPEN, row(2, 6)),
        ];
        assert_eq!(after(&stored, changes), expected);
    }

    #[test]
    fn a_row_that_nothing_asks_for_any_more_is_shown_until_the_next_turn() {
        let stored = vec![kept(3, OPEN, row(1, 5))];
        let changes = Changes::for_next_turn(LIVE, stored.clone(), Vec::new());
        assert_eq!(after(&stored, changes), [kept(3, LIVE + 1, row(1, 5))]);
    }

    #[test]
    fn a_change_taken_back_before_the_turn_leaves_what_was_in_use() {
        let stored = vec![kept(3, LIVE + 1, row(1, 5)), kept(LIVE + 1, OPEN, row(1, 6))];
        let changes = Changes::for_next_turn(LIVE, stored.clone(), vec![row(1, 5)]);
        assert_eq!(after(&stored, changes), [kept(3, OPEN, row(1, 5))]);
    }

    #[test]
    fn what_is_recorded_meanwhile_shows_at_once_and_nothing_waits_behind_it() {
        let stored = vec![
            kept(3, LIVE + 1, row(1, 5)),
            kept(LIVE + 1, OPEN, row(1, 6)),
            kept(LIVE + 1, OPEN, row(2, 6)),
        ];
        let changes = Changes::at_once(LIVE, stored.clone(), vec![row(1, 7)]);
        assert_eq!(after(&stored, changes), [kept(3, OPEN, row(1, 7))]);
    }
}
