//! What comes late: after its turnover was closed, its unit given to others, its fixture replaced. Nothing is dropped, and the manager sees
//! it. Of two answers the later done counts, whichever came first.

use anglestop::actions::people::account::set_language_of;
use anglestop::actions::register::replace_fixture;
use anglestop::actions::results::{RecordResults, record};
use anglestop::domain::code::Coded as _;
use anglestop::domain::register::person::Actor;
use anglestop::domain::register::person::Role;
use anglestop::domain::register::{DeficiencyId, FixtureText};
use anglestop::domain::result::{DeficiencyStatus, Outcome};
use anglestop::domain::trade::TurnoverStage;
use serde_json::{Value, json};

use super::stage::{Phone, Site, batch, id, id_of, merge, op, states, told};
use crate::results::stage::noon;
use crate::support::{Fleet, on_both};

/// The turnover stands ready, everything passed.
fn ready(site: &Site) {
    let flat = &site.flat;
    flat.pass(site.turnover, "2026-02-03", TurnoverStage::Found);
    flat.step(site.turnover, "2026-02-03").unwrap();
    flat.pass(site.turnover, "2026-02-03", TurnoverStage::Ready);
    flat.step(site.turnover, "2026-02-03").unwrap();
    flat.pass(site.turnover, "2026-02-03", TurnoverStage::MoveIn);
}

#[test]
fn of_two_phones_the_later_done_counts_whichever_arrives_first() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let (one, other) = (site.phone(), site.phone());
        let passed = site.tank("2026-02-03T17:40:00.000Z");
        let failed = site.answer(
            "2026-02-03T17:50:00.000Z",
            "wc_tank_firm",
            "found",
            json!({"outcome": "fail"}),
        );
        // The later done arrives first.
        assert_eq!(states(&other.send(&site, &[failed])), ["kept"]);
        let told = one.send(&site, &[passed]);
        assert_eq!(states(&told), ["kept"], "{told:?}");
        let survey = site.survey();
        let item = survey
            .list
            .items
            .iter()
            .find(|item| item.check.code.as_str() == "wc_tank_firm");
        let answers = &item.unwrap().answers;
        let outcomes: Vec<Outcome> = answers.iter().map(|answer| answer.entry.outcome).collect();
        assert_eq!(
            outcomes,
            [Outcome::Pass, Outcome::Fail],
            "both are kept, the later done last"
        );
        assert_eq!(
            site.flat.small.deficiency(DeficiencyId(1)).status,
            DeficiencyStatus::Open
        );
    });
}

#[test]
fn what_two_phones_did_in_the_same_instant_goes_by_their_ids() {
    let at = "2026-02-03T17:50:00.000Z";
    for first in [0, 1] {
        on_both(|fleet| {
            let site = Site::open(fleet);
            let fails = site.answer(at, "wc_tank_firm", "found", json!({"outcome": "fail"}));
            let passes = site.tank(at);
            assert!(id_of(&fails) < id_of(&passes));
            let mut order = [fails, passes];
            order.rotate_left(first);
            for one in order {
                assert_eq!(states(&site.phone().send(&site, &[one])), ["kept"]);
            }
            let survey = site.survey();
            let item = survey
                .list
                .items
                .iter()
                .find(|item| item.check.code.as_str() == "wc_tank_firm");
            let last = item.unwrap().last().unwrap();
            assert_eq!(
                last.entry.outcome,
                Outcome::Pass,
                "the greater id counts, sent as {first}"
            );
            let open = survey.deficiencies.iter().filter(|one| one.stands()).count();
            assert_eq!(open, 0, "what the smaller one failed is right, sent as {first}");
        });
    }
}

