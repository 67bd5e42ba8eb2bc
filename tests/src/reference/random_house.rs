//! One small house with a point of every sort, for random rules: few points, so that rules meet at them.

use kurbo::Point;
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::Id;
use pattress_model::kit::catalogue::catalogue;
use pattress_model::kit::{Device, Kind, Mount, PointRole, PointSpec, PointType, Tag};
use pattress_model::project::{Place, Project, Site};
use pattress_model::sentence::sentence_text;
use pattress_model::systems::{Mode, PointRef, Rule, RuleBody, Scene, Setting, Zone, ZonePurpose};
use pattress_model::units::{Angle, Length, Seconds};

use super::sun::{Sun, sun_over};
use PointRole::{Does, Reports};
use PointType::{Colour, Event, Number, State};

/// Devices by number, with their points.
const DEVICES: [(u32, &[(&str, PointType, PointRole)]); 9] = [
    (11, &[("key 1", Event, Reports), ("key 2", Event, Reports)]),
    (12, &[("motion", State, Reports), ("motion starts", Event, Reports)]),
    (13, &[("open", State, Reports)]),
    (14, &[("lux", Number, Reports), ("temperature", Number, Reports)]),
    (15, &[("level", Number, Does), ("colour", Colour, Does)]),
    (16, &[("level 2", Number, Does), ("on", State, Does)]),
    (17, &[("position", Number, Does)]),
    (18, &[("setpoint", Number, Does)]),
    (19, &[("ring", Event, Does)]),
];

/// How many zones, scenes and modes there are, and from which numbers.
pub const ZONES: std::ops::Range<u32> = 30..34;
/// Scenes.
pub const SCENES: std::ops::Range<u32> = 40..42;
/// Modes.
pub const MODES: std::ops::Range<u32> = 50..52;
/// The number of the first rule.
pub const FIRST_RULE: u32 = 60;

/// What is random about a house.
#[derive(Clone, Debug)]
pub struct RandomHouse {
    /// Where it stands, degrees north and east.
    pub place: (f64, f64),
    /// The points of each zone.
    pub zones: Vec<Vec<PointRef>>,
    /// What each scene sets.
    pub scenes: Vec<Vec<Setting>>,
    /// Its rules, in their order, and whether each is on.
    pub rules: Vec<(RuleBody, bool)>,
}

/// Every point with its type and role.
pub fn points() -> Vec<(PointRef, PointType, PointRole)> {
    let of = |(device, points): &(u32, &'static [(&'static str, PointType, PointRole)])| {
        let device = Id::from_number(*device);
        points.iter().map(move |(name, point_type, role)| (PointRef::new(device, *name), *point_type, *role))
    };
    DEVICES.iter().flat_map(of).collect()
}

impl RandomHouse {
    /// The house as a plan.
    pub fn project(&self) -> Project {
        let mut project = Project::new();
        let level = project.levels.ids().next().expect("a new project has a level");
        let (north, east) = self.place;
        let place = Some(Place { latitude: Angle::degrees(north), longitude: Angle::degrees(east) });
        let mut apply = |change| History::default().apply(&mut project, change).expect("a sound house");
        apply(Change::of_site("Say where it stands", Site { place, ..Site::default() }));
        let mut ops = Vec::new();
        for (number, points) in DEVICES {
            let kind_id: Id<Kind> = Id::from_number(number + 100);
            let mut kind = catalogue()[0].kind.clone();
            kind.name = format!("Kind {number}");
            kind.full_travel = (number % 2 == 0).then_some(Seconds(7.5));
            kind.points = points
                .iter()
                .map(|(name, point_type, role)| PointSpec {
                    name: (*name).to_owned(),
                    point_type: *point_type,
                    role: *role,
                })
                .collect();
            ops.push(Op::put(kind_id, kind));
            let device = Device {
                kind: kind_id,
                level,
                tag: Tag { code: "D".to_owned(), number },
                name: String::new(),
                mount: Mount::Outdoors { at: Point::new(f64::from(number) * 1000.0, 0.0) },
                height_affl: Some(Length::mm(1000.0)),
                turn: Angle::ZERO,
                tilt: Angle::ZERO,
                note: String::new(),
                legend: Default::default(),
            };
            ops.push(Op::put(Id::from_number(number), device));
        }
        for (number, points) in ZONES.zip(&self.zones) {
            let zone = Zone {
                name: format!("Zone {number}"),
                purpose: ZonePurpose::Lighting,
                points: points.clone(),
            };
            ops.push(Op::put(Id::from_number(number), zone));
        }
        for (number, settings) in SCENES.zip(&self.scenes) {
            let scene = Scene { name: format!("Scene {number}"), room: None, settings: settings.clone() };
            ops.push(Op::put(Id::from_number(number), scene));
        }
        for number in MODES {
            ops.push(Op::put(Id::from_number(number), Mode { name: format!("Mode {number}") }));
        }
        for (number, (body, enabled)) in (FIRST_RULE..).zip(&self.rules) {
            let rule = Rule {
                name: format!("Rule {number}"),
                room: None,
                enabled: *enabled,
                comment: String::new(),
                body: body.clone(),
            };
            ops.push(Op::put(Id::from_number(number), rule));
        }
        apply(Change::new("Furnish it", ops));
        project
    }

    /// Where the sun stands over it at a minute since 1970.
    pub fn sun(&self, minute: i64) -> Sun {
        sun_over(self.place.0, self.place.1, minute)
    }

    /// Its zones, scenes and rules in sentences, for somebody who reads a counterexample.
    pub fn in_words(&self) -> String {
        let project = self.project();
        let mut words = format!("It stands at {:?}.\n", self.place);
        for (number, points) in ZONES.zip(&self.zones) {
            let names: Vec<String> =
                points.iter().map(|point| format!("D-{} {}", point.device.number(), point.point)).collect();
            words += &format!("Zone {number}: {}.\n", names.join(", "));
        }
        for (number, settings) in SCENES.zip(&self.scenes) {
            words += &format!("Scene {number}: {settings:?}\n");
        }
        for (id, rule) in project.rules.iter() {
            let state = if rule.enabled { "" } else { " (off)" };
            words += &format!("Rule {}{state}: {}", id.number(), sentence_text(&project, rule));
            if let RuleBody::While { rank, .. } = &rule.body {
                words += &format!(" [rank {rank}]");
            }
            words += "\n";
        }
        words
    }
}
