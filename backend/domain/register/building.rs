//! A building: what decides its days, its limits and its entries. Knows neither its units nor who looks after it.

use std::str::FromStr as _;

use chrono::{Datelike as _, NaiveDate, NaiveDateTime};
use chrono_tz::Tz;

use super::typed::{Typed, a_year_ahead, short_code};
use super::{BuildingId, PersonId, PortfolioId};
use crate::domain::field::FieldError;
use crate::domain::measure::LengthUnit;
use crate::domain::trade::{BaseJoint, ProfileCode};

/// Notice before entry when nothing else is said, hours.
///
/// # Source
/// Common practice, no source: a day's notice. Many jurisdictions ask for 24 or 48 hours; local law decides.
pub const USUAL_NOTICE_HOURS: i64 = 24;

/// The code profiles that a building can have: code and the words people read. `own` takes no built-in limit.
pub const CODE_PROFILES: [(&str, &str); 5] = [
    ("ipc", "IPC"),
    ("upc", "UPC"),
    ("ada", "ADA, 604"),
    ("ada_dwelling", "ADA, 604, dwelling units"),
    ("own", "Own limits only"),
];

/// A building as typed.
#[derive(Debug, Clone, Default)]
pub struct BuildingText {
    /// Short code.
    pub code: String,
    /// Name.
    pub name: String,
    /// Address, one line or more.
    pub address: String,
    /// IANA zone.
    pub time_zone: String,
    /// Code profile; empty for `ipc`.
    pub code_profile: String,
    /// `in` or `mm`; empty for inches.
    pub length_unit: String,
    /// Hours of notice; empty for 24.
    pub notice_hours: String,
    /// The day it joined; empty for today.
    pub joined_on: String,
    /// Calendar year, empty when unknown.
    pub built_year: String,
    /// Policy for the base joint; empty for `not_noted`.
    pub base_joint: String,
}

/// A building as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BuildingFacts {
    /// Short code in capitals, for people, CSV and the command line.
    pub code: String,
    /// As shown.
    pub name: String,
    /// One line or more, may be empty.
    pub address: String,
    /// All due dates are local dates in it.
    pub time_zone: Tz,
    /// Whose clearances and limits apply, one of [`CODE_PROFILES`].
    pub code_profile: ProfileCode,
    /// How lengths are shown.
    pub length_unit: LengthUnit,
    /// Notice before entry, hours, 0 to 336.
    pub notice_hours: i64,
    /// The day it joined the register; nothing falls due before.
    pub joined_on: NaiveDate,
    /// Calendar year, none when unknown.
    pub built_year: Option<i64>,
    /// Policy for the joint between water closet and floor.
    pub base_joint: BaseJoint,
}

/// A building of the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Building {
    /// Key.
    pub id: BuildingId,
    /// Whose it is.
    pub portfolio: PortfolioId,
    /// Who looks after it unless a schedule says otherwise.
    pub technician: Option<PersonId>,
    /// What it is.
    pub facts: BuildingFacts,
}

impl From<&BuildingFacts> for BuildingText {
    /// What somebody would type to say the same.
    fn from(facts: &BuildingFacts) -> Self {
        Self {
            code: facts.code.clone(),
            name: facts.name.clone(),
            address: facts.address.clone(),
            time_zone: facts.time_zone.name().to_owned(),
            code_profile: facts.code_profile.to_string(),
            length_unit: facts.length_unit.to_string(),
            notice_hours: facts.notice_hours.to_string(),
            joined_on: facts.joined_on.to_string(),
            built_year: facts.built_year.map_or_else(String::new, |year| year.to_string()),
            base_joint: facts.base_joint.to_string(),
        }
    }
}

impl BuildingText {
    /// The date where the building stands, at an instant in UTC; the date in UTC while its zone can't be read.
    #[must_use]
    pub fn date_there(&self, now: NaiveDateTime) -> NaiveDate {
        let zone = Tz::from_str(self.time_zone.trim()).unwrap_or(Tz::UTC);
        now.and_utc().with_timezone(&zone).date_naive()
    }
}

impl BuildingFacts {
    /// Whether it had joined by a day.
    #[must_use]
    pub fn had_joined(&self, day: NaiveDate) -> bool {
        self.joined_on <= day
    }

