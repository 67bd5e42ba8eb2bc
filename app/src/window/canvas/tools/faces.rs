//! Points that catch the faces of walls rather than their axes: what stands against a wall, and what a tape is
//! held to.

use kurbo::{Point, Vec2};
use pattress_model::geometry::Segment;
use pattress_model::id::Id;
use pattress_model::plan::{Level, Side};
use pattress_model::project::Project;
use pattress_model::units::{Length, round_point};

/// What a point catches of the faces of a level's walls within reach: the corner where two faces meet, else the
/// nearest place on the nearest face.
pub fn catch(project: &Project, level: Id<Level>, at: Point, reach: f64) -> Option<Caught> {
    let mut near: Vec<(f64, Segment)> = Vec::new();
    for (_, wall) in project.walls_on(level) {
        if wall.distance_to_axis(at).as_mm() > reach + wall.thickness.as_mm() / 2.0 {
            continue;
        }
        for side in [Side::Left, Side::Right] {
            let face = Segment::new(wall.on_face(Length::ZERO, side), wall.on_face(wall.length(), side));
            let distance = face.distance_to(at);
            if distance <= reach {
                near.push((distance, face));
            }
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (_, first) = near.first()?;
    let along = first.direction()?;
    for (_, other) in &near[1..] {
        let Some(across) = other.direction() else { continue };
        let cross = along.cross(across);
        if cross.abs() < 0.2 {
            continue;
        }
        let corner = first.a + along * ((other.a - first.a).cross(across) / cross);
        if (corner - at).hypot() <= reach * 1.5 {
            return Some(Caught { at: round_point(corner), corner: true });
        }
    }
    Some(Caught { at: round_point(first.nearest(at).point), corner: false })
}

/// What was caught.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Caught {
    /// Where, mm.
    pub at: Point,
    /// Whether two faces meet there.
    pub corner: bool,
}

impl Caught {
    /// The words for the status line.
    pub const fn words(self) -> &'static str {
        if self.corner { "corner between faces" } else { "wall face" }
    }
}

/// By how much something with these corners is shifted to stand against walls; `None` where none is in reach.
pub fn shift_against(project: &Project, level: Id<Level>, corners: &[Point], reach: f64) -> Option<Vec2> {
    corners
        .iter()
        .filter_map(|corner| {
            catch(project, level, *corner, reach).map(|caught| (caught, caught.at - *corner))
        })
        .min_by(|(a, by_a), (b, by_b)| b.corner.cmp(&a.corner).then(by_a.hypot().total_cmp(&by_b.hypot())))
        .map(|(_, by)| by)
}
