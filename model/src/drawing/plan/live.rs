//! A level as it is while its rules are played: lamps glow, blinds stand where they are, leaves stand open, and what is
//! at work says what it does.
//!
//! What stays as it is (where devices are, how large their symbols are, along which window a blind runs) is laid out
//! once; [`LiveDrawing::items`] then asks for each point's value. A lamp's halo is a sign that it is lit and how
//! strongly, not a study of its light; a figure and, for a colour, a word always stand beside it.

use std::collections::BTreeMap;

use kurbo::{BezPath, Circle, Point, Rect, Shape as _, Vec2};

use super::device_bounds;
use super::live_leaves::Leaves;
use super::live_words::{self, LampNow};
use crate::building::told_open::{ToldOpen, told_open};
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, Kind, Mount};
use crate::plan::{Level, OpeningForm};
use crate::project::Project;
use crate::studies::rehearsal::Has;
use crate::systems::PointRef;
use crate::units::Angle;

/// What a point has now, and where it is going.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Now {
    /// Its value, on the way.
    pub shown: Has,
    /// The value that it is going to.
    pub goal: Has,
    /// Whether something has just happened at it: a key pressed, a bell rung.
    pub lately: bool,
}

/// Radius of the halo of a lamp at its faintest and at full, mm on paper.
const HALO_MM: [f64; 2] = [4.0, 11.0];

/// Opacity of a halo at its middle, at its faintest and at full, of 255.
const HALO_OPACITY: [f64; 2] = [90.0, 225.0];

/// The ring about what is at work stands off the symbol by this, mm on paper.
const RING_OFF_MM: f64 = 0.7;

/// Height of the words, mm on paper.
const WORDS_MM: f64 = 1.8;

/// Length and thickness of the course of a blind that runs along no window, mm on paper.
const COURSE_MM: f64 = 9.0;
const COURSE_THICK_MM: f64 = 1.3;

/// A blind stands this far before its window, mm.
const BEFORE_WINDOW_MM: f64 = 90.0;

/// A motor belongs to a window of its wall no farther beside it than this, mm: motors of blinds and curtains sit at the
/// end of their tube or rail. Common practice, no published source.
const BESIDE_WINDOW_MM: f64 = 600.0;

/// A level laid out to be drawn live.
#[derive(Clone, Debug, Default)]
pub struct LiveDrawing {
    scale: f64,
    devices: Vec<LiveDevice>,
    leaves: Leaves,
}

#[derive(Clone, Debug)]
struct LiveDevice {
    id: Id<Device>,
    kind: std::sync::Arc<Kind>,
    bounds: Rect,
    points: Vec<PointRef>,
    /// The course of what travels: from where it is gathered to where it ends, and the side it stands on.
    course: (Point, Point, Vec2),
}

impl LiveDrawing {
    /// Lays out a level; `scale` is the denominator of the drawing's scale.
    pub fn of(project: &Project, level: Id<Level>, scale: f64) -> Self {
        let told = told_open(project);
        let devices = project
            .devices_on(level)
            .filter(|(_, _, kind)| !kind.points.is_empty())
            .filter_map(|(id, device, kind)| laid_out(project, id, device, kind, scale))
            .collect();
        Self { scale, devices, leaves: Leaves::of(project, level, &told) }
    }

    /// Doors that are drawn as they stand now, and so must be left out of the building.
    pub fn hides(&self) -> Vec<Subject> {
        self.leaves.doors().map(Subject::Opening).collect()
    }

    /// The level as it is now. Halos come first: they lie beneath all else.
    pub fn items(&self, project: &Project, now: &dyn Fn(&PointRef) -> Option<Now>) -> Vec<Item> {
        let mut glows = Vec::new();
        let mut items = self.leaves.items(project, now);
        for device in &self.devices {
            self.device(device, now, &mut glows, &mut items);
        }
        glows.extend(items);
        glows
    }

    fn device(
        &self,
        device: &LiveDevice,
        now: &dyn Fn(&PointRef) -> Option<Now>,
        glows: &mut Vec<Item>,
        items: &mut Vec<Item>,
    ) {
        let values: BTreeMap<&str, Now> =
            device.points.iter().filter_map(|point| Some((point.point.as_str(), now(point)?))).collect();
        let subject = Some(Subject::Device(device.id));
        let mut words = Vec::new();
        let lamp = live_words::lamp(&device.kind, &values);
        if let Some(lamp) = &lamp {
            glows.push(self.glow(device, lamp));
            words.push(live_words::of_lamp(lamp));
        }
        let mut at_work = false;
        let mut in_alarm = false;
        for point in &device.points {
            let Some(now) = values.get(point.point.as_str()) else { continue };
            if live_words::travels(&device.kind, &point.point) {
                items.extend(self.course(device, now));
                words.extend(live_words::of_travel(&point.point, now));
                continue;
            }
            if lamp.is_some() && live_words::is_light(&point.point) {
                continue;
            }
            if let Some(said) = live_words::of_point(&device.kind, &point.point, now) {
                at_work = true;
                in_alarm |= live_words::alarms(&device.kind, &point.point);
                words.push(said);
            }
        }
        if at_work {
            let role = if in_alarm { Role::InAlarm } else { Role::AtWork };
            items.push(Item::path(Layer::Devices, role, subject, self.ring(device)));
        }
        if !words.is_empty() {
            items.push(self.words(device, &words.join(", ")));
        }
    }

