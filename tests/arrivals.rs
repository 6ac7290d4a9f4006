//! What arrived late: the manager reads who did what and why it did not come in as usual, notes it, and nobody else sees it.

use anglestop::domain::register::TurnoverId;
use anglestop::domain::register::person::Scope;
use anglestop::store::Db;
use anglestop::store::lists::arrivals::{Which, page, unseen};
use diesel::RunQueryDsl as _;

use crate::support::on_both;
use crate::support::server::Server;
use crate::support::two_owners::{THEN, TwoOwners};

/// A late answer, kept as a result, of the first owner's unit.
fn late_answer(db: &Db, two: &TwoOwners) {
    let (unit, fixture) = (two.own.unit, two.own.fixture);
    let sent = format!(
        "{{\"kind\":\"answer\",\"fixture\":{fixture},\"check\":\"wc_base_dry\",\"outcome\":\"fail\",\"note\":\"wet at the left\"}}"
    );
    let query = format!(
        "INSERT INTO arrivals (client_id, phone_id, person_id, building_id, unit_id, result_id, cause, sentence, sent, done_at, received_at) \
         SELECT 'one', 'phone', {}, building_id, unit_id, id, 'reassigned', 'The visit is Spare Hand''s now.', '{sent}', \
         '2026-11-23 20:05:00', '2026-11-25 14:00:00' FROM results WHERE unit_id = {unit} ORDER BY id LIMIT 1",
        two.own.technician
    );
    let stored = db
        .write(|tx| Ok(diesel::sql_query(query).execute(&mut **tx)?))
        .unwrap();
    assert_eq!(stored, 1);
}

#[test]
fn the_manager_reads_what_came_late_and_notes_it() {
    on_both(|fleet| {
        let two = TwoOwners::plant(&fleet.db);
        late_answer(&fleet.db, &two);
        let server = Server::start(&fleet.db, THEN);
        let manager = server.holding(&two.held("manager").unwrap().token);
        let turnovers = manager.get("/turnovers").body;
        assert!(
            turnovers.contains("3 things that phones sent came late or could not be taken."),
            "{turnovers}"
        );
        assert!(turnovers.contains("href=\"/arrivals\""));
        let list = manager.get("/arrivals").body;
        for words in [
            "WC1, ",
            ": fail. “wet at the left”",
            "the unit was given to others",
            "The visit is Spare Hand&#39;s now.",
            "Tess Vale",
            // Chicago is six hours behind.
            "Mon 23 Nov, 14:05",
            "Wed 25 Nov, 08:00",
            "Closed and signed by signed",
            "the turnover was over",
        ] {
            assert!(list.contains(words), "{words}: {list}");
        }
        assert!(
            list.contains(&format!("href=\"/fixtures/{}#history\"", two.own.fixture)),
            "leads to the result"
        );

        let own = two.fill("/turnovers/{turnover}");
        let shown = manager.get(&own).body;
        assert!(
            shown.contains("1 thing that phones sent came late or could not be taken."),
            "{shown}"
        );
        let number = own.rsplit('/').next().unwrap();
        assert!(shown.contains(&format!("href=\"/arrivals?turnover={number}\"")));
        let of_turnover = manager.get(&format!("/arrivals?turnover={number}")).body;
        assert!(of_turnover.contains("Closed and signed") && !of_turnover.contains("wet at the left"));

        let noted = two.fill("/arrivals/{arrival}/noted");
        for _ in 0..2 {
            let done = manager.submit("/arrivals", &noted, &[("turnover", number)]);
            assert_eq!(
                (done.status, done.location),
                (303, format!("/arrivals?turnover={number}"))
            );
        }
        let counted =
            |turnover: Option<TurnoverId>| fleet.db.read(|conn| unseen(conn, &Scope::All, turnover)).unwrap();
        assert_eq!(counted(None), 2);
        assert_eq!(counted(Some(TurnoverId(number.parse().unwrap()))), 0);
        assert!(!manager.get(&own).body.contains("came late or could not"));
        assert!(
            !manager.get("/arrivals").body.contains("signed by signed<"),
            "noted"
        );
        let all = manager.get("/arrivals?show=all").body;
        assert!(
            all.contains("Closed and signed by signed") && all.contains(">noted<"),
            "{all}"
        );

        let technician = server.holding(&two.held("technician_assigned").unwrap().token);
        assert!(
            !technician.get("/turnovers").body.contains("/arrivals"),
            "for the manager alone"
        );
    });
}

#[test]
fn pages_of_arrivals_go_on_where_the_last_one_ended() {
    on_both(|fleet| {
        let two = TwoOwners::plant(&fleet.db);
        late_answer(&fleet.db, &two);
        let read = |which, after| {
            let lines = fleet
                .db
                .read(|conn| page(conn, &Scope::All, which, None, after, 2))
                .unwrap();
            lines.iter().map(|line| line.id).collect::<Vec<_>>()
        };
        let first = read(Which::Unseen, None);
        assert_eq!(first.len(), 2);
        let rest = read(Which::Unseen, first.last().copied());
        assert_eq!(rest.len(), 1);
        assert!(first < rest, "the oldest first");
        let latest = read(Which::All, None);
        assert_eq!(latest, [rest[0], first[1]], "all of them: the latest first");
        assert_eq!(read(Which::All, latest.last().copied()), [first[0]]);
        let own: Scope = Scope::Buildings(Default::default());
        assert_eq!(fleet.db.read(|conn| unseen(conn, &own, None)).unwrap(), 0);
    });
}
