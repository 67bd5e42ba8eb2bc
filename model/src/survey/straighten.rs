//! How far a drawing lies askew, and a picture turned level.
//!
//! Houses are drawn with most lines at right angles, so the turn that makes the most of them run along rows and
//! columns is the skew. A picture shows it by its edges: seen along the right direction they fall together into
//! few narrow heaps (projection profiles, after Postl 1986 and Baird 1987), which lettering and furniture do
//! not; a page with lines shows it by their directions. An angle is how far the drawing is turned from level as
//! one looks at it, anticlockwise above zero; to level it, turn it by as much the other way.

use kurbo::{Affine, PathSeg, Point, Vec2};

use super::{Greyscale, Page};
use crate::units::Angle;

/// How far a drawing lies askew.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skew {
    /// Anticlockwise from level as seen, from −45° to 45°.
    pub angle: Angle,
    /// 0 (a guess) to 1 (certain).
    pub confidence: f64,
}

impl Skew {
    /// The turn, anticlockwise above zero, that makes the drawing level: that of an underlay, or of [`turned`].
    pub fn levelling(&self) -> Angle {
        Angle::radians(-self.angle.as_radians())
    }
}

/// Pictures are looked at with about this many pixels along the longer side: enough for 0.02°, few enough to be
/// quick and to average away noise.
const LOOKED_AT_PX: usize = 1600;
/// As many edge points as are projected; more add time and no accuracy.
const MOST_EDGE_POINTS: usize = 60_000;
/// An edge point counts for directions this near to its own, degrees: noise turns single gradients that far.
const OWN_DIRECTION_WITHIN: f64 = 8.0;
const COARSE_STEP: f64 = 0.25;
const FINE_STEP: f64 = 0.02;

/// How far the drawing in a picture lies askew; `None` where it shows too few edges to tell.
pub fn skew_of_picture(picture: &Greyscale) -> Option<Skew> {
    let reduced = reduced(picture, picture.width().max(picture.height()).div_ceil(LOOKED_AT_PX).max(1));
    let edges = Edges::of(&reduced)?;
    let coarse: Vec<(f64, f64)> = (-180..180)
        .map(|step| f64::from(step) * COARSE_STEP)
        .map(|angle| (angle, edges.heaped(angle)))
        .collect();
    let (about, peak) = coarse.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let mut sorted: Vec<f64> = coarse.iter().map(|(_, heaped)| *heaped).collect();
    sorted.sort_by(f64::total_cmp);
    let usual = sorted[sorted.len() / 2];
    let rival = coarse
        .iter()
        .filter(|(angle, _)| folded_degrees(angle - about).abs() > 2.0)
        .fold(0.0_f64, |most, (_, heaped)| most.max(*heaped));
    let fine: Vec<(f64, f64)> = (-25..=25)
        .map(|step| about + f64::from(step) * FINE_STEP)
        .map(|angle| (angle, edges.heaped(angle)))
        .collect();
    let angle = top_of_peak(&fine)?;
    (peak > 1.2 * usual.max(f64::MIN_POSITIVE)).then_some(Skew {
        angle: Angle::degrees(folded_degrees(angle)),
        confidence: ((peak - rival) / peak).clamp(0.0, 1.0),
    })
}

