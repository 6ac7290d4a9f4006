//! The columns of the fleet's files, each described once. The one CSV and the folder share names: what is `unit` here is `unit` there.

use crate::exchange::csv::Column;

const UNCHANGED: &str = "unchanged; none when it is new";

/// Whose the building is.
pub const PORTFOLIO: Column = Column::new(
    "portfolio",
    "Code of the portfolio, the buildings of one owner",
    "code",
    "HARBOR",
)
.or_blank("unchanged; MAIN for a new building");
/// Name of the portfolio.
pub const PORTFOLIO_NAME: Column =
    Column::new("portfolio_name", "Name of the portfolio", "text", "Harbor Homes")
        .or_blank("unchanged; its code when it is new");
/// Code of the building.
pub const BUILDING: Column = Column::new(
    "building",
    "Code of the building: letters, digits and hyphens, at most 16",
    "code",
    "ALDER",
);
/// What a building is, after its code.
pub const BUILDING_FACTS: [Column; 10] = [
    Column::new("building_name", "Name of the building", "text", "Alder Court")
        .or_blank("unchanged; its code when it is new"),
    Column::new(
        "address",
        "Address, one line or more",
        "text",
        "12 Alder Street, Larkhollow",
    )
    .or_blank(UNCHANGED),
    Column::new(
        "time_zone",
        "IANA time zone; all dates are local dates in it",
        "text",
        "America/Chicago",
    )
    .or_blank("unchanged; needed when it is new"),
    Column::new(
        "code_profile",
        "Whose clearances and limits apply: ipc, upc, ada, ada_dwelling or own",
        "code",
        "ipc",
    )
    .or_blank("unchanged; ipc when it is new"),
    Column::new("length_unit", "How lengths are shown: in or mm", "code", "in")
        .or_blank("unchanged; in when it is new"),
    Column::new("notice_hours", "Notice before entry, 0 to 336", "hours", "24")
        .or_blank("unchanged; 24 when it is new"),
    Column::new(
        "joined_on",
        "Day it joined the register; nothing falls due before",
        "date",
        "2026-01-05",
    )
    .or_blank("unchanged; needed when it is new"),
    Column::new("built_year", "Year it was built", "year", "1974").or_blank(UNCHANGED),
    Column::new(
        "base_joint",
        "Policy for the joint between water closet and floor: sealed, rear_open or not_noted",
        "code",
        "rear_open",
    )
    .or_blank("unchanged; not_noted when it is new"),
    Column::new(
        "technician",
        "Mail address of the technician who looks after it, somebody already among the people",
        "mail address",
        "ines@anglestop.example",
    )
    .or_blank(UNCHANGED),
];
/// Label of the unit.
pub const UNIT: Column = Column::new(
    "unit",
    "Label of the unit or common area, as on the door",
    "text",
    "204",
)
.or_blank("the row speaks of the building alone");
/// What a unit is, after its label.
pub const UNIT_FACTS: [Column; 5] = [
    Column::new("unit_kind", "unit or common_area", "code", "unit")
        .or_blank("unchanged; unit when it is new"),
    Column::new(
        "floor",
        "Storey, 1 is the ground floor, 0 or less below ground",
        "number",
        "2",
    )
    .or_blank("unchanged; 1 when it is new"),
    Column::new(
        "riser",
        "Position along the street from the left, 1 up",
        "number",
        "4",
    )
    .or_blank(UNCHANGED),
    Column::new(
        "occupancy",
        "occupied, vacant, turnover or off_line",
        "code",
        "occupied",
    )
    .or_blank("unchanged; occupied when it is new"),
    Column::new(
        "spread_ppm",
        "The unit's place in the first interval of what was never done, 0 to 999999",
        "millionths of the interval",
        "618034",
    )
    .or_blank("unchanged; chosen by the register when it is new"),
];
/// Room of the place.
pub const ROOM: Column = Column::new("room", "Room in which the place is", "text", "Bathroom")
    .or_blank("unchanged; none when the place is new");
