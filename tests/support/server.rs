//! A server on a spare loopback port, and a client that keeps cookies and sends forms as a browser does.

use std::net::TcpListener;
use std::sync::mpsc;

use anglestop::clock::Clock;
use anglestop::store::Db;
use anglestop::web::{App, Mode, Settings, server};

/// A running server; it stops with the value.
pub struct Server {
    pub address: String,
    pub clock: Clock,
    handle: actix_web::dev::ServerHandle,
}

impl Server {
    /// Serves `db` in demo mode (sign-in by one click) with a clock that stands at `now` (UTC, `2026-11-25T09:00:00`).
    pub fn start(db: &Db, now: &str) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}", listener.local_addr().unwrap());
        let clock = Clock::held(now.parse().unwrap());
        let settings = Settings {
            public_url: address.clone(),
            mode: Mode::Demo,
        };
        Self::run(db, listener, address, clock, settings)
    }

    /// Serves `db` as an office does that people reach at `public_url`; it listens on loopback all the same.
    pub fn start_at(db: &Db, now: &str, public_url: &str) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}", listener.local_addr().unwrap());
        let settings = Settings {
            public_url: public_url.to_owned(),
            mode: Mode::Office,
        };
        Self::run(db, listener, address, Clock::held(now.parse().unwrap()), settings)
    }

    fn run(db: &Db, listener: TcpListener, address: String, clock: Clock, settings: Settings) -> Self {
        let app = App::new(db.clone(), clock.clone(), settings);
        let (send, receive) = mpsc::channel();
        std::thread::spawn(move || {
            actix_web::rt::System::new().block_on(async move {
                let running = server::start(app, listener, 1).unwrap();
                send.send(running.handle()).unwrap();
                running.await.unwrap();
            });
        });
        Self {
            address,
            clock,
            handle: receive.recv().unwrap(),
        }
    }

    /// Somebody who is not signed in.
    pub fn visitor(&self) -> Browser {
        Browser::new(&self.address)
    }

    /// Somebody who holds the token of a session.
    pub fn holding(&self, token: &str) -> Browser {
        let browser = self.visitor();
        let uri = self.address.parse().unwrap();
        let cookie = ureq::Cookie::parse(format!("session={token}; Path=/"), &uri).unwrap();
        browser.agent.cookie_jar_lock().insert(cookie, &uri).unwrap();
        browser
    }

    /// Somebody signed in by one click as `manager`, `technician` or `owner`.
    pub fn signed_in(&self, role: &str) -> Browser {
        let browser = self.visitor();
        let answer = browser.send(&format!("/demo/sign-in/{role}"), &[]);
        assert_eq!(answer.status, 303, "{}", answer.body);
        browser
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        drop(self.handle.stop(false));
    }
}

/// A client with cookies that does not follow redirects by itself.
pub struct Browser {
    agent: ureq::Agent,
    address: String,
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub location: String,
    pub headers: ureq::http::HeaderMap,
    /// As text; what is no UTF-8, such as a PDF, is read from `bytes`.
    pub body: String,
    pub bytes: Vec<u8>,
}

impl Browser {
    fn new(address: &str) -> Self {
        let config = ureq::Agent::config_builder()
            .http_status_as_error(false)
            .max_redirects(0)
            .build();
        Self {
            agent: config.into(),
            address: address.to_owned(),
        }
    }

    /// The value of a cookie that it keeps.
    pub fn cookie(&self, name: &str) -> Option<String> {
        let jar = self.agent.cookie_jar_lock();
        jar.iter()
            .find(|cookie| cookie.name() == name)
            .map(|cookie| cookie.value().to_owned())
    }

    /// Asks for a page.
    pub fn get(&self, path: &str) -> Answer {
        answer(self.agent.get(format!("{}{path}", self.address)).call().unwrap())
    }

    /// Sends fields as they are.
    pub fn send(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let url = format!("{}{path}", self.address);
        answer(self.agent.post(url).send_form(fields.iter().copied()).unwrap())
    }

