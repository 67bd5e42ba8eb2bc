//! Plain houses of any size, the same on every run, for benchmarks and trials at scale.
//!
//! Rooms stand in a grid, 3 to 5 m each way; neighbours share their walls and open into each other. Every room
//! has a door contact, a plate, a detector and downlights; every few rooms make a lighting zone with a rule.

use kurbo::Point;
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::plan::{MakeUp, RoomUse};
use pattress_model::project::{Project, Site};
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Setting, Target, Trigger, Value,
    ZonePurpose,
};
use pattress_model::units::Seconds;

use crate::builder::{House, Way};
use crate::generator_kit;

/// Thickness of every wall of a generated house, mm.
const WALL_MM: f64 = 100.0;

/// Rooms whose downlights make one zone.
const ROOMS_IN_A_ZONE: usize = 4;

/// A house of so many rooms, each with two downlights, a detector, a plate and a contact.
pub fn house_of(rooms: usize) -> Project {
    house_with(rooms, 2)
}

/// A house of at least so many walls and so many devices.
pub fn house_of_walls_and_devices(walls: usize, devices: usize) -> Project {
    let mut rooms = 1;
    while Grid::of(rooms).count_walls() < walls {
        rooms += 1;
    }
    // Beside its downlights every room has a contact, a plate and a detector.
    let downlights = devices.div_ceil(rooms).saturating_sub(3).max(1);
    house_with(rooms, downlights)
}

/// A house of so many rooms with so many rules: keys, holds, times and links from one thing to another, each at points
/// of its own as far as they go.
pub fn house_with_rules(rooms: usize, rules: usize) -> Project {
    let mut project = house_of(rooms);
    let of_code = |code: &str| -> Vec<Id<Device>> {
        let devices = project.devices.iter().filter(|(_, device)| device.tag.code == code);
        devices.map(|(id, _)| id).collect()
    };
    let (plates, lamps) = (of_code("PL"), of_code("DL"));
    let rooms: Vec<_> = project.rooms.ids().collect();
    let first = project.next_id();
    let ops = (0..rules).map(|number| {
        let lamp = Target::Point(PointRef::new(lamps[number % lamps.len()], "level"));
        let plate = plates[number / 20 % plates.len()];
        let key = PointRef::new(plate, format!("key {}", number % 4 + 1));
        let body = match number % 4 {
            0 | 1 => RuleBody::When {
                trigger: Trigger::Event { point: key, gesture: Gesture::ALL[1 + number / 4 % 5] },
                conditions: vec![Condition::Dark],
                actions: vec![Action::new(Some(lamp), Deed::Set(Value::Number((number % 100) as f64)))],
            },
            2 => RuleBody::While {
                conditions: vec![Condition::Daylight],
                linger: Seconds(60.0),
                settings: vec![Setting { target: lamp, value: Value::Number(40.0), fade: Seconds(1.0) }],
                rank: (number % 250) as u8,
                yields_to_hand: true,
            },
            _ => RuleBody::When {
                trigger: Trigger::Becomes {
                    point: PointRef::new(lamps[(number + 1) % lamps.len()], "level"),
                    comparison: Comparison::Is,
                    value: Value::Number(7.0),
                },
                conditions: Vec::new(),
                actions: vec![Action::new(Some(lamp), Deed::Set(Value::Number(8.0)))],
            },
        };
        let rule = Rule {
            name: format!("Rule {number}"),
            room: Some(rooms[number % rooms.len()]),
            enabled: true,
            comment: String::new(),
            body,
        };
        Op::put(Id::from_number(first + number as u32), rule)
    });
    let change = Change::new("Write rules", ops.collect());
    History::default().apply(&mut project, change).expect("a sound house");
    project
}

/// The grid in which rooms stand: filled row by row, the last row perhaps in part.
struct Grid {
    rooms: usize,
    columns: usize,
    /// x of the wall axes.
    xs: Vec<f64>,
    /// y of the wall axes.
    ys: Vec<f64>,
}

