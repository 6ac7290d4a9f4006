//! Pages about water and choice over requests, on both databases.

use anglestop::actions::water::{Measure, measure};
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::water::Method;

use crate::results::stage::{noon, of, stage};
use crate::support::on_both;
use crate::support::server::Server;

#[test]
fn a_choice_says_where_its_figures_come_from_and_takes_others() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let sink = stage.add(stage.unit, "lavatory", "Hall bath");
        let id = stage.opened("2026-11-24", of(sink, "faucet_sound", Outcome::Fail));
        let server = Server::start(&fleet.db, "2026-11-25T18:00:00");
        let manager = server.signed_in("manager");
        let page = manager.get(&format!("/deficiencies/{id}")).body;
        assert!(page.contains("Repair now") && page.contains("Wait until the next entry"));
        assert!(
            page.contains("what a moderate one usually costs")
                || page.contains("what a low one usually costs")
        );
        let own = manager
            .get(&format!("/deficiencies/{id}/choice?repair=80&replace=310.50"))
            .body;
        assert!(own.contains("310.50") && own.contains("Repair: as given here."));
        let wrong = manager.get(&format!("/deficiencies/{id}/choice?repair=80,5"));
        assert_eq!(wrong.status, 422, "{}", wrong.body);
        assert!(wrong.body.contains("is no amount"));
    });
}

#[test]
fn the_lists_add_up_the_open_leaks_of_what_may_be_seen() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let sink = stage.add(stage.unit, "lavatory", "Hall bath");
        let id = stage.opened("2026-11-24", of(sink, "faucet_sound", Outcome::Fail));
        let server = Server::start(&fleet.db, "2026-11-25T18:00:00");
        let manager = server.signed_in("manager");
        let before = manager.get("/deficiencies").body;
        assert!(before.contains("1 leak is not measured."), "{before}");
        let command = Measure {
            deficiency: id,
            method: Method::Drips,
            typed: vec![("per_minute".to_owned(), "60".to_owned())],
        };
        measure(&fleet.db, &stage.technician, noon("2026-11-24"), &command).unwrap();
        let after = manager.get("/deficiencies").body;
        assert!(
            after.contains("1 measured leak loses 8.6 gal (33 L) a day."),
            "{after}"
        );
        let building = manager.get("/buildings/ALDER/water").body;
        assert!(building.contains("10,000 drips a gallon") && building.contains("No price of water"));
    });
}