/// How far the lines of a page lie askew, each by its length; `None` where it has no straight line.
pub fn skew_of_page(page: &Page) -> Option<Skew> {
    let mut directions: Vec<(f64, f64)> = Vec::new();
    let paths =
        page.strokes.iter().map(|stroke| &stroke.path).chain(page.fills.iter().map(|fill| &fill.path));
    for path in paths {
        directions.extend(path.segments().filter_map(|piece| match piece {
            PathSeg::Line(line) => {
                let along = line.p1 - line.p0;
                let length = along.hypot();
                (length.is_finite() && length > 0.0)
                    .then(|| (folded_degrees((-along.y).atan2(along.x).to_degrees()), length))
            }
            _ => None,
        }));
    }
    let whole: f64 = directions.iter().map(|(_, length)| length).sum();
    let bins = 900;
    let bin = |angle: f64| (((angle + 45.0) * 10.0) as usize).min(bins - 1);
    let mut heaps = vec![0.0; bins];
    directions.iter().for_each(|(angle, length)| heaps[bin(*angle)] += length);
    let near = |index: usize| heaps[index] + heaps[(index + 1) % bins] + heaps[(index + bins - 1) % bins];
    let fullest = (0..bins).max_by(|a, b| near(*a).total_cmp(&near(*b)))?;
    let about = fullest as f64 / 10.0 - 45.0 + 0.05;
    let (mut turned, mut agreeing) = (0.0, 0.0);
    for (angle, length) in &directions {
        let away = folded_degrees(angle - about);
        if away.abs() < 0.3 {
            turned += away * length;
            agreeing += length;
        }
    }
    (agreeing > 0.0).then(|| Skew {
        angle: Angle::degrees(folded_degrees(about + turned / agreeing)),
        confidence: (agreeing / whole).clamp(0.0, 1.0),
    })
}

/// The turn, anticlockwise above zero, that makes the line between two points of the plan (y up) level, or
/// upright where that is nearer. Nothing where the points are the same.
pub fn level_turn(first: Point, second: Point) -> Angle {
    let along = second - first;
    let degrees = along.y.atan2(along.x).to_degrees();
    if degrees.is_finite() { Angle::degrees(-folded_degrees(degrees)) } else { Angle::ZERO }
}

/// Width, height and placement of a picture of the given size turned anticlockwise as seen, on a canvas grown to
/// hold it: the placement takes pixels of the picture as it was to pixels of the turned one.
pub fn placement_of_turned(width: usize, height: usize, turn: Angle) -> (usize, usize, Affine) {
    // With y down, a turn that looks anticlockwise is one by the negative angle.
    let turning = Affine::rotate(-turn.as_radians());
    let bounds = turning.transform_rect_bbox(kurbo::Rect::new(0.0, 0.0, width as f64, height as f64));
    let grown = |size: f64| (size - 1e-6).ceil().max(1.0) as usize;
    let (wide, high) = (grown(bounds.width()), grown(bounds.height()));
    let middle = Vec2::new(wide as f64 - bounds.width(), high as f64 - bounds.height()) / 2.0;
    (wide, high, Affine::translate(middle - bounds.origin().to_vec2()) * turning)
}

/// A picture turned anticlockwise as seen, on a canvas grown to hold it, white beyond its edges.
pub fn turned(picture: &Greyscale, turn: Angle) -> Greyscale {
    let (width, height, placement) = placement_of_turned(picture.width(), picture.height(), turn);
    let back = placement.inverse();
    let step = back * Point::new(1.0, 0.0) - back * Point::ORIGIN;
    let mut luma = vec![u8::MAX; width * height];
    for (y, row) in luma.chunks_exact_mut(width).enumerate() {
        let start = back * Point::new(0.5, y as f64 + 0.5) - Vec2::new(0.5, 0.5);
        for (x, value) in row.iter_mut().enumerate() {
            *value = blended(picture, start + step * x as f64);
        }
    }
    Greyscale::new(width, height, luma).unwrap_or_else(|| picture.clone())
}

/// The four pixels round a place (whole numbers are the middles of pixels), each by its share; white outside.
fn blended(picture: &Greyscale, at: Point) -> u8 {
    let (left, top) = (at.x.floor(), at.y.floor());
    if left < -1.0 || top < -1.0 || left >= picture.width() as f64 || top >= picture.height() as f64 {
        return u8::MAX;
    }
    let (across, down) = (at.x - left, at.y - top);
    // Before the first row and column lies white as well: `at` answers for any index too large.
    let sample = |dx: f64, dy: f64| {
        let (x, y) = (left + dx, top + dy);
        if x < 0.0 || y < 0.0 { 255.0 } else { f64::from(picture.at(x as usize, y as usize)) }
    };
    let upper = sample(0.0, 0.0) * (1.0 - across) + sample(1.0, 0.0) * across;
    let lower = sample(0.0, 1.0) * (1.0 - across) + sample(1.0, 1.0) * across;
    (upper * (1.0 - down) + lower * down).round() as u8
}

