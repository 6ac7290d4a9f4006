//! Who acts, and what they may see. The one place that says which buildings a person's lists are cut to.

use std::collections::BTreeSet;

use super::{BuildingId, PersonId};
use crate::coded;

coded! {
    /// What a person does with the tool.
    Role "role" {
        /// Plans and decides; sees every building.
        Manager = "manager",
        /// Does the checks and repairs; sees the buildings assigned to them.
        Technician = "technician",
        /// Reads the condition of the buildings of their portfolios.
        Owner = "owner",
    }
}

coded! {
    /// Whether a person may sign in.
    Standing "standing" {
        /// Was sent an invitation and has no password yet.
        Invited = "invited",
        /// May sign in.
        Active = "active",
        /// May not sign in any more.
        Disabled = "disabled",
    }
}

/// The buildings whose records a person may see.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Scope {
    /// Every building.
    All,
    /// These buildings and no other; may be empty.
    Buildings(BTreeSet<BuildingId>),
}

impl Scope {
    /// Whether records of this building may be seen.
    #[must_use]
    pub fn sees(&self, building: BuildingId) -> bool {
        match self {
            Self::All => true,
            Self::Buildings(buildings) => buildings.contains(&building),
        }
    }
}

/// Who asks for something, with what they may see. Every action and every list takes one.
#[derive(Debug, Clone)]
pub struct Actor {
    /// The person; `None` for the server's operator at the command line and for jobs.
    pub person: Option<PersonId>,
    /// What they may do.
    pub role: Role,
    /// What they may see.
    pub scope: Scope,
    /// As written under records.
    pub name: String,
}

impl Actor {
    /// Whoever runs the server, at its command line: sees and may do everything.
    #[must_use]
    pub fn operator() -> Self {
        Self {
            person: None,
            role: Role::Manager,
            scope: Scope::All,
            name: "command line".to_owned(),
        }
    }
}
