//! A building as one sees it from the street: which cell stands where, how it is hatched, and what is said beneath. Wide buildings are
//! drawn in blocks of columns that stay readable on a phone.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::register::{Unit, UnitId};
use crate::domain::trade::Severity;
use crate::picture::elevation::{Cell, Elevation, Floor, Ground, Hatch, elevation};
use crate::store::lists::unit_counts::Counts;

/// Columns of one block.
const BLOCK: usize = 8;

/// The key of a style and the words of a severity, as rows say it.
#[must_use]
pub fn severity_words(severity: Severity) -> (&'static str, &'static str) {
    match severity {
        Severity::LifeThreatening => ("life_threatening", "life-threatening"),
        Severity::Severe => ("severe", "severe"),
        Severity::Moderate => ("moderate", "moderate"),
        Severity::Low => ("low", "low"),
    }
}

/// The elevation of a building, one picture a block of columns; none without units.
#[must_use]
pub fn pictures(name: &str, units: &[Unit], counts: &BTreeMap<UnitId, Counts>) -> Vec<String> {
    let columns = columns(units);
    let widest = columns.values().map(|column| column + 1).max().unwrap_or(0);
    (0..widest)
        .step_by(BLOCK)
        .map(|from| elevation(&block(name, units, counts, (&columns, from))))
        .collect()
}

/// The column of each unit: its riser, or the first free column of its floor right of all risers.
fn columns(units: &[Unit]) -> BTreeMap<UnitId, usize> {
    let mut taken: BTreeSet<(i64, usize)> = BTreeSet::new();
    let mut placed = BTreeMap::new();
    let mut left_over = Vec::new();
    for unit in units {
        let column = unit.facts.riser.and_then(|riser| usize::try_from(riser - 1).ok());
        match column {
            Some(column) if taken.insert((unit.facts.floor, column)) => {
                placed.insert(unit.id, column);
            }
            _ => left_over.push(unit),
        }
    }
    let right_of_all = placed.values().map(|column| column + 1).max().unwrap_or(0);
    for unit in left_over {
        let free = (right_of_all..).find(|&column| taken.insert((unit.facts.floor, column)));
        placed.insert(unit.id, free.unwrap_or(right_of_all));
    }
    placed
}

fn block(
    name: &str,
    units: &[Unit],
    counts: &BTreeMap<UnitId, Counts>,
    (columns, from): (&BTreeMap<UnitId, usize>, usize),
) -> Elevation {
    let shown: Vec<(&Unit, usize)> = units
        .iter()
        .filter_map(|unit| {
            let column = columns.get(&unit.id)?.checked_sub(from)?;
            (column < BLOCK).then_some((unit, column))
        })
        .collect();
    let levels: BTreeSet<i64> = units.iter().map(|unit| unit.facts.floor).collect();
    let floors = levels
        .into_iter()
        .rev()
        .map(|level| Floor {
            label: level.to_string(),
            ground: if level >= 1 { Ground::Above } else { Ground::Below },
            cells: shown
                .iter()
                .filter(|(unit, _)| unit.facts.floor == level)
                .map(|(unit, column)| cell(unit, *column, counts.get(&unit.id).copied().unwrap_or_default()))
                .collect(),
        })
        .collect();
    let wide = shown.iter().map(|(_, column)| column + 1).max().unwrap_or(0);
    let has_risers = |column: usize| {
        shown
            .iter()
            .any(|(unit, at)| *at == column && unit.facts.riser == i64::try_from(column + from + 1).ok())
    };
    Elevation {
        title: title(name, &shown, counts),
        risers: (0..wide)
            .map(|column| {
                if has_risers(column) {
                    format!("riser {}", column + from + 1)
                } else {
                    String::new()
                }
            })
            .collect(),
        floors,
        note: riser_note(&shown, counts),
    }
}

