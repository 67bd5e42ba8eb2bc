//! The shortest way through a storey on foot: from room to room through its doors and openings.
//!
//! Within a room, and over the lines to rooms that no wall parts from it, the way goes straight, round the corners of the
//! walls; joinery is walked through, for where a piece
//! stands loose is not known. A window is no way. A storey is gone through on its own: stairs end a way here.

use std::collections::BTreeMap;

use kurbo::Point;

use crate::building::outline::{RoomOutline, enclosed_spaces, room_at, room_outlines};
use crate::geometry::Floor;
use crate::id::Id;
use crate::plan::{Level, Opening, OpeningForm, Room, Side};
use crate::project::Project;

/// How far before the face of its wall a way leaves an opening, mm.
const OFF_FACE_MM: f64 = 1.0;

/// An opening that one can walk through.
#[derive(Clone, Debug, PartialEq)]
pub struct Doorway {
    /// The opening.
    pub opening: Id<Opening>,
    /// Whether a leaf can shut it.
    pub has_leaf: bool,
    /// A touch before either face of its wall, at its middle: on the left of the wall's axis, and on its right.
    pub sides: [Point; 2],
    /// The room on either side; `None` outdoors.
    pub rooms: [Option<Id<Room>>; 2],
}

/// A way on foot.
#[derive(Clone, Debug, PartialEq)]
pub struct FootWay {
    /// Its corners, both ends included, mm.
    pub points: Vec<Point>,
    /// The doorways it goes through, by their places in [`StoreyWays::doorways`].
    pub through: Vec<usize>,
    /// How long it is, mm.
    pub length: f64,
}

/// Rooms of a storey, with the ways between them.
pub struct StoreyWays {
    rooms: BTreeMap<Id<Room>, RoomOutline>,
    /// The floors between walls that hold a room, or several.
    floors: Vec<Floor>,
    /// The floor on either side of each doorway.
    joins: Vec<[Option<usize>; 2]>,
    /// Every doorway, by opening.
    pub doorways: Vec<Doorway>,
}

impl StoreyWays {
    /// The ways of a storey.
    pub fn of_level(project: &Project, level: Id<Level>) -> Self {
        let rooms = room_outlines(project, level);
        let has_room =
            |space: &RoomOutline| project.rooms_on(level).any(|(_, room)| space.contains(room.seed));
        let spaces = enclosed_spaces(project, level).into_iter().filter(has_room);
        let floors: Vec<Floor> = spaces.filter_map(|space| Floor::new(&space.shape)).collect();
        let doorways: Vec<Doorway> = project
            .openings_on(level)
            .filter(|(_, opening, _)| !matches!(opening.form, OpeningForm::Window { .. }))
            .map(|(id, opening, wall)| {
                let sides = [Side::Left, Side::Right]
                    .map(|side| wall.on_face(opening.centre, side) + wall.normal(side) * OFF_FACE_MM);
                Doorway {
                    opening: id,
                    has_leaf: matches!(opening.form, OpeningForm::Door { .. }),
                    sides,
                    rooms: sides.map(|at| room_at(&rooms, at)),
                }
            })
            .collect();
        let floor_at = |at: Point| floors.iter().position(|floor| floor.contains(at));
        let joins = doorways.iter().map(|doorway| doorway.sides.map(floor_at)).collect();
        Self { rooms, floors, joins, doorways }
    }

    /// The room in which a point lies.
    pub fn room_at(&self, point: Point) -> Option<Id<Room>> {
        room_at(&self.rooms, point)
    }

    /// The shortest way from one point to another; `None` where either lies in no room, or no doors lead there.
    pub fn shortest(&self, from: Point, to: Point) -> Option<FootWay> {
        let floor_at = |at: Point| self.floors.iter().position(|floor| floor.contains(at));
        let (first, last) = (floor_at(from)?, floor_at(to)?);
        let start = FootWay { points: vec![from], through: Vec::new(), length: 0.0 };
        let mut arrived = if first == last { longer(self, first, &start, to) } else { None };
        let mut search = Search::default();
        search.spread(self, first, &start);
        while let Some((index, side, way)) = search.nearest() {
            if arrived.as_ref().is_some_and(|arrived| arrived.length <= way.length) {
                break;
            }
            let doorway = &self.doorways[index];
            let Some(floor) = self.joins[index][1 - side] else { continue };
            let way = way.through(index, doorway, 1 - side);
            if floor == last
                && let Some(found) = longer(self, floor, &way, to)
                && arrived.as_ref().is_none_or(|arrived| found.length < arrived.length)
            {
                arrived = Some(found);
            }
            search.spread(self, floor, &way);
        }
        arrived
    }

