//! What one sensor sees in height: lines of sight from its eye to the height of a target at every point of the floor.
//!
//! What stands at every height on the way cuts the view as walls cut a plan ([`crate::geometry::Scene`]); what stands at
//! some of them throws a shadow ([`shadow`]); where the lens does not look is blank ([`lens`], [`picture`]). The answer
//! is the first less the other two, within the reach that the question leaves ([`reach`]).
//!
//! Error bound: straight edges are exact to 0.001 mm; arcs and other curves are cut into chords that stand off them by
//! 0.25 mm at most ([`crate::geometry::sector::ARC_TOLERANCE`]).

mod eye;
mod lens;
mod picture;
mod question;
mod reach;
mod section;
mod shadow;
#[cfg(test)]
mod tests;

use std::f64::consts::TAU;

use kurbo::Rect;

use crate::building::obstacle::{Obstacles, PartOf, Passage};
use crate::geometry::{Region, Ring, Scene, View, intersection, ring_without, union_of_regions};
use crate::kit::{Detection, Device, WIDEST_FLAT_VIEW_DEGREES};
use crate::plan::Sense;
use crate::project::Project;

use self::eye::Eye;
use self::lens::Lens;
use self::picture::Picture;
use self::reach::reach;
use self::shadow::shadow;
use super::scenes::{PARTITION_TOLL, Scenes, Standing};

pub use question::{Question, Target};
pub use section::{Cut, Section, sections};

/// A sense that passes boards with a loss is followed through so many partitions, one behind the other.
const MOST_PARTITIONS: u8 = 4;

/// Nor is it followed where it would reach no farther than this, mm.
const SHORTEST_REACH_MM: f64 = 100.0;

/// An area below this is none, mm².
const NOTHING_MM2: f64 = 1.0;

/// Why a sensor sees nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Blind {
    /// Its eye is inside a wall.
    InsideWall,
    /// Its eye is inside a piece of joinery.
    InsideJoinery,
    /// It reaches nowhere.
    NoReach,
    /// Within its reach its lens looks over or under the target.
    MissesTarget,
    /// Everything it could see is hidden.
    Hidden,
}

/// What is to be said beside an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reservation {
    /// Neither the device nor its kind has a height: it was taken to look level at the height of the target, and the
    /// layers of its lens were left out.
    HeightUnknown,
    /// It hangs lower or higher than its maker's table of radii goes: the nearest row was taken.
    BesideTable,
}

/// What a sensor sees.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// Where it notices the target, plan mm.
    pub region: Region,
    /// Why the region is empty, where it is.
    pub blind: Option<Blind>,
    /// How far ahead of its foot its lens begins to look at the target, mm; 0 where it looks straight down, `None` where
    /// it never does within its reach.
    pub blind_strip: Option<f64>,
    /// What is to be said beside it.
    pub reservations: Vec<Reservation>,
}

/// Where a device of that detection would notice the target of a question, plan mm. `None` where its host is gone.
pub fn sensor_polygon_for(
    project: &Project,
    scenes: &mut Scenes,
    device: &Device,
    detection: &Detection,
    question: Question,
) -> Option<Region> {
    seen_by(project, scenes, device, detection, question).map(|seen| seen.region)
}

/// The same for the default question, with doors as the scenes take them.
pub fn sensor_polygon(
    project: &Project,
    scenes: &mut Scenes,
    device: &Device,
    detection: &Detection,
) -> Option<Region> {
    let question = Question::with_doors(scenes.doors());
    sensor_polygon_for(project, scenes, device, detection, question)
}

/// The same with what has to be said about it. `None` where its host is gone.
pub fn seen_by(
    project: &Project,
    scenes: &mut Scenes,
    device: &Device,
    detection: &Detection,
    question: Question,
) -> Option<Seen> {
    let eye = Eye::of(project, device, detection)?;
    let reach = reach(detection, eye.height, &question);
    let mut reservations = Vec::new();
    if eye.height.is_none() {
        reservations.push(Reservation::HeightUnknown);
    }
    if reach.beside_table {
        reservations.push(Reservation::BesideTable);
    }
    let glance = Glance::of(&eye, detection, &question, reach.mm);
    let blind_strip = glance.optic.blind_strip(reach.mm);
    let nothing = |blind| Seen {
        blind: Some(blind),
        blind_strip,
        reservations: reservations.clone(),
        ..Seen::default()
    };
    if !(reach.mm > 0.0 && glance.fan > 0.0) {
        return Some(nothing(Blind::NoReach));
    }
    let region = if detection.sense == Sense::FireOrGas {
        glance.within_room(scenes)
    } else {
        let loss = detection.reach_left.through_board;
        let (obstacles, standing) =
            scenes.between(detection.sense, question.doors, glance.heights(), glance.square());
        match inside(obstacles, &glance) {
            Some(blind) => return Some(nothing(blind)),
            None => glance.among(obstacles, standing, loss),
        }
    };
    if region.area() < NOTHING_MM2 {
        let misses = glance.in_the_open().area() < NOTHING_MM2;
        return Some(nothing(if misses { Blind::MissesTarget } else { Blind::Hidden }));
    }
    Some(Seen { region, blind: None, blind_strip, reservations })
}

/// Whether the eye is inside something that it cannot look out of.
fn inside(obstacles: &Obstacles, glance: &Glance) -> Option<Blind> {
    let around = obstacles.prisms().iter().find(|prism| prism.holds(glance.eye.at, glance.height))?;
    Some(match around.part_of {
        PartOf::Joinery => Blind::InsideJoinery,
        PartOf::Wall | PartOf::Leaf => Blind::InsideWall,
    })
}