    fn glow(&self, device: &LiveDevice, lamp: &LampNow) -> Item {
        // What is a tenth as strong looks far more than a tenth as bright.
        let looks = lamp.strength.clamp(0.0, 1.0).sqrt();
        let between = |[low, high]: [f64; 2]| low + (high - low) * looks;
        let [red, green, blue] = lamp.light;
        let opacity = between(HALO_OPACITY).round() as u8;
        let circle = Circle::new(device.bounds.center(), between(HALO_MM) * self.scale);
        let path = circle.to_path(0.05 * self.scale);
        Item::path(
            Layer::Devices,
            Role::Glow([red, green, blue, opacity]),
            Some(Subject::Device(device.id)),
            path,
        )
    }

    fn ring(&self, device: &LiveDevice) -> BezPath {
        let radius = device.bounds.width().max(device.bounds.height()) / 2.0 + RING_OFF_MM * self.scale;
        Circle::new(device.bounds.center(), radius).to_path(0.05 * self.scale)
    }

    /// Words beneath the symbol.
    fn words(&self, device: &LiveDevice, words: &str) -> Item {
        let at = Point::new(
            device.bounds.center().x,
            device.bounds.y0 - (RING_OFF_MM + WORDS_MM * 1.3) * self.scale,
        );
        let shape = Shape::Text {
            at,
            text: words.to_owned(),
            height_mm: WORDS_MM,
            weight: Weight::Medium,
            anchor: Anchor::Middle,
            turn: Angle::ZERO,
        };
        Item { layer: Layer::Devices, role: Role::NowWords, subject: Some(Subject::Device(device.id)), shape }
    }

    /// The course of a blind or a gate, and how much of it is shut.
    fn course(&self, device: &LiveDevice, now: &Now) -> [Item; 2] {
        let Has::Number(open) = now.shown else { return self.bars(device, 0.0) };
        self.bars(device, 1.0 - (open / 100.0).clamp(0.0, 1.0))
    }

    fn bars(&self, device: &LiveDevice, shut: f64) -> [Item; 2] {
        let (from, to, side) = device.course;
        let thick = side * (COURSE_THICK_MM * self.scale);
        let bar = |role, part: f64| {
            let end = from.lerp(to, part);
            let mut path = BezPath::new();
            path.move_to(from);
            path.line_to(end);
            path.line_to(end + thick);
            path.line_to(from + thick);
            path.close_path();
            Item::path(Layer::Devices, role, Some(Subject::Device(device.id)), path)
        };
        [bar(Role::Travel, 1.0), bar(Role::TravelShut, shut.max(1e-3))]
    }
}

fn laid_out(
    project: &Project,
    id: Id<Device>,
    device: &Device,
    kind: &Kind,
    scale: f64,
) -> Option<LiveDevice> {
    let bounds = device_bounds(project, device, kind, scale)?;
    let points = kind.points.iter().map(|point| PointRef::new(id, point.name.as_str())).collect();
    let course = along_window(project, device).unwrap_or_else(|| {
        let half = Vec2::new(COURSE_MM / 2.0 * scale, 0.0);
        let above = Point::new(bounds.center().x, bounds.y1 + RING_OFF_MM * scale);
        (above - half, above + half, Vec2::new(0.0, 1.0))
    });
    Some(LiveDevice { id, kind: project.kinds.get_shared(device.kind)?, bounds, points, course })
}