/// An angle in degrees brought to −45° to 45° by right angles.
fn folded_degrees(degrees: f64) -> f64 {
    degrees - (degrees / 90.0).round() * 90.0
}

/// Averages of blocks of `by` × `by` pixels; what does not fill a block is left out.
fn reduced(picture: &Greyscale, by: usize) -> Greyscale {
    let (width, height) = (picture.width() / by, picture.height() / by);
    let mut luma = Vec::with_capacity(width * height);
    let mut sums = vec![0_u32; width];
    for rows in picture.luma().chunks_exact(picture.width() * by).take(height) {
        sums.fill(0);
        for row in rows.chunks_exact(picture.width()) {
            for (sum, block) in sums.iter_mut().zip(row.chunks_exact(by)) {
                *sum += block.iter().map(|value| u32::from(*value)).sum::<u32>();
            }
        }
        luma.extend(sums.iter().map(|sum| (sum / (by * by) as u32) as u8));
    }
    Greyscale::new(width, height, luma).unwrap_or_else(|| picture.clone())
}

/// One place where a picture turns from light to dark.
#[derive(Clone, Copy)]
struct EdgePoint {
    /// From the middle of the picture, pixels, y up.
    at: Vec2,
    /// Direction of the gradient, degrees from −180 to 180, y up.
    gradient: f64,
    /// The same folded to −45 to 45.
    folded: f64,
}

struct Edges {
    /// In order of their folded direction.
    points: Vec<EdgePoint>,
    /// Half the diagonal of the picture, pixels.
    reach: f64,
}

impl Edges {
    /// The strongest edges of a picture; `None` where there are hardly any.
    fn of(picture: &Greyscale) -> Option<Self> {
        let (width, height) = (picture.width(), picture.height());
        if width < 16 || height < 16 {
            return None;
        }
        let mut counts = [0_usize; 2048];
        each_gradient(picture, |_, _, gradient| counts[strength(gradient)] += 1);
        let wanted = (width * height / 25).min(MOST_EDGE_POINTS);
        let mut above = 0;
        let threshold = (0..counts.len()).rev().find(|strength| {
            above += counts[*strength];
            above >= wanted
        })?;
        let threshold = threshold.max(24);
        let middle = Vec2::new(width as f64, height as f64) / 2.0;
        let mut points = Vec::new();
        each_gradient(picture, |x, y, gradient| {
            if strength(gradient) >= threshold && points.len() < 4 * MOST_EDGE_POINTS {
                let away = Vec2::new(x as f64, y as f64) - middle;
                let direction = (-gradient.1 as f64).atan2(gradient.0 as f64).to_degrees();
                points.push(EdgePoint {
                    at: Vec2::new(away.x, -away.y),
                    gradient: direction,
                    folded: folded_degrees(direction),
                });
            }
        });
        points.sort_by(|a, b| a.folded.total_cmp(&b.folded));
        (points.len() >= 100).then_some(Self { points, reach: middle.hypot() + 4.0 })
    }

    /// How much the edges that run about this way, or across it, fall together into heaps when seen along it.
    fn heaped(&self, degrees: f64) -> f64 {
        let bins = 2 * self.reach.ceil() as usize + 4;
        let mut heaps = [vec![0.0_f32; bins], vec![0.0_f32; bins]];
        let (sine, cosine) = degrees.to_radians().sin_cos();
        let mut add = |points: &[EdgePoint]| {
            for point in points {
                // An edge that runs level has its gradient across: measure it upwards, and others sideways.
                let runs_level = folded_half_turn(point.gradient - degrees).abs() > 45.0;
                let across = if runs_level { Vec2::new(-sine, cosine) } else { Vec2::new(cosine, sine) };
                let place = point.at.dot(across) + self.reach;
                spread(&mut heaps[usize::from(runs_level)], place);
            }
        };
        let folded = folded_degrees(degrees);
        let slice = |from: f64, to: f64| {
            let start = self.points.partition_point(|point| point.folded < from);
            let end = self.points.partition_point(|point| point.folded <= to);
            &self.points[start..end.max(start)]
        };
        let (from, to) = (folded - OWN_DIRECTION_WITHIN, folded + OWN_DIRECTION_WITHIN);
        add(slice(from, to));
        if from < -45.0 {
            add(slice(from + 90.0, 90.0));
        }
        if to > 45.0 {
            add(slice(-90.0, to - 90.0));
        }
        heaps.iter().flatten().map(|heap| f64::from(*heap) * f64::from(*heap)).sum()
    }
}

