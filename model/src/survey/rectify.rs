//! A photograph of a drawing made square again by four corners of a rectangle of known size.
//!
//! A camera that looks at a flat sheet maps it by a homography, which the four corners decide. From it the
//! photograph is drawn anew as if seen squarely from above, to a scale of our choice, so that what follows may
//! measure it like a scan. Method: direct linear transformation with normalised coordinates (Hartley and
//! Zisserman, *Multiple View Geometry in Computer Vision*, 2nd edition, 4.1 and 4.4).

use kurbo::{Affine, Point, Rect, Vec2};

/// The most pixels a rectified picture may have; a finer scale is made coarser until it fits.
pub const MOST_PIXELS_RECTIFIED: f64 = 40.0e6;

/// How far beyond the known rectangle the rectified picture may reach, in widths or depths of it on each side.
/// Further out a photograph shows the sheet too slantingly to measure.
const REACH_BEYOND: f64 = 4.0;

/// Corners less than this share of the whole figure off a straight line count as lying on it.
const LEAST_CORNER_AREA: f64 = 1e-3;

/// A map between two pictures of the same flat sheet: here from pixels of a photograph to millimetres of the
/// known rectangle, x right and y down from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography {
    rows: [[f64; 3]; 3],
}

impl Homography {
    /// The map that takes four corners seen in a photograph (pixels, y down) to a rectangle of the given size,
    /// mm. Order: upper left, upper right, lower right, lower left of the rectangle, as it is to be read.
    ///
    /// # Errors
    /// A sentence, where the corners cannot be those of a rectangle seen from one side or the size is not above
    /// zero.
    pub fn from_corners(corners: [Point; 4], width_mm: f64, depth_mm: f64) -> Result<Self, String> {
        let usable = |length: f64| length.is_finite() && length > 1e-6 && length < 1e9;
        if !usable(width_mm) || !usable(depth_mm) {
            return Err("the width and the depth of the rectangle must be above zero".to_owned());
        }
        check_corners(&corners)?;
        let square = [Point::ORIGIN, Point::new(1.0, 0.0), Point::new(1.0, 1.0), Point::new(0.0, 1.0)];
        let near_unit = normalising(&corners);
        let seen = corners.map(|corner| near_unit * corner);
        let map = solved(&seen, &square).ok_or_else(|| {
            "the four corners do not fit a rectangle: pick them again, well apart".to_owned()
        })?;
        let sized = rows_of(Affine::scale_non_uniform(width_mm, depth_mm));
        Ok(Self { rows: scaled_to_one(product(&sized, &product(&map, &rows_of(near_unit)))) })
    }

    /// Where a point lands; `None` on or beyond the horizon, where it has no place.
    pub fn apply(&self, point: Point) -> Option<Point> {
        let [across, down, depth] = self.rows.map(|row| row[0] * point.x + row[1] * point.y + row[2]);
        let place = Point::new(across / depth, down / depth);
        (depth > 1e-9 && place.is_finite()).then_some(place)
    }

    /// The map the other way round; `None` where it has none.
    pub fn inverse(&self) -> Option<Self> {
        let [[a, b, c], [d, e, f], [g, h, i]] = self.rows;
        let adjugate = [
            [e * i - f * h, c * h - b * i, b * f - c * e],
            [f * g - d * i, a * i - c * g, c * d - a * f],
            [d * h - e * g, b * g - a * h, a * e - b * d],
        ];
        let determinant = a * adjugate[0][0] + b * adjugate[1][0] + c * adjugate[2][0];
        let rows = adjugate.map(|row| row.map(|value| value / determinant));
        rows.iter().flatten().all(|value| value.is_finite()).then_some(Self { rows })
    }
}

/// Four corners in order round a figure without dents, clockwise as seen.
fn check_corners(corners: &[Point; 4]) -> Result<(), String> {
    if corners.iter().any(|corner| !corner.is_finite() || corner.to_vec2().hypot() > 1e9) {
        return Err("a corner lies nowhere: pick the four corners again".to_owned());
    }
    let turn_at = |index: usize| {
        let [before, here, after] = [corners[(index + 3) % 4], corners[index], corners[(index + 1) % 4]];
        (here - before).cross(after - here)
    };
    let turns = [turn_at(0), turn_at(1), turn_at(2), turn_at(3)];
    let whole = turns.iter().map(|turn| turn.abs()).sum::<f64>();
    if whole <= 1e-9 || turns.iter().any(|turn| turn.abs() < LEAST_CORNER_AREA * whole) {
        return Err("three of the corners lie on one line: pick the four corners of the rectangle".to_owned());
    }
    if turns.iter().all(|turn| *turn > 0.0) {
        return Ok(());
    }
    Err(if turns.iter().all(|turn| *turn < 0.0) {
        "the corners go round the wrong way: pick upper left, upper right, lower right, lower left".to_owned()
    } else {
        "the corners cross over: pick them in turn round the rectangle".to_owned()
    })
}

