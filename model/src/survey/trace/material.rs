//! Where there is wall along a line: the region of the walls, sorted so that thousands of looks are cheap.

use kurbo::{Point, Vec2};
use rstar::primitives::{GeomWithData, Line as Cord};
use rstar::{AABB, RTree};

use crate::geometry::Segment;

type Face = GeomWithData<Cord<[f64; 2]>, Segment>;

/// The material of the walls by its faces.
#[derive(Clone, Debug)]
pub(super) struct Material {
    faces: RTree<Face>,
    farthest: f64,
}

/// A gap in the material along a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Void {
    /// Where it starts, mm along the line.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Length of the face met where it starts; as long as a wall is thick where that is the end of a wall.
    pub face_at_from: f64,
    /// Length of the face met where it ends.
    pub face_at_to: f64,
}

impl Material {
    /// Sorts the faces of a region.
    pub fn of_faces(faces: &[Segment]) -> Self {
        let cord = |face: &Segment| Face::new(Cord::new([face.a.x, face.a.y], [face.b.x, face.b.y]), *face);
        let farthest = faces.iter().map(|face| face.a.x.max(face.b.x)).fold(f64::NEG_INFINITY, f64::max);
        Self { faces: RTree::bulk_load(faces.iter().map(cord).collect()), farthest }
    }

    /// Whether a point lies in the material (even-odd count of the faces to its right).
    pub fn contains(&self, point: Point) -> bool {
        if point.x > self.farthest {
            return false;
        }
        let ray = AABB::from_corners([point.x, point.y], [self.farthest + 1.0, point.y]);
        let crossed = self.faces.locate_in_envelope_intersecting(ray).filter(|face| {
            let (a, b) = (face.data.a, face.data.b);
            let (low, high) = if a.y < b.y { (a, b) } else { (b, a) };
            (a.y > point.y) != (b.y > point.y) && (high - low).cross(point - low) > 0.0
        });
        crossed.count() % 2 == 1
    }

    /// The gaps in the material between two points.
    pub fn voids(&self, a: Point, b: Point) -> Vec<Void> {
        let line = Segment::new(a, b);
        let length = line.length();
        let Some(along) = line.direction() else { return Vec::new() };
        let around = AABB::from_corners([a.x, a.y], [b.x, b.y]);
        let mut marks = vec![(0.0, 0.0), (length, 0.0)];
        for face in self.faces.locate_in_envelope_intersecting(around) {
            if let Some(at) = crossing(line, along, face.data)
                && (0.0..=length).contains(&at)
            {
                marks.push((at, face.data.length()));
            }
        }
        marks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut voids: Vec<Void> = Vec::new();
        for pair in marks.windows(2) {
            let ((from, face_at_from), (to, face_at_to)) = (pair[0], pair[1]);
            if to - from < 1e-3 || self.contains(a + along * f64::midpoint(from, to)) {
                continue;
            }
            match voids.last_mut() {
                Some(last) if from - last.to < 1e-3 => {
                    last.to = to;
                    last.face_at_to = face_at_to;
                }
                _ => voids.push(Void { from, to, face_at_from, face_at_to }),
            }
        }
        voids
    }
}

/// Where along a line a face crosses it; `None` where it does not, or runs along it.
fn crossing(line: Segment, along: Vec2, face: Segment) -> Option<f64> {
    let up = along.turn_90();
    let (low, high) = ((face.a - line.a).dot(up), (face.b - line.a).dot(up));
    if (low > 0.0) == (high > 0.0) {
        return None;
    }
    let part = low / (low - high);
    part.is_finite().then(|| (face.a.lerp(face.b, part) - line.a).dot(along))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Ring;
    use kurbo::Rect;

    #[test]
    fn gaps_between_two_blocks() {
        let rings = [Rect::new(0., 0., 1000., 100.), Rect::new(1800., 0., 3000., 100.)].map(Ring::from_rect);
        let faces: Vec<Segment> = rings.iter().flat_map(Ring::edges).collect();
        let material = Material::of_faces(&faces);
        let voids = material.voids(Point::new(500.0, 50.0), Point::new(2000.0, 50.0));
        assert_eq!(voids, [Void { from: 500.0, to: 1300.0, face_at_from: 100.0, face_at_to: 100.0 }]);
        assert!(material.contains(Point::new(10.0, 10.0)) && !material.contains(Point::new(1500.0, 10.0)));
        assert_eq!(material.voids(Point::new(500.0, 50.0), Point::new(500.0, 50.0)), []);
    }
}
