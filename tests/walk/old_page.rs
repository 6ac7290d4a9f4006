//! A page that a phone kept before the office's server was replaced: what it holds comes in once and in order, and the newer page takes over.
//! `page_v1.json.gz` is such a page, word for word: its shell (marked as old), its worker, scripts and words.

use std::collections::HashMap;
use std::io::{Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::sync::Arc;
use std::time::{Duration, Instant};

use flate2::read::GzDecoder;

use super::Office;
use super::line::State;
use super::thumb::Thumb;
use crate::support::sqlite;

const PAGE: &[u8] = include_bytes!("page_v1.json.gz");

/// Longer than the five minutes that Chromium gives a worker that does not come up before it tries another (from memory, no source).
const MOST_PATIENCE: Duration = Duration::from_secs(400);

/// Paths with their media types and what they were answered with.
type Page = HashMap<String, (String, String)>;

/// Stands before a server and answers with the old page; everything else goes on to the server.
fn old_office(server: &str) -> String {
    let mut text = String::new();
    GzDecoder::new(PAGE).read_to_string(&mut text).unwrap();
    let page: Arc<Page> = Arc::new(serde_json::from_str(&text).unwrap());
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}", listener.local_addr().unwrap());
    let server = server.trim_start_matches("http://").to_owned();
    std::thread::spawn(move || {
        for phone in listener.incoming().flatten() {
            let (page, server) = (Arc::clone(&page), server.clone());
            // A connection that breaks off is the phone's to open again.
            std::thread::spawn(move || answer(phone, &page, &server).ok());
        }
    });
    address
}

/// Answers one request, then closes.
fn answer(mut phone: TcpStream, page: &Page, server: &str) -> std::io::Result<()> {
    let mut request = Vec::new();
    let mut bytes = vec![0; 64 * 1024];
    let head = loop {
        let read = phone.read(&mut bytes)?;
        if read == 0 {
            return Ok(());
        }
        request.extend_from_slice(&bytes[..read]);
        if let Some(at) = request.windows(4).position(|four| four == b"\r\n\r\n") {
            break at;
        }
    };
    let words = String::from_utf8_lossy(&request[..head]).into_owned();
    let path = words.split(' ').nth(1).unwrap_or_default();
    if let Some((media_type, body)) = page.get(path) {
        let length = body.len();
        let head = format!(
            "HTTP/1.1 200 OK\r\nContent-Type: {media_type}\r\nContent-Length: {length}\r\nCache-Control: no-cache\r\nConnection: close\r\n\r\n"
        );
        phone.write_all(head.as_bytes())?;
        return phone.write_all(body.as_bytes());
    }
    let mut there = TcpStream::connect(server)?;
    let kept = words
        .lines()
        .filter(|line| !line.to_lowercase().starts_with("connection:"));
    let head: Vec<&str> = kept.collect();
    there.write_all(format!("{}\r\nConnection: close\r\n\r\n", head.join("\r\n")).as_bytes())?;
    there.write_all(&request[words.len() + 4..])?;
    let (mut from_phone, mut to_server) = (phone.try_clone()?, there.try_clone()?);
    std::thread::spawn(move || std::io::copy(&mut from_phone, &mut to_server).ok());
    std::io::copy(&mut there, &mut phone)?;
    phone.shutdown(std::net::Shutdown::Both)
}

fn is_old(phone: &Thumb) -> bool {
    phone
        .chrome
        .script("return document.documentElement.dataset.page === 'old'")
        == serde_json::Value::Bool(true)
}

/// What the browser has of workers, which one the server has for it, and what becomes of asking for a newer one.
fn worker_of(phone: &Thumb) -> serde_json::Value {
    phone.chrome.ask(
        "const before = (what) => Promise.race([what.catch(String), new Promise((go) => setTimeout(() => go('no answer'), 10000))]);
        const kept = await navigator.serviceWorker.getRegistration();
        const there = before(fetch('/worker.js', { cache: 'no-cache' }).then((answer) => answer.text()));
        return {
            installing: kept.installing?.state, waiting: kept.waiting?.state, active: kept.active?.state, caches: await caches.keys(),
            version: /const VERSION = .*/.exec(await there)?.[0] ?? await there, update: await before(kept.update().then(() => 'done')),
        };",
    )
}

#[test]
fn what_an_old_page_holds_comes_in_at_a_newer_server_and_the_newer_page_takes_over() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    office.line.lead_to(&old_office(&office.server.address));
    let phone = Thumb::in_hand(&office);
    assert!(is_old(&phone), "the phone has the old page");
    office.line.becomes(State::Cut);
    phone.open("/today");
    phone.enter(&office.label);
    for _ in 0..6 {
        assert!(phone.step());
    }
    let kept = phone.kept();
    assert!(is_old(&phone) && kept.len() >= 3, "{} answers", kept.len());

    office.line.lead_to(&office.server.address);
    office.line.becomes(State::Whole);
    phone.open("/today");
    phone.until_sent(60);
    office.has_exactly(&kept);

    let until = Instant::now() + MOST_PATIENCE;
    while is_old(&phone) {
        assert!(
            Instant::now() < until,
            "the newer page never takes over: {}; {:?}",
            worker_of(&phone),
            phone.chrome.console_errors()
        );
        // A page that is opened again is the newer one once the newer worker is there.
        phone.chrome.ask(
            "for (let tries = 0; tries < 80 && (await caches.keys()).includes('shell.one'); tries += 1)
                await new Promise((go) => setTimeout(go, 250));",
        );
        phone.open("/today");
    }
    phone.enter(&office.label);
    for _ in 0..2 {
        assert!(phone.step());
    }
    phone.until_sent(60);
    assert!(office.results().len() > kept.len(), "the newer page works on");
    assert_eq!(office.per_item(), 1, "nothing came twice");
}
