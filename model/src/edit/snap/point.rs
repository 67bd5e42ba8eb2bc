//! What a point of the plan catches.
//!
//! In this order: the end of a wall, its middle, its axis, a right angle from the last click, the line of
//! another corner, the grid. The first that lies within reach wins, so that the same pointer always catches
//! the same thing.

use kurbo::{Point, Vec2};

use super::SnapIndex;
use crate::edit::Subject;
use crate::units::round_point;

/// The grid that remains where nothing else is caught, mm.
pub const GRID_MM: f64 = 10.0;

/// Walls that end nearer than this to the last click count as the wall it was made on, mm.
const ON_THE_WALL_MM: f64 = 1.0;

/// Where the pointer is and what it may catch.
#[derive(Clone, Debug, PartialEq)]
pub struct SnapRequest {
    /// Where the pointer is, mm.
    pub at: Point,
    /// How far it catches, mm of the plan; zero or less turns catching off.
    pub reach_mm: f64,
    /// The last click of the gesture.
    pub from: Option<Point>,
    /// What must not be caught: the things that are being moved.
    pub skip: Vec<Subject>,
}

/// Why a point is where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SnapReason {
    /// The end of a wall.
    WallEnd,
    /// The middle of a wall.
    WallMiddle,
    /// The axis of a wall.
    OnWall,
    /// The axis of a wall, level or upright from the last click.
    OnWallSquare,
    /// Level or upright from the last click.
    RightAngle,
    /// Along the wall on which the last click was, or at a right angle to it.
    SquareToWall,
    /// In one line with another corner.
    InLineWithCorner,
    /// The grid.
    Grid,
    /// A wall face.
    WallFace,
    /// A wall face, set beside the reveal of an opening or out of a corner.
    BesideReveal,
    /// A piece of joinery.
    OnJoinery,
    /// In one line with another device on the ceiling.
    InLineWithDevice,
    /// The centre line of the room.
    RoomCentreLine,
    /// The end of a line of the drawing beneath.
    DrawingEnd,
    /// Where two lines of the drawing cross.
    DrawingCrossing,
    /// A line of the drawing.
    DrawingLine,
    /// The edge of something dark in the picture beneath.
    DrawingEdge,
    /// A corner of something dark in the picture.
    DrawingCorner,
    /// The middle of a wall that the drawing shows.
    DrawingWall,
    /// Where the middles of two walls meet that the drawing shows.
    DrawingWallCorner,
    /// No wall or joinery within reach for something that needs one.
    NoHost,
    /// Nothing.
    Nothing,
}

impl SnapReason {
    /// Whether it is something of the drawing beneath rather than of the plan.
    pub const fn is_of_the_drawing(self) -> bool {
        matches!(
            self,
            Self::DrawingEnd
                | Self::DrawingCrossing
                | Self::DrawingLine
                | Self::DrawingEdge
                | Self::DrawingCorner
                | Self::DrawingWall
                | Self::DrawingWallCorner
        )
    }

    /// The words for the status line.
    pub const fn words(self) -> &'static str {
        match self {
            Self::WallEnd => "end of wall",
            Self::WallMiddle => "middle of wall",
            Self::OnWall => "on wall",
            Self::OnWallSquare => "on wall, square to the last point",
            Self::RightAngle => "square to the last point",
            Self::SquareToWall => "square to the wall",
            Self::InLineWithCorner => "in line with another corner",
            Self::Grid => "10 mm grid",
            Self::WallFace => "on wall face",
            Self::BesideReveal => "on wall face, clear of opening or corner",
            Self::OnJoinery => "on joinery",
            Self::InLineWithDevice => "in line with another device",
            Self::RoomCentreLine => "on centre line of room",
            Self::DrawingEnd => "catches the drawing: end of a line",
            Self::DrawingCrossing => "catches the drawing: crossing of lines",
            Self::DrawingLine => "catches the drawing: a line",
            Self::DrawingEdge => "catches the drawing: edge of what is dark",
            Self::DrawingCorner => "catches the drawing: a corner",
            Self::DrawingWall => "catches the drawing: middle of a wall",
            Self::DrawingWallCorner => "catches the drawing: corner of two walls",
            Self::NoHost => "nothing near to fix it to",
            Self::Nothing => "free",
        }
    }
}

/// Where a click would land.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Snap {
    /// Where, mm.
    pub at: Point,
    /// Why there.
    pub why: SnapReason,
    /// The line that shows why, from what is caught to the point.
    pub guide: Option<(Point, Point)>,
}

