//! The section of a fixture with its leak points, those marked where something stands as deficient. Which check or part belongs to which
//! point is the catalogue's.

use crate::domain::register::{DeficiencyId, TagId};
pub use crate::domain::result::Wrong;
use crate::domain::trade::FixtureKind;
use crate::domain::trade::leak_point::PointSet;
use crate::exchange::catalogue;
use crate::language::Language;
use crate::picture::points::{Mark, Points, points};
use crate::picture::section::Finding;

/// A drawing with the names of its points.
#[derive(Debug, Clone)]
pub struct Section {
    /// SVG.
    pub svg: String,
    /// The names by number: "1 supply connection, 2 shutoff".
    pub names: String,
}

/// The leak points of a kind of fixture; none for a kind without a drawing. (A test reads the catalogue, so a released program has it.)
fn of_kind(kind: FixtureKind) -> Option<&'static PointSet> {
    catalogue::builtin().ok()?.points_of(kind)
}

/// The section of the fixture of a kind at a place, for a page in English; none for a kind without a drawing.
#[must_use]
pub fn drawing(kind: FixtureKind, tag: TagId, wrong: &[Wrong]) -> Option<Section> {
    drawing_in(Language::ENGLISH, kind, tag, wrong)
}

/// The same with its words in a language.
#[must_use]
pub fn drawing_in(language: Language, kind: FixtureKind, tag: TagId, wrong: &[Wrong]) -> Option<Section> {
    let set = of_kind(kind)?;
    let here = wrong.iter().filter(|one| one.tag == Some(tag));
    let found: Vec<&str> = here
        .filter_map(|one| set.point_of(&one.check, one.part))
        .map(|point| point.code.as_str())
        .collect();
    let (mut marks, mut said, mut names) = (Vec::new(), Vec::new(), Vec::new());
    for (point, number) in set.points.iter().zip(1..) {
        let name = format!(
            "{number} {}",
            language.leak_point(set.drawing, point).to_lowercase()
        );
        let finding = if found.contains(&point.code.as_str()) {
            said.push(
                language
                    .say("leak-point-deficient")
                    .with("point", name.as_str())
                    .to_string(),
            );
            Finding::Wrong
        } else {
            said.push(name.clone());
            Finding::Quiet
        };
        marks.push(Mark {
            name: name.clone(),
            finding,
            href: None,
        });
        names.push(name);
    }
    Some(Section {
        svg: points(&Points {
            title: language
                .say("leak-points")
                .with("points", said.join("; "))
                .to_string(),
            drawing: set.drawing,
            marks,
        }),
        names: names.join(", "),
    })
}

/// Whether a deficiency is at one of the points, so that the drawing helps.
#[must_use]
pub fn is_at_a_point(kind: FixtureKind, wrong: &[Wrong], id: DeficiencyId) -> bool {
    of_kind(kind).is_some_and(|set| {
        wrong
            .iter()
            .any(|one| one.id == id && set.point_of(&one.check, one.part).is_some())
    })
}
