//! Rows that were ticked on the due list become the beginning of a visit, when they are all in one unit.

use std::collections::BTreeMap;

use super::work;
use crate::domain::register::UnitId;
use crate::domain::visit::Service;
use crate::error::{Error, Result};
use crate::store::spots;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::respond;

/// Leads to the form with the rows chosen.
///
/// # Errors
/// A sentence when nothing was ticked or the rows are in more than one unit.
pub async fn submit(context: Context, form: Form) -> PageResult {
    let Form(fields) = form;
    let chosen = work::chosen(&fields);
    let units: BTreeMap<UnitId, String> = context
        .read(move |conn, actor| {
            let fixtures: Vec<_> = chosen
                .into_iter()
                .filter_map(|service| match service {
                    Service::Check { fixture, .. } => Some(fixture),
                    Service::Repair(_) => None,
                })
                .collect();
            let spots = spots::of_fixtures(conn, &actor.scope, &fixtures)?;
            let named = spots.into_values().map(|spot| {
                let label = format!("{} {}", spot.unit.building.code, spot.unit.label);
                (spot.unit.id, label)
            });
            Ok(named.collect())
        })
        .await?;
    Ok(respond::redirect(&address(only(&units)?, &fields)))
}

fn only(units: &BTreeMap<UnitId, String>) -> Result<UnitId> {
    let mut keys = units.keys();
    match (keys.next(), keys.next()) {
        (Some(unit), None) => Ok(*unit),
        (None, _) => Err(Error::refused(
            "No row is ticked. Go back, tick the checks of one unit, and make the visit then.",
        )),
        (Some(_), Some(_)) => {
            let mut labels: Vec<&str> = units.values().map(String::as_str).collect();
            labels.sort_unstable();
            let shown = labels.iter().take(5).copied().collect::<Vec<_>>().join(", ");
            let more = if labels.len() > 5 { " and more" } else { "" };
            Err(Error::refused(format!(
                "The ticked rows are in {} units: {shown}{more}. A visit goes into one unit: go back and tick the rows of one.",
                labels.len()
            )))
        }
    }
}

fn address(unit: UnitId, fields: &Fields) -> String {
    let mut query = url::form_urlencoded::Serializer::new(String::new());
    query.append_pair("unit", &unit.to_string());
    for item in fields.all("item") {
        query.append_pair("item", item);
    }
    format!("/visits/new?{}", query.finish())
}
