//! A section through a sensor: height against distance along the way it faces, with all that its sense meets there.
//!
//! The upright plane through the sensor cuts every obstacle into a rectangle. What the sensor sees within that plane is
//! the same question as on the plan, asked among these rectangles: rays from the eye, between the edges of each layer
//! of its lens.

use std::collections::BTreeMap;
use std::f64::consts::FRAC_PI_2;

use kurbo::{Point, Rect, Vec2};

use super::eye::{Axis, Eye};
use crate::building::obstacle::{Obstacles, PartOf, Passage};
use crate::geometry::{Region, Ring, Scene, Segment, View, union_of_regions};
use crate::id::Id;
use crate::kit::{Detection, Device, Kind};
use crate::plan::{DoorsAs, Level, Sense};
use crate::project::Project;
use crate::units::Length;

/// A leaf of a door has no thickness; in a section it is drawn this thick, mm.
const LEAF_MM: f64 = 40.0;

/// So far behind the sensor the section begins, mm.
const BEHIND_MM: f64 = 300.0;

/// No section reaches farther than this, mm; beyond it the figures of a lens are drawn on nothing.
const FARTHEST_MM: f64 = 15_000.0;

/// Something the section cuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// What it is a part of.
    pub part_of: PartOf,
    /// Whether the sense passes it with a loss.
    pub with_loss: bool,
    /// From where to where along the section, and from its underside to its top, mm.
    pub rect: Rect,
}

/// The section: x is the distance from the sensor the way it faces, y the height above the finished floor, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// What it senses.
    pub sense: Sense,
    /// Where its eye is: x is zero.
    pub eye: Point,
    /// Height of the ceiling.
    pub ceiling: f64,
    /// From where to where along the section there is something to show.
    pub from: f64,
    /// The end of it: its reach, or the first thing that stops it at every height.
    pub to: f64,
    /// What is cut.
    pub cuts: Vec<Cut>,
    /// What the sensor sees within the plane, up to its reach.
    pub seen: Region,
    /// From where to where it sees somebody walking, at breast height, first to last.
    pub walking: Option<(f64, f64)>,
}

/// The section through every sensor of a level that notices people; those without a host or a known height have none,
/// and what hears, smells or feels warmth does not look along a line.
pub fn sections(project: &Project, level: Id<Level>, doors: DoorsAs) -> BTreeMap<Id<Device>, Section> {
    let mut obstacles: BTreeMap<Sense, Obstacles> = BTreeMap::new();
    let through = |(id, device, kind): (Id<Device>, &Device, &Kind)| {
        let detection = kind.senses().filter(|detection| detection.sense.looks())?;
        let among = obstacles
            .entry(detection.sense)
            .or_insert_with(|| Obstacles::of_level(project, level, detection.sense, doors));
        Some((id, section(project, device, &detection, among)?))
    };
    project.devices_on(level).filter_map(through).collect()
}

fn section(
    project: &Project,
    device: &Device,
    detection: &Detection,
    obstacles: &Obstacles,
) -> Option<Section> {
    let eye = Eye::of(project, device, detection)?;
    let height = eye.height?;
    let ceiling = project.levels.get(device.level)?.ceiling_affl.as_mm();
    let reach = detection.pattern.range().as_mm().min(FARTHEST_MM);
    let along = Vec2::new(eye.facing.cos(), eye.facing.sin());
    let mut cuts: Vec<Cut> = obstacles
        .prisms()
        .iter()
        .filter_map(|prism| {
            let (from, to) = crossed(&prism.footprint, eye.at, along)?;
            let (from, to) = (from.max(-BEHIND_MM), to.min(reach));
            (from < to).then(|| Cut {
                part_of: prism.part_of,
                with_loss: prism.passage == Passage::WithLoss,
                rect: Rect::new(from, prism.base, to, prism.top),
            })
        })
        .collect();
    cuts.sort_by(|a, b| a.rect.x0.total_cmp(&b.rect.x0));
    let eye_point = Point::new(0.0, height);
    let seen = seen_within(eye_point, reach, ceiling, &cuts, eye.axis, &detection.tiers);
    let to = seen.bounds().map_or(reach, |bounds| bounds.x1.clamp(500.0, reach));
    cuts.retain(|cut| cut.rect.x0 <= to + BEHIND_MM);
    let from = if matches!(eye.axis, Axis::Down) {
        seen.bounds().map_or(-BEHIND_MM, |bounds| bounds.x0.min(-BEHIND_MM))
    } else {
        -BEHIND_MM
    };
    let walking = stretch_at(&seen, crate::building::obstacle::SENSED_HEIGHT);
    Some(Section { sense: detection.sense, eye: eye_point, ceiling, from, to, cuts, seen, walking })
}

/// From where to where a line from `eye` runs within a convex footprint, mm along it.
fn crossed(footprint: &Ring, eye: Point, along: Vec2) -> Option<(f64, f64)> {
    let across = Vec2::new(-along.y, along.x);
    let mut ends: Vec<f64> = Vec::new();
    let edges: Vec<Segment> = match footprint.points() {
        [a, b] => vec![Segment::new(*a, *b)],
        _ => footprint.edges().collect(),
    };
    for edge in &edges {
        let (a, b) = ((edge.a - eye).dot(across), (edge.b - eye).dot(across));
        if a == b || a.min(b) > 0.0 || a.max(b) < 0.0 {
            continue;
        }
        let place = edge.a.lerp(edge.b, a / (a - b));
        ends.push((place - eye).dot(along));
    }
    let from = ends.iter().copied().fold(f64::INFINITY, f64::min);
    let to = ends.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if ends.is_empty() {
        None
    } else if footprint.len() == 2 {
        Some((from - LEAF_MM / 2.0, to + LEAF_MM / 2.0))
    } else {
        Some((from, to))
    }
}