/// Moves points about the origin and scales them to an average distance of √2 from it.
fn normalising(points: &[Point; 4]) -> Affine {
    let centre = points.iter().fold(Vec2::ZERO, |sum, point| sum + point.to_vec2()) / 4.0;
    let spread = points.iter().map(|point| (point.to_vec2() - centre).hypot()).sum::<f64>() / 4.0;
    Affine::scale(std::f64::consts::SQRT_2 / spread) * Affine::translate(-centre)
}

fn rows_of(affine: Affine) -> [[f64; 3]; 3] {
    let [a, b, c, d, e, f] = affine.as_coeffs();
    [[a, c, e], [b, d, f], [0.0, 0.0, 1.0]]
}

fn product(left: &[[f64; 3]; 3], right: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
    left.map(|row| [0, 1, 2].map(|column| (0..3).map(|k| row[k] * right[k][column]).sum()))
}

/// Scaled so that the corners lie on the positive side (depth above zero) and the last figure is near 1.
fn scaled_to_one(rows: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let largest = rows[2].iter().fold(0.0_f64, |most, value| most.max(value.abs()));
    if largest > 0.0 && rows[2][2].abs() > 1e-12 {
        rows.map(|row| row.map(|value| value / rows[2][2].abs()))
    } else {
        rows
    }
}

/// Eight equations for the eight unknowns of a homography whose last figure is 1 where the centre of the
/// normalised points lies.
fn solved(from: &[Point; 4], to: &[Point; 4]) -> Option<[[f64; 3]; 3]> {
    let mut equations = [[0.0; 9]; 8];
    for (index, (seen, known)) in from.iter().zip(to).enumerate() {
        let (x, y, u, v) = (seen.x, seen.y, known.x, known.y);
        equations[2 * index] = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, u];
        equations[2 * index + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, v];
    }
    let h = eliminated(equations)?;
    Some([[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6], h[7], 1.0]])
}

/// Gaussian elimination with row pivots.
fn eliminated(mut equations: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for column in 0..8 {
        let pivot = (column..8)
            .max_by(|a, b| equations[*a][column].abs().total_cmp(&equations[*b][column].abs()))
            .filter(|row| equations[*row][column].abs() > 1e-12)?;
        equations.swap(column, pivot);
        let own = equations[column];
        for (row, equation) in equations.iter_mut().enumerate() {
            if row != column {
                let factor = equation[column] / own[column];
                equation.iter_mut().zip(own).for_each(|(value, above)| *value -= factor * above);
            }
        }
    }
    let mut unknowns = [0.0; 8];
    for (index, unknown) in unknowns.iter_mut().enumerate() {
        *unknown = equations[index][8] / equations[index][index];
    }
    unknowns.iter().all(|value| value.is_finite()).then_some(unknowns)
}

/// Samples of a picture, row by row from the top, one or more bytes to a pixel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Samples {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Bytes to a pixel: 1 for grey, 3 for red, green and blue.
    pub channels: usize,
    /// The bytes.
    pub bytes: Vec<u8>,
}

/// A photograph drawn anew, squarely.
#[derive(Clone, Debug, PartialEq)]
pub struct Rectified {
    /// The picture; what the photograph did not show is white.
    pub samples: Samples,
    /// Pixels to a millimetre of the known rectangle: what was asked, or less where that would be too large.
    pub px_per_mm: f64,
    /// Where the upper left corner of the known rectangle lies in it, pixels.
    pub corner: Point,
}

