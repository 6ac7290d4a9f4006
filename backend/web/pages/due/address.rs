//! The address of a due list: its filters, its order and where its page begins, read and written. What is no filter of ours is told,
//! so that nobody mistakes a shorter list for the whole.

use crate::domain::code::Coded;
use crate::domain::due::State;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, CheckId, FixtureId, PersonId, ScheduleId};
use crate::domain::trade::{FixtureKind, PartKind, Severity};
use crate::error::{Error, Result};
use crate::store::lists::due::{By, Cursor, Desk, Filter, Key, Order, Wanted};
use crate::store::{AnyConnection, units};
use crate::web::form::Fields;

/// The filters, as they are named in the address.
const NAMES: [&str; 9] = [
    "state",
    "building",
    "unit",
    "kind",
    "check",
    "schedule",
    "technician",
    "severity",
    "order",
];

/// What an address asks for.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    pub(super) filter: Filter,
    pub(super) order: Order,
    pub(super) after: Option<Cursor>,
    fields: Fields,
}

impl Asked {
    /// Reads the part of an address after its `?`.
    ///
    /// # Errors
    /// A sentence for a filter that can't be used, or a building that may not be seen.
    pub(super) fn read(conn: &mut AnyConnection, scope: &Scope, desk: &Desk, fields: Fields) -> Result<Self> {
        let building = building(desk, fields.text("building"))?;
        let units = match fields.text("unit") {
            "" => None,
            label => Some(units::with_label(conn, scope, building, label)?),
        };
        let filter = Filter {
            wanted: wanted(fields.text("state"))?,
            building,
            units,
            kind: coded::<FixtureKind>(fields.text("kind"))?,
            check: check(desk, fields.text("check"))?,
            schedule: schedule(desk, fields.text("schedule"))?,
            severity: coded::<Severity>(fields.text("severity"))?,
            technician: technician(fields.text("technician"))?,
        };
        let order = match fields.text("order") {
            "" | "last_day" => Order::LastDay,
            "building" => Order::Building,
            other => {
                return Err(Error::refused(format!(
                    "“{other}” is not an order of this list; it is one of last_day, building."
                )));
            }
        };
        Ok(Self {
            filter,
            order,
            after: cursor(fields.text("after"))?,
            fields,
        })
    }

    /// What a filter says, as in the address.
    pub(super) fn text(&self, name: &str) -> &str {
        self.fields.text(name)
    }

    /// Whether one of the filters that are seldom used is set.
    pub(super) fn is_narrow(&self) -> bool {
        ["unit", "kind", "check", "schedule", "severity"]
            .iter()
            .any(|name| !self.text(name).is_empty())
    }

    /// The same list from its first row, at another path.
    pub(super) fn address(&self, path: &str) -> String {
        self.with(path, &[])
    }

    /// The same list with some of its filters changed, from its first row.
    pub(super) fn with(&self, path: &str, changed: &[(&str, &str)]) -> String {
        let now = |name: &'static str| {
            let other = changed.iter().find(|(known, _)| *known == name);
            other.map_or(self.text(name), |(_, value)| value)
        };
        let kept = NAMES.map(|name| (name, now(name)));
        let after = changed.iter().filter(|(name, _)| *name == "after").copied();
        let query = url::form_urlencoded::Serializer::new(String::new())
            .extend_pairs(
                kept.into_iter()
                    .chain(after)
                    .filter(|(_, value)| !value.is_empty()),
            )
            .finish();
        if query.is_empty() {
            path.to_owned()
        } else {
            format!("{path}?{query}")
        }
    }

    /// The same list of any building and in any state, for many links that differ in nothing else.
    pub(super) fn of_any_building(&self, path: &str) -> Links {
        let cut = |state: &'static str| {
            let link = self.with(path, &[("building", PLACE), ("state", state)]);
            let (before, after) = link.split_once(PLACE).unwrap_or((&link, ""));
            (state, before.to_owned(), after.to_owned())
        };
        Links(["", "overdue", "due", "in_window"].map(cut))
    }

    /// Where the list goes on after a row.
    pub(super) fn after(&self, cursor: &Cursor) -> String {
        self.with("/due", &[("after", &written(cursor))])
    }
}

/// Stands for a building's code in an address, where no free text comes before it.
const PLACE: &str = "*-*";

