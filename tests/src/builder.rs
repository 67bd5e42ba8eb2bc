//! A small language for building a house in code, as one would describe it to a draughtsman.
//!
//! Places are plan millimetres; directions are the four ways of the sheet. What is described gathers as ops and
//! goes into the project through [`History::apply`] like any gesture, one change for each [`House::commit`].

use std::collections::BTreeMap;

use kurbo::{Point, Rect, Vec2};
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::{FreshIds, Id};
use pattress_model::kit::{Device, Kind, Mount, Tag};
use pattress_model::plan::{
    DoorState, Hand, Joinery, JoineryForm, Leaf, Level, MakeUp, Opening, OpeningForm, Room, RoomUse, Side,
    Spot, SpotUse, Walk, WalkPoint, WalkPurpose, Wall,
};
use pattress_model::project::{Entity, Project, Site};
use pattress_model::systems::{PointRef, Rule, RuleBody, Script, Zone, ZonePurpose};
use pattress_model::units::{Angle, Length};

/// A way on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Towards +x.
    Right,
    /// Towards +y.
    Up,
    /// Towards -x.
    Left,
    /// Towards -y.
    Down,
}

impl Way {
    /// The unit vector that points this way.
    pub fn vector(self) -> Vec2 {
        match self {
            Self::Right => Vec2::new(1.0, 0.0),
            Self::Up => Vec2::new(0.0, 1.0),
            Self::Left => Vec2::new(-1.0, 0.0),
            Self::Down => Vec2::new(0.0, -1.0),
        }
    }
}

/// How far beside a wall's face a place may be given and still be taken to lie on it, mm.
const NEAR_FACE_MM: f64 = 60.0;

/// A device that stands on the plan already, as later lines look it up.
struct Placed {
    id: Id<Device>,
    key: String,
    name: String,
    level: Id<Level>,
}

/// A house in the making.
pub struct House {
    project: Project,
    history: History,
    ids: FreshIds,
    ops: Vec<Op>,
    walls: BTreeMap<Id<Wall>, Wall>,
    levels: BTreeMap<Id<Level>, Level>,
    kinds: BTreeMap<String, (Id<Kind>, Kind)>,
    placed: Vec<Placed>,
    rooms: BTreeMap<String, Id<Room>>,
    zones: BTreeMap<String, Id<Zone>>,
    tags: BTreeMap<String, u32>,
    level: Id<Level>,
    kit: fn(&str) -> Option<Kind>,
}

impl House {
    /// An empty house with one level, its kinds taken from `kit` by key as they are first used.
    pub fn new(site: Site, kit: fn(&str) -> Option<Kind>) -> Self {
        let project = Project::new();
        let ids = project.fresh_ids();
        let levels: BTreeMap<_, _> = project.levels.iter().map(|(id, level)| (id, level.clone())).collect();
        let level = *levels.keys().next().expect("a new project has one level");
        let mut house = Self {
            project,
            history: History::default(),
            ids,
            ops: Vec::new(),
            walls: BTreeMap::new(),
            levels,
            kinds: BTreeMap::new(),
            placed: Vec::new(),
            rooms: BTreeMap::new(),
            zones: BTreeMap::new(),
            tags: BTreeMap::new(),
            level,
            kit,
        };
        house.apply(Change::of_site("Fill in the title block", site));
        house
    }

    fn apply(&mut self, change: Change) {
        let label = change.label.clone();
        if let Err(refusal) = self.history.apply(&mut self.project, change) {
            panic!("“{label}” is refused: {refusal}");
        }
    }

    /// Applies what was described since the last commit as one change with this label.
    pub fn commit(&mut self, label: &str) {
        let ops = std::mem::take(&mut self.ops);
        self.apply(Change::new(label, ops));
    }

    /// The finished project.
    pub fn finish(mut self) -> Project {
        self.commit("Finish");
        self.project
    }

    /// Adds a storey and works on it from here on.
    pub fn add_level(&mut self, name: &str, floor_mm: f64, ceiling_mm: f64) -> Id<Level> {
        let level = Level {
            name: name.to_owned(),
            floor_above_datum: Length::mm(floor_mm),
            ceiling_affl: Length::mm(ceiling_mm),
        };
        let id = self.ids.issue();
        self.levels.insert(id, level.clone());
        self.ops.push(Op::put(id, level));
        self.level = id;
        id
    }

