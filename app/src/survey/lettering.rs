//! Runs of lettering, put together from letters that a page places one by one.
//!
//! A page says where each letter stands, in whatever order its program wrote them. Letters that follow one
//! another on one baseline, in one size and direction, are one run; a gap as wide as a blank becomes one.

use kurbo::{Affine, Point, Vec2};
use pattress_model::survey::Writing;

/// A letter on the page.
pub struct Letter<'a> {
    /// What it says; may be several characters, or none that are known.
    pub text: &'a str,
    /// Its origin on the baseline, units of the page.
    pub at: Point,
    /// Along the baseline, of length 1.
    pub direction: Vec2,
    /// From its origin to where the next letter is due, units of the page.
    pub advance: f64,
    /// Size of its font, units of the page.
    pub height: f64,
}

impl<'a> Letter<'a> {
    /// A letter whose font's units of one em are placed on the page; `advance` is in ems. `None` where it has no
    /// size that can be told.
    pub fn placed(text: &'a str, page_from_em: Affine, advance: f64) -> Option<Self> {
        let [a, b, c, d, x, y] = page_from_em.as_coeffs();
        let (along, up) = (Vec2::new(a, b), Vec2::new(c, d));
        let (width, height) = (along.hypot(), up.hypot());
        let is_sound = [width, height, x, y, advance].iter().all(|value| value.is_finite());
        (is_sound && width > 1e-6 && height > 1e-6).then(|| Letter {
            text,
            at: Point::new(x, y),
            direction: along / width,
            advance: advance * width,
            height,
        })
    }
}

/// A gap wider than this is a blank, in heights of the letters: blanks are 0.2 to 0.35 of most faces, and letters
/// are spaced by less. Common practice, no published source.
const BLANK: f64 = 0.15;

/// A gap wider than this parts two runs.
const APART: f64 = 1.0;

/// Letters may overlap by this much.
const OVERLAP: f64 = 0.5;

/// Letters further off the baseline than this stand on another one.
const OFF_BASELINE: f64 = 0.15;

/// More characters than this are no lettering of a drawing.
const MOST_CHARACTERS: usize = 2_000_000;

/// Gathers letters into runs.
#[derive(Default)]
pub struct Runs {
    done: Vec<Writing>,
    open: Option<Writing>,
    characters: usize,
}

impl Runs {
    /// Takes the next letter; whether there was room for it.
    pub fn take(&mut self, letter: &Letter<'_>) -> bool {
        self.characters += letter.text.len().max(1);
        if self.characters > MOST_CHARACTERS {
            return false;
        }
        if let Some(run) = &mut self.open
            && goes_on(run, letter)
        {
            return true;
        }
        self.close();
        // A run doesn't begin with a blank.
        if !letter.text.trim().is_empty() {
            self.open = Some(Writing {
                text: letter.text.trim_start().to_owned(),
                at: letter.at,
                direction: letter.direction,
                length: letter.advance.max(0.0),
                height: letter.height,
            });
        }
        true
    }

    /// The runs in the order of their letters.
    pub fn finish(mut self) -> Vec<Writing> {
        self.close();
        self.done
    }

    fn close(&mut self) {
        if let Some(mut run) = self.open.take() {
            run.text.truncate(run.text.trim_end().len());
            if !run.text.is_empty() {
                self.done.push(run);
            }
        }
    }
}

/// Appends the letter to the run where it is the next on the same line.
fn goes_on(run: &mut Writing, letter: &Letter<'_>) -> bool {
    let way = letter.at - run.at;
    let along = way.dot(run.direction);
    let off = way.cross(run.direction).abs();
    let gap = (along - run.length) / run.height;
    let is_like =
        (letter.height / run.height - 1.0).abs() < 0.05 && letter.direction.dot(run.direction) > 0.999;
    if !is_like || off > OFF_BASELINE * run.height || !(-OVERLAP..APART).contains(&gap) {
        return false;
    }
    if gap > BLANK
        && !run.text.ends_with(char::is_whitespace)
        && !letter.text.starts_with(char::is_whitespace)
    {
        run.text.push(' ');
    }
    run.text.push_str(letter.text);
    run.length = run.length.max(along + letter.advance);
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    fn runs(letters: &[(&str, f64, f64)], direction: Vec2) -> Vec<(String, f64)> {
        let mut runs = Runs::default();
        for (text, along, off) in letters {
            let at = Point::ORIGIN + direction * *along + Vec2::new(-direction.y, direction.x) * *off;
            assert!(runs.take(&Letter { text, at, direction, advance: 2.0, height: 4.0 }));
        }
        runs.finish().into_iter().map(|run| (run.text, run.length)).collect()
    }

    #[test]
    fn letters_on_one_baseline_are_one_run() {
        let upwards = Vec2::new(0.0, -1.0);
        for direction in [Vec2::new(1.0, 0.0), upwards] {
            let found =
                runs(&[("1", 0.0, 0.0), (":", 2.0, 0.0), ("5", 4.0, 0.0), ("0", 6.0, 0.0)], direction);
            assert_eq!(found, [("1:50".to_owned(), 8.0)]);
            // A gap is a blank, a written blank is not doubled, and a wide gap parts.
            let found =
                runs(&[("a", 0.0, 0.0), ("b", 3.0, 0.0), (" ", 5.0, 0.0), ("c", 6.0, 0.0)], direction);
            assert_eq!(found, [("a b c".to_owned(), 8.0)]);
            let found = runs(&[("a", 0.0, 0.0), ("b", 9.0, 0.0), ("c", 11.0, 3.0)], direction);
            assert_eq!(found.len(), 3);
        }
    }

    #[test]
    fn a_letter_takes_its_size_and_direction_from_its_place() {
        let page_from_em = Affine::translate((10.0, 20.0))
            * Affine::rotate(-std::f64::consts::FRAC_PI_2)
            * Affine::scale(3.0);
        let letter = Letter::placed("A", page_from_em, 0.5).unwrap();
        assert!((letter.direction - Vec2::new(0.0, -1.0)).hypot() < 1e-12);
        assert!((letter.height - 3.0).abs() < 1e-12 && (letter.advance - 1.5).abs() < 1e-12);
        assert!(Letter::placed("A", Affine::scale(0.0), 0.5).is_none());
        assert!(Letter::placed("A", Affine::scale(f64::NAN), 0.5).is_none());
    }
}
