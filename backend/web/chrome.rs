//! The frame around every page: places to go, who is signed in, what was just done.

use actix_web::{HttpMessage, HttpRequest, web};

use super::context::{Context, Visitor};
use super::{App, Mode, respond, spoken};
use crate::domain::register::person::Role;
use crate::language::{Language, Said};
use crate::store::sessions::Session;

/// One place in the margin.
#[derive(Debug, Clone)]
pub struct Place {
    /// Address.
    pub href: &'static str,
    /// Word.
    pub label: String,
    /// Whether the page belongs to it.
    pub current: bool,
}

/// Who is signed in, as shown.
#[derive(Debug, Clone)]
pub struct Shown {
    /// Name.
    pub name: String,
    /// The role in words.
    pub role_word: String,
}

/// The frame around a page.
#[derive(Debug, Clone)]
pub struct Chrome {
    /// Title of the page.
    pub title: String,
    /// Places in the margin, those that the role may open.
    pub nav: Vec<Place>,
    /// Who is signed in.
    pub person: Option<Shown>,
    /// Token of the session's forms, empty without a session.
    pub csrf: String,
    /// What was just done.
    pub flash: Option<String>,
    /// Where whoever smells gas is led: to the numbers of the building that the page is about, else to the office's.
    pub urgent: String,
    /// A note that this is a demo.
    pub demo: Option<String>,
    /// In which the frame is said.
    pub language: Language,
    /// In which the page within is said: English until the page is in the catalogue.
    pub within: Language,
}

/// Address, message, and who sees it, in the order of the margin.
const PLACES: &[(&str, &str, &[Role])] = &[
    ("/due", "place-due", &[Role::Manager, Role::Technician]),
    (
        "/turnovers",
        "place-turnovers",
        &[Role::Manager, Role::Technician],
    ),
    ("/visits", "place-visits", &[Role::Manager, Role::Technician]),
    (
        "/deficiencies",
        "place-deficiencies",
        &[Role::Manager, Role::Technician],
    ),
    (
        "/buildings",
        "place-buildings",
        &[Role::Manager, Role::Technician],
    ),
    ("/condition", "place-condition", &[Role::Owner, Role::Manager]),
    ("/schedules", "place-schedules", &[Role::Manager]),
    ("/checks", "place-checks", &[Role::Manager, Role::Technician]),
    ("/mail", "place-mail", &[Role::Manager]),
    ("/people", "place-people", &[Role::Manager]),
    (
        "/account",
        "place-account",
        &[Role::Manager, Role::Technician, Role::Owner],
    ),
];

impl Chrome {
    /// The frame without anybody.
    #[must_use]
    pub fn anonymous(title: &str) -> Self {
        Self {
            title: title.to_owned(),
            nav: Vec::new(),
            person: None,
            csrf: String::new(),
            flash: None,
            urgent: "/urgent".to_owned(),
            demo: None,
            language: Language::ENGLISH,
            within: Language::ENGLISH,
        }
    }

    /// The frame of a page that is wholly in the catalogue.
    #[must_use]
    pub fn spoken(mut self) -> Self {
        self.within = self.language;
        self
    }

    /// The frame of a page that is said in the language of somebody who is not signed in yet.
    #[must_use]
    pub fn spoken_in(mut self, language: Language) -> Self {
        self.language = language;
        self.spoken()
    }

    /// A message of the frame.
    #[must_use]
    pub fn say(&self, key: &'static str) -> Said {
        self.language.say(key)
    }

    /// A message of the page within, for the pieces that pages of either kind share.
    #[must_use]
    pub fn word(&self, key: &'static str) -> Said {
        self.within.say(key)
    }

    /// The frame of a signed-in page.
    #[must_use]
    pub fn new(context: &Context, request: &HttpRequest, title: &str) -> Self {
        Self::build(Some(&context.session), &context.app, request, title)
    }

    /// The frame of a page that anybody may see.
    #[must_use]
    pub fn of_visitor(visitor: &Visitor, request: &HttpRequest, title: &str) -> Self {
        Self::build(visitor.session.as_ref(), &visitor.app, request, title)
    }

    /// The frame from nothing but the request, for error pages.
    #[must_use]
    pub fn of_request(request: &HttpRequest, title: &str) -> Self {
        let session = request.extensions().get::<Session>().cloned();
        match request.app_data::<web::Data<App>>() {
            Some(app) => Self::build(session.as_ref(), app, request, title),
            None => Self::anonymous(title),
        }
    }

    fn build(session: Option<&Session>, app: &App, request: &HttpRequest, title: &str) -> Self {
        let mut chrome = Self::anonymous(title);
        let language = spoken::of(request, session);
        chrome.language = language;
        chrome.flash = respond::flash_of(request);
        chrome.demo = (app.settings.mode == Mode::Demo).then(|| language.say("frame-demo").to_string());
        if let Some(code) = building_of(request.path()) {
            chrome.urgent = format!("/urgent?building={code}");
        }
        if let Some(session) = session {
            let role = session.actor.role;
            chrome.csrf = session.csrf.clone();
            chrome.person = Some(Shown {
                name: session.actor.name.clone(),
                role_word: role_in(language, role),
            });
            chrome.nav = places(language, role, request.path());
        }
        chrome
    }
}

/// The building that an address names: `ALDER` of `/buildings/ALDER/water`.
fn building_of(path: &str) -> Option<&str> {
    let code = path.strip_prefix("/buildings/")?.split('/').next()?;
    let is_code = code != "new" && code.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    (is_code && !code.is_empty()).then_some(code)
}

fn places(language: Language, role: Role, path: &str) -> Vec<Place> {
    PLACES
        .iter()
        .filter(|(_, _, roles)| roles.contains(&role))
        .map(|&(href, message, _)| Place {
            href,
            label: language.say(message).to_string(),
            current: path == href || path.strip_prefix(href).is_some_and(|rest| rest.starts_with('/')),
        })
        .collect()
}

/// A role in the words of a language.
#[must_use]
pub fn role_in(language: Language, role: Role) -> String {
    let message = match role {
        Role::Manager => "role-manager",
        Role::Technician => "role-technician",
        Role::Owner => "role-owner",
    };
    language.say(message).to_string()
}

/// A role in English, for pages that are not in the catalogue.
#[must_use]
pub const fn role_word(role: Role) -> &'static str {
    match role {
        Role::Manager => "manager",
        Role::Technician => "technician",
        Role::Owner => "owner",
    }
}
