//! Who acts, and what they may see. The one place that says which buildings a person's lists are cut to.

use std::collections::BTreeSet;

use chrono_tz::Tz;

use super::typed::Typed;
use super::{BuildingId, LanguageTag, PersonId};
use crate::coded;
use crate::domain::field::FieldError;

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

/// Hour of the morning mail when nothing else is said, 0 to 23.
pub const USUAL_DIGEST_HOUR: i64 = 6;

/// A person as typed.
#[derive(Debug, Clone, Default)]
pub struct PersonText {
    /// Name.
    pub name: String,
    /// Mail address.
    pub email: String,
    /// IANA zone.
    pub time_zone: String,
    /// Local hour of the morning mail; empty for 6.
    pub digest_hour: String,
    /// Tag of the language that they read; empty for English.
    pub language: String,
}

/// What is known of a person beside what they may do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PersonFacts {
    /// As shown.
    pub name: String,
    /// Mail address in lower case; one person each.
    pub email: String,
    /// The digest hour is read in it.
    pub time_zone: Tz,
    /// Local hour of the morning mail, 0 to 23.
    pub digest_hour: i64,
    /// The language that they read.
    pub language: LanguageTag,
}

/// A person of the office.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// Key.
    pub id: PersonId,
    /// What they may do.
    pub role: Role,
    /// Whether they may sign in.
    pub standing: Standing,
    /// Who they are.
    pub facts: PersonFacts,
}

impl PersonFacts {
    /// Reads what was typed.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`PersonText`].
    pub fn read(text: &PersonText) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        let facts = Self {
            name: typed.needed("name", "Name", &text.name, 80),
            email: email(&mut typed, &text.email),
            time_zone: super::building::zone(&mut typed, &text.time_zone),
            digest_hour: typed
                .whole(
                    "digest_hour",
                    "Hour of the morning mail",
                    &text.digest_hour,
                    0..=23,
                )
                .unwrap_or(USUAL_DIGEST_HOUR),
            language: LanguageTag::read(&text.language).unwrap_or_else(|sentence| {
                typed.refuse("language", sentence);
                LanguageTag::usual()
            }),
        };
        typed.finish(facts)
    }
}

/// The form in which a mail address is kept and compared.
#[must_use]
pub fn address(typed: &str) -> String {
    typed.trim().to_lowercase()
}

/// One mailbox in the plain form that mail servers exchange; names, comments and quotes are refused, and nothing is sent that
/// could be read as a second line.
fn email(typed: &mut Typed, given: &str) -> String {
    let text = address(given);
    if text.is_empty() {
        typed.refuse("email", "Mail address is empty. Fill it in.");
    } else if !is_mailbox(&text) {
        typed.refuse(
            "email",
            format!(
                "“{}” is not a mail address. Give one such as name@office.example.",
                given.trim()
            ),
        );
    }
    text
}

/// Whether a text is `local@domain` in the unquoted form of RFC 5321, 4.1.2, at most 254 characters (4.5.3.1, from memory).
fn is_mailbox(text: &str) -> bool {
    let Some((local, domain)) = text.rsplit_once('@') else {
        return false;
    };
    let in_local = |c: char| c.is_ascii_alphanumeric() || "!#$%&'*+-/=?^_`{|}~.".contains(c);
    let in_label = |c: char| c.is_alphanumeric() || c == '-';
    text.len() <= 254
        && (1..=64).contains(&local.len())
        && local.chars().all(in_local)
        && !local.starts_with('.')
        && !local.ends_with('.')
        && !local.contains("..")
        && domain.split('.').all(|label| {
            (1..=63).contains(&label.len())
                && label.chars().all(in_label)
                && !label.starts_with('-')
                && !label.ends_with('-')
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(email: &str) -> PersonText {
        PersonText {
            name: "Ylva Sandberg".to_owned(),
            email: email.to_owned(),
            time_zone: "America/Chicago".to_owned(),
            ..PersonText::default()
        }
    }

    #[test]
    fn an_address_is_kept_in_lower_case() {
        let facts = PersonFacts::read(&typed(" Ylva@Keel.EXAMPLE ")).ok();
        assert_eq!(
            facts.map(|facts| facts.email).as_deref(),
            Some("ylva@keel.example")
        );
    }

    #[test]
    fn what_is_not_one_plain_mailbox_is_refused() {
        for bad in [
            "",
            "ylva",
            "@keel.example",
            "ylva@",
            "a@b@",
            "a b@keel.example",
            "ylva@keel..example",
            "ylva@-keel.example",
            ".ylva@keel.example",
            "ylva@keel.example\r\nbcc: x@y.example",
            "Ylva <ylva@keel.example>",
            "ylva@keel.example, x@y.example",
        ] {
            let errors = PersonFacts::read(&typed(bad)).err().unwrap_or_default();
            assert!(errors.iter().any(|error| error.field == "email"), "{bad}");
        }
    }

    #[test]
    fn the_morning_mail_has_a_local_hour() {
        let mut text = typed("ylva@keel.example");
        text.digest_hour = "24".to_owned();
        text.time_zone = "Midwest".to_owned();
        let errors = PersonFacts::read(&text).err().unwrap_or_default();
        let fields: Vec<_> = errors.iter().map(|error| error.field.as_str()).collect();
        assert_eq!(fields, ["time_zone", "digest_hour"]);
    }
}
