//! Pages in Spanish: nothing English is left on a page that is in the catalogue, the choice is the person's, and longer words fit.

use std::collections::BTreeSet;

use anglestop::actions::people::account;
use anglestop::clock::Now;
use anglestop::domain::register::PersonId;
use anglestop::domain::register::person::{Actor, Role};
use anglestop::language::Language;
use anglestop::store::people;
use scraper::{ElementRef, Html, Selector};

use crate::support::chrome::{Chrome, Scheme};
use crate::support::server::{Browser, Server};
use crate::support::{Fleet, demo, on_both, sqlite};

pub(super) const AT: &str = "2026-11-25T15:00:00";

/// Words that both languages have, and names of things that are nobody's words.
const SHARED: &[&str] = &[
    "anglestop",
    // The name of a household's language is said in that language.
    "english",
    "america",
    "iana",
    "chicago",
    "chrome",
    "linux",
    "firefox",
    "css",
    "csv",
    "base",
    "panel",
    "gfci",
    "ibhs",
    "henriques",
    "moritz",
    "conductor",
    "local",
    "usual",
    "grave",
];

fn technician(fleet: &Fleet) -> PersonId {
    let found = fleet.db.read(|conn| people::first_active(conn, Role::Technician));
    found.unwrap().unwrap()
}

pub(super) fn reads(fleet: &Fleet, tag: &str) {
    let now = Now(AT.parse().unwrap());
    account::set_language_of(&fleet.db, &Actor::operator(), now, technician(fleet), tag).unwrap();
}

pub(super) fn select(css: &str) -> Selector {
    Selector::parse(css).unwrap()
}

/// What is read of a page: texts and the attributes that are read aloud, but not what a person typed or named.
fn read(page: &Html) -> Vec<String> {
    let mut texts = Vec::new();
    for element in page.select(&select("body *, title")) {
        let name = element.value().name();
        let is_sum = element.value().classes().any(|class| class == "fingerprint");
        if ["script", "style", "option", "svg", "code", "b"].contains(&name)
            || is_within(&element, "svg")
            || is_sum
        {
            continue;
        }
        let own = element.children().filter_map(|child| child.value().as_text());
        texts.extend(own.map(|text| text.trim().to_owned()));
        for attribute in ["aria-label", "title", "alt", "placeholder", "data-label"] {
            texts.extend(element.value().attr(attribute).map(str::to_owned));
        }
    }
    texts.retain(|text| text.chars().any(char::is_alphabetic));
    texts
}

fn is_within(element: &ElementRef<'_>, name: &str) -> bool {
    element
        .ancestors()
        .filter_map(ElementRef::wrap)
        .any(|above| above.value().name() == name)
}

/// The words of four letters and more, in lower case.
pub(super) fn words(texts: &[String]) -> BTreeSet<String> {
    texts
        .iter()
        .flat_map(|text| text.split(|c: char| !c.is_alphabetic()))
        .map(str::to_lowercase)
        .filter(|word| word.chars().count() >= 4)
        .collect()
}

/// English that is left: words that the page says in either language, but for names.
pub(super) fn left(browser: &Browser, other: &Browser, path: &str, names: &BTreeSet<String>) -> Vec<String> {
    let (spanish, english) = (browser.get(path), other.get(path));
    left_in(&spanish.page(), &english.page(), path, names)
}

/// Looks for English that is left on every page.
pub(super) fn none_left<P: AsRef<str>>(
    (browser, other): (&Browser, &Browser),
    paths: &[P],
    names: &BTreeSet<String>,
) {
    let faults: BTreeSet<String> = paths
        .iter()
        .flat_map(|path| left(browser, other, path.as_ref(), names))
        .collect();
    assert!(faults.is_empty(), "\n{}", Vec::from_iter(faults).join("\n"));
}