    /// The storey that is worked on.
    pub fn level(&self) -> Id<Level> {
        self.level
    }

    /// Works on that storey from here on.
    pub fn work_on(&mut self, level: Id<Level>) {
        self.level = level;
    }

    /// Walls along a run of axis points, ceiling high.
    pub fn walls(&mut self, thickness_mm: f64, make_up: MakeUp, axis: &[(f64, f64)]) {
        self.walls_of_height(self.ceiling().as_mm(), thickness_mm, make_up, axis);
    }

    /// Walls of another height: a balustrade, a garden wall.
    pub fn walls_of_height(
        &mut self,
        height_mm: f64,
        thickness_mm: f64,
        make_up: MakeUp,
        axis: &[(f64, f64)],
    ) {
        for pair in axis.windows(2) {
            let wall = Wall {
                level: self.level,
                start: pair[0].into(),
                end: pair[1].into(),
                thickness: Length::mm(thickness_mm),
                height: Length::mm(height_mm),
                make_up,
            };
            let id = self.ids.issue();
            self.walls.insert(id, wall.clone());
            self.ops.push(Op::put(id, wall));
        }
    }

    fn ceiling(&self) -> Length {
        self.levels[&self.level].ceiling_affl
    }

    /// The wall of this storey whose axis runs through `at` (or nearest to it).
    fn wall_through(&self, at: Point) -> (Id<Wall>, &Wall) {
        let (id, wall) = self
            .walls
            .iter()
            .filter(|(_, wall)| wall.level == self.level)
            .min_by(|(_, a), (_, b)| {
                a.distance_to_axis(at).as_mm().total_cmp(&b.distance_to_axis(at).as_mm())
            })
            .unwrap_or_else(|| panic!("there is no wall near {at:?}"));
        let reach = wall.thickness.as_mm() / 2.0 + NEAR_FACE_MM;
        assert!(wall.distance_to_axis(at).as_mm() <= reach, "there is no wall near {at:?}");
        (*id, wall)
    }

    fn put_opening(&mut self, at: (f64, f64), width_mm: f64, head_mm: f64, form: OpeningForm) -> Id<Opening> {
        let (wall_id, wall) = self.wall_through(at.into());
        let opening = Opening {
            wall: wall_id,
            centre: wall.along_of(at.into()).rounded(),
            width: Length::mm(width_mm),
            head: Length::mm(head_mm),
            form,
        };
        let id = self.ids.issue();
        self.ops.push(Op::put(id, opening));
        id
    }

    /// A hinged door in the wall at `at`, hung on its `hinges` end and swinging `into` that way; drawn open.
    pub fn door(&mut self, at: (f64, f64), width_mm: f64, hinges: Way, into: Way) -> Id<Opening> {
        self.door_that_stands(at, width_mm, hinges, into, DoorState::Open(Angle::degrees(90.0)))
    }

    /// The same, drawn as it stands.
    pub fn door_that_stands(
        &mut self,
        at: (f64, f64),
        width_mm: f64,
        hinges: Way,
        into: Way,
        state: DoorState,
    ) -> Id<Opening> {
        let (_, wall) = self.wall_through(at.into());
        let towards_end = wall.direction().dot(hinges.vector());
        let to_left = wall.normal(Side::Left).dot(into.vector());
        assert!(towards_end.abs() > 0.5 && to_left.abs() > 0.5, "the door at {at:?} does not fit its wall");
        let hinge = if towards_end > 0.0 { Hand::End } else { Hand::Start };
        let swing = if to_left > 0.0 { Side::Left } else { Side::Right };
        self.put_opening(at, width_mm, 2000.0, OpeningForm::Door { hinge, swing, state })
    }

    /// A window in the wall at `at`.
    pub fn window(&mut self, at: (f64, f64), width_mm: f64, sill_mm: f64, head_mm: f64) -> Id<Opening> {
        self.put_opening(at, width_mm, head_mm, OpeningForm::Window { sill: Length::mm(sill_mm) })
    }

    /// A plain opening in the wall at `at`.
    pub fn gap(&mut self, at: (f64, f64), width_mm: f64, head_mm: f64) -> Id<Opening> {
        self.put_opening(at, width_mm, head_mm, OpeningForm::Plain)
    }

