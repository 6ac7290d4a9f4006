//! A building as one sees it from the street: which cell stands where, how it is hatched, and what is said beneath. Wide buildings are
//! drawn in blocks of columns that stay readable on a phone.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::code::Coded as _;
use crate::domain::register::{Unit, UnitId, UnitKind};
use crate::domain::trade::Severity;
use crate::language::Language;
use crate::picture::elevation::{Cell, Elevation, Floor, Ground, Hatch, elevation};
use crate::store::lists::unit_counts::Counts;

/// Columns of one block.
const BLOCK: usize = 8;

/// The key of a style and the words of a severity, as rows say it.
#[must_use]
pub fn severity_words(language: Language, severity: Severity) -> (&'static str, String) {
    (severity.code(), language.word(severity).to_lowercase())
}

/// Where a unit is drawn: its first column, from 0 at the left, and how many it takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Slot {
    column: usize,
    span: usize,
}

/// Where a cell leads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leads {
    /// To the page of its unit.
    ToUnit,
    /// To the row of its unit on the same page, for whom has no page of units.
    ToRow,
}

/// The elevation of a building, one picture a block of columns; none without units.
#[must_use]
pub fn pictures(
    name: &str,
    units: &[Unit],
    counts: &BTreeMap<UnitId, Counts>,
    leads: Leads,
    language: Language,
) -> Vec<String> {
    let slots = slots(units);
    let widest = slots
        .values()
        .map(|slot| slot.column + slot.span)
        .max()
        .unwrap_or(0);
    (0..widest)
        .step_by(BLOCK)
        .filter_map(|from| {
            let shown: Vec<(&Unit, Slot)> = units
                .iter()
                .filter_map(|unit| {
                    let slot = slots.get(&unit.id)?;
                    let column = slot.column.checked_sub(from)?;
                    (column < BLOCK).then_some((unit, Slot { column, ..*slot }))
                })
                .collect();
            let wide = widest.min(BLOCK);
            (!shown.is_empty())
                .then(|| elevation(&block(name, &shown, counts, (from, wide), leads, language)))
        })
        .collect()
}

/// Each unit at its riser; those without one, or whose place is taken, right of all risers on their floor. A common area without a
/// riser is two columns wide where it does not cross into the next block.
fn slots(units: &[Unit]) -> BTreeMap<UnitId, Slot> {
    let mut taken: BTreeSet<(i64, usize)> = BTreeSet::new();
    let mut placed = BTreeMap::new();
    let mut left_over = Vec::new();
    for unit in units {
        let column = unit.facts.riser.and_then(|riser| usize::try_from(riser - 1).ok());
        match column {
            Some(column) if taken.insert((unit.facts.floor, column)) => {
                placed.insert(unit.id, Slot { column, span: 1 });
            }
            _ => left_over.push(unit),
        }
    }
    let right_of_all = placed.values().map(|slot| slot.column + 1).max().unwrap_or(0);
    for unit in left_over {
        let floor = unit.facts.floor;
        let free = (right_of_all..).find(|&column| taken.insert((floor, column)));
        let column = free.unwrap_or(right_of_all);
        let may_be_wide = unit.facts.kind == UnitKind::CommonArea && (column + 1) % BLOCK != 0;
        let span = if may_be_wide && taken.insert((floor, column + 1)) {
            2
        } else {
            1
        };
        placed.insert(unit.id, Slot { column, span });
    }
    placed
}

/// One picture; every one of a building is as wide as the first, so that cells are as large everywhere.
fn block(
    name: &str,
    shown: &[(&Unit, Slot)],
    counts: &BTreeMap<UnitId, Counts>,
    (from, wide): (usize, usize),
    leads: Leads,
    language: Language,
) -> Elevation {
    let levels: BTreeSet<i64> = shown.iter().map(|(unit, _)| unit.facts.floor).collect();
    let floors = levels
        .into_iter()
        .rev()
        .map(|level| Floor {
            label: level.to_string(),
            ground: if level >= 1 { Ground::Above } else { Ground::Below },
            cells: shown
                .iter()
                .filter(|(unit, _)| unit.facts.floor == level)
                .map(|(unit, slot)| {
                    let counts = counts.get(&unit.id).copied().unwrap_or_default();
                    cell(unit, *slot, counts, leads, language)
                })
                .collect(),
        })
        .collect();
    let is_riser = |column: usize| {
        let riser = i64::try_from(column + from + 1).ok();
        shown
            .iter()
            .any(|(unit, slot)| slot.column == column && unit.facts.riser == riser)
    };
    Elevation {
        title: title(name, shown, counts, language),
        risers: (0..wide)
            .map(|column| {
                if is_riser(column) {
                    language
                        .say("units-riser")
                        .with("riser", (column + from + 1).to_string())
                        .into()
                } else {
                    String::new()
                }
            })
            .collect(),
        floors,
        note: riser_note(shown, counts, language),
    }
}

