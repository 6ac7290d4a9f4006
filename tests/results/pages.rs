//! The pages of recording and of deficiencies, as a technician's browser sees them without a script.

use scraper::{Html, Selector};

use super::stage::{Stage, noon, of, stage};
use crate::support::on_both;
use crate::support::server::{Browser, Server};
use anglestop::domain::register::{DeficiencyId, FixtureId};
use anglestop::domain::result::{DeficiencyStatus, Outcome};

/// Noon in Chicago on the day before Thanksgiving, as the server's clock has it.
const NOW: &str = "2026-11-25T18:00:00";

fn served(fleet: &crate::support::Fleet) -> (Stage, Server) {
    let stage = stage(&fleet.db);
    let server = Server::start(&fleet.db, NOW);
    (stage, server)
}

fn texts(page: &Html, selector: &str) -> Vec<String> {
    page.select(&Selector::parse(selector).unwrap())
        .map(|element| {
            element
                .text()
                .collect::<Vec<_>>()
                .join(" ")
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect()
}

fn values(page: &Html, selector: &str) -> Vec<String> {
    page.select(&Selector::parse(selector).unwrap())
        .map(|element| element.attr("value").unwrap_or_default().to_owned())
        .collect()
}

/// The questions of a page: number, group, check, and whether a figure is asked.
fn asks(page: &Html) -> Vec<(String, String, String, bool)> {
    values(page, "input[name=ask]")
        .iter()
        .map(|key| {
            let words: Vec<&str> = key.split(' ').collect();
            (
                words[0].to_owned(),
                words[1].to_owned(),
                words[5].to_owned(),
                words[6] == "reading",
            )
        })
        .collect()
}

/// Sends the questions of a page with these answers.
fn send(browser: &Browser, address: &str, answers: &[(&str, &str)]) -> crate::support::server::Answer {
    let page = browser.get(address);
    let keys = values(&page.page(), "input[name=ask]");
    let token = page.csrf();
    let mut fields = vec![("csrf", token.as_str())];
    fields.extend(keys.iter().map(|key| ("ask", key.as_str())));
    fields.extend_from_slice(answers);
    browser.send(address, &fields)
}

/// The number of the question of a check.
fn number(page: &Html, check: &str) -> String {
    asks(page)
        .into_iter()
        .find(|(_, _, code, _)| code == check)
        .unwrap_or_else(|| panic!("{check} is not asked"))
        .0
}

#[test]
fn a_water_closets_yearly_set_takes_no_more_taps_than_it_has_items() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        let closet = stage.water_closet();
        let technician = server.signed_in("technician");
        let address = format!("/units/{}/record", stage.unit);
        let page = technician.get(&address);
        assert_eq!(page.status, 200, "{}", page.body);
        let page = page.page();
        let asked = asks(&page);
        assert!(asked.len() >= 12, "the yearly set of a water closet: {asked:?}");
        // Nothing is ticked beforehand.
        assert!(texts(&page, "input[checked]").is_empty());
        let groups = texts(&page, "details.fixture > summary");
        let rests = values(&page, ".all-pass input");
        let readings: Vec<&(String, String, String, bool)> = asked.iter().filter(|ask| ask.3).collect();
        // A tap opens a group and one passes it; a figure is tapped and typed; one tap sends.
        let taps = groups.len() + rests.len() + readings.len() + 1;
        assert!(taps <= asked.len(), "{taps} taps for {} items", asked.len());
        let mut answers: Vec<(String, String)> = page
            .select(&Selector::parse(".all-pass input").unwrap())
            .map(|rest| (rest.attr("name").unwrap().to_owned(), "pass".to_owned()))
            .collect();
        answers.extend(
            readings
                .iter()
                .map(|(number, ..)| (format!("reading-{number}"), "45".to_owned())),
        );
        let lone: Vec<_> = asked
            .iter()
            .filter(|ask| !ask.3 && !answers.iter().any(|(name, _)| *name == format!("rest-{}", ask.1)))
            .collect();
        assert!(lone.is_empty(), "not passed with a group: {lone:?}");
        let answers: Vec<(&str, &str)> = answers
            .iter()
            .map(|(name, value)| (name.as_str(), value.as_str()))
            .collect();
        let sent = send(&technician, &address, &answers);
        assert_eq!(sent.status, 303, "{}", sent.body);
        let done = technician.get(&sent.location);
        assert_eq!(
            texts(&done.page(), "h1"),
            [format!("{} results recorded", asked.len())]
        );
        assert!(
            done.body.contains("due Thu 25 Nov 2027"),
            "a year on: {}",
            done.body
        );
        let after = technician.get(&address);
        assert!(
            after.body.contains("No check can be done here today."),
            "fixture {closet}"
        );
    });
}