/// The whole useful area of a photograph, as if seen squarely, `px_per_mm` pixels to a millimetre.
///
/// `mm_from_photograph` takes pixels of the photograph to millimetres of the known rectangle of the given size.
///
/// # Errors
/// A sentence, where the samples do not fit their size or nothing of the photograph can be seen squarely.
pub fn rectified(
    photograph: &Samples,
    mm_from_photograph: &Homography,
    known_size_mm: (f64, f64),
    px_per_mm: f64,
) -> Result<Rectified, String> {
    let fits =
        photograph.width.checked_mul(photograph.height).and_then(|n| n.checked_mul(photograph.channels));
    if fits != Some(photograph.bytes.len()) || photograph.bytes.is_empty() {
        return Err("the photograph holds no pixels".to_owned());
    }
    let unusable = || "the photograph cannot be seen squarely: pick the four corners again".to_owned();
    let photograph_from_mm = mm_from_photograph.inverse().ok_or_else(unusable)?;
    let area = useful_area(photograph, mm_from_photograph, known_size_mm).ok_or_else(unusable)?;
    if !(px_per_mm.is_finite() && px_per_mm > 0.0) {
        return Err("the scale of the picture must be above zero".to_owned());
    }
    let px_per_mm = fitting_scale(area, px_per_mm);
    let width = (area.width() * px_per_mm).ceil().max(1.0) as usize;
    let height = (area.height() * px_per_mm).ceil().max(1.0) as usize;
    let channels = photograph.channels;
    let mut bytes = vec![u8::MAX; width * height * channels];
    for (y, row) in bytes.chunks_exact_mut(width * channels).enumerate() {
        for (x, pixel) in row.chunks_exact_mut(channels).enumerate() {
            let place = area.origin() + Vec2::new(x as f64 + 0.5, y as f64 + 0.5) / px_per_mm;
            if let Some(seen) = photograph_from_mm.apply(place) {
                blend(photograph, seen - Vec2::new(0.5, 0.5), pixel);
            }
        }
    }
    let corner = (-area.origin().to_vec2() * px_per_mm).to_point();
    Ok(Rectified { samples: Samples { width, height, channels, bytes }, px_per_mm, corner })
}

/// The scale asked for, or the finest at which the picture has no more than [`MOST_PIXELS_RECTIFIED`].
fn fitting_scale(area: Rect, px_per_mm: f64) -> f64 {
    px_per_mm.min((MOST_PIXELS_RECTIFIED / area.area()).sqrt())
}

/// The box round all of the photograph that can be seen squarely, mm: what lies before the horizon and not too
/// far from the known rectangle.
fn useful_area(photograph: &Samples, map: &Homography, (width, depth): (f64, f64)) -> Option<Rect> {
    let furthest = Rect::new(0.0, 0.0, width, depth).inflate(width * REACH_BEYOND, depth * REACH_BEYOND);
    let (right, bottom) = (photograph.width as f64, photograph.height as f64);
    let steps = 64;
    let mut area: Option<Rect> = None;
    for column in 0..=steps {
        for row in 0..=steps {
            let share = |step: i32| f64::from(step) / f64::from(steps);
            let seen = Point::new(share(column) * right, share(row) * bottom);
            let Some(place) = map.apply(seen).filter(|place| furthest.contains(*place)) else { continue };
            area = Some(area.map_or(Rect::from_points(place, place), |rect| rect.union_pt(place)));
        }
    }
    area.filter(|rect| rect.area() > 0.0 && rect.area().is_finite())
}

