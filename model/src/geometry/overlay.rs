//! Boolean operations on regions.
//!
//! A thin layer over the `i_overlay` crate (a scan-line overlay graph on a grid of whole numbers, so its
//! topology is exact on that grid). Error bound: the grid has 2³⁰ steps over the larger extent of the
//! operands, or half as many, so corners move by at most 0.0002 mm within 100 m, and areas are exact to
//! 0.01 mm of outline displacement with room to spare. Degenerate cases: rings with fewer than three
//! points, non-finite coordinates or no area are ignored; self-crossing rings are filled by the non-zero
//! rule; slivers below 0.01 mm² vanish.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::float::overlay::{FloatOverlay, OverlayOptions};
use i_overlay::float::slice::FloatSlice;
use i_overlay::mesh::float::outline::offset::OutlineOffset;
use i_overlay::mesh::float::style::{LineJoin, OutlineStyle};
use kurbo::{Point, Rect};

use super::polygon::Ring;
use super::region::{Region, Shape};
use super::sector::arc_step;
use super::segment::Segment;

type Contour = Vec<[f64; 2]>;

/// Smallest area kept in a result, mm².
const SMALLEST_AREA: f64 = 0.01;

/// Coordinates beyond this, in millimetres, are ignored like non-finite ones.
const FARTHEST: f64 = 1.0e12;

fn contour_of(ring: &Ring) -> Option<Contour> {
    let usable = ring.points().iter().all(|point| point.x.abs() <= FARTHEST && point.y.abs() <= FARTHEST);
    (ring.len() >= 3 && usable).then(|| ring.points().iter().map(|point| [point.x, point.y]).collect())
}

/// Outlines anticlockwise, holes clockwise, for the non-zero rule.
fn contours_of(region: &Region) -> Vec<Contour> {
    let mut contours = Vec::new();
    for shape in &region.shapes {
        let Some(outer) = contour_of(&shape.outer.clone().anticlockwise()) else { continue };
        contours.push(outer);
        contours.extend(shape.holes.iter().filter_map(|hole| contour_of(&hole.clone().clockwise())));
    }
    contours
}

fn ring_from(contour: Contour) -> Ring {
    Ring::new(contour.into_iter().map(|[x, y]| Point::new(x, y)).collect())
}

fn region_from(shapes: Vec<Vec<Contour>>) -> Region {
    let shape_from = |contours: Vec<Contour>| {
        let mut rings = contours.into_iter().map(ring_from);
        let outer = rings.next()?.anticlockwise();
        Some(Shape { outer, holes: rings.map(Ring::clockwise).collect() })
    };
    Region { shapes: shapes.into_iter().filter_map(shape_from).collect() }
}

fn options() -> OverlayOptions<f64> {
    let mut options = OverlayOptions::default();
    options.min_output_area = SMALLEST_AREA;
    options
}

fn overlay(subject: &[Contour], clip: &[Contour], rule: OverlayRule) -> Region {
    if subject.is_empty() && clip.is_empty() {
        return Region::empty();
    }
    let mut overlay =
        FloatOverlay::<[f64; 2]>::from_subj_and_clip_custom(subject, clip, options(), Solver::default());
    region_from(overlay.overlay(rule, FillRule::NonZero))
}

/// Everything inside at least one of the rings, whichever way each runs.
pub fn union_of_rings(rings: &[Ring]) -> Region {
    let contours: Vec<Contour> =
        rings.iter().filter_map(|ring| contour_of(&ring.clone().anticlockwise())).collect();
    overlay(&contours, &[], OverlayRule::Subject)
}

/// So many regions are united in one go; more of them in turns, neighbours first.
const MOST_AT_ONCE: usize = 16;

/// Everything inside at least one of the regions.
///
/// Many regions are halved by where they lie until few are left, and united back from there, so that what lies within
/// others is gone before it can meet the rest (the cascaded union of spatial libraries, with halves for its tree).
/// Each turn rounds to a grid once more, by at most 0.0002 mm within 100 m.
pub fn union_of_regions(regions: &[&Region]) -> Region {
    if regions.len() <= MOST_AT_ONCE {
        return union_at_once(regions);
    }
    let middle = |region: &Region| Some(region.bounds()?.center()).filter(|middle| middle.is_finite());
    let mut placed: Vec<(Point, &Region)> =
        regions.iter().filter_map(|region| Some((middle(region)?, *region))).collect();
    union_in_turns(&mut placed)
}

fn union_at_once(regions: &[&Region]) -> Region {
    let contours: Vec<Contour> = regions.iter().flat_map(|region| contours_of(region)).collect();
    overlay(&contours, &[], OverlayRule::Subject)
}

