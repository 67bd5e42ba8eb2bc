//! A constrained Delaunay triangulation in flat arrays, and finding the triangle under a point.

use kurbo::{Point, Rect, Vec2};
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

use super::arrangement::{Arrangement, Toll, WALL_TOLL};
use super::numbers::cross_with_certain_sign;

/// Marks a half-edge that cannot be seen through.
const WALL: u32 = 1 << 31;
/// No half-edge on the other side. Always a wall.
const NOTHING: u32 = u32::MAX;

/// Triangles as half-edges: numbers 3 t, 3 t + 1, 3 t + 2 go anticlockwise round triangle t.
pub(crate) struct Mesh {
    points: Vec<Point>,
    /// Vertex each half-edge starts at.
    origins: Vec<u32>,
    /// The half-edge on the other side, with [`WALL`] set where a segment lies on it.
    twins: Vec<u32>,
    /// What it costs to look through each half-edge that is no wall; empty where all of them are free.
    tolls: Vec<Toll>,
    grid: Grid,
    left_out: usize,
}

/// A start triangle for every cell of a coarse grid.
struct Grid {
    bounds: Rect,
    columns: usize,
    rows: usize,
    triangles: Vec<u32>,
}

/// What lies across a half-edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Across {
    /// A segment: no view.
    Wall,
    /// The half-edge of the neighbouring triangle.
    Open(u32),
}

#[inline]
pub(crate) fn next(half: u32) -> u32 {
    if half % 3 == 2 { half - 2 } else { half + 1 }
}

#[inline]
pub(crate) fn previous(half: u32) -> u32 {
    if half.is_multiple_of(3) { half + 2 } else { half - 1 }
}

impl Mesh {
    /// Triangulates; `bounds` is the hull, whose edges must be among the pieces.
    /// `None` if the triangulation refuses a coordinate, or there are too many triangles to number.
    ///
    /// A piece that still conflicts with another (none is known to, after arranging) is left out and
    /// counted rather than letting the triangulation stop the program.
    pub(crate) fn new(arrangement: &Arrangement, bounds: Rect) -> Option<Mesh> {
        let vertices: Vec<Point2<f64>> =
            arrangement.points.iter().map(|point| Point2::new(point.x, point.y)).collect();
        let edges = arrangement.edges.iter().map(|ends| ends.map(|end| end as usize)).collect();
        let mut left_out = 0;
        let triangulation: ConstrainedDelaunayTriangulation<Point2<f64>> =
            ConstrainedDelaunayTriangulation::try_bulk_load_cdt(vertices, edges, |_| left_out += 1).ok()?;
        let triangles = triangulation.num_inner_faces();
        if triangles == 0 || triangles > (WALL / 4) as usize {
            return None;
        }
        let points = triangulation
            .vertices()
            .map(|vertex| Point::new(vertex.data().position().x, vertex.data().position().y))
            .collect();
        let mut numbers = vec![NOTHING; triangulation.num_directed_edges()];
        let mut directed = Vec::with_capacity(3 * triangles);
        for face in triangulation.inner_faces() {
            for edge in face.adjacent_edges() {
                numbers[edge.fix().index()] = directed.len() as u32;
                directed.push(edge);
            }
        }
        let origins = directed.iter().map(|edge| edge.from().fix().index() as u32).collect();
        // The triangulation keeps the order of vertices, so that the numbers of the arrangement still hold.
        let mut boards: Vec<([u32; 2], Toll)> = Vec::new();
        for (ends, toll) in arrangement.edges.iter().zip(&arrangement.tolls) {
            if *toll < WALL_TOLL {
                boards.push((*ends, *toll));
            }
        }
        let toll_between = |a: u32, b: u32| {
            let found = boards.binary_search_by_key(&[a.min(b), a.max(b)], |(ends, _)| *ends);
            found.map_or(WALL_TOLL, |place| boards[place].1)
        };
        let mut tolls = if boards.is_empty() { Vec::new() } else { vec![0; directed.len()] };
        let twins = directed
            .iter()
            .enumerate()
            .map(|(half, edge)| {
                let twin = numbers[edge.rev().fix().index()];
                if twin == NOTHING || !edge.is_constraint_edge() {
                    return twin;
                }
                let ends = [edge.from(), edge.to()].map(|vertex| vertex.fix().index() as u32);
                match toll_between(ends[0], ends[1]) {
                    WALL_TOLL => twin | WALL,
                    toll => {
                        tolls[half] = toll;
                        twin
                    }
                }
            })
            .collect();
        let grid = Grid { bounds, columns: 0, rows: 0, triangles: Vec::new() };
        let mut mesh = Mesh { points, origins, twins, tolls, grid, left_out };
        mesh.fill_grid(triangles);
        Some(mesh)
    }

    /// About two triangles for a cell.
    fn fill_grid(&mut self, triangles: usize) {
        let bounds = self.grid.bounds;
        let cell = (bounds.area() * 2.0 / triangles as f64).sqrt();
        let count = |length: f64| ((length / cell).ceil() as usize).clamp(1, 512);
        self.grid.columns = count(bounds.width());
        self.grid.rows = count(bounds.height());
        let (columns, rows) = (self.grid.columns, self.grid.rows);
        let mut near = 0;
        let mut starts = vec![0; columns * rows];
        for row in 0..rows {
            for step in 0..columns {
                // There and back, so that each start is next to the one before.
                let column = if row % 2 == 0 { step } else { columns - 1 - step };
                let x = bounds.x0 + bounds.width() * (column as f64 + 0.5) / columns as f64;
                let y = bounds.y0 + bounds.height() * (row as f64 + 0.5) / rows as f64;
                near = self.walk(near, Point::new(x, y)).unwrap_or(near);
                starts[row * columns + column] = near;
            }
        }
        self.grid.triangles = starts;
    }

