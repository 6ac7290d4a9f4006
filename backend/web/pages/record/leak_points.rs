//! The section of a water closet, with the leak points marked where something stands as deficient. Decides which check or part
//! belongs to which point.

use crate::domain::register::{DeficiencyId, TagId};
use crate::domain::trade::PartKind;
use crate::picture::section::{Finding, Section, section};

/// Something that stands as deficient.
#[derive(Debug, Clone)]
pub struct Wrong {
    /// Its number.
    pub id: DeficiencyId,
    /// At which place.
    pub tag: Option<TagId>,
    /// At which part.
    pub part: Option<PartKind>,
    /// Code of the check that found it; empty for a report.
    pub check: String,
}

/// A leak point, numbered as on the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Point {
    Supply,
    Shutoff,
    Tank,
    Base,
}

const POINTS: [(Point, &str); 4] = [
    (Point::Supply, "1 supply connection"),
    (Point::Shutoff, "2 shutoff"),
    (Point::Tank, "3 tank to bowl"),
    (Point::Base, "4 base"),
];

/// Checks of the fixture itself that look at the joint of tank and bowl.
const AT_TANK: [&str; 2] = ["wc_tank_bowl_dry", "wc_tank_firm"];
/// Checks of the fixture itself that look at the base.
const AT_BASE: [&str; 3] = ["wc_bowl_firm", "wc_base_joint_sealed", "wc_base_joint_rear_open"];

/// The point that a check of a water closet or of its part looks at.
fn point_of(check: &str, part: Option<PartKind>) -> Option<Point> {
    match (part, check) {
        (Some(PartKind::SupplyLine), _) => Some(Point::Supply),
        (Some(PartKind::Stop), _) => Some(Point::Shutoff),
        (Some(PartKind::WaxSeal), _) => Some(Point::Base),
        _ if AT_TANK.contains(&check) => Some(Point::Tank),
        _ if AT_BASE.contains(&check) => Some(Point::Base),
        _ => None,
    }
}

/// The section of the water closet at a place.
#[must_use]
pub fn drawing(tag: TagId, wrong: &[Wrong]) -> String {
    let finding = |point: Point| {
        let found = wrong
            .iter()
            .any(|one| one.tag == Some(tag) && point_of(&one.check, one.part) == Some(point));
        if found { Finding::Wrong } else { Finding::Quiet }
    };
    let words: Vec<String> = POINTS
        .iter()
        .map(|(point, name)| match finding(*point) {
            Finding::Quiet => (*name).to_owned(),
            Finding::Wrong => format!("{name}, deficient"),
        })
        .collect();
    section(&Section {
        title: format!("Leak points: {}", words.join("; ")),
        supply: finding(Point::Supply),
        shutoff: finding(Point::Shutoff),
        tank: finding(Point::Tank),
        base: finding(Point::Base),
    })
}

/// Whether a deficiency is at one of the points, so that the drawing helps.
#[must_use]
pub fn is_at_a_point(wrong: &[Wrong], id: DeficiencyId) -> bool {
    wrong
        .iter()
        .any(|one| one.id == id && point_of(&one.check, one.part).is_some())
}

#[cfg(test)]
mod tests {
    use super::{AT_BASE, AT_TANK};
    use crate::exchange::catalogue::builtin;

    #[test]
    fn every_check_at_a_leak_point_is_in_the_catalogue() {
        let missing: Vec<_> = AT_TANK
            .iter()
            .chain(&AT_BASE)
            .filter(|code| !builtin().is_ok_and(|catalogue| catalogue.check(code).is_some()))
            .collect();
        assert!(missing.is_empty(), "{missing:?}");
    }
}