impl Grid {
    fn of(rooms: usize) -> Self {
        let columns = (1..).find(|side| side * side >= rooms).unwrap_or(1);
        let rows = rooms.div_ceil(columns);
        Self { rooms, columns, xs: axes(columns, 7), ys: axes(rows, 5) }
    }

    fn has(&self, column: isize, row: isize) -> bool {
        let inside = column >= 0 && row >= 0 && (column as usize) < self.columns;
        inside && (row as usize * self.columns + column as usize) < self.rooms
    }

    /// Every wall between two axes' crossings: its ends, and whether rooms lie on both of its sides.
    fn wall_axes(&self) -> Vec<(Point, Point, bool)> {
        let mut found = Vec::new();
        let (columns, rows) = (self.xs.len() as isize - 1, self.ys.len() as isize - 1);
        for row in 0..=rows {
            for column in 0..=columns {
                let corner = Point::new(self.xs[column as usize], self.ys[row as usize]);
                let (here, below, left) =
                    (self.has(column, row), self.has(column, row - 1), self.has(column - 1, row));
                if here || below {
                    let next = Point::new(self.xs[column as usize + 1], corner.y);
                    found.push((corner, next, here && below));
                }
                if here || left {
                    let next = Point::new(corner.x, self.ys[row as usize + 1]);
                    found.push((corner, next, here && left));
                }
            }
        }
        found
    }

    fn count_walls(&self) -> usize {
        self.wall_axes().len()
    }
}

/// Axes of walls for so many rooms in a row, each 3.0 to 5.0 m from the one before.
fn axes(count: usize, stride: usize) -> Vec<f64> {
    let mut at = 0.0;
    let mut places = vec![at];
    for index in 0..count {
        at += 3000.0 + 250.0 * ((index * stride) % 9) as f64;
        places.push(at);
    }
    places
}

fn house_with(rooms: usize, downlights_in_a_room: usize) -> Project {
    let grid = Grid::of(rooms.max(1));
    let site = Site { project_name: format!("House of {rooms} rooms"), ..Site::default() };
    let mut house = House::new(site, generator_kit::kind);
    for (start, end, _) in grid.wall_axes() {
        house.walls(WALL_MM, MakeUp::Stud, &[(start.x, start.y), (end.x, end.y)]);
    }
    let mut zone_lights: Vec<Id<Device>> = Vec::new();
    let mut zone_detectors: Vec<Id<Device>> = Vec::new();
    for number in 0..grid.rooms {
        let furnished = furnish(&mut house, &grid, number, downlights_in_a_room);
        zone_lights.extend(furnished.lights);
        zone_detectors.push(furnished.detector);
        if (number + 1) % ROOMS_IN_A_ZONE == 0 || number + 1 == grid.rooms {
            light_by_motion(&mut house, number / ROOMS_IN_A_ZONE + 1, &zone_lights, &zone_detectors);
            zone_lights.clear();
            zone_detectors.clear();
        }
    }
    house.finish()
}

/// What a zone needs of a room.
struct Furnished {
    lights: Vec<Id<Device>>,
    detector: Id<Device>,
}

