//! A batch comes in once, however often it is sent; one that can't be taken as it is is kept word for word.

use anglestop::domain::code::Coded as _;
use anglestop::domain::register::person::{Role, Scope};
use anglestop::domain::result::{DeficiencyStatus, Outcome};
use anglestop::store::{outbox, phones, urgent};
use serde_json::{Value, json};

use super::stage::{Site, batch, id, id_of, op, states, told};
use crate::support::on_both;

/// What a page of version 1 had in its queue: never edited, since such pages lie about on phones.
const OLD_QUEUE: &str = include_str!("queue_v1.json");

#[test]
fn the_queue_of_an_old_page_is_understood() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        site.at("2026-02-03T19:00:00");
        let answer = site.phone().send_raw(&site, id(), OLD_QUEUE);
        assert_eq!(answer.status, 200, "{}", answer.body);
        let told = told(&answer);
        let wanted = [
            "kept",
            "kept",
            "kept",
            "kept",
            "kept",
            "kept",
            "kept",
            "kept",
            "attention",
            "attention",
            "attention",
        ];
        assert_eq!(states(&told), wanted, "{told:?}");
        assert!(told[8].1.starts_with("Not repaired yet."), "{told:?}");
        let failed = site
            .result("01942000-0000-7000-8000-000000000002".parse().unwrap())
            .unwrap();
        assert_eq!(
            (failed.outcome, failed.note.as_str()),
            (Outcome::Fail, "rocks on the bowl")
        );
        assert_eq!(failed.done_at.to_string(), "2026-02-03 18:32:10.500");
        let missed = site
            .result("01942000-0000-7000-8000-000000000004".parse().unwrap())
            .unwrap();
        assert_eq!(missed.reason, "Water, power or gas is off: riser shut");
        assert_eq!(site.count("results"), 4);
        assert_eq!(site.count("photos"), 1);
        let one = site
            .flat
            .small
            .deficiency(anglestop::domain::register::DeficiencyId(1));
        assert_eq!(one.status, DeficiencyStatus::Repaired);
        assert_eq!(one.repaired_at.unwrap().to_string(), "2026-02-03 18:40:00");
        // A step of another time and a kind that nobody knows: kept word for word.
        let kept = site
            .arrival("01942000-0000-7000-8000-00000000000b".parse().unwrap())
            .unwrap();
        assert!(
            kept.sent.contains("\"kind\":\"sing\"") && kept.sent.contains("la la"),
            "{kept:?}"
        );
    });
}

#[test]
fn a_batch_that_is_sent_three_times_is_taken_once_and_answered_alike() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let fails = site.answer(
            "2026-02-03T18:00:00.000Z",
            "wc_tank_firm",
            "found",
            json!({"outcome": "fail"}),
        );
        let repaired = op(
            "repaired",
            "2026-02-03T18:00:01.000Z",
            json!({"deficiency": null, "of": fails["id"], "parts": "bolts"}),
        );
        let report = op(
            "report",
            "2026-02-03T18:00:02.000Z",
            json!({"place": null, "title": "Door sticks", "severity": "", "note": ""}),
        );
        let photo = op(
            "photo",
            "2026-02-03T18:00:03.000Z",
            json!({"of": fails["id"], "sha256": "ab".repeat(32), "bytes": 9}),
        );
        let body = batch(&site, None, &[fails, repaired, report, photo]);
        let key = id();
        let first = phone.send_raw(&site, key, &body);
        let rows = |site: &Site| -> Vec<i64> {
            let tables = [
                "results",
                "deficiencies",
                "deficiency_events",
                "photos",
                "phone_steps",
                "arrivals",
            ];
            tables.iter().map(|table| site.count(table)).collect()
        };
        let before = rows(&site);
        assert_eq!(states(&told(&first)), ["kept"; 4], "{}", first.body);
        for minute in ["18:01", "18:02"] {
            site.at(&format!("2026-02-03T{minute}:00"));
            assert_eq!(phone.send_raw(&site, key, &body).body, first.body);
        }
        // Under another key, with another reading of the clock: each op is known by its own id.
        let again = phone.send_raw(&site, id(), &body);
        assert_eq!(states(&told(&again)), ["already"; 4], "{}", again.body);
        assert_eq!(rows(&site), before);
        // The same key with another body.
        let other = batch(&site, None, &[site.tank("2026-02-03T18:00:09.000Z")]);
        let refused = phone.send_raw(&site, key, &other);
        assert_eq!(refused.status, 422, "{}", refused.body);
        assert_eq!(refused.headers["content-type"], "application/problem+json");
        assert_eq!(rows(&site), before);
    });
}

