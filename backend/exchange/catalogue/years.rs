//! The part of the catalogue that speaks of years: useful lives, prices, ageing, the method of scoring and which checks are scored.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use chrono::NaiveDate;
use serde::Deserialize;

use super::{CatalogueError, FILES, wire};
use crate::domain::condition::Condition;
use crate::domain::condition::index::Bands;
use crate::domain::condition::score::{Method, Weights};
use crate::domain::trade::life::{Item, Lives, UsefulLife};
use crate::domain::trade::{FixtureKind, Severity, Source};

/// The files that are read here, and not with the checks.
pub(super) const NAMES: [&str; 2] = ["lives.toml", "score.toml"];

/// What the catalogue knows of years.
#[derive(Debug, Clone, PartialEq)]
pub struct Years {
    /// Lives, prices, ageing.
    pub lives: Lives,
    /// Bands of the facility condition index, and where they come from.
    pub bands: (Bands, Source),
    /// The method of scoring, one for each day from which it changed.
    pub methods: Vec<Method>,
    /// A unit counts as inspected when its scored checks were answered within so many days, and where that comes from.
    pub inspected_within_days: (u32, Source),
    /// Kinds of fixture that stand outside.
    pub outside: BTreeSet<FixtureKind>,
    /// Code of a check to the deficiency of the standard that its failure is.
    pub scored: BTreeMap<String, Scored>,
    /// Codes of checks that are graded and never scored, and by which source.
    pub unscored: BTreeMap<String, Source>,
}

/// A deficiency of the standard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scored {
    /// Its code, by which it counts once.
    pub deficiency: String,
    /// Its name.
    pub name: String,
    /// The first day on which it counts; none when it always did.
    pub from: Option<NaiveDate>,
    /// Where it comes from.
    pub source: Source,
}

impl Years {
    /// The deficiency of the standard that a failure of this check is, when it counts on the day.
    #[must_use]
    pub fn scored_on(&self, check: &str, day: NaiveDate) -> Option<&Scored> {
        self.scored
            .get(check)
            .filter(|scored| scored.from.is_none_or(|from| from <= day))
    }
}

