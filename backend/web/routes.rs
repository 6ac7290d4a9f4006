//! The one table of addresses: path, method, handler, and who may ask. The gate and the tests read the same table.

use actix_web::{guard, web};

use super::{assets, pages};
use crate::domain::register::person::Role;

/// Who may ask for an address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Anybody, signed in or not.
    Anybody,
    /// These roles, each within what the person may see.
    Roles(&'static [Role]),
}

/// One line of the table.
#[derive(Debug, Clone, Copy)]
pub struct Route {
    /// `GET` or `POST`; `HEAD` is answered as `GET`.
    pub method: &'static str,
    /// Pattern such as `/units/{unit}`.
    pub path: &'static str,
    /// Who may ask.
    pub access: Access,
}

const ANYBODY: Access = Access::Anybody;
const EVERYONE: Access = Access::Roles(&[Role::Manager, Role::Technician, Role::Owner]);
#[expect(dead_code, reason = "the first page for staff alone is about to land")]
const STAFF: Access = Access::Roles(&[Role::Manager, Role::Technician]);
const MANAGERS: Access = Access::Roles(&[Role::Manager]);

macro_rules! handler {
    (GET, $handler:path) => {
        web::route()
            .guard(guard::Any(guard::Get()).or(guard::Head()))
            .to($handler)
    };
    (POST, $handler:path) => {
        web::post().to($handler)
    };
}

macro_rules! routes {
    ($($path:literal { $($method:ident $handler:path, $access:expr;)+ })+) => {
        /// Every address there is.
        pub const TABLE: &[Route] = &[
            $($(Route { method: stringify!($method), path: $path, access: $access },)+)+
        ];

        /// Registers every address of the table.
        pub fn configure(config: &mut web::ServiceConfig) {
            $(
                config.service(web::resource($path)$(.route(handler!($method, $handler)))+);
            )+
        }
    };
}

routes! {
    "/" { GET pages::start::show, EVERYONE; }
    "/assets/{file:.*}" { GET assets::show, ANYBODY; }
    "/demo/sign-in/{role}" { POST pages::session::demo::submit, ANYBODY; }
    "/mail" { GET pages::mail::list::show, MANAGERS; }
    "/mail/{message}" { GET pages::mail::message::show, MANAGERS; }
    "/sign-in" { GET pages::session::sign_in::show, ANYBODY; }
    "/sign-out" { POST pages::session::sign_out::submit, EVERYONE; }
}

/// Who may ask for this method and pattern; nothing when the table has no such line.
#[must_use]
pub fn access(method: &str, pattern: &str) -> Option<Access> {
    let method = if method == "HEAD" { "GET" } else { method };
    TABLE
        .iter()
        .find(|route| route.path == pattern && route.method == method)
        .map(|route| route.access)
}