/// An angle in degrees brought to −90° to 90° by half turns.
fn folded_half_turn(degrees: f64) -> f64 {
    degrees - (degrees / 180.0).round() * 180.0
}

/// Spreads one point over three bins (quadratic B-spline), so that the grid of pixels favours no direction.
fn spread(heap: &mut [f32], place: f64) {
    let nearest = place.round();
    let off = (place - nearest) as f32;
    let index = nearest as usize;
    if place >= 1.0 && index + 1 < heap.len() {
        heap[index - 1] += 0.5 * (0.5 - off) * (0.5 - off);
        heap[index] += 0.75 - off * off;
        heap[index + 1] += 0.5 * (0.5 + off) * (0.5 + off);
    }
}

fn strength((across, down): (i32, i32)) -> usize {
    // Sobel sums reach 4 × 255 along each axis; the sum of both is near enough for a threshold.
    ((across.abs() + down.abs()) as usize).min(2047)
}

/// Calls with column, row and the gradient towards lighter, x right and y down (Sobel's sums).
fn each_gradient(picture: &Greyscale, mut call: impl FnMut(usize, usize, (i32, i32))) {
    for y in 1..picture.height() - 1 {
        let [above, own, below] = [picture.row(y - 1), picture.row(y), picture.row(y + 1)];
        for x in 1..picture.width() - 1 {
            let value = |row: &[u8], x: usize| i32::from(row[x]);
            let right = value(above, x + 1) + 2 * value(own, x + 1) + value(below, x + 1);
            let left = value(above, x - 1) + 2 * value(own, x - 1) + value(below, x - 1);
            let lower = value(below, x - 1) + 2 * value(below, x) + value(below, x + 1);
            let upper = value(above, x - 1) + 2 * value(above, x) + value(above, x + 1);
            call(x, y, (right - left, lower - upper));
        }
    }
}

/// The top of a peak between its samples: a parabola through the highest and the two beside it.
fn top_of_peak(samples: &[(f64, f64)]) -> Option<f64> {
    let highest = (0..samples.len()).max_by(|a, b| samples[*a].1.total_cmp(&samples[*b].1))?;
    let (Some(before), Some(after)) =
        (highest.checked_sub(1).and_then(|index| samples.get(index)), samples.get(highest + 1))
    else {
        return Some(samples[highest].0);
    };
    let bend = before.1 - 2.0 * samples[highest].1 + after.1;
    let aside = if bend < 0.0 { 0.5 * (before.1 - after.1) / bend } else { 0.0 };
    Some(samples[highest].0 + aside.clamp(-1.0, 1.0) * (after.0 - samples[highest].0))
}

#[cfg(test)]
mod tests {
    use kurbo::{BezPath, Rect, Shape};

    use super::super::Stroke;
    use super::super::drawn::Sheet;
    use super::*;

