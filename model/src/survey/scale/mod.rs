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

use crate::units::Length;

pub use bar::{ScaleBar, scale_bar_at};
pub use dimension::{PrintedDimension, dimension_at, printed_length};
pub use statement::{StatedScale, stated_scales};

/// A second length that differs by no more than this share agrees: it is what picking two points on a screen and
/// rounding on the drawing come to (common practice, no published source).
const AGREES_WITHIN: f64 = 0.005;

/// The smallest and the largest scale that is taken, 1 to so many. Details are drawn larger than life, town maps to
/// a hundred thousand; what lies beyond is a slip.
const DENOMINATORS: std::ops::RangeInclusive<f64> = 0.1..=100_000.0;

/// Picked points nearer to each other than this have no direction and no length, units of the drawing.
const SHORTEST_PICK: f64 = 1e-6;

/// What a scale was taken from.
#[derive(Clone, Debug, PartialEq)]
pub enum ScaleFrom {
    /// The words of a statement, `1:50`.
    Statement(String),
    /// A length typed for two picked points.
    TwoPoints(Length),
    /// A dimension printed on the drawing, as it reads.
    PrintedDimension(String),
    /// A scale bar, with the number at its end.
    ScaleBar(String),
    /// The house itself, as a model in true lengths has it.
    TrueLengths,
}

/// How many millimetres of the house one unit of a drawing is, and how that is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// Millimetres of the house to one unit of the drawing (a pixel, or a millimetre of paper).
    pub mm_per_unit: f64,
    /// What it was taken from.
    pub from: ScaleFrom,
}

impl Scale {
    /// The scale of a page in millimetres of paper that is stated as 1 to `denominator`.
    ///
    /// # Errors
    /// A sentence, where it is no scale.
    pub fn stated(denominator: f64) -> Result<Self, String> {
        if !DENOMINATORS.contains(&denominator) {
            return Err(format!("1:{denominator} is no scale of a plan: type 50 for 1:50"));
        }
        Ok(Self { mm_per_unit: denominator, from: ScaleFrom::Statement(format!("1:{denominator}")) })
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

    /// What two points of the drawing measure at this scale.
    pub fn measured(&self, first: Point, second: Point) -> Length {
        Length::mm((second - first).hypot() * self.mm_per_unit)
    }

    /// Holds a second known length against this scale.
    ///
    /// # Errors
    /// A sentence, where the points are one and the same, or the length is not above zero.
    pub fn check(&self, first: Point, second: Point, known: Length) -> Result<Check, String> {
        ratio(first, second, known)?;
        Ok(Check { measured: self.measured(first, second), known })
    }

    /// How the scale is known, in words that follow “the scale is 50 mm to the unit, ”.
    pub fn words(&self) -> String {
        match &self.from {
            ScaleFrom::Statement(words) => format!("stated as {words}"),
            ScaleFrom::TwoPoints(length) => format!("from two points {length} mm apart"),
            ScaleFrom::PrintedDimension(text) => format!("from the printed dimension “{text}”"),
            ScaleFrom::ScaleBar(text) => format!("from the scale bar of {text}"),
            ScaleFrom::TrueLengths => "in true lengths".to_owned(),
        }
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

/// A second length beside what the drawing measures there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// What the drawing measures at its scale.
    pub measured: Length,
    /// What the length is known to be.
    pub known: Length,
}

impl Check {
    /// How much longer the drawing measures; negative where it measures less.
    pub fn difference(&self) -> Length {
        self.measured - self.known
    }

    /// The difference as a share of the known length.
    pub fn share(&self) -> f64 {
        self.difference().as_mm() / self.known.as_mm()
    }

    /// Whether the difference is no more than picking two points comes to.
    pub fn agrees(&self) -> bool {
        self.share().abs() <= AGREES_WITHIN
    }

    /// How far the second length differs, and what follows from it.
    pub fn sentence(&self) -> String {
        let (measured, known) = (self.measured, self.known);
        let off = self.difference().as_mm();
        let (off, share) = (format!("{:.0} mm", off.abs()), format!("{:.2} %", 100.0 * self.share().abs()));
        let longer = if self.difference().as_mm() < 0.0 { "shorter" } else { "longer" };
        let differs =
            format!("the drawing measures {measured} mm where {known} mm is known: {off} ({share}) {longer}");
        if self.agrees() {
            format!("The scale holds: {differs}.")
        } else {
            format!(
                "The scale does not hold: {differs}. Pick both lengths again, along and across; a print may be \
                 stretched or stated at another scale."
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stated_scale_is_its_denominator() {
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
            let scale = Scale::stated(denominator);
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
        assert_eq!(scale.words(), "from two points 2500 mm apart");
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

    #[test]
    fn a_second_length_says_in_a_sentence_how_far_it_is_off() {
        let scale = Scale::stated(50.0).unwrap();
        let at = Point::new;
        for (known, agrees, words) in [
            (
                5000.0,
                true,
                "holds: the drawing measures 5000 mm where 5000 mm is known: 0 mm (0.00 %) longer.",
            ),
            (4990.0, true, "10 mm (0.20 %) longer."),
            (
                5100.0,
                false,
                "does not hold: the drawing measures 5000 mm where 5100 mm is known: 100 mm (1.96 %) shorter.",
            ),
            (10000.0, false, "5000 mm (50.00 %) shorter."),
        ] {
            let check = scale.check(at(0.0, 0.0), at(0.0, 100.0), Length::mm(known)).unwrap();
            assert_eq!(check.agrees(), agrees, "{known}");
            assert!(check.sentence().contains(words), "{}", check.sentence());
        }
        assert!(scale.check(at(0.0, 0.0), at(0.0, 0.0), Length::m(1.0)).is_err());
    }
}
