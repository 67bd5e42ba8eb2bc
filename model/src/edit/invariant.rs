//! What no project may ever be: half a reference, a wall of no length, a figure that is not a number.
//!
//! Checked before a change is let in and when a file is read; the file reader asks for every breach, the
//! door stops at the first.

mod rules;

use std::collections::BTreeMap;

use kurbo::Point;

use super::{Change, Entity, Op, Subject, describe};
use crate::id::Id;
use crate::kit::{Device, Kind, MOST_LETTERS_OF_A_LINE, Mount, Pattern};
use crate::plan::{DoorState, OpeningForm, ScaleFrom, Underlay};
use crate::project::Project;
use crate::systems::PointRef;
use crate::units::Length;

/// Walls shorter than this are slips of the hand, mm.
pub const SHORTEST_WALL_MM: f64 = 1.0;

/// No plan reaches farther from its origin than this, mm (10 km): beyond it a figure is a slip.
pub const FARTHEST_MM: f64 = 1e7;

/// Angles come through radians; so much may half a turn gain on the way, degrees.
const DOOR_SLACK_DEGREES: f64 = 0.01;

/// Why a change or a file is refused: the thing and a sentence about it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{sentence}")]
pub struct Refusal {
    /// The thing at fault.
    pub subject: Subject,
    /// What is wrong and what to do.
    pub sentence: String,
}

/// Checks a changed project. What the change put must be sound in itself; what it removed must be missed by
/// nothing.
///
/// # Errors
/// The first breach.
pub fn check(project: &Project, change: &Change) -> Result<(), Refusal> {
    let mut breaches = Vec::new();
    let mut something_removed = false;
    for op in &change.ops {
        match op {
            Op::Put(entity) => {
                if entity.subject().is_in(project) {
                    let standing = entity.subject().entity_in(project);
                    inspect(project, standing.as_ref().unwrap_or(entity), &mut breaches);
                }
                // A wall made shorter may leave its openings and devices hanging; a kind may lose a point.
                something_removed |= matches!(entity, Entity::Wall(..) | Entity::Kind(..));
            }
            Op::Remove(_) => something_removed = true,
        }
    }
    if something_removed {
        breaches.extend(check_all(project));
    } else {
        tags_are_unique(project, &mut breaches);
    }
    breaches.into_iter().next().map_or(Ok(()), Err)
}

/// Every breach of a whole project, as the file reader reports them.
pub fn check_all(project: &Project) -> Vec<Refusal> {
    let mut breaches = Vec::new();
    for entity in project.entities() {
        inspect(project, &entity, &mut breaches);
    }
    tags_are_unique(project, &mut breaches);
    if project.levels.is_empty() {
        breaches.push(Refusal {
            subject: Subject::Site,
            sentence: "a house needs at least one level: add a level first".to_owned(),
        });
    }
    breaches
}

fn tags_are_unique(project: &Project, breaches: &mut Vec<Refusal>) {
    let mut seen: BTreeMap<(&str, u32), Id<Device>> = BTreeMap::new();
    for (id, device) in project.devices.iter() {
        if seen.insert((device.tag.code.as_str(), device.tag.number), id).is_some() {
            breaches.push(Refusal {
                subject: Subject::Device(id),
                sentence: format!("the tag {} is given twice: each device needs its own", device.tag),
            });
        }
    }
}