/// Place of the room in the walk.
pub const ROOM_ORDER: Column = Column::new(
    "room_order",
    "Place of the room in the walk, 1 is first",
    "number",
    "1",
)
.or_blank("unchanged; after the others when it is new");
/// Label of the place.
pub const TAG: Column = Column::new(
    "tag",
    "Label of the place of a fixture, unique in the unit",
    "text",
    "WC-1",
)
.or_blank("the row speaks of the unit alone");
/// What a fixture is.
pub const FIXTURE: [Column; 8] = [
    Column::new("kind", "What it is", "code", "water_closet").or_blank("unchanged; needed when it is new"),
    Column::new("maker", "Maker", "text", "Northfall").or_blank(UNCHANGED),
    Column::new("model", "Model", "text", "Brook 1.28").or_blank(UNCHANGED),
    Column::new(
        "installed_on",
        "Day it was installed; a year or a month alone is taken as an estimate",
        "date",
        "2019-05-02",
    )
    .or_blank(UNCHANGED),
    Column::new(
        "installed_estimated",
        "yes when the date is an estimate",
        "yes or no",
        "no",
    )
    .or_blank("unchanged; no when it is new"),
    Column::new("status", "in_service, retired or replaced", "code", "in_service")
        .or_blank("unchanged; in_service when it is new"),
    Column::new(
        "stood_from",
        "First day it counts in the register",
        "date",
        "2026-01-05",
    )
    .or_blank(
        "unchanged; when it is new, the day the building joined or it was installed, whichever is later",
    ),
    Column::new(
        "stood_until",
        "First day it no longer stood there",
        "date",
        "2026-03-14",
    )
    .or_blank("it is in service"),
];
/// Parts of a fixture in one cell.
pub const PARTS: Column = Column::new(
    "parts",
    "Its parts, each a kind, or kind=date, ~ after an estimated date, a semicolon between; none for no parts. \
     A part that is left out is retired",
    "list",
    "wax_seal=2019-05-02;supply_line=2019~;stop",
)
.or_blank("unchanged; the standard parts of its kind when it is new");
/// Note on a fixture.
pub const NOTE: Column = Column::new(
    "note",
    "Note on the fixture",
    "text",
    "Tank lid chipped, 1/2\" at the rear",
)
.or_blank(UNCHANGED);

/// Beginning of the name of a column with last-done days.
pub const LAST_DONE: &str = "last_done:";
/// A column with last-done days, for the list of columns.
pub const LAST_DONE_COLUMN: Column = Column::new(
    "last_done:CHECK or last_done:CHECK:PART",
    "Day the check was last done before the register knew of it, a column for each check and part; without a part a check on parts \
     counts for each of them",
    "date",
    "2025-10-07",
)
.or_blank("unchanged; unknown when it is new");

/// The columns of the one CSV, but for the last-done days.
#[must_use]
pub fn one() -> Vec<Column> {
    let mut columns = vec![PORTFOLIO, PORTFOLIO_NAME, BUILDING];
    columns.extend(BUILDING_FACTS);
    columns.push(UNIT);
    columns.extend(UNIT_FACTS);
    columns.extend([ROOM, ROOM_ORDER, TAG]);
    columns.extend(FIXTURE);
    columns.extend([PARTS, NOTE]);
    columns
}

/// The columns of the one CSV as a list to read, last-done days included.
#[must_use]
pub fn documented() -> Vec<Column> {
    let mut columns = one();
    columns.push(LAST_DONE_COLUMN);
    columns
}

const WHOLE: &str = "nothing is known";

/// A column of the folder, where a blank is a statement too.
const fn whole(column: Column) -> Column {
    column.or_blank(WHOLE)
}

/// A column that names what the row belongs to.
const fn needed(column: Column) -> Column {
    Column::new(column.name, column.meaning, column.unit, column.example)
}

const NUMBER: Column = Column::new(
    "number",
    "Which of the fixtures of the place, in the order in which they stood there",
    "number",
    "1",
);

/// One file of the folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FolderFile {
    /// Portfolios.
    Portfolios,
    /// Buildings.
    Buildings,
    /// Units and common areas.
    Units,
    /// Households.
    Households,
    /// Rooms.
    Rooms,
    /// Places.
    Tags,
    /// Fixtures, those no longer in service too.
    Fixtures,
    /// Parts, those no longer there too.
    Parts,
    /// Last-done days.
    PriorDone,
}

