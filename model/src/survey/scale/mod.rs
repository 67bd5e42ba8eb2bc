//! The scale of a drawing: how many millimetres of the house one unit of it is.
//!
//! A scale is stated (1:50), measured between two picked points, or read off a printed dimension or a scale bar.
//! Prints are stretched and drawings are mislabelled, so a second length should check the first: [`Scale::check`]
//! says in a sentence how far they differ.

mod bar;
mod dimension;
mod lines;
mod statement;

use kurbo::Point;

use crate::plan::ScaleFrom;
use crate::units::Length;

pub use bar::{ScaleBar, scale_bar_at};
pub use dimension::{PrintedDimension, dimension_at, printed_length};
pub use statement::{StatedScale, stated_scales};

/// The smallest and the largest scale that is taken, 1 to so many. Details are drawn larger than life, town maps to
/// a hundred thousand; what lies beyond is a slip.
const DENOMINATORS: std::ops::RangeInclusive<f64> = 0.1..=100_000.0;

/// Picked points nearer to each other than this have no direction and no length, units of the drawing.
const SHORTEST_PICK: f64 = 1e-6;

/// How many millimetres of the house one unit of a drawing is, and how that is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// Millimetres of the house to one unit of the drawing (a pixel, or a millimetre of paper).
    pub mm_per_unit: f64,
    /// What it was taken from.
    pub from: ScaleFrom,
}

impl Scale {
    /// The scale of a page in millimetres of paper of which someone says that it is drawn at 1 to `denominator`.
    ///
    /// # Errors
    /// A sentence, where it is no scale.
    pub fn told(denominator: f64) -> Result<Self, String> {
        if !DENOMINATORS.contains(&denominator) {
            return Err(format!("1:{denominator} is no scale of a plan: type 50 for 1:50"));
        }
        Ok(Self { mm_per_unit: denominator, from: ScaleFrom::Told(denominator) })
    }

    /// The scale of a page that states it.
    pub fn of_statement(stated: &StatedScale) -> Self {
        Self { mm_per_unit: stated.mm_per_unit, from: ScaleFrom::Statement(stated.text.clone()) }
    }

    /// The scale of the paper's scan with so many pixels to an inch of it.
    pub fn of_a_scan(self, px_per_inch: f64) -> Self {
        Self { mm_per_unit: self.mm_per_unit * 25.4 / px_per_inch, ..self }
    }

    /// The scale at which two points of the drawing (its own units) lie `length` apart in the house.
    ///
    /// # Errors
    /// A sentence, where the points are one and the same, or the length is not above zero.
    pub fn between(first: Point, second: Point, length: Length) -> Result<Self, String> {
        let mm_per_unit = ratio(first, second, length)?;
        Ok(Self { mm_per_unit, from: ScaleFrom::TwoPoints(length) })
    }

    /// The scale at which a printed dimension is true.
    ///
    /// # Errors
    /// A sentence, where its line has no length.
    pub fn of_dimension(dimension: &PrintedDimension) -> Result<Self, String> {
        let mm_per_unit = ratio(dimension.line[0], dimension.line[1], dimension.length)?;
        Ok(Self { mm_per_unit, from: ScaleFrom::PrintedDimension(dimension.text.clone()) })
    }

    /// The scale at which a scale bar is true.
    ///
    /// # Errors
    /// A sentence, where it has no length.
    pub fn of_bar(bar: &ScaleBar) -> Result<Self, String> {
        let mm_per_unit = ratio(bar.line[0], bar.line[1], bar.length)?;
        Ok(Self { mm_per_unit, from: ScaleFrom::ScaleBar(bar.text.clone()) })
    }
}

fn ratio(first: Point, second: Point, length: Length) -> Result<f64, String> {
    let apart = (second - first).hypot();
    if !apart.is_finite() || apart < SHORTEST_PICK {
        return Err("the two points are the same: pick two points that lie apart".to_owned());
    }
    let above_zero = length.as_mm() > 0.0;
    if !above_zero {
        return Err("the length between the two points must be above zero".to_owned());
    }
    let ratio = length.as_mm() / apart;
    if !ratio.is_finite() || ratio <= 0.0 {
        return Err("the length between the two points is out of bounds".to_owned());
    }
    Ok(ratio)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_that_was_told_is_its_denominator() {
        for (denominator, taken) in [
            (50.0, true),
            (100.0, true),
            (1250.0, true),
            (0.5, true),
            (0.0, false),
            (-50.0, false),
            (1e6, false),
            (f64::NAN, false),
            (f64::INFINITY, false),
        ] {
            let scale = Scale::told(denominator);
            assert_eq!(scale.as_ref().map(|scale| scale.mm_per_unit).ok(), taken.then_some(denominator));
            if let Err(sentence) = scale {
                assert!(sentence.contains("type 50 for 1:50"), "{sentence}");
            }
        }
    }

    #[test]
    fn two_points_and_a_length_scale_and_slips_are_refused() {
        let at = Point::new;
        let scale = Scale::between(at(10.0, 10.0), at(40.0, 50.0), Length::m(2.5)).unwrap();
        assert_eq!(scale.mm_per_unit, 50.0);
        assert_eq!(scale.from.words(), "from two points 2500 mm apart");
        for (second, length) in [
            (at(10.0, 10.0), 2500.0),
            (at(40.0, 50.0), 0.0),
            (at(40.0, 50.0), -3.0),
            (at(40.0, 50.0), f64::NAN),
            (at(f64::NAN, 50.0), 2500.0),
        ] {
            assert!(Scale::between(at(10.0, 10.0), second, Length::mm(length)).is_err(), "{second} {length}");
        }
    }
}