fn cell(unit: &Unit, column: usize, counts: Counts) -> Cell {
    let wrong = counts.open.count + counts.overdue;
    let (hatch, word) = match counts.open.worst {
        Some(Severity::LifeThreatening) => (Hatch::Heavy, "danger".to_owned()),
        Some(Severity::Severe) => (Hatch::Dense, "severe".to_owned()),
        Some(Severity::Moderate) => (Hatch::Sparse, "moderate".to_owned()),
        Some(Severity::Low) => (Hatch::Sparse, "low".to_owned()),
        None if counts.overdue > 0 => (Hatch::None, format!("{} over", counts.overdue)),
        None if counts.fixtures == 0 => (Hatch::Unknown, "empty".to_owned()),
        None => (Hatch::None, String::new()),
    };
    Cell {
        riser: column,
        span: 1,
        label: unit.facts.label.clone(),
        count: u32::try_from(wrong).unwrap_or(u32::MAX),
        word,
        hatch,
        href: Some(format!("/units/{}", unit.id)),
    }
}

fn title(name: &str, shown: &[(&Unit, usize)], counts: &BTreeMap<UnitId, Counts>) -> String {
    let worst = shown
        .iter()
        .filter_map(|(unit, _)| {
            let severity = counts.get(&unit.id)?.open.worst?;
            Some((severity.rank(), severity, &unit.facts.label))
        })
        .max_by_key(|(rank, ..)| *rank);
    match worst {
        Some((_, severity, label)) => format!(
            "{name} from the street; the worst is {} in {label}",
            severity_words(severity).1
        ),
        None => format!("{name} from the street; no open deficiency"),
    }
}

/// A riser with deficiencies on two floors or more, when no other has as many.
fn riser_note(shown: &[(&Unit, usize)], counts: &BTreeMap<UnitId, Counts>) -> Option<String> {
    let mut by_riser: BTreeMap<i64, (usize, usize)> = BTreeMap::new();
    for (unit, _) in shown {
        let Some(riser) = unit.facts.riser else { continue };
        let entry = by_riser.entry(riser).or_default();
        entry.1 += 1;
        if counts.get(&unit.id).is_some_and(|counts| counts.open.count > 0) {
            entry.0 += 1;
        }
    }
    let most = by_riser.values().map(|(wrong, _)| *wrong).max()?;
    let mut worst = by_riser.iter().filter(|(_, (wrong, _))| *wrong == most);
    match (worst.next(), worst.next()) {
        (Some((riser, (wrong, floors))), None) if *wrong >= 2 => Some(format!(
            "riser {riser}: deficiencies on {wrong} of {floors} floors"
        )),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::register::{BuildingId, Occupancy, UnitFacts, UnitKind};

    fn unit(key: i64, floor: i64, riser: Option<i64>) -> Unit {
        Unit {
            id: UnitId(key),
            building: BuildingId(1),
            spread_ppm: 0,
            facts: UnitFacts {
                label: format!("U{key}"),
                kind: UnitKind::Unit,
                floor,
                riser,
                occupancy: Occupancy::Occupied,
            },
        }
    }

    #[test]
    fn a_unit_without_a_riser_or_with_a_taken_one_stands_right_of_all_risers() {
        let units = [
            unit(1, 1, Some(2)),
            unit(2, 1, Some(2)),
            unit(3, 1, None),
            unit(4, 2, None),
        ];
        let columns = columns(&units);
        let places: Vec<_> = columns.values().copied().collect();
        assert_eq!(places, [1, 2, 3, 2]);
    }

    #[test]
    fn a_wide_building_is_drawn_in_blocks() {
        let units: Vec<_> = (1..=17).map(|key| unit(key, 1, Some(key))).collect();
        assert_eq!(pictures("Alder", &units, &BTreeMap::new()).len(), 3);
        assert!(pictures("Alder", &[], &BTreeMap::new()).is_empty());
    }

    #[test]
    fn a_riser_in_trouble_is_named() {
        let units = [unit(1, 1, Some(1)), unit(2, 2, Some(1)), unit(3, 1, Some(2))];
        let mut wrong = Counts::default();
        wrong.open.count = 1;
        wrong.open.worst = Some(Severity::Severe);
        let counts = BTreeMap::from([(UnitId(1), wrong), (UnitId(2), wrong)]);
        let shown: Vec<_> = units.iter().map(|unit| (unit, 0)).collect();
        let note = riser_note(&shown, &counts);
        assert_eq!(note.as_deref(), Some("riser 1: deficiencies on 2 of 2 floors"));
    }
}
