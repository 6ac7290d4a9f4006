//! The rooms of a unit: adding one, renaming, and the order of the walk.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::words;
use crate::actions::register::{add_room, arrange_rooms};
use crate::domain::register::{Building, Room, Unit, UnitId};
use crate::error::{FieldError, Result};
use crate::language::Language;
use crate::store::{AnyConnection, rooms, units};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/units/rooms.html")]
struct Rooms {
    chrome: Chrome,
    key: i64,
    building: String,
    unit: String,
    lines: Vec<Line>,
    room: String,
    errors: Vec<FieldError>,
}

struct Line {
    name_field: String,
    order_field: String,
    name: String,
    order: String,
}

/// Shows the rooms.
///
/// # Errors
/// When there is no such unit.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let page = page(&context, &request, UnitId(*key), (Fields::default(), Vec::new())).await?;
    respond::page(&page)
}

/// Adds a room, or renames and reorders those that are there: the button says which.
///
/// # Errors
/// When there is no such unit.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let id = UnitId(*key);
    let typed = form.0.clone();
    let done = context
        .act(move |db, actor, now| {
            if typed.has("room") {
                add_room::add(db, actor, now, id, typed.text("room"))?;
                return Ok("Room added.");
            }
            let known = db.read(|conn| {
                units::by_key(conn, &actor.scope, id)?;
                rooms::of_unit(conn, id)
            })?;
            let lines: Vec<_> = known.iter().map(|room| line_of(room, &typed)).collect();
            arrange_rooms::arrange(db, actor, now, id, &lines)?;
            Ok("Rooms saved.")
        })
        .await;
    match done {
        Ok(said) => Ok(respond::redirect_saying(&format!("/units/{id}/rooms"), said)),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, id, (form.0, errors)).await?)
        }
    }
}

fn line_of(room: &Room, typed: &Fields) -> arrange_rooms::Line {
    let (name, order) = (format!("name-{}", room.id), format!("order-{}", room.id));
    arrange_rooms::Line {
        room: room.id,
        name: if typed.has(&name) {
            typed.text(&name).to_owned()
        } else {
            room.name.clone()
        },
        order: typed.text(&order).to_owned(),
    }
}

async fn page(
    context: &Context,
    request: &HttpRequest,
    id: UnitId,
    (typed, errors): (Fields, Vec<FieldError>),
) -> Result<Rooms, PageError> {
    let (building, unit, rooms) = context
        .read(move |conn, actor| {
            let (building, unit) = units::by_key(conn, &actor.scope, id)?;
            load(conn, building, unit)
        })
        .await?;
    let lines = rooms
        .iter()
        .map(|room| {
            let (name_field, order_field) = (format!("name-{}", room.id), format!("order-{}", room.id));
            let kept = |field: &str, now: String| {
                if typed.has(field) {
                    typed.text(field).to_owned()
                } else {
                    now
                }
            };
            Line {
                name: kept(&name_field, room.name.clone()),
                order: kept(&order_field, room.walk_order.to_string()),
                name_field,
                order_field,
            }
        })
        .collect();
    Ok(Rooms {
        chrome: Chrome::new(context, request, "Rooms"),
        key: unit.id.0,
        building: building.facts.code,
        unit: words::heading(Language::ENGLISH, &unit.facts),
        lines,
        room: typed.text("room").to_owned(),
        errors,
    })
}

fn load(conn: &mut AnyConnection, building: Building, unit: Unit) -> Result<(Building, Unit, Vec<Room>)> {
    let rooms = rooms::of_unit(conn, unit.id)?;
    Ok((building, unit, rooms))
}
