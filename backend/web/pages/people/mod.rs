//! The people of the office, for managers.

pub mod invite;
pub mod list;
pub mod person;

use crate::domain::code::Coded;
use crate::domain::register::person::{Role, Standing};
use crate::error::{FieldError, Result};
use crate::store::AnyConnection;
use crate::store::assignments::{self, Place};
use crate::web::choice::Choice;
use crate::web::form::Fields;

/// A building or portfolio to tick.
struct Tick {
    code: String,
    name: String,
    ticked: Option<()>,
}

/// What a person may do and where, as a form offers it.
struct Assigning {
    role: String,
    roles: Vec<Choice>,
    buildings: Vec<Tick>,
    portfolios: Vec<Tick>,
}

/// Every place there is, for both roles that are assigned to some.
type Places = (Vec<Place>, Vec<Place>);

fn places(conn: &mut AnyConnection) -> Result<Places> {
    Ok((
        assignments::choices(conn, Role::Technician)?,
        assignments::choices(conn, Role::Owner)?,
    ))
}

impl Assigning {
    /// The form with the role and the places that were chosen in it.
    fn of_form(fields: &Fields, (buildings, portfolios): Places) -> Self {
        Self {
            role: fields.text("role").to_owned(),
            roles: roles(),
            buildings: ticks(buildings, &fields.all("building").collect::<Vec<_>>()),
            portfolios: ticks(portfolios, &fields.all("portfolio").collect::<Vec<_>>()),
        }
    }

    /// The form with what a person may do now.
    fn of_person(role: Role, theirs: &[Place], (buildings, portfolios): Places) -> Self {
        let codes: Vec<&str> = theirs.iter().map(|place| place.code.as_str()).collect();
        let none: &[&str] = &[];
        let (in_buildings, in_portfolios) = match role {
            Role::Technician => (codes.as_slice(), none),
            Role::Owner => (none, codes.as_slice()),
            Role::Manager => (none, none),
        };
        Self {
            role: role.code().to_owned(),
            roles: roles(),
            buildings: ticks(buildings, in_buildings),
            portfolios: ticks(portfolios, in_portfolios),
        }
    }
}

fn ticks(places: Vec<Place>, ticked: &[&str]) -> Vec<Tick> {
    places
        .into_iter()
        .map(|place| Tick {
            ticked: ticked.contains(&place.code.as_str()).then_some(()),
            code: place.code,
            name: place.name,
        })
        .collect()
}

fn roles() -> Vec<Choice> {
    Choice::every(|role| match role {
        Role::Manager => "Manager: plans and decides, sees every building",
        Role::Technician => "Technician: does checks and repairs in the buildings ticked below",
        Role::Owner => "Owner: reads the condition of the portfolios ticked below",
    })
}

/// The role and the codes of its places, as chosen in a form.
fn chosen(fields: &Fields) -> std::result::Result<(Role, Vec<String>), Vec<FieldError>> {
    let role = Role::from_code(fields.text("role"))
        .map_err(|_sentence| vec![FieldError::new("role", "Choose what the person does here.")])?;
    let field = match role {
        Role::Manager => return Ok((role, Vec::new())),
        Role::Technician => "building",
        Role::Owner => "portfolio",
    };
    Ok((role, fields.all(field).map(str::to_owned).collect()))
}

/// A standing in words.
const fn standing_word(standing: Standing) -> &'static str {
    match standing {
        Standing::Invited => "invited, no password yet",
        Standing::Active => "may sign in",
        Standing::Disabled => "disabled",
    }
}
