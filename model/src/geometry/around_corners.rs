//! Shortest ways within an area, round its corners, and the point of it that is farthest from given sources.
//!
//! A shortest way within a polygon with holes is a chain of straight pieces that bends at re-entrant corners alone, so
//! a graph of those corners and what each sees gives it exactly (visibility graph; de Berg, Cheong, van Kreveld and
//! Overmars, “Computational Geometry”, 3rd edition 2008, ch. 15). The farthest point is found by halving triangles:
//! within a convex piece of the area the distance grows by no more than one goes, which bounds every piece from above.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use kurbo::Point;

use super::region::Shape;
use super::visibility::Scene;

/// A point so near the outline counts as within, mm: what one grid of the overlay and the next differ by, and more.
const ON_OUTLINE_MM: f64 = 0.01;

/// The farthest point is looked for until nothing can lie farther by more than this, mm.
pub const FARTHEST_WITHIN_MM: f64 = 0.5;

/// Most points that are looked at for the farthest.
const MOST_LOOKED_AT: usize = 60_000;

/// An area in which one may go.
pub struct Floor {
    shape: Shape,
    scene: Scene,
    corners: Vec<Point>,
}

/// Distances within an area from the nearest of some sources.
pub struct Reach<'a> {
    floor: &'a Floor,
    /// Sources and re-entrant corners with their distance, nearest first.
    nodes: Vec<Node>,
}

/// A source or a corner round which ways go.
#[derive(Clone, Copy, Debug)]
struct Node {
    at: Point,
    distance: f64,
    /// The node before it on the way, by its place in the list.
    from: Option<usize>,
}

/// The point that is farthest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Farthest {
    /// Where, mm.
    pub at: Point,
    /// How far from the nearest source, mm.
    pub distance: f64,
    /// No point lies farther than `distance` by more than this, mm.
    pub within: f64,
}

impl Floor {
    /// An area to go about in; `None` where it is too odd to triangulate.
    pub fn new(shape: &Shape) -> Option<Self> {
        let edges: Vec<_> = shape.rings().flat_map(|ring| ring.edges()).collect();
        let scene = Scene::new(None, &edges).ok()?;
        let corners = shape.rings().flat_map(|ring| {
            let points = ring.points();
            let count = points.len();
            (0..count).filter_map(move |index| {
                let (before, at, after) =
                    (points[(index + count - 1) % count], points[index], points[(index + 1) % count]);
                // Outlines run anticlockwise and holes clockwise: a turn to the right juts into the area.
                ((at - before).cross(after - at) < 0.0).then_some(at)
            })
        });
        Some(Self { shape: shape.clone(), corners: corners.collect(), scene })
    }

    /// The area.
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Whether a point lies in the area or on its outline.
    pub fn contains(&self, point: Point) -> bool {
        self.shape.contains(point)
            || self.shape.rings().any(|ring| ring.distance_to_outline(point) <= ON_OUTLINE_MM)
    }

    /// Whether one goes straight from one point to the other.
    pub fn is_straight(&self, a: Point, b: Point) -> bool {
        self.scene.sees(a, b) && self.contains(a.midpoint(b))
    }

    /// The area as triangles, mm.
    pub fn triangles(&self) -> Vec<[Point; 3]> {
        self.scene
            .triangles()
            .filter(|[a, b, c]| {
                self.shape.contains(Point::new((a.x + b.x + c.x) / 3.0, (a.y + b.y + c.y) / 3.0))
            })
            .collect()
    }

    /// Distances from the nearest of these points; those outside the area are left out.
    pub fn reach_from(&self, sources: &[Point]) -> Reach<'_> {
        let mut waiting: Vec<Node> = sources
            .iter()
            .filter(|at| self.contains(**at))
            .map(|at| Node { at: *at, distance: 0.0, from: None })
            .collect();
        let corner = |at: &Point| Node { at: *at, distance: f64::INFINITY, from: None };
        waiting.extend(self.corners.iter().map(corner));
        let mut nodes: Vec<Node> = Vec::new();
        while let Some(nearest) = (0..waiting.len())
            .filter(|index| waiting[*index].distance.is_finite())
            .min_by(|a, b| waiting[*a].distance.total_cmp(&waiting[*b].distance))
        {
            let node = waiting.swap_remove(nearest);
            for other in &mut waiting {
                let distance = node.distance + node.at.distance(other.at);
                if distance < other.distance && self.is_straight(node.at, other.at) {
                    (other.distance, other.from) = (distance, Some(nodes.len()));
                }
            }
            nodes.push(node);
        }
        Reach { floor: self, nodes }
    }
}

