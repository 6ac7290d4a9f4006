//! The part of the catalogue that is used at the fixture: figures that a flush test is compared with, and leak points. From the files'
//! words to domain values, and what must hold of them.

use std::collections::BTreeSet;

use super::read::Reader;
use super::{CatalogueError, wire};
use crate::domain::trade::leak_point::{CHECKS, PointSet};
use crate::domain::trade::likely::likely;
use crate::domain::trade::{Catalogue, Figure, flush};

pub(super) fn add(
    reader: &Reader<'_>,
    file: &str,
    from: &wire::File,
    to: &mut Catalogue,
) -> Result<(), CatalogueError> {
    for one in &from.figures {
        to.figures.push(Figure {
            code: one.code.clone(),
            name: one.name.clone(),
            value: one.value.clone(),
            source: reader.source(&format!("{file}, {}", one.code), &one.source)?,
        });
    }
    for set in &from.leak_points {
        to.leak_points.push(PointSet {
            drawing: set.drawing,
            kinds: set.kinds.clone(),
            points: set.points.clone(),
            source: reader.source(&format!("{file}, {}", set.drawing), &set.source)?,
        });
    }
    Ok(())
}

pub(super) fn validate(catalogue: &Catalogue) -> Result<(), CatalogueError> {
    let mut codes = BTreeSet::new();
    for figure in &catalogue.figures {
        if !codes.insert(figure.code.as_str()) {
            return Err(CatalogueError::new(
                figure.code.as_str(),
                "the code is used twice; choose another",
            ));
        }
    }
    flush::Limits::of(catalogue).map_err(|problem| CatalogueError::new("flush.toml", problem))?;
    for check in &catalogue.checks {
        likely(catalogue, check).map_err(|problem| CatalogueError::new("likely.toml", problem))?;
    }
    let mut kinds = BTreeSet::new();
    for set in &catalogue.leak_points {
        let wrong = |problem: String| Err(CatalogueError::new("leak_points.toml", problem));
        if let Some(kind) = set.kinds.iter().find(|kind| !kinds.insert(**kind)) {
            return wrong(format!("\"{kind}\" has two drawings; leave one out"));
        }
        let mut points = BTreeSet::new();
        for point in &set.points {
            if point.name.trim().is_empty() || !points.insert(point.code.as_str()) {
                return wrong(format!(
                    "the point \"{}\" has no name or is there twice",
                    point.code
                ));
            }
            if let Some(check) = point.checks.iter().find(|check| catalogue.check(check).is_none()) {
                return wrong(format!("there is no check \"{check}\"; name one that is"));
            }
        }
        if !set.points.is_empty() && set.points.len() != set.drawing.points() {
            return wrong(format!(
                "the drawing {} has {} points; name as many",
                set.drawing,
                set.drawing.points()
            ));
        }
    }
    for code in CHECKS {
        if catalogue.check(code).is_none() {
            return Err(CatalogueError::new(
                "leak_points.toml",
                format!("the check \"{code}\" is missing; write it"),
            ));
        }
    }
    Ok(())
}
