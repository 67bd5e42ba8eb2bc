//! Mark a spot: one click, at what the room suggests; its card then says what it is and how high.

use kurbo::Point;
use pattress_model::building::outline::room_at;
use pattress_model::edit::verbs;
use pattress_model::plan::{RoomUse, Spot, SpotUse};

use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// The tool that marks spots.
#[derive(Default)]
pub struct MarkSpot {
    would_be: Option<SpotUse>,
    ghost: Ghost,
}

/// What a spot of a room is most often; outside every room it is something for a camera to show.
fn suggested(room_use: Option<RoomUse>) -> SpotUse {
    match room_use {
        Some(RoomUse::Kitchen) => SpotUse::Cooker,
        Some(RoomUse::Bedroom) => SpotUse::BedHead,
        Some(RoomUse::Bathroom | RoomUse::Cloakroom) => SpotUse::Basin,
        Some(RoomUse::Study | RoomUse::Dining) => SpotUse::Desk,
        Some(RoomUse::Utility) => SpotUse::WaterRisk,
        Some(RoomUse::Plant) => SpotUse::FuelAppliance,
        Some(RoomUse::Outside) | None => SpotUse::ToBeSeen,
        Some(_) => SpotUse::Seat,
    }
}

impl MarkSpot {
    fn use_at(at: Point, around: &Around<'_>) -> SpotUse {
        let room = room_at(&around.figures.outlines, at);
        suggested(room.and_then(|room| around.project().rooms.get(room)).map(|room| room.room_use))
    }
}

impl Tool for MarkSpot {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.ghost = Ghost::default();
        self.would_be = None;
        if touch.gesture == Gesture::Away {
            return Vec::new();
        }
        let at = Point::new(around.stepped(touch.at.x), around.stepped(touch.at.y));
        let spot_use = Self::use_at(at, around);
        self.ghost.mark = Some(at);
        self.ghost.notes.push((at, spot_use.name().to_owned()));
        self.would_be = Some(spot_use);
        if !matches!(touch.gesture, Gesture::Click | Gesture::Drop) {
            return Vec::new();
        }
        let spot = Spot {
            level: around.level(),
            name: String::new(),
            spot_use,
            at,
            height_affl: spot_use.usual_height(),
        };
        vec![Intent::Change(verbs::mark_spot(around.project(), spot))]
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        match self.would_be {
            Some(spot_use) => {
                format!("Click to mark this spot ({}); its card says what it is.", spot_use.name())
            }
            None => "Click where somebody sits or sleeps, or what matters to a sensor.".to_owned(),
        }
    }
}
