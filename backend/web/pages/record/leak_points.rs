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

/// The points in words, for the caption.
pub const CAPTION: &str = "1 supply connection, 2 shutoff, 3 tank to bowl, 4 base.";

/// The point that a check of a water closet or of its part looks at.
fn point_of(check: &str, part: Option<PartKind>) -> Option<Point> {
    match (part, check) {
        (Some(PartKind::SupplyLine), _) => Some(Point::Supply),
        (Some(PartKind::Stop), _) => Some(Point::Shutoff),
        (Some(PartKind::WaxSeal), _) => Some(Point::Base),
        (_, "wc_tank_bowl_dry" | "wc_tank_firm") => Some(Point::Tank),
        (_, "wc_bowl_firm" | "wc_base_joint_sealed" | "wc_base_joint_rear_open") => Some(Point::Base),
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
