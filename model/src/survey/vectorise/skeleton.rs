//! The middles of fine lines as walks from pixel to pixel.
//!
//! Ink of fine lines is thinned from both sides until one row of pixels is left (Guo and Hall 1989). From its
//! ends and branchings walks are followed, short spurs left out, and at a branching those two that go straight
//! on into one another become one, so that a line keeps its course across all that it crosses.

use std::collections::BTreeMap;

use kurbo::{Point, Vec2};

use super::ink::Marks;

/// More rounds than the half width of any line that is thinned.
const MOST_ROUNDS: usize = 60;
/// Directions at a branching are measured over this many pixels.
const DIRECTION_OVER: usize = 10;
/// Walks whose directions differ by less than about 20° go on into one another.
const STRAIGHT_ON: f64 = -0.94;

/// A walk along the middle of a line.
pub(super) struct Walk {
    pub(super) points: Vec<Point>,
    pub(super) closed: bool,
}

/// Takes `mark` from all pixels but those in the middle of what has it.
pub(super) fn thin(marks: &mut Marks, mark: u8) {
    let (width, height) = (marks.width, marks.height);
    for (index, cell) in marks.cells.iter_mut().enumerate() {
        let (x, y) = (index % width, index / width);
        if x == 0 || y == 0 || x + 1 == width || y + 1 == height {
            *cell &= !mark;
        }
    }
    let removable = removable_table();
    let mut left: Vec<u32> =
        (0..marks.cells.len() as u32).filter(|index| marks.cells[*index as usize] & mark != 0).collect();
    let mut removed: Vec<u32> = Vec::new();
    for _ in 0..MOST_ROUNDS {
        let before = left.len();
        for removable in &removable {
            removed.clear();
            removed.extend(left.iter().filter(|index| removable[neighbours(marks, **index as usize, mark)]));
            removed.iter().for_each(|index| marks.cells[*index as usize] &= !mark);
            left.retain(|index| marks.cells[*index as usize] & mark != 0);
        }
        if left.len() == before {
            break;
        }
    }
}

/// Offsets of the eight neighbours from the upper one clockwise.
fn around(width: usize) -> [isize; 8] {
    let w = width as isize;
    [-w, 1 - w, 1, w + 1, w, w - 1, -1, -w - 1]
}

/// Which neighbours have the mark, a bit for each from the upper one clockwise.
fn neighbours(marks: &Marks, index: usize, mark: u8) -> usize {
    around(marks.width).iter().enumerate().fold(0, |bits, (bit, offset)| {
        let cell = marks.cells.get(index.wrapping_add_signed(*offset)).copied().unwrap_or(0);
        bits | usize::from(cell & mark != 0) << bit
    })
}

/// Guo and Hall's conditions for each half round and each set of neighbours.
fn removable_table() -> [[bool; 256]; 2] {
    let mut table = [[false; 256]; 2];
    let [first, second] = &mut table;
    for (bits, (first, second)) in first.iter_mut().zip(second).enumerate() {
        let [n, ne, e, se, s, sw, w, nw] = [0, 1, 2, 3, 4, 5, 6, 7].map(|bit| bits >> bit & 1 == 1);
        let count = |conditions: [bool; 4]| conditions.iter().filter(|holds| **holds).count();
        let connected = count([!n && (ne || e), !e && (se || s), !s && (sw || w), !w && (nw || n)]);
        let ones =
            count([nw || n, ne || e, se || s, sw || w]).min(count([n || ne, e || se, s || sw, w || nw]));
        let fits = connected == 1 && (2..=3).contains(&ones);
        *first = fits && !((s || sw || !nw) && w);
        *second = fits && !((n || ne || !se) && e);
    }
    table
}

/// Branches that leave a pixel: changes from paper to ink round it.
fn branches(bits: usize) -> usize {
    (0..8).filter(|bit| bits >> bit & 1 == 0 && bits >> ((bit + 1) % 8) & 1 == 1).count()
}

/// All walks along what [`thin`] left. `seen` is a mark that is free to use. Spurs shorter than `spur` are left out.
pub(super) fn walks(marks: &mut Marks, mark: u8, seen: u8, spur: usize) -> Vec<Walk> {
    let ink: Vec<u32> =
        (0..marks.cells.len() as u32).filter(|index| marks.cells[*index as usize] & mark != 0).collect();
    let nodes: BTreeMap<u32, usize> = ink
        .iter()
        .map(|index| (*index, branches(neighbours(marks, *index as usize, mark))))
        .filter(|(_, branches)| *branches != 2)
        .collect();
    let mut paths: Vec<Vec<u32>> = Vec::new();
    for node in nodes.keys() {
        marks.cells[*node as usize] |= seen;
        for offset in around(marks.width) {
            let next = (*node as usize).wrapping_add_signed(offset);
            if marks.cells[next] & mark != 0
                && marks.cells[next] & seen == 0
                && !nodes.contains_key(&(next as u32))
            {
                paths.push(followed(marks, &nodes, *node, next as u32, (mark, seen)));
            }
        }
    }
    let mut loops: Vec<Vec<u32>> = Vec::new();
    for index in &ink {
        if marks.cells[*index as usize] & seen == 0 {
            loops.push(followed(marks, &nodes, *index, *index, (mark, seen)));
        }
    }
    ink.iter().for_each(|index| marks.cells[*index as usize] &= !seen);
    let is_end = |index: u32| nodes.get(&index).is_some_and(|branches| *branches <= 1);
    paths.retain(|path| {
        let (first, last) = (path[0], path[path.len() - 1]);
        path.len() >= spur || is_end(first) == is_end(last)
    });
    let middle = |index: &u32| {
        let index = *index as usize;
        Point::new((index % marks.width) as f64 + 0.5, (index / marks.width) as f64 + 0.5)
    };
    let mut walks = linked(&paths, marks.width, &is_end, &middle);
    walks.extend(
        loops
            .iter()
            .filter(|ring| ring.len() >= 8)
            .map(|ring| Walk { points: ring.iter().map(middle).collect(), closed: true }),
    );
    walks
}

