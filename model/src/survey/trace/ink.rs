//! What is drawn on a page, laid on the plan: straight pieces of line, filled areas and arcs.
//!
//! Curves become chords, broad pens become areas, and everything that is not a number or lies beyond reason is
//! left out, so that the steps that follow need not ask again.

use kurbo::{Affine, BezPath, PathEl, Point, Rect};

use super::arcs::{Arc, arcs_along};
use super::straight::corners_of;
use crate::geometry::{Region, Ring, Segment, overlay};
use crate::survey::Page;

/// Pens broader than this on the plan may draw areas rather than lines, mm.
const BROAD_PEN_MM: f64 = 45.0;

/// And if the drawing is on paper, they are broader than the pens for the outlines of walls, mm of paper (common
/// practice, no published source: 0.35 mm to 0.7 mm).
const BROAD_PEN_ON_PAPER_MM: f64 = 0.9;

/// Chords stay this near to their curves, mm.
const CHORD_TOLERANCE_MM: f64 = 2.0;

/// No coordinate of a house lies farther from the origin, mm.
const FARTHEST_MM: f64 = 1.0e8;

/// Points of a line made from pixels stray from it by so many sizes of the noise.
const JITTER: f64 = 1.8;

/// Pieces of line shorter than this say nothing, mm.
const SHORTEST_LINE_MM: f64 = 15.0;

/// Most straight pieces kept of one page; a bound for pages that hold more than any house.
const MOST_LINES: usize = 1_000_000;

/// A unit of a drawing smaller than this on the plan is a pixel rather than a millimetre of paper, mm, if the
/// page has no lettering either. Drawings of houses are seldom made larger than 1:25.
const LARGEST_PIXEL_MM: f64 = 25.0;

/// A straight piece of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    /// From end to end, plan mm.
    pub at: Segment,
    /// Width of the pen, plan mm.
    pub pen: f64,
    /// 0 black to 1 white.
    pub lightness: f32,
    /// Whether it is broken into dashes.
    pub dashed: bool,
    /// Whether it is a chord of a curve.
    pub of_curve: bool,
}

/// A filled area of one tone, in the order of painting.
#[derive(Clone, Debug)]
pub(super) struct Area {
    /// Its outlines, plan mm.
    pub outlines: Vec<Ring>,
    /// The rule for outlines within outlines.
    pub even_odd: bool,
    /// 0 black to 1 white.
    pub lightness: f32,
    /// The rectangle about it.
    pub bounds: Rect,
    /// Its place in the order of painting.
    pub order: u32,
}

/// All that is drawn.
#[derive(Clone, Debug, Default)]
pub(super) struct Ink {
    /// Thin lines.
    pub lines: Vec<Line>,
    /// Filled areas, in the order of painting.
    pub areas: Vec<Area>,
    /// Arcs such as the swing of a door.
    pub arcs: Vec<Arc>,
    /// How far a line may stray from where it was meant, mm: a pixel's size for a page made from a picture.
    pub noise: f64,
    /// The page itself on the plan.
    pub page: Rect,
}

impl Area {
    /// The area as a region.
    pub fn region(&self) -> Region {
        overlay::filled_outlines(&self.outlines, self.even_odd)
    }
}