/// Names a room, opens it to its neighbour and the sky, and places its devices.
fn furnish(house: &mut House, grid: &Grid, number: usize, downlights: usize) -> Furnished {
    let (column, row) = (number % grid.columns, number / grid.columns);
    let (x0, x1) = (grid.xs[column], grid.xs[column + 1]);
    let (y0, y1) = (grid.ys[row], grid.ys[row + 1]);
    let half_wall = WALL_MM / 2.0;
    let (middle_x, middle_y) = ((x0 + x1) / 2.0, (y0 + y1) / 2.0);
    house.room(&format!("Room {}", number + 1), RoomUse::ALL[number % 7], (middle_x, middle_y));
    // Rooms of a row open to the left; the first of each row opens to the row below, the very first outdoors.
    if column > 0 {
        house.door((x0, y0 + 800.0), 838.0, Way::Down, Way::Right);
        house.on_wall("contact-door", "", (x0 + half_wall, y0 + 1350.0), Way::Right, 1950.0);
        house.on_wall("plate-4", "", (x0 + half_wall, y0 + 1700.0), Way::Right, 1100.0);
    } else {
        house.door((x0 + 800.0, y0), 838.0, Way::Left, Way::Up);
        house.on_wall("contact-door", "", (x0 + 1350.0, y0 + half_wall), Way::Up, 1950.0);
        house.on_wall("plate-4", "", (x0 + 1700.0, y0 + half_wall), Way::Up, 1100.0);
    }
    if !grid.has(column as isize, row as isize + 1) {
        house.window((middle_x, y1), 1200.0, 900.0, 2100.0);
    }
    let detector = if number.is_multiple_of(2) {
        house.on_wall_turned("pir-wall", "", (x1 - 150.0, y1 - half_wall), Way::Down, 2200.0, -45.0)
    } else {
        house.on_ceiling("presence-ceiling", "", (middle_x, middle_y))
    };
    let columns = downlights.min(3);
    let rows = downlights.div_ceil(columns);
    let clear = [x0 + half_wall, y0 + half_wall, x1 - half_wall, y1 - half_wall];
    let lights = house.downlights("downlight", clear, columns, rows);
    Furnished { lights, detector }
}

/// A zone of luminaires that a zone of detectors holds on.
fn light_by_motion(house: &mut House, number: usize, lights: &[Id<Device>], detectors: &[Id<Device>]) {
    let lit = house.zone(&format!("Lights {number}"), ZonePurpose::Lighting, lights, "level");
    let watched = house.zone(&format!("Watch {number}"), ZonePurpose::FullSet, detectors, "motion");
    house.rule(
        &format!("Light {number} by motion"),
        None,
        RuleBody::While {
            conditions: vec![Condition::AnyOf(watched), Condition::Dark],
            linger: Seconds(300.0),
            settings: vec![Setting {
                target: Target::Zone(lit),
                value: Value::Number(60.0),
                fade: Seconds(1.0),
            }],
            rank: 1,
            yields_to_hand: true,
        },
    );
    if let Some(detector) = detectors.first() {
        let motion = house.point(*detector, "motion");
        house.rule(
            &format!("Light {number} at night"),
            None,
            RuleBody::While {
                conditions: vec![Condition::Point {
                    point: motion,
                    comparison: Comparison::Is,
                    value: Value::On,
                }],
                linger: Seconds(60.0),
                settings: vec![Setting {
                    target: Target::Zone(lit),
                    value: Value::Number(10.0),
                    fade: Seconds(2.0),
                }],
                rank: 0,
                yields_to_hand: true,
            },
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pattress_model::building::outline::room_outlines;
    use pattress_model::edit::invariant::check_all;

    #[test]
    fn every_room_is_enclosed_and_holds_five_devices() {
        for rooms in [1, 2, 5, 12] {
            let house = house_of(rooms);
            let level = house.levels.ids().next().unwrap();
            assert_eq!(room_outlines(&house, level).len(), rooms);
            assert_eq!(house.devices.len(), rooms * 5, "{rooms} rooms");
            assert_eq!(check_all(&house), []);
        }
    }

    #[test]
    fn a_house_is_the_same_each_time() {
        assert_eq!(house_of(9), house_of(9));
    }

    #[test]
    fn a_house_has_at_least_the_walls_and_devices_asked_for() {
        let house = house_of_walls_and_devices(1000, 2000);
        assert!((1000..1100).contains(&house.walls.len()), "{} walls", house.walls.len());
        assert!((2000..2500).contains(&house.devices.len()), "{} devices", house.devices.len());
        assert!(house.zones.len() > 100 && house.rules.len() > 100);
    }
}
