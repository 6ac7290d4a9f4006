//! Runs pages and jobs in this process until it is told to stop; `serve` and `demo` share it.

use std::net::TcpListener;
use std::path::PathBuf;

use crate::config::Outgoing;
use crate::error::{Error, Result};
use crate::jobs::Clockwork;
use crate::mail::deliver::{Mailer, Target};
use crate::web::{self, App};

/// Opens the address, or says how to choose another.
///
/// # Errors
/// When it is taken or is no address.
pub fn listen(address: &str) -> Result<TcpListener> {
    TcpListener::bind(address).map_err(|cause| {
        Error::refused(format!(
            "{address} can't be listened on: {cause}. Choose another with --listen."
        ))
    })
}

/// Prepares delivery as it was configured; nothing when mails wait.
///
/// # Errors
/// When the mail server's or the sender's address can't be read.
pub fn mailer(outgoing: &Outgoing) -> Result<Option<Mailer>> {
    match outgoing {
        Outgoing::Smtp { url, from } => Mailer::new(&Target::Smtp(url.clone()), from).map(Some),
        Outgoing::Folder { folder, from } => {
            Mailer::new(&Target::Folder(PathBuf::clone(folder)), from).map(Some)
        }
        Outgoing::Waiting => Ok(None),
    }
}

/// Serves until told to stop, then finishes what is in flight.
///
/// # Errors
/// When the pages can't be served.
pub fn run(app: App, listener: TcpListener, mailer: Option<Mailer>) -> Result<()> {
    let clockwork = Clockwork {
        db: app.db.clone(),
        clock: app.clock.clone(),
        mailer,
        public_url: app.settings.public_url.clone(),
    };
    let _running = clockwork.start();
    actix_web::rt::System::new()
        .block_on(async { web::server::start(app, listener, 2)?.await.map_err(Error::from) })
}
