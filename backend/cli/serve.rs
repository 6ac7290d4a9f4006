//! `anglestop serve`: pages and jobs in one process.

use clap::Args;

use super::{Setting, host};
use crate::actions::people::set_up;
use crate::clock::Clock;
use crate::config::{self, Outgoing};
use crate::error::Result;
use crate::web::{App, Mode, Settings};

/// Options of `serve`.
#[derive(Debug, Args)]
pub struct Options {
    /// Address and port to listen on; else from ANGLESTOP_LISTEN, else 127.0.0.1:8080
    #[arg(long)]
    listen: Option<String>,
    /// The address that people type, for links in mails; else from ANGLESTOP_PUBLIC_URL, else http://LISTEN
    #[arg(long)]
    public_url: Option<String>,
}

/// Serves until told to stop.
///
/// # Errors
/// When the address is taken, the database can't be opened, or mail is configured in a way that can't work.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let outgoing = config::outgoing()?;
    let mailer = host::mailer(&outgoing)?;
    let db = setting.open_to_serve()?;
    let listen = config::value("listen", options.listen.as_deref())?.text;
    let listener = host::listen(&listen)?;
    let public_url = config::public_url(options.public_url.as_deref(), &listen)?;
    let settings = Settings {
        public_url: public_url.clone(),
        mode: Mode::Office,
    };
    eprintln!("Anglestop serves {public_url}. Stop it with Ctrl-C.");
    if let Some(link) = set_up::offer(&db, Clock::System.now(), &public_url)? {
        eprintln!(
            "There is nobody here yet. Whoever opens this link first becomes the first manager; it works once, for a day:"
        );
        crate::cli::say!("{link}");
    }
    if matches!(outgoing, Outgoing::Waiting) {
        eprintln!("Mails wait: set ANGLESTOP_SMTP_URL and ANGLESTOP_MAIL_FROM to send them.");
    }
    host::run(App::new(db, Clock::System, settings), listener, mailer)
}