    /// A room around a point.
    pub fn room(&mut self, name: &str, room_use: RoomUse, seed: (f64, f64)) -> Id<Room> {
        let room =
            Room { level: self.level, name: name.to_owned(), room_use, seed: seed.into(), ceiling: None };
        let id = self.ids.issue();
        self.rooms.insert(name.to_owned(), id);
        self.ops.push(Op::put(id, room));
        id
    }

    /// A piece of joinery over a rectangle of the floor, its front looking one way.
    pub fn joinery(
        &mut self,
        name: &str,
        form: JoineryForm,
        footprint: [f64; 4],
        front: Way,
        heights_mm: (f64, f64),
    ) -> Id<Joinery> {
        self.joinery_that_opens(name, form, footprint, front, heights_mm, &[])
    }

    /// The same with leaves: drawers that slide (`true`) and doors that swing (`false`).
    pub fn joinery_that_opens(
        &mut self,
        name: &str,
        form: JoineryForm,
        footprint: [f64; 4],
        front: Way,
        heights_mm: (f64, f64),
        leaves: &[(&str, bool)],
    ) -> Id<Joinery> {
        let [x0, y0, x1, y1] = footprint;
        let rect = Rect::new(x0, y0, x1, y1);
        let (width, depth, turn) = match front {
            Way::Down => (rect.width(), rect.height(), 0.0),
            Way::Right => (rect.height(), rect.width(), 90.0),
            Way::Up => (rect.width(), rect.height(), 180.0),
            Way::Left => (rect.height(), rect.width(), 270.0),
        };
        let piece = Joinery {
            level: self.level,
            name: name.to_owned(),
            form,
            centre: rect.center(),
            width: Length::mm(width),
            depth: Length::mm(depth),
            turn: Angle::degrees(turn),
            base: Length::mm(heights_mm.0),
            top: Length::mm(heights_mm.1),
            leaves: leaves
                .iter()
                .map(|(name, slides)| Leaf { name: (*name).to_owned(), slides: *slides })
                .collect(),
        };
        let id = self.ids.issue();
        self.ops.push(Op::put(id, piece));
        id
    }

    /// The id of the kind of that key, put into the project on first use.
    fn kind(&mut self, key: &str) -> (Id<Kind>, Kind) {
        if let Some((id, kind)) = self.kinds.get(key) {
            return (*id, kind.clone());
        }
        let kind = (self.kit)(key).unwrap_or_else(|| panic!("the kit has no kind with the key “{key}”"));
        let id = self.ids.issue();
        self.ops.push(Op::put(id, kind.clone()));
        self.kinds.insert(key.to_owned(), (id, kind.clone()));
        (id, kind)
    }

    fn put_device(
        &mut self,
        key: &str,
        name: &str,
        mount: Mount,
        height_mm: Option<f64>,
        turn: Angle,
    ) -> Id<Device> {
        let (kind_id, kind) = self.kind(key);
        let height_affl = height_mm.map(Length::mm).or(kind.default_height);
        assert!(height_affl.is_some(), "the height of “{name}” ({key}) at {mount:?} is not decided");
        let number = self.tags.entry(kind.code.clone()).or_insert(0);
        *number += 1;
        let device = Device {
            kind: kind_id,
            level: self.level,
            tag: Tag { code: kind.code, number: *number },
            name: name.to_owned(),
            mount,
            height_affl,
            turn,
            tilt: Angle::ZERO,
            note: String::new(),
            legend: Default::default(),
        };
        let id = self.ids.issue();
        self.placed.push(Placed { id, key: key.to_owned(), name: name.to_owned(), level: self.level });
        self.ops.push(Op::put(id, device));
        id
    }

    /// A device on the wall face at `at` that looks one way, at a height.
    pub fn on_wall(
        &mut self,
        key: &str,
        name: &str,
        at: (f64, f64),
        looks: Way,
        height_mm: f64,
    ) -> Id<Device> {
        self.on_wall_turned(key, name, at, looks, height_mm, 0.0)
    }

    /// The same, turned by so many degrees from the wall's normal: 45 or -45 for a detector in a corner.
    pub fn on_wall_turned(
        &mut self,
        key: &str,
        name: &str,
        at: (f64, f64),
        looks: Way,
        height_mm: f64,
        turn_degrees: f64,
    ) -> Id<Device> {
        let mount = self.wall_face(at.into(), looks);
        self.put_device(key, name, mount, Some(height_mm), Angle::degrees(turn_degrees))
    }

