//! The due list as people read it: its rows, filters, pages, counts and file are exactly the due rows, each building on its own date.
//! And the pages of schedules and checks, by what a manager does there.

mod calendars;
mod catalogue;
mod fleet;
mod list;
mod moved;
mod schedules;
mod told;

use diesel::RunQueryDsl as _;

use crate::support::Fleet;
use crate::support::server::{Browser, Server};

/// When the pages are looked at, UTC.
const NOW: &str = "2026-11-25T18:00:00";

fn manager(fleet: &Fleet, server: &Server) -> Browser {
    fleet
        .db
        .write(|tx| {
            diesel::sql_query(
                "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) \
                 VALUES ('Ola Brandt', 'ola@office.example', 'manager', 'active', 'America/Chicago', 6, '2026-01-01 00:00:00')",
            )
            .execute(&mut **tx)?;
            Ok(())
        })
        .unwrap();
    server.signed_in("manager")
}
