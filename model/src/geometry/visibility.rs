//! What can be seen from a point among walls.
//!
//! Triangular expansion: F. Bungiu, M. Hemmer, J. Hershberger, K. Huang, A. Kröller, "Efficient computation
//! of visibility polygons", 2014. The walls are triangulated once; a query starts in the triangle of the
//! eye and passes through the edges that are not walls with an ever narrower cone, so that it costs about
//! as much as the triangles it sees.
//!
//! Error bound: walls and eyes are moved to a grid of 2⁻²⁴ mm (by at most 0.03 µm) and walls nearer than
//! 10⁻⁵ mm to each other are joined. On that grid every left-or-right decision has a certain sign; the
//! corners themselves carry ordinary rounding of an `f64`, about 10⁻⁸ mm in a house. The range circle is
//! flattened with chords at most 0.25 mm inside it. What is seen is a closed set: a view may pass through
//! the very end of a wall, but not between two walls that share it.

use kurbo::{Point, Rect, Vec2};
use thiserror::Error;

use super::arrangement::{Toll, WALL_TOLL, arrange};
use super::mesh::{Across, Mesh, next, previous};
use super::numbers::{LARGEST_COORDINATE, cross_with_certain_sign, snap_to_grid, unit_vector};
use super::polygon::Ring;
use super::sector;
use super::segment::Segment;
use super::visibility_pen::Pen;

/// Space left round the walls when no boundary is given, millimetres.
pub const MARGIN: f64 = 1000.0;

/// An eye nearer than this to a wall counts as mounted on it, millimetres.
pub const ON_WALL_DISTANCE: f64 = 0.01;

/// How far an eye on a wall is moved off it, millimetres.
pub const NUDGE: f64 = 0.02;

/// Why a scene cannot be built.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SceneError {
    /// A wall has a coordinate that is not a number or is infinite.
    #[error("wall {index} has a coordinate that is not a finite number")]
    WallNotFinite {
        /// Number of the wall in the list given.
        index: usize,
    },
    /// A wall lies beyond 100 km from the origin.
    #[error("wall {index} lies more than 100 km from the origin")]
    WallTooFarAway {
        /// Number of the wall in the list given.
        index: usize,
    },
    /// The boundary is not finite or beyond 100 km from the origin.
    #[error("the boundary of the scene is not finite or lies more than 100 km from the origin")]
    BadBoundary,
    /// Neither a boundary nor a wall was given.
    #[error("the scene has neither a boundary nor walls")]
    Empty,
    /// The triangulation failed; more than a few hundred million triangles.
    #[error("the walls cannot be triangulated")]
    NotTriangulated,
}

/// Which way an eye looks, and how far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Middle direction, radians anticlockwise from the x axis.
    pub facing: f64,
    /// Whole opening angle, radians; 2π or more is all round.
    pub width: f64,
    /// How far it sees, millimetres. May be infinite.
    pub range: f64,
}

impl View {
    /// A fan.
    pub const fn new(facing: f64, width: f64, range: f64) -> Self {
        Self { facing, width, range }
    }

    /// All round, up to a range in millimetres.
    pub const fn all_round(range: f64) -> Self {
        Self { facing: 0.0, width: std::f64::consts::TAU, range }
    }

    fn is_full(&self) -> bool {
        self.width >= std::f64::consts::TAU - 1.0e-12
    }

    fn is_usable(&self) -> bool {
        self.facing.is_finite() && self.width > 0.0 && self.range > 0.0
    }
}

/// Walls made ready for looking around. Build once, ask often.
pub struct Scene {
    mesh: Mesh,
}

/// One half-edge still to be looked through, and the cone it is seen in.
#[derive(Clone, Copy)]
struct Opening {
    half: u32,
    right: Vec2,
    left: Vec2,
    /// Tolls that may still be paid on the way.
    left_to_pay: Toll,
}

/// Something that can be looked through at a toll: a view passes through as many as its purse allows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Board {
    /// Where it stands.
    pub segment: Segment,
    /// What looking through it costs, at least 1.
    pub toll: u8,
}

impl Scene {
    /// Triangulates the walls inside a rectangle.
    ///
    /// Walls may touch, overlap, cross, repeat or have no length; those without length are ignored. The
    /// rectangle ends every view. It grows to hold all walls; without one, it is the walls' own with
    /// [`MARGIN`] all round. A rectangle without width or height gets that margin too.
    ///
    /// # Errors
    /// Coordinates that are not finite or beyond 100 km; nothing to build from.
    pub fn new(boundary: Option<Rect>, walls: &[Segment]) -> Result<Scene, SceneError> {
        Self::with_boards(boundary, walls, &[])
    }