    /// The face that looks that way and passes by `at`.
    fn wall_face(&self, at: Point, looks: Way) -> Mount {
        let found = self
            .walls
            .iter()
            .filter(|(_, wall)| wall.level == self.level)
            .filter_map(|(id, wall)| {
                let dot = wall.normal(Side::Left).dot(looks.vector());
                let side = if dot > 0.0 { Side::Left } else { Side::Right };
                let along = wall.along_of(at).rounded();
                let within = along.as_mm() >= 0.0 && along.as_mm() <= wall.length().as_mm();
                let off = (wall.on_face(along, side) - at).hypot();
                (dot.abs() > 0.99 && within && off <= NEAR_FACE_MM).then_some((off, *id, side, along))
            })
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, wall, side, along)) = found else {
            panic!("there is no wall face that looks {looks:?} by {at:?}");
        };
        Mount::WallFace { wall, side, along }
    }

    /// Tilts a device, described since the last commit, down from level by so many degrees.
    pub fn tilt(&mut self, device: Id<Device>, degrees: f64) {
        let described = self.ops.iter_mut().find_map(|op| match op {
            Op::Put(Entity::Device(id, described)) if *id == device => Some(described),
            _ => None,
        });
        let described = described.expect("a device described since the last commit");
        std::sync::Arc::make_mut(described).tilt = Angle::degrees(degrees);
    }

    /// A place that matters, at its usual height.
    pub fn spot(&mut self, name: &str, spot_use: SpotUse, at: (f64, f64)) -> Id<Spot> {
        self.spot_at(name, spot_use, at, spot_use.usual_height().as_mm())
    }

    /// A place that matters, at a height.
    pub fn spot_at(&mut self, name: &str, spot_use: SpotUse, at: (f64, f64), height_mm: f64) -> Id<Spot> {
        let (level, at, height_affl) = (self.level, at.into(), Length::mm(height_mm));
        let spot = Spot { level, name: name.to_owned(), spot_use, at, height_affl };
        let id = self.ids.issue();
        self.ops.push(Op::put(id, spot));
        id
    }

    /// A way that people take, through points of levels; a stair lies where the level changes.
    pub fn walk(&mut self, name: &str, purpose: WalkPurpose, points: &[(Id<Level>, f64, f64)]) -> Id<Walk> {
        let points =
            points.iter().map(|(level, x, y)| WalkPoint { level: *level, at: Point::new(*x, *y) }).collect();
        let id = self.ids.issue();
        self.ops.push(Op::put(id, Walk { name: name.to_owned(), purpose, points }));
        id
    }

    /// A device on the ceiling, at the ceiling's height.
    pub fn on_ceiling(&mut self, key: &str, name: &str, at: (f64, f64)) -> Id<Device> {
        let height = self.ceiling().as_mm();
        self.put_device(key, name, Mount::Ceiling { at: at.into() }, Some(height), Angle::ZERO)
    }

    /// A device that hangs from the ceiling, its own height given.
    pub fn hanging(&mut self, key: &str, name: &str, at: (f64, f64), height_mm: f64) -> Id<Device> {
        self.put_device(key, name, Mount::Ceiling { at: at.into() }, Some(height_mm), Angle::ZERO)
    }

    /// A device on the floor, or low on something that stands on it.
    pub fn on_floor(&mut self, key: &str, name: &str, at: (f64, f64), height_mm: f64) -> Id<Device> {
        self.put_device(key, name, Mount::Floor { at: at.into() }, Some(height_mm), Angle::ZERO)
    }

    /// A device on a piece of joinery: `offset` from its centre, x along the front and y to the back.
    pub fn on_joinery(
        &mut self,
        key: &str,
        name: &str,
        joinery: Id<Joinery>,
        offset: (f64, f64),
        height_mm: f64,
    ) -> Id<Device> {
        let mount = Mount::Joinery { joinery, offset: offset.into() };
        self.put_device(key, name, mount, Some(height_mm), Angle::ZERO)
    }

    /// A device outdoors, turned so many degrees from +x.
    pub fn outdoors(
        &mut self,
        key: &str,
        name: &str,
        at: (f64, f64),
        height_mm: f64,
        turn_degrees: f64,
    ) -> Id<Device> {
        let mount = Mount::Outdoors { at: at.into() };
        self.put_device(key, name, mount, Some(height_mm), Angle::degrees(turn_degrees))
    }

    /// A grid of downlights over a rectangle, half a spacing from its edges.
    pub fn downlights(&mut self, key: &str, over: [f64; 4], columns: usize, rows: usize) -> Vec<Id<Device>> {
        let [x0, y0, x1, y1] = over;
        let (step_x, step_y) = ((x1 - x0) / columns as f64, (y1 - y0) / rows as f64);
        let mut placed = Vec::new();
        for row in 0..rows {
            for column in 0..columns {
                let x = (x0 + (column as f64 + 0.5) * step_x).round();
                let y = (y0 + (row as f64 + 0.5) * step_y).round();
                placed.push(self.on_ceiling(key, "", (x, y)));
            }
        }
        placed
    }

    /// A point of a device.
    pub fn point(&self, device: Id<Device>, name: &str) -> PointRef {
        let placed = self.placed.iter().find(|placed| placed.id == device);
        let key = &placed.expect("the device was placed by this builder").key;
        let (_, kind) = &self.kinds[key];
        assert!(
            kind.point(name).is_some(),
            "“{key}” has no point “{name}”, only {:?}",
            kind.points.iter().map(|point| point.name.as_str()).collect::<Vec<_>>()
        );
        PointRef::new(device, name)
    }

    /// A zone of the point of that name on each device.
    pub fn zone(
        &mut self,
        name: &str,
        purpose: ZonePurpose,
        devices: &[Id<Device>],
        point: &str,
    ) -> Id<Zone> {
        let points = devices.iter().map(|device| self.point(*device, point)).collect();
        self.zone_of_points(name, purpose, points)
    }

    /// A zone of points.
    pub fn zone_of_points(&mut self, name: &str, purpose: ZonePurpose, points: Vec<PointRef>) -> Id<Zone> {
        let id = self.ids.issue();
        self.zones.insert(name.to_owned(), id);
        self.ops.push(Op::put(id, Zone { name: name.to_owned(), purpose, points }));
        id
    }

    /// A rule of the whole house (`None`) or of a room.
    pub fn rule(&mut self, name: &str, room: Option<Id<Room>>, body: RuleBody) -> Id<Rule> {
        let id = self.ids.issue();
        let rule = Rule { name: name.to_owned(), room, enabled: true, comment: String::new(), body };
        self.ops.push(Op::put(id, rule));
        id
    }

    /// The device of that name.
    pub fn device(&self, name: &str) -> Id<Device> {
        let named: Vec<_> = self.placed.iter().filter(|placed| placed.name == name).collect();
        assert_eq!(named.len(), 1, "one device must be named “{name}”");
        named[0].id
    }

    /// A script. In its lines `{Hall motion}` stands for the tag of the device of that name, `{zone: Hall lights}` for
    /// that of the first device of the zone.
    pub fn script(&mut self, name: &str, lines: &[&str]) {
        let lines = lines.iter().map(|line| self.with_tags(line)).collect();
        self.ops.push(Op::put(self.ids.issue(), Script { name: name.to_owned(), lines }));
    }

    fn with_tags(&self, line: &str) -> String {
        let Some((before, rest)) = line.split_once('{') else { return line.to_owned() };
        let (named, after) = rest.split_once('}').expect("a name in braces ends");
        let device = match named.strip_prefix("zone: ") {
            Some(zone) => {
                let zone = self
                    .project
                    .zones
                    .get(self.zone_named(zone))
                    .expect("zones are committed before scripts");
                zone.points.first().expect("a zone has points").device
            }
            None => self.device(named),
        };
        let tag = &self.project.devices.get(device).expect("devices are committed before scripts").tag;
        self.with_tags(&format!("{before}{tag}{after}"))
    }

    /// Every device of these kinds, on one storey or (`None`) on all.
    pub fn devices_of(&self, keys: &[&str], level: Option<Id<Level>>) -> Vec<Id<Device>> {
        self.placed
            .iter()
            .filter(|placed| keys.contains(&placed.key.as_str()))
            .filter(|placed| level.is_none_or(|level| level == placed.level))
            .map(|placed| placed.id)
            .collect()
    }

    /// The room of that name.
    pub fn room_named(&self, name: &str) -> Id<Room> {
        *self.rooms.get(name).unwrap_or_else(|| panic!("there is no room “{name}”"))
    }

    /// The zone of that name.
    pub fn zone_named(&self, name: &str) -> Id<Zone> {
        *self.zones.get(name).unwrap_or_else(|| panic!("there is no zone “{name}”"))
    }
}
