//! Statements of scale on a page: `1:50`, `Scale 1/100`, `flat 1:50 @A3`, `1/4" = 1'-0"`.
//!
//! They are suggestions. A statement often names the paper it was made for; where the page has another size, the
//! print was made larger or smaller and the scale with it, which is corrected and said.

use kurbo::Point;

use super::super::page::Page;
use crate::paper::Paper;
use crate::units::Length;

/// Denominators that plans and details are drawn at (ISO 5455:1979 and what surveyors add; from memory). With them a
/// slash is a scale and no fraction.
const USUAL: [u32; 15] = [5, 10, 20, 25, 40, 50, 75, 100, 125, 200, 250, 500, 1000, 1250, 2500];

/// Denominators of buildings: nothing beyond is taken from a drawing.
const DENOMINATORS: std::ops::RangeInclusive<u32> = 2..=10_000;

/// What stands in a line that speaks of a gradient, not of a scale.
const GRADIENTS: [&str; 6] = ["fall", "slope", "gradient", "ramp", "incline", "pitch"];

/// A page has the size of a paper where it differs by no more than this, mm.
const SAME_SIZE_MM: f64 = 4.0;

/// A scale that the page states.
#[derive(Clone, Debug, PartialEq)]
pub struct StatedScale {
    /// What it says: 50 for 1:50.
    pub denominator: u32,
    /// Where it stands, units of the page.
    pub at: Point,
    /// The whole line of lettering.
    pub text: String,
    /// The scale of this page, millimetres of the house to one of paper: the denominator, unless the statement
    /// was made for paper of another size.
    pub mm_per_unit: f64,
    /// What to know about it, in a sentence, where its paper is another.
    pub remark: Option<String>,
}

/// Scales that a page in millimetres of paper states: lines that say “scale” first, then in their order.
pub fn stated_scales(page: &Page) -> Vec<StatedScale> {
    let mut found: Vec<(bool, StatedScale)> = Vec::new();
    for writing in &page.writings {
        let text = writing.text.trim();
        for denominator in denominators(text) {
            let (mm_per_unit, remark) = on_this_paper(page, text, denominator);
            found.push((
                !text.to_lowercase().contains("scale"),
                StatedScale { denominator, at: writing.centre(), text: text.to_owned(), mm_per_unit, remark },
            ));
        }
    }
    found.sort_by_key(|(unsaid, _)| *unsaid);
    found.into_iter().map(|(_, scale)| scale).collect()
}

/// The denominators that a line of lettering states.
fn denominators(text: &str) -> Vec<u32> {
    let lower = text.to_lowercase();
    if GRADIENTS.iter().any(|word| lower.contains(word)) {
        return Vec::new();
    }
    if let Some(denominator) = of_equation(text) {
        return vec![denominator];
    }
    let says_scale = lower.contains("scale");
    let letters: Vec<char> = lower.chars().collect();
    let mut found = Vec::new();
    for (index, letter) in letters.iter().enumerate() {
        let starts =
            *letter == '1' && !index.checked_sub(1).is_some_and(|before| continues_a_number(letters[before]));
        if !starts {
            continue;
        }
        let mut rest = letters[index + 1..].iter().copied().skip_while(|c| c.is_whitespace()).peekable();
        let Some(mark @ (':' | '/' | '∶')) = rest.next() else { continue };
        while rest.peek().is_some_and(|c| c.is_whitespace()) {
            rest.next();
        }
        let mut digits = String::new();
        while let Some(digit) = rest.peek().filter(|c| c.is_ascii_digit()) {
            digits.push(*digit);
            rest.next();
        }
        let (next, after) = (rest.next(), rest.next());
        let goes_on = next.is_some_and(|c| matches!(c, '.' | ',' | ':' | '/'))
            && after.is_some_and(|c| c.is_ascii_digit());
        let ends = !goes_on && !next.is_some_and(|c| matches!(c, '"' | '\''));
        let Ok(denominator) = digits.parse::<u32>() else { continue };
        let likely = mark != '/' || says_scale || USUAL[5..].contains(&denominator);
        if ends && likely && DENOMINATORS.contains(&denominator) && !found.contains(&denominator) {
            found.push(denominator);
        }
    }
    found
}

fn continues_a_number(letter: char) -> bool {
    letter.is_ascii_digit() || matches!(letter, '.' | ',' | ':' | '/')
}

/// `1/4" = 1'-0"` is 1:48.
fn of_equation(text: &str) -> Option<u32> {
    let (paper, house) = text.split_once('=')?;
    let paper = paper.trim().rsplit([':', ' ']).next()?;
    let feet_and_inches = |text: &str| text.contains(['"', '″', '”', '\'', '′', '’']);
    if !feet_and_inches(paper) || !feet_and_inches(house) {
        return None;
    }
    let ratio = Length::parse(house).ok()?.as_mm() / Length::parse(paper).ok()?.as_mm();
    let whole = ratio.round();
    ((ratio - whole).abs() < 1e-6 && DENOMINATORS.contains(&(whole as u32))).then_some(whole as u32)
}

