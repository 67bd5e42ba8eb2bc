//! Faces that face each other across a wall.
//!
//! Every face casts its width across the material on its left; where the first thing met is a face that runs
//! the other way, the two bound a band of wall. Positions where something else is met first (a wall that joins,
//! an end) are left open and closed later.

use kurbo::{Point, Vec2};
use rstar::primitives::{GeomWithData, Line as Cord};
use rstar::{AABB, RTree};

use crate::geometry::Segment;

/// Walls are no thinner and no thicker than this between their faces, mm: a glazed or boarded screen to an old
/// stone or party wall.
pub(super) const THINNEST_MM: f64 = 38.0;
/// See [`THINNEST_MM`].
pub(super) const THICKEST_MM: f64 = 800.0;

/// Stretches of a face shorter than this are not worth a band, mm.
const SHORTEST_MM: f64 = 20.0;

/// Faces of one wall are parallel to within this, as the sine of the angle (about 3°).
const PARALLEL: f64 = 0.052;

/// The most faces weighed against one; a bound for drawings full of strokes.
const MOST_OPPOSITE: usize = 3000;

/// A stretch of wall between two faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Band {
    /// One end of its axis, plan mm.
    pub start: Point,
    /// The other end.
    pub end: Point,
    /// From face to face, mm.
    pub thickness: f64,
}

impl Band {
    /// Length of the axis.
    pub fn length(&self) -> f64 {
        self.start.distance(self.end)
    }

    /// Unit vector from start to end; +x where they coincide.
    pub fn along(&self) -> Vec2 {
        Segment::new(self.start, self.end).direction().unwrap_or(Vec2::new(1.0, 0.0))
    }

    /// The middle of the axis.
    pub fn middle(&self) -> Point {
        self.start.midpoint(self.end)
    }
}

/// What is met first from a face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Between {
    /// Everything drawn stops the view across: faces of filled material.
    #[default]
    AnyFace,
    /// Only parallel lines do: faces of walls drawn in outline, whatever fills them.
    ParallelLines,
}

type Face = GeomWithData<Cord<[f64; 2]>, usize>;

/// The bands between faces. Faces of filled material have it on their left; of plain lines both sides are tried
/// by handing each over twice, once each way.
pub(super) fn facing_bands(faces: &[Segment], between: Between, noise: f64) -> Vec<Band> {
    let cord = |(index, face): (usize, &Segment)| {
        Face::new(Cord::new([face.a.x, face.a.y], [face.b.x, face.b.y]), index)
    };
    let tree = RTree::bulk_load(faces.iter().enumerate().map(cord).collect());
    let mut bands = Vec::new();
    for index in 0..faces.len() {
        bands.extend(bands_from(faces, index, &tree, between, noise));
    }
    bands
}

/// A face as seen from another: stretch along it and the heights above its ends.
#[derive(Clone, Copy)]
struct Opposite {
    index: usize,
    from: f64,
    to: f64,
    height_at_from: f64,
    height_at_to: f64,
    is_parallel: bool,
}

impl Opposite {
    fn height_at(&self, along: f64) -> f64 {
        let span = self.to - self.from;
        let part = if span > 1e-9 { (along - self.from) / span } else { 0.5 };
        self.height_at_from + (self.height_at_to - self.height_at_from) * part
    }
}

fn bands_from(
    faces: &[Segment],
    index: usize,
    tree: &RTree<Face>,
    between: Between,
    noise: f64,
) -> Vec<Band> {
    let face = faces[index];
    let length = face.length();
    let Some(along) = face.direction() else { return Vec::new() };
    if length < SHORTEST_MM {
        return Vec::new();
    }
    let opposite = opposites(faces, index, tree, along, between, noise);
    let up = along.turn_90();
    let mut bands = Vec::new();
    for (from, to, nearest) in nearest_stretches(&opposite, length) {
        // Each pair is met from both faces; the face with the smaller index keeps it.
        if !nearest.is_parallel || nearest.index < index || to - from < SHORTEST_MM {
            continue;
        }
        let (at_from, at_to) = (nearest.height_at(from), nearest.height_at(to));
        let thickness = (at_from + at_to) / 2.0;
        if !(THINNEST_MM..=THICKEST_MM).contains(&thickness) {
            continue;
        }
        let on_axis = |at: f64, height: f64| face.a + along * at + up * (height / 2.0);
        bands.push(Band { start: on_axis(from, at_from), end: on_axis(to, at_to), thickness });
    }
    bands
}