    /// The same with boards among the walls, which [`Scene::visible_through`] can look through. Where a board lies on
    /// a wall, the wall counts; in messages boards are numbered on after the walls.
    ///
    /// # Errors
    /// As for [`Scene::new`].
    pub fn with_boards(
        boundary: Option<Rect>,
        walls: &[Segment],
        boards: &[Board],
    ) -> Result<Scene, SceneError> {
        let tolled: Vec<(Segment, Toll)> = walls
            .iter()
            .map(|wall| (*wall, WALL_TOLL))
            .chain(boards.iter().map(|board| (board.segment, board.toll.clamp(1, WALL_TOLL - 1))))
            .collect();
        for (index, (wall, _)) in tolled.iter().enumerate() {
            if !(wall.a.is_finite() && wall.b.is_finite()) {
                return Err(SceneError::WallNotFinite { index });
            }
            let farthest =
                [wall.a.x, wall.a.y, wall.b.x, wall.b.y].iter().fold(0.0, |far: f64, c| far.max(c.abs()));
            if farthest > LARGEST_COORDINATE - 2.0 * MARGIN {
                return Err(SceneError::WallTooFarAway { index });
            }
        }
        let around =
            tolled.iter().map(|(wall, _)| Rect::from_points(wall.a, wall.b)).reduce(|a, b| a.union(b));
        let rect = match (boundary, around) {
            (Some(given), Some(walls)) => given.abs().union(walls),
            (Some(given), None) => given.abs(),
            (None, Some(walls)) => walls.inflate(MARGIN, MARGIN),
            (None, None) => return Err(SceneError::Empty),
        };
        let wide = |rect: Rect| rect.width() > 1.0 && rect.height() > 1.0;
        let rect = if wide(rect) { rect } else { rect.inflate(MARGIN, MARGIN) };
        let (low, high) = (snap_to_grid(rect.origin()), snap_to_grid(Point::new(rect.x1, rect.y1)));
        let within =
            |point: Point| point.x.abs() <= LARGEST_COORDINATE && point.y.abs() <= LARGEST_COORDINATE;
        if !(within(low) && within(high)) {
            return Err(SceneError::BadBoundary);
        }
        let rect = Rect::from_points(low, high);
        let hull = Ring::from_rect(rect);
        let arrangement = arrange(hull.edges().map(|edge| (edge, WALL_TOLL)).chain(tolled));
        let mesh = Mesh::new(&arrangement, rect).ok_or(SceneError::NotTriangulated)?;
        Ok(Scene { mesh })
    }

    /// The rectangle that ends every view.
    pub fn bounds(&self) -> Rect {
        self.mesh.bounds()
    }

    /// How many triangles the scene holds; a measure of its size.
    pub fn triangle_count(&self) -> usize {
        self.mesh.triangle_count()
    }

