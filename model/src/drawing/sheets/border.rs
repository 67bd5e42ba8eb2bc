//! The drawing frame after ISO 5457:1999 (from memory): trimming edge, frame line, centring marks, and the
//! grid of reference fields with letters down the sides and numbers along the top and bottom.

use kurbo::{Point, Rect};

use super::pen::{Hand, Pen};
use crate::drawing::{Anchor, Paper, Role};

/// Width of the strip that holds letters and numbers, mm.
const GRID_STRIP_MM: f64 = 5.0;

/// Length of a reference field, mm, counted from the middle of the sheet.
const FIELD_MM: f64 = 50.0;

/// How far a centring mark reaches into the drawing, mm.
const MARK_INSIDE_MM: f64 = 5.0;

/// Height of the letters of the grid, mm. ISO 5457 has 3.5; on A4 and A3 the strip reads better with 2.5.
const GRID_LETTER_MM: f64 = 2.5;

/// Letters of the grid: I and O are left out, as they read like figures.
const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";

/// The rectangle of the frame line, paper mm.
pub fn frame_of(paper: Paper) -> Rect {
    let (width, height) = paper.size_mm();
    let (left, others) = paper.margins_mm();
    Rect::new(left, others, width - others, height - others)
}

/// Draws the border of a sheet. Centring marks stop at the frame line where a table or words stand behind it.
pub(super) fn border(pen: &mut Pen, paper: Paper, taken: &[Rect]) {
    let (width, height) = paper.size_mm();
    let frame = frame_of(paper);
    let strip = frame.inflate(GRID_STRIP_MM, GRID_STRIP_MM);
    pen.rect(Role::PaperEdge, Rect::new(0.0, 0.0, width, height));
    pen.rect(Role::TableLine, strip);
    columns(pen, frame, strip, width / 2.0);
    rows(pen, frame, strip, height / 2.0);
    centring_marks(pen, frame, strip, Point::new(width / 2.0, height / 2.0), taken);
    pen.rect(Role::FrameLine, frame);
}

/// Where one field ends and the next begins, from the middle outwards; a rest shorter than half a field is
/// joined to its neighbour.
fn divisions(from: f64, middle: f64, to: f64) -> Vec<f64> {
    let mut cuts = vec![from];
    let first = ((from - middle) / FIELD_MM).ceil() as i64;
    let last = ((to - middle) / FIELD_MM).floor() as i64;
    for number in first..=last {
        let cut = middle + number as f64 * FIELD_MM;
        if cut - from >= FIELD_MM / 2.0 && to - cut >= FIELD_MM / 2.0 {
            cuts.push(cut);
        }
    }
    cuts.push(to);
    cuts
}

fn columns(pen: &mut Pen, frame: Rect, strip: Rect, middle: f64) {
    let cuts = divisions(frame.x0, middle, frame.x1);
    for cut in &cuts[1..cuts.len() - 1] {
        pen.line(Role::TableLine, Point::new(*cut, frame.y1), Point::new(*cut, strip.y1));
        pen.line(Role::TableLine, Point::new(*cut, strip.y0), Point::new(*cut, frame.y0));
    }
    for (index, pair) in cuts.windows(2).enumerate() {
        let x = (pair[0] + pair[1]) / 2.0;
        for y in [(frame.y1 + strip.y1) / 2.0, (frame.y0 + strip.y0) / 2.0] {
            let hand = Hand::regular(Role::SmallPrint, GRID_LETTER_MM);
            pen.words(hand, Point::new(x, y), Anchor::Centre, &(index + 1).to_string());
        }
    }
}

fn rows(pen: &mut Pen, frame: Rect, strip: Rect, middle: f64) {
    let cuts = divisions(frame.y0, middle, frame.y1);
    for cut in &cuts[1..cuts.len() - 1] {
        pen.line(Role::TableLine, Point::new(strip.x0, *cut), Point::new(frame.x0, *cut));
        pen.line(Role::TableLine, Point::new(frame.x1, *cut), Point::new(strip.x1, *cut));
    }
    for (pair, letter) in cuts.windows(2).rev().zip(LETTERS) {
        let y = (pair[0] + pair[1]) / 2.0;
        for x in [(frame.x0 + strip.x0) / 2.0, (frame.x1 + strip.x1) / 2.0] {
            let hand = Hand::regular(Role::SmallPrint, GRID_LETTER_MM);
            pen.words(hand, Point::new(x, y), Anchor::Centre, &char::from(*letter).to_string());
        }
    }
}

fn centring_marks(pen: &mut Pen, frame: Rect, strip: Rect, middle: Point, taken: &[Rect]) {
    let inner = frame.inset(-MARK_INSIDE_MM);
    let mut mark = |from: (f64, f64), frame: (f64, f64), inside: (f64, f64)| {
        let reach = Rect::from_points(frame, inside).inflate(1.0, 1.0);
        let is_taken = taken.iter().any(|rect| rect.overlaps(reach));
        pen.line(Role::FrameLine, from.into(), if is_taken { frame } else { inside }.into());
    };
    mark((middle.x, strip.y1), (middle.x, frame.y1), (middle.x, inner.y1));
    mark((middle.x, strip.y0), (middle.x, frame.y0), (middle.x, inner.y0));
    mark((strip.x0, middle.y), (frame.x0, middle.y), (inner.x0, middle.y));
    mark((strip.x1, middle.y), (frame.x1, middle.y), (inner.x1, middle.y));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_are_fifty_millimetres_from_the_middle_of_the_sheet() {
        for paper in Paper::ALL {
            let (width, _) = paper.size_mm();
            let frame = frame_of(paper);
            let cuts = divisions(frame.x0, width / 2.0, frame.x1);
            assert!(cuts.contains(&(width / 2.0)), "{paper:?}");
            for pair in cuts[1..cuts.len() - 1].windows(2) {
                assert_eq!(pair[1] - pair[0], FIELD_MM, "{paper:?}");
            }
            assert!(cuts.len() - 1 <= LETTERS.len());
        }
    }
}
