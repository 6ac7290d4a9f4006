//! The one table of addresses: path, method, handler, and who may ask. The gate and the tests read the same table.

use actix_web::{guard, web};

use super::{assets, pages, phone};
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
const STAFF: Access = Access::Roles(&[Role::Manager, Role::Technician]);
const OWNERS: Access = Access::Roles(&[Role::Manager, Role::Owner]);
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
    "/account" { GET pages::account::show::show, EVERYONE; }
    "/account/hours" { POST pages::account::hours::submit, EVERYONE; }
    "/account/language" { POST pages::account::language::submit, EVERYONE; }
    "/account/password" { POST pages::account::password::submit, EVERYONE; }
    "/account/sessions/end-others" { POST pages::account::sessions::end_others, EVERYONE; }
    "/account/sessions/{session}/end" { POST pages::account::sessions::end, EVERYONE; }
    "/arrivals" { GET pages::arrivals::list::show, MANAGERS; }
    "/arrivals/{arrival}/noted" { POST pages::arrivals::noted::submit, MANAGERS; }
    "/assets/{file:.*}" { GET assets::show, ANYBODY; }
    "/condition" { GET pages::condition::list::show, OWNERS; }
    "/condition.csv" { GET pages::condition::every_csv::show, OWNERS; }
    "/condition/bands" { POST pages::condition::lives::submit_bands, MANAGERS; }
    "/condition/columns" { GET pages::condition::columns::show, OWNERS; }
    "/condition/forecast" { GET pages::condition::portfolio::ahead, OWNERS; }
    "/condition/lives" { GET pages::condition::lives::show, OWNERS; POST pages::condition::lives::submit, MANAGERS; }
    "/condition/score" { GET pages::condition::portfolio::score, OWNERS; }
    "/condition/{building}.csv" { GET pages::condition::csv::show, OWNERS; }
    "/condition/{building}" { GET pages::condition::building::show, OWNERS; }
    "/condition/{building}/forecast" { GET pages::condition::forecast::show, OWNERS; }
    "/condition/{building}/forecast.csv" { GET pages::condition::forecast_csv::show, OWNERS; }
    "/condition/{building}/score" { GET pages::condition::score::show, OWNERS; }
    "/condition/{building}/issue" { POST pages::condition::issue::submit, OWNERS; }
    "/checks" { GET pages::checks::list::show, STAFF; }
    "/checks/new" { GET pages::checks::new::show, MANAGERS; POST pages::checks::new::submit, MANAGERS; }
    "/checks/values" { GET pages::checks::values::show, STAFF; POST pages::checks::values::submit, MANAGERS; }
    "/checks/{check}" { GET pages::checks::show::show, STAFF; }
    "/checks/{check}/copy" { POST pages::checks::copy::submit, MANAGERS; }
    "/checks/{check}/edit" { GET pages::checks::edit::show, MANAGERS; POST pages::checks::edit::submit, MANAGERS; }
    "/checks/{check}/offer" { POST pages::checks::offer::submit, MANAGERS; }
    "/deficiencies" { GET pages::deficiencies::list::show, STAFF; }
    "/deficiencies.csv" { GET pages::deficiencies::csv::show, STAFF; }
    "/deficiencies/times" { GET pages::deficiencies::times::show, STAFF; POST pages::deficiencies::times::submit, MANAGERS; }
    "/deficiencies/prices" { GET pages::water::prices::show, MANAGERS; POST pages::water::prices::submit, MANAGERS; }
    "/deficiencies/{deficiency}" { GET pages::deficiencies::one::show, STAFF; }
    "/deficiencies/{deficiency}/assign" { POST pages::deficiencies::assign::submit, STAFF; }
    "/deficiencies/{deficiency}/choice" { GET pages::water::choice::show, STAFF; }
    "/deficiencies/{deficiency}/note" { POST pages::deficiencies::note::submit, STAFF; }
    "/deficiencies/{deficiency}/recheck" { POST pages::deficiencies::recheck::submit, STAFF; }
    "/deficiencies/{deficiency}/repaired" { POST pages::deficiencies::repaired::submit, STAFF; }
    "/deficiencies/{deficiency}/water" { GET pages::water::measure::show, STAFF; POST pages::water::measure::submit, STAFF; }
    "/demo/sign-in/{role}" { POST pages::session::demo::submit, ANYBODY; }
    "/documents/{document}" { GET pages::condition::document::show, OWNERS; }
    "/due" { GET pages::due::list::show, STAFF; }
    "/due/load" { GET pages::due::load::show, STAFF; }
    "/due.csv" { GET pages::due::csv::show, STAFF; }
    "/fixtures/{fixture}/record" { GET pages::record::fixture::show, STAFF; POST pages::record::fixture::submit, STAFF; }
    "/buildings" { GET pages::buildings::list::show, STAFF; }
    "/buildings/new" { GET pages::buildings::new::show, MANAGERS; POST pages::buildings::new::submit, MANAGERS; }
    "/buildings/{building}" { GET pages::buildings::show::show, STAFF; }
    "/buildings/{building}/edit" { GET pages::buildings::edit::show, MANAGERS; POST pages::buildings::edit::submit, MANAGERS; }
    "/buildings/{building}/calendar" { GET pages::calendars::show::show, MANAGERS; POST pages::calendars::week::submit, MANAGERS; }
    "/buildings/{building}/calendar/close" { POST pages::calendars::close::submit, MANAGERS; }
    "/buildings/{building}/calendar/give" { POST pages::calendars::give::submit, MANAGERS; }
    "/buildings/{building}/calendar/{closing}/edit" { GET pages::calendars::edit::show, MANAGERS; POST pages::calendars::edit::submit, MANAGERS; }
    "/buildings/{building}/calendar/{closing}/open" { POST pages::calendars::open::submit, MANAGERS; }
    "/buildings/{building}/labels" { GET pages::labels::building::show, MANAGERS; POST pages::labels::building::submit, MANAGERS; }
    "/buildings/{building}/terms" { GET pages::water::terms::show, MANAGERS; POST pages::water::terms::submit, MANAGERS; }
    "/buildings/{building}/units/new" { GET pages::units::new::show, MANAGERS; POST pages::units::new::submit, MANAGERS; }
    "/buildings/{building}/water" { GET pages::water::building::show, STAFF; }
    "/fixtures/{fixture}" { GET pages::fixtures::show::show, STAFF; }
    "/fixtures/{fixture}/diagnose" { GET pages::fixtures::diagnose::show, STAFF; POST pages::fixtures::diagnose::submit, STAFF; }
    "/fixtures/{fixture}/clearance" { GET pages::fixtures::clearance::show, STAFF; POST pages::fixtures::clearance::submit, STAFF; }
    "/fixtures/{fixture}/flush" { GET pages::fixtures::flush::show, STAFF; POST pages::fixtures::flush::submit, STAFF; }
    "/fixtures/{fixture}/leaks" { GET pages::fixtures::leaks::show, STAFF; POST pages::fixtures::leaks::submit, STAFF; }
    "/fixtures/{fixture}/edit" { GET pages::fixtures::edit::show, STAFF; POST pages::fixtures::edit::submit, STAFF; }
    "/fixtures/{fixture}/move" { GET pages::fixtures::relocate::show, MANAGERS; POST pages::fixtures::relocate::submit, MANAGERS; }
    "/fixtures/{fixture}/parts/new" { GET pages::parts::new::show, STAFF; POST pages::parts::new::submit, STAFF; }
    "/fixtures/{fixture}/replace" { GET pages::fixtures::replace::show, MANAGERS; POST pages::fixtures::replace::submit, MANAGERS; }
    "/fixtures/{fixture}/retire" { GET pages::fixtures::retire::show, MANAGERS; POST pages::fixtures::retire::submit, MANAGERS; }
    "/households/{household}/edit" { GET pages::households::edit::show, MANAGERS; POST pages::households::edit::submit, MANAGERS; }
    "/households/{household}/leave" { POST pages::households::leave::submit, MANAGERS; }
    "/export/fleet.csv" { GET pages::import::export::show, MANAGERS; }
    "/import" {
        GET pages::import::choose::show, MANAGERS;
        POST pages::import::choose::submit, MANAGERS;
    }
    "/import/{upload}" {
        GET pages::import::confirm::show, MANAGERS;
        POST pages::import::confirm::submit, MANAGERS;
    }
    "/import/{upload}/problems.csv" { GET pages::import::problems::show, MANAGERS; }
    "/l/{code}" { GET pages::labels::lead::show, STAFF; }
    "/labels/sheet" { GET pages::labels::sheet::show, MANAGERS; }
    "/labels/{code}/renew" { POST pages::labels::renew::submit, MANAGERS; }
    "/mail" { GET pages::mail::list::show, MANAGERS; }
    "/mail/{message}" { GET pages::mail::message::show, MANAGERS; }
    "/parts/{part}/change" { GET pages::parts::change::show, STAFF; POST pages::parts::change::submit, STAFF; }
    "/parts/{part}/replace" { GET pages::parts::replace::show, STAFF; POST pages::parts::replace::submit, STAFF; }
    "/parts/{part}/retire" { GET pages::parts::retire::show, STAFF; POST pages::parts::retire::submit, STAFF; }
    "/portfolios/new" { GET pages::portfolios::new::show, MANAGERS; POST pages::portfolios::new::submit, MANAGERS; }
    "/portfolios/{portfolio}/edit" { GET pages::portfolios::edit::show, MANAGERS; POST pages::portfolios::edit::submit, MANAGERS; }
    "/invite/{token}" { GET pages::session::invitation::show, ANYBODY; POST pages::session::invitation::submit, ANYBODY; }
    "/phone/entry" { GET phone::entry::show, STAFF; }
    "/phone/photos/{photo}" { GET phone::photos::show, STAFF; POST phone::photos::submit, STAFF; }
    "/phone/session" { GET phone::session::show, ANYBODY; }
    "/phone/sync" { POST phone::sync::submit, STAFF; }
    "/phone/units" { GET phone::units::show, EVERYONE; }
    "/photos/{photo}" { GET pages::photo::show, EVERYONE; }
    "/phone/words/{language}.ftl" { GET phone::words::show, ANYBODY; }
    "/people" { GET pages::people::list::show, MANAGERS; }
    "/people/invite" { GET pages::people::invite::show, MANAGERS; POST pages::people::invite::submit, MANAGERS; }
    "/people/{person}" { GET pages::people::person::show, MANAGERS; }
    "/people/{person}/disable" { POST pages::people::person::disable, MANAGERS; }
    "/people/{person}/enable" { POST pages::people::person::enable, MANAGERS; }
    "/people/{person}/invite" { POST pages::people::person::invite_again, MANAGERS; }
    "/people/{person}/role" { POST pages::people::person::assign, MANAGERS; }
    "/reset" { GET pages::session::reset::show, ANYBODY; POST pages::session::reset::submit, ANYBODY; }
    "/reset/{token}" { GET pages::session::new_password::show, ANYBODY; POST pages::session::new_password::submit, ANYBODY; }
    "/setup/{token}" { GET pages::session::set_up::show, ANYBODY; POST pages::session::set_up::submit, ANYBODY; }
    "/packs/{pack}" { POST pages::schedules::pack::submit, MANAGERS; }
    "/schedules" { GET pages::schedules::list::show, MANAGERS; }
    "/schedules/new" { GET pages::schedules::new::show, MANAGERS; POST pages::schedules::new::submit, MANAGERS; }
    "/schedules/{schedule}" { GET pages::schedules::show::show, MANAGERS; }
    "/schedules/{schedule}/copy" { POST pages::schedules::copy::submit, MANAGERS; }
    "/schedules/{schedule}/edit" { GET pages::schedules::edit::show, MANAGERS; POST pages::schedules::edit::submit, MANAGERS; }
    "/schedules/{schedule}/undo" { POST pages::schedules::undo::submit, MANAGERS; }
    "/schedules/{schedule}/switch" { POST pages::schedules::switch::submit, MANAGERS; }
    "/sign-in" { GET pages::session::sign_in::show, ANYBODY; POST pages::session::sign_in::submit, ANYBODY; }
    "/sign-out" { POST pages::session::sign_out::submit, EVERYONE; }
    "/today" { GET pages::phone::shell::show, ANYBODY; }
    "/turnovers" { GET pages::turnovers::list::show, STAFF; }
    "/turnovers.csv" { GET pages::turnovers::csv::show, STAFF; }
    "/turnovers/new" { GET pages::turnovers::new::show, STAFF; POST pages::turnovers::new::submit, STAFF; }
    "/turnovers/{turnover}" { GET pages::turnovers::show, STAFF; }
    "/turnovers/{turnover}/advance" { POST pages::turnovers::advance::submit, STAFF; }
    "/turnovers/{turnover}/cancel" { POST pages::turnovers::cancel::submit, STAFF; }
    "/turnovers/{turnover}/close" { POST pages::turnovers::close::submit, STAFF; }
    "/turnovers/{turnover}/copy" { GET pages::turnovers::paper::copy, STAFF; }
    "/turnovers/{turnover}/copy.pdf" { GET pages::turnovers::paper::copy_as_pdf, STAFF; }
    "/turnovers/{turnover}/paper" { GET pages::turnovers::paper::show, STAFF; }
    "/turnovers/{turnover}/paper.pdf" { GET pages::turnovers::paper::as_pdf, STAFF; }
    "/turnovers/{turnover}/record" { POST pages::turnovers::record::submit, STAFF; }
    "/turnovers/{turnover}/waive" { POST pages::turnovers::waive::submit, MANAGERS; }
    "/units/{unit}/record" { GET pages::record::unit::show, STAFF; POST pages::record::unit::submit, STAFF; }
    "/units/{unit}/recorded" { GET pages::record::done::show, STAFF; }
    "/units/{unit}/report" { GET pages::deficiencies::report::show, STAFF; POST pages::deficiencies::report::submit, STAFF; }
    "/units/{unit}/now" { GET pages::visits::now::show, STAFF; POST pages::visits::now::submit, STAFF; }
    "/urgent" { GET pages::urgent::show::show, ANYBODY; POST pages::urgent::report::submit, STAFF; }
    "/urgent/edit" { GET pages::urgent::edit::show, MANAGERS; POST pages::urgent::edit::submit, MANAGERS; }
    "/visits" { GET pages::visits::list::show, STAFF; POST pages::visits::new::submit, STAFF; }
    "/visits/new" { GET pages::visits::new::show, STAFF; POST pages::visits::selection::submit, STAFF; }
    "/visits/{visit}" { GET pages::visits::show::show, STAFF; }
    "/visits/{visit}/cancel" { POST pages::visits::cancel::submit, STAFF; }
    "/visits/{visit}/done" { POST pages::visits::done::submit, STAFF; }
    "/worker.js" { GET pages::phone::worker::show, ANYBODY; }
    "/visits/{visit}/no-access" { POST pages::visits::no_access::submit, STAFF; }
    "/units/{unit}" { GET pages::units::show::show, STAFF; }
    "/units/{unit}/edit" { GET pages::units::edit::show, MANAGERS; POST pages::units::edit::submit, MANAGERS; }
    "/units/{unit}/fixtures/new" { GET pages::fixtures::new::show, MANAGERS; POST pages::fixtures::new::submit, MANAGERS; }
    "/units/{unit}/households/new" { GET pages::households::new::show, MANAGERS; POST pages::households::new::submit, MANAGERS; }
    "/units/{unit}/rooms" { GET pages::units::rooms::show, MANAGERS; POST pages::units::rooms::submit, MANAGERS; }
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
