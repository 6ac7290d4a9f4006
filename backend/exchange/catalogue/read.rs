//! From the files' words to domain values: sources resolved, limits filled in from the profiles, every mistake with its place.

use super::wire::{self, ClearanceSide};
use super::{CatalogueError, bench, diagnosis, validate};
use crate::domain::trade::check::BuildingAge;
use crate::domain::trade::clearance::{Dimension, Profile, Rule};
use crate::domain::trade::correction::Programme;
use crate::domain::trade::symptom::Symptoms;
use crate::domain::trade::water::Water;
use crate::domain::trade::{Answer, Bound, Catalogue, Check, Conditions, Limit, ScheduleTemplate, Source};

/// Reads a catalogue from named TOML texts; the one named `sources.toml` holds the sources.
///
/// # Errors
/// The first mistake, with the file and the entry it stands in.
pub fn read(files: &[(&str, &str)]) -> Result<Catalogue, CatalogueError> {
    let mut sources = wire::Sources::new();
    let mut parsed = Vec::new();
    for (name, text) in files {
        if *name == "sources.toml" {
            sources = toml::from_str(text).map_err(|error| CatalogueError::new(*name, error.to_string()))?;
        } else if !super::years::NAMES.contains(name) {
            let file: wire::File =
                toml::from_str(text).map_err(|error| CatalogueError::new(*name, error.to_string()))?;
            parsed.push((*name, file));
        }
    }
    let reader = Reader { sources: &sources };
    let mut catalogue = Catalogue {
        checks: Vec::new(),
        schedules: Vec::new(),
        profiles: Vec::new(),
        programmes: Vec::new(),
        figures: Vec::new(),
        leak_points: Vec::new(),
        water: Water::default(),
        symptoms: Symptoms::default(),
    };
    for (name, file) in &parsed {
        for profile in &file.profiles {
            catalogue.profiles.push(reader.profile(name, profile)?);
        }
        for programme in &file.programmes {
            catalogue.programmes.push(reader.programme(name, programme)?);
        }
        bench::add(&reader, name, file, &mut catalogue)?;
        diagnosis::add(&reader, name, file, &mut catalogue)?;
    }
    for (name, file) in parsed {
        let minutes_source = file.defaults.and_then(|defaults| defaults.minutes_source);
        for check in file.checks {
            let check = reader.check(name, check, minutes_source.as_deref(), &catalogue.profiles)?;
            catalogue.checks.push(check);
        }
        for schedule in file.schedules {
            catalogue.schedules.push(reader.schedule(name, schedule)?);
        }
    }
    validate::validate(&catalogue)?;
    Ok(catalogue)
}

pub(super) struct Reader<'a> {
    sources: &'a wire::Sources,
}

