//! The drawing at hand: which of a level's drawings a tool works on, where it comes to lie, and how its scale is told.

use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::plan::Underlay;

use crate::window::session::Session;

/// What a drawing is scaled by holds for the drawing; the house may be another.
pub const CAUTION: &str =
    "Check a second length, and measure on site: what is measured there wins over the drawing.";

/// The same in few words, for the status line.
pub const CAUTION_IN_SHORT: &str = "Check a second length; the site wins over the drawing.";

/// The drawing that tools work on: the one that is selected, else the topmost of the level that shows, else the
/// topmost.
pub fn drawing_at_hand(session: &Session) -> Option<(Id<Underlay>, &Underlay)> {
    let of_level = || session.project().underlays.iter().filter(|(_, under)| under.level == session.level());
    let selected = match session.only_selected() {
        Some(Subject::Underlay(selected)) => of_level().find(|(id, _)| *id == selected),
        _ => None,
    };
    selected.or_else(|| of_level().rfind(|(_, under)| under.opacity > 0.0)).or_else(|| of_level().next_back())
}

/// Whether it came as a page of paper rather than as pixels.
pub fn is_page(underlay: &Underlay) -> bool {
    underlay.media.ends_with(".pdf") || underlay.media.ends_with(".svg")
}

/// Its scale in words: `1:50 on A3`, or `8.5 mm a pixel, 118 px a metre`.
pub fn scale_in_words(underlay: &Underlay) -> String {
    if is_page(underlay) {
        return format!(
            "1:{} on {}",
            figure(underlay.mm_per_unit),
            paper_in_words((underlay.width, underlay.height))
        );
    }
    let per_pixel = underlay.mm_per_unit;
    format!("{} mm a pixel, {} px a metre", figure(per_pixel), figure(1000.0 / per_pixel))
}

/// The name of a paper by its size either way up, else its sides.
pub fn paper_in_words((width, height): (f64, f64)) -> String {
    // ISO 216 series A; a printer's crop may take a few millimetres.
    const NEAR_MM: f64 = 4.0;
    let (short, long) = (width.min(height), width.max(height));
    let mut sides = (841.0, 1189.0);
    for number in 0..=6 {
        if (short - sides.0).abs() <= NEAR_MM && (long - sides.1).abs() <= NEAR_MM {
            return format!("A{number}");
        }
        sides = ((sides.1 / 2.0_f64).floor(), sides.0);
    }
    format!("a sheet of {width:.0} × {height:.0} mm")
}

/// A figure with as many places as tell it apart: `50`, `50.03`, `118.1`, `8.47`.
pub fn figure(value: f64) -> String {
    let places = match value.abs() {
        large if large >= 1000.0 => 0,
        large if large >= 100.0 => 1,
        large if large >= 0.1 => 2,
        _ => 4,
    };
    let words = format!("{value:.places$}");
    if words.contains('.') { words.trim_end_matches('0').trim_end_matches('.').to_owned() } else { words }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;
    use pattress_model::units::Angle;

    use super::*;

    fn page(width: f64, height: f64, mm_per_unit: f64, media: &str) -> Underlay {
        Underlay {
            level: Id::from_number(1),
            name: "plan".to_owned(),
            media: media.to_owned(),
            page: 1,
            width,
            height,
            mm_per_unit,
            scale_from: None,
            second_length: None,
            position: Point::new(500.0, -200.0),
            turn: Angle::ZERO,
            opacity: 1.0,
            on_sheets: false,
        }
    }

    #[test]
    fn a_scale_is_told_as_the_drawing_has_it() {
        for (underlay, words) in [
            (page(420.0, 297.0, 50.0, "x.pdf"), "1:50 on A3"),
            (page(841.2, 1189.2, 100.0, "x.svg"), "1:100 on A0"),
            (page(148.0, 210.0, 1.25, "x.svg"), "1:1.25 on A5"),
            (page(500.0, 300.0, 48.0, "x.pdf"), "1:48 on a sheet of 500 × 300 mm"),
            (page(5000.0, 3500.0, 8.4667, "x.png"), "8.47 mm a pixel, 118.1 px a metre"),
        ] {
            assert_eq!(scale_in_words(&underlay), words);
        }
        assert_eq!(["0.05", "1200", "3"], [figure(0.05), figure(1200.4), figure(3.0)].map(|words| words));
    }
}