#[test]
fn an_answer_after_the_closing_is_a_result_of_the_unit_and_the_record_stays() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        phone.fetch();
        ready(&site);
        let paper = site.flat.close(site.turnover, "2026-02-03").unwrap();
        site.at("2026-02-04T09:00:00");
        let answer = site.answer(
            "2026-02-03T18:05:00.000Z",
            "wc_bowl_firm",
            "found",
            json!({"outcome": "fail"}),
        );
        let told = phone.send(&site, std::slice::from_ref(&answer));
        assert_eq!(states(&told), ["late"], "{told:?}");
        assert!(
            told[0]
                .1
                .starts_with("The turnover was closed before this came in."),
            "{told:?}"
        );
        let kept = site.result(id_of(&answer)).unwrap();
        assert_eq!((kept.turnover, kept.outcome), (None, Outcome::Fail));
        assert_eq!(kept.done_at.to_string(), "2026-02-03 18:05:00");
        let arrival = site.arrival(id_of(&answer)).unwrap();
        assert_eq!(
            (arrival.cause.code(), arrival.turnover),
            ("turnover_over", Some(site.turnover))
        );
        assert!(arrival.result.is_some());
        // Its signature is kept too, and the turnover stays as it was signed.
        let close = op(
            "close",
            "2026-02-03T18:06:00.000Z",
            json!({"turnover": site.turnover.0, "name": "R. V.", "signature": "M1 2L3 4"}),
        );
        let told = phone.send(&site, std::slice::from_ref(&close));
        assert_eq!(states(&told), ["late"], "{told:?}");
        assert!(site.arrival(id_of(&close)).unwrap().sent.contains("M1 2L3 4"));
        let survey = site.survey();
        assert_eq!(
            (
                survey.turnover.signed_name.as_str(),
                survey.turnover.signature.as_str()
            ),
            ("Rosa Vance", "")
        );
        assert_eq!(survey.turnover.closed_at, Some(paper.issued_at));
        assert_eq!(
            states(&phone.send(&site, &[answer, close])),
            ["late", "late"],
            "the same again"
        );
        assert_eq!(site.count("arrivals"), 2);
        let rosa = site.flat.small.technician.person.unwrap();
        let now = site.server.clock.now();
        set_language_of(&fleet.db, &Actor::operator(), now, rosa, "es").unwrap();
        let again = site.answer(
            "2026-02-03T18:07:00.000Z",
            "wc_bowl_firm",
            "found",
            json!({"outcome": "pass"}),
        );
        assert_eq!(
            site.phone().send(&site, &[again])[0].1,
            "El cambio de inquilino se cerró antes de que esto llegara. Se guardó como resultado de la unidad, y el administrador ve que \
             llegó tarde."
        );
    });
}

#[test]
fn a_turnover_is_closed_from_a_phone_with_its_signature_and_time() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let mut phone = site.phone();
        ready(&site);
        phone.ahead = chrono::TimeDelta::hours(2);
        site.at("2026-02-03T20:00:00");
        let named = |signature: &str| {
            op(
                "close",
                "2026-02-03T21:30:00.000Z",
                json!({"turnover": site.turnover.0, "name": "Rosa Vance", "signature": signature}),
            )
        };
        let told = phone.send(&site, &[named("M1 2\"><script>")]);
        assert_eq!(states(&told), ["attention"], "{told:?}");
        let close = named("M10 20L30.5 40M1 1L2 2");
        assert_eq!(states(&phone.send(&site, std::slice::from_ref(&close))), ["kept"]);
        let turnover = site.survey().turnover;
        assert_eq!(
            (turnover.stage.code(), turnover.signature.as_str()),
            ("moved_in", "M10 20L30.5 40M1 1L2 2")
        );
        assert_eq!(turnover.signed_at.unwrap().to_string(), "2026-02-03 19:30:00");
        assert_eq!(states(&phone.send(&site, &[close])), ["already"]);
        assert_eq!(site.count("documents"), 1);
    });
}

#[test]
fn a_step_that_is_kept_back_says_why_and_may_come_again() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let step = op(
            "advance",
            "2026-02-03T17:50:00.000Z",
            json!({"turnover": site.turnover.0, "to": "repaired"}),
        );
        let told = phone.send(&site, std::slice::from_ref(&step));
        assert_eq!(states(&told), ["attention"]);
        assert!(told[0].1.starts_with("Not repaired yet."), "{told:?}");
        assert_eq!(
            site.count("arrivals"),
            0,
            "what is missing is on the list; nothing is lost"
        );
        site.flat.pass(site.turnover, "2026-02-03", TurnoverStage::Found);
        assert_eq!(states(&phone.send(&site, std::slice::from_ref(&step))), ["kept"]);
        assert_eq!(states(&phone.send(&site, &[step])), ["already"]);
    });
}

