//! Pages of a server in a process of its own, over HTTP on this machine: one connection and 64, its memory, its start.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use anglestop::actions::people::sign_in;
use anglestop::clock::Clock;
use anglestop::domain::register::LanguageTag;
use anglestop::domain::register::person::{PersonFacts, Role, Scope, Standing};
use anglestop::store::{assignments, people};

use super::lists::scopes;
use super::made::Made;
use super::timing::{milliseconds, percentile, times, told};

const RUNS: usize = 200;
const CONNECTIONS: usize = 64;
const AT_ONCE: Duration = Duration::from_secs(4);

struct Server {
    process: Child,
    address: String,
}

impl Server {
    /// Starts it and answers with how long the first page took from the start of the process.
    fn start(fleet: &Made) -> (Self, Duration) {
        let port = TcpListener::bind("127.0.0.1:0")
            .unwrap()
            .local_addr()
            .unwrap()
            .port();
        let address = format!("127.0.0.1:{port}");
        let begun = Instant::now();
        let process = Command::new(env!("CARGO_BIN_EXE_anglestop"))
            .args(["--database", &fleet.url, "serve", "--listen", &address])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // It is stopped with the value, whatever happens from here on.
        let server = Self { process, address };
        while begun.elapsed() < Duration::from_secs(30) {
            if let Ok(stream) = TcpStream::connect(&server.address) {
                let mut connection = Connection::over(stream, &server.address);
                assert!(connection.get("/sign-in", "").0 < 400);
                return (server, begun.elapsed());
            }
            std::thread::sleep(Duration::from_millis(2));
        }
        panic!("the server did not start");
    }

