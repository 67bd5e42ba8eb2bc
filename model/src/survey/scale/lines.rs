//! Straight lines and small marks of a page, as dimensions and scale bars are made of them.

use kurbo::{BezPath, PathEl, Point, Rect, Shape, Vec2};

use super::super::page::Page;

/// A straight piece of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Piece {
    /// One end.
    pub(super) a: Point,
    /// The other end.
    pub(super) b: Point,
}

impl Piece {
    /// Its length.
    pub(super) fn length(self) -> f64 {
        (self.b - self.a).hypot()
    }

    /// Whether it runs along a direction of length 1, either way, to about two degrees.
    pub(super) fn runs_along(self, direction: Vec2) -> bool {
        let along = self.b - self.a;
        along.cross(direction).abs() <= 0.035 * along.hypot()
    }
}

/// A direction with an origin: how far along it and how far across a point lies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ruler {
    origin: Point,
    direction: Vec2,
}

impl Ruler {
    /// A ruler through a point; the direction has length 1.
    pub(super) const fn new(origin: Point, direction: Vec2) -> Self {
        Self { origin, direction }
    }

    /// How far along it a point lies.
    pub(super) fn along(self, at: Point) -> f64 {
        (at - self.origin).dot(self.direction)
    }

    /// How far to the side a point lies; below the direction's right hand where positive (y goes down).
    pub(super) fn across(self, at: Point) -> f64 {
        self.direction.cross(at - self.origin)
    }

    /// The point so far along and so far across.
    pub(super) fn point(self, along: f64, across: f64) -> Point {
        self.origin + self.direction * along + Vec2::new(-self.direction.y, self.direction.x) * across
    }
}

/// Every straight piece of every stroke; curves are left out.
pub(super) fn straight_pieces(page: &Page) -> Vec<Piece> {
    page.strokes.iter().flat_map(|stroke| pieces_of(&stroke.path)).collect()
}

fn pieces_of(path: &BezPath) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    let mut add = |a: Point, b: Point| {
        if a != b && a.is_finite() && b.is_finite() {
            pieces.push(Piece { a, b });
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => (start, last) = (to, to),
            PathEl::LineTo(to) => {
                add(last, to);
                last = to;
            }
            PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => last = to,
            PathEl::ClosePath => {
                add(last, start);
                last = start;
            }
        }
    }
    pieces
}

/// Rectangles around filled areas no larger than `size` either way: arrow heads, dots, pieces of a scale bar.
pub(super) fn small_fills(page: &Page, width: f64, height: f64) -> Vec<Rect> {
    let fits = |rect: &Rect| rect.is_finite() && rect.width() <= width && rect.height() <= height;
    page.fills.iter().map(|fill| fill.path.bounding_box()).filter(fits).collect()
}

/// How far a point lies from a run of lettering: 0 within its rectangle.
pub(super) fn distance_to_writing(writing: &super::super::page::Writing, at: Point) -> f64 {
    let ruler = Ruler::new(writing.at, writing.direction);
    let (along, across) = (ruler.along(at), ruler.across(at));
    let beyond = |value: f64, from: f64, to: f64| (from - value).max(value - to).max(0.0);
    beyond(along, 0.0, writing.length).hypot(beyond(across, -writing.height, 0.0))
}
