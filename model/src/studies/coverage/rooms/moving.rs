//! What a room answers while one sensor of it is being placed or moved.
//!
//! What all other sensors cover stays as it is meanwhile, so it is put together once ([`Moving::in_room`]); then every
//! place of the moving one costs two intersections and the lines of the ways in. The answers are those that the whole
//! study would give.

use super::first_seen::{Entry, View, entries};
use super::lighters::{Lighter, NOTICES_PEOPLE, StaysOn};
use super::ways_in::WayIn;
use super::{RoomCoverage, SensorCoverage};
use crate::building::outline::RoomOutline;
use crate::geometry::{Region, intersection, union_of_regions};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{Room, Sense};

/// A room and what all sensors but the moving one make of it.
#[derive(Clone, Debug)]
pub struct Moving {
    /// The room.
    pub room: Id<Room>,
    sensor: Id<Device>,
    sense: Sense,
    outline: RoomOutline,
    floor: Region,
    /// What the others of the same purpose cover of the floor.
    by_others: Region,
    answers: RoomCoverage,
    ways: Vec<WayIn>,
    lighters: Vec<Lighter>,
    lights: bool,
    others: Vec<(Id<Device>, Region)>,
}

/// What the room answers with the sensor at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WhileMoved {
    /// The share of the floor that the sensor covers by itself, 0 to 1.
    pub alone: f64,
    /// The share that it covers with the others: those that notice people if it does, else those of its own sense.
    pub together: f64,
    /// The worst way in, if the sensor puts the light on; `None` where the room has none, or the sensor does not
    /// notice people.
    pub worst: Option<Entry>,
    /// Whether it does put the light on: by a rule, or because no rule lights the room.
    pub lights: bool,
}