/// The course along the window that a motor on a wall belongs to, from the end at which the motor is.
fn along_window(project: &Project, device: &Device) -> Option<(Point, Point, Vec2)> {
    let Mount::WallFace { wall: on, side, along } = device.mount else { return None };
    let wall = project.walls.get(on)?;
    let beside = |from: f64, to: f64| (from - along.as_mm()).max(along.as_mm() - to).max(0.0);
    let (_, opening) = project
        .openings
        .iter()
        .filter(|(_, opening)| opening.wall == on && opening.form != OpeningForm::Plain)
        .map(|(_, opening)| (beside(opening.from().as_mm(), opening.to().as_mm()), opening))
        .filter(|(beside, _)| *beside <= BESIDE_WINDOW_MM)
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    let outward = wall.normal(side);
    let ends = [opening.from(), opening.to()].map(|at| wall.on_face(at, side) + outward * BEFORE_WINDOW_MM);
    let at_start = (along - opening.from()).as_mm().abs() <= (along - opening.to()).as_mm().abs();
    let [from, to] = if at_start { ends } else { [ends[1], ends[0]] };
    Some((from, to, outward))
}

/// What a contact tells of, as the drawing needs it.
pub(super) type Told = BTreeMap<Id<Device>, ToldOpen>;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::{bare_house, small_house};

    /// The values of a house, by point; the rest is off.
    fn drawn(project: &Project, level: Id<Level>, values: &[(PointRef, Has, Has)]) -> Vec<Item> {
        let now = |point: &PointRef| {
            let given = values.iter().find(|(known, ..)| known == point);
            let (shown, goal) = given.map_or((Has::State(false), Has::State(false)), |(_, a, b)| (*a, *b));
            Some(Now { shown, goal, lately: false })
        };
        LiveDrawing::of(project, level, 50.0).items(project, &now)
    }

    fn words(items: &[Item]) -> Vec<&str> {
        let text = |item| match item {
            &Item { shape: Shape::Text { ref text, .. }, .. } => Some(text.as_str()),
            _ => None,
        };
        items.iter().filter_map(text).collect()
    }

    #[test]
    fn a_lamp_glows_as_strongly_as_it_is_lit_and_says_so() {
        let house = small_house();
        let mut devices = house.project.devices_on(house.ground);
        let lamp = devices.find(|(_, _, kind)| kind.family == crate::kit::Family::Luminaires).unwrap().0;
        let lit = |level: f64| {
            let level = Has::Number(level);
            drawn(&house.project, house.ground, &[(PointRef::new(lamp, "level"), level, level)])
        };
        assert!(lit(0.0).iter().all(|item| !matches!(item.role, Role::Glow(_))), "dark");
        let glow = |items: &[Item]| {
            items.iter().find_map(|item| match (item.role, &item.shape) {
                (Role::Glow([.., opacity]), Shape::Path(path)) => {
                    Some((opacity, path.bounding_box().width()))
                }
                _ => None,
            })
        };
        let (soft, full) = (lit(20.0), lit(100.0));
        let (a, b) = (glow(&soft).unwrap(), glow(&full).unwrap());
        assert!(a.0 < b.0 && a.1 < b.1, "{a:?} {b:?}");
        assert_eq!((words(&soft), words(&full)), (vec!["20 %"], vec!["100 %"]));
        assert_eq!(full[0].subject, Some(Subject::Device(lamp)), "halos lie beneath all else");
    }

    #[test]
    fn a_blind_stands_along_its_window_as_far_as_it_is_shut() {
        use crate::kit::catalogue::kind_by_key;
        use crate::plan::{MakeUp, Opening, Side, Wall};
        use crate::units::Length;
        let mut house = bare_house();
        let level = house.ground;
        let wall = house.put(Wall {
            level,
            start: Point::ZERO,
            end: Point::new(4000.0, 0.0),
            thickness: Length::mm(300.0),
            height: Length::mm(2400.0),
            make_up: MakeUp::Block,
        });
        house.put(Opening {
            wall,
            centre: Length::mm(2000.0),
            width: Length::mm(1200.0),
            head: Length::mm(2100.0),
            form: OpeningForm::Window { sill: Length::mm(900.0) },
        });
        let kind = house.put(kind_by_key("blind-motor").unwrap());
        let mount = Mount::WallFace { wall, side: Side::Left, along: Length::mm(1500.0) };
        let blind = house.place(kind, mount, None);
        let at = |open: f64| {
            let point = PointRef::new(blind, "position");
            drawn(&house.project, level, &[(point, Has::Number(open), Has::Number(0.0))])
        };
        let shut_part = |items: &[Item]| {
            items.iter().find_map(|item| match (item.role, &item.shape) {
                (Role::TravelShut, Shape::Path(path)) => Some(path.bounding_box()),
                _ => None,
            })
        };
        let half = at(25.0);
        let bar = shut_part(&half).unwrap();
        assert_eq!((bar.x0.round(), bar.x1.round()), (1400.0, 2300.0), "from the end at which its motor is");
        assert_eq!(words(&half), ["25 % open, closing"]);
        assert_eq!(words(&at(0.0)), ["shut"]);
    }
}