/// Lays a page on the plan; `None` when told to stop.
pub(super) fn ink_of(
    page: &Page,
    plan_from_drawing: Affine,
    keep_going: &dyn Fn(f32) -> bool,
) -> Option<Ink> {
    let mut ink = Ink::default();
    let scale = plan_from_drawing.determinant().abs().sqrt();
    let usable = plan_from_drawing.as_coeffs().iter().all(|value| value.is_finite()) && scale > 1e-9;
    if !usable {
        return Some(ink);
    }
    let is_picture = page.writings.is_empty() && scale < LARGEST_PIXEL_MM;
    ink.noise = if is_picture { scale } else { 0.0 };
    ink.page = plan_from_drawing.transform_rect_bbox(Rect::new(0.0, 0.0, page.width, page.height));
    for fill in &page.fills {
        let outlines: Vec<Ring> = courses_of(&fill.path, plan_from_drawing)
            .into_iter()
            .map(|course| Ring::new(course.points))
            .filter(|ring| ring.len() >= 3)
            .collect();
        let bounds = outlines.iter().filter_map(Ring::bounds).reduce(|a, b| a.union(b));
        if let Some(bounds) = bounds {
            let (even_odd, lightness, order) = (fill.even_odd, fill.lightness, fill.order);
            ink.areas.push(Area { outlines, even_odd, lightness, bounds, order });
        }
    }
    for (index, stroke) in page.strokes.iter().enumerate() {
        if index % 512 == 0 && !keep_going(index as f32 / page.strokes.len() as f32) {
            return None;
        }
        let pen = if stroke.width.is_finite() { stroke.width.abs() * scale } else { 0.0 };
        for course in courses_of(&stroke.path, plan_from_drawing) {
            if pen >= BROAD_PEN_MM && (is_picture || stroke.width >= BROAD_PEN_ON_PAPER_MM) {
                ink.areas.extend(course.broad(pen, stroke.lightness, stroke.order));
                continue;
            }
            ink.arcs.extend(arcs_along(&course.points, ink.noise));
            let course = if ink.noise > 0.0 { course.without_jitter(ink.noise) } else { course };
            for (piece, of_curve) in course.pieces() {
                if piece.length() >= SHORTEST_LINE_MM && ink.lines.len() < MOST_LINES {
                    let (lightness, dashed) = (stroke.lightness, stroke.dashed);
                    ink.lines.push(Line { at: piece, pen, lightness, dashed, of_curve });
                }
            }
        }
    }
    ink.areas.sort_by_key(|area| area.order);
    Some(ink)
}

/// One part of a path as straight pieces.
struct Course {
    points: Vec<Point>,
    /// For each point whether the piece that leads to it is a chord of a curve.
    of_curve: Vec<bool>,
}

impl Course {
    fn pieces(&self) -> impl Iterator<Item = (Segment, bool)> + '_ {
        let ends = self.points.windows(2).map(|pair| Segment::new(pair[0], pair[1]));
        ends.zip(self.of_curve.iter().skip(1).copied())
    }

    /// The course by its corners alone.
    fn without_jitter(&self, noise: f64) -> Self {
        let corners = corners_of(&self.points, JITTER * noise);
        Self {
            points: corners.iter().map(|index| self.points[*index]).collect(),
            of_curve: corners.iter().map(|index| self.of_curve[*index]).collect(),
        }
    }

    /// The areas a broad pen fills along the course, one for each piece; inner ends reach round the corner.
    fn broad(&self, pen: f64, lightness: f32, order: u32) -> Vec<Area> {
        let count = self.points.len().saturating_sub(1);
        let is_closed = count > 2 && self.points.first() == self.points.last();
        let half = pen / 2.0;
        let mut areas = Vec::new();
        for (index, (piece, _)) in self.pieces().enumerate() {
            let Some(along) = piece.direction() else { continue };
            let out = along.turn_90() * half;
            let before = if index > 0 || is_closed { half } else { 0.0 };
            let after = if index + 1 < count || is_closed { half } else { 0.0 };
            let (a, b) = (piece.a - along * before, piece.b + along * after);
            let ring = Ring::new(vec![a - out, b - out, b + out, a + out]);
            if let Some(bounds) = ring.bounds() {
                areas.push(Area { outlines: vec![ring], even_odd: false, lightness, bounds, order });
            }
        }
        areas
    }
}