/// What the pointer catches.
pub fn snap(index: &SnapIndex, request: &SnapRequest) -> Snap {
    let SnapRequest { at, reach_mm: reach, from, ref skip, .. } = *request;
    if reach.is_nan() || reach <= 0.0 || !at.is_finite() {
        return Snap { at: round_point(at), why: SnapReason::Nothing, guide: None };
    }
    let found = |at: Point, why, guide| Snap { at: round_point(at), why, guide };
    if let Some(end) = index.end_near(at, reach, skip) {
        return found(end, SnapReason::WallEnd, None);
    }
    if let Some(middle) = index.middle_near(at, reach, skip) {
        return found(middle, SnapReason::WallMiddle, None);
    }
    on_wall(index, request)
        .or_else(|| from.and_then(|from| square_to(index, request, from)))
        .or_else(|| in_line_with_corner(index, request))
        .unwrap_or_else(|| {
            let to_grid = |value: f64| (value / GRID_MM).round() * GRID_MM;
            found(Point::new(to_grid(at.x), to_grid(at.y)), SnapReason::Grid, None)
        })
}

fn on_wall(index: &SnapIndex, request: &SnapRequest) -> Option<Snap> {
    let SnapRequest { at, reach_mm: reach, from, ref skip, .. } = *request;
    let axes = index.axes_near(at, reach, skip);
    let nearest = axes.first()?;
    if let Some(from) = from {
        for along in [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)] {
            let Some(direction) = nearest.direction() else { continue };
            let cross = along.cross(direction);
            if cross.abs() < 1e-6 {
                continue;
            }
            let crossing = from + along * ((nearest.a - from).cross(direction) / cross);
            if (crossing - at).hypot() <= reach && nearest.distance_to(crossing) < 0.1 {
                let guide = Some((from, crossing));
                return Some(Snap { at: round_point(crossing), why: SnapReason::OnWallSquare, guide });
            }
        }
    }
    Some(Snap { at: round_point(nearest.nearest(at).point), why: SnapReason::OnWall, guide: None })
}

/// On a line level, upright, along or square to the wall of the last click; brought into line with another
/// corner on the way where there is one.
fn square_to(index: &SnapIndex, request: &SnapRequest, from: Point) -> Option<Snap> {
    let SnapRequest { at, reach_mm: reach, ref skip, .. } = *request;
    let mut lines =
        vec![(Vec2::new(1.0, 0.0), SnapReason::RightAngle), (Vec2::new(0.0, 1.0), SnapReason::RightAngle)];
    for axis in index.axes_near(from, ON_THE_WALL_MM, skip) {
        if let Some(along) = axis.direction() {
            lines.push((along, SnapReason::SquareToWall));
            lines.push((Vec2::new(-along.y, along.x), SnapReason::SquareToWall));
        }
    }
    let off = |along: Vec2| (at - from).cross(along).abs();
    let (along, why) = lines
        .into_iter()
        .filter(|(along, _)| off(*along) <= reach)
        .min_by(|a, b| off(a.0).total_cmp(&off(b.0)))?;
    let run = (at - from).dot(along);
    if run.abs() <= reach {
        return None;
    }
    let mut landing = from + along * (run / GRID_MM).round() * GRID_MM;
    let on_line = from + along * run;
    let column = index.end_in_column(on_line, reach, skip).filter(|_| along.x.abs() > 0.5);
    let row = index.end_in_row(on_line, reach, skip).filter(|_| along.y.abs() > 0.5);
    if let Some(corner) = column {
        landing = from + along * ((corner.x - from.x) / along.x);
    } else if let Some(corner) = row {
        landing = from + along * ((corner.y - from.y) / along.y);
    }
    Some(Snap { at: round_point(landing), why, guide: Some((from, landing)) })
}

fn in_line_with_corner(index: &SnapIndex, request: &SnapRequest) -> Option<Snap> {
    let SnapRequest { at, reach_mm: reach, ref skip, .. } = *request;
    let column = index.end_in_column(at, reach, skip);
    let row = index.end_in_row(at, reach, skip);
    let to_grid = |value: f64| (value / GRID_MM).round() * GRID_MM;
    let landing = Point::new(
        column.map_or_else(|| to_grid(at.x), |corner| corner.x),
        row.map_or_else(|| to_grid(at.y), |corner| corner.y),
    );
    let corner = column.or(row)?;
    Some(Snap { at: round_point(landing), why: SnapReason::InLineWithCorner, guide: Some((corner, landing)) })
}
