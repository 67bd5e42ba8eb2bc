//! What a point catches of the drawing beneath, where the plan itself has nothing near.
//!
//! A point of our own plan wins over one of the drawing. With a last click given, a place on a line of the
//! drawing is taken where it is square to that click, so that traced walls come out straight.

use kurbo::{Affine, Point, Vec2};

use super::SnapIndex;
use super::point::{Snap, SnapReason, SnapRequest, snap};
use crate::geometry::Segment;
use crate::plan::Wall;
use crate::survey::Greyscale;
use crate::survey::edges::{EdgeKind, nearest_edge};
use crate::survey::lines::{CaughtOf, DrawingLines, Strip};
use crate::units::{Length, round_point};

/// No wall is thinner or thicker than these, mm: a glazed screen, a stone wall of an old house (common practice,
/// no published source).
const WALL_MM: (f64, f64) = (30.0, 650.0);

/// No opening is wider than this, mm.
const WIDEST_OPENING_MM: f64 = 6000.0;

/// No opening is narrower than this, mm.
const NARROWEST_OPENING_MM: f64 = 300.0;

/// A picture strays from what was drawn by so many pixels.
const SLACK_OF_A_PICTURE: f64 = 1.5;

/// A drawing where it lies beneath the plan: its lines, once they are prepared, and its pixels, if it has any.
#[derive(Clone, Copy, Debug)]
pub struct DrawingBeneath<'a> {
    lines: Option<&'a DrawingLines>,
    picture: Option<(&'a Greyscale, Affine)>,
    plan_from_drawing: Affine,
    mm_per_unit: f64,
}

/// A wall as the drawing shows it about a point, plan mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallAsDrawn {
    /// From face to face.
    pub thickness: Length,
    /// Halfway between its faces, beside the point that was asked for.
    pub middle: Point,
}

/// What the drawing is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// Ends, crossings and lines.
    Lines,
    /// Middles of walls first: for what is drawn by its axis.
    Middles,
}