/// Inspects one thing; every breach found is pushed.
fn inspect(project: &Project, entity: &Entity, breaches: &mut Vec<Refusal>) {
    let subject = entity.subject();
    let mut inspector = Inspector { project, subject, breaches };
    match entity {
        Entity::Site(site) => {
            inspector.number("north", site.north.as_radians());
            if let Some(place) = site.place {
                let (north, east) = (place.latitude.as_degrees(), place.longitude.as_degrees());
                inspector.require(north.abs() <= 90.0 && east.abs() <= 180.0, || {
                    "the place is not on Earth: latitude goes from -90° to 90°, longitude from -180° to 180°"
                        .to_owned()
                });
            }
            inspector.require(site.clock.ahead_of_utc_minutes.abs() <= 14 * 60, || {
                "no clock differs from UTC by more than 14 hours: correct it".to_owned()
            });
            for corner in &site.boundary {
                inspector.point("boundary", *corner);
            }
            inspector.require(site.boundary.is_empty() || site.boundary.len() >= 3, || {
                "the boundary of the site needs three corners at least, or none".to_owned()
            });
            inspector.require(site.intrusion.grade.is_none_or(|grade| (1..=4).contains(&grade)), || {
                "the security grade must be 1 to 4, or none".to_owned()
            });
            inspector.not_below_zero("entry time", site.intrusion.entry_time.0);
            inspector.not_below_zero("exit time", site.intrusion.exit_time.0);
            inspector.length("height that cameras are judged for", site.camera_target);
            inspector.require(site.scale > 0, || "the scale must be 1:1 or smaller, such as 1:50".to_owned());
        }
        Entity::Level(_, level) => {
            inspector.length("floor height", level.floor_above_datum);
            inspector.positive("ceiling height", level.ceiling_affl);
        }
        Entity::Wall(_, wall) => {
            inspector.refers(Subject::Level(wall.level));
            inspector.point("start", wall.start);
            inspector.point("end", wall.end);
            inspector.positive("thickness", wall.thickness);
            inspector.positive("height", wall.height);
            inspector.require(wall.length().as_mm() >= SHORTEST_WALL_MM, || {
                "the wall has no length: its two ends must lie apart".to_owned()
            });
        }
        Entity::Opening(_, opening) => {
            inspector.refers(Subject::Wall(opening.wall));
            inspector.length("centre", opening.centre);
            inspector.positive("width", opening.width);
            inspector.positive("head height", opening.head);
            inspector.length("sill height", opening.sill());
            inspector.require(opening.sill().as_mm() < opening.head.as_mm(), || {
                "the sill lies above the head: lower it".to_owned()
            });
            if let OpeningForm::Door { state: DoorState::Open(angle), .. } = opening.form {
                let degrees = angle.as_degrees();
                inspector.require(
                    (-DOOR_SLACK_DEGREES..=180.0 + DOOR_SLACK_DEGREES).contains(&degrees),
                    || {
                        "the door stands open by less than 0° or more than 180°: give an angle between"
                            .to_owned()
                    },
                );
            }
            if let Some(wall) = project.walls.get(opening.wall) {
                let fits =
                    opening.from().as_mm() >= -0.05 && opening.to().as_mm() <= wall.length().as_mm() + 0.05;
                inspector.require(fits, || {
                    format!(
                        "the {} does not fit into its wall: move or narrow it, or lengthen the wall",
                        opening.name()
                    )
                });
            }
        }
        Entity::Room(_, room) => {
            inspector.refers(Subject::Level(room.level));
            inspector.point("place", room.seed);
            if let Some(ceiling) = &room.ceiling {
                inspector.positive("lowest ceiling height", ceiling.low);
                inspector.positive("highest ceiling height", ceiling.high);
                inspector.require(ceiling.low.as_mm() <= ceiling.high.as_mm(), || {
                    "the ceiling is higher where it is lowest than where it is highest: swap the two heights"
                        .to_owned()
                });
            }
        }
        Entity::Joinery(_, piece) => {
            inspector.refers(Subject::Level(piece.level));
            inspector.point("centre", piece.centre);
            inspector.positive("width", piece.width);
            inspector.positive("depth", piece.depth);
            inspector.number("turn", piece.turn.as_radians());
            inspector.length("base height", piece.base);
            inspector.length("top height", piece.top);
            inspector.require(piece.base.as_mm() < piece.top.as_mm(), || {
                "the underside lies above the top: lower it".to_owned()
            });
        }
        Entity::Underlay(_, underlay) => {
            inspector.refers(Subject::Level(underlay.level));
            inspector.point("position", underlay.position);
            inspector.number("turn", underlay.turn.as_radians());
            inspector.number("opacity", underlay.opacity);
            inspector.require(underlay.mm_per_unit.is_finite() && underlay.mm_per_unit > 0.0, || {
                "the drawing has no scale: pick two points and type the length between them".to_owned()
            });
            let sized = [underlay.width, underlay.height].iter().all(|side| side.is_finite() && *side > 0.0);
            inspector.require(sized, || "the drawing has no size: lay it under the level anew".to_owned());
            inspector.scale_of_drawing(underlay);
            inspector.require(underlay.page > 0, || "pages are counted from 1".to_owned());
        }
        Entity::RoomLine(_, line) => {
            inspector.refers(Subject::Level(line.level));
            inspector.point("start", line.start);
            inspector.point("end", line.end);
            inspector.require(line.start != line.end, || {
                "the room line has no length: draw it from wall to wall".to_owned()
            });
        }
        Entity::Spot(_, spot) => {
            inspector.refers(Subject::Level(spot.level));
            inspector.point("place", spot.at);
            inspector.length("height", spot.height_affl);
        }
        Entity::Walk(_, walk) => {
            inspector.require(walk.points.len() >= 2, || {
                "the walk goes nowhere: it needs two points at least".to_owned()
            });
            for point in &walk.points {
                inspector.refers(Subject::Level(point.level));
                inspector.point("point", point.at);
            }
        }
        Entity::Kind(_, kind) => {
            inspector.require(!kind.code.is_empty() && kind.code.chars().count() <= 4, || {
                format!("the code “{}” must have one to four letters", kind.code)
            });
            inspector.number("load", kind.load.0);
            inspect_battery_and_face(&mut inspector, kind);
            if let Some(height) = kind.default_height {
                inspector.length("usual height", height);
            }
            if let Some(back_box) = kind.back_box {
                inspector.positive("box depth", back_box.depth);
            }
            if let Some(detection) = &kind.detection {
                // A reach of nothing is a finding, not a breach: the figure may still be asked for.
                inspector.not_below_zero("range", detection.pattern.range().as_mm());
                if let Pattern::Fan { angle, .. } = detection.pattern {
                    let degrees = angle.as_degrees();
                    inspector.require(degrees > 0.0 && degrees <= 360.0, || {
                        "the detection angle must be above 0° and at most 360°".to_owned()
                    });
                }
            }
            if let Some(detection) = &kind.detection {
                for tier in &detection.tiers {
                    let (from, to) = (tier.from.as_degrees(), tier.to.as_degrees());
                    inspector.require(-90.0 <= from && from < to && to <= 180.0, || {
                        "a layer of the lens must lie between 90° above and 180° below its axis, its upper edge first"
                            .to_owned()
                    });
                }
                let left = detection.reach_left;
                for share in [left.towards, left.still, left.through_board, left.warm] {
                    inspector.require((0.0..=1.0).contains(&share), || {
                        "what is left of the reach must be a share from 0 to 1".to_owned()
                    });
                }
                for reach in &detection.by_height {
                    inspector.positive("mounting height", reach.mounted);
                    inspector.not_below_zero("walking radius", reach.walking.as_mm());
                    inspector.not_below_zero("seated radius", reach.seated.unwrap_or_default().as_mm());
                }
            }
            if let Some(loudness) = kind.loudness {
                inspector.number("loudness", loudness.level_dba);
                inspector.positive("distance of the loudness", loudness.at);
            }
            inspector.require(kind.security_grade.is_none_or(|grade| (1..=4).contains(&grade)), || {
                "the security grade must be 1 to 4, or none".to_owned()
            });
            if let Some(lamp) = kind.lamp {
                inspector.not_below_zero("luminous flux", lamp.flux.0);
                if let Some(beam) = lamp.beam {
                    let degrees = beam.as_degrees();
                    inspector.require(degrees > 0.0 && degrees <= 360.0, || {
                        "the beam must be above 0° and at most 360° wide".to_owned()
                    });
                }
            }
            if let Some(optics) = kind.optics {
                inspector.require(optics.pixels_across > 0, || {
                    "the picture must have at least one pixel across".to_owned()
                });
                inspector.require(optics.pixels_down > 0, || {
                    "the picture must have at least one pixel from top to bottom".to_owned()
                });
                if let Some(view) = optics.stated_view {
                    let degrees = view.as_degrees();
                    inspector.require(degrees > 0.0 && degrees < 180.0, || {
                        "the camera's angle must be above 0° and below 180°".to_owned()
                    });
                }
                inspector.positive("sensor width", optics.sensor_width);
                inspector.positive("focal length", optics.focal_length);
                inspector.positive("drawn range", optics.drawn_range);
            }
            if let Some(travel) = kind.full_travel {
                inspector.not_below_zero("time over its whole travel", travel.0);
            }
            if let Some(length) = kind.drawn_length {
                inspector.positive("drawn length", length);
            }
            inspector.require(kind.points.iter().all(|point| !point.name.trim().is_empty()), || {
                "a point has no name: give each its own".to_owned()
            });
            let mut names: Vec<_> = kind.points.iter().map(|point| point.name.as_str()).collect();
            names.sort_unstable();
            let twice = names.windows(2).find(|pair| pair[0] == pair[1]).map(|pair| pair[0].to_owned());
            inspector.require(twice.is_none(), || {
                format!(
                    "the point “{}” is there twice: give each its own name",
                    twice.clone().unwrap_or_default()
                )
            });
        }
        Entity::Device(_, device) => inspect_device(&mut inspector, device),
        Entity::Zone(_, zone) => {
            for point in &zone.points {
                inspector.refers_to_point(point);
            }
        }
        Entity::Mode(_, mode) => {
            inspector.require(!mode.name.trim().is_empty(), || "give the mode a name".to_owned());
        }
        // What its lines say is read when it is played; a line that names what is gone is a finding.
        Entity::Script(_, script) => inspector.require(!script.name.trim().is_empty(), || {
            "a script needs a name, for the command asks for it by name".to_owned()
        }),
        Entity::Scene(_, scene) => rules::inspect_scene(&mut inspector, scene),
        Entity::Rule(_, rule) => rules::inspect_rule(&mut inspector, rule),
    }
}

