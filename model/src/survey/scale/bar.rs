//! A scale bar that someone points at: a row of filled pieces or ticks with numbers along it.
//!
//! The numbers make the bar: a row of lettering that starts at 0 and ends at a length. Each number stands at an edge
//! of the pieces beside the row; the edges at 0 and at the last number are what is measured.

use kurbo::{Point, Shape};

use super::super::page::{Page, Writing};
use super::lines::{Ruler, distance_to_writing, straight_pieces};
use crate::units::Length;

/// Numbers of one row stand on one line to within this, heights of the lettering.
const SAME_ROW: f64 = 0.5;

/// Pieces and ticks lie no farther from their numbers than this, heights of the lettering.
const BESIDE: f64 = 4.0;

/// A number stands no farther along from its edge than this, heights of the lettering, and half its length.
const AT_EDGE: f64 = 1.0;

/// Someone who points at a bar is no farther off than this, heights of the lettering.
const POINTED_WITHIN: f64 = 6.0;

/// Bars without a unit are in metres up to this number and in millimetres beyond (trade habit, no published
/// source).
const MOST_METRES: f64 = 200.0;

/// A scale bar of a page.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleBar {
    /// The number at its end, with its unit as printed or guessed: `5 m`.
    pub text: String,
    /// The length between its ends.
    pub length: Length,
    /// Its ends, units of the page: 0 first.
    pub line: [Point; 2],
}

/// A number of a row: its value, the unit that stands with it, and where.
struct Number<'a> {
    value: f64,
    unit: &'a str,
    writing: &'a Writing,
}

/// The scale bar nearest to a point, where one is near.
pub fn scale_bar_at(page: &Page, point: Point) -> Option<ScaleBar> {
    if !point.is_finite() {
        return None;
    }
    let numbers: Vec<Number> = page
        .writings
        .iter()
        .filter(|writing| writing.height > 0.0 && writing.height.is_finite() && writing.length.is_finite())
        .filter_map(|writing| {
            let (value, unit) = value_and_unit(&writing.text)?;
            Some(Number { value, unit, writing })
        })
        .collect();
    let mut bars: Vec<(f64, ScaleBar)> = numbers
        .iter()
        .filter(|number| number.value == 0.0)
        .filter_map(|zero| bar_from(page, zero, &numbers))
        .map(|bar| (distance(point, bar.line), bar))
        .collect();
    bars.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (off, bar) = bars.into_iter().next()?;
    let near_lettering = page.writings.iter().any(|writing| {
        distance_to_writing(writing, point) <= writing.height && value_and_unit(&writing.text).is_some()
    });
    let height = numbers.iter().map(|number| number.writing.height).fold(0.0, f64::max);
    (off <= POINTED_WITHIN * height || near_lettering && off <= 2.0 * POINTED_WITHIN * height).then_some(bar)
}

/// The bar whose numbers start at `zero`.
fn bar_from(page: &Page, zero: &Number, numbers: &[Number]) -> Option<ScaleBar> {
    let height = zero.writing.height;
    let ruler = Ruler::new(zero.writing.centre(), zero.writing.direction);
    let in_row = |number: &&Number| {
        ruler.across(number.writing.centre()).abs() <= SAME_ROW * height
            && number.writing.direction.dot(zero.writing.direction) > 0.99
    };
    let row: Vec<&Number> = numbers.iter().filter(in_row).collect();
    let edges = edges(page, ruler, height);
    let at_edge = |number: &Number| {
        let along = ruler.along(number.writing.centre());
        let (edge, off) =
            edges.iter().map(|edge| (*edge, (edge.0 - along).abs())).min_by(|a, b| a.1.total_cmp(&b.1))?;
        (off <= AT_EDGE * height + number.writing.length / 2.0).then_some(edge)
    };
    let start = at_edge(zero)?;
    let last = row
        .iter()
        .filter(|number| number.value > 0.0 && ruler.along(number.writing.centre()) > 0.0)
        .max_by(|a, b| a.value.total_cmp(&b.value))?;
    let end = at_edge(last)?;
    let unit = row.iter().map(|number| number.unit).find(|unit| !unit.is_empty());
    let unit = unit.unwrap_or(if last.value <= MOST_METRES { "m" } else { "mm" });
    let length = Length::parse(&format!("{} {unit}", last.value)).ok()?;
    // Both ends are measured at one height above the numbers, that of the first.
    let line = [ruler.point(start.0, start.1), ruler.point(end.0, start.1)];
    let apart = end.0 - start.0 > height;
    apart.then(|| ScaleBar { text: format!("{} {unit}", last.value), length, line })
}

/// Edges of pieces and ticks beside a row of numbers: how far along, and how far across their middle lies.
fn edges(page: &Page, ruler: Ruler, height: f64) -> Vec<(f64, f64)> {
    let reach = BESIDE * height;
    let mut edges = Vec::new();
    for piece in straight_pieces(page) {
        let (a, b) = (ruler.across(piece.a), ruler.across(piece.b));
        let (from, to) = (ruler.along(piece.a), ruler.along(piece.b));
        let upright = (from - to).abs() <= 0.035 * piece.length();
        if upright && a.abs().max(b.abs()) <= reach {
            edges.push(((from + to) / 2.0, (a + b) / 2.0));
        }
    }
    for fill in &page.fills {
        let rect = fill.path.bounding_box();
        if !rect.is_finite() {
            continue;
        }
        let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        let corners = corners.map(Point::from);
        if corners.iter().any(|corner| ruler.across(*corner).abs() > reach) {
            continue;
        }
        let along = corners.map(|corner| ruler.along(corner));
        let across = ruler.across(rect.center());
        let ends = along.iter().fold((f64::MAX, f64::MIN), |(low, high), a| (low.min(*a), high.max(*a)));
        edges.extend([(ends.0, across), (ends.1, across)]);
    }
    edges
}

