//! Which ink is too thick to be a line.
//!
//! The distance of every dark pixel from the nearest light one is found in two sweeps (chamfer distance with
//! steps of 3 and 4, Borgefors 1986). Where it reaches half the thickness asked for lies the core of a thick
//! stroke; what lies as near to a core as the core is deep belongs to it, and a little more, for corners.

use super::ink::Marks;

/// Marks with `thick` what has `mark` and belongs to strokes at least `thickness` pixels thick.
pub(super) fn mark_thick(marks: &mut Marks, mark: u8, thick: u8, thickness: f64) {
    // The middle of a stroke n pixels thick is (n + 1) / 2 from the pixels beside it.
    let half = ((thickness + 1.0) / 2.0).clamp(1.0, 50.0);
    let core = (half * 3.0).floor() as u8;
    let mut distance = vec![0_u8; marks.cells.len()];
    for (cell, own) in distance.iter_mut().zip(&marks.cells) {
        *cell = if own & mark == 0 { 0 } else { u8::MAX };
    }
    chamfer(&mut distance, marks.width);
    // From the cores outwards: to the faces, and on by what the corner of a rectangle lies beyond a circle.
    distance.iter_mut().for_each(|cell| *cell = if *cell >= core { 0 } else { u8::MAX });
    chamfer(&mut distance, marks.width);
    let reach = (half * 3.0 * 1.42).ceil() as u8 + 1;
    for (own, cell) in marks.cells.iter_mut().zip(&distance) {
        if *own & mark != 0 && *cell <= reach {
            *own |= thick;
        }
    }
}

/// Distances in thirds of a pixel, up to 255, to the nearest cell with 0. Beyond the edge there is none.
fn chamfer(distance: &mut [u8], width: usize) {
    sweep(distance.chunks_exact_mut(width), false);
    sweep(distance.chunks_exact_mut(width).rev(), true);
}

fn sweep<'a>(rows: impl Iterator<Item = &'a mut [u8]>, backwards: bool) {
    let mut before: Option<&mut [u8]> = None;
    for row in rows {
        let width = row.len();
        if let Some(before) = before.as_deref() {
            let from_above = |left: u8, straight: u8, right: u8| {
                left.min(right).saturating_add(4).min(straight.saturating_add(3))
            };
            row[0] = row[0].min(from_above(u8::MAX, before[0], before[1.min(width - 1)]));
            row[width - 1] =
                row[width - 1].min(from_above(before[width.max(2) - 2], before[width - 1], u8::MAX));
            if width > 2 {
                let triples = before.iter().zip(&before[1..]).zip(&before[2..]);
                for (cell, ((left, straight), right)) in row[1..width - 1].iter_mut().zip(triples) {
                    *cell = (*cell).min(from_above(*left, *straight, *right));
                }
            }
        }
        let mut last = u8::MAX;
        let mut along = |cell: &mut u8| {
            last = last.saturating_add(3).min(*cell);
            *cell = last;
        };
        if backwards {
            row.iter_mut().rev().for_each(&mut along)
        } else {
            row.iter_mut().for_each(&mut along)
        }
        before = Some(row);
    }
}