fn inspect_battery_and_face(inspector: &mut Inspector<'_>, kind: &Kind) {
    if let Some(battery) = kind.battery {
        inspector.not_below_zero("capacity of the battery", battery.capacity_mah);
        inspector.not_below_zero("current of a message", battery.speaking_ma);
        inspector.not_below_zero("length of a message", battery.message.0);
        inspector.not_below_zero("standby current", battery.standby_ua);
        inspector.not_below_zero("loss of the battery by itself", battery.self_discharge_percent);
    }
    if let Some(face) = kind.face {
        for (what, length) in [("width of the plate", face.width), ("height of the plate", face.height)] {
            let sound = (40.0..=300.0).contains(&length.as_mm());
            inspector.require(sound, || format!("the {what} must be 40 to 300 mm"));
        }
        inspector.require((1..=8).contains(&face.columns), || {
            "keys lie side by side in 1 to 8 columns".to_owned()
        });
    }
}

/// Words are written on keys that are there, once each, and can be read on a key.
fn inspect_legend(inspector: &mut Inspector<'_>, device: &Device) {
    let kind = inspector.project.kinds.get(device.kind);
    for (index, legend) in device.legend.keys.iter().enumerate() {
        let is_there = kind.is_none_or(|kind| kind.point(&legend.key).is_some());
        inspector.require(is_there, || {
            format!("words are written on the key “{}”, which the plate does not have", legend.key)
        });
        let once = device.legend.keys.iter().take(index).all(|before| before.key != legend.key);
        inspector.require(once, || format!("words for the key “{}” are there twice", legend.key));
        let fits = legend.words.iter().all(|line| line.chars().count() <= MOST_LETTERS_OF_A_LINE);
        inspector.require(fits, || {
            format!(
                "a line on the key “{}” is longer than {MOST_LETTERS_OF_A_LINE} letters: shorten it",
                legend.key
            )
        });
    }
}

