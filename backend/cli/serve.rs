//! `anglestop serve`: pages and jobs in one process.

use std::net::TcpListener;
use std::sync::Arc;

use clap::Args;

use super::Setting;
use crate::clock::Clock;
use crate::error::{Error, Result};
use crate::web::{self, App, Mode, Settings};

/// Options of `serve`.
#[derive(Debug, Args)]
pub struct Options {
    /// Address and port to listen on
    #[arg(long, default_value = "127.0.0.1:8080")]
    listen: String,
    /// The address that people type, for links in mails; http://LISTEN when not given
    #[arg(long, env = "ANGLESTOP_PUBLIC_URL")]
    public_url: Option<String>,
}

/// Serves until told to stop.
///
/// # Errors
/// When the address is taken or the database can't be opened.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open()?;
    let listener = TcpListener::bind(&options.listen).map_err(|cause| {
        Error::refused(format!(
            "{} can't be listened on: {cause}. Choose another with --listen.",
            options.listen
        ))
    })?;
    let public_url = options
        .public_url
        .clone()
        .unwrap_or_else(|| format!("http://{}", options.listen));
    let settings = Settings {
        public_url: public_url.trim_end_matches('/').to_owned(),
        mode: Mode::Office,
    };
    let app = App {
        db,
        clock: Clock::System,
        settings: Arc::new(settings),
    };
    eprintln!("Anglestop serves {public_url}");
    actix_web::rt::System::new()
        .block_on(async { web::server::start(app, listener, 2)?.await.map_err(Error::from) })
}