fn reassigned(fleet: &Fleet) -> (Site, Phone, Vec<Value>) {
    let site = Site::open(fleet);
    let phone = site.phone();
    phone.fetch();
    site.flat.small.send_the_technician_elsewhere();
    let answer = site.tank("2026-02-03T17:50:00.000Z");
    let report = op(
        "report",
        "2026-02-03T17:51:00.000Z",
        json!({"place": null, "title": "Door sticks", "severity": "", "note": ""}),
    );
    (site, phone, vec![answer, report])
}

#[test]
fn what_was_done_in_a_unit_that_was_given_to_others_is_heard_from_the_phone_that_had_it() {
    on_both(|fleet| {
        let (site, phone, ops) = reassigned(fleet);
        let told = phone.send(&site, &ops);
        assert_eq!(states(&told), ["late", "late"], "{told:?}");
        let kept = site.result(id_of(&ops[0])).unwrap();
        assert_eq!(kept.turnover.map(|(turnover, _)| turnover), Some(site.turnover));
        for one in &ops {
            assert_eq!(site.arrival(id_of(one)).unwrap().cause.code(), "reassigned");
        }
        assert_eq!(
            states(&phone.send(&site, &ops)),
            ["late", "late"],
            "the same again"
        );
        assert_eq!((site.count("results"), site.count("arrivals")), (1, 2));
        assert!(
            phone.fetch()["units"].as_array().unwrap().is_empty(),
            "and nothing more is read there"
        );
    });
}

#[test]
fn a_stranger_who_never_had_the_unit_puts_nothing_there_and_learns_nothing() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        site.flat.small.send_the_technician_elsewhere();
        let phone = site.phone();
        let at = "2026-02-03T17:50:00.000Z";
        let answer = site.tank(at);
        let mut nowhere = site.tank(at);
        nowhere["fixture"] = json!(999_999);
        let ops = [
            answer,
            nowhere,
            op(
                "word",
                at,
                json!({"deficiency": 1, "outcome": "pass", "reason": "", "note": ""}),
            ),
            op(
                "advance",
                at,
                json!({"turnover": site.turnover.0, "to": "repaired"}),
            ),
            op(
                "photo",
                at,
                json!({"of": id().to_string(), "sha256": "ab".repeat(32), "bytes": 9}),
            ),
        ];
        let told = phone.send(&site, &ops);
        assert_eq!(states(&told), ["attention"; 5], "{told:?}");
        assert_eq!(
            told[0].1, told[1].1,
            "a fixture that is there and one that is not are told alike"
        );
        let rows =
            ["results", "arrivals", "photos", "phone_steps", "phone_units"].map(|table| site.count(table));
        assert_eq!(rows, [0; 5]);
        // Word for word in the audit trail, so that it is not lost either.
        let noted = site.flat.db().read(|conn| {
            #[derive(diesel::QueryableByName)]
            struct Kept {
                #[diesel(sql_type = diesel::sql_types::Text)]
                after_json: String,
            }
            use diesel::RunQueryDsl as _;
            let rows: Vec<Kept> =
                diesel::sql_query("SELECT after_json FROM audit WHERE action = 'phone_refused' ORDER BY id")
                    .load(conn)?;
            Ok(rows.into_iter().map(|row| row.after_json).collect::<Vec<_>>())
        });
        let noted = noted.unwrap();
        assert_eq!(noted.len(), 5);
        assert_eq!(serde_json::from_str::<Value>(&noted[0]).unwrap(), ops[0]);
    });
}

#[test]
fn an_answer_about_a_fixture_that_was_replaced_is_kept_on_the_old_one_when_it_was_done_before() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let fetched = phone.fetch();
        let fetched_at = fetched["now"].as_str().unwrap();
        let refill = site.answer(
            "2026-02-03T18:30:00.000Z",
            "wc_refill",
            "found",
            json!({"part": "fill_valve", "reading": "4 min"}),
        );
        let command = replace_fixture::ReplaceFixture {
            on: "2026-02-04".to_owned(),
            text: FixtureText::default(),
            ..Default::default()
        };
        let small = &site.flat.small;
        let new = replace_fixture::replace(
            &small.db,
            &small.manager,
            noon("2026-02-04"),
            site.flat.closet,
            &command,
        )
        .unwrap();
        site.at("2026-02-05T18:00:00");
        let told = phone.send_since(&site, Some(fetched_at), std::slice::from_ref(&refill));
        assert_eq!(states(&told), ["late"], "{told:?}");
        let kept = site.result(id_of(&refill)).unwrap();
        assert_eq!((kept.fixture, kept.outcome), (site.flat.closet, Outcome::Fail));
        assert_ne!(kept.fixture, new);
        assert_eq!(site.arrival(id_of(&refill)).unwrap().cause.code(), "replaced");
        assert_eq!(
            site.count("deficiencies"),
            0,
            "what was wrong went with the old one"
        );
        // Done after it was gone: nobody can have seen that.
        let after = site.tank("2026-02-05T17:00:00.000Z");
        let told = phone.send_since(&site, Some(fetched_at), std::slice::from_ref(&after));
        assert_eq!(states(&told), ["attention"], "{told:?}");
        assert!(
            told[0]
                .1
                .contains("it was replaced on 2026-02-04, and this was done on 2026-02-05"),
            "{told:?}"
        );
        assert!(site.result(id_of(&after)).is_none() && site.arrival(id_of(&after)).is_some());
    });
}