/// From a node over its neighbour to the next node, or until nothing is left.
fn followed(
    marks: &mut Marks,
    nodes: &BTreeMap<u32, usize>,
    node: u32,
    next: u32,
    (mark, seen): (u8, u8),
) -> Vec<u32> {
    let mut path = vec![node];
    if next != node {
        path.push(next);
    }
    let mut at = next;
    marks.cells[at as usize] |= seen;
    loop {
        let mut onwards: Option<u32> = None;
        // Straight neighbours before those across a corner, a node before all.
        for order in [0, 2, 4, 6, 1, 3, 5, 7] {
            let other = (at as usize).wrapping_add_signed(around(marks.width)[order]);
            let cell = marks.cells.get(other).copied().unwrap_or(0);
            let other = other as u32;
            if cell & mark == 0 || path.len() >= 2 && other == path[path.len() - 2] {
                continue;
            }
            if nodes.contains_key(&other) && (other != node || path.len() > 3) {
                path.push(other);
                return path;
            }
            if cell & seen == 0 && onwards.is_none() {
                onwards = Some(other);
            }
        }
        let Some(other) = onwards else { return path };
        marks.cells[other as usize] |= seen;
        path.push(other);
        at = other;
    }
}

/// Joins paths that go straight on into one another where they meet.
fn linked(
    paths: &[Vec<u32>],
    width: usize,
    is_end: &dyn Fn(u32) -> bool,
    middle: &dyn Fn(&u32) -> Point,
) -> Vec<Walk> {
    // Ends that meet: those at branchings no more than three pixels apart, found by tiles of the picture.
    let end_of = |end: usize| {
        if end.is_multiple_of(2) { paths[end / 2][0] } else { paths[end / 2][paths[end / 2].len() - 1] }
    };
    let tile = |index: u32, by: (isize, isize)| {
        let (x, y) = ((index as usize % width) as isize / 4, (index as usize / width) as isize / 4);
        (y + by.1, x + by.0)
    };
    let outwards: Vec<Vec2> =
        (0..paths.len() * 2).map(|end| direction_at(&paths[end / 2], end % 2, middle)).collect();
    let mut by_tile: BTreeMap<(isize, isize), Vec<usize>> = BTreeMap::new();
    for end in (0..paths.len() * 2).filter(|end| !is_end(end_of(*end))) {
        by_tile.entry(tile(end_of(end), (0, 0))).or_default().push(end);
    }
    let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
    for end in by_tile.values().flatten() {
        let place = middle(&end_of(*end));
        for by in (-1..=1).flat_map(|y| (-1..=1).map(move |x| (x, y))) {
            for other in by_tile.get(&tile(end_of(*end), by)).into_iter().flatten() {
                let straight = outwards[*end].dot(outwards[*other]);
                let near = (middle(&end_of(*other)) - place).hypot() <= 3.0;
                if other > end && near && end / 2 != other / 2 && straight < STRAIGHT_ON {
                    pairs.push((straight, *end, *other));
                }
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut partner: Vec<Option<usize>> = vec![None; paths.len() * 2];
    for (_, one, other) in pairs {
        if partner[one].is_none() && partner[other].is_none() {
            (partner[one], partner[other]) = (Some(other), Some(one));
        }
    }
    let mut used = vec![false; paths.len()];
    let mut walks = Vec::new();
    let open_ends = (0..paths.len() * 2).filter(|end| partner[*end].is_none());
    for start in open_ends.chain(0..paths.len() * 2) {
        if used[start / 2] {
            continue;
        }
        let mut points: Vec<Point> = Vec::new();
        let mut end = start;
        loop {
            used[end / 2] = true;
            let path = &paths[end / 2];
            if end.is_multiple_of(2) {
                points.extend(path.iter().map(middle))
            } else {
                points.extend(path.iter().rev().map(middle))
            }
            match partner[end ^ 1].filter(|next| !used[next / 2]) {
                Some(next) => end = next,
                None => break,
            }
        }
        walks.push(Walk { points, closed: false });
    }
    walks
}

/// Unit vector from an end of a path into it.
fn direction_at(path: &[u32], end: usize, middle: &dyn Fn(&u32) -> Point) -> Vec2 {
    let inner = DIRECTION_OVER.min(path.len() - 1);
    let (from, to) = if end == 0 { (0, inner) } else { (path.len() - 1, path.len() - 1 - inner) };
    let vector = middle(&path[to]) - middle(&path[from]);
    if vector.hypot() > 0.0 { vector / vector.hypot() } else { Vec2::ZERO }
}
