//! Says who sees to a deficiency: a technician of the office, or a licensed vendor by name.

use super::{LONGEST_NAME, change, must_stand};
use crate::actions::results::staff_only;
use crate::actions::results::take::text;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{DeficiencyId, PersonId};
use crate::domain::result::EventKind;
use crate::error::{Error, Result};
use crate::store::{Db, deficiencies, lists};

/// Who sees to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Assignee {
    /// Nobody yet.
    Nobody,
    /// A technician or manager of the office who sees the building.
    Person(PersonId),
    /// A licensed vendor, by name.
    Vendor(String),
}

/// The command.
#[derive(Debug, Clone)]
pub struct Assign {
    /// Which deficiency.
    pub deficiency: DeficiencyId,
    /// Who sees to it.
    pub to: Assignee,
}

/// Assigns a deficiency.
///
/// # Errors
/// A sentence when the person does not work in the building or the vendor has no name; [`Error::NotFound`] outside of what the
/// caller may see.
pub fn assign(db: &Db, actor: &Actor, now: Now, command: &Assign) -> Result<()> {
    staff_only(actor)?;
    db.write(|tx| {
        let before = deficiencies::find(tx, &actor.scope, command.deficiency)?;
        must_stand(&before)?;
        let mut after = before.clone();
        after.assignee = None;
        after.vendor = String::new();
        let words = match &command.to {
            Assignee::Nobody => "To nobody for now.".to_owned(),
            Assignee::Person(person) => {
                let staff = lists::deficiencies::staff_of(tx, before.building)?;
                let (_, name) = staff.into_iter().find(|(id, _)| id == person).ok_or_else(|| {
                    Error::field(
                        "to",
                        "This person does not work in the building. Choose one of the list.",
                    )
                })?;
                after.assignee = Some(*person);
                format!("To {name}.")
            }
            Assignee::Vendor(vendor) => {
                let vendor = text(vendor).replace(['\n', '\t'], " ");
                if vendor.is_empty() || vendor.chars().count() > LONGEST_NAME {
                    return Err(Error::field(
                        "vendor",
                        format!("Licensed vendor: write a name of 1 to {LONGEST_NAME} characters."),
                    ));
                }
                after.vendor.clone_from(&vendor);
                format!("To the licensed vendor {vendor}.")
            }
        };
        change(
            tx,
            actor,
            now,
            now.0,
            (&before, &after),
            (EventKind::Assigned, words),
        )
    })
}