/// Everything in front of a face, within the greatest thickness.
fn opposites(
    faces: &[Segment],
    index: usize,
    tree: &RTree<Face>,
    along: Vec2,
    between: Between,
    noise: f64,
) -> Vec<Opposite> {
    let face = faces[index];
    let (length, up) = (face.length(), along.turn_90());
    let corners = [face.a, face.b, face.a + up * THICKEST_MM, face.b + up * THICKEST_MM];
    let low = corners.iter().fold([f64::INFINITY; 2], |low, at| [low[0].min(at.x), low[1].min(at.y)]);
    let high = corners.iter().fold([f64::NEG_INFINITY; 2], |high, at| [high[0].max(at.x), high[1].max(at.y)]);
    let mut found = Vec::new();
    for other in tree.locate_in_envelope_intersecting(AABB::from_corners(low, high)) {
        if other.data == index || found.len() >= MOST_OPPOSITE {
            continue;
        }
        let that = faces[other.data];
        let Some(direction) = that.direction() else { continue };
        let slack = (1.5 * noise / that.length().max(1.0)).min(0.12);
        let is_parallel = direction.cross(along).abs() <= PARALLEL + slack && direction.dot(along) < 0.0;
        if between == Between::ParallelLines && !is_parallel {
            continue;
        }
        let place = |point: Point| ((point - face.a).dot(along), (point - face.a).dot(up));
        let (mut near, mut far) = (place(that.a), place(that.b));
        if near.0 > far.0 {
            std::mem::swap(&mut near, &mut far);
        }
        // What dips below the face meets it at a corner; only what stands in front counts.
        let nearest = 0.5f64.max(if between == Between::ParallelLines { THINNEST_MM } else { 0.0 });
        if near.1.max(far.1) < nearest || far.0 <= 0.0 || near.0 >= length {
            continue;
        }
        found.push(Opposite {
            index: other.data,
            from: near.0,
            to: far.0,
            height_at_from: near.1,
            height_at_to: far.1,
            is_parallel,
        });
    }
    found
}

/// Stretches along a face with the nearest thing in front of each.
fn nearest_stretches(opposite: &[Opposite], length: f64) -> Vec<(f64, f64, Opposite)> {
    let mut order: Vec<usize> = (0..opposite.len()).collect();
    order.sort_by(|a, b| opposite[*a].from.total_cmp(&opposite[*b].from));
    let mut breaks: Vec<f64> =
        opposite.iter().flat_map(|that| [that.from.clamp(0.0, length), that.to.clamp(0.0, length)]).collect();
    breaks.extend([0.0, length]);
    breaks.sort_by(f64::total_cmp);
    breaks.dedup_by(|a, b| (*a - *b).abs() < 0.05);
    let mut stretches: Vec<(f64, f64, Opposite)> = Vec::new();
    let (mut active, mut upcoming): (Vec<usize>, usize) = (Vec::new(), 0);
    for pair in breaks.windows(2) {
        let middle = f64::midpoint(pair[0], pair[1]);
        while upcoming < order.len() && opposite[order[upcoming]].from <= middle {
            active.push(order[upcoming]);
            upcoming += 1;
        }
        active.retain(|which| opposite[*which].to >= middle);
        let nearest = active
            .iter()
            .map(|which| opposite[*which])
            .filter(|that| that.height_at(middle) > 0.5)
            .min_by(|a, b| a.height_at(middle).total_cmp(&b.height_at(middle)));
        let Some(nearest) = nearest else { continue };
        match stretches.last_mut() {
            Some((_, to, last)) if last.index == nearest.index && (*to - pair[0]).abs() < 0.1 => {
                *to = pair[1]
            }
            _ => stretches.push((pair[0], pair[1], nearest)),
        }
    }
    stretches
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Ring;

    fn bands_of(outline: &[(f64, f64)]) -> Vec<Band> {
        let ring = Ring::new(outline.iter().map(|(x, y)| Point::new(*x, *y)).collect());
        let faces: Vec<Segment> = ring.anticlockwise().edges().collect();
        facing_bands(&faces, Between::AnyFace, 0.0)
    }

    #[test]
    fn two_faces_make_one_band() {
        let bands = bands_of(&[(0., 0.), (3000., 0.), (3000., 100.), (0., 100.)]);
        assert_eq!(bands.len(), 1);
        assert_eq!((bands[0].length(), bands[0].thickness), (3000.0, 100.0));
        assert_eq!(bands[0].middle(), Point::new(1500.0, 50.0));
    }

    #[test]
    fn a_wall_that_joins_opens_the_band_of_the_one_it_meets() {
        let tee = [
            (0., 0.),
            (3000., 0.),
            (3000., 100.),
            (1600., 100.),
            (1600., 2000.),
            (1500., 2000.),
            (1500., 100.),
            (0., 100.),
        ];
        let mut lengths: Vec<f64> = bands_of(&tee).iter().map(|band| band.length().round()).collect();
        lengths.sort_by(f64::total_cmp);
        assert_eq!(lengths, [1400.0, 1500.0, 1900.0]);
    }

    #[test]
    fn an_area_too_wide_for_a_wall_has_no_band() {
        assert!(bands_of(&[(0., 0.), (3000., 0.), (3000., 1200.), (0., 1200.)]).is_empty());
        assert!(facing_bands(&[], Between::AnyFace, 0.0).is_empty());
    }
}