/// What the eye sees among the cuts, between floor and ceiling, layer by layer.
fn seen_within(
    eye: Point,
    reach: f64,
    ceiling: f64,
    cuts: &[Cut],
    axis: Axis,
    tiers: &[crate::kit::Tier],
) -> Region {
    let mut walls: Vec<Segment> = Vec::new();
    // What the sensor hangs on is behind it, and what lets the sense through does not end a ray.
    let is_passed = |cut: &&Cut| cut.with_loss || cut.rect.x1 <= 0.5;
    for cut in cuts.iter().filter(|cut| !is_passed(cut)) {
        walls.extend(Ring::from_rect(cut.rect).edges());
    }
    let room = Rect::new(-reach, 0.0, reach, ceiling.max(eye.y + 1.0));
    let Ok(scene) = Scene::new(Some(room), &walls) else { return Region::empty() };
    let views: Vec<View> = match axis {
        Axis::Down if tiers.is_empty() => vec![View::new(-FRAC_PI_2, std::f64::consts::PI, reach)],
        Axis::Down => tiers
            .iter()
            .flat_map(|tier| {
                let (from, to) = (tier.from.as_radians(), tier.to.as_radians());
                [-1.0, 1.0].map(|side| View::new(-FRAC_PI_2 + side * (from + to) / 2.0, to - from, reach))
            })
            .collect(),
        Axis::Ahead(tilt) if tiers.is_empty() => vec![View::new(-tilt, std::f64::consts::PI, reach)],
        Axis::Ahead(tilt) => tiers
            .iter()
            .map(|tier| {
                let (from, to) = (tier.from.as_radians(), tier.to.as_radians());
                View::new(-(tilt + (from + to) / 2.0), to - from, reach)
            })
            .collect(),
    };
    let seen: Vec<Region> =
        views.into_iter().map(|view| Region::from_ring(scene.visible_from(eye, view))).collect();
    union_of_regions(&seen.iter().collect::<Vec<_>>())
}

/// The first and the last place at which a height is seen.
fn stretch_at(seen: &Region, height: Length) -> Option<(f64, f64)> {
    let level = height.as_mm();
    let mut ends: Vec<f64> = Vec::new();
    for edge in seen.rings().flat_map(|ring| ring.edges().collect::<Vec<_>>()) {
        let (a, b) = (edge.a.y - level, edge.b.y - level);
        if (a <= 0.0) != (b <= 0.0) {
            ends.push(edge.a.lerp(edge.b, a / (a - b)).x);
        }
    }
    let from = ends.iter().copied().fold(f64::INFINITY, f64::min);
    let to = ends.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (from < to).then_some((from, to))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::{Family, MountKind, Pattern, Tier};
    use crate::plan::{Joinery, JoineryForm};
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Angle;

    /// A detector 2.2 m up on the south wall that looks straight in, over an island 0.9 m high from 1.0 to 1.8 m off.
    fn over_an_island(tiers: Vec<Tier>) -> Section {
        let mut house = bare_house();
        let mut kind = plain_kind("Detector", Family::Presence, "PIR", MountKind::Wall, &["motion"]);
        let pattern = Pattern::Fan { angle: Angle::degrees(90.0), range: Length::m(12.0) };
        kind.detection = Some(Detection { tiers, ..Detection::plain(Sense::BodyHeat, pattern) });
        let kind = house.put(kind);
        let device = house.place(kind, house.on_wall(0, 2000.0), Some(2200.0));
        let project = &house.project;
        let eye = project.position_of(project.devices.get(device).unwrap()).unwrap();
        let facing = project.facing_of(project.devices.get(device).unwrap());
        let level = project.levels.ids().next().unwrap();
        let island = Joinery {
            level,
            name: "Island".to_owned(),
            form: JoineryForm::Island,
            centre: eye + facing.direction() * 1400.0,
            width: Length::mm(2000.0),
            depth: Length::mm(800.0),
            turn: facing + Angle::degrees(90.0),
            base: Length::ZERO,
            top: Length::mm(900.0),
            leaves: Vec::new(),
        };
        house.put(island);
        sections(&house.project, level, DoorsAs::Shut).remove(&device).unwrap()
    }

    #[test]
    fn a_section_cuts_the_island_and_the_wall_opposite_and_sees_over_the_one() {
        let section = over_an_island(Vec::new());
        let island = section.cuts.iter().find(|cut| cut.part_of == PartOf::Joinery).unwrap();
        assert!((island.rect.x0 - 1000.0).abs() < 1.0 && (island.rect.x1 - 1800.0).abs() < 1.0, "{island:?}");
        assert_eq!((island.rect.y0, island.rect.y1), (0.0, 900.0));
        let (from, to) = section.walking.unwrap();
        let wall = section.cuts.iter().rfind(|cut| cut.part_of == PartOf::Wall).unwrap();
        assert!(from < 1.0 && (to - wall.rect.x0).abs() < 1.0, "{from} {to} {wall:?}");
        // Behind the island the floor is hidden as far as the line over its far edge: 1.8 m · 2.2 / (2.2 - 0.9).
        assert!(!section.seen.contains(Point::new(2700.0, 5.0)));
        assert!(section.seen.contains(Point::new(2700.0, 1300.0)));
    }

    #[test]
    fn a_lens_that_begins_below_its_axis_leaves_the_strip_beneath_blind() {
        let tier = Tier { from: Angle::degrees(0.0), to: Angle::degrees(56.4) };
        let (from, _) = over_an_island(vec![tier]).walking.unwrap();
        // At breast height, 0.9 m below the eye: 0.9 m / tan 56.4° = 598 mm.
        assert!((from - 598.0).abs() < 1.5, "{from}");
    }
}