fn inspect_device(inspector: &mut Inspector<'_>, device: &Device) {
    inspector.refers(Subject::Kind(device.kind));
    inspector.refers(Subject::Level(device.level));
    inspector.number("turn", device.turn.as_radians());
    inspector.number("tilt", device.tilt.as_radians());
    inspect_legend(inspector, device);
    if let Some(height) = device.height_affl {
        inspector.length("height", height);
    }
    match device.mount {
        Mount::WallFace { wall, along, .. } => {
            inspector.refers(Subject::Wall(wall));
            inspector.length("place along the wall", along);
            if let Some(host) = inspector.project.walls.get(wall) {
                let fits = along.as_mm() >= -0.05 && along.as_mm() <= host.length().as_mm() + 0.05;
                inspector.require(fits, || "the device lies beyond the end of its wall: move it".to_owned());
                inspector.require(host.level == device.level, || {
                    "the device and its wall are on different levels".to_owned()
                });
            }
        }
        Mount::Joinery { joinery, offset } => {
            inspector.refers(Subject::Joinery(joinery));
            inspector.point("place on the joinery", offset);
        }
        Mount::Ceiling { at } | Mount::Floor { at } | Mount::Outdoors { at } | Mount::Loose { at } => {
            inspector.point("place", at);
        }
    }
}