impl FolderFile {
    /// All files that hold the register, in the order in which one needs the other.
    pub const ALL: [Self; 9] = [
        Self::Portfolios,
        Self::Buildings,
        Self::Units,
        Self::Households,
        Self::Rooms,
        Self::Tags,
        Self::Fixtures,
        Self::Parts,
        Self::PriorDone,
    ];

    /// Name of the file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Portfolios => "portfolios.csv",
            Self::Buildings => "buildings.csv",
            Self::Units => "units.csv",
            Self::Households => "households.csv",
            Self::Rooms => "rooms.csv",
            Self::Tags => "tags.csv",
            Self::Fixtures => "fixtures.csv",
            Self::Parts => "parts.csv",
            Self::PriorDone => "prior_done.csv",
        }
    }

    /// Its columns.
    #[must_use]
    pub fn columns(self) -> Vec<Column> {
        let unit = [needed(BUILDING), needed(UNIT)];
        let tag = [needed(BUILDING), needed(UNIT), needed(TAG)];
        let all = |key: &[Column], rest: &[Column]| [key, rest].concat();
        match self {
            Self::Portfolios => vec![needed(PORTFOLIO), needed(PORTFOLIO_NAME)],
            Self::Buildings => all(&[needed(BUILDING), PORTFOLIO], &BUILDING_FACTS.map(whole)),
            Self::Units => all(&unit, &UNIT_FACTS.map(whole)),
            Self::Households => all(&unit, &HOUSEHOLD),
            Self::Rooms => all(&unit, &[needed(ROOM), ROOM_ORDER]),
            Self::Tags => all(&tag, &[whole(ROOM)]),
            Self::Fixtures => {
                let mut columns = all(&tag, &[NUMBER]);
                columns.extend(FIXTURE.map(whole));
                columns.push(REPLACES);
                columns.push(whole(NOTE));
                columns
            }
            Self::Parts => all(&tag, &PART),
            Self::PriorDone => all(&tag, &PRIOR_DONE),
        }
    }
}

/// Which fixture of the same place was replaced.
pub const REPLACES: Column = Column::new(
    "replaces",
    "Number of the fixture of the same place that it replaced",
    "number",
    "1",
)
.or_blank("it replaced none");

/// A household, after its unit.
pub const HOUSEHOLD: [Column; 7] = [
    Column::new("household", "Name as the lease has it", "text", "Okafor"),
    Column::new("language", "Language, a BCP 47 tag", "code", "en").or_blank("en"),
    Column::new("contact", "Telephone or mail", "text", "555-0142").or_blank(WHOLE),
    Column::new(
        "agreed_hours",
        "When entry was agreed, in words",
        "text",
        "after 15:00",
    )
    .or_blank(WHOLE),
    Column::new(
        "no_entry_days",
        "Days without entry, in words",
        "text",
        "Saturdays",
    )
    .or_blank(WHOLE),
    Column::new("moved_in_on", "Day of moving in", "date", "2024-06-01"),
    Column::new("moved_out_on", "Day of moving out", "date", "2026-05-31").or_blank("they live there"),
];

/// A part, after its place.
pub const PART: [Column; 7] = [
    NUMBER,
    Column::new("part", "What it is", "code", "wax_seal"),
    whole(FIXTURE[3]),
    whole(FIXTURE[4]),
    Column::new("status", "in_service, retired or replaced", "code", "in_service").or_blank("in_service"),
    Column::new("stood_from", "First day it counts", "date", "2026-01-05")
        .or_blank("the first day of its fixture"),
    Column::new(
        "stood_until",
        "First day it was no longer there",
        "date",
        "2026-03-14",
    )
    .or_blank("it is in service"),
];

/// A last-done day, after its place.
pub const PRIOR_DONE: [Column; 3] = [
    Column::new("check", "Code of the check", "code", "wc_base_dry"),
    Column::new("part", "Kind of the part", "code", "supply_line").or_blank("the fixture itself"),
    Column::new("done_on", "Day it was last done", "date", "2025-10-07"),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn no_file_has_a_column_twice() {
        let lists = FolderFile::ALL.map(FolderFile::columns);
        for columns in lists.iter().chain([&one()]) {
            let names: BTreeSet<_> = columns.iter().map(|column| column.name).collect();
            assert_eq!(names.len(), columns.len());
        }
    }
}
