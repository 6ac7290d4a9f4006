//! The page for anybody: gas first, each with what to do before whom to call.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::contacts;
use crate::domain::code::Coded as _;
use crate::domain::register::person::Role;
use crate::domain::trade::caution::DEFERENCE;
use crate::domain::trade::urgent::{Contact, Urgency, dialled};
use crate::web::chrome::Chrome;
use crate::web::context::Visitor;
use crate::web::error::PageResult;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/urgent/show.html")]
struct Urgent {
    chrome: Chrome,
    sections: Vec<Section>,
    deference: &'static str,
    role: Option<Role>,
}

struct Section {
    code: &'static str,
    name: &'static str,
    steps: &'static [&'static str],
    calls: Vec<Call>,
    not_set: Vec<&'static str>,
}

struct Call {
    name: &'static str,
    number: String,
    dialled: String,
}

impl Urgent {
    fn is_manager(&self) -> bool {
        self.role == Some(Role::Manager)
    }

    fn is_staff(&self) -> bool {
        matches!(self.role, Some(Role::Manager | Role::Technician))
    }
}

/// Shows what to do first.
///
/// # Errors
/// When the database does not answer.
pub async fn show(visitor: Visitor, request: HttpRequest) -> PageResult {
    let numbers = visitor.app.read(contacts::numbers).await?;
    respond::page(&Urgent {
        chrome: Chrome::of_visitor(&visitor, &request, "Urgent"),
        sections: Urgency::ALL
            .iter()
            .map(|urgency| section(*urgency, &numbers))
            .collect(),
        deference: DEFERENCE,
        role: visitor.session.as_ref().map(|session| session.actor.role),
    })
}

fn section(urgency: Urgency, numbers: &[(Contact, String)]) -> Section {
    let number = |contact: Contact| {
        let known = numbers.iter().find(|(known, _)| *known == contact);
        known.map_or("", |(_, number)| number.as_str())
    };
    let (set, not_set): (Vec<Contact>, Vec<Contact>) = urgency
        .contacts()
        .iter()
        .partition(|contact| !number(**contact).is_empty());
    Section {
        code: urgency.code(),
        name: urgency.name(),
        steps: urgency.steps(),
        calls: set
            .into_iter()
            .map(|contact| Call {
                name: contact.name(),
                number: number(contact).to_owned(),
                dialled: dialled(number(contact)),
            })
            .collect(),
        not_set: not_set.into_iter().map(Contact::name).collect(),
    }
}