struct Inspector<'a> {
    project: &'a Project,
    subject: Subject,
    breaches: &'a mut Vec<Refusal>,
}

impl Inspector<'_> {
    fn require(&mut self, holds: bool, sentence: impl FnOnce() -> String) {
        if !holds {
            let sentence = format!("{}: {}", describe(self.project, self.subject), sentence());
            self.breaches.push(Refusal { subject: self.subject, sentence });
        }
    }

    /// What is kept of how a drawing was scaled must be fit to write down.
    fn scale_of_drawing(&mut self, underlay: &Underlay) {
        match &underlay.scale_from {
            Some(ScaleFrom::Told(denominator)) => self.number("scale that was told", *denominator),
            Some(ScaleFrom::TwoPoints(length)) => self.number("length it was scaled by", length.as_mm()),
            Some(ScaleFrom::FourCorners { width, depth }) => {
                self.number("width it was scaled by", width.as_mm());
                self.number("depth it was scaled by", depth.as_mm());
            }
            _ => {}
        }
        if let Some(second) = underlay.second_length {
            self.number("second length", second.known.as_mm());
            self.number("second length as it measures", second.measured.as_mm());
        }
    }

    fn number(&mut self, what: &str, value: f64) {
        self.require(value.is_finite(), || format!("the {what} is not a finite number"));
    }

    fn not_below_zero(&mut self, what: &str, value: f64) {
        let sound = value.is_finite() && value >= 0.0;
        self.require(sound, || format!("the {what} is not a finite number of zero or more"));
    }

    fn length(&mut self, what: &str, length: Length) {
        let sound = length.as_mm().is_finite() && length.as_mm().abs() <= FARTHEST_MM;
        self.require(sound, || format!("the {what} is not a finite number within 10 km"));
    }

    fn positive(&mut self, what: &str, length: Length) {
        self.length(what, length);
        // What is no number at all is spoken of above.
        let above_zero = length.as_mm() > 0.0 || length.as_mm().is_nan();
        self.require(above_zero, || format!("the {what} must be above zero"));
    }

    fn point(&mut self, what: &str, point: Point) {
        let sound = point.is_finite() && point.x.abs() <= FARTHEST_MM && point.y.abs() <= FARTHEST_MM;
        self.require(sound, || format!("the {what} is not a finite point within 10 km"));
    }

    fn refers(&mut self, other: Subject) {
        self.require(other.is_in(self.project), || {
            format!(
                "it refers to {} {}, which is not there: change what refers to it first",
                other.sort(),
                other.number().unwrap_or_default()
            )
        });
    }

    fn refers_to_point(&mut self, point: &PointRef) {
        self.refers(Subject::Device(point.device));
        let kind =
            self.project.devices.get(point.device).and_then(|device| self.project.kinds.get(device.kind));
        if let Some(kind) = kind {
            self.require(kind.point(&point.point).is_some(), || {
                format!("it refers to the point “{}”, which a {} does not have", point.point, kind.name)
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::{Family, Lamp, MountKind, Optics, PointRole, PointSpec, PointType};
    use crate::plan::{Hand, Opening, Side};
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::{Angle, Lumens, Watts};

    /// The sentences about one thing put into a bare house.
    fn breaches_of(entity: &Entity) -> Vec<String> {
        let mut breaches = Vec::new();
        inspect(&bare_house().project, entity, &mut breaches);
        breaches.into_iter().map(|refusal| refusal.sentence).collect()
    }

    fn about(entity: &Entity, words: &str) -> bool {
        breaches_of(entity).iter().any(|sentence| sentence.contains(words))
    }

    #[test]
    fn a_door_opens_by_half_a_turn_at_most() {
        for (degrees, sound) in
            [(0.0, true), (90.0, true), (180.0, true), (-5.0, false), (181.0, false), (f64::NAN, false)]
        {
            let house = bare_house();
            let door = Opening {
                wall: house.walls[0],
                centre: Length::mm(2000.0),
                width: Length::mm(800.0),
                head: Length::mm(2050.0),
                form: OpeningForm::Door {
                    hinge: Hand::Start,
                    swing: Side::Left,
                    state: DoorState::Open(Angle::degrees(degrees)),
                },
            };
            let mut breaches = Vec::new();
            inspect(&house.project, &Entity::Opening(Id::from_number(90), door.into()), &mut breaches);
            assert_eq!(breaches.is_empty(), sound, "{degrees}: {breaches:?}");
        }
    }

    #[test]
    fn lamps_optics_loads_and_points_of_a_kind_are_sound() {
        let sound = || plain_kind("Lamp", Family::Luminaires, "DL", MountKind::Ceiling, &["level"]);
        let lamp = |flux: f64, beam: f64| Lamp {
            flux: Lumens(flux),
            beam: Some(Angle::degrees(beam)),
            colour_temperature_k: 3000,
            dims: true,
        };
        let mut kinds = Vec::new();
        let mut bad = |words: &'static str, spoil: &dyn Fn(&mut crate::kit::Kind)| {
            let mut kind = sound();
            spoil(&mut kind);
            kinds.push((words, kind));
        };
        bad("luminous flux", &|kind| kind.lamp = Some(lamp(f64::NAN, 36.0)));
        bad("luminous flux", &|kind| kind.lamp = Some(lamp(-1.0, 36.0)));
        bad("beam", &|kind| kind.lamp = Some(lamp(500.0, 400.0)));
        bad("load", &|kind| kind.load = Watts(f64::INFINITY));
        bad("has no name", &|kind| {
            let name = " ".to_owned();
            kind.points.push(PointSpec { name, point_type: PointType::State, role: PointRole::Does });
        });
        bad("pixel", &|kind| {
            kind.optics = Some(Optics {
                sensor_width: Length::mm(5.0),
                focal_length: Length::mm(4.0),
                pixels_across: 0,
                pixels_down: 720,
                stated_view: None,
                drawn_range: Length::m(10.0),
            });
        });
        assert_eq!(breaches_of(&Entity::Kind(Id::from_number(90), sound().into())), Vec::<String>::new());
        for (words, kind) in kinds {
            assert!(about(&Entity::Kind(Id::from_number(90), kind.into()), words), "{words}");
        }
    }
}