/// What the built-in catalogue knows of years, read once.
///
/// # Errors
/// When a file does not say what it should; a test reads it, so a released program has none.
pub fn years() -> Result<&'static Years, CatalogueError> {
    static BUILTIN: OnceLock<Result<Years, CatalogueError>> = OnceLock::new();
    BUILTIN.get_or_init(|| read(FILES)).as_ref().map_err(Clone::clone)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default, rename = "life")]
    lives: Vec<LifeLine>,
    #[serde(default)]
    ageing: Vec<Ageing>,
    #[serde(default)]
    remedy: Vec<Remedy>,
    index_bands: Option<IndexBands>,
    #[serde(default, rename = "method")]
    methods: Vec<MethodLine>,
    inspected: Option<Inspected>,
    outside: Option<Outside>,
    #[serde(default)]
    scored: Vec<ScoredLine>,
    #[serde(default)]
    unscored: Vec<Unscored>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LifeLine {
    of: String,
    life_years: f64,
    life_source: String,
    shape: f64,
    shape_source: String,
    replacement_usd: u32,
    replacement_source: String,
    failure_extra_usd: u32,
    failure_extra_source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Ageing {
    condition: Condition,
    factor: f64,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Remedy {
    severity: Severity,
    remedy_usd: u32,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct IndexBands {
    good_percent: u16,
    fair_percent: u16,
    poor_percent: u16,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MethodLine {
    valid_from: NaiveDate,
    source: String,
    fails_below: f64,
    unit_loss_fails_at: f64,
    reported_at_most: f64,
    life_threatening: ByArea,
    severe: ByArea,
    moderate: ByArea,
    low: ByArea,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ByArea {
    outside: f64,
    inside: f64,
    unit: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Inspected {
    within_days: u32,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Outside {
    kinds: Vec<FixtureKind>,
    #[serde(rename = "source")]
    _source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ScoredLine {
    deficiency: String,
    name: String,
    checks: Vec<String>,
    scored_from: Option<NaiveDate>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Unscored {
    checks: Vec<String>,
    source: String,
}

/// Reads the files of [`NAMES`] and the sources they name.
///
/// # Errors
/// The first mistake, with the file and the entry it stands in.
pub fn read(files: &[(&str, &str)]) -> Result<Years, CatalogueError> {
    let text = |wanted: &str| {
        files
            .iter()
            .find(|(name, _)| *name == wanted)
            .map(|(_, text)| *text)
            .ok_or_else(|| CatalogueError::new(wanted, "the file is missing; add it"))
    };
    let sources: wire::Sources = toml::from_str(text("sources.toml")?)
        .map_err(|error| CatalogueError::new("sources.toml", error.to_string()))?;
    let reader = Reader { sources };
    let mut parsed = Vec::new();
    for name in NAMES {
        let file: File =
            toml::from_str(text(name)?).map_err(|error| CatalogueError::new(name, error.to_string()))?;
        parsed.push(file);
    }
    let mut lives = Lives::default();
    let mut methods = Vec::new();
    let (mut bands, mut inspected, mut outside) = (None, None, BTreeSet::new());
    let (mut scored, mut unscored) = (BTreeMap::new(), BTreeMap::new());
    for file in parsed {
        reader.lives(&file, &mut lives)?;
        for line in &file.methods {
            methods.push(reader.method(line)?);
        }
        if let Some(line) = &file.index_bands {
            let per_mille = |percent: u16| i64::from(percent) * 10;
            let read = Bands::new(
                per_mille(line.good_percent),
                per_mille(line.fair_percent),
                per_mille(line.poor_percent),
            );
            let read = read.map_err(|error| CatalogueError::new("lives.toml, index_bands", error))?;
            bands = Some((read, reader.source("index_bands", &line.source)?));
        }
        if let Some(line) = &file.inspected {
            inspected = Some((line.within_days, reader.source("inspected", &line.source)?));
        }
        outside.extend(file.outside.into_iter().flat_map(|line| line.kinds));
        for line in file.scored {
            let value = Scored {
                source: reader.source(&line.deficiency, &line.source)?,
                deficiency: line.deficiency,
                name: line.name,
                from: line.scored_from,
            };
            scored.extend(line.checks.into_iter().map(|check| (check, value.clone())));
        }
        for line in file.unscored {
            let source = reader.source("unscored", &line.source)?;
            unscored.extend(line.checks.into_iter().map(|check| (check, source.clone())));
        }
    }
    let missing =
        |what: &str| CatalogueError::new("lives.toml, score.toml", format!("{what} is missing; add it"));
    if methods.is_empty() {
        return Err(missing("the method"));
    }
    Ok(Years {
        lives,
        bands: bands.ok_or_else(|| missing("index_bands"))?,
        methods,
        inspected_within_days: inspected.ok_or_else(|| missing("inspected"))?,
        outside,
        scored,
        unscored,
    })
}

struct Reader {
    sources: wire::Sources,
}

impl Reader {
    fn source(&self, place: &str, key: &str) -> Result<Source, CatalogueError> {
        let source = self.sources.get(key).filter(|source| source.is_stated());
        source.cloned().ok_or_else(|| {
            CatalogueError::new(
                place,
                format!("the source \"{key}\" is not in sources.toml or has no citation; add it there"),
            )
        })
    }

    fn lives(&self, file: &File, lives: &mut Lives) -> Result<(), CatalogueError> {
        for line in &file.lives {
            let place = format!("lives.toml, {}", line.of);
            let item = Item::from_code(&line.of).map_err(|error| CatalogueError::new(&place, error))?;
            let value = UsefulLife {
                item,
                mean_years: line.life_years,
                shape: line.shape,
                replacement_minor: i64::from(line.replacement_usd) * 100,
                failure_extra_minor: i64::from(line.failure_extra_usd) * 100,
                life_source: self.source(&place, &line.life_source)?,
                shape_source: self.source(&place, &line.shape_source)?,
                cost_source: self.source(&place, &line.replacement_source)?,
            };
            self.source(&place, &line.failure_extra_source)?;
            value
                .lifetime()
                .map_err(|error| CatalogueError::new(&place, error))?;
            if lives.of.insert(item, value).is_some() {
                return Err(CatalogueError::new(place, "it stands there twice; take one out"));
            }
        }
        for line in &file.ageing {
            let place = format!("lives.toml, ageing {}", line.condition);
            if !(0.1..=10.0).contains(&line.factor) {
                return Err(CatalogueError::new(place, "a factor lies between 0.1 and 10"));
            }
            let source = self.source(&place, &line.source)?;
            lives.ageing.insert(line.condition, (line.factor, source));
        }
        for line in &file.remedy {
            let source = self.source(&format!("lives.toml, remedy {}", line.severity), &line.source)?;
            lives
                .remedy
                .insert(line.severity, (i64::from(line.remedy_usd) * 100, source));
        }
        Ok(())
    }

    fn method(&self, line: &MethodLine) -> Result<Method, CatalogueError> {
        let place = format!("score.toml, method from {}", line.valid_from);
        let tenths = |points: f64| {
            let text = format!("{points:.1}").replace('.', "");
            let read = text.parse::<i64>().ok();
            read.filter(|tenths| *tenths >= 0 && format!("{points}").len() <= text.len() + 1)
                .ok_or_else(|| {
                    CatalogueError::new(&place, format!("{points} is no weight in tenths of a point"))
                })
        };
        let weights = |by: &ByArea| {
            Ok::<_, CatalogueError>(Weights {
                outside: tenths(by.outside)?,
                inside: tenths(by.inside)?,
                unit: tenths(by.unit)?,
            })
        };
        Ok(Method {
            valid_from: line.valid_from,
            life_threatening: weights(&line.life_threatening)?,
            severe: weights(&line.severe)?,
            moderate: weights(&line.moderate)?,
            low: weights(&line.low)?,
            fails_below: tenths(line.fails_below)?,
            unit_loss_fails_at: tenths(line.unit_loss_fails_at)?,
            reported_at_most: tenths(line.reported_at_most)?,
            source: self.source(&place, &line.source)?,
        })
    }
}
