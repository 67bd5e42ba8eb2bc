//! Cameras: how much of a face, a gate or a number plate each shows, and where.
//!
//! A camera is a pinhole in three dimensions ([`Lens`]). What its picture holds of a level plane at a chosen height is
//! cut to what can be seen past walls, doors and joinery; on that plane each level of detail ends at a straight line,
//! for detail depends on the depth along the optical axis alone. Named targets are judged one by one at their own
//! height, and what lies beyond the site's boundary is measured, for it is somebody else's.

mod lens;
mod sun_path;

use std::collections::BTreeMap;

use kurbo::{Line, Point, Vec2};

use super::scenes::FARTHEST_STUDIED;
use super::sight::{Question, Target, sensor_polygon_for};
use super::{Options, Scenes};
use crate::building::Whereabouts;
use crate::geometry::{Region, Ring, difference, intersection, sector};
use crate::id::Id;
use crate::kit::{Detection, Device, Kind, Movement, Pattern};
use crate::limits::{CameraLevel, camera_levels};
use crate::plan::{DoorsAs, Level, Sense, Spot, SpotUse};
use crate::project::Project;
use crate::units::{Angle, Area, Length};

pub use lens::Lens;
pub use sun_path::{HOW_SAMPLED, SunPath, SunSpell};

/// A target nearer than this to the edge of what is seen counts as seen, mm: people mark doors on the very face of the
/// wall.
const ON_THE_FACE_MM: f64 = 10.0;

/// Where a camera gives a level of detail.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelReach {
    /// The level, of the edition that the site chooses.
    pub level: &'static CameraLevel,
    /// The depth along the optical axis down to which it holds, by the formula D = N f / (w L).
    pub along_axis: Length,
    /// How far from the camera's foot, on the plan, the farthest point lies that is really seen at that level at the
    /// target's height; `None` where none is. It is at most [`FARTHEST_STUDIED`].
    pub farthest_seen: Option<Length>,
    /// Where a target at the chosen height is seen at that level or a finer one, plan mm.
    pub band: Region,
    /// The lines on which the level ends, within the drawn reach, plan mm.
    pub ends: Vec<Line>,
}

/// Why a target is not seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unseen {
    /// It lies beside, above, beneath or behind the picture.
    OutOfPicture,
    /// Something stands in the way.
    Hidden,
    /// The height of the camera is not decided.
    HeightUndecided,
}

impl Unseen {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::OutOfPicture => "outside the picture",
            Self::Hidden => "something stands in the way",
            Self::HeightUndecided => "the camera's height is not decided",
        }
    }
}

/// How a camera shows a target.
#[derive(Clone, Debug, PartialEq)]
pub struct TargetSeen {
    /// The target.
    pub spot: Id<Spot>,
    /// Pixels to a metre on it, or why it is not seen.
    pub px_per_m: Result<f64, Unseen>,
    /// The finest level that is reached; `None` where none is.
    pub level: Option<&'static CameraLevel>,
    /// How far down the camera looks at it, from level.
    pub down_angle: Angle,
    /// Distance on the plan.
    pub distance: Length,
}

/// What one camera shows.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraCoverage {
    /// The camera.
    pub device: Id<Device>,
    /// The storey it is on.
    pub level: Id<Level>,
    /// The camera as a pinhole, at height nought where its own is not decided.
    pub lens: Lens,
    /// Its height above the finished floor; `None` where it is not decided, and then it is asked nothing that depends
    /// on it.
    pub height: Option<Length>,
    /// The height that bands are drawn for.
    pub target_height: Length,
    /// Its levels, the coarsest first.
    pub levels: Vec<LevelReach>,
    /// What is in the picture at the target's height within the drawn reach, plan mm.
    pub seen: Region,
    /// Every spot of its storey that is to be seen by a camera.
    pub targets: Vec<TargetSeen>,
    /// How much of [`Self::seen`] lies beyond the site's boundary; `None` where nobody drew one.
    pub beyond_boundary: Option<Area>,
}