/// Where the optics of a sensor look.
enum Optic {
    Lens(Lens),
    Picture(Picture),
}

/// One sensor and one question, with every figure settled.
struct Glance {
    eye: Eye,
    optic: Optic,
    /// The angle of its fan, radians.
    fan: f64,
    height: f64,
    target: f64,
    range: f64,
}

impl Glance {
    fn of(eye: &Eye, detection: &Detection, question: &Question, range: f64) -> Self {
        let target = question.target.height().as_mm();
        let height = eye.height.unwrap_or(target);
        // Without a height nothing is known of what the layers of a lens meet.
        let tiers = if eye.height.is_some() { detection.tiers.as_slice() } else { &[] };
        let angle = detection.pattern.angle();
        let (fan, drop) = (angle.as_radians(), height - target);
        let optic = match eye.axis {
            eye::Axis::Ahead(tilt)
                if detection.sense == Sense::Camera && angle.as_degrees() <= WIDEST_FLAT_VIEW_DEGREES =>
            {
                Optic::Picture(Picture::new(tilt, tiers, fan, drop))
            }
            _ => Optic::Lens(Lens::new(eye, tiers, fan, drop)),
        };
        Self { eye: *eye, optic, fan, height, target, range }
    }

    /// The heights between eye and target, lowest first.
    fn heights(&self) -> (f64, f64) {
        (self.height.min(self.target), self.height.max(self.target))
    }

    /// The square about the eye that its range lies in.
    fn square(&self) -> Rect {
        Rect::from_center_size(self.eye.at, (2.0 * self.range, 2.0 * self.range))
    }

    /// The fan on the plan within which a view is cut; all round where a tilted lens is cut by its own sides.
    fn view(&self, range: f64) -> View {
        if self.optic.is_tilted() {
            View::all_round(range)
        } else {
            View { facing: self.eye.facing, width: self.fan.min(TAU), range }
        }
    }

    fn blanks(&self) -> Vec<Ring> {
        match &self.optic {
            Optic::Lens(lens) => lens.blanks(self.eye.at, self.eye.facing, self.fan, self.range),
            Optic::Picture(picture) => picture.blanks(&self.eye, self.range),
        }
    }

    /// What it would see if nothing stood in its way.
    fn in_the_open(&self) -> Region {
        without(Scene::unobstructed(self.eye.at, self.view(self.range)), &self.blanks())
    }

    /// Smoke, heat and gas fill the room that they are in, and reach an alarm from anywhere in it.
    fn within_room(&self, scenes: &mut Scenes) -> Region {
        let open = self.in_the_open();
        match scenes.space_around(self.eye.at) {
            Some(space) => intersection(&open, &Region { shapes: vec![space.shape.clone()] }),
            None => open,
        }
    }

    /// What it sees among all that stands in its way; through boards with what the loss leaves of its reach.
    fn among(&self, obstacles: &Obstacles, standing: &Standing, loss: f64) -> Region {
        let mut dark = self.blanks();
        let mut boarded = Vec::new();
        let (low, high) = self.heights();
        for prism in obstacles.prisms().iter().filter(|prism| !prism.spans(low, high)) {
            let hides = shadow(prism, self.eye.at, (self.height, self.target), self.range);
            let lets_through = prism.passage == Passage::WithLoss;
            if lets_through { boarded.extend(hides) } else { dark.extend(hides) }
        }
        let all: Vec<Ring> = dark.iter().chain(&boarded).cloned().collect();
        let clear = without(self.visible(standing, self.range, 0), &all);
        if loss <= 0.0 || (!standing.has_boards && boarded.is_empty()) {
            return clear;
        }
        let mut parts = vec![clear];
        let mut range = self.range;
        for partitions in 1..=MOST_PARTITIONS {
            range *= loss.min(1.0);
            if range < SHORTEST_REACH_MM {
                break;
            }
            // So many partitions from floor to ceiling; or one less, and one that stands at some of the heights.
            let purse = PARTITION_TOLL * partitions;
            parts.push(without(self.visible(standing, range, purse), &all));
            if !boarded.is_empty() {
                parts.push(without(self.visible(standing, range, purse - PARTITION_TOLL), &dark));
            }
        }
        union_of_regions(&parts.iter().collect::<Vec<_>>())
    }

    fn visible(&self, standing: &Standing, range: f64, purse: u8) -> Ring {
        match &standing.scene {
            Some(scene) => scene.visible_through(self.eye.at, self.view(range), purse),
            None => Scene::unobstructed(self.eye.at, self.view(range)),
        }
    }
}

impl Optic {
    fn is_tilted(&self) -> bool {
        match self {
            Self::Lens(lens) => lens.is_tilted(),
            Self::Picture(picture) => picture.is_tilted(),
        }
    }

    fn blind_strip(&self, range: f64) -> Option<f64> {
        match self {
            Self::Lens(lens) => lens.blind_strip(range),
            Self::Picture(picture) => picture.blind_strip(range),
        }
    }
}

/// A ring less others; those that lie apart from it are left out of the reckoning.
fn without(ring: Ring, taken: &[Ring]) -> Region {
    let Some(bounds) = ring.bounds() else { return Region::empty() };
    let near = |other: &&Ring| other.bounds().is_some_and(|other| other.overlaps(bounds));
    let taken: Vec<Ring> = taken.iter().filter(near).cloned().collect();
    if taken.is_empty() { Region::from_ring(ring) } else { ring_without(&ring, &taken) }
}
