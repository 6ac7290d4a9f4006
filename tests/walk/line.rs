//! The line between a phone and the server, which a test cuts, slows down and mends; and which outlives the server behind it.

use std::io::{Read as _, Write as _};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// How the line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// As it should be.
    Whole,
    /// Every connection is cut at once, and so is each new one.
    Cut,
    /// Each batch is answered so much later.
    Slow(Duration),
    /// Each batch reaches the server, and its answer is lost.
    Deaf,
}

struct Shared {
    state: Mutex<State>,
    server: Mutex<String>,
    open: Mutex<Vec<TcpStream>>,
}

/// A line with an address of its own.
pub struct Line {
    pub address: String,
    shared: Arc<Shared>,
}

impl Line {
    /// A line to a server at `http://127.0.0.1:PORT`.
    pub fn to(server: &str) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}", listener.local_addr().unwrap());
        let shared = Arc::new(Shared {
            state: Mutex::new(State::Whole),
            server: Mutex::new(host_of(server)),
            open: Mutex::new(Vec::new()),
        });
        let there = Arc::clone(&shared);
        std::thread::spawn(move || {
            for phone in listener.incoming().flatten() {
                if *there.state.lock().unwrap() == State::Cut {
                    continue;
                }
                let server = there.server.lock().unwrap().clone();
                if let Ok(server) = TcpStream::connect(server) {
                    join(&there, phone, server);
                }
            }
        });
        Self { address, shared }
    }

    /// Leads to another server from now on.
    pub fn lead_to(&self, server: &str) {
        *self.shared.server.lock().unwrap() = host_of(server);
        self.cut_all();
    }

    /// Becomes so; what is under way is cut when the line is.
    pub fn becomes(&self, state: State) {
        *self.shared.state.lock().unwrap() = state;
        if state == State::Cut {
            self.cut_all();
        }
    }

    fn cut_all(&self) {
        for open in self.shared.open.lock().unwrap().drain(..) {
            let _ = open.shutdown(Shutdown::Both);
        }
    }
}

fn host_of(address: &str) -> String {
    address.trim_start_matches("http://").to_owned()
}

/// Copies both ways until either side ends.
fn join(shared: &Arc<Shared>, mut phone: TcpStream, mut server: TcpStream) {
    let copies = [phone.try_clone().unwrap(), server.try_clone().unwrap()];
    shared.open.lock().unwrap().extend(copies);
    let (mut from_phone, mut from_server) = (phone.try_clone().unwrap(), server.try_clone().unwrap());
    let is_batch = Arc::new(AtomicBool::new(false));
    let batch = Arc::clone(&is_batch);
    std::thread::spawn(move || {
        let mut bytes = vec![0; 64 * 1024];
        while let Ok(read) = from_phone.read(&mut bytes) {
            if read > 0 && bytes[..read].starts_with(b"POST /phone/sync") {
                batch.store(true, Ordering::SeqCst);
            }
            if read == 0 || server.write_all(&bytes[..read]).is_err() {
                break;
            }
        }
        let _ = server.shutdown(Shutdown::Both);
    });
    let shared = Arc::clone(shared);
    std::thread::spawn(move || {
        let mut bytes = vec![0; 64 * 1024];
        while let Ok(read) = from_server.read(&mut bytes) {
            let state = *shared.state.lock().unwrap();
            if is_batch.swap(false, Ordering::SeqCst) {
                match state {
                    State::Slow(wait) => std::thread::sleep(wait),
                    State::Deaf => break,
                    State::Whole | State::Cut => {}
                }
            }
            if read == 0 || phone.write_all(&bytes[..read]).is_err() {
                break;
            }
        }
        let _ = phone.shutdown(Shutdown::Both);
    });
}
