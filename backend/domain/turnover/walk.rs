//! A checklist cut for showing: rooms, in each the groups of the walk, in each the places. Decides no order; the checklist's stands.

use super::checklist::Checklist;
use super::facts::Place;
use super::item::Item;
use crate::domain::trade::{Group, TurnoverStage};

/// The items at one place within a group.
#[derive(Debug, Clone)]
pub struct PlaceWalk<'a> {
    /// The place.
    pub place: &'a Place,
    /// Its items.
    pub items: Vec<&'a Item>,
}

/// One group of a room.
#[derive(Debug, Clone)]
pub struct GroupWalk<'a> {
    /// Look, water or measure.
    pub group: Group,
    /// Its places.
    pub places: Vec<PlaceWalk<'a>>,
}

/// One room.
#[derive(Debug, Clone)]
pub struct RoomWalk<'a> {
    /// Its name; empty for places without a room.
    pub room: &'a str,
    /// Its groups.
    pub groups: Vec<GroupWalk<'a>>,
}

impl GroupWalk<'_> {
    /// Its items.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.places.iter().flat_map(|place| place.items.iter().copied())
    }
}

impl Checklist {
    /// The walk through the parts of these stages.
    #[must_use]
    pub fn walk(&self, stages: &[TurnoverStage]) -> Vec<RoomWalk<'_>> {
        let mut rooms: Vec<RoomWalk<'_>> = Vec::new();
        for item in self.items.iter().filter(|item| stages.contains(&item.key.stage)) {
            let Some(place) = self.places.get(item.place) else {
                continue;
            };
            if rooms.last().is_none_or(|last| last.room != place.room) {
                rooms.push(RoomWalk {
                    room: &place.room,
                    groups: Vec::new(),
                });
            }
            if let Some(room) = rooms.last_mut() {
                put(&mut room.groups, place, item);
            }
        }
        rooms
    }
}

fn put<'a>(groups: &mut Vec<GroupWalk<'a>>, place: &'a Place, item: &'a Item) {
    if groups.last().is_none_or(|last| last.group != item.check.group) {
        groups.push(GroupWalk {
            group: item.check.group,
            places: Vec::new(),
        });
    }
    let Some(group) = groups.last_mut() else {
        return;
    };
    match group.places.last_mut().filter(|last| last.place.tag == place.tag) {
        Some(last) => last.items.push(item),
        None => group.places.push(PlaceWalk {
            place,
            items: vec![item],
        }),
    }
}