fn cell(unit: &Unit, slot: Slot, counts: Counts, leads: Leads, language: Language) -> Cell {
    let wrong = counts.open.count + counts.checks.overdue;
    let word = |severity| severity_words(language, severity).1;
    let (hatch, word) = match counts.open.worst {
        Some(Severity::LifeThreatening) => (Hatch::Heavy, language.say("front-danger").into()),
        Some(Severity::Severe) => (Hatch::Dense, word(Severity::Severe)),
        Some(Severity::Moderate) => (Hatch::Sparse, word(Severity::Moderate)),
        Some(Severity::Low) => (Hatch::Sparse, word(Severity::Low)),
        None if counts.checks.overdue > 0 => {
            let over = language
                .say("front-over")
                .with("number", counts.checks.overdue.to_string());
            (Hatch::None, over.into())
        }
        None if counts.fixtures == 0 => (Hatch::Unknown, language.say("front-empty").into()),
        None => (Hatch::None, String::new()),
    };
    Cell {
        riser: slot.column,
        span: slot.span,
        label: unit.facts.label.clone(),
        count: u32::try_from(wrong).unwrap_or(u32::MAX),
        word,
        hatch,
        href: Some(match leads {
            Leads::ToUnit => format!("/units/{}", unit.id),
            Leads::ToRow => format!("#unit-{}", unit.id),
        }),
    }
}

fn title(
    name: &str,
    shown: &[(&Unit, Slot)],
    counts: &BTreeMap<UnitId, Counts>,
    language: Language,
) -> String {
    let worst = shown
        .iter()
        .filter_map(|(unit, _)| {
            let severity = counts.get(&unit.id)?.open.worst?;
            Some((severity.rank(), severity, &unit.facts.label))
        })
        .max_by_key(|(rank, ..)| *rank);
    match worst {
        Some((_, severity, label)) => {
            let said = language.say("front-worst").with("building", name);
            said.with("severity", severity_words(language, severity).1)
                .with("unit", label)
                .into()
        }
        None => language.say("front-none-open").with("building", name).into(),
    }
}

/// A riser with deficiencies on two floors or more, when no other has as many.
fn riser_note(
    shown: &[(&Unit, Slot)],
    counts: &BTreeMap<UnitId, Counts>,
    language: Language,
) -> Option<String> {
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
        (Some((riser, (wrong, floors))), None) if *wrong >= 2 => {
            let said = language.say("front-riser").with("riser", riser.to_string());
            Some(said.with("wrong", *wrong).with("floors", *floors).into())
        }
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
        let columns: Vec<_> = slots(&units).values().map(|slot| slot.column).collect();
        assert_eq!(columns, [1, 2, 3, 2]);
    }

    #[test]
    fn a_common_area_without_a_riser_is_two_columns_wide_but_never_across_blocks() {
        let mut units = vec![unit(1, 1, Some(6)), unit(2, 1, None), unit(3, 1, None)];
        units[1].facts.kind = UnitKind::CommonArea;
        units[2].facts.kind = UnitKind::CommonArea;
        let wide = |units: &[Unit]| -> Vec<_> {
            let slots = slots(units);
            slots.values().map(|slot| (slot.column, slot.span)).collect()
        };
        assert_eq!(wide(&units), [(5, 1), (6, 2), (8, 2)]);
        units[0].facts.riser = Some(7);
        assert_eq!(wide(&units), [(6, 1), (7, 1), (8, 2)]);
    }

    #[test]
    fn a_wide_building_is_drawn_in_blocks_and_empty_ones_are_left_out() {
        let units: Vec<_> = (1..=17).map(|key| unit(key, 1, Some(key))).collect();
        assert_eq!(
            pictures(
                "Alder",
                &units,
                &BTreeMap::new(),
                Leads::ToUnit,
                Language::ENGLISH
            )
            .len(),
            3
        );
        let apart = [unit(1, 1, Some(1)), unit(2, 1, Some(150))];
        assert_eq!(
            pictures(
                "Alder",
                &apart,
                &BTreeMap::new(),
                Leads::ToUnit,
                Language::ENGLISH
            )
            .len(),
            2
        );
        assert!(pictures("Alder", &[], &BTreeMap::new(), Leads::ToUnit, Language::ENGLISH).is_empty());
    }

    #[test]
    fn a_riser_in_trouble_is_named() {
        let units = [unit(1, 1, Some(1)), unit(2, 2, Some(1)), unit(3, 1, Some(2))];
        let mut wrong = Counts::default();
        wrong.open.count = 1;
        wrong.open.worst = Some(Severity::Severe);
        let counts = BTreeMap::from([(UnitId(1), wrong), (UnitId(2), wrong)]);
        let slot = Slot { column: 0, span: 1 };
        let shown: Vec<_> = units.iter().map(|unit| (unit, slot)).collect();
        let note = riser_note(&shown, &counts, Language::ENGLISH);
        assert_eq!(note.as_deref(), Some("riser 1: deficiencies on 2 of 2 floors"));
    }
}
