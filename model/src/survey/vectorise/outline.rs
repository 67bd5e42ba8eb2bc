//! The outlines of marked areas, along the sides of their pixels.
//!
//! Every outline is a closed walk between pixels with the marked ones on its right hand; outer outlines run
//! clockwise as seen, holes the other way.

use super::ink::Marks;

/// A closed walk: corners of pixels, one step apart.
pub(super) struct Outline {
    pub(super) corners: Vec<(i32, i32)>,
    /// A marked pixel that it runs along.
    pub(super) pixel: (usize, usize),
}

/// All outlines of what has `mark`. `seen` is a mark that is free to use; it is taken away again.
pub(super) fn outlines(marks: &mut Marks, mark: u8, seen: u8) -> Vec<Outline> {
    let mut outlines = Vec::new();
    for y in 0..marks.height {
        let mut before = 0;
        for x in 0..marks.width {
            let own = marks.cells[y * marks.width + x];
            // Each outline has a left side that runs upwards; it is remembered on the pixel to its right.
            if own & mark != 0 && before & mark == 0 && own & seen == 0 {
                outlines.push(walked(marks, (x, y), mark, seen));
            }
            before = own;
        }
    }
    marks.cells.iter_mut().for_each(|cell| *cell &= !seen);
    outlines
}

/// Walks round from the left side of a pixel, upwards first.
fn walked(marks: &mut Marks, pixel: (usize, usize), mark: u8, seen: u8) -> Outline {
    let start = (pixel.0 as i32, pixel.1 as i32 + 1);
    let mut corners = Vec::new();
    let (mut at, mut step) = (start, (0_i32, -1_i32));
    loop {
        corners.push(at);
        if step == (0, -1) {
            marks.cells[(at.1 - 1) as usize * marks.width + at.0 as usize] |= seen;
        }
        at = (at.0 + step.0, at.1 + step.1);
        let marked = |ahead: bool, right: bool| {
            let (along, across) = (if ahead { 0 } else { -1 }, if right { 0 } else { -1 });
            // Pixel before or behind the corner, to the right or left of the way: from the corner, by half steps.
            let right_hand = (-step.1, step.0);
            let x2 = 2 * at.0 + step.0 * (2 * along + 1) + right_hand.0 * (2 * across + 1);
            let y2 = 2 * at.1 + step.1 * (2 * along + 1) + right_hand.1 * (2 * across + 1);
            marks.at(((x2 - 1) / 2) as isize, ((y2 - 1) / 2) as isize) & mark != 0 && x2 > 0 && y2 > 0
        };
        // Ink hangs together across corners, so the walk keeps to the left where it can.
        step = if marked(true, false) {
            (step.1, -step.0)
        } else if marked(true, true) {
            step
        } else {
            (-step.1, step.0)
        };
        if at == start && step == (0, -1) {
            return Outline { corners, pixel };
        }
    }
}