/// Looks whether a Spanish technician's pages fit on the smallest phone, also at twice the text.
pub(super) fn fit<P: AsRef<str>>(server: &Server, paths: &[P]) {
    let chrome = Chrome::start();
    chrome.show_as(320, Scheme::Light);
    chrome.open(&format!("{}/sign-in?language=es", server.address));
    let mut faults: Vec<String> = chrome.faults();
    chrome.click("form[action='/demo/sign-in/technician'] button");
    for path in paths.iter().map(AsRef::as_ref) {
        chrome.open(&format!("{}{path}", server.address));
        let found = chrome.faults().into_iter();
        faults.extend(found.map(|fault| format!("{path}: {fault}")));
        chrome.script("document.documentElement.style.fontSize = '200%'");
        let over = chrome
            .script("return document.documentElement.scrollWidth - document.documentElement.clientWidth");
        if over.as_i64().unwrap_or(0) > 0 {
            faults.push(format!("{path} scrolls sideways by {over} px at twice the text"));
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// The same of two pages that are there already.
pub(super) fn left_in(page: &Html, counterpart: &Html, path: &str, names: &BTreeSet<String>) -> Vec<String> {
    let lang = |page: &Html| {
        let html = page.select(&select("html")).next().unwrap();
        html.value().attr("lang").unwrap_or_default().to_owned()
    };
    assert_eq!(
        (lang(page).as_str(), lang(counterpart).as_str()),
        ("es", "en"),
        "{path}"
    );
    assert_eq!(
        page.select(&select("main[lang]")).count(),
        0,
        "{path} is not in the catalogue"
    );
    let texts = read(page);
    assert!(!texts.iter().any(|text| text.contains('{')), "{path}: {texts:?}");
    let both = words(&texts);
    let known = words(&read(counterpart));
    let shared = |word: &String| SHARED.contains(&word.as_str()) || names.contains(word);
    let left = both.intersection(&known).filter(|word| !shared(word));
    left.map(|word| format!("{path}: {word}")).collect()
}

#[derive(diesel::QueryableByName)]
struct Text {
    #[diesel(sql_type = diesel::sql_types::Text)]
    text: String,
}

pub(super) fn texts(fleet: &Fleet, query: &str) -> Vec<String> {
    use diesel::RunQueryDsl as _;
    let rows: Vec<Text> = fleet
        .db
        .read(|conn| Ok(diesel::sql_query(query).load(conn)?))
        .unwrap();
    rows.into_iter().map(|row| row.text).collect()
}

/// What people wrote: names of people and places, titles of deficiencies as they were kept, notes.
pub(super) fn names(fleet: &Fleet) -> BTreeSet<String> {
    let queries = [
        "SELECT name AS text FROM people",
        "SELECT email AS text FROM people",
        "SELECT reason AS text FROM visits",
        "SELECT reason AS text FROM results",
        "SELECT name AS text FROM buildings",
        "SELECT name AS text FROM rooms",
        "SELECT name AS text FROM households",
        "SELECT agreed_hours AS text FROM households",
        "SELECT no_entry_days AS text FROM households",
        "SELECT title AS text FROM deficiencies",
        "SELECT note AS text FROM visits",
        "SELECT note AS text FROM results",
        "SELECT note AS text FROM turnovers",
        "SELECT signed_name AS text FROM turnovers",
        "SELECT reason AS text FROM turnover_waivers",
        "SELECT signed_name AS text FROM turnover_waivers",
        // A check of the office's own has no translation.
        "SELECT body AS text FROM checks WHERE origin = 'own'",
        "SELECT label AS text FROM units",
    ];
    let all: Vec<String> = queries.iter().flat_map(|query| texts(fleet, query)).collect();
    words(&all)
}

/// Every visit that there is, as an address.
fn visits(fleet: &Fleet) -> Vec<String> {
    texts(
        fleet,
        "SELECT '/visits/' || CAST(id AS TEXT) AS text FROM visits ORDER BY id",
    )
}

#[test]
fn no_english_is_left_on_the_pages_of_the_catalogue() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AT);
        demo::enliven(fleet, &server);
        let english = server.signed_in("manager");
        reads(fleet, "es");
        let spanish = server.signed_in("technician");
        let names = names(fleet);
        let visits = visits(fleet);
        assert!(!visits.is_empty());
        let fixed = [
            "/account",
            "/urgent",
            "/units/999999",
            "/no-such-page",
            "/visits",
            "/visits?state=closed",
            "/l/none",
        ];
        let paths: Vec<&str> = fixed
            .into_iter()
            .chain(visits.iter().map(String::as_str))
            .collect();
        none_left((&spanish, &english), &paths, &names);
        for path in [
            "/sign-in",
            "/reset",
            "/invite/none",
            "/reset/none",
            "/setup/none",
            "/urgent",
        ] {
            let asked = format!("{path}?language=es");
            // The choice is kept in a cookie, so each reads with a browser of its own.
            let (spanish, english) = (server.visitor().get(&asked), server.visitor().get(path));
            let (spanish, english) = (
                Html::parse_document(&spanish.body),
                Html::parse_document(&english.body),
            );
            let both = words(&read(&spanish));
            let left = both
                .intersection(&words(&read(&english)))
                .cloned()
                .collect::<Vec<_>>();
            let left: Vec<_> = left
                .iter()
                .filter(|word| !SHARED.contains(&word.as_str()))
                .collect();
            // The other language is offered by its own name.
            let left: Vec<_> = left
                .into_iter()
                .filter(|word| *word != "english" && *word != "español")
                .collect();
            assert!(left.is_empty(), "{path}: {left:?}");
        }
    });
}