/// The number that lettering starts with, and a unit of length after it; nothing else may stand there.
fn value_and_unit(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(text.len());
    let (digits, unit) = text.split_at(end);
    let value: f64 = digits.replace(',', ".").parse().ok()?;
    let unit = unit.trim();
    let known =
        ["", "mm", "cm", "m", "metres", "meters", "ft", "feet", "'"].contains(&unit.to_lowercase().as_str());
    (known && value.is_finite()).then_some((value, unit))
}

fn distance(at: Point, line: [Point; 2]) -> f64 {
    let along = line[1] - line[0];
    let share = if along.hypot2() > 0.0 { (at - line[0]).dot(along) / along.hypot2() } else { 0.0 };
    (at - line[0].lerp(line[1], share.clamp(0.0, 1.0))).hypot()
}

#[cfg(test)]
mod tests {
    use kurbo::{BezPath, Rect, Vec2};

    use super::super::super::page::{Fill, Stroke};
    use super::*;

    fn page(numbers: &[(&str, f64)]) -> Page {
        let writing = |(text, x): &(&str, f64)| {
            let length = 1.8 * text.chars().count() as f64;
            Writing {
                text: (*text).to_owned(),
                at: Point::new(x - length / 2.0, 80.0),
                direction: Vec2::new(1.0, 0.0),
                length,
                height: 2.5,
            }
        };
        Page {
            width: 200.0,
            height: 100.0,
            writings: numbers.iter().map(writing).collect(),
            ..Page::default()
        }
    }

    /// Every other metre filled, and an outline around all, from x 20, 20 mm to the metre.
    fn with_pieces(mut page: Page) -> Page {
        for x in [20.0, 60.0, 100.0] {
            let path = Rect::new(x, 82.0, x + 20.0, 84.0).to_path(0.1);
            page.fills.push(Fill { path, even_odd: false, lightness: 0.0, order: 0 });
        }
        let path = Rect::new(20.0, 82.0, 120.0, 84.0).to_path(0.1);
        page.strokes.push(Stroke { path, width: 0.2, lightness: 0.0, dashed: false, order: 0 });
        page
    }

    fn with_ticks(mut page: Page) -> Page {
        let mut path = BezPath::new();
        path.move_to((20.0, 83.0));
        path.line_to((120.0, 83.0));
        for x in [20.0, 40.0, 60.0, 80.0, 100.0, 120.0] {
            path.move_to((x, 82.0));
            path.line_to((x, 84.0));
        }
        page.strokes.push(Stroke { path, width: 0.2, lightness: 0.0, dashed: false, order: 0 });
        page
    }

    #[test]
    fn a_bar_runs_from_nought_to_its_last_number() {
        let cases: [(&str, Page, f64, (f64, f64)); 6] = [
            ("pieces", with_pieces(page(&[("0", 20.0), ("5 m", 120.0)])), 5000.0, (20.0, 120.0)),
            ("ticks", with_ticks(page(&[("0", 20.0), ("1", 40.0), ("5", 120.0)])), 5000.0, (20.0, 120.0)),
            (
                "left of nought",
                with_ticks(page(&[("1", 20.0), ("0", 40.0), ("4m", 120.0)])),
                4000.0,
                (40.0, 120.0),
            ),
            ("millimetres", with_pieces(page(&[("0", 20.0), ("5000", 120.0)])), 5000.0, (20.0, 120.0)),
            ("feet", with_pieces(page(&[("0", 20.0), ("10 ft", 120.0)])), 3048.0, (20.0, 120.0)),
            (
                "unit after its number",
                with_pieces(page(&[("0 m", 21.0), ("5", 120.0)])),
                5000.0,
                (20.0, 120.0),
            ),
        ];
        for (what, page, length, (from, to)) in cases {
            for pointed in [Point::new(70.0, 83.0), Point::new(70.0, 90.0), Point::new(120.0, 79.0)] {
                let bar = scale_bar_at(&page, pointed).unwrap_or_else(|| panic!("{what}: no bar"));
                assert!((bar.length.as_mm() - length).abs() < 1e-6, "{what}: {bar:?}");
                assert!(
                    (bar.line[0].x - from).abs() < 1e-9 && (bar.line[1].x - to).abs() < 1e-9,
                    "{what}: {bar:?}"
                );
            }
        }
    }

    #[test]
    fn what_is_no_bar_is_left_alone() {
        let far = Point::new(70.0, 20.0);
        let bar = with_pieces(page(&[("0", 20.0), ("5 m", 120.0)]));
        assert_eq!(scale_bar_at(&bar, far), None);
        let on_it = Point::new(70.0, 83.0);
        for (what, page) in [
            ("no pieces", page(&[("0", 20.0), ("5 m", 120.0)])),
            ("no nought", with_pieces(page(&[("1", 20.0), ("5 m", 120.0)]))),
            ("no end", with_pieces(page(&[("0", 20.0)]))),
            ("words", with_pieces(page(&[("0 Kitchen", 20.0), ("5 m", 120.0)]))),
        ] {
            assert_eq!(scale_bar_at(&page, on_it), None, "{what}");
        }
    }
}