/// Links that differ by state and building, each cut in two where the code of the building goes.
pub(super) struct Links([(&'static str, String, String); 4]);

impl Links {
    /// To a building and a state; to every state for one that is not known.
    pub(super) fn to(&self, building: &str, state: &str) -> String {
        let Self(links) = self;
        let known = links.iter().find(|(known, ..)| *known == state);
        let (_, before, after) = known.unwrap_or(&links[0]);
        let building: String = url::form_urlencoded::byte_serialize(building.as_bytes()).collect();
        format!("{before}{building}{after}")
    }
}

/// A key as forms and addresses carry it: `17.wax_seal.31`, and `17..31` for the fixture itself.
pub(in crate::web::pages) fn key_text(key: &Key) -> String {
    let part = key.part.map_or("", PartKind::code);
    format!("{}.{part}.{}", key.fixture, key.check)
}

/// Reads what [`key_text`] wrote.
pub(in crate::web::pages) fn read_key(text: &str) -> Option<Key> {
    let mut words = text.split('.');
    let (fixture, part, check) = (words.next()?, words.next()?, words.next()?);
    let part = match part {
        "" => None,
        code => Some(PartKind::from_code(code).ok()?),
    };
    let is_all = words.next().is_none();
    is_all.then_some(Key {
        fixture: FixtureId(fixture.parse().ok()?),
        part,
        check: CheckId(check.parse().ok()?),
    })
}

fn written(cursor: &Cursor) -> String {
    format!(
        "{}_{}_{}",
        cursor.building,
        cursor.last_day,
        key_text(&cursor.key)
    )
}

fn cursor(text: &str) -> Result<Option<Cursor>> {
    if text.is_empty() {
        return Ok(None);
    }
    let read = || {
        let mut words = text.splitn(3, '_');
        Some(Cursor {
            building: BuildingId(words.next()?.parse().ok()?),
            last_day: words.next()?.parse().ok()?,
            key: read_key(words.next()?)?,
        })
    };
    read().map(Some).ok_or_else(|| {
        Error::refused(
            "The address does not say where the page begins. Go back to the first rows of the list.",
        )
    })
}

fn wanted(code: &str) -> Result<Wanted> {
    match code {
        "" => Ok(Wanted::Open),
        "all" => Ok(Wanted::All),
        code => State::from_code(code).map(Wanted::Only).ok_or_else(|| {
            Error::refused(format!(
                "“{code}” is not a state; it is one of overdue, due, in_window, later, all."
            ))
        }),
    }
}

fn coded<T: Coded>(code: &str) -> Result<Option<T>> {
    match code {
        "" => Ok(None),
        code => T::from_code(code).map(Some).map_err(Error::refused),
    }
}

fn building(desk: &Desk, code: &str) -> Result<Option<BuildingId>> {
    if code.is_empty() {
        return Ok(None);
    }
    let found = desk
        .places
        .iter()
        .find(|place| place.code.eq_ignore_ascii_case(code));
    match found {
        Some(place) => Ok(Some(place.id)),
        None => Err(Error::not_found("such building")),
    }
}

fn check(desk: &Desk, code: &str) -> Result<Option<CheckId>> {
    if code.is_empty() {
        return Ok(None);
    }
    let found = desk.checks.iter().find(|(_, asked)| asked.code == code);
    match found {
        Some((id, _)) => Ok(Some(*id)),
        None => Err(Error::refused(format!(
            "There is no check “{code}”. Choose one of the list."
        ))),
    }
}

fn schedule(desk: &Desk, code: &str) -> Result<Option<ScheduleId>> {
    if code.is_empty() {
        return Ok(None);
    }
    let found = desk.schedules.iter().find(|(_, asking)| asking.code == code);
    match found {
        Some((id, _)) => Ok(Some(*id)),
        None => Err(Error::refused(format!(
            "There is no schedule “{code}”. Choose one of the list."
        ))),
    }
}

fn technician(text: &str) -> Result<Option<By>> {
    match text {
        "" => Ok(None),
        "nobody" => Ok(Some(By::Nobody)),
        key => match key.parse() {
            Ok(key) => Ok(Some(By::Person(PersonId(key)))),
            Err(_) => Err(Error::refused(
                "The filter “technician” names nobody we know. Choose one of the list.",
            )),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_named_in_an_address_and_read_back() {
        let wax = Key {
            fixture: FixtureId(17),
            part: Some(PartKind::WaxSeal),
            check: CheckId(31),
        };
        let whole = Key { part: None, ..wax };
        assert_eq!(key_text(&wax), "17.wax_seal.31");
        assert_eq!(key_text(&whole), "17..31");
        for key in [wax, whole] {
            assert_eq!(read_key(&key_text(&key)), Some(key));
        }
        for broken in ["", "17", "17.31", "17.wax.31", "17..31.1", "x..31"] {
            assert_eq!(read_key(broken), None, "{broken}");
        }
    }

    #[test]
    fn a_place_in_the_list_is_read_back_and_a_broken_one_is_told() {
        let place = Cursor {
            building: BuildingId(3),
            last_day: "2026-11-01".parse().unwrap_or_default(),
            key: Key {
                fixture: FixtureId(17),
                part: Some(PartKind::SupplyLineHot),
                check: CheckId(31),
            },
        };
        assert_eq!(cursor(&written(&place)).ok().flatten(), Some(place));
        assert!(cursor("3_2026-11-01_17").is_err());
    }
}
