//! A little furnished flat of two rooms, for the tests of drawings.

use kurbo::Point;

use crate::edit::{Change, History, Op};
use crate::id::{FreshIds, Id};
use crate::kit::catalogue::kind_by_key;
use crate::kit::{Device, Kind, Mount, Tag};
use crate::plan::*;
use crate::project::Project;
use crate::systems::{PointRef, Zone, ZonePurpose};
use crate::units::{Angle, Length};

/// The flat, and its level: a living room and a bedroom of 4 m by 4 m each, a wall between.
pub(crate) fn two_rooms() -> (Project, Id<Level>) {
    let mut project = Project::new();
    let level = project.levels.ids().next().expect("a ground floor");
    let mut plan = Sketch { ids: project.fresh_ids(), level, ops: Vec::new(), next_tag: 1 };
    plan.building();
    plan.furniture();
    plan.devices();
    History::default().apply(&mut project, Change::new("Sketch", plan.ops)).expect("a sound plan");
    (project, level)
}

struct Sketch {
    ids: FreshIds,
    level: Id<Level>,
    ops: Vec<Op>,
    next_tag: u32,
}

impl Sketch {
    fn wall(&mut self, [x0, y0, x1, y1]: [f64; 4], thickness: f64, make_up: MakeUp) -> Id<Wall> {
        let id = self.ids.issue();
        let (start, end) = (Point::new(x0, y0), Point::new(x1, y1));
        let (thickness, height) = (Length::mm(thickness), Length::mm(2400.0));
        self.ops.push(Op::put(id, Wall { level: self.level, start, end, thickness, height, make_up }));
        id
    }

    fn opening(&mut self, wall: Id<Wall>, centre: f64, width: f64, form: OpeningForm) {
        let id: Id<Opening> = self.ids.issue();
        let [centre, width, head] = [centre, width, 2040.0].map(Length::mm);
        self.ops.push(Op::put(id, Opening { wall, centre, width, head, form }));
    }

    /// Walls are ids 2 to 6: south, east, north, west, and the one between.
    fn building(&mut self) {
        let south = self.wall([0.0, 0.0, 8250.0, 0.0], 300.0, MakeUp::Masonry);
        self.wall([8250.0, 0.0, 8250.0, 4150.0], 300.0, MakeUp::Masonry);
        let north = self.wall([8250.0, 4150.0, 0.0, 4150.0], 300.0, MakeUp::Masonry);
        let west = self.wall([0.0, 4150.0, 0.0, 0.0], 300.0, MakeUp::Masonry);
        let between = self.wall([4200.0, 0.0, 4200.0, 4150.0], 100.0, MakeUp::Stud);
        let door = |hinge, swing, degrees| OpeningForm::Door {
            hinge,
            swing,
            state: DoorState::Open(Angle::degrees(degrees)),
        };
        self.opening(between, 900.0, 800.0, door(Hand::Start, Side::Right, 90.0));
        self.opening(south, 1200.0, 900.0, door(Hand::Start, Side::Left, 75.0));
        self.opening(north, 2000.0, 1500.0, OpeningForm::Window { sill: Length::mm(900.0) });
        self.opening(west, 2000.0, 1200.0, OpeningForm::Window { sill: Length::mm(900.0) });
        for (name, room_use, x) in
            [("Living", RoomUse::Living, 2000.0), ("Bedroom", RoomUse::Bedroom, 6000.0)]
        {
            let id: Id<Room> = self.ids.issue();
            let room = Room {
                level: self.level,
                name: name.to_owned(),
                room_use,
                seed: Point::new(x, 2000.0),
                ceiling: None,
            };
            self.ops.push(Op::put(id, room));
        }
    }

    fn furniture(&mut self) {
        for (name, form, centre, size, base, top) in [
            ("Worktop", JoineryForm::Worktop, (3000.0, 3700.0), (2200.0, 600.0), 0.0, 900.0),
            ("Wall units", JoineryForm::WallUnit, (3000.0, 3825.0), (2200.0, 350.0), 1400.0, 2100.0),
            ("Wardrobe", JoineryForm::Wardrobe, (7000.0, 450.0), (2000.0, 600.0), 0.0, 2300.0),
        ] {
            let id: Id<Joinery> = self.ids.issue();
            self.ops.push(Op::put(
                id,
                Joinery {
                    level: self.level,
                    name: name.to_owned(),
                    form,
                    centre: centre.into(),
                    width: Length::mm(size.0),
                    depth: Length::mm(size.1),
                    turn: Angle::ZERO,
                    base: Length::mm(base),
                    top: Length::mm(top),
                    leaves: Vec::new(),
                },
            ));
        }
    }

    fn kind(&mut self, key: &str) -> (Id<Kind>, Kind) {
        let id = self.ids.issue();
        let kind = kind_by_key(key).expect("shipped");
        self.ops.push(Op::put(id, kind.clone()));
        (id, kind)
    }

    fn device(
        &mut self,
        (kind_id, kind): &(Id<Kind>, Kind),
        mount: Mount,
        height: Option<f64>,
    ) -> Id<Device> {
        let id = self.ids.issue();
        let tag = Tag { code: kind.code.clone(), number: self.next_tag };
        self.next_tag += 1;
        self.ops.push(Op::put(
            id,
            Device {
                kind: *kind_id,
                level: self.level,
                tag,
                name: String::new(),
                mount,
                height_affl: height.map(Length::mm),
                turn: Angle::ZERO,
                tilt: Angle::ZERO,
                note: String::new(),
                legend: Default::default(),
            },
        ));
        id
    }

    fn devices(&mut self) {
        let [south, east, north, west, between] = [2, 3, 4, 5, 6].map(Id::<Wall>::from_number);
        let on = |wall, side, along| Mount::WallFace { wall, side, along: Length::mm(along) };
        let [sensor, plate, light, outlet] =
            ["wall-motion-12m", "plate-4", "downlight", "network-point"].map(|key| self.kind(key));
        self.device(&sensor, on(between, Side::Left, 3900.0), Some(2200.0));
        self.device(&sensor, on(east, Side::Left, 3700.0), None);
        self.device(&plate, on(between, Side::Left, 1500.0), Some(1200.0));
        self.device(&plate, on(between, Side::Right, 1500.0), Some(1200.0));
        self.device(&plate, on(south, Side::Left, 1850.0), Some(1200.0));
        for along in [700.0, 900.0, 1400.0] {
            self.device(&outlet, on(east, Side::Left, along), Some(450.0));
        }
        self.device(&outlet, on(west, Side::Left, 3500.0), Some(450.0));
        self.device(&outlet, on(north, Side::Left, 600.0), Some(450.0));
        self.device(&outlet, Mount::Loose { at: Point::new(5000.0, 3500.0) }, Some(450.0));
        let mut lamps = Vec::new();
        for (x, y) in [(1200.0, 1400.0), (3000.0, 1400.0), (1200.0, 2800.0), (3000.0, 2800.0)] {
            lamps.push(self.device(&light, Mount::Ceiling { at: Point::new(x, y) }, Some(2400.0)));
        }
        self.device(&light, Mount::Ceiling { at: Point::new(6175.0, 2075.0) }, Some(2400.0));
        let level_point = light.1.points.first().expect("a point").name.clone();
        let zone = Zone {
            name: "Living ceiling".to_owned(),
            purpose: ZonePurpose::Lighting,
            points: lamps.into_iter().map(|lamp| PointRef::new(lamp, level_point.clone())).collect(),
        };
        let id: Id<Zone> = self.ids.issue();
        self.ops.push(Op::put(id, zone));
    }
}
