//! What entering takes, for the units of the phone. Shown on line and never kept there: the page says so to the browser, and so does this.

use serde::Serialize;

use super::{Answer, json};
use crate::actions::phone::entry;
use crate::web::context::Context;

#[derive(Serialize)]
struct Told {
    units: Vec<Access>,
}

#[derive(Serialize)]
struct Access {
    unit: i64,
    lines: Vec<String>,
}

/// Tells it.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context) -> Answer {
    let now = context.now;
    let all = context.read(move |conn, actor| entry(conn, actor, now)).await?;
    let units = all.into_iter().map(|one| Access {
        unit: one.unit.0,
        lines: one.lines,
    });
    json(&Told {
        units: units.collect(),
    })
}
