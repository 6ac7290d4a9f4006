//! An invented fleet for tests that need a whole office: as of 25 November 2026, always the same.

use anglestop::actions::{demo, setup};
use anglestop::clock::Clock;
use anglestop::clock::Now;
use anglestop::demo::Scenario;
use anglestop::jobs::Clockwork;

use super::Fleet;
use super::server::Server;

/// The day of the fleet.
pub const AS_OF: &str = "2026-11-25";
/// An instant of that day at which it is the same day in all of its zones, UTC.
pub const AS_OF_INSTANT: &str = "2026-11-25T17:00:00";

/// Fills an empty database.
pub fn make(fleet: &Fleet, units: usize) {
    let now = Now(AS_OF_INSTANT.parse().unwrap());
    setup::prepare(&fleet.db, now).unwrap();
    let scenario = Scenario::new(units, 1, AS_OF.parse().unwrap()).unwrap();
    demo::make(&fleet.db, now, &scenario, |_, _| {}).unwrap();
}

/// Adds one of each thing that only work brings forth: a digest, an issued condition and a check of the office's own.
pub fn enliven(fleet: &Fleet, server: &Server) {
    let clockwork = Clockwork {
        db: fleet.db.clone(),
        clock: Clock::System,
        mailer: None,
        public_url: server.address.clone(),
    };
    clockwork.round(Now(AS_OF_INSTANT.parse().unwrap())).unwrap();
    let manager = server.signed_in("manager");
    let building = "ALDER-HOUSE";
    let issued = manager.submit(
        &format!("/condition/{building}"),
        &format!("/condition/{building}/issue"),
        &[("as_of", AS_OF)],
    );
    assert_eq!(issued.status, 303, "{}", issued.body);
    let copied = manager.submit("/checks/wc_seat", "/checks/wc_seat/copy", &[("code", "own_seat")]);
    assert_eq!(copied.status, 303, "{}", copied.body);
}