    /// Every triangle of the rectangle, walls along some of their sides, mm.
    pub fn triangles(&self) -> impl Iterator<Item = [Point; 3]> + '_ {
        (0..self.mesh.triangle_count() as u32)
            .map(|triangle| [0, 1, 2].map(|corner| self.mesh.origin(3 * triangle + corner)))
    }

    /// How many pieces of wall had to be left out because they still crossed others after splitting.
    ///
    /// No input is known that makes this anything but 0; a scene where it is not sees through those pieces.
    pub fn left_out_pieces(&self) -> usize {
        self.mesh.left_out()
    }

    /// The area seen from `eye`: star-shaped round it, anticlockwise, no two corners in a row nearer than
    /// 10⁻⁶ mm. A fan narrower than a full turn starts with the eye.
    ///
    /// An eye within [`ON_WALL_DISTANCE`] of a wall or wall end is moved off it by [`NUDGE`] towards where
    /// it faces (or towards a side of its fan if it faces along the wall, left side first), so that a
    /// sensor mounted on a wall looks into its room; the ring then starts at the moved eye.
    ///
    /// Empty for an eye outside the rectangle or not finite, a fan without width, a range of 0 or less, and
    /// numbers that are not numbers.
    pub fn visible_from(&self, eye: Point, view: View) -> Ring {
        self.visible_through(eye, view, 0)
    }

    /// The same, looking through boards whose tolls together come to `purse` at most.
    pub fn visible_through(&self, eye: Point, view: View, purse: u8) -> Ring {
        if !view.is_usable() {
            return Ring::default();
        }
        let Some((eye, triangle)) = self.settle(eye, view) else { return Ring::default() };
        let full = view.is_full();
        let mut pen = Pen::new(view.range, !full);
        let sides = [3 * triangle, 3 * triangle + 1, 3 * triangle + 2];
        if full {
            for half in sides {
                let (right, left) =
                    (self.mesh.seen_origin(half, eye), self.mesh.seen_origin(next(half), eye));
                self.expand(eye, Opening { half, right, left, left_to_pay: purse }, &mut pen);
            }
        } else {
            // Parts of at most a quarter turn meet each side of the triangle in one piece.
            let parts = (view.width / std::f64::consts::FRAC_PI_2).ceil().max(1.0);
            let start = view.facing - view.width / 2.0;
            let direction = |part: f64| unit_vector(start + view.width * part / parts);
            let mut from = direction(0.0);
            for part in 1..=parts as usize {
                let to = direction(part as f64);
                self.look_between(eye, sides, (from, to), purse, &mut pen);
                from = to;
            }
        }
        Ring::new(pen.finish(eye))
    }

    /// Looks from one direction to another, at most a quarter turn on, through the sides of a triangle.
    fn look_between(
        &self,
        eye: Point,
        sides: [u32; 3],
        (from, to): (Vec2, Vec2),
        purse: Toll,
        pen: &mut Pen,
    ) {
        let ends = |half: u32| (self.mesh.seen_origin(half, eye), self.mesh.seen_origin(next(half), eye));
        let holds = |half: &usize| {
            let (a, b) = ends(sides[*half]);
            let before_end = cross_with_certain_sign(from, b) > 0.0
                || (cross_with_certain_sign(a, b) == 0.0 && a.dot(from) > 0.0);
            cross_with_certain_sign(a, from) >= 0.0 && before_end
        };
        let Some(first) = (0..3).find(holds) else { return };
        let mut right = from;
        for step in 0..4 {
            let half = sides[(first + step) % 3];
            let (_, end) = ends(half);
            let last = cross_with_certain_sign(to, end) >= 0.0;
            let left = if last { to } else { end };
            self.expand(eye, Opening { half, right, left, left_to_pay: purse }, pen);
            if last {
                return;
            }
            right = end;
        }
    }

    /// Draws everything seen through one opening, right to left.
    fn expand(&self, eye: Point, first: Opening, pen: &mut Pen) {
        let mesh = &self.mesh;
        let mut stack = Vec::with_capacity(32);
        stack.push(first);
        while let Some(Opening { half, right, left, left_to_pay }) = stack.pop() {
            let (a, b) = (mesh.seen_origin(half, eye), mesh.seen_origin(next(half), eye));
            let beyond = match mesh.across(half) {
                Across::Wall => {
                    pen.wall(right, left, a, b);
                    continue;
                }
                Across::Open(beyond) => beyond,
            };
            let toll = mesh.toll(half);
            if toll > left_to_pay {
                pen.wall(right, left, a, b);
                continue;
            }
            let left_to_pay = left_to_pay - toll;
            if pen.is_out_of_range(a, b) {
                pen.arc(right, left);
                continue;
            }
            // Seen from beyond, the half-edge runs from left to right and is followed by the right side.
            let (right_side, left_side) = (next(beyond), previous(beyond));
            let apex = mesh.seen_origin(left_side, eye);
            let right_of_apex = cross_with_certain_sign(right, apex);
            let left_of_apex = cross_with_certain_sign(apex, left);
            if left_of_apex > 0.0 {
                let right = if right_of_apex > 0.0 { apex } else { right };
                stack.push(Opening { half: left_side, right, left, left_to_pay });
            }
            if right_of_apex > 0.0 {
                let left = if left_of_apex > 0.0 { apex } else { left };
                stack.push(Opening { half: right_side, right, left, left_to_pay });
            }
        }
    }

    /// The eye on the grid, moved off any wall, and the triangle holding it.
    fn settle(&self, eye: Point, view: View) -> Option<(Point, u32)> {
        if !eye.is_finite() {
            return None;
        }
        let eye = snap_to_grid(eye);
        let triangle = self.mesh.locate(eye)?;
        if self.distance_to_walls(triangle, eye) > ON_WALL_DISTANCE {
            return Some((eye, triangle));
        }
        let half = 0.5 * view.width.min(std::f64::consts::PI);
        let mut fallback = None;
        for share in [0.0, 0.5, -0.5, 0.95, -0.95] {
            let moved = snap_to_grid(eye + unit_vector(view.facing + share * half) * NUDGE);
            let Some(triangle) = self.mesh.locate(moved) else { continue };
            if self.distance_to_walls(triangle, moved) > 0.02 * NUDGE {
                return Some((moved, triangle));
            }
            fallback = fallback.or(Some((moved, triangle)));
        }
        fallback.or(Some((eye, triangle)))
    }

    /// Distance from the nearest wall or wall end among those of one triangle.
    fn distance_to_walls(&self, triangle: u32, point: Point) -> f64 {
        let distance = |half: u32| {
            let (a, b) = self.mesh.ends(half);
            match self.mesh.across(half) {
                Across::Wall => Segment::new(a, b).distance_to(point),
                Across::Open(_) => a.distance(point),
            }
        };
        (3 * triangle..3 * triangle + 3).map(distance).fold(f64::INFINITY, f64::min)
    }

    pub(super) fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    /// The fan a view would see without walls, for comparison; the arc is flattened alike.
    pub fn unobstructed(eye: Point, view: View) -> Ring {
        sector::fan(eye, view.facing, view.width, view.range)
    }
}