#[test]
fn while_a_batch_is_worked_on_the_same_key_waits_and_one_that_broke_off_is_taken_up() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let body = batch(&site, None, &[site.tank("2026-02-03T17:59:00.000Z")]);
        let key = id();
        let sum = anglestop::store::documents::sha256_of(body.as_bytes());
        let person = site.flat.small.technician.person.unwrap();
        let now = site.server.clock.now().0;
        site.flat
            .db()
            .write(|tx| phones::begin(tx, key, person, &sum, now))
            .unwrap();
        let waits = phone.send_raw(&site, key, &body);
        assert_eq!(waits.status, 409, "{}", waits.body);
        let seconds: u64 = waits.headers["retry-after"].to_str().unwrap().parse().unwrap();
        assert!((1..=20).contains(&seconds), "{seconds}");
        assert_eq!(site.count("results"), 0);
        site.at("2026-02-03T18:00:21");
        let taken = phone.send_raw(&site, key, &body);
        assert_eq!((taken.status, states(&told(&taken))), (200, vec!["kept"]));
    });
}

#[test]
fn a_session_that_ended_keeps_nothing_out_once_there_is_a_new_one() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let mut phone = site.phone();
        let (key, body) = (id(), batch(&site, None, &[site.tank("2026-02-03T17:59:00.000Z")]));
        let owner = phone.browser.send("/sign-out", &[("csrf", &phone.csrf)]);
        assert_eq!(owner.status, 303);
        let refused = phone.send_raw(&site, key, &body);
        assert_eq!(refused.status, 401, "{}", refused.body);
        assert_eq!(refused.headers["content-type"], "application/problem+json");
        for address in ["/phone/session", "/phone/units", "/phone/entry"] {
            let answer = phone.browser.get(address);
            assert_eq!((answer.status, answer.location.as_str()), (401, ""), "{address}");
            assert_eq!(answer.headers["content-type"], "application/problem+json");
        }
        let held = site.held(site.flat.small.technician.person.unwrap(), Role::Technician);
        let old = std::mem::replace(&mut phone.csrf, held.csrf);
        phone.browser = site.server.holding(&held.token);
        let told_session: Value = serde_json::from_str(&phone.browser.get("/phone/session").body).unwrap();
        assert_eq!(told_session["csrf"], phone.csrf.as_str());
        assert_eq!(told_session["person"]["name"], "Rosa Vance");
        let new = std::mem::replace(&mut phone.csrf, old);
        assert_eq!(
            phone.send_raw(&site, key, &body).status,
            403,
            "the token is the new session's"
        );
        phone.csrf = new;
        assert_eq!(states(&told(&phone.send_raw(&site, key, &body))), ["kept"]);
    });
}

