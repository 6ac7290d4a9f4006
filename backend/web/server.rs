//! Starts the server on a listener that was opened before, with the same limits for every page.

use std::net::TcpListener;
use std::time::Duration;

use actix_web::error::InternalError;
use actix_web::middleware::{Compress, from_fn};
use actix_web::{App as Service, HttpServer, web};

use super::error::PageError;
use super::{App, gate, routes};
use crate::error::{Error, Result};

/// Longest form, bytes.
const FORM_LIMIT_BYTES: usize = 2 * 1024 * 1024;

/// Serves until the process is told to stop; then finishes what is in flight.
///
/// # Errors
/// When the listener can't be served.
pub fn start(app: App, listener: TcpListener, workers: usize) -> Result<actix_web::dev::Server> {
    let server = HttpServer::new(move || {
        Service::new()
            .app_data(web::Data::new(app.clone()))
            .app_data(web::PayloadConfig::new(FORM_LIMIT_BYTES))
            .app_data(web::PathConfig::default().error_handler(|_, request| {
                // An address whose key is no number names nothing, like one whose number is not there.
                let page = PageError::from(Error::not_found("such page")).answer(request);
                InternalError::from_response("no such page", page).into()
            }))
            .app_data(web::FormConfig::default().limit(FORM_LIMIT_BYTES))
            .wrap(from_fn(gate::guard))
            .wrap(from_fn(gate::headers))
            .wrap(Compress::default())
            .configure(routes::configure)
            .default_service(web::to(super::pages::missing::show))
    })
    .workers(workers)
    .client_request_timeout(Duration::from_secs(10))
    .shutdown_timeout(25)
    .listen(listener)
    .map_err(Error::internal)?;
    Ok(server.run())
}