#[test]
fn a_form_sent_twice_records_once() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        stage.water_closet();
        let technician = server.signed_in("technician");
        let address = format!("/units/{}/record", stage.unit);
        let page = technician.get(&address);
        let keys = values(&page.page(), "input[name=ask]");
        let (token, seat) = (
            page.csrf(),
            format!("outcome-{}", number(&page.page(), "wc_flushes")),
        );
        let mut fields = vec![("csrf", token.as_str()), (seat.as_str(), "fail")];
        fields.extend(keys.iter().map(|key| ("ask", key.as_str())));
        let first = technician.send(&address, &fields);
        server.clock.set("2026-11-25T18:00:07".parse().unwrap());
        let second = technician.send(&address, &fields);
        assert_eq!((first.status, second.status), (303, 303), "{}", second.body);
        assert_eq!(first.location, second.location);
        assert_eq!((stage.count("results"), stage.count("deficiencies")), (1, 1));
    });
}

#[test]
fn what_can_not_be_recorded_comes_back_with_every_value_kept() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        stage.water_closet();
        let technician = server.signed_in("technician");
        let address = format!("/units/{}/record", stage.unit);
        let page = technician.get(&address).page();
        let (refill, dye, cracks) = (
            number(&page, "wc_refill"),
            number(&page, "wc_dye"),
            number(&page, "wc_cracks"),
        );
        let reading = format!("reading-{refill}");
        let names = [
            format!("outcome-{dye}"),
            format!("note-{dye}"),
            format!("outcome-{cracks}"),
        ];
        let answers = [
            (reading.as_str(), "a while"),
            (names[0].as_str(), "fail"),
            (names[1].as_str(), "blue after two minutes"),
            (names[2].as_str(), "not_checked"),
        ];
        let again = send(&technician, &address, &answers);
        assert_eq!(again.status, 422);
        let shown = again.page();
        let summary = texts(&shown, ".error-summary li");
        assert_eq!(summary.len(), 2, "{summary:?}");
        assert!(
            summary
                .iter()
                .any(|said| said.contains("“a while”") || said.contains("\"a while\"")),
            "{summary:?}"
        );
        assert!(summary.iter().any(|said| said.contains("say why")), "{summary:?}");
        assert_eq!(values(&shown, &format!("input[name={reading}]")), ["a while"]);
        assert!(again.body.contains("blue after two minutes"));
        let chosen = format!("input[name=outcome-{dye}][checked]");
        assert_eq!(values(&shown, &chosen), ["fail"]);
        assert!(
            !texts(&shown, "details.fixture[open]").is_empty(),
            "what is to be mended is unfolded"
        );
        assert_eq!(stage.count("results"), 0);
    });
}

#[test]
fn nothing_answered_and_a_form_without_its_token_are_refused() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        stage.water_closet();
        let technician = server.signed_in("technician");
        let address = format!("/units/{}/record", stage.unit);
        let empty = send(&technician, &address, &[]);
        assert_eq!(empty.status, 422);
        assert!(empty.body.contains("Nothing is answered yet"));
        assert_eq!(technician.send(&address, &[]).status, 403);
    });
}