impl Reach<'_> {
    /// How far the nearest source is, mm; `None` where there is none or no way leads there.
    pub fn distance_to(&self, point: Point) -> Option<f64> {
        self.last_before(point).map(|(distance, _)| distance)
    }

    /// The way from the nearest source, both ends included.
    pub fn way_to(&self, point: Point) -> Option<Vec<Point>> {
        let (_, mut last) = self.last_before(point)?;
        let mut way = vec![point, self.nodes.get(last)?.at];
        while let Some(before) = self.nodes.get(last)?.from {
            way.push(self.nodes.get(before)?.at);
            last = before;
        }
        way.reverse();
        Some(way)
    }

    fn last_before(&self, point: Point) -> Option<(f64, usize)> {
        let mut best: Option<(f64, usize)> = None;
        for (index, node) in self.nodes.iter().enumerate() {
            let nearest = best.map_or(f64::INFINITY, |(distance, _)| distance);
            if node.distance >= nearest {
                break;
            }
            let distance = node.distance + node.at.distance(point);
            if distance < nearest && self.floor.is_straight(node.at, point) {
                best = Some((distance, index));
            }
        }
        best
    }

    /// The point of these triangles that is farthest from every source. Each must lie within the area; one with two
    /// corners alike stands for a line. `None` where there is no triangle or no source.
    pub fn farthest_of(&self, triangles: &[[Point; 3]]) -> Option<Farthest> {
        let mut best: Option<(f64, Point)> = None;
        let mut looked_at = 0;
        let mut heap = BinaryHeap::new();
        for corners in triangles {
            let centre = Point::new(
                (corners[0].x + corners[1].x + corners[2].x) / 3.0,
                (corners[0].y + corners[1].y + corners[2].y) / 3.0,
            );
            // A touch inwards, so that no corner falls into the wall beside it by rounding.
            let corners = corners.map(|corner| {
                let inwards = centre - corner;
                let length = inwards.hypot();
                if length > 1.0 { corner + inwards * (ON_OUTLINE_MM / length) } else { corner }
            });
            let distances = corners.map(|corner| self.distance_to(corner));
            looked_at += 3;
            for (distance, corner) in distances.iter().zip(corners) {
                better(&mut best, *distance, corner);
            }
            heap.extend(Piece::new(corners, distances));
        }
        let (mut farthest, mut at) = best?;
        let mut within = 0.0;
        while let Some(piece) = heap.pop() {
            within = (piece.bound - farthest).max(0.0);
            if within <= FARTHEST_WITHIN_MM || looked_at > MOST_LOOKED_AT {
                break;
            }
            let (middle, halves) = piece.halves();
            let distance = self.distance_to(middle);
            looked_at += 1;
            if let Some(distance) = distance
                && distance > farthest
            {
                (farthest, at) = (distance, middle);
            }
            heap.extend(halves.into_iter().filter_map(|half| half.with(distance)));
        }
        Some(Farthest { at, distance: farthest, within })
    }
}

fn better(best: &mut Option<(f64, Point)>, distance: Option<f64>, at: Point) {
    if let Some(distance) = distance
        && best.is_none_or(|(farthest, _)| distance > farthest)
    {
        *best = Some((distance, at));
    }
}

/// A triangle with what is known of distances in it.
struct Piece {
    corners: [Point; 3],
    distances: [Option<f64>; 3],
    bound: f64,
}

/// Half of a piece whose last corner is still to be measured.
struct Half {
    corners: [Point; 3],
    distances: [Option<f64>; 2],
}

impl Half {
    fn with(self, distance: Option<f64>) -> Option<Piece> {
        Piece::new(self.corners, [self.distances[0], self.distances[1], distance])
    }
}

impl Piece {
    /// `None` where no corner can be reached.
    fn new(corners: [Point; 3], distances: [Option<f64>; 3]) -> Option<Self> {
        let bound = (0..3)
            .filter_map(|index| {
                let from = corners[index];
                let farthest = corners.iter().map(|other| from.distance(*other)).fold(0.0, f64::max);
                Some(distances[index]? + farthest)
            })
            .reduce(f64::min)?;
        Some(Self { corners, distances, bound })
    }

    /// Parted in the middle of its longest side: that middle, and both halves with it as their last corner.
    fn halves(&self) -> (Point, [Half; 2]) {
        let side = |index: usize| self.corners[index].distance(self.corners[(index + 1) % 3]);
        let longest =
            (1..3).fold(0, |longest, index| if side(index) > side(longest) { index } else { longest });
        let (a, b, c) = (longest, (longest + 1) % 3, (longest + 2) % 3);
        let middle = self.corners[a].midpoint(self.corners[b]);
        let half = |end: usize| Half {
            corners: [self.corners[end], self.corners[c], middle],
            distances: [self.distances[end], self.distances[c]],
        };
        (middle, [half(a), half(b)])
    }
}