/// The scale on this page of a statement that may have been made for another paper, and what to say about it.
fn on_this_paper(page: &Page, text: &str, denominator: u32) -> (f64, Option<String>) {
    let stated = f64::from(denominator);
    let Some(paper) = paper_named(text) else { return (stated, None) };
    let (width, height) = paper.size_mm();
    let (long, short) = (width.max(height), width.min(height));
    let (page_long, page_short) = (page.width.max(page.height), page.width.min(page.height));
    let is_size = |long: f64, short: f64| {
        (page_long - long).abs() <= SAME_SIZE_MM && (page_short - short).abs() <= SAME_SIZE_MM
    };
    if is_size(long, short) {
        return (stated, None);
    }
    let name = paper.name();
    let other = Paper::ALL.into_iter().find(|other| {
        let (width, height) = other.size_mm();
        is_size(width.max(height), width.min(height))
    });
    let Some(other) = other else {
        let remark = format!(
            "“{text}” was made for {name}, and this page is {:.0} × {:.0} mm: check a length before relying on it",
            page.width, page.height
        );
        return (stated, Some(remark));
    };
    // Sizes of the series halve from one to the next, so sides go by the square root of two (ISO 216).
    let steps = place_in_series(paper) - place_in_series(other);
    let corrected = stated * 2_f64.powf(f64::from(steps) / 2.0);
    let shown = if (corrected - corrected.round()).abs() < 1e-6 {
        format!("{corrected:.0}")
    } else {
        format!("{corrected:.1}")
    };
    let remark = format!(
        "“{text}” was made for {name}, and this page is {}: on it the scale is 1:{shown}, if the whole sheet was \
         fitted to the page; check a length",
        other.name()
    );
    (corrected, Some(remark))
}

/// Larger sizes have larger numbers.
fn place_in_series(paper: Paper) -> i32 {
    match paper {
        Paper::A4 => 0,
        Paper::A3 => 1,
        Paper::A2 => 2,
        Paper::A1 => 3,
        Paper::A0 => 4,
    }
}

/// The paper that a line names: `@A3`, `@ A1`, `(A2)`.
fn paper_named(text: &str) -> Option<Paper> {
    text.split(|c: char| !c.is_ascii_alphanumeric()).find_map(Paper::from_name)
}

#[cfg(test)]
mod tests {
    use kurbo::Vec2;

    use super::super::super::page::Writing;
    use super::*;

    fn page(width: f64, height: f64, lines: &[&str]) -> Page {
        let writing = |text: &&str| Writing {
            text: (*text).to_owned(),
            at: Point::new(20.0, 20.0),
            direction: Vec2::new(1.0, 0.0),
            length: 20.0,
            height: 3.0,
        };
        Page { width, height, writings: lines.iter().map(writing).collect(), ..Page::default() }
    }

    #[test]
    fn statements_are_told_from_other_figures() {
        for (text, expected) in [
            ("1:50", vec![50]),
            ("flat 1:50", vec![50]),
            ("Scale 1/100", vec![100]),
            ("SCALE 1 : 20", vec![20]),
            ("1/100", vec![100]),
            ("1:1250 location, 1:500 site", vec![1250, 500]),
            ("flat 1:50 @A3.", vec![50]),
            ("1/4\" = 1'-0\"", vec![48]),
            ("Scale: 1/8\" = 1'-0\"", vec![96]),
            ("1/2", vec![]),
            ("1/2\" ply", vec![]),
            ("ramp 1:12", vec![]),
            ("Fall 1:80", vec![]),
            ("11:50", vec![]),
            ("1:50:30", vec![]),
            ("21/100", vec![]),
            ("1:0", vec![]),
            ("1:99999999999", vec![]),
            ("drawn 31/12/2026", vec![]),
            ("1:", vec![]),
            ("", vec![]),
        ] {
            assert_eq!(denominators(text), expected, "{text}");
        }
    }

    #[test]
    fn a_scale_made_for_another_paper_is_corrected_and_said() {
        for (width, height, text, mm_per_unit, remark) in [
            (420.0, 297.0, "1:50", 50.0, None),
            (420.0, 297.0, "1:50 @A3", 50.0, None),
            (297.0, 420.0, "1:50 @ A3", 50.0, None),
            (
                420.0,
                297.0,
                "1:50 @A1",
                100.0,
                Some("made for A1, and this page is A3: on it the scale is 1:100"),
            ),
            (594.0, 420.0, "1:100 (A3)", 70.7107, Some("this page is A2: on it the scale is 1:70.7")),
            (400.0, 300.0, "1:50 @A3", 50.0, Some("this page is 400 × 300 mm")),
        ] {
            let scales = stated_scales(&page(width, height, &["Kitchen", text]));
            assert_eq!(scales.len(), 1, "{text}");
            assert!((scales[0].mm_per_unit - mm_per_unit).abs() < 1e-3, "{text}: {}", scales[0].mm_per_unit);
            match (&scales[0].remark, remark) {
                (Some(given), Some(words)) => assert!(given.contains(words), "{given}"),
                (given, words) => assert_eq!(given.as_deref(), words),
            }
        }
    }

    #[test]
    fn the_line_that_says_scale_comes_first() {
        let scales = stated_scales(&page(420.0, 297.0, &["detail 1:10", "Scale 1:50"]));
        assert_eq!(scales.iter().map(|scale| scale.denominator).collect::<Vec<_>>(), [50, 10]);
    }
}
