//! What is to be written so that the due rows of a turn become what was computed.

use std::collections::{BTreeSet, HashMap};

use super::rows::{Key, Row};

/// What is to be written.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Changes {
    /// Rows that are new or say something else.
    pub put: Vec<Row>,
    /// Rows that are to go.
    pub gone: Vec<Row>,
    /// The buildings in which something changes, before or after it.
    pub buildings: BTreeSet<i64>,
}

impl Changes {
    /// From the rows that are stored to those that were computed; rows that are right are in neither list.
    pub(super) fn between(stored: Vec<Row>, computed: &[Row]) -> Self {
        let mut stored: HashMap<Key, Row> = stored.into_iter().map(|row| (row.key(), row)).collect();
        let mut changes = Self::default();
        for row in computed {
            let before = stored.remove(&row.key());
            if before.as_ref() != Some(row) {
                changes.buildings.extend(before.map(|row| row.building_id));
                changes.buildings.insert(row.building_id);
                changes.put.push(row.clone());
            }
        }
        changes
            .buildings
            .extend(stored.values().map(|row| row.building_id));
        changes.gone.extend(stored.into_values());
        changes
    }

    /// The fixtures of which something changes.
    pub(super) fn fixtures(&self) -> BTreeSet<i64> {
        let both = self.put.iter().chain(&self.gone);
        both.map(|row| row.fixture_id).collect()
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;

    fn row(fixture: i64, schedule: i64) -> Row {
        let day = NaiveDate::default();
        Row {
            fixture_id: fixture,
            part: String::new(),
            check_id: 1,
            building_id: 7,
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

    #[test]
    fn a_row_that_is_right_is_not_touched() {
        let changes = Changes::between(vec![row(1, 5)], &[row(1, 5)]);
        assert_eq!(changes, Changes::default());
    }

    #[test]
    fn a_row_that_is_new_or_says_something_else_is_written_and_one_that_nothing_asks_for_goes() {
        let changes = Changes::between(vec![row(1, 5), row(20, 5)], &[row(1, 6), row(30, 6)]);
        assert_eq!(changes.put, [row(1, 6), row(30, 6)]);
        assert_eq!(changes.gone, [row(20, 5)]);
        assert_eq!(changes.buildings, BTreeSet::from([7]));
        assert_eq!(changes.fixtures(), BTreeSet::from([1, 20, 30]));
    }

    #[test]
    fn a_row_that_lies_in_another_building_changes_both() {
        let elsewhere = Row {
            building_id: 8,
            ..row(1, 5)
        };
        let changes = Changes::between(vec![row(1, 5)], &[elsewhere]);
        assert_eq!(changes.buildings, BTreeSet::from([7, 8]));
    }
}