impl CameraCoverage {
    /// From its foot to where the picture begins at a height; see [`Lens::near_strip`].
    pub fn near_strip(&self, height: Length) -> Option<Length> {
        self.height.and_then(|_| self.lens.near_strip(height))
    }

    /// From its foot to where the picture ends at a height; see [`Lens::far_limit`].
    pub fn far_limit(&self, height: Length) -> Option<Length> {
        self.height.and_then(|_| self.lens.far_limit(height))
    }
}

/// Studies every camera of the house, by level and id.
pub fn cameras(project: &Project, options: Options) -> Vec<CameraCoverage> {
    let mut found = Vec::new();
    for level in project.levels.ids() {
        if !project.devices_on(level).any(|(_, _, kind)| kind.optics.is_some()) {
            continue;
        }
        let mut scenes = Scenes::of_level(project, level, options.doors);
        for (id, device, kind) in project.devices_on(level) {
            found.extend(camera(project, &mut scenes, options.doors, (id, device, kind)));
        }
    }
    found
}

/// Studies one camera among the scenes of its level; `None` for what is no camera, or makes no picture.
pub fn camera(
    project: &Project,
    scenes: &mut Scenes,
    doors: DoorsAs,
    (id, device, kind): (Id<Device>, &Device, &Kind),
) -> Option<CameraCoverage> {
    let optics = kind.optics?;
    let (eye, facing) = (project.position_of(device)?, project.facing_of(device));
    let height = Whereabouts::height_of(project, device);
    let lens = Lens::new(&optics, eye, height.unwrap_or_default(), facing, device.tilt)?;
    let looks = Looks { project, device, lens, doors };
    let target_height = project.site.camera_target;
    let whole = match height {
        Some(_) => looks.in_picture(scenes, target_height),
        None => Region::empty(),
    };
    let seen = within_reach(&whole, eye, optics.drawn_range);
    let levels = camera_levels(project.site.camera_levels).levels.iter();
    let levels = levels.map(|level| level_reach(&lens, level, target_height, &whole, &seen)).collect();
    let targets = looks.targets(scenes, height.is_some());
    let beyond_boundary = beyond(&seen, &project.site.boundary);
    Some(CameraCoverage {
        device: id,
        level: device.level,
        lens,
        height,
        target_height,
        levels,
        seen,
        targets,
        beyond_boundary,
    })
}

fn level_reach(
    lens: &Lens,
    level: &'static CameraLevel,
    height: Length,
    whole: &Region,
    seen: &Region,
) -> LevelReach {
    let along_axis = lens.depth_of(level.px_per_m);
    let footprint = lens.footprint(height, along_axis, FARTHEST_STUDIED);
    let band = intersection(whole, &Region::from_ring(footprint));
    let distances =
        band.rings().flat_map(|ring| ring.points().iter().map(|point| (*point - lens.eye).hypot()));
    let farthest_seen = distances.reduce(f64::max).map(Length::mm);
    let ends = match lens.line_of_depth(height, along_axis) {
        Some((point, direction)) => chords(seen, point, direction),
        None => Vec::new(),
    };
    LevelReach { level, along_axis, farthest_seen, band, ends }
}

/// The part of a region within a distance of the eye.
fn within_reach(region: &Region, eye: Point, reach: Length) -> Region {
    let circle = sector::fan(eye, 0.0, std::f64::consts::TAU, reach.as_mm());
    intersection(region, &Region::from_ring(circle))
}

/// How much of what is seen lies beyond the boundary.
fn beyond(seen: &Region, boundary: &[Point]) -> Option<Area> {
    let site = Region::from_ring(Ring::new(boundary.to_vec()));
    (!site.is_empty()).then(|| Area::mm2(difference(seen, &site).area()))
}

