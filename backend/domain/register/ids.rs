//! One key type an aggregate, so that a unit's key can't be given where a building's is asked.

macro_rules! ids {
    ($($(#[$meta:meta])* $name:ident),+ $(,)?) => { $(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(pub i64);

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result { self.0.fmt(f) }
        }
    )+ };
}

ids! {
    /// Key of a portfolio.
    PortfolioId,
    /// Key of a building.
    BuildingId,
    /// Key of a unit or common area.
    UnitId,
    /// Key of a household.
    HouseholdId,
    /// Key of a room.
    RoomId,
    /// Key of a tag, the place of a fixture.
    TagId,
    /// Key of a fixture.
    FixtureId,
    /// Key of a part.
    PartId,
    /// Key of a check.
    CheckId,
    /// Key of a schedule.
    ScheduleId,
    /// A public holiday or shut-down period of a building.
    ClosingId,
    /// Key of a result.
    ResultId,
    /// Key of a deficiency, also its number for people.
    DeficiencyId,
    /// Key of a turnover.
    TurnoverId,
    /// Key of a visit.
    VisitId,
    /// Key of an issued document.
    DocumentId,
    /// Key of a person.
    PersonId,
}