#[test]
fn a_page_that_is_not_in_the_catalogue_says_that_it_is_english() {
    let fleet = sqlite();
    demo::make(&fleet, 10);
    reads(&fleet, "es");
    let server = Server::start(&fleet.db, AT);
    let page = server.signed_in("technician").get("/checks/values").page();
    let main = page.select(&select("main")).next().unwrap();
    assert_eq!(main.value().attr("lang"), Some("en"));
    let place = page.select(&select(".places a[href='/checks']")).next().unwrap();
    assert_eq!(place.text().collect::<String>(), "Revisiones");
}

#[test]
fn the_language_is_the_persons_choice() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AT);
        let browser = server.signed_in("technician");
        assert!(browser.get("/account").body.contains("<h1>Account</h1>"));
        let kept = browser.submit("/account", "/account/language", &[("language", "es")]);
        assert_eq!(kept.status, 303, "{}", kept.body);
        let page = browser.get("/account").body;
        assert!(page.contains("Desde ahora en español."), "{page}");
        assert!(page.contains("<html lang=\"es\">") && page.contains("<h1>Cuenta</h1>"));
        let wrong = browser.submit("/account", "/account/language", &[("language", "xx")]);
        assert_eq!(wrong.status, 422);
        assert!(
            wrong
                .body
                .contains("Aquí no hay palabras en «xx». Elija una de en, es."),
            "{}",
            wrong.body
        );
        let short = [("current", "x"), ("password", "corta")];
        let wrong = browser.submit("/account", "/account/password", &short);
        assert!(
            wrong.body.contains("Esta contraseña tiene 5 caracteres"),
            "{}",
            wrong.body
        );
    });
}

#[test]
fn before_anybody_is_signed_in_the_address_then_the_cookie_then_the_browser_decides() {
    let fleet = sqlite();
    let server = Server::start(&fleet.db, AT);
    let lang = |body: &str| {
        body.split("lang=\"")
            .nth(1)
            .unwrap()
            .split('"')
            .next()
            .unwrap()
            .to_owned()
    };
    let browser = server.visitor();
    assert_eq!(lang(&browser.get("/sign-in").body), "en");
    let wish = [("accept-language", "es-MX,es;q=0.9,en;q=0.5")];
    assert_eq!(lang(&browser.get_with("/sign-in", &wish).body), "es");
    assert_eq!(lang(&browser.get_with("/sign-in?language=en", &wish).body), "en");
    assert_eq!(
        lang(&browser.get_with("/sign-in", &wish).body),
        "en",
        "the choice is kept"
    );
    let page = browser.get("/sign-in?next=%2Funits%2F7").page();
    let other = page.select(&select("a[hreflang='es']")).next().unwrap();
    assert_eq!(
        other.value().attr("href"),
        Some("/sign-in?language=es&next=%2Funits%2F7")
    );
}

#[test]
fn the_phone_asks_for_its_words_and_hears_when_they_did_not_change() {
    let fleet = sqlite();
    let server = Server::start(&fleet.db, AT);
    let browser = server.visitor();
    for language in Language::all() {
        let path = format!("/phone/words/{language}.ftl");
        let words = browser.get(&path);
        let header = |name: &str| words.headers[name].to_str().unwrap().to_owned();
        assert_eq!(header("content-type"), "text/plain; charset=utf-8");
        assert!(words.body.contains("language-name = "));
        let same = browser.get_with(&path, &[("if-none-match", &header("etag"))]);
        assert_eq!((same.status, same.body.as_str()), (304, ""));
    }
    assert_eq!(browser.get("/phone/words/xx.ftl").status, 404);
}

/// Longer words fit on the smallest phone, also when they are read at twice the size.
#[test]
fn spanish_pages_fit_a_small_phone_and_twice_the_text() {
    let fleet = sqlite();
    demo::make(&fleet, 10);
    reads(&fleet, "es");
    let server = Server::start(&fleet.db, AT);
    fit(
        &server,
        &["/account", "/urgent", "/no-such-page", "/visits", "/visits/1"],
    );
}