/// The pieces of a line that lie in a region, by the even-odd rule.
fn chords(region: &Region, point: Point, direction: Vec2) -> Vec<Line> {
    let side = |at: Point| direction.cross(at - point);
    let mut crossings: Vec<f64> = region
        .rings()
        .flat_map(|ring| ring.edges())
        .filter_map(|edge| {
            let (a, b) = (side(edge.a), side(edge.b));
            if (a <= 0.0) == (b <= 0.0) {
                return None;
            }
            Some((edge.a + (edge.b - edge.a) * (a / (a - b)) - point).dot(direction))
        })
        .collect();
    crossings.sort_by(f64::total_cmp);
    let at = |along: f64| point + direction * along;
    crossings.chunks_exact(2).map(|pair| Line::new(at(pair[0]), at(pair[1]))).collect()
}

/// A camera that looks about.
struct Looks<'a> {
    project: &'a Project,
    device: &'a Device,
    lens: Lens,
    doors: DoorsAs,
}

impl Looks<'_> {
    /// What is in the picture of the plane at a height, past all that stands in the way.
    fn in_picture(&self, scenes: &mut Scenes, height: Length) -> Region {
        let unlimited = Length::mm(f64::INFINITY);
        let footprint = self.lens.footprint(height, unlimited, FARTHEST_STUDIED);
        if footprint.len() < 3 {
            return Region::empty();
        }
        intersection(&self.visible(scenes, height), &Region::from_ring(footprint))
    }

    /// What can be seen of the plane at a height in the directions that the picture holds.
    fn visible(&self, scenes: &mut Scenes, height: Length) -> Region {
        // On the plan a picture that is tilted down opens wider than its lens. A hair more is asked for, so that the
        // footprint's edges are the picture's.
        let widest = 2.0 * self.lens.widest_on_plan(height, FARTHEST_STUDIED) + 0.02;
        let angle = Angle::radians(widest.min(std::f64::consts::TAU));
        let detection = Detection::plain(Sense::Camera, Pattern::Fan { angle, range: FARTHEST_STUDIED });
        let question = Question {
            target: Target::At(height),
            movement: Movement::Across,
            doors: self.doors,
            warm: false,
        };
        let device = Device { tilt: Angle::ZERO, ..self.device.clone() };
        sensor_polygon_for(self.project, scenes, &device, &detection, question).unwrap_or_default()
    }

    fn targets(&self, scenes: &mut Scenes, is_placed: bool) -> Vec<TargetSeen> {
        let mut by_height: BTreeMap<u64, Region> = BTreeMap::new();
        let spots = self.project.spots_on(self.device.level);
        spots
            .filter(|(_, spot)| spot.spot_use == SpotUse::ToBeSeen)
            .map(|(id, spot)| {
                let px_per_m = if !is_placed {
                    Err(Unseen::HeightUndecided)
                } else if !self.lens.holds(spot.at, spot.height_affl) {
                    Err(Unseen::OutOfPicture)
                } else {
                    let visible = by_height
                        .entry(spot.height_affl.as_mm().to_bits())
                        .or_insert_with(|| self.visible(scenes, spot.height_affl));
                    if sees(visible, spot.at) {
                        Ok(self.lens.px_per_m(self.lens.depth(spot.at, spot.height_affl)))
                    } else {
                        Err(Unseen::Hidden)
                    }
                };
                let levels = camera_levels(self.project.site.camera_levels);
                TargetSeen {
                    spot: id,
                    level: px_per_m.ok().and_then(|px_per_m| levels.reached(px_per_m)),
                    px_per_m,
                    down_angle: self.lens.down_angle(spot.at, spot.height_affl),
                    distance: Length::mm((spot.at - self.lens.eye).hypot()),
                }
            })
            .collect()
    }
}

fn sees(visible: &Region, at: Point) -> bool {
    visible.contains(at) || visible.rings().any(|ring| ring.distance_to_outline(at) <= ON_THE_FACE_MM)
}

#[cfg(test)]
mod tests;
