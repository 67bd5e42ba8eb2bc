//! Circular fans as polygons.

use kurbo::{Point, Vec2};

use super::numbers::unit_vector;
use super::polygon::Ring;

/// Farthest a flattened arc lies from its circle, millimetres.
pub const ARC_TOLERANCE: f64 = 0.25;

/// Smallest angle step: a bound for circles beyond 50 km radius.
const SMALLEST_STEP: f64 = 1.0e-4;

/// The angle between corners of a flattened arc of this radius, radians.
///
/// A chord over the angle s stands off the circle by r (1 − cos s/2); this step makes that
/// [`ARC_TOLERANCE`], and is never more than an eighth of a turn. Corners lie on the circle, so a flattened
/// area is less than the true one, by a relative 0.25 mm × 4/3 / r at most.
/// Beyond a radius of 50 km the tolerance is no longer kept, to bound the number of corners.
pub fn arc_step(radius: f64) -> f64 {
    let largest = std::f64::consts::FRAC_PI_4;
    if radius.is_nan() || radius <= ARC_TOLERANCE {
        return largest;
    }
    // 2 acos(1 - x), written so as not to lose digits for small x.
    let half = 2.0 * (ARC_TOLERANCE / (2.0 * radius)).sqrt().asin();
    (2.0 * half).clamp(SMALLEST_STEP, largest)
}

/// Corners along an arc about `centre`, both ends included, anticlockwise for a positive `sweep` (radians).
/// Empty for non-finite input or a radius that is not positive.
pub fn arc_points(centre: Point, radius: f64, start: f64, sweep: f64) -> Vec<Point> {
    if !(centre.is_finite() && radius.is_finite() && start.is_finite() && sweep.is_finite() && radius > 0.0) {
        return Vec::new();
    }
    let steps = (sweep.abs() / arc_step(radius)).ceil().max(1.0);
    (0..=steps as usize)
        .map(|step| centre + unit_vector(start + sweep * step as f64 / steps) * radius)
        .collect()
}

/// The fan of a circle: centre, then the arc. A width of a full turn or more gives the circle without its
/// centre.
///
/// `facing` is the middle direction and `width` the whole opening, radians; `radius` millimetres. Empty for
/// non-finite input and for a width or radius that is not positive.
pub fn fan(centre: Point, facing: f64, width: f64, radius: f64) -> Ring {
    if width.is_nan() || width <= 0.0 {
        return Ring::default();
    }
    let full = width >= std::f64::consts::TAU;
    let width = width.min(std::f64::consts::TAU);
    let mut points = arc_points(centre, radius, facing - width / 2.0, width);
    if points.is_empty() {
        return Ring::default();
    }
    if full {
        points.pop();
    } else {
        points.insert(0, centre);
    }
    Ring::new(points)
}

/// The part of a fan between two radii, `inner` < `outer`, millimetres, less than a full turn wide.
///
/// An `inner` of 0 or less gives the plain fan; empty as for [`fan`], also when the radii are the wrong way
/// round. A full turn has a hole and so is no ring: it gives the outer circle joined to the inner by a slit.
pub fn fan_between(centre: Point, facing: f64, width: f64, inner: f64, outer: f64) -> Ring {
    if inner.is_nan() || inner <= 0.0 {
        return fan(centre, facing, width, outer);
    }
    if !(width > 0.0 && outer > inner) {
        return Ring::default();
    }
    let width = width.min(std::f64::consts::TAU);
    let mut points = arc_points(centre, outer, facing - width / 2.0, width);
    points.extend(arc_points(centre, inner, facing + width / 2.0, -width));
    Ring::new(points)
}

/// Whether a direction (of any length) lies within a fan, edges included. No direction lies in a fan of
/// negative or undefined width.
pub fn fan_contains_direction(facing: f64, width: f64, direction: Vec2) -> bool {
    if width >= std::f64::consts::TAU {
        return true;
    }
    let middle = unit_vector(facing);
    let off = middle.cross(direction).atan2(middle.dot(direction)).abs();
    off <= width / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI, TAU};

    #[test]
    fn a_quarter_fan_has_a_quarter_of_the_area() {
        let quarter = fan(Point::new(7.0, 9.0), 1.0, FRAC_PI_2, 5000.0);
        let exact = PI * 5000.0f64.powi(2) / 4.0;
        assert!(quarter.signed_area() <= exact);
        assert!((exact - quarter.signed_area()) / exact < 0.25 * 4.0 / 3.0 / 5000.0);
        assert_eq!(quarter.points()[0], Point::new(7.0, 9.0));
    }

    #[test]
    fn chords_keep_the_tolerance() {
        for radius in [1.0, 10.0, 3000.0, 25000.0] {
            let sagitta = radius * (1.0 - (arc_step(radius) / 2.0).cos());
            assert!(sagitta <= ARC_TOLERANCE * 1.000001, "{radius}: {sagitta}");
        }
    }

    #[test]
    fn a_ring_segment() {
        let piece = fan_between(Point::ZERO, 0.0, PI, 1000.0, 2000.0);
        let exact = PI * 3.0e6 / 2.0;
        assert!((piece.signed_area() - exact).abs() / exact < 1e-3);
        assert!(piece.contains(Point::new(1500.0, 0.0)) && !piece.contains(Point::new(500.0, 0.0)));
    }

    #[test]
    fn bad_fans_are_empty() {
        assert!(fan(Point::ZERO, 0.0, 0.0, 10.0).is_empty());
        assert!(fan(Point::ZERO, f64::NAN, 1.0, 10.0).is_empty());
        assert!(fan(Point::ZERO, 0.0, 1.0, -1.0).is_empty());
        assert!(fan_between(Point::ZERO, 0.0, 1.0, 5.0, 4.0).is_empty());
        assert_eq!(fan(Point::ZERO, 0.0, TAU, 0.2).len(), 8);
    }

    #[test]
    fn directions_in_a_fan() {
        assert!(fan_contains_direction(PI, 1.0, Vec2::new(-5.0, 1.0)));
        assert!(!fan_contains_direction(PI, 1.0, Vec2::new(5.0, 1.0)));
    }
}