/// The union of regions, each with its middle.
fn union_in_turns(regions: &mut [(Point, &Region)]) -> Region {
    if regions.len() <= MOST_AT_ONCE {
        return union_at_once(&regions.iter().map(|(_, region)| *region).collect::<Vec<_>>());
    }
    let about = regions.iter().map(|(at, _)| Rect::from_points(*at, *at)).reduce(|a, b| a.union(b));
    let is_wide = about.is_some_and(|about| about.width() > about.height());
    let along = |at: Point| if is_wide { at.x } else { at.y };
    regions.sort_by(|(a, _), (b, _)| along(*a).total_cmp(&along(*b)));
    let (these, those) = regions.split_at_mut(regions.len() / 2);
    union_at_once(&[&union_in_turns(these), &union_in_turns(those)])
}

/// What a pen would fill of outlines that may cross, lie within one another and run either way: by the
/// even-odd rule, or else by the non-zero rule with the direction of each outline as it is.
pub fn filled_outlines(outlines: &[Ring], even_odd: bool) -> Region {
    let contours: Vec<Contour> = outlines.iter().filter_map(contour_of).collect();
    if contours.is_empty() {
        return Region::empty();
    }
    let rule = if even_odd { FillRule::EvenOdd } else { FillRule::NonZero };
    let nothing: &[Contour] = &[];
    let mut overlay = FloatOverlay::<[f64; 2]>::from_subj_and_clip_custom(
        &contours[..],
        nothing,
        options(),
        Solver::default(),
    );
    region_from(overlay.overlay(OverlayRule::Subject, rule))
}

/// A region cut along lines: every piece apart. A line that does not lead through cuts nothing off.
pub fn cut_along(region: &Region, lines: &[Segment]) -> Vec<Shape> {
    let paths: Vec<Contour> =
        lines.iter().map(|line| vec![[line.a.x, line.a.y], [line.b.x, line.b.y]]).collect();
    let contours = contours_of(region);
    if contours.is_empty() {
        return Vec::new();
    }
    let pieces = contours.slice_custom_by(&paths, FillRule::NonZero, options(), Solver::default());
    region_from(pieces).shapes
}

/// What is inside `from` and not inside `taken`.
pub fn difference(from: &Region, taken: &Region) -> Region {
    overlay(&contours_of(from), &contours_of(taken), OverlayRule::Difference)
}

/// What is inside a ring and inside none of the others, whichever way each runs.
pub fn ring_without(ring: &Ring, taken: &[Ring]) -> Region {
    let subject: Vec<Contour> = contour_of(&ring.clone().anticlockwise()).into_iter().collect();
    let clip: Vec<Contour> =
        taken.iter().filter_map(|ring| contour_of(&ring.clone().anticlockwise())).collect();
    overlay(&subject, &clip, OverlayRule::Difference)
}

/// What is inside both.
pub fn intersection(a: &Region, b: &Region) -> Region {
    let (a, b) = (contours_of(a), contours_of(b));
    if a.is_empty() || b.is_empty() {
        return Region::empty();
    }
    overlay(&a, &b, OverlayRule::Intersect)
}

