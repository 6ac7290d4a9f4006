//! Sessions at the gate.

use diesel::RunQueryDsl as _;

use crate::support::on_both;
use crate::support::server::Server;

#[test]
fn a_page_of_the_office_leads_to_sign_in_and_opens_after_it() {
    on_both(|fleet| {
        fleet
            .db
            .write(|tx| {
                diesel::sql_query(
                    "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) \
                     VALUES ('Ola Brandt', 'ola@office.example', 'manager', 'active', 'UTC', 6, '2026-01-01 00:00:00')",
                )
                .execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        let server = Server::start(&fleet.db, "2026-11-25T09:00:00");
        let visitor = server.visitor();
        assert_eq!(visitor.get("/").location, "/sign-in");
        let manager = server.signed_in("manager");
        assert_eq!(manager.get("/").location, "/due");
        let without_token = manager.send("/sign-out", &[]);
        assert_eq!(without_token.status, 403);
    });
}