/// The four pixels round a place, each by its share; nothing where it lies outside.
fn blend(from: &Samples, at: Point, pixel: &mut [u8]) {
    let (last_x, last_y) = ((from.width - 1) as f64, (from.height - 1) as f64);
    if at.x < -0.5 || at.y < -0.5 || at.x > last_x + 0.5 || at.y > last_y + 0.5 {
        return;
    }
    let (x, y) = (at.x.clamp(0.0, last_x), at.y.clamp(0.0, last_y));
    let (left, top) = (x as usize, y as usize);
    let (right, bottom) = ((left + 1).min(from.width - 1), (top + 1).min(from.height - 1));
    let (across, down) = (x - left as f64, y - top as f64);
    for (channel, value) in pixel.iter_mut().enumerate() {
        let sample =
            |x: usize, y: usize| f64::from(from.bytes[(y * from.width + x) * from.channels + channel]);
        let upper = sample(left, top) * (1.0 - across) + sample(right, top) * across;
        let lower = sample(left, bottom) * (1.0 - across) + sample(right, bottom) * across;
        *value = (upper * (1.0 - down) + lower * down).round() as u8;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Solved with an independent program for linear algebra (numpy.linalg.solve on the eight equations, without
    /// normalising).
    #[test]
    fn agrees_with_an_independent_solution() {
        let corners = [(141.0, 131.0), (480.0, 159.0), (493.0, 630.0), (64.0, 601.0)].map(Point::from);
        let map = Homography::from_corners(corners, 297.0, 420.0).unwrap();
        let centre = map.apply(Point::new(300.0, 380.0)).unwrap();
        assert!((centre - Point::new(INDEPENDENT_X, INDEPENDENT_Y)).hypot() < 1e-6, "{centre:?}");
    }

    const INDEPENDENT_X: f64 = 151.805_260_701_119_72;
    const INDEPENDENT_Y: f64 = 233.924_954_556_490_4;

    #[test]
    fn corners_that_are_no_rectangle_are_refused_with_a_reason() {
        let good = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(Point::from);
        let cases: [([Point; 4], &str); 4] = [
            ([good[0], good[2], good[1], good[3]], "cross over"),
            ([good[0], good[3], good[2], good[1]], "wrong way"),
            ([good[0], Point::new(5.0, 0.0), good[1], good[3]], "on one line"),
            ([good[0], good[1], good[2], Point::new(f64::NAN, 1.0)], "nowhere"),
        ];
        for (corners, reason) in cases {
            let refused = Homography::from_corners(corners, 100.0, 100.0).unwrap_err();
            assert!(refused.contains(reason), "{refused}");
        }
        assert!(Homography::from_corners(good, 0.0, 100.0).unwrap_err().contains("above zero"));
        assert!(Homography::from_corners(good, 100.0, f64::INFINITY).is_err());
    }

    #[test]
    fn a_slanting_photograph_comes_out_square_and_to_scale() {
        let corners = [(30.0, 20.0), (170.0, 35.0), (190.0, 180.0), (12.0, 160.0)].map(Point::from);
        let map = Homography::from_corners(corners, 100.0, 80.0).unwrap();
        let mut luma = vec![200; 200 * 200];
        for (index, value) in luma.iter_mut().enumerate() {
            let seen = Point::new((index % 200) as f64 + 0.5, (index / 200) as f64 + 0.5);
            let place = map.apply(seen).unwrap_or(Point::new(-9.0, -9.0));
            // The left half of the rectangle is black.
            if (0.0..50.0).contains(&place.x) && (0.0..80.0).contains(&place.y) {
                *value = 0;
            }
        }
        let photograph = Samples { width: 200, height: 200, channels: 1, bytes: luma };
        let Rectified { samples, px_per_mm, corner } =
            rectified(&photograph, &map, (100.0, 80.0), 2.0).unwrap();
        assert_eq!(px_per_mm, 2.0);
        let at = |x: f64, y: f64| {
            samples.bytes[(corner.y + y * 2.0) as usize * samples.width + (corner.x + x * 2.0) as usize]
        };
        for y in [5.0, 40.0, 75.0] {
            assert_eq!((at(2.0, y), at(48.0, y), at(52.0, y), at(98.0, y)), (0, 0, 200, 200), "at depth {y}");
        }
        assert_eq!(samples.bytes[0], 255, "what the photograph did not show is white");
    }

    #[test]
    fn a_scale_too_fine_is_made_coarser() {
        let corners = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(Point::from);
        let map = Homography::from_corners(corners, 1000.0, 1000.0).unwrap();
        let photograph = Samples { width: 10, height: 10, channels: 3, bytes: vec![7; 300] };
        let area = Rect::new(-500.0, 0.0, 1500.0, 1000.0);
        let scale = fitting_scale(area, 1e6);
        assert!((area.area() * scale * scale - MOST_PIXELS_RECTIFIED).abs() < 1.0);
        assert_eq!(fitting_scale(area, 0.5), 0.5);
        assert!(rectified(&photograph, &map, (1000.0, 1000.0), 0.05).is_ok());
        assert!(rectified(&photograph, &map, (1000.0, 1000.0), f64::NAN).is_err());
    }

    proptest! {
        #[test]
        fn corners_land_on_the_rectangle_and_come_back(
            shifts in prop::array::uniform8(-0.3..0.3_f64), size in 10.0..4000.0_f64,
            width in 10.0..20_000.0_f64, depth in 10.0..20_000.0_f64,
        ) {
            let around = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
            let mut corners = [Point::ORIGIN; 4];
            for (index, (x, y)) in around.into_iter().enumerate() {
                corners[index] = Point::new((x + shifts[2 * index]) * size, (y + shifts[2 * index + 1]) * size);
            }
            let Ok(map) = Homography::from_corners(corners, width, depth) else { return Ok(()) };
            let inverse = map.inverse().unwrap();
            for (corner, (x, y)) in corners.into_iter().zip(around) {
                let known = Point::new(x * width, y * depth);
                let landed = map.apply(corner).unwrap();
                prop_assert!((landed - known).hypot() < 1e-6, "{landed:?} {known:?}");
                prop_assert!((inverse.apply(known).unwrap() - corner).hypot() < 1e-6 * size);
            }
        }

        #[test]
        fn no_corners_make_it_panic(values in prop::array::uniform8(prop::num::f64::ANY), width: f64) {
            let corners = [0, 1, 2, 3].map(|i| Point::new(values[2 * i], values[2 * i + 1]));
            if let Ok(map) = Homography::from_corners(corners, width, 100.0) {
                let _ = map.inverse().and_then(|inverse| inverse.apply(Point::new(1.0, 1.0)));
            }
        }
    }
}