/// The region grown by `distance` millimetres all round, or shrunk where it is negative.
///
/// Corners become arcs with chords within 0.25 mm of the circle, though no step finer than 1.8°, so that
/// beyond a distance of 2 m the chords stand up to 0.013 % of the distance off it. A distance of 0 or one
/// that is not finite gives the region cleaned up but otherwise as it is.
pub fn buffer(region: &Region, distance: f64) -> Region {
    let contours = contours_of(region);
    if contours.is_empty() {
        return Region::empty();
    }
    if !distance.is_finite() || distance == 0.0 {
        return overlay(&contours, &[], OverlayRule::Subject);
    }
    let style = OutlineStyle::new(distance).line_join(LineJoin::Round(arc_step(distance.abs())));
    let contours = contours_of(&overlay(&contours, &[], OverlayRule::Subject));
    region_from(contours.outline_custom(&style, options()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Region {
        Region::from_rect(Rect::new(x0, y0, x1, y1))
    }

    fn near(found: f64, expected: f64) {
        assert!(
            (found - expected).abs() <= 1e-2 * expected.abs().sqrt().max(1.0),
            "{found} is not {expected}"
        );
    }

    #[test]
    fn a_ring_within_a_ring_is_a_hole_by_the_even_odd_rule() {
        let rings =
            [Ring::from_rect(Rect::new(0., 0., 10., 10.)), Ring::from_rect(Rect::new(2., 2., 4., 4.))];
        near(filled_outlines(&rings, true).area(), 96.0);
        near(filled_outlines(&rings, false).area(), 100.0);
        near(filled_outlines(&[rings[0].clone(), rings[1].reversed()], false).area(), 96.0);
        assert!(filled_outlines(&[], true).is_empty());
    }

    #[test]
    fn overlapping_squares() {
        let (a, b) = (rect(0., 0., 10000., 10000.), rect(5000., 5000., 15000., 15000.));
        near(union_of_regions(&[&a, &b]).area(), 175.0e6);
        near(intersection(&a, &b).area(), 25.0e6);
        near(difference(&a, &b).area(), 75.0e6);
        assert!(intersection(&a, &rect(20000., 0., 30000., 10.)).is_empty());
    }

    /// A strip of squares, each half over the next: as many half squares and one more.
    #[test]
    fn many_regions_unite_in_turns_to_the_same() {
        let squares: Vec<Region> = (0..197)
            .map(|step| f64::from(step * 89 % 197) * 500.0)
            .map(|x| rect(x, 0.0, x + 1000.0, 1000.0))
            .collect();
        let whole = union_of_regions(&squares.iter().collect::<Vec<_>>());
        assert_eq!(whole.shapes.len(), 1);
        near(whole.area(), 198.0 * 500.0 * 1000.0);
        let bad =
            Region::from_ring(Ring::new(vec![Point::new(f64::NAN, 0.0), Point::ZERO, Point::new(1.0, 1.0)]));
        let with_bad: Vec<&Region> = squares.iter().chain([&bad]).collect();
        near(union_of_regions(&with_bad).area(), whole.area());
    }

    #[test]
    fn orientation_in_does_not_matter_and_out_is_kept() {
        let big = Ring::from_rect(Rect::new(0., 0., 9000., 9000.));
        let overlapping = Ring::from_rect(Rect::new(1000., 1000., 12000., 2000.)).reversed();
        near(union_of_rings(&[big.clone(), overlapping]).area(), 84.0e6);
        let ring = difference(&Region::from_ring(big.reversed()), &rect(3000., 3000., 6000., 6000.));
        near(ring.area(), 72.0e6);
        assert_eq!((ring.shapes.len(), ring.shapes[0].holes.len()), (1, 1));
        assert!(ring.shapes[0].outer.signed_area() > 0.0 && ring.shapes[0].holes[0].signed_area() < 0.0);
        near(union_of_regions(&[&ring, &rect(3000., 3000., 6000., 6000.)]).area(), 81.0e6);
    }

    #[test]
    fn corners_keep_a_hundredth_of_a_millimetre_within_a_hundred_metres() {
        let (a, b) = (rect(-50000.0, -50000.0, 12345.678, 50000.0), rect(-0.37, 1.23, 50000.0, 44444.444));
        let bounds = intersection(&a, &b).bounds().expect("overlap");
        let expected = Rect::new(-0.37, 1.23, 12345.678, 44444.444);
        for (found, wanted) in [
            (bounds.x0, expected.x0),
            (bounds.y0, expected.y0),
            (bounds.x1, expected.x1),
            (bounds.y1, expected.y1),
        ] {
            assert!((found - wanted).abs() < 0.001, "{found} {wanted}");
        }
    }

    #[test]
    fn growing_and_shrinking() {
        let square = rect(0., 0., 4000., 4000.);
        let grown = buffer(&square, 500.0);
        let exact = 16.0e6 + 4.0 * 4000.0 * 500.0 + std::f64::consts::PI * 250_000.0;
        assert!((grown.area() - exact).abs() < 3000.0, "{} {exact}", grown.area());
        near(buffer(&square, -500.0).area(), 9.0e6);
        assert!(buffer(&square, -2500.0).is_empty());
        near(buffer(&square, 0.0).area(), 16.0e6);
        // Four rounded corners of 100 mm; their chords stand off by up to 0.25 mm over 628 mm.
        let hollow = difference(&square, &rect(1000., 1000., 3000., 3000.));
        let exact = 3800.0 * 3800.0 - (2200.0 * 2200.0 - (4.0 - std::f64::consts::PI) * 1.0e4);
        assert!((buffer(&hollow, -100.0).area() - exact).abs() < 160.0);
    }

    #[test]
    fn nonsense_is_ignored() {
        let bad = Ring::new(vec![Point::new(f64::NAN, 0.0), Point::new(1.0, 0.0), Point::new(1.0, 1.0)]);
        assert!(union_of_rings(&[bad, Ring::default()]).is_empty());
        assert!(union_of_rings(&[]).is_empty());
        assert!(buffer(&Region::empty(), 5.0).is_empty());
    }
}