    /// The way on one floor between walls, both ends included.
    fn within(&self, floor: usize, from: Point, to: Point) -> Option<Vec<Point>> {
        self.floors.get(floor)?.reach_from(&[from]).way_to(to)
    }
}

impl FootWay {
    /// Gone on through a doorway to its side `beyond`.
    fn through(mut self, index: usize, doorway: &Doorway, beyond: usize) -> Self {
        self.length += doorway.sides[0].distance(doorway.sides[1]);
        self.points.push(doorway.sides[beyond]);
        self.through.push(index);
        self
    }
}

/// The shortest way to each side of each doorway found so far, and whether it has been gone on from (Dijkstra, “A note
/// on two problems in connexion with graphs”, 1959).
#[derive(Default)]
struct Search {
    reached: BTreeMap<(usize, usize), (FootWay, bool)>,
}

impl Search {
    /// Takes a way to every doorway of the floor that it stands on.
    fn spread(&mut self, ways: &StoreyWays, floor: usize, so_far: &FootWay) {
        for (index, doorway) in ways.doorways.iter().enumerate() {
            for side in 0..2 {
                if ways.joins[index][side] != Some(floor) || so_far.through.contains(&index) {
                    continue;
                }
                let Some(way) = longer(ways, floor, so_far, doorway.sides[side]) else { continue };
                let known = self.reached.get(&(index, side));
                if known.is_none_or(|(known, _)| way.length < known.length) {
                    self.reached.insert((index, side), (way, false));
                }
            }
        }
    }

    /// The nearest side of a doorway that has not been gone on from, with the way to it.
    fn nearest(&mut self) -> Option<(usize, usize, FootWay)> {
        let waiting = self.reached.iter_mut().filter(|(_, (_, done))| !done);
        let ((index, side), (way, done)) = waiting.min_by(|a, b| a.1.0.length.total_cmp(&b.1.0.length))?;
        *done = true;
        Some((*index, *side, way.clone()))
    }
}

/// A way gone on on one floor.
fn longer(ways: &StoreyWays, floor: usize, so_far: &FootWay, to: Point) -> Option<FootWay> {
    let from = *so_far.points.last()?;
    let onward = ways.within(floor, from, to)?;
    let mut way = so_far.clone();
    way.length += onward.windows(2).map(|pair| pair[0].distance(pair[1])).sum::<f64>();
    way.points.extend(onward.into_iter().skip(1));
    Some(way)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::RoomLine;
    use crate::small_house::bare_house;
    use crate::small_house::drawn_rooms::two_rooms;

    #[test]
    fn a_way_goes_through_the_door_between_two_rooms() {
        let (house, _) = two_rooms();
        let ways = StoreyWays::of_level(&house.project, house.ground);
        // The door is in the wall at x 4000 at y 1500: straight through from (1000, 1500) to (6000, 1500).
        let way = ways.shortest(Point::new(1000.0, 1500.0), Point::new(6000.0, 1500.0)).unwrap();
        assert!((way.length - 5000.0).abs() < 1e-6, "{way:?}");
        assert_eq!(way.through.len(), 1);
        assert!(ways.doorways[way.through[0]].has_leaf);
        let bent = ways.shortest(Point::new(1000.0, 1500.0), Point::new(4051.0, 2500.0)).unwrap();
        assert!((bent.length - (3051.0 + 1000.0)).abs() < 1e-6, "{bent:?}");
    }

    #[test]
    fn without_a_door_there_is_no_way() {
        let house = bare_house();
        let ways = StoreyWays::of_level(&house.project, house.ground);
        assert!(ways.shortest(Point::new(1000.0, 1500.0), Point::new(9000.0, 1500.0)).is_none());
        let way = ways.shortest(Point::new(1000.0, 500.0), Point::new(1000.0, 2500.0)).unwrap();
        assert_eq!((way.length, way.through.len()), (2000.0, 0));
    }

    #[test]
    fn a_line_between_rooms_is_stepped_over() {
        let mut house = bare_house();
        let level = house.ground;
        house.put(RoomLine { level, start: Point::new(0.0, 1000.0), end: Point::new(4000.0, 1000.0) });
        let ways = StoreyWays::of_level(&house.project, level);
        let (here, there) = (Point::new(1000.0, 2500.0), Point::new(1000.0, 500.0));
        // The floor below the line has no name yet, and is walked on all the same.
        assert_eq!((ways.room_at(here), ways.room_at(there)), (Some(house.kitchen), None));
        assert_eq!(ways.shortest(here, there).unwrap().length, 2000.0);
    }
}
