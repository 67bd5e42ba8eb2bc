//! Rooms, doors and spots for tests, drawn into a small house with a line each.

use kurbo::Point;

use super::{SmallHouse, bare_house};
use crate::edit::{Change, History, Op};
use crate::id::Id;
use crate::kit::{Device, Kind, Mount};
use crate::plan::{DoorState, Hand, MakeUp, Opening, OpeningForm, Room, RoomUse, Side, Spot, SpotUse, Wall};
use crate::project::{Kept, Site};
use crate::systems::{PointRef, Zone, ZonePurpose};
use crate::units::Length;

/// Walls of a drawn room, mm thick.
const THICK: f64 = 100.0;

impl SmallHouse {
    /// A block wall of the ground floor, ceiling high.
    pub(crate) fn wall(&mut self, from: (f64, f64), to: (f64, f64)) -> Id<Wall> {
        self.wall_of_height(from, to, 2400.0)
    }

    pub(crate) fn wall_of_height(&mut self, from: (f64, f64), to: (f64, f64), height: f64) -> Id<Wall> {
        self.put(Wall {
            level: self.ground,
            start: from.into(),
            end: to.into(),
            thickness: Length::mm(THICK),
            height: Length::mm(height),
            make_up: MakeUp::Block,
        })
    }

    pub(crate) fn room(&mut self, name: &str, room_use: RoomUse, seed: (f64, f64)) -> Id<Room> {
        let room =
            Room { level: self.ground, name: name.to_owned(), room_use, seed: seed.into(), ceiling: None };
        self.put(room)
    }

    /// A room of this clear size away from the kitchen, its lower left inner corner at `at`.
    pub(crate) fn boxed_room(
        &mut self,
        name: &str,
        room_use: RoomUse,
        at: (f64, f64),
        size: (f64, f64),
    ) -> (Id<Room>, [Id<Wall>; 4]) {
        let half = THICK / 2.0;
        let (x0, y0, x1, y1) = (at.0 - half, at.1 - half, at.0 + size.0 + half, at.1 + size.1 + half);
        let corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
        let walls = [0, 1, 2, 3].map(|side| self.wall(corners[side], corners[(side + 1) % 4]));
        (self.room(name, room_use, (at.0 + size.0 / 2.0, at.1 + size.1 / 2.0)), walls)
    }

    /// A door 800 mm wide, drawn shut.
    pub(crate) fn door(&mut self, wall: Id<Wall>, centre: f64) -> Id<Opening> {
        let form = OpeningForm::Door { hinge: Hand::Start, swing: Side::Left, state: DoorState::Shut };
        self.put(Opening {
            wall,
            centre: Length::mm(centre),
            width: Length::mm(800.0),
            head: Length::mm(2000.0),
            form,
        })
    }

    /// A plain opening 800 mm wide.
    pub(crate) fn gap(&mut self, wall: Id<Wall>, centre: f64, head: f64) -> Id<Opening> {
        self.put(Opening {
            wall,
            centre: Length::mm(centre),
            width: Length::mm(800.0),
            head: Length::mm(head),
            form: OpeningForm::Plain,
        })
    }

    /// A window 1,200 mm wide from 900 to 2,100.
    pub(crate) fn window(&mut self, wall: Id<Wall>, centre: f64) -> Id<Opening> {
        self.put(Opening {
            wall,
            centre: Length::mm(centre),
            width: Length::mm(1200.0),
            head: Length::mm(2100.0),
            form: OpeningForm::Window { sill: Length::mm(900.0) },
        })
    }

    pub(crate) fn spot(&mut self, name: &str, spot_use: SpotUse, at: (f64, f64)) -> Id<Spot> {
        let (level, height_affl) = (self.ground, spot_use.usual_height());
        self.put(Spot { level, name: name.to_owned(), spot_use, at: at.into(), height_affl })
    }

    /// A device of a kind put in for it alone.
    pub(crate) fn place_new(&mut self, kind: Kind, mount: Mount, height: Option<f64>) -> Id<Device> {
        let kind = self.put(kind);
        self.place(kind, mount, height)
    }

    pub(crate) fn zone(&mut self, purpose: ZonePurpose, points: &[(Id<Device>, &str)]) -> Id<Zone> {
        let points = points.iter().map(|(device, point)| PointRef::new(*device, *point)).collect();
        self.put(Zone { name: purpose.name().to_owned(), purpose, points })
    }

    /// Changes what is kept of the site.
    pub(crate) fn set_site(&mut self, change: impl FnOnce(&mut Site)) {
        let mut site = (*self.project.site).clone();
        change(&mut site);
        History::default().apply(&mut self.project, Change::of_site("Site", site)).unwrap();
    }

    /// Changes a thing that is there.
    pub(crate) fn alter<T: Kept + Clone>(&mut self, id: Id<T>, thing: T) {
        let change = Change::new("Alter", vec![Op::put(id, thing)]);
        History::default().apply(&mut self.project, change).unwrap();
    }
}

/// On the ceiling there.
pub(crate) fn ceiling(x: f64, y: f64) -> Mount {
    Mount::Ceiling { at: Point::new(x, y) }
}

/// On that face of a wall, so far along it.
pub(crate) fn face(wall: Id<Wall>, side: Side, along: f64) -> Mount {
    Mount::WallFace { wall, side, along: Length::mm(along) }
}

/// The kitchen, and east of it a hall of 2.9 m by 2.9 m behind a door at y 1500.
pub(crate) fn two_rooms() -> (SmallHouse, Id<Room>) {
    let mut house = bare_house();
    house.wall((4000.0, 0.0), (7000.0, 0.0));
    house.wall((7000.0, 0.0), (7000.0, 3000.0));
    house.wall((7000.0, 3000.0), (4000.0, 3000.0));
    let between = house.walls[1];
    house.door(between, 1500.0);
    let hall = house.room("Hall", RoomUse::Circulation, (5500.0, 1500.0));
    (house, hall)
}