#[test]
fn one_check_is_one_screen_and_a_pass_is_one_tap() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        let closet = stage.water_closet();
        let technician = server.signed_in("technician");
        let shown = format!("/units/{}/record?check=wc_base_dry&fixture={closet}", stage.unit);
        let page = technician.get(&shown);
        let html = page.page();
        assert_eq!(texts(&html, "h1"), ["Base dry while flushing · wax seal"]);
        assert_eq!(texts(&html, ".bars > button").len(), 2);
        assert!(
            texts(&html, ".bar-more summary")
                .iter()
                .any(|word| word == "Could not check, because …")
        );
        assert!(
            page.body.contains("Sewage carries disease"),
            "its caution stands here"
        );
        assert_eq!(
            texts(&html, "svg.section > title").len(),
            1,
            "the leak points are drawn"
        );
        let (number, key) = (
            number(&html, "wc_base_dry"),
            values(&html, "input[name=ask]")[0].clone(),
        );
        let (token, field) = (page.csrf(), format!("outcome-{number}"));
        let address = format!("/units/{}/record", stage.unit);
        let bars = |word: &str| {
            let fields = [
                ("csrf", token.as_str()),
                ("screen", "one"),
                ("ask", key.as_str()),
                (field.as_str(), word),
            ];
            technician.send(&address, &fields)
        };
        let no_reason = bars("not_checked");
        assert_eq!(no_reason.status, 422);
        assert!(no_reason.body.contains("say why it could not be checked"));
        let failed = bars("fail");
        assert_eq!(failed.status, 303, "{}", failed.body);
        let done = technician.get(&failed.location);
        assert!(
            done.body.contains("Opened") && done.body.contains("24 h left, by Thu 26 Nov, 12:00"),
            "{}",
            done.body
        );
        let next = texts(&done.page(), "td[data-label=Next]");
        assert_eq!(next.len(), 1, "{next:?}");
        let (deficiency, check) = next[0].split_once("; ").unwrap();
        assert!(
            deficiency.starts_with("deficiency ")
                && deficiency.ends_with(", 24 h left, by Thu 26 Nov, 12:00"),
            "{deficiency}"
        );
        assert!(check.starts_with("the check due "), "{check}");
    });
}

#[test]
fn a_fixture_shows_what_is_due_first_and_offers_the_rest_without_passing_it() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        let closet = stage.water_closet();
        stage
            .answer("2026-11-20", of(closet, "wc_bowl_firm", Outcome::Pass))
            .unwrap();
        let technician = server.signed_in("technician");
        let page = technician.get(&format!("/fixtures/{closet}/record"));
        let html = page.page();
        let codes: Vec<String> = asks(&html).into_iter().map(|ask| ask.2).collect();
        assert!(
            codes.contains(&"wc_bowl_firm".to_owned()),
            "done lately, may be done again"
        );
        assert!(
            codes.contains(&"wc_clearance_side".to_owned()),
            "no schedule asks for it"
        );
        assert!(texts(&html, "h2").contains(&"Not due yet".to_owned()));
        let sent = send(
            &technician,
            &format!("/fixtures/{closet}/record"),
            &[(
                format!("reading-{}", number(&html, "wc_clearance_side")).as_str(),
                "14 7/8",
            )],
        );
        let done = technician.get(&sent.location);
        assert!(
            done.body.contains("14 7/8 in is under 15 in (IPC 405.3.1"),
            "{}",
            done.body
        );
        assert!(done.body.contains("no schedule asks for it"));
    });
}

#[test]
fn a_deficiency_is_seen_assigned_repaired_and_closed_on_its_page() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        let closet = stage.water_closet();
        let id = stage.opened("2026-11-25", of(closet, "wc_tank_bowl_dry", Outcome::Fail));
        let technician = server.signed_in("technician");
        let list = technician.get("/deficiencies?building=ALDER&severity=moderate");
        assert!(list.body.contains("30 days left"), "{}", list.body);
        let address = format!("/deficiencies/{id}");
        let page = technician.get(&address);
        assert!(
            page.body.contains("3 tank to bowl, deficient"),
            "marked on the drawing"
        );
        let technician_id = stage.technician.person.unwrap().to_string();
        let act = |verb: &str, fields: &[(&str, &str)]| {
            technician.submit(&address, &format!("{address}/{verb}"), fields)
        };
        assert_eq!(act("assign", &[("to", &technician_id)]).status, 303);
        assert!(
            technician
                .get(&format!("/deficiencies?assignee={technician_id}"))
                .body
                .contains("Rosa Vance")
        );
        let refused = act(
            "repaired",
            &[("parts_used", "gasket"), ("minutes", "long"), ("cost", "12")],
        );
        assert_eq!(refused.status, 422);
        assert_eq!(values(&refused.page(), "#minutes"), ["long"]);
        assert_eq!(
            act(
                "repaired",
                &[("parts_used", "gasket"), ("minutes", "25"), ("cost", "12")]
            )
            .status,
            303
        );
        assert_eq!(stage.deficiency(id).status, DeficiencyStatus::Repaired);
        let client_id = values(&technician.get(&address).page(), "input[name=client_id]")[0].clone();
        let recheck = || act("recheck", &[("client_id", &client_id), ("outcome", "pass")]);
        assert_eq!((recheck().status, recheck().status), (303, 303), "sent twice");
        assert_eq!(stage.count("results"), 2);
        let closed = technician.get(&address);
        assert!(closed.body.contains("Passed the re-check"));
        assert!(
            !closed.body.contains("Note the repair"),
            "nothing more is done to it"
        );
        let file = technician.get("/deficiencies.csv?status=all");
        assert!(
            file.body.starts_with('\u{feff}') && file.body.contains(",moderate,closed,"),
            "{}",
            file.body
        );
    });
}