#[test]
fn what_can_not_be_read_at_all_keeps_nothing() {
    let fleet = crate::support::sqlite();
    let site = Site::open(&fleet);
    let phone = site.phone();
    let cases = [
        ("{", 400),
        ("[]", 400),
        (r#"{"v":2,"unit":1,"ops":[]}"#, 400),
        (r#"{"v":1,"unit":1,"ops":[{"kind":"answer"}]}"#, 400),
        (r#"{"v":1,"unit":null,"fetched_at":null,"ops":[]}"#, 200),
    ];
    for (body, status) in cases {
        assert_eq!(phone.send_raw(&site, id(), body).status, status, "{body}");
    }
    let many: Vec<Value> = (0..101).map(|_| site.tank("2026-02-03T17:59:00.000Z")).collect();
    assert_eq!(
        phone.send_raw(&site, id(), &batch(&site, None, &many)).status,
        400
    );
    let large = format!(
        r#"{{"v":1,"unit":1,"ops":[],"padding":"{}"}}"#,
        "x".repeat(1 << 20)
    );
    assert_eq!(phone.send_raw(&site, id(), &large).status, 413);
    assert_eq!(
        site.count("results") + site.count("arrivals") + site.count("phone_steps"),
        0
    );
}

#[test]
fn one_op_that_needs_attention_holds_up_none_after_it() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let at = "2026-02-03T17:59:00.000Z";
        let unread = site.answer(
            at,
            "wc_refill",
            "found",
            json!({"part": "fill_valve", "reading": "quite long"}),
        );
        let ops = [unread.clone(), site.tank(at)];
        let told = site.phone().send(&site, &ops);
        assert_eq!(states(&told), ["attention", "kept"], "{told:?}");
        let kept = site.arrival(id_of(&unread)).unwrap();
        assert_eq!(kept.cause.code(), "refused");
        assert_eq!(serde_json::from_str::<Value>(&kept.sent).unwrap(), unread);
        assert_eq!(kept.sentence, told[0].1);
        assert_eq!(kept.turnover, Some(site.turnover));
        // The same again says the same and is kept once.
        let again = site.phone().send(&site, &ops);
        assert_eq!(states(&again), ["attention", "already"], "{again:?}");
        assert_eq!(site.count("arrivals"), 1);
    });
}

#[test]
fn an_id_that_is_taken_by_somebody_else_is_not_overwritten_and_not_explained() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let at = "2026-02-03T17:59:00.000Z";
        let mine = site.tank(at);
        assert_eq!(
            states(&site.phone().send(&site, std::slice::from_ref(&mine))),
            ["kept"]
        );
        let manager = site.phone_of(site.flat.small.manager.person.unwrap(), Role::Manager);
        let told = manager.send(&site, std::slice::from_ref(&mine));
        assert_eq!(states(&told), ["attention"], "{told:?}");
        assert_eq!(
            site.result(id_of(&mine)).unwrap().person,
            site.flat.small.technician.person
        );
    });
}

#[test]
fn an_emergency_said_without_signal_comes_in_once_and_is_mailed() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        phone.fetch();
        let gas = op(
            "urgent",
            "2026-02-03T18:30:00.000Z",
            json!({"emergency": "gas", "building": null, "note": "x".repeat(1200)}),
        );
        let nowhere = op(
            "urgent",
            "2026-02-03T18:31:00.000Z",
            json!({"emergency": "sewage", "building": 999, "note": ""}),
        );
        site.at("2026-02-03T21:00:00");
        for _ in 0..2 {
            let told = phone.send(&site, &[gas.clone(), nowhere.clone()]);
            assert!(
                told.iter()
                    .all(|(state, _)| matches!(state.as_str(), "kept" | "already")),
                "{told:?}"
            );
        }
        let latest = site
            .flat
            .db()
            .read(|conn| urgent::latest(conn, &Scope::All, 10))
            .unwrap();
        let [sewage, gas] = &latest[..] else {
            panic!("{latest:?}");
        };
        assert_eq!(
            gas.unit.as_ref().unwrap().0,
            site.unit(),
            "the unit that the phone was in"
        );
        assert_eq!(gas.note.len(), 1000);
        assert!(gas.said_at < gas.received_at, "{gas:?}");
        assert_eq!(
            sewage.building, None,
            "no building of that number is no reason to keep nothing"
        );
        let mails = site.flat.db().read(|conn| outbox::list(conn, None, 50)).unwrap();
        let records = mails
            .iter()
            .filter(|mail| mail.subject.starts_with("For the record"));
        assert_eq!(records.count(), 2, "one manager, two reports");
    });
}
