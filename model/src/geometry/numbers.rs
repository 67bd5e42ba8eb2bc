//! Small exact and angular helpers shared by the other files.

use kurbo::{Point, Vec2};

/// Step of the coordinate grid used by the visibility code: 2⁻²⁴ mm, about 0.06 µm.
pub const GRID_STEP: f64 = 1.0 / 16_777_216.0;

/// Largest coordinate, in millimetres either side of zero, the visibility code accepts: 100 km.
///
/// Below it the difference of two grid coordinates is exact in an `f64` (28 + 24 bits and a sign).
pub const LARGEST_COORDINATE: f64 = 1.0e8;

/// The nearest point of the 2⁻²⁴ mm grid. Moves a coordinate by at most 0.03 µm.
pub fn snap_to_grid(point: Point) -> Point {
    // Adding zero turns a negative zero into a positive one.
    let snap = |value: f64| (value * 16_777_216.0).round() * GRID_STEP + 0.0;
    Point::new(snap(point.x), snap(point.y))
}

/// Product and its rounding error: `a * b` is exactly `.0 + .1`.
///
/// T. J. Dekker, "A floating-point technique for extending the available precision", 1971, in its
/// fused-multiply-add form. Exact unless a product underflows.
fn exact_product(a: f64, b: f64) -> (f64, f64) {
    let product = a * b;
    (product, a.mul_add(b, -product))
}

/// Cross product `a × b`, with the sign certain.
///
/// The value carries an ordinary rounding error, yet it is positive, negative or zero exactly when the true
/// cross product of the two given vectors is. A quick test with the error bound of J. R. Shewchuk,
/// "Adaptive precision floating-point arithmetic and fast robust geometric predicates", 1997, settles
/// nearly every case; the remainder is summed from the exact products.
/// Degenerate cases: parallel vectors and zero vectors give exactly 0. NaN gives NaN.
#[inline]
pub fn cross_with_certain_sign(a: Vec2, b: Vec2) -> f64 {
    let left = a.x * b.y;
    let right = a.y * b.x;
    let difference = left - right;
    if difference.abs() > 4.0e-16 * (left.abs() + right.abs()) {
        return difference;
    }
    cross_from_exact_products(a, b)
}

#[cold]
fn cross_from_exact_products(a: Vec2, b: Vec2) -> f64 {
    let (left, left_error) = exact_product(a.x, b.y);
    let (right, right_error) = exact_product(a.y, b.x);
    // The two products are within a few parts in 10¹⁶, or both zero, so this difference is exact, and the
    // errors differ by at most about one unit in the last place of the products.
    (left - right) + (left_error - right_error)
}

/// The angle brought into −π < angle ≤ π. Non-finite input comes back as it is.
pub fn wrap_angle(angle: f64) -> f64 {
    let turn = std::f64::consts::TAU;
    let wrapped = angle.rem_euclid(turn);
    if wrapped > std::f64::consts::PI { wrapped - turn } else { wrapped }
}

/// Unit vector at an angle in radians, anticlockwise from the x axis.
///
/// Multiples of a quarter turn come out exact, so that fans and walls along the axes agree to the last bit.
pub fn unit_vector(angle: f64) -> Vec2 {
    let (sine, cosine) = angle.sin_cos();
    let tidy = |value: f64| if value.abs() < 1.0e-15 { 0.0 } else { value };
    Vec2::new(tidy(cosine), tidy(sine))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn angles_wrap() {
        assert_eq!(wrap_angle(0.5), 0.5);
        assert!((wrap_angle(3.0 * std::f64::consts::PI) - std::f64::consts::PI).abs() < 1e-12);
        assert!((wrap_angle(-0.5) + 0.5).abs() < 1e-12);
    }

    #[test]
    fn quarter_turns_are_exact() {
        assert_eq!(unit_vector(std::f64::consts::FRAC_PI_2), Vec2::new(0.0, 1.0));
        assert_eq!(unit_vector(std::f64::consts::PI), Vec2::new(-1.0, 0.0));
    }

    proptest! {
        /// Against whole-number arithmetic, close to parallel on purpose.
        #[test]
        fn the_sign_is_that_of_whole_number_arithmetic(
            ax in -(1i64 << 52)..(1i64 << 52), ay in -(1i64 << 52)..(1i64 << 52),
            dx in -1i64..=1, dy in -1i64..=1,
        ) {
            let (bx, by) = (ax + dx, ay + dy);
            let exact = ax as i128 * by as i128 - ay as i128 * bx as i128;
            let found = cross_with_certain_sign(
                Vec2::new(ax as f64, ay as f64), Vec2::new(bx as f64, by as f64));
            let sign = if found > 0.0 { 1 } else if found < 0.0 { -1 } else { 0 };
            prop_assert_eq!(sign, exact.signum());
        }
    }
}
