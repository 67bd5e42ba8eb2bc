//! Two invented rooms for tests: a kitchen of 3.9 m by 2.9 m and a hall of 1.9 m by 2.9 m to its right, with a way
//! between them in the wall at x = 4000, whose faces are at 3950 and 4050.

use kurbo::{Point, Rect};

use crate::building::Whereabouts;
use crate::geometry::Region;
use crate::id::Id;
use crate::kit::{Detection, Device, Family, Kind, Mount, MountKind, Pattern};
use crate::plan::{
    DoorState, Hand, Level, MakeUp, Opening, OpeningForm, Room, RoomUse, Sense, Side, Walk, WalkPoint,
    WalkPurpose, Wall,
};
use crate::small_house::{SmallHouse, bare_house, plain_kind};
use crate::studies::coverage::SensorCoverage;
use crate::systems::{Comparison, Condition, PointRef, Rule, RuleBody, Setting, Target, Value};
use crate::units::{Angle, Area, Length, Seconds};

pub(crate) struct TwoRooms {
    pub(crate) house: SmallHouse,
    pub(crate) hall: Id<Room>,
}

/// The rooms without a way between them.
pub(crate) fn two_rooms() -> TwoRooms {
    let mut house = bare_house();
    let level = house.ground;
    for axis in [[4000.0, 0.0, 6000.0, 0.0], [6000.0, 0.0, 6000.0, 3000.0], [6000.0, 3000.0, 4000.0, 3000.0]]
    {
        house.put(Wall {
            level,
            start: Point::new(axis[0], axis[1]),
            end: Point::new(axis[2], axis[3]),
            thickness: Length::mm(100.0),
            height: Length::mm(2400.0),
            make_up: MakeUp::Block,
        });
    }
    let seed = Point::new(5000.0, 1500.0);
    let hall = house.put(Room {
        level,
        name: "Hall".to_owned(),
        room_use: RoomUse::Circulation,
        seed,
        ceiling: None,
    });
    TwoRooms { house, hall }
}

impl TwoRooms {
    /// Cuts a way of 800 mm between the rooms with its middle at that y.
    pub(crate) fn way(&mut self, y: f64, form: OpeningForm) -> Id<Opening> {
        let wall = self.house.walls[1];
        let (centre, width) = (Length::mm(y), Length::mm(800.0));
        self.house.put(Opening { wall, centre, width, head: Length::mm(2100.0), form })
    }

    pub(crate) fn whereabouts(&self) -> Whereabouts {
        Whereabouts::of(&self.house.project)
    }

    /// A detector on the ceiling, and what it sees: that rectangle.
    pub(crate) fn sees(&mut self, x: f64, y: f64, rect: Rect) -> SensorCoverage {
        let level = self.house.ground;
        let kind = self.house.put(detector(Sense::BodyHeat, 3000.0));
        let device = self.house.place(kind, Mount::Ceiling { at: Point::new(x, y) }, None);
        sensor_of(device, level, rect)
    }

    /// A lamp on the ceiling.
    pub(crate) fn lamp(&mut self, x: f64, y: f64) -> Id<Device> {
        let kind = plain_kind("Downlight", Family::Luminaires, "DL", MountKind::Ceiling, &["level"]);
        let kind = self.house.put(kind);
        self.house.place(kind, Mount::Ceiling { at: Point::new(x, y) }, None)
    }

    /// A walk through these points of the ground floor.
    pub(crate) fn walk(&mut self, points: &[(f64, f64)]) -> Id<Walk> {
        let level = self.house.ground;
        let point = |(x, y): &(f64, f64)| WalkPoint { level, at: Point::new(*x, *y) };
        let points = points.iter().map(point).collect();
        self.house.put(Walk { name: "Way".to_owned(), purpose: WalkPurpose::Daily, points })
    }
}

/// A door hinged at the lower end that swings into the hall.
pub(crate) fn door(state: DoorState) -> OpeningForm {
    OpeningForm::Door { hinge: Hand::Start, swing: Side::Right, state }
}

/// A detector for the ceiling that looks all round at every height.
pub(crate) fn detector(sense: Sense, radius: f64) -> Kind {
    let mut kind = plain_kind("Detector", Family::Presence, "PD", MountKind::Ceiling, &["motion", "tamper"]);
    let pattern = Pattern::Round { radius: Length::mm(radius) };
    kind.detection = Some(Detection::plain(sense, pattern));
    kind
}

pub(crate) fn sensor_of(device: Id<Device>, level: Id<Level>, rect: Rect) -> SensorCoverage {
    let polygon = Region::from_rect(rect);
    SensorCoverage {
        device,
        level,
        room: None,
        sense: Sense::BodyHeat,
        area: Area::mm2(polygon.area()),
        polygon,
        share_of_room: None,
    }
}

/// A rule that holds a lamp on while a sensor notices somebody, and for so many seconds after.
pub(crate) fn lit_by_motion(sensor: Id<Device>, lamp: Id<Device>, linger: f64) -> Rule {
    let conditions = vec![Condition::Point {
        point: PointRef::new(sensor, "motion"),
        comparison: Comparison::Is,
        value: Value::On,
    }];
    let target = Target::Point(PointRef::new(lamp, "level"));
    let settings = vec![Setting { target, value: Value::Number(60.0), fade: Seconds::ZERO }];
    Rule {
        name: "By motion".to_owned(),
        room: None,
        enabled: true,
        comment: String::new(),
        body: RuleBody::While {
            conditions,
            linger: Seconds(linger),
            settings,
            rank: 1,
            yields_to_hand: true,
        },
    }
}

/// Open by a right angle.
pub(crate) fn square() -> DoorState {
    DoorState::Open(Angle::degrees(90.0))
}
