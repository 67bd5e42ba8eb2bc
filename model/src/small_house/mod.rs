//! A small invented house for tests: one kitchen of 3.9 m by 2.9 m over an unfinished cellar.

pub(crate) mod drawn_rooms;

use kurbo::Point;

use crate::edit::{Change, History, Op};
use crate::id::{FreshIds, Id};
use crate::kit::{
    BackBox, Detection, Device, Family, FireAlarm, FireGrade, FireSense, Kind, Mount, MountKind, Optics,
    Pattern, PointRole, PointSpec, PointType, Supply, Symbol, Tag,
};
use crate::plan::{Level, MakeUp, Room, RoomUse, Sense, Side, Spot, SpotUse, Wall};
use crate::project::{Project, Site};
use crate::systems::{Action, Deed, Gesture, PointRef, Rule, RuleBody, Target, Trigger, Zone, ZonePurpose};
use crate::units::{Angle, Length, Money, Seconds, Watts};

/// The house and the ids that tests ask for.
pub(crate) struct SmallHouse {
    pub(crate) project: Project,
    pub(crate) ground: Id<Level>,
    pub(crate) walls: [Id<Wall>; 4],
    pub(crate) kitchen: Id<Room>,
}

impl SmallHouse {
    /// Puts a thing in and returns its id.
    pub(crate) fn put<T: crate::project::Kept>(&mut self, thing: T) -> Id<T> {
        let id = self.project.fresh_ids().issue();
        let change = Change::new("Put", vec![Op::put(id, thing)]);
        History::default().apply(&mut self.project, change).unwrap();
        id
    }

    /// Places a device of a kind on the ground floor, under the kind's code.
    pub(crate) fn place(&mut self, kind: Id<Kind>, mount: Mount, height: Option<f64>) -> Id<Device> {
        let code = self.project.kinds.get(kind).unwrap().code.clone();
        let device = Device {
            kind,
            level: self.ground,
            tag: self.project.next_tag(&code, 0),
            name: String::new(),
            mount,
            height_affl: height.map(Length::mm),
            turn: Angle::ZERO,
            tilt: Angle::ZERO,
            note: String::new(),
            legend: Default::default(),
        };
        self.put(device)
    }

    /// A place on the inner face of one of the four walls: south, east, north, west.
    pub(crate) fn on_wall(&self, wall: usize, along: f64) -> Mount {
        Mount::WallFace { wall: self.walls[wall], side: Side::Left, along: Length::mm(along) }
    }
}

/// An alarm on the ceiling that notices this.
pub(crate) fn fire_alarm(notices: FireSense) -> Kind {
    let mut kind = plain_kind("Alarm", Family::FireAndCo, "SD", MountKind::Ceiling, &["alarm"]);
    kind.fire = Some(FireAlarm { notices, grade: FireGrade::D1, interlinked: true });
    kind
}

/// A kind with no back box, no load and the given points, all that report unless named `level` or `position`.
pub(crate) fn plain_kind(name: &str, family: Family, code: &str, mount: MountKind, points: &[&str]) -> Kind {
    let point = |name: &&str| PointSpec {
        name: (*name).to_owned(),
        point_type: match *name {
            "level" | "position" => PointType::Number,
            key if key.starts_with("key") => PointType::Event,
            _ => PointType::State,
        },
        role: if matches!(*name, "level" | "position" | "lock" | "siren") {
            PointRole::Does
        } else {
            PointRole::Reports
        },
    };
    Kind {
        supply: Supply::Mains,
        points: points.iter().map(point).collect(),
        ..Kind::bare(name, family, code, Symbol::CodeInSquare, mount)
    }
}

/// Changes a device.
pub(crate) fn edit_device(house: &mut SmallHouse, id: Id<Device>, edit: impl Fn(&mut Device)) {
    let mut device = house.project.devices.get(id).unwrap().clone();
    edit(&mut device);
    History::default().apply(&mut house.project, Change::new("Edit", vec![Op::put(id, device)])).unwrap();
}

/// Changes the site.
pub(crate) fn edit_site(house: &mut SmallHouse, edit: impl Fn(&mut Site)) {
    let mut site = (*house.project.site).clone();
    edit(&mut site);
    History::default().apply(&mut house.project, Change::of_site("Edit", site)).unwrap();
}

/// A spot on the ground floor.
pub(crate) fn spot(house: &mut SmallHouse, spot_use: SpotUse, at: (f64, f64), height: f64) -> Id<Spot> {
    let (level, at) = (house.ground, Point::from(at));
    let name = spot_use.name().to_owned();
    house.put(Spot { level, name, spot_use, at, height_affl: Length::mm(height) })
}

/// A kind that senses over 90° and 6 m.
pub(crate) fn detector(house: &mut SmallHouse, sense: Sense) -> Id<Kind> {
    let mut kind = plain_kind("Detector", Family::Intrusion, "PIR", MountKind::Wall, &["motion"]);
    let pattern = Pattern::Fan { angle: Angle::degrees(90.0), range: Length::m(6.0) };
    kind.detection = Some(Detection::plain(sense, pattern));
    house.put(kind)
}