    /// Reads what was typed; `today` is the date where the building stands.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`BuildingText`].
    pub fn read(text: &BuildingText, today: NaiveDate) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        let typed = &mut typed;
        let facts = Self {
            code: short_code(typed, "code", "Building code", &text.code),
            name: typed.needed("name", "Building name", &text.name, 80),
            address: typed.lines("address", "Address", &text.address, 300),
            time_zone: zone(typed, &text.time_zone),
            code_profile: profile(typed, &text.code_profile)?,
            length_unit: typed.choice("length_unit", &text.length_unit, LengthUnit::Inch),
            notice_hours: typed
                .whole("notice_hours", "Notice before entry", &text.notice_hours, 0..=336)
                .unwrap_or(USUAL_NOTICE_HOURS),
            joined_on: typed
                .date(
                    "joined_on",
                    "Day it joined",
                    &text.joined_on,
                    a_year_ahead(today),
                    "that is more than a year ahead",
                )
                .unwrap_or(today),
            built_year: typed.whole(
                "built_year",
                "Year built",
                &text.built_year,
                1600..=i64::from(today.year()) + 1,
            ),
            base_joint: typed.choice("base_joint", &text.base_joint, BaseJoint::NotNoted),
        };
        std::mem::take(typed).finish(facts)
    }

    /// Whole years since it was built at the end of the year before `on`, when known.
    #[must_use]
    pub fn age_years(&self, on: NaiveDate) -> Option<u16> {
        let years = i64::from(on.year()) - self.built_year?;
        u16::try_from(years.max(0)).ok()
    }
}

pub(super) fn zone(typed: &mut Typed, given: &str) -> Tz {
    let text = given.trim();
    if text.is_empty() {
        typed.refuse(
            "time_zone",
            "Time zone is empty. Give the place's IANA name, such as America/Chicago.",
        );
        return Tz::UTC;
    }
    Tz::from_str(text).unwrap_or_else(|_unknown| {
        typed.refuse(
            "time_zone",
            format!("“{text}” is not a time zone. Give the place's IANA name, such as America/Chicago or Europe/Berlin."),
        );
        Tz::UTC
    })
}

fn profile(typed: &mut Typed, given: &str) -> Result<ProfileCode, Vec<FieldError>> {
    let text = match given.trim() {
        "" => "ipc",
        text => text,
    };
    let known = CODE_PROFILES.iter().any(|(code, _)| *code == text);
    if !known {
        let codes: Vec<_> = CODE_PROFILES.iter().map(|(code, _)| *code).collect();
        typed.refuse(
            "code_profile",
            format!(
                "“{text}” is not a code profile; it is one of {}.",
                codes.join(", ")
            ),
        );
    }
    let code = if known { text } else { "own" };
    code.parse()
        .map_err(|error| vec![FieldError::new("code_profile", format!("{error}"))])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed() -> BuildingText {
        BuildingText {
            code: "alder".to_owned(),
            name: "Alder Court".to_owned(),
            time_zone: "America/Chicago".to_owned(),
            ..BuildingText::default()
        }
    }

    fn today() -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, 25).unwrap_or_default()
    }

    #[test]
    fn what_is_left_empty_takes_the_usual_value() {
        let facts = BuildingFacts::read(&typed(), today()).ok();
        let facts = facts.as_ref();
        assert_eq!(facts.map(|f| f.code.as_str()), Some("ALDER"));
        assert_eq!(facts.map(|f| f.notice_hours), Some(24));
        assert_eq!(facts.map(|f| f.joined_on), Some(today()));
        assert_eq!(facts.map(|f| f.code_profile.as_str()), Some("ipc"));
    }

    #[test]
    fn each_field_that_cannot_be_used_is_named() {
        let text = BuildingText {
            time_zone: "Chicago".to_owned(),
            code_profile: "xyz".to_owned(),
            length_unit: "cm".to_owned(),
            notice_hours: "-1".to_owned(),
            joined_on: "2029-01-01".to_owned(),
            built_year: "2100".to_owned(),
            base_joint: "glued".to_owned(),
            ..typed()
        };
        let errors = BuildingFacts::read(&text, today()).err().unwrap_or_default();
        let fields: Vec<_> = errors.iter().map(|error| error.field.as_str()).collect();
        assert_eq!(
            fields,
            [
                "time_zone",
                "code_profile",
                "length_unit",
                "notice_hours",
                "joined_on",
                "built_year",
                "base_joint"
            ]
        );
    }

    #[test]
    fn the_code_profiles_are_those_of_the_trade_and_one_without_limits() {
        let chosen: Vec<_> = CODE_PROFILES.iter().map(|(code, _)| *code).collect();
        let known: Vec<_> = ProfileCode::BUILT_IN.into_iter().chain(["own"]).collect();
        assert_eq!(chosen, known);
    }

    #[test]
    fn the_date_is_the_one_where_the_building_stands() {
        let evening = "2026-11-26T01:00:00".parse().unwrap_or_default();
        assert_eq!(typed().time_zone, "America/Chicago");
        assert_eq!(typed().date_there(evening).to_string(), "2026-11-25");
    }
}