#[test]
fn a_repair_counts_from_when_it_was_made_and_a_later_failure_stands() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let fails = |at: &str| site.answer(at, "wc_tank_firm", "found", json!({"outcome": "fail"}));
        let passes = |at: &str| site.answer(at, "wc_tank_firm", "ready", json!({"outcome": "pass"}));
        let mends = |at: &str| {
            op(
                "repaired",
                at,
                json!({"deficiency": 1, "of": null, "parts": "bolts", "minutes": 10, "note": ""}),
            )
        };
        let first = fails("2026-02-03T17:10:00.000Z");
        let repaired = mends("2026-02-03T17:20:00.000Z");
        let again = fails("2026-02-03T17:30:00.000Z");
        // The failure after the repair arrives before it.
        assert_eq!(
            states(&site.phone().send(&site, &[first, again])),
            ["kept", "kept"]
        );
        assert_eq!(states(&site.phone().send(&site, &[repaired])), ["kept"]);
        let one = site.flat.small.deficiency(DeficiencyId(1));
        assert_eq!((one.status, one.repaired_at), (DeficiencyStatus::Open, None));
        // Mended once more and looked at again, all before it was sent.
        let ops = [
            mends("2026-02-03T17:40:00.000Z"),
            passes("2026-02-03T17:45:00.000Z"),
        ];
        assert_eq!(states(&site.phone().send(&site, &ops)), ["kept", "kept"]);
        let one = site.flat.small.deficiency(DeficiencyId(1));
        assert_eq!(one.status, DeficiencyStatus::Closed);
        assert_eq!(one.closed_at.unwrap().to_string(), "2026-02-03 17:45:00");
    });
}

#[test]
fn a_phones_clock_is_put_right_and_kept_between_fetching_and_receipt() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let fetched_at = "2026-02-03T18:00:00.000Z";
        site.at("2026-02-03T20:00:00");
        for (ahead, at, wanted) in [
            (
                chrono::TimeDelta::hours(2),
                "2026-02-03T21:10:00.000Z",
                "2026-02-03 19:10:00",
            ),
            (
                chrono::TimeDelta::hours(-2),
                "2026-02-03T17:10:00.000Z",
                "2026-02-03 19:10:00",
            ),
            (
                chrono::TimeDelta::days(-9 * 365),
                "2017-02-05T19:10:00.000Z",
                "2026-02-03 19:10:00",
            ),
            (
                chrono::TimeDelta::zero(),
                "2026-02-03T23:59:00.000Z",
                "2026-02-03 20:00:00",
            ),
            (
                chrono::TimeDelta::zero(),
                "2001-01-01T00:00:00.000Z",
                "2026-02-03 18:00:00",
            ),
        ] {
            let mut phone = site.phone();
            phone.ahead = ahead;
            let answer = site.tank(at);
            let told = phone.send_since(&site, Some(fetched_at), std::slice::from_ref(&answer));
            assert_eq!(states(&told), ["kept"], "{told:?}");
            assert_eq!(
                site.result(id_of(&answer)).unwrap().done_at.to_string(),
                wanted,
                "{ahead} {at}"
            );
        }
    });
}