impl Reader<'_> {
    pub(super) fn source(&self, place: &str, key: &str) -> Result<Source, CatalogueError> {
        let source = self.sources.get(key).ok_or_else(|| {
            CatalogueError::new(
                place,
                format!("the source \"{key}\" is not in sources.toml; add it there"),
            )
        })?;
        if source.is_stated() {
            Ok(source.clone())
        } else {
            Err(CatalogueError::new(
                place,
                format!("the source \"{key}\" has no citation; write one"),
            ))
        }
    }

    fn bound(
        place: &str,
        at_least: Option<&String>,
        at_most: Option<&String>,
    ) -> Result<(Bound, String), CatalogueError> {
        match (at_least, at_most) {
            (Some(value), None) => Ok((Bound::AtLeast, value.clone())),
            (None, Some(value)) => Ok((Bound::AtMost, value.clone())),
            _ => Err(CatalogueError::new(
                place,
                "a limit is either at_least or at_most; write one of the two",
            )),
        }
    }

    fn profile(&self, file: &str, profile: &wire::Profile) -> Result<Profile, CatalogueError> {
        let place = format!("{file}, {}", profile.code);
        let mut rules = Vec::new();
        for rule in &profile.rules {
            let (bound, limit) = Self::bound(&place, rule.at_least.as_ref(), rule.at_most.as_ref())?;
            let source = self.source(&place, &rule.source)?;
            rules.push(Rule {
                dimension: rule.dimension,
                bound,
                limit,
                source,
            });
        }
        Ok(Profile {
            code: profile.code.clone(),
            name: profile.name.clone(),
            rules,
        })
    }

    fn programme(&self, file: &str, programme: &wire::Programme) -> Result<Programme, CatalogueError> {
        let place = format!("{file}, {}", programme.code);
        Ok(Programme {
            code: programme.code.clone(),
            name: programme.name.clone(),
            times: programme.times,
            source: self.source(&place, &programme.source)?,
        })
    }

    fn check(
        &self,
        file: &str,
        check: wire::Check,
        minutes_source: Option<&str>,
        profiles: &[Profile],
    ) -> Result<Check, CatalogueError> {
        let place = format!("{file}, {}", check.code);
        let minutes_source = check
            .minutes_source
            .as_deref()
            .or(minutes_source)
            .ok_or_else(|| {
                CatalogueError::new(
                    &place,
                    "minutes have no source; write minutes_source here or under [defaults]",
                )
            })?;
        let answer = match (check.verdict, check.reading) {
            (Some(verdict), None) => Answer::Verdict {
                pass: verdict.pass,
                fail: verdict.fail,
            },
            (None, Some(reading)) => self.reading(&place, reading, profiles)?,
            _ => {
                return Err(CatalogueError::new(
                    &place,
                    "a check asks for a verdict or a reading; write one of the two",
                ));
            }
        };
        Ok(Check {
            answer,
            severity_source: self.source(&place, &check.severity_source)?,
            minutes_source: self.source(&place, minutes_source)?,
            conditions: self.conditions(&place, check.conditions)?,
            source: self.source(&place, &check.source)?,
            code: check.code,
            version: check.version,
            title: check.title,
            kinds: check.kinds,
            parts: check.parts,
            ask: check.ask,
            method: check.method,
            severity: check.severity,
            severity_only_one: check.severity_only_one,
            severity_common_area: check.severity_common_area,
            minutes: check.minutes,
            group: check.group,
            turnover: check.turnover,
            performer: check.performer,
            off_until_chosen: check.off_until_chosen,
            cautions: check.cautions,
        })
    }

    fn reading(
        &self,
        place: &str,
        reading: wire::Reading,
        profiles: &[Profile],
    ) -> Result<Answer, CatalogueError> {
        let mut limits = Vec::new();
        for limit in &reading.limits {
            let (bound, value) = Self::bound(place, limit.at_least.as_ref(), limit.at_most.as_ref())?;
            let source = self.source(place, &limit.source)?;
            limits.push(Limit {
                bound,
                value,
                source,
                profiles: limit.profiles.clone(),
            });
        }
        if let Some(side) = reading.clearance {
            limits.extend(
                profiles
                    .iter()
                    .flat_map(|profile| clearance_limits(side, profile)),
            );
        }
        Ok(Answer::Reading {
            of: reading.of,
            unit: reading.unit,
            limits,
        })
    }

    fn conditions(&self, place: &str, conditions: wire::Conditions) -> Result<Conditions, CatalogueError> {
        let building_age = match (conditions.building_age_years, conditions.building_age_source) {
            (Some(at_least_years), Some(source)) => Some(BuildingAge {
                at_least_years,
                source: self.source(place, &source)?,
            }),
            (None, None) => None,
            _ => {
                return Err(CatalogueError::new(
                    place,
                    "building_age_years and building_age_source go together; write both",
                ));
            }
        };
        Ok(Conditions {
            building_age,
            base_joint: conditions.base_joint,
        })
    }

    fn schedule(&self, file: &str, schedule: wire::Schedule) -> Result<ScheduleTemplate, CatalogueError> {
        let place = format!("{file}, {}", schedule.code);
        Ok(ScheduleTemplate {
            source: self.source(&place, &schedule.source)?,
            code: schedule.code,
            name: schedule.name,
            pack: schedule.pack,
            anchor: schedule.anchor,
            rule: schedule.rule,
            start: schedule.start,
            lead_days: schedule.lead_days,
            grace_days: schedule.grace_days,
            early_days: schedule.early_days,
            checks: schedule.checks,
            scope: schedule.scope,
            recorded_only: schedule.recorded_only,
            why: schedule.why,
        })
    }
}

/// The limits of a profile that a reading of the side or the front is held to. The reading of the side is the nearer one, so the
/// rules for left and right come to the same; one of them is enough.
fn clearance_limits(side: ClearanceSide, profile: &Profile) -> Vec<Limit> {
    let wanted: &[Dimension] = match side {
        ClearanceSide::Side => &[Dimension::Left, Dimension::NearSide],
        ClearanceSide::Front => &[Dimension::Front],
    };
    profile
        .rules
        .iter()
        .filter(|rule| wanted.contains(&rule.dimension))
        .map(|rule| Limit {
            bound: rule.bound,
            value: rule.limit.clone(),
            source: rule.source.clone(),
            profiles: vec![profile.code.clone()],
        })
        .collect()
}