/// A camera just outside the south wall that looks south and down by so many degrees: 90° across, 53.1° down,
/// a thousand pixels across.
pub(crate) fn camera_outdoors(house: &mut SmallHouse, height: f64, tilt: f64) -> Id<Device> {
    let mut kind = plain_kind("Camera", Family::CamerasAndEntry, "CAM", MountKind::Outdoors, &["picture"]);
    kind.optics = Some(Optics {
        sensor_width: Length::mm(8.0),
        focal_length: Length::mm(4.0),
        pixels_across: 1000,
        pixels_down: 500,
        stated_view: None,
        drawn_range: Length::m(12.0),
    });
    let kind = house.put(kind);
    let id = house.place(kind, Mount::Outdoors { at: Point::new(2000.0, -50.0) }, Some(height));
    edit_device(house, id, |device| {
        device.turn = Angle::degrees(270.0);
        device.tilt = Angle::degrees(tilt);
    });
    id
}

/// Four walls around a kitchen, with nothing placed in it.
pub(crate) fn bare_house() -> SmallHouse {
    let mut project = Project::new();
    let ground = project.levels.ids().next().unwrap();
    let mut ids: FreshIds = project.fresh_ids();
    let corners = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)];
    let walls: [Id<Wall>; 4] = std::array::from_fn(|_| ids.issue());
    let kitchen: Id<Room> = ids.issue();
    let mut ops = Vec::new();
    for (index, wall) in walls.iter().enumerate() {
        let (start, end) = (corners[index], corners[(index + 1) % 4]);
        ops.push(Op::put(
            *wall,
            Wall {
                level: ground,
                start: Point::new(start.0, start.1),
                end: Point::new(end.0, end.1),
                thickness: Length::mm(100.0),
                height: Length::mm(2400.0),
                make_up: MakeUp::Block,
            },
        ));
    }
    let seed = Point::new(2000.0, 1500.0);
    let room =
        Room { level: ground, name: "Kitchen".to_owned(), room_use: RoomUse::Kitchen, seed, ceiling: None };
    ops.push(Op::put(kitchen, room));
    History::default().apply(&mut project, Change::new("Build", ops)).unwrap();
    SmallHouse { project, ground, walls, kitchen }
}

/// The kitchen with two downlights, a plate and a detector that has neither host nor height; a terrace, and a
/// cellar without walls.
pub(crate) fn small_house() -> SmallHouse {
    let mut house = bare_house();
    let ground = house.ground;
    let cellar = house.put(Level {
        name: "Cellar".to_owned(),
        floor_above_datum: Length::mm(-2600.0),
        ceiling_affl: Length::mm(2100.0),
    });
    let seed = Point::new(1000.0, 1000.0);
    house.put(Room { level: cellar, name: "Wine".to_owned(), room_use: RoomUse::Store, seed, ceiling: None });
    let seed = Point::new(9000.0, 1000.0);
    house.put(Room {
        level: ground,
        name: "Terrace".to_owned(),
        room_use: RoomUse::Outside,
        seed,
        ceiling: None,
    });

    let mut plate = plain_kind("Plate, two keys", Family::Plates, "PL", MountKind::Wall, &["key 1", "key 2"]);
    plate.back_box = Some(BackBox { gangs: 1, depth: Length::mm(35.0) });
    plate.supply = Supply::ExtraLow { volts: 24 };
    plate.price = Money::whole(120);
    plate.minutes = 20;
    let plate = house.put(plate);
    let mut downlight = plain_kind("Downlight", Family::Luminaires, "DL", MountKind::Ceiling, &["level"]);
    downlight.load = Watts(9.0);
    downlight.price = Money::whole(30);
    downlight.minutes = 15;
    let downlight = house.put(downlight);
    let mut detector =
        plain_kind("Wall motion detector", Family::Intrusion, "PIR", MountKind::Wall, &["motion"]);
    detector.price = Money::whole(45);
    detector.minutes = 25;
    let detector = house.put(detector);

    let key = house.place(plate, house.on_wall(0, 2000.0), Some(1050.0));
    let lamps =
        [1000.0, 3000.0].map(|x| house.place(downlight, Mount::Ceiling { at: Point::new(x, 1500.0) }, None));
    house.put(Device {
        kind: detector,
        level: cellar,
        tag: Tag { code: "PIR".to_owned(), number: 1 },
        name: String::new(),
        mount: Mount::Loose { at: Point::new(500.0, 500.0) },
        height_affl: None,
        turn: Angle::ZERO,
        tilt: Angle::ZERO,
        note: String::new(),
        legend: Default::default(),
    });
    let zone = house.put(Zone {
        name: "Kitchen ceiling".to_owned(),
        purpose: ZonePurpose::Lighting,
        points: lamps.iter().map(|lamp| PointRef::new(*lamp, "level")).collect(),
    });
    let kitchen = house.kitchen;
    house.put(key_rule("Kitchen light", Some(kitchen), key, "key 1", Target::Zone(zone)));
    let evening = key_rule("Evening", None, key, "key 2", Target::Zone(zone));
    house.put(Rule { enabled: false, ..evening });
    house
}

/// A rule by which one press of a key switches a target over.
pub(crate) fn key_rule(
    name: &str,
    room: Option<Id<Room>>,
    device: Id<Device>,
    key: &str,
    target: Target,
) -> Rule {
    let action = Action {
        target: Some(target),
        deed: Deed::Toggle,
        after: Seconds::ZERO,
        fade: Seconds::ZERO,
        by_hand: None,
    };
    Rule {
        name: name.to_owned(),
        room,
        enabled: true,
        comment: String::new(),
        body: RuleBody::When {
            trigger: Trigger::Event { point: PointRef::new(device, key), gesture: Gesture::Press },
            conditions: Vec::new(),
            actions: vec![action],
        },
    }
}