#[test]
fn what_a_phone_did_later_never_lies_before_what_it_did_earlier() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        site.at("2026-02-03T20:00:00");
        let mut phone = site.phone();
        phone.fetch();
        let (first, second) = (
            site.tank("2026-02-03T19:59:50.000Z"),
            site.tank("2026-02-03T19:59:51.000Z"),
        );
        // The first batch was three seconds on its way, the second no time at all.
        site.at("2026-02-03T20:00:10");
        phone.ahead = chrono::TimeDelta::seconds(-3);
        assert_eq!(states(&phone.send(&site, std::slice::from_ref(&first))), ["kept"]);
        phone.ahead = chrono::TimeDelta::zero();
        assert_eq!(
            states(&phone.send(&site, std::slice::from_ref(&second))),
            ["kept"]
        );
        let done_at = |op| site.result(id_of(op)).unwrap().done_at.to_string();
        assert_eq!(done_at(&first), "2026-02-03 19:59:53");
        assert_eq!(done_at(&second), "2026-02-03 19:59:53", "not before the first");
        let survey = site.survey();
        let asked = survey
            .list
            .items
            .iter()
            .find(|item| item.answers.len() == 2)
            .unwrap();
        assert_eq!(
            asked.last().unwrap().entry.client_id,
            id_of(&second),
            "the later counts"
        );
    });
}

#[test]
fn an_answer_is_judged_by_the_procedure_that_was_asked() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let asked = site.survey();
        let asked = asked
            .list
            .items
            .iter()
            .find(|item| item.check.code.as_str() == "wc_tank_firm")
            .unwrap();
        let version = asked.check.version;
        site.flat
            .db()
            .write(|tx| {
                let stored = anglestop::store::checks::by_code(tx, "wc_tank_firm")?.unwrap();
                let mut check = (*stored.check).clone();
                check.version += 1;
                check.title = "Tank, once more".to_owned();
                anglestop::store::checks::update(tx, noon("2026-02-03"), stored.id, &check)
            })
            .unwrap();
        let mut answer = site.tank("2026-02-03T17:50:00.000Z");
        merge(&mut answer, json!({"version": version}));
        assert_eq!(
            states(&site.phone().send(&site, std::slice::from_ref(&answer))),
            ["kept"]
        );
        assert_eq!(
            site.result(id_of(&answer)).unwrap().check_version,
            i64::from(version)
        );
    });
}

#[test]
fn a_visit_is_closed_from_a_phone_once_and_stays_as_it_was_closed() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let small = &site.flat.small;
        small.add(small.hall, "water_closet", "Lobby");
        let visit =
            anglestop::actions::visits::start(&small.db, &small.technician, noon("2026-02-03"), small.hall)
                .unwrap()
                .visit;
        let phone = site.phone();
        let at = "2026-02-03T17:50:00.000Z";
        let attempt = op(
            "no_access",
            at,
            json!({"visit": visit.0, "reason": "key", "text": ""}),
        );
        assert_eq!(
            states(&phone.send(&site, std::slice::from_ref(&attempt))),
            ["kept"]
        );
        let missed = site.count("results");
        assert!(missed > 0, "each check has its attempt");
        let done = op("visit_done", at, json!({"visit": visit.0}));
        let told = phone.send(&site, &[attempt, done.clone()]);
        assert_eq!(states(&told), ["already", "late"], "{told:?}");
        assert_eq!(site.count("results"), missed);
        assert_eq!(site.arrival(id_of(&done)).unwrap().cause.code(), "reassigned");
    });
}

/// What is recorded on a page in the same second stands as before: in the order of recording.
#[test]
fn answers_of_a_page_keep_their_order_of_recording() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let small = &site.flat.small;
        for outcome in [Outcome::Fail, Outcome::Pass] {
            let batch = RecordResults {
                answers: vec![crate::results::stage::of(
                    site.flat.closet,
                    "wc_tank_firm",
                    outcome,
                )],
                ..RecordResults::default()
            };
            record(&small.db, &small.technician, noon("2026-02-03"), &batch).unwrap();
        }
        assert_eq!(small.deficiency(DeficiencyId(1)).status, DeficiencyStatus::Closed);
    });
}

#[test]
fn an_owner_sends_nothing() {
    let fleet = crate::support::sqlite();
    let site = Site::open(&fleet);
    let manager = site.phone_of(site.flat.small.manager.person.unwrap(), Role::Manager);
    let answer = manager.send_raw(
        &site,
        id(),
        &batch(&site, None, &[site.tank("2026-02-03T17:50:00.000Z")]),
    );
    assert_eq!(states(&told(&answer)), ["kept"], "a manager may");
}
