//! Where a request comes from, as far as it matters for counting tries and for the list of sessions.

use std::net::IpAddr;

use actix_web::HttpRequest;

use crate::actions::people::sign_in;
use crate::actions::people::throttle::Origin;

/// The network address that a request came from. A proxy on the same machine says it in the last entry of `X-Forwarded-For`;
/// from anywhere else that header is not believed.
#[must_use]
pub fn of(request: &HttpRequest) -> Origin {
    let peer = request.peer_addr().map(|address| address.ip());
    let forwarded = request
        .headers()
        .get_all("x-forwarded-for")
        .last()
        .and_then(|value| value.to_str().ok())
        .and_then(|text| text.rsplit(',').next())
        .and_then(|entry| entry.trim().parse::<IpAddr>().ok());
    match (peer, forwarded) {
        (Some(peer), Some(forwarded)) if peer.is_loopback() => Origin(Some(forwarded)),
        _ => Origin(peer),
    }
}

/// What the browser calls itself, cut.
#[must_use]
pub fn agent(request: &HttpRequest) -> String {
    sign_in::agent_of(
        request
            .headers()
            .get("user-agent")
            .and_then(|value| value.to_str().ok()),
    )
}
