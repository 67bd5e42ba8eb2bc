//! How the scale of a drawing was found, and what a second length said of it.
//!
//! Whoever comes back to a plan after years must know how far to trust its drawing: a scale typed from hearsay is
//! worth less than twelve metres measured on site. So both are kept with the drawing.

use kurbo::Point;

use crate::units::Length;

/// A second length that differs by no more than this share agrees: it is what picking two points on a screen and
/// rounding on the drawing come to (common practice, no published source).
const AGREES_WITHIN: f64 = 0.005;

/// What the scale of a drawing was taken from.
#[derive(Clone, Debug, PartialEq)]
pub enum ScaleFrom {
    /// The words on the page that state it, as they read.
    Statement(String),
    /// Whoever brought the drawing in said that it is drawn at 1 to so many.
    Told(f64),
    /// A length typed for two picked points.
    TwoPoints(Length),
    /// The mean of two such lengths.
    MeanOfTwo,
    /// A dimension printed on the drawing, as it reads.
    PrintedDimension(String),
    /// A scale bar, with the number at its end.
    ScaleBar(String),
    /// Four corners picked on a photograph, and how far apart they are.
    FourCorners {
        /// From the left ones to the right ones.
        width: Length,
        /// From the upper ones to the lower ones.
        depth: Length,
    },
    /// Two points that the drawing has in common with another storey.
    OtherStorey,
}

impl ScaleFrom {
    /// How the scale is known, in words that follow “scaled ”.
    pub fn words(&self) -> String {
        match self {
            Self::Statement(words) => format!("as the page states: “{words}”"),
            Self::Told(denominator) => format!("as told when it was brought in: 1:{denominator}"),
            Self::TwoPoints(length) => format!("from two points {length} mm apart"),
            Self::MeanOfTwo => "by the mean of two lengths".to_owned(),
            Self::PrintedDimension(text) => format!("from the printed dimension “{text}”"),
            Self::ScaleBar(text) => format!("from the scale bar of {text}"),
            Self::FourCorners { width, depth } => format!("from four corners {width} by {depth} mm apart"),
            Self::OtherStorey => "from two points in common with another storey".to_owned(),
        }
    }
}

/// A second known length beside what the drawing measures there at its scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondLength {
    /// What the drawing measures at its scale.
    pub measured: Length,
    /// What the length is known to be.
    pub known: Length,
}

impl SecondLength {
    /// What two points of a drawing, in its own units, measure at a scale, beside what they are known to be apart.
    pub fn on(mm_per_unit: f64, [first, second]: [Point; 2], known: Length) -> Self {
        Self { measured: Length::mm((second - first).hypot() * mm_per_unit).rounded(), known }
    }

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

    /// `3000 mm measures 3012 mm: 12 mm (0.40 %) longer`.
    pub fn in_short(&self) -> String {
        let (off, share) = (self.difference().as_mm(), 100.0 * self.share().abs());
        let longer = if off < 0.0 { "shorter" } else { "longer" };
        format!(
            "{} mm measures {} mm: {:.0} mm ({share:.2} %) {longer}",
            self.known,
            self.measured,
            off.abs()
        )
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
    fn a_second_length_says_in_a_sentence_how_far_it_is_off() {
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
            let check = SecondLength::on(50.0, [Point::ZERO, Point::new(0.0, 100.0)], Length::mm(known));
            assert_eq!(check.agrees(), agrees, "{known}");
            assert!(check.sentence().contains(words), "{}", check.sentence());
        }
    }
}