impl Moving {
    /// Prepares a room for a sensor that moves in it. `answers` are the room's answers before it moved, and `sensors`
    /// what the sensors of its level covered; a sensor that no rule names lights the room where no rule does.
    pub fn in_room<'a>(
        answers: &RoomCoverage,
        outline: &RoomOutline,
        sensors: impl IntoIterator<Item = &'a SensorCoverage>,
        (sensor, sense): (Id<Device>, Sense),
    ) -> Self {
        let people = NOTICES_PEOPLE.contains(&sense);
        let counts = |other: Sense| if people { NOTICES_PEOPLE.contains(&other) } else { other == sense };
        let floor = Region { shapes: vec![outline.shape.clone()] };
        let bounds = outline.shape.outer.bounds();
        let near = |region: &Region| matches!((bounds, region.bounds()), (Some(a), Some(b)) if a.overlaps(b));
        let all: Vec<&SensorCoverage> =
            sensors.into_iter().filter(|other| other.device != sensor && near(&other.polygon)).collect();
        let same: Vec<&Region> =
            all.iter().filter(|other| counts(other.sense)).map(|other| &other.polygon).collect();
        let mut lighters = answers.lighters.clone();
        let named = lighters.iter().any(|lighter| lighter.device == sensor);
        let by_rule = lighters.iter().any(|lighter| lighter.rule.is_some());
        if people && !named {
            lighters.push(Lighter { device: sensor, rule: None, stays_on: StaysOn::Unsaid, door: None });
        }
        let lights = |id: Id<Device>| lighters.iter().any(|lighter| lighter.device == id);
        Self {
            room: answers.room,
            sensor,
            sense,
            by_others: intersection(&floor, &union_of_regions(&same)),
            others: all
                .iter()
                .filter(|other| lights(other.device))
                .map(|other| (other.device, other.polygon.clone()))
                .collect(),
            outline: outline.clone(),
            floor,
            lights: named || (people && !by_rule),
            ways: answers.entries.iter().map(|entry| entry.way_in).collect(),
            answers: answers.clone(),
            lighters,
        }
    }

    /// Whether this was prepared for that room and sensor.
    pub fn is_for(&self, room: Id<Room>, sensor: Id<Device>, sense: Sense) -> bool {
        (self.room, self.sensor, self.sense) == (room, sensor, sense)
    }

    /// What the room answers where the sensor covers that.
    pub fn with(&self, polygon: &Region) -> WhileMoved {
        let whole = self.floor.area();
        let covered = intersection(&self.floor, polygon);
        let twice = intersection(&self.by_others, &covered).area();
        let share = |area: f64| if whole > 0.0 { (area / whole).clamp(0.0, 1.0) } else { 0.0 };
        let would_light = self.lighters.iter().any(|lighter| lighter.device == self.sensor);
        let worst = would_light.then(|| {
            let mut views: Vec<View<'_>> = self.others.iter().map(|(id, region)| (*id, region)).collect();
            views.push((self.sensor, polygon));
            entries(&self.ways, (&self.outline, self.answers.middle), &self.lighters, &views).first().copied()
        });
        WhileMoved {
            alone: share(covered.area()),
            together: share(self.by_others.area() + covered.area() - twice),
            worst: worst.flatten(),
            lights: self.lights,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::lighters::lighters;
    use super::super::of_house;
    use super::super::small_rooms::{TwoRooms, door, lit_by_motion, square, two_rooms};
    use super::*;
    use kurbo::Rect;

    fn kitchen(rooms: &TwoRooms, sensors: &[SensorCoverage]) -> RoomCoverage {
        let (whereabouts, project) = (rooms.whereabouts(), &rooms.house.project);
        let lighters = lighters(project, &whereabouts);
        let answers = of_house(project, &whereabouts, &lighters, sensors);
        answers.into_iter().find(|answer| answer.room == rooms.house.kitchen).unwrap()
    }

    #[test]
    fn a_moved_sensor_answers_as_the_whole_study_would() {
        let places = [
            Rect::new(50.0, 50.0, 2000.0, 2950.0),
            Rect::new(1000.0, 1000.0, 5000.0, 1200.0),
            Rect::new(3000.0, 50.0, 3950.0, 2950.0),
            Rect::new(4100.0, 100.0, 5000.0, 200.0),
        ];
        for by_rule in [false, true] {
            let mut rooms = two_rooms();
            rooms.way(600.0, door(square()));
            let mut moved = rooms.sees(1000.0, 1000.0, places[0]);
            let other = rooms.sees(2000.0, 2000.0, Rect::new(1500.0, 50.0, 2500.0, 2950.0));
            if by_rule {
                let lamp = rooms.lamp(1500.0, 1500.0);
                rooms.house.put(lit_by_motion(moved.device, lamp, 60.0));
            }
            let before = kitchen(&rooms, &[moved.clone(), other.clone()]);
            let whereabouts = rooms.whereabouts();
            let outline = whereabouts.outline(&rooms.house.project, rooms.house.kitchen).unwrap();
            let sensors = [moved.clone(), other.clone()];
            let moving = Moving::in_room(&before, outline, &sensors, (moved.device, moved.sense));
            for place in places {
                moved.polygon = Region::from_rect(place);
                let whole = kitchen(&rooms, &[moved.clone(), other.clone()]);
                let answer = moving.with(&moved.polygon);
                let share = whole.floor.shares.get(&Sense::BodyHeat).copied().unwrap_or(0.0);
                assert!((answer.together - share).abs() < 1e-6, "{answer:?} {share}");
                assert!(answer.lights);
                assert_eq!(answer.worst, whole.entries.first().copied(), "by rule: {by_rule}");
            }
        }
    }

    #[test]
    fn a_new_sensor_lights_a_room_that_no_rule_lights() {
        let mut rooms = two_rooms();
        rooms.way(1500.0, door(square()));
        let before = kitchen(&rooms, &[]);
        let new = rooms.sees(1000.0, 1000.0, Rect::new(50.0, 50.0, 2000.0, 2950.0));
        let whereabouts = rooms.whereabouts();
        let outline = whereabouts.outline(&rooms.house.project, rooms.house.kitchen).unwrap();
        let moving = Moving::in_room(&before, outline, [], (new.device, new.sense));
        let answer = moving.with(&new.polygon);
        assert!((answer.alone - 0.5).abs() < 1e-9 && answer.alone == answer.together);
        let seen = answer.worst.unwrap().first_seen().unwrap();
        assert!((seen.after.as_mm() - 1950.0).abs() < 0.01 && seen.by == new.device && answer.lights);
        // Where a rule lights it by another, the answer is what it would be if the new one did so too.
        let other = rooms.sees(3000.0, 1000.0, Rect::new(50.0, 50.0, 100.0, 2950.0));
        let lamp = rooms.lamp(1500.0, 1500.0);
        rooms.house.put(lit_by_motion(other.device, lamp, 60.0));
        let before = kitchen(&rooms, std::slice::from_ref(&other));
        let whereabouts = rooms.whereabouts();
        let outline = whereabouts.outline(&rooms.house.project, rooms.house.kitchen).unwrap();
        let moving = Moving::in_room(&before, outline, [&other], (new.device, new.sense));
        let answer = moving.with(&new.polygon);
        let seen = answer.worst.unwrap().first_seen().unwrap();
        assert!((seen.after.as_mm() - 1950.0).abs() < 0.01 && seen.by == new.device && !answer.lights);
    }
}