    /// A house of two rooms with a table and lettering, turned anticlockwise, in uneven light and noise.
    fn house(degrees: f64) -> Greyscale {
        let mut sheet = Sheet::new(900, 700);
        sheet.turn = degrees;
        for wall in [(200.0, 150.0, 700.0, 174.0), (200.0, 526.0, 700.0, 550.0), (200.0, 150.0, 224.0, 550.0)]
        {
            sheet.block(wall, 40);
        }
        sheet.block((676.0, 150.0, 700.0, 420.0), 40);
        sheet.block((430.0, 174.0, 440.0, 400.0), 40);
        // A table that stands askew, and letters.
        for step in 0..40 {
            let along = f64::from(step) * 3.0;
            sheet.block((500.0 + along, 250.0 + along * 0.7, 504.0 + along, 254.0 + along * 0.7), 60);
        }
        for letter in 0..12 {
            let x = 250.0 + f64::from(letter) * 11.0;
            sheet.block((x, 300.0, x + 2.0, 312.0), 50);
            sheet.block((x, 304.0 + f64::from(letter % 3), x + 7.0, 306.0 + f64::from(letter % 3)), 50);
        }
        sheet.picture(9.0, 0.25)
    }

    #[test]
    fn skew_of_a_noisy_picture_is_found() {
        for degrees in [0.0, 0.05, -1.4, 7.0, -14.5, 31.0] {
            let skew = skew_of_picture(&house(degrees)).unwrap();
            let found = skew.angle.as_degrees();
            assert!((found - degrees).abs() < 0.05, "{degrees}: found {found}");
            assert!(skew.confidence > 0.2, "{degrees}: {}", skew.confidence);
        }
    }

    #[test]
    fn turned_back_it_is_level() {
        let picture = house(3.7);
        let skew = skew_of_picture(&picture).unwrap();
        let level = turned(&picture, skew.levelling());
        assert!(level.width() > picture.width() && level.height() > picture.height());
        assert!(skew_of_picture(&level).unwrap().angle.as_degrees().abs() < 0.05);
    }

    #[test]
    fn turned_a_quarter_anticlockwise_the_right_edge_is_on_top() {
        let picture = Greyscale::new(3, 2, vec![10, 20, 30, 40, 50, 60]).unwrap();
        let turned = turned(&picture, Angle::degrees(90.0));
        assert_eq!((turned.width(), turned.height()), (2, 3));
        assert_eq!(turned.luma(), [30, 60, 20, 50, 10, 40]);
    }

    #[test]
    fn bare_paper_has_no_skew() {
        assert_eq!(skew_of_picture(&Sheet::new(300, 200).picture(0.0, 0.0)), None);
        assert_eq!(skew_of_picture(&Greyscale::new(1, 1, vec![0]).unwrap()), None);
        assert_eq!(skew_of_page(&Page::default()), None);
    }

    #[test]
    fn skew_of_a_page_is_that_of_most_of_its_lines() {
        let mut path: BezPath = Rect::new(0.0, 0.0, 100.0, 60.0).to_path(0.1);
        path.apply_affine(Affine::rotate((-2.34_f64).to_radians()));
        path.move_to((0.0, 0.0));
        path.line_to((70.0, 30.0));
        let page = Page { strokes: vec![Stroke { path, ..Stroke::default() }], ..Page::default() };
        let skew = skew_of_page(&page).unwrap();
        assert!((skew.angle.as_degrees() - 2.34).abs() < 1e-9, "{skew:?}");
        assert!((skew.confidence - 320.0 / (320.0 + 70.0_f64.hypot(30.0))).abs() < 1e-9);
    }

    #[test]
    fn a_picked_line_becomes_level_or_upright() {
        let cases = [
            ((0.0, 0.0), (100.0, 1.0), -0.572_938_698),
            ((100.0, 1.0), (0.0, 0.0), -0.572_938_698),
            ((0.0, 0.0), (1.0, 100.0), 0.572_938_698),
            ((0.0, 0.0), (-100.0, 1.0), 0.572_938_698),
            ((5.0, 5.0), (5.0, 5.0), 0.0),
            ((0.0, 0.0), (f64::NAN, 1.0), 0.0),
        ];
        for (first, second, degrees) in cases {
            let turn = level_turn(first.into(), second.into()).as_degrees();
            assert!((turn - degrees).abs() < 1e-6, "{first:?} {second:?}: {turn}");
        }
    }
}