impl<'a> DrawingBeneath<'a> {
    /// Lines, and a picture with where its pixels lie, in units of a drawing that lies so under the plan; `None`
    /// where it has no size there.
    pub fn new(
        lines: Option<&'a DrawingLines>,
        picture: Option<(&'a Greyscale, Affine)>,
        plan_from_drawing: Affine,
    ) -> Option<Self> {
        let mm_per_unit = plan_from_drawing.determinant().abs().sqrt();
        (mm_per_unit.is_finite() && mm_per_unit > 1e-9).then_some(Self {
            lines,
            picture,
            plan_from_drawing,
            mm_per_unit,
        })
    }

    fn drawing_of(&self, at: Point) -> Point {
        self.plan_from_drawing.inverse() * at
    }

    fn turned(&self, along: Vec2) -> Vec2 {
        let moved = self.plan_from_drawing * along.to_point() - self.plan_from_drawing * Point::ORIGIN;
        moved / moved.hypot().max(1e-12)
    }

    fn strips(&self, at: Point) -> Vec<Strip> {
        let (narrowest, widest) = (WALL_MM.0 / self.mm_per_unit, WALL_MM.1 / self.mm_per_unit);
        self.lines.map_or_else(Vec::new, |lines| lines.strips(self.drawing_of(at), narrowest, widest))
    }

    /// The wall that the drawing shows about a point, between its faces or on one of them.
    pub fn wall_at(&self, at: Point) -> Option<WallAsDrawn> {
        let strip = self.strips(at).into_iter().next()?;
        let thickness = Length::mm(strip.width * self.mm_per_unit).rounded();
        Some(WallAsDrawn { thickness, middle: self.plan_from_drawing * strip.middle })
    }

    /// The reveals of the opening that the drawing shows in a wall about a place along it, from its start.
    pub fn reveals_in(&self, wall: &Wall, along: Length) -> Option<(Length, Length)> {
        let axis = Segment::new(self.drawing_of(wall.start), self.drawing_of(wall.end));
        let units = |length: f64| length / self.mm_per_unit;
        let half = units(wall.thickness.as_mm() / 2.0);
        let (from, to) = self.lines?.reveals(axis, half, units(along.as_mm()), units(WIDEST_OPENING_MM))?;
        let (from, to) = (from * self.mm_per_unit, to * self.mm_per_unit);
        let fits = to - from >= NARROWEST_OPENING_MM && from >= -0.05 && to <= wall.length().as_mm() + 0.05;
        fits.then(|| (Length::mm(from).rounded(), Length::mm(to).rounded()))
    }

    /// What a point catches of the drawing alone.
    pub fn catch(&self, request: &SnapRequest, wanted: Wanted) -> Option<Snap> {
        let SnapRequest { at, reach_mm: reach, .. } = *request;
        if reach.is_nan() || reach <= 0.0 || !at.is_finite() {
            return None;
        }
        let found = |at: Point, why| Some(Snap { at: round_point(at), why, guide: None });
        if wanted == Wanted::Middles
            && let Some((middle, why)) = self.middle_near(at, reach)
        {
            return found(middle, why);
        }
        let (caught, why, _) = self.line_near(at, reach)?;
        found(caught, why)
    }

    /// The end, crossing or line within reach, with its direction on the plan; where no line is known, the edge of
    /// something dark in the picture.
    fn line_near(&self, at: Point, reach: f64) -> Option<(Point, SnapReason, Option<Vec2>)> {
        let lines = self.lines.and_then(|lines| lines.catch(self.drawing_of(at), reach / self.mm_per_unit));
        if let Some(caught) = lines {
            let why = match caught.of {
                CaughtOf::End => SnapReason::DrawingEnd,
                CaughtOf::Crossing => SnapReason::DrawingCrossing,
                CaughtOf::Line => SnapReason::DrawingLine,
            };
            let along = caught.along.map(|along| self.turned(along));
            return Some((self.plan_from_drawing * caught.at, why, along));
        }
        let (picture, drawing_from_pixels) = self.picture?;
        let plan_from_pixels = self.plan_from_drawing * drawing_from_pixels;
        let mm_per_pixel = plan_from_pixels.determinant().abs().sqrt();
        let hit = nearest_edge(picture, plan_from_pixels.inverse() * at, reach / mm_per_pixel)?;
        let (why, along) = match hit.kind {
            EdgeKind::Edge => (SnapReason::DrawingEdge, Some(self.turned(hit.direction))),
            EdgeKind::Line => (SnapReason::DrawingLine, Some(self.turned(hit.direction))),
            EdgeKind::Corner => (SnapReason::DrawingCorner, None),
        };
        Some((plan_from_pixels * hit.point, why, along))
    }

    /// How far what is caught may stray from where it was meant, mm of the plan.
    fn slack(&self) -> f64 {
        let of_lines = self.lines.map_or(0.0, DrawingLines::slack) * self.mm_per_unit;
        let of_pixels = self
            .picture
            .map_or(0.0, |(_, lies)| SLACK_OF_A_PICTURE * lies.determinant().abs().sqrt() * self.mm_per_unit);
        of_lines.max(of_pixels)
    }

    /// The corner of two walls' middles, else the middle of the wall between whose faces a point lies.
    fn middle_near(&self, at: Point, reach: f64) -> Option<(Point, SnapReason)> {
        let strips = self.strips(at);
        let first = strips.first()?;
        let near = |point: &Point| (*point - at).hypot() <= reach.max(first.width * self.mm_per_unit);
        let corner = strips[1..]
            .iter()
            .filter_map(|other| first.corner_with(other))
            .map(|corner| self.plan_from_drawing * corner)
            .find(near);
        let middle = || Some(self.plan_from_drawing * first.middle).filter(near);
        corner
            .map(|corner| (corner, SnapReason::DrawingWallCorner))
            .or_else(|| middle().map(|middle| (middle, SnapReason::DrawingWall)))
    }

    /// The direction of the line or wall of the drawing on which a caught point lies.
    fn along_at(&self, at: Point, why: SnapReason) -> Option<Vec2> {
        match why {
            SnapReason::DrawingLine | SnapReason::DrawingEdge => {
                // Places are kept to the tenth: the line is within that.
                self.line_near(at, (0.01 * self.mm_per_unit).max(0.2)).and_then(|(_, _, along)| along)
            }
            SnapReason::DrawingWall => {
                let strip = self.strips(at).into_iter().next()?;
                Some(self.turned(Vec2::new(strip.across.y, -strip.across.x)))
            }
            _ => None,
        }
    }
}

/// What the pointer catches of the plan and of the drawing beneath it.
pub fn snap_over(
    index: &SnapIndex,
    drawing: Option<&DrawingBeneath<'_>>,
    request: &SnapRequest,
    wanted: Wanted,
) -> Snap {
    let own = snap(index, request);
    let of_the_plan = matches!(
        own.why,
        SnapReason::WallEnd
            | SnapReason::WallMiddle
            | SnapReason::OnWall
            | SnapReason::OnWallSquare
            | SnapReason::Nothing
    );
    let Some(drawing) = drawing.filter(|_| !of_the_plan) else { return own };
    let Some(caught) = drawing.catch(request, wanted) else { return own };
    let square = matches!(own.why, SnapReason::RightAngle | SnapReason::SquareToWall);
    match (request.from, own.guide) {
        (Some(from), Some((_, landing))) if square => squared(drawing, caught, request, (from, landing)),
        _ => caught,
    }
}

/// A caught point brought onto the line square to the last click, where it lies on it but for the drawing's
/// slack; of a line, where the two cross.
fn squared(
    drawing: &DrawingBeneath<'_>,
    caught: Snap,
    request: &SnapRequest,
    (from, landing): (Point, Point),
) -> Snap {
    let run = landing - from;
    if run.hypot() < 1e-9 {
        return caught;
    }
    let along = run / run.hypot();
    let foot = from + along * (caught.at - from).dot(along);
    let on_square = |at: Point| Snap { at: round_point(at), guide: Some((from, at)), ..caught };
    match drawing.along_at(caught.at, caught.why) {
        Some(line) => {
            let cross = along.cross(line);
            if cross.abs() < 0.05 {
                // It runs along the wall that is being drawn: its line is followed.
                return if (foot - caught.at).hypot() <= drawing.slack() { on_square(foot) } else { caught };
            }
            let crossing = from + along * ((caught.at - from).cross(line) / cross);
            if (crossing - request.at).hypot() <= 2.0 * request.reach_mm {
                on_square(crossing)
            } else {
                caught
            }
        }
        None if (foot - caught.at).hypot() <= drawing.slack() => on_square(foot),
        None => caught,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::verbs::{WallSpec, draw_walls};
    use crate::edit::{History, Subject};
    use crate::id::Id;
    use crate::plan::{Level, MakeUp};
    use crate::project::Project;
    use crate::survey::{Fill, Page, Stroke};
    use kurbo::{BezPath, Rect, Shape as _};

    /// Millimetres of the house to one of paper.
    const SCALE: f64 = 50.0;

    /// The page lies with its lower left corner at the origin of the plan.
    fn plan_from_page(height: f64) -> Affine {
        Affine::scale(SCALE)
            * Affine::translate(Vec2::new(0.0, height))
            * Affine::scale_non_uniform(1.0, -1.0)
    }

    /// A wall of 100 mm from 1,000 to 5,000 along y 1,000 of the plan, with a gap from 2,000 to 2,900.
    fn page() -> Page {
        let area = |x0: f64, x1: f64| Fill {
            path: Rect::new(x0 / SCALE, 100.0 - 1050.0 / SCALE, x1 / SCALE, 100.0 - 950.0 / SCALE)
                .to_path(0.1),
            even_odd: false,
            lightness: 0.3,
            order: 0,
        };
        Page {
            width: 100.0,
            height: 100.0,
            fills: vec![area(1000.0, 2000.0), area(2900.0, 5000.0)],
            ..Page::default()
        }
    }

    fn ground(project: &Project) -> Id<Level> {
        project.levels.ids().next().unwrap()
    }

    fn request(x: f64, y: f64, from: Option<Point>) -> SnapRequest {
        SnapRequest { at: Point::new(x, y), reach_mm: 60.0, from, skip: Vec::<Subject>::new() }
    }

    #[test]
    fn the_drawing_is_caught_where_the_plan_has_nothing_near() {
        let lines = DrawingLines::of_page(&page(), 0.0);
        let drawing = DrawingBeneath::new(Some(&lines), None, plan_from_page(100.0)).unwrap();
        let mut project = Project::new();
        let level = ground(&project);
        let index = SnapIndex::of_level(&project, level);
        let from = Some(Point::new(500.0, 3000.0));
        for (x, y, from, wanted, landing, why) in [
            (1020.0, 1070.0, None, Wanted::Lines, (1000.0, 1050.0), SnapReason::DrawingEnd),
            (1520.0, 1070.0, None, Wanted::Lines, (1520.0, 1050.0), SnapReason::DrawingLine),
            (1520.0, 1030.0, None, Wanted::Middles, (1520.0, 1000.0), SnapReason::DrawingWall),
            (1520.0, 1500.0, None, Wanted::Middles, (1520.0, 1500.0), SnapReason::Grid),
            // Square to the last click and on a line of the drawing.
            (520.0, 1046.0, from, Wanted::Lines, (500.0, 1050.0), SnapReason::RightAngle),
            (
                1530.0,
                1070.0,
                Some(Point::new(1510.0, 3000.0)),
                Wanted::Lines,
                (1510.0, 1050.0),
                SnapReason::DrawingLine,
            ),
        ] {
            let caught = snap_over(&index, Some(&drawing), &request(x, y, from), wanted);
            assert_eq!(caught.why, why, "{x} {y}");
            assert!(
                (caught.at - Point::from(landing)).hypot() < 0.11 || why == SnapReason::RightAngle,
                "{}",
                caught.at
            );
        }
        let spec = WallSpec { thickness: Length::mm(100.0), height: Length::m(2.4), make_up: MakeUp::Stud };
        let own = [Point::new(1040.0, 1040.0), Point::new(1040.0, 3000.0)];
        let change = draw_walls(&project, level, &own, spec).unwrap();
        History::default().apply(&mut project, change).unwrap();
        let index = SnapIndex::of_level(&project, level);
        let caught = snap_over(&index, Some(&drawing), &request(1020.0, 1050.0, None), Wanted::Lines);
        assert_eq!((caught.why, caught.at), (SnapReason::WallEnd, own[0]), "our own plan wins");
    }

    #[test]
    fn thickness_and_reveals_are_read_from_the_drawing() {
        let lines = DrawingLines::of_page(&page(), 0.0);
        let drawing = DrawingBeneath::new(Some(&lines), None, plan_from_page(100.0)).unwrap();
        for y in [1020.0, 1050.0, 950.0] {
            let wall = drawing.wall_at(Point::new(1500.0, y)).unwrap();
            assert_eq!(wall.thickness, Length::mm(100.0), "{y}");
            assert!((wall.middle - Point::new(1500.0, 1000.0)).hypot() < 1e-6);
        }
        assert_eq!(drawing.wall_at(Point::new(1500.0, 3000.0)), None);
        let wall = Wall {
            level: Id::from_number(1),
            start: Point::new(5000.0, 1000.0),
            end: Point::new(1000.0, 1000.0),
            thickness: Length::mm(100.0),
            height: Length::m(2.4),
            make_up: MakeUp::Stud,
        };
        let reveals = drawing.reveals_in(&wall, Length::mm(2500.0));
        assert_eq!(reveals, Some((Length::mm(2100.0), Length::mm(3000.0))));
        assert_eq!(drawing.reveals_in(&wall, Length::mm(500.0)), None, "no gap there");
    }

    /// A page of as many lines as a large drawing has answers a pointer's move well within one frame, also in a
    /// debug build, near by and from afar.
    #[test]
    fn a_page_of_46_000_lines_answers_at_once() {
        let mut strokes = Vec::new();
        for row in 0..200 {
            for column in 0..230 {
                let (x, y) = (f64::from(column) * 2.6, f64::from(row) * 3.0);
                let mut path = BezPath::new();
                path.move_to((x, y));
                path.line_to((x + f64::from((row + column) % 3), y + f64::from(column % 2) + 1.0));
                strokes.push(Stroke { path, width: 0.2, lightness: 0.0, dashed: false, order: 0 });
            }
        }
        assert_eq!(strokes.len(), 46_000);
        let page = Page { width: 600.0, height: 600.0, strokes, ..Page::default() };
        let lines = DrawingLines::of_page(&page, 0.0);
        let drawing = DrawingBeneath::new(Some(&lines), None, plan_from_page(600.0)).unwrap();
        let project = Project::new();
        let index = SnapIndex::of_level(&project, ground(&project));
        for reach_mm in [20.0, 400.0] {
            let moves = 50;
            let before = std::time::Instant::now();
            for step in 0..moves {
                let at = Point::new(9000.0 + f64::from(step) * 37.0, 12_000.0 + f64::from(step) * 11.0);
                let request =
                    SnapRequest { at, reach_mm, from: Some(Point::new(9000.0, 0.0)), skip: Vec::new() };
                let caught = snap_over(&index, Some(&drawing), &request, Wanted::Middles);
                assert!(caught.at.is_finite());
                let _ = drawing.wall_at(at);
            }
            let each = before.elapsed() / moves as u32;
            println!("one move of the pointer over 46,000 lines, reach {reach_mm} mm: {each:?}");
            assert!(each < std::time::Duration::from_millis(100), "one move took {each:?}");
        }
    }
}
