//! A tag: the place of a fixture in its unit. Decides its label and the next free one; knows not what stands there.

use super::typed::Typed;
use super::{RoomId, TagId, UnitId};
use crate::domain::field::FieldError;
use crate::domain::trade::FixtureKind;

/// A tag of the register. Its label, its history and what is repeated belong to the place and outlive a replacement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tag {
    /// Key.
    pub id: TagId,
    /// Where.
    pub unit: UnitId,
    /// None when no room was named.
    pub room: Option<RoomId>,
    /// Such as `WC-1`, unique in the unit.
    pub label: String,
}

/// Reads a label, field `tag`: 1 to 16 letters A to Z, digits, hyphens and dots, kept in capitals.
///
/// # Errors
/// A sentence when it can't be used.
pub fn read_label(given: &str) -> Result<String, Vec<FieldError>> {
    let mut typed = Typed::new();
    let label = given.trim().to_uppercase();
    let fits = (1..=16).contains(&label.len())
        && label
            .chars()
            .all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-' || c == '.')
        && label.starts_with(|c: char| c.is_ascii_alphanumeric());
    if !fits {
        typed.refuse(
            "tag",
            format!(
                "Tag “{}” can't be used. Take 1 to 16 letters A to Z, digits, hyphens and dots, such as WC-1.",
                given.trim()
            ),
        );
    }
    typed.finish(label)
}

/// The next free label of a kind: one past the highest number that any label of its prefix ever had, so that a retired place's label
/// is not taken again by accident.
///
/// ```
/// use anglestop::domain::{register::tag::next_label, trade::FixtureKind};
/// assert_eq!(next_label(FixtureKind::WaterCloset, ["WC-1", "LAV-7"]), "WC-2");
/// ```
#[must_use]
pub fn next_label<'a>(kind: FixtureKind, taken: impl IntoIterator<Item = &'a str>) -> String {
    let prefix = kind.tag_prefix();
    let highest = taken
        .into_iter()
        .filter_map(|label| label.strip_prefix(prefix)?.strip_prefix('-')?.parse::<u32>().ok())
        .max()
        .unwrap_or(0);
    format!("{prefix}-{}", highest.saturating_add(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_label_counts_on_from_the_highest() {
        assert_eq!(next_label(FixtureKind::WaterCloset, []), "WC-1");
        assert_eq!(
            next_label(FixtureKind::WaterCloset, ["WC-1", "WC-9", "WC-X", "WCX-12"]),
            "WC-10"
        );
    }

    #[test]
    fn a_label_is_kept_in_capitals_and_refused_with_other_characters() {
        assert_eq!(read_label(" wc-1 ").ok().as_deref(), Some("WC-1"));
        for bad in ["", "WC 1", "-1", "WC/1", "ABCDEFGHIJKLMNOPQ"] {
            assert!(read_label(bad).is_err(), "{bad}");
        }
    }
}
