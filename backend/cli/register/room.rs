//! `anglestop register room`.

use clap::Subcommand;

use super::Desk;
use super::place::AtUnit;
use crate::actions::register::add_room;
use crate::actions::register::arrange_rooms::{self, Line};
use crate::domain::register::Room;
use crate::error::{Error, Result};
use crate::store::rooms;

/// What is done with rooms.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Add a room at the end of the walk
    Add {
        #[command(flatten)]
        at: AtUnit,
        /// Name of the room, such as "Hall bath"
        #[arg(long)]
        room: String,
    },
    /// Rename a room, or give it another place in the walk
    Change {
        #[command(flatten)]
        at: AtUnit,
        /// Name of the room now
        #[arg(long)]
        room: String,
        /// Another name
        #[arg(long)]
        name: Option<String>,
        /// Its place in the walk, 1 is first
        #[arg(long, value_name = "NUMBER")]
        place: Option<usize>,
    },
}

pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    match what {
        What::Add { at, room } => {
            let (_, unit) = at.find(desk)?;
            add_room::add(&desk.db, &desk.actor, desk.now, unit.id, room)?;
            eprintln!("Room added.");
            crate::cli::say!("{}", room.trim());
        }
        What::Change {
            at,
            room,
            name,
            place,
        } => {
            let (_, unit) = at.find(desk)?;
            let known = desk.db.read(|conn| rooms::of_unit(conn, unit.id))?;
            let lines = lines(known, room, name.as_deref(), *place)?;
            arrange_rooms::arrange(&desk.db, &desk.actor, desk.now, unit.id, &lines)?;
            eprintln!("Room changed.");
            crate::cli::say!("{}", name.as_deref().unwrap_or(room).trim());
        }
    }
    Ok(())
}

/// Every room in its new order, with the one under its new name.
fn lines(mut rooms: Vec<Room>, wanted: &str, name: Option<&str>, place: Option<usize>) -> Result<Vec<Line>> {
    let lower = wanted.trim().to_lowercase();
    let at = rooms.iter().position(|room| room.name.to_lowercase() == lower);
    let Some(at) = at else {
        let names: Vec<_> = rooms.iter().map(|room| room.name.as_str()).collect();
        return Err(Error::refused(format!(
            "The unit has no room “{}”. It has: {}.",
            wanted.trim(),
            names.join(", ")
        )));
    };
    let mut room = rooms.remove(at);
    if let Some(name) = name {
        name.clone_into(&mut room.name);
    }
    let to = place.map_or(at, |place| place.saturating_sub(1)).min(rooms.len());
    rooms.insert(to, room);
    Ok(rooms
        .into_iter()
        .zip(1_u32..)
        .map(|(room, order)| Line {
            room: room.id,
            name: room.name,
            order: order.to_string(),
        })
        .collect())
}
