//! Setting the numbers that the urgent page shows, for the office or for one building.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::contacts;
use crate::domain::code::Coded as _;
use crate::domain::register::Building;
use crate::domain::trade::urgent::Contact;
use crate::error::FieldError;
use crate::store::buildings;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/urgent/edit.html")]
struct Edit {
    chrome: Chrome,
    building: Option<(String, String)>,
    back: String,
    numbers: Vec<Number>,
    errors: Vec<FieldError>,
}

struct Number {
    code: &'static str,
    name: &'static str,
    typed: String,
    hint: String,
}

/// What is typed, with what the office has beside it when it is about a building.
fn shown(numbers: Vec<(Contact, String)>, office: &[(Contact, String)]) -> Vec<Number> {
    let number = |(contact, typed): (Contact, String)| {
        let office = office.iter().find(|(known, _)| *known == contact);
        Number {
            code: contact.code(),
            name: contact.name(),
            typed,
            hint: match office {
                Some((_, number)) if number.is_empty() => "The office has none.".to_owned(),
                Some((_, number)) => format!("The office's: {number}"),
                None => String::new(),
            },
        }
    };
    numbers.into_iter().map(number).collect()
}

fn page(
    context: &Context,
    request: &HttpRequest,
    building: Option<&Building>,
    numbers: Vec<Number>,
    errors: Vec<FieldError>,
) -> Edit {
    Edit {
        chrome: Chrome::new(context, request, "Numbers to call"),
        building: building.map(|one| (one.facts.code.clone(), one.facts.name.clone())),
        back: back(building),
        numbers,
        errors,
    }
}

fn back(building: Option<&Building>) -> String {
    building.map_or_else(
        || "/urgent".to_owned(),
        |one| format!("/urgent?building={}", one.facts.code),
    )
}

/// The building that is named and the office's numbers beside its own; no numbers beside the office's.
async fn named(
    context: &Context,
    code: &str,
) -> Result<(Option<Building>, Vec<(Contact, String)>), crate::error::Error> {
    if code.is_empty() {
        return Ok((None, Vec::new()));
    }
    let code = code.to_owned();
    context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            Ok((Some(building), contacts::numbers(conn)?))
        })
        .await
}

/// Shows the form.
///
/// # Errors
/// When there is no such building or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let (building, office) = named(&context, fields.text("building")).await?;
    let id = building.as_ref().map(|building| building.id);
    let numbers = context
        .read(move |conn, _| match id {
            Some(id) => contacts::own_numbers(conn, id),
            None => contacts::numbers(conn),
        })
        .await?;
    let numbers = shown(numbers, &office);
    respond::page(&page(&context, &request, building.as_ref(), numbers, Vec::new()))
}

/// Sets the numbers.
///
/// # Errors
/// When there is no such building or the database refuses.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let (building, office) = named(&context, form.text("building")).await?;
    let typed: Vec<(Contact, String)> = Contact::ALL
        .iter()
        .map(|contact| (*contact, form.text(contact.code()).to_owned()))
        .collect();
    let (sent, code) = (typed.clone(), building.as_ref().map(|one| one.facts.code.clone()));
    let done = context
        .act(move |db, actor, now| match code {
            Some(code) => contacts::set_of_building(db, actor, now, &code, &sent),
            None => contacts::set(db, actor, now, &sent),
        })
        .await;
    match done {
        Ok(()) => Ok(respond::redirect_saying(&back(building.as_ref()), "Numbers set.")),
        Err(error) => {
            let (numbers, errors) = (shown(typed, &office), to_mend(error)?);
            respond::form_again(&page(&context, &request, building.as_ref(), numbers, errors))
        }
    }
}
