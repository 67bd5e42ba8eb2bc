//! Figures as the board shows them beside the pointer.

use kurbo::Point;
use pattress_model::units::Length;

use super::Measure;

/// Whole millimetres with thousands apart: `1,240`.
pub fn in_mm(length: Length) -> String {
    let whole = length.as_mm().round();
    let digits = format!("{:.0}", whole.abs());
    let mut words = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index) % 3 == 0 {
            words.push(',');
        }
        words.push(digit);
    }
    if whole < 0.0 { format!("−{words}") } else { words }
}

/// A distance with its figure.
pub fn measured(from: Point, to: Point) -> Measure {
    Measure { from, to, words: in_mm(Length::mm((to - from).hypot())) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_stand_apart() {
        for (mm, words) in
            [(0.0, "0"), (999.6, "1,000"), (1240.0, "1,240"), (-50.0, "−50"), (1_234_567.0, "1,234,567")]
        {
            assert_eq!(in_mm(Length::mm(mm)), words);
        }
    }
}
