//! The register: who and what there is, and the invariants of each by itself. Knows nothing of where it is stored.
//!
//! Each entity comes twice: `…Text` is what somebody typed, as text, in a form, a row of a file or a command; `…Facts` is what it
//! means once every field was read ([`BuildingFacts::read`] and its kin say what is wrong with each). The entity itself is
//! the facts with a key and a place.

pub mod building;
pub mod fixture;
pub mod household;
pub mod ids;
pub mod inventory;
pub mod label;
pub mod language_tag;
pub mod part;
pub mod password;
pub mod person;
pub mod portfolio;
pub mod room;
pub mod tag;
pub mod terms;
pub mod typed;
pub mod unit;

pub use building::{Building, BuildingFacts, BuildingText};
pub use fixture::{Fixture, FixtureFacts, FixtureText, Installed, Service};
pub use household::{Entry, Household, HouseholdFacts, HouseholdText};
pub use ids::*;
pub use language_tag::LanguageTag;
pub use part::{Part, PartFacts, PartText};
pub use person::{Person, PersonFacts, PersonText};
pub use portfolio::{Portfolio, PortfolioFacts, PortfolioText};
pub use room::Room;
pub use tag::Tag;
pub use terms::BuildingTerms;
pub use unit::{Occupancy, Unit, UnitFacts, UnitKind, UnitText};