/// The parts of a path on the plan, curves as chords. Parts with a coordinate beyond reason are left out.
fn courses_of(path: &BezPath, plan_from_drawing: Affine) -> Vec<Course> {
    let path = plan_from_drawing * path;
    let extent = path.control_box();
    let tolerance = CHORD_TOLERANCE_MM.max(extent.width().max(extent.height()) / 5000.0);
    if !tolerance.is_finite() {
        return Vec::new();
    }
    let mut courses: Vec<Course> = Vec::new();
    let mut here = Point::ZERO;
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => {
                courses.push(Course { points: vec![to], of_curve: vec![false] });
                here = to;
            }
            PathEl::LineTo(to) => {
                push(&mut courses, to, false);
                here = to;
            }
            PathEl::ClosePath => {
                let start = courses.last().and_then(|course| course.points.first().copied());
                if let Some(start) = start {
                    if start.distance(here) > 1e-6 {
                        push(&mut courses, start, false);
                    }
                    here = start;
                }
            }
            curve => {
                let Some(end) = curve.end_point() else { continue };
                kurbo::flatten([PathEl::MoveTo(here), curve], tolerance, |chord| {
                    if let PathEl::LineTo(to) = chord {
                        push(&mut courses, to, true);
                    }
                });
                here = end;
            }
        }
    }
    courses.retain(|course| {
        course.points.len() >= 2
            && course.points.iter().all(|point| point.x.abs() < FARTHEST_MM && point.y.abs() < FARTHEST_MM)
    });
    courses
}

fn push(courses: &mut [Course], to: Point, of_curve: bool) {
    if let Some(course) = courses.last_mut() {
        course.points.push(to);
        course.of_curve.push(of_curve);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::{Fill, Stroke};

    fn page_of(path: &str, width: f64) -> Page {
        let path = BezPath::from_svg(path).unwrap();
        let stroke = Stroke { path, width, ..Stroke::default() };
        Page { width: 100.0, height: 100.0, strokes: vec![stroke], ..Page::default() }
    }

    #[test]
    fn lines_and_chords_come_to_the_plan() {
        let page = page_of("M0,0 H20 C20,10 10,20 0,20 Z", 0.2);
        let ink = ink_of(&page, Affine::scale_non_uniform(50.0, -50.0), &|_| true).unwrap();
        assert_eq!(ink.lines[0].at, Segment::new(Point::ZERO, Point::new(1000.0, 0.0)));
        assert!(ink.lines.len() > 6 && ink.lines.iter().filter(|line| !line.of_curve).count() == 2);
        assert_eq!(ink.lines[0].pen, 10.0);
    }

    #[test]
    fn a_broad_pen_draws_areas() {
        let page = page_of("M0,0 H20 V20", 4.0);
        let ink = ink_of(&page, Affine::scale(50.0), &|_| true).unwrap();
        assert!(ink.lines.is_empty());
        let regions: Vec<Region> = ink.areas.iter().map(Area::region).collect();
        let all = overlay::union_of_regions(&regions.iter().collect::<Vec<_>>());
        assert!(
            (all.area() - (1100.0 * 200.0 + 1100.0 * 200.0 - 200.0 * 200.0)).abs() < 20.0,
            "{}",
            all.area()
        );
    }

    #[test]
    fn what_is_no_number_is_left_out() {
        let mut page = page_of("M0,0 H20", f64::NAN);
        let mut odd = BezPath::new();
        odd.move_to((f64::NAN, 0.0));
        odd.line_to((1e300, f64::INFINITY));
        page.fills.push(Fill { path: odd.clone(), even_odd: true, ..Fill::default() });
        page.strokes.push(Stroke { path: odd, width: 1.0, ..Stroke::default() });
        let ink = ink_of(&page, Affine::scale(50.0), &|_| true).unwrap();
        assert_eq!((ink.lines.len(), ink.areas.len()), (1, 0));
        assert!(ink_of(&page, Affine::scale(f64::NAN), &|_| true).unwrap().lines.is_empty());
        assert!(ink_of(&page, Affine::scale(50.0), &|_| false).is_none());
    }
}