    /// Asks for a page with headers of one's own.
    pub fn get_with(&self, path: &str, headers: &[(&str, &str)]) -> Answer {
        let mut request = self.agent.get(format!("{}{path}", self.address));
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        answer(request.call().unwrap())
    }

    /// Sends a body of a media type with headers of one's own.
    pub fn send_with(&self, path: &str, headers: &[(&str, &str)], media_type: &str, body: &str) -> Answer {
        let mut request = self
            .agent
            .post(format!("{}{path}", self.address))
            .header("content-type", media_type);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        answer(request.send(body).unwrap())
    }

    /// Sends bytes of a media type with headers of one's own.
    pub fn send_bytes(&self, path: &str, headers: &[(&str, &str)], media_type: &str, body: &[u8]) -> Answer {
        let mut request = self
            .agent
            .post(format!("{}{path}", self.address))
            .header("content-type", media_type);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        answer(request.send(body).unwrap())
    }

    /// Asks for a file that is no text.
    pub fn get_bytes(&self, path: &str) -> Vec<u8> {
        let mut response = self.agent.get(format!("{}{path}", self.address)).call().unwrap();
        assert_eq!(response.status().as_u16(), 200, "{path}");
        response
            .body_mut()
            .with_config()
            .limit(200 << 20)
            .read_to_vec()
            .unwrap()
    }

    /// Sends fields with the token that the page at `from` carries.
    pub fn submit(&self, from: &str, path: &str, fields: &[(&str, &str)]) -> Answer {
        let page = self.get(from);
        let token = page.csrf();
        let mut all = vec![("csrf", token.as_str())];
        all.extend_from_slice(fields);
        self.send(path, &all)
    }
}

impl Browser {
    /// Sends files as a form with the token that the page at `from` carries.
    pub fn upload(&self, from: &str, path: &str, files: &[(&str, &[u8])]) -> Answer {
        let token = self.get(from).csrf();
        self.send_files(path, &token, files)
    }

    /// Sends files as a form with this token.
    pub fn send_files(&self, path: &str, token: &str, files: &[(&str, &[u8])]) -> Answer {
        const BOUNDARY: &str = "between-the-parts-of-a-form";
        let part = |head: &str| format!("--{BOUNDARY}\r\nContent-Disposition: form-data; {head}\r\n\r\n");
        let mut body = part("name=\"csrf\"").into_bytes();
        body.extend_from_slice(token.as_bytes());
        for (name, bytes) in files {
            body.extend_from_slice(b"\r\n");
            body.extend_from_slice(part(&format!("name=\"files\"; filename=\"{name}\"")).as_bytes());
            body.extend_from_slice(bytes);
        }
        body.extend_from_slice(format!("\r\n--{BOUNDARY}--\r\n").as_bytes());
        let url = format!("{}{path}", self.address);
        let request = self
            .agent
            .post(url)
            .content_type(format!("multipart/form-data; boundary={BOUNDARY}"));
        answer(request.send(&body[..]).unwrap())
    }
}

impl Answer {
    /// The token of the page's forms.
    pub fn csrf(&self) -> String {
        let mark = "name=\"csrf\" value=\"";
        let start = self
            .body
            .find(mark)
            .unwrap_or_else(|| panic!("no token on {}", self.body))
            + mark.len();
        self.body[start..].split('"').next().unwrap().to_owned()
    }

    /// The page as a tree for selectors.
    pub fn page(&self) -> scraper::Html {
        scraper::Html::parse_document(&self.body)
    }
}

fn answer(mut response: ureq::http::Response<ureq::Body>) -> Answer {
    let bytes = response
        .body_mut()
        .with_config()
        .limit(200 << 20)
        .read_to_vec()
        .unwrap();
    let headers = response.headers().clone();
    let location = headers
        .get("location")
        .and_then(|value| value.to_str().ok())
        .unwrap_or_default()
        .to_owned();
    Answer {
        status: response.status().as_u16(),
        location,
        headers,
        body: String::from_utf8_lossy(&bytes).into_owned(),
        bytes,
    }
}