    /// MB of memory that is the server's alone and can't be dropped; pages of the database's file that are mapped are the system's.
    fn private_mb(&self) -> f64 {
        let file = format!("/proc/{}/smaps_rollup", self.process.id());
        let text = std::fs::read_to_string(file).unwrap_or_default();
        let lines = text.lines().filter(|line| line.starts_with("Private_Dirty"));
        let kb: f64 = lines
            .filter_map(|line| line.split_whitespace().nth(1)?.parse::<f64>().ok())
            .sum();
        kb / 1e3
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// A connection that stays open, as a browser's does.
struct Connection {
    reader: BufReader<TcpStream>,
    host: String,
}

impl Connection {
    fn over(stream: TcpStream, host: &str) -> Self {
        stream.set_nodelay(true).unwrap();
        Self {
            reader: BufReader::with_capacity(1 << 18, stream),
            host: host.to_owned(),
        }
    }

    fn open(address: &str) -> Self {
        Self::over(TcpStream::connect(address).unwrap(), address)
    }

    /// The status and the length of the body.
    fn get(&mut self, path: &str, cookie: &str) -> (u16, String) {
        let ask = format!(
            "GET {path} HTTP/1.1\r\nHost: {}\r\nCookie: {cookie}\r\n\r\n",
            self.host
        );
        self.reader.get_mut().write_all(ask.as_bytes()).unwrap();
        let mut line = String::new();
        self.reader.read_line(&mut line).unwrap();
        let status = line.split(' ').nth(1).unwrap().parse().unwrap();
        let (mut length, mut chunked) = (0, false);
        loop {
            let mut header = String::new();
            self.reader.read_line(&mut header).unwrap();
            let header = header.trim().to_ascii_lowercase();
            if header.is_empty() {
                break;
            }
            if let Some(value) = header.strip_prefix("content-length: ") {
                length = value.parse().unwrap();
            }
            chunked |= header == "transfer-encoding: chunked";
        }
        let mut body = Vec::new();
        while chunked {
            let mut size = String::new();
            self.reader.read_line(&mut size).unwrap();
            let size = usize::from_str_radix(size.trim(), 16).unwrap();
            let mut piece = vec![0; size + 2];
            self.reader.read_exact(&mut piece).unwrap();
            chunked = size > 0;
            body.extend_from_slice(&piece[..size]);
        }
        if body.is_empty() {
            body = vec![0; length];
            self.reader.read_exact(&mut body).unwrap();
        }
        (status, String::from_utf8(body).unwrap())
    }
}

/// The cookie of somebody who sees a scope: a manager sees all, a technician the buildings they work in.
fn cookie(fleet: &Made, name: &str, scope: &Scope) -> String {
    let facts = PersonFacts {
        name: format!("Keeper of {name}"),
        email: format!("{}@anglestop.example", name.replace(' ', ".")),
        time_zone: chrono_tz::America::Chicago,
        digest_hour: 6,
        language: LanguageTag::usual(),
    };
    let (role, places) = match scope {
        Scope::All => (Role::Manager, Vec::new()),
        Scope::Buildings(keys) => (Role::Technician, keys.iter().map(|key| key.0).collect()),
    };
    let now = Clock::System.now();
    let opened = fleet.db.write(|tx| {
        let id = people::insert(tx, now, &facts, role, Standing::Active)?;
        assignments::replace(tx, id, role, &places)?;
        sign_in::open(tx, now, id, role, "a bench")
    });
    format!("session={}", opened.unwrap().token)
}

pub fn measure(fleet: &Made) {
    let (server, first) = Server::start(fleet);
    println!(
        "server: first answer {:.0} ms after its start, {:.0} MB private",
        milliseconds(first),
        server.private_mb()
    );
    let mut cookies = Vec::new();
    for (name, scope) in scopes(fleet) {
        cookies.push((name.clone(), cookie(fleet, &name, &scope)));
    }
    for (name, cookie) in &cookies {
        let mut connection = Connection::open(&server.address);
        for path in [
            "/due?state=overdue",
            "/due",
            "/due/load",
            "/buildings",
            "/deficiencies",
        ] {
            let runs = if path.starts_with("/due?") || path == "/due" {
                RUNS
            } else {
                5
            };
            let mut size = 0;
            let all = times(runs, |_| {
                let (status, body) = connection.get(path, cookie);
                assert_eq!(status, 200, "{path}");
                size = body.len();
            });
            println!(
                "page {path}, {name}: {}, slowest {:.1} ms, {} kB",
                told(&all),
                milliseconds(percentile(&all, 100)),
                size / 1_000
            );
        }
        println!("  server: {:.0} MB private", server.private_mb());
        at_once(&server, cookie, name);
    }
}

/// The addresses of the first pages of the overdue list, by following each to the next.
fn first_pages(server: &Server, cookie: &str) -> Vec<String> {
    let mut connection = Connection::open(&server.address);
    let mut pages = vec!["/due?state=overdue".to_owned()];
    while pages.len() < CONNECTIONS {
        let (_, body) = connection.get(pages.last().unwrap(), cookie);
        let Some(next) = body.split("href=\"").find(|link| link.contains("after=")) else {
            break;
        };
        let address = next.split('"').next().unwrap();
        pages.push(address.replace("&#38;", "&").replace("&amp;", "&"));
    }
    pages
}

/// Pages a second over 64 connections, each of them going round the first pages of the list.
fn at_once(server: &Server, cookie: &str, name: &str) {
    let addresses = first_pages(server, cookie);
    let pages = AtomicUsize::new(0);
    std::thread::scope(|threads| {
        for first in 0..CONNECTIONS {
            let (addresses, pages) = (&addresses, &pages);
            threads.spawn(move || {
                let mut connection = Connection::open(&server.address);
                let begun = Instant::now();
                for address in addresses.iter().cycle().skip(first % addresses.len()) {
                    if begun.elapsed() >= AT_ONCE {
                        break;
                    }
                    assert_eq!(connection.get(address, cookie).0, 200);
                    pages.fetch_add(1, Ordering::Relaxed);
                }
            });
        }
    });
    let a_second = pages.load(Ordering::Relaxed) as f64 / AT_ONCE.as_secs_f64();
    println!(
        "{} pages of the overdue list, {name}, {CONNECTIONS} connections: {a_second:.0} a second; server: {:.0} MB private",
        addresses.len(),
        server.private_mb()
    );
}
