//! Follows every link from the start page as people of one owner's side, and reads everything: pages, CSV, papers, mails.

use std::collections::{BTreeSet, VecDeque};

use anglestop::actions::digest;
use anglestop::clock::Now;
use anglestop::store::outbox;
use anglestop::web::routes::TABLE;
use scraper::{Html, Selector};

use super::planted;
use crate::support::server::{Browser, Server};
use crate::support::two_owners::{MARKER, THEN};

/// Pages that are read at most; more would mean that the crawl runs in circles.
const MOST_PAGES: usize = 1500;

/// What is reached from `starts` by links and by forms that only ask: address and body.
fn crawl(browser: &Browser, starts: &[String]) -> Vec<(String, String)> {
    let mut seen: BTreeSet<String> = starts.iter().cloned().collect();
    let mut waiting: VecDeque<String> = starts.iter().cloned().collect();
    let mut pages = Vec::new();
    while let Some(address) = waiting.pop_front() {
        assert!(pages.len() < MOST_PAGES, "the crawl does not end: {address}");
        let answer = browser.get(&address);
        assert!(answer.status < 500, "{address} answers {}", answer.status);
        for next in links(&address, &answer.location, &answer.body) {
            if seen.insert(next.clone()) {
                waiting.push_back(next);
            }
        }
        pages.push((address, answer.body));
    }
    pages
}

/// The addresses of this site that a page leads to, without what follows a `#`.
fn links(from: &str, location: &str, body: &str) -> Vec<String> {
    let base = url::Url::parse("http://here.example")
        .unwrap()
        .join(from)
        .unwrap();
    let mut found: Vec<String> = vec![location.to_owned()];
    if body.trim_start().starts_with('<') {
        let page = Html::parse_document(body);
        for (what, attribute) in [("a[href], link[href]", "href"), ("form[method=get]", "action")] {
            let selector = Selector::parse(what).unwrap();
            let values = page
                .select(&selector)
                .filter_map(|element| element.value().attr(attribute));
            found.extend(values.map(str::to_owned));
        }
    }
    found
        .iter()
        .filter(|link| !link.is_empty())
        .filter_map(|link| base.join(link).ok())
        .filter(|url| url.host_str() == Some("here.example"))
        .map(|url| url[url::Position::BeforePath..url::Position::AfterQuery].to_owned())
        .collect()
}

#[test]
fn nobody_of_one_owners_side_reads_a_word_of_the_others() {
    let (fleet, both) = planted();
    let server = Server::start(&fleet.db, THEN);
    let pages = |persona: &str, starts: &[String]| {
        let browser = server.holding(&both.held(persona).unwrap().token);
        crawl(&browser, starts)
    };
    // Every page of the table besides, in case that no link leads there, and the same of the other side.
    let gets = TABLE.iter().filter(|route| route.method == "GET");
    let starts: Vec<String> = gets
        .flat_map(|route| [both.fill(route.path), both.fill_from(route.path, &both.other)])
        .collect();
    for persona in ["technician_assigned", "owner"] {
        for (address, body) in pages(persona, &starts) {
            // What was asked for may stand in the answer: the address of a page that there is not.
            if address.contains(MARKER) {
                assert!(!body.contains(&format!("{MARKER}building-name")), "{address}");
                continue;
            }
            if let Some(at) = body.find(MARKER) {
                let words: String = body[at..].chars().take(60).collect();
                panic!("{persona} reads at {address}: {words}");
            }
        }
    }
    let all: String = pages("manager", &starts)
        .into_iter()
        .map(|(_, body)| body)
        .collect();
    for word in [
        "portfolio-name",
        "building-name",
        "building-address",
        "204",
        "household",
        "contact",
        "agreed-hours",
        "no-entry-days",
        "WC1",
        "bath",
        "maker",
        "model",
        "fixture-note",
        "result-note",
        "report-title",
        "report-detail",
        "turnover-note",
        "mail-subject",
        "mail-text",
        "owner-name",
    ] {
        let marked = format!("{MARKER}{word}");
        assert!(
            all.contains(&marked),
            "not even the manager reads {marked}: does the crawl reach it?"
        );
    }
}

#[test]
fn a_digest_speaks_of_its_own_buildings_alone() {
    let (fleet, both) = planted();
    let morning = Now("2026-11-26T13:00:00".parse().unwrap());
    let written = digest::enqueue_due(&fleet.db, morning, "http://here.example").unwrap();
    assert!(
        written >= 2,
        "both technicians should have something due: {written}"
    );
    let mails = fleet.db.read(|conn| outbox::list(conn, None, 100)).unwrap();
    let mut own = 0;
    for mail in mails.iter().filter(|mail| mail.kind == "digest") {
        let is_others = mail.to_address == "rosa.quill@keel.example";
        let says_marker = format!("{}{}{}", mail.subject, mail.text, mail.html).contains(MARKER);
        assert_eq!(is_others, says_marker, "{}", mail.to_address);
        own += usize::from(!is_others);
    }
    assert!(own >= 1, "nobody of {} was written to", both.own.building);
}