impl PartialEq for Piece {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Piece {}

impl PartialOrd for Piece {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Piece {
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound.total_cmp(&other.bound)
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Rect;
    use proptest::prelude::*;

    use super::*;
    use crate::geometry::{Region, Ring, difference};

    fn floor(rect: Rect, pillars: &[Rect]) -> Floor {
        let taken =
            Region { shapes: pillars.iter().map(|rect| Shape::from_ring(Ring::from_rect(*rect))).collect() };
        Floor::new(&difference(&Region::from_rect(rect), &taken).shapes[0]).unwrap()
    }

    #[test]
    fn a_way_bends_at_the_corner_alone() {
        // An L: 4 m by 4 m without its upper right quarter. Round the inner corner (2, 2).
        let floor = floor(Rect::new(0.0, 0.0, 4000.0, 4000.0), &[Rect::new(2000.0, 2000.0, 5000.0, 5000.0)]);
        let reach = floor.reach_from(&[Point::new(1000.0, 4000.0)]);
        let to = Point::new(4000.0, 1000.0);
        let leg = f64::hypot(1000.0, 2000.0);
        assert!((reach.distance_to(to).unwrap() - 2.0 * leg).abs() < 1e-6);
        assert_eq!(reach.way_to(to).unwrap()[1], Point::new(2000.0, 2000.0));
        let straight = Point::new(500.0, 500.0);
        assert!((reach.distance_to(straight).unwrap() - f64::hypot(500.0, 3500.0)).abs() < 1e-6);
    }

    #[test]
    fn a_pillar_is_gone_round_the_nearer_way() {
        let floor = floor(Rect::new(0.0, 0.0, 6000.0, 4000.0), &[Rect::new(2500.0, 1800.0, 3500.0, 2400.0)]);
        let reach = floor.reach_from(&[Point::new(500.0, 2000.0)]);
        let found = reach.distance_to(Point::new(5500.0, 2000.0)).unwrap();
        let below = 2.0 * f64::hypot(2000.0, 200.0) + 1000.0;
        assert!((found - below).abs() < 1e-6, "{found}");
        assert_eq!(reach.distance_to(Point::new(3000.0, 2100.0)), None);
    }

    #[test]
    fn the_farthest_point_of_a_rectangle_is_a_corner_of_one_and_between_two() {
        let floor = floor(Rect::new(0.0, 0.0, 8000.0, 6000.0), &[]);
        let triangles = floor.triangles();
        let one = floor.reach_from(&[Point::new(1000.0, 1000.0)]).farthest_of(&triangles).unwrap();
        assert!((one.distance - f64::hypot(7000.0, 5000.0)).abs() < 0.1, "{one:?}");
        assert!(one.at.distance(Point::new(8000.0, 6000.0)) < 0.1);
        // Two sources: corners are 3.605 m away, the middle of a long wall hypot(2, 3) m.
        let two = floor.reach_from(&[Point::new(2000.0, 3000.0), Point::new(6000.0, 3000.0)]);
        let found = two.farthest_of(&triangles).unwrap();
        assert!(
            (found.distance - f64::hypot(2000.0, 3000.0)).abs() < 1.0 && found.within <= 0.5,
            "{found:?}"
        );
        // Three: the point where three circles meet, away from every corner and every wall.
        let corners = [Point::new(0.0, 0.0), Point::new(8000.0, 0.0), Point::new(4000.0, 6000.0)];
        let found = floor.reach_from(&corners).farthest_of(&triangles).unwrap();
        // The upper corners are exactly 4 m from the third; the circumcentre (4000, 1666.7) is 4.333 m from all.
        assert!((found.distance - 4333.333).abs() < 1.0, "{found:?}");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        /// Compared with a grid of points: never nearer than any of them, and farther by no more than the grid leaves.
        #[test]
        fn nothing_is_farther_than_the_farthest(
            x in 100.0..5900.0_f64, y in 100.0..1700.0_f64, px in 500.0..4500.0_f64, py in 1900.0..3000.0_f64,
        ) {
            let pillar = Rect::new(px, py, px + 900.0, py + 500.0);
            let floor = floor(Rect::new(0.0, 0.0, 6000.0, 4000.0), &[pillar]);
            let reach = floor.reach_from(&[Point::new(x, y)]);
            let found = reach.farthest_of(&floor.triangles()).unwrap();
            let mut most = 0.0_f64;
            for row in 0..=40 {
                for column in 0..=60 {
                    let at = Point::new(f64::from(column) * 100.0, f64::from(row) * 100.0);
                    if let Some(distance) = reach.distance_to(at) {
                        prop_assert!(distance <= found.distance + 0.6);
                        most = most.max(distance);
                    }
                }
            }
            prop_assert!(found.distance - most < 75.0);
        }
    }
}