    /// The rectangle that was triangulated.
    pub(crate) fn bounds(&self) -> Rect {
        self.grid.bounds
    }

    /// How many triangles.
    pub(crate) fn triangle_count(&self) -> usize {
        self.origins.len() / 3
    }

    /// How many pieces conflicted with others and are missing.
    pub(crate) fn left_out(&self) -> usize {
        self.left_out
    }

    /// Where a half-edge starts.
    #[inline]
    pub(crate) fn origin(&self, half: u32) -> Point {
        self.points[self.origins[half as usize] as usize]
    }

    /// Both ends of a half-edge. Its triangle lies to the left.
    #[inline]
    pub(crate) fn ends(&self, half: u32) -> (Point, Point) {
        (self.origin(half), self.origin(next(half)))
    }

    /// What lies across a half-edge.
    #[inline]
    pub(crate) fn across(&self, half: u32) -> Across {
        let twin = self.twins[half as usize];
        if twin & WALL != 0 { Across::Wall } else { Across::Open(twin) }
    }

    /// What it costs to look through a half-edge that is no wall.
    #[inline]
    pub(crate) fn toll(&self, half: u32) -> Toll {
        self.tolls.get(half as usize).copied().unwrap_or(0)
    }

    /// The triangle on the other side of a half-edge, wall or not; `None` at the rectangle.
    pub(crate) fn other_triangle(&self, half: u32) -> Option<u32> {
        match self.twins[half as usize] {
            NOTHING => None,
            twin => Some((twin & !WALL) / 3),
        }
    }

    /// A triangle that holds the point, borders included; `None` outside the rectangle.
    ///
    /// A visibility walk from the start triangle of the point's cell (O. Devillers, S. Pion, M. Teillaud,
    /// "Walking in a triangulation", 2002). Such a walk ends always in a Delaunay triangulation but may
    /// circle in a constrained one; after a fixed number of steps every triangle is tried instead.
    pub(crate) fn locate(&self, point: Point) -> Option<u32> {
        let grid = &self.grid;
        let bounds = grid.bounds;
        let inside =
            point.x >= bounds.x0 && point.x <= bounds.x1 && point.y >= bounds.y0 && point.y <= bounds.y1;
        if !inside {
            return None;
        }
        let column = ((point.x - bounds.x0) / bounds.width() * grid.columns as f64) as usize;
        let row = ((point.y - bounds.y0) / bounds.height() * grid.rows as f64) as usize;
        let cell = row.min(grid.rows - 1) * grid.columns + column.min(grid.columns - 1);
        let start = grid.triangles.get(cell).copied().unwrap_or(0);
        self.walk(start, point).or_else(|| {
            (0..self.triangle_count() as u32)
                .find(|triangle| self.edge_towards(*triangle, point, 0).is_none())
        })
    }

    fn walk(&self, start: u32, point: Point) -> Option<u32> {
        let mut triangle = start;
        let most = 64 + 4 * self.triangle_count();
        for step in 0..most {
            let Some(half) = self.edge_towards(triangle, point, step as u32 % 3) else {
                return Some(triangle);
            };
            match self.twins[half as usize] {
                NOTHING => return None,
                twin => triangle = (twin & !WALL) / 3,
            }
        }
        None
    }

    /// A half-edge of the triangle with the point strictly on its other side, looking first at number
    /// `first` of the three; `None` when the triangle holds the point.
    fn edge_towards(&self, triangle: u32, point: Point, first: u32) -> Option<u32> {
        (0..3).map(|k| 3 * triangle + (k + first) % 3).find(|half| self.side(*half, point) < 0.0)
    }

    /// Positive when the point is on the triangle's side of the half-edge, 0 on its line.
    #[inline]
    pub(crate) fn side(&self, half: u32, point: Point) -> f64 {
        let (a, b) = self.ends(half);
        cross_with_certain_sign(b - a, point - a)
    }

    /// The end of a half-edge as seen from the eye: exact for points on the grid.
    #[inline]
    pub(crate) fn seen_origin(&self, half: u32, eye: Point) -> Vec2 {
        self.origin(half) - eye
    }
}

#[cfg(test)]
mod tests {
    use super::super::arrangement::arrange;
    use super::super::polygon::Ring;
    use super::*;

    #[test]
    fn every_point_is_found_in_its_triangle() {
        let bounds = Rect::new(0.0, 0.0, 100.0, 60.0);
        let wall = super::super::segment::Segment::new(Point::new(20.0, 10.0), Point::new(70.0, 50.0));
        let ring = Ring::from_rect(bounds);
        let mesh = Mesh::new(&arrange(ring.edges().chain([wall]).map(|edge| (edge, WALL_TOLL))), bounds)
            .expect("triangulates");
        assert_eq!(mesh.triangle_count(), 6);
        for i in 0..=20 {
            for j in 0..=12 {
                let point = Point::new(5.0 * i as f64, 5.0 * j as f64);
                let triangle = mesh.locate(point).expect("inside");
                assert!((0..3).all(|k| mesh.side(3 * triangle + k, point) >= 0.0));
            }
        }
        assert_eq!(mesh.locate(Point::new(-1.0, 5.0)), None);
        assert_eq!(mesh.locate(Point::new(f64::NAN, 5.0)), None);
    }
}