#[test]
fn the_smell_of_gas_stands_before_the_form_and_anybody_may_read_what_to_do() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        let technician = server.signed_in("technician");
        let form = technician.get(&format!("/units/{}/report", stage.unit)).body;
        assert!(
            form.find("Smell gas? Leave now").unwrap()
                < form.find("<form method=\"post\" action=\"/units").unwrap()
        );
        let urgent = server.visitor().get("/urgent");
        assert_eq!(urgent.status, 200);
        let page = urgent.page();
        assert_eq!(texts(&page, ".first-aid h2")[0], "Smell of gas");
        assert!(texts(&page, ".first-aid li")[0].starts_with("Leave now"));
        let first_call = page
            .select(&Selector::parse(".first-aid a.call").unwrap())
            .next()
            .unwrap();
        assert_eq!(first_call.attr("href"), Some("tel:911"));
        let manager = server.signed_in("manager");
        let numbers = |gas: &str| {
            let fields = [("emergency", "112"), ("gas", gas), ("office", "555 010 0100")];
            manager.submit("/urgent/edit", "/urgent/edit", &fields)
        };
        assert_eq!(numbers("call Ola").status, 422);
        assert_eq!(numbers("+1 (555) 010-0199").status, 303);
        assert!(
            server
                .visitor()
                .get("/urgent")
                .body
                .contains("href=\"tel:+15550100199\"")
        );
        assert_eq!(technician.get("/urgent/edit").status, 403);
    });
}

#[test]
fn a_report_is_taken_down_and_leads_to_its_deficiency() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        let technician = server.signed_in("technician");
        let address = format!("/units/{}/report", stage.unit);
        let empty = technician.submit(&address, &address, &[("title", "Tap drips all night")]);
        assert_eq!(empty.status, 422);
        assert_eq!(values(&empty.page(), "#title"), ["Tap drips all night"]);
        let sent = technician.submit(
            &address,
            &address,
            &[("title", "Tap drips all night"), ("severity", "low")],
        );
        assert_eq!(sent.location, "/deficiencies/1", "{}", sent.body);
        assert_eq!(stage.deficiency(DeficiencyId(1)).title, "Tap drips all night");
    });
}

#[test]
fn anothers_unit_fixture_and_deficiency_are_not_there() {
    on_both(|fleet| {
        let (stage, server) = served(fleet);
        let closet: FixtureId = stage.water_closet();
        let id = stage.opened("2026-11-24", of(closet, "wc_seat", Outcome::Fail));
        stage.send_the_technician_elsewhere();
        let browser = server.signed_in("technician");
        for address in [
            format!("/units/{}/record", stage.unit),
            format!("/units/{}/report", stage.unit),
            format!(
                "/units/{}/recorded?at={}",
                stage.unit,
                noon("2026-11-24").0.format("%Y-%m-%dT%H:%M:%S")
            ),
            format!("/fixtures/{closet}/record"),
            format!("/deficiencies/{id}"),
            "/deficiencies?building=ALDER".to_owned(),
        ] {
            assert_eq!(browser.get(&address).status, 404, "{address}");
        }
        assert!(!browser.get("/deficiencies").body.contains("Seat"));
        let owner = server.visitor();
        assert_eq!(owner.get("/deficiencies").status, 303, "signed out");
    });
}

#[test]
fn the_office_chooses_its_times_to_correct() {
    on_both(|fleet| {
        let (_, server) = served(fleet);
        let manager = server.signed_in("manager");
        let page = "/deficiencies/times";
        assert!(manager.get(page).body.contains("60 d"));
        let refused = manager.submit(page, page, &[("programme", "voucher"), ("moderate", "a month")]);
        assert_eq!(refused.status, 422);
        assert_eq!(values(&refused.page(), "#moderate"), ["a month"]);
        assert_eq!(
            manager
                .submit(page, page, &[("programme", "voucher"), ("moderate", "14 d")])
                .status,
            303
        );
        assert!(manager.get(page).body.contains("<b>14 d</b>"));
        let technician = server.signed_in("technician");
        assert_eq!(technician.get(page).status, 200);
        assert_eq!(
            technician
                .submit("/deficiencies", page, &[("programme", "default")])
                .status,
            403
        );
    });
}
