//! The register is changed here: one use case a file. Managers change it; technicians keep parts and what a fixture is up to date
//! in the buildings they see.
//!
//! Whatever makes checks come due differently has the due rows of those fixtures written anew in the same transaction.

pub mod add_building;
pub mod add_fixture;
pub mod add_household;
pub mod add_part;
pub mod add_portfolio;
pub mod add_room;
pub mod add_unit;
pub mod arrange_rooms;
pub mod change_building;
pub mod change_fixture;
pub mod change_household;
pub mod change_part;
pub mod change_portfolio;
pub mod change_tag;
pub mod change_unit;
pub mod move_fixture;
pub mod move_out;
pub mod replace_fixture;
pub mod replace_part;
pub mod retire_fixture;
pub mod retire_part;
pub mod rights;
pub mod snapshot;
pub mod standing;
