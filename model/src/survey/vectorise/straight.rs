//! Straight pieces out of a walk from pixel to pixel, and a clean outline out of those.
//!
//! A walk is cut where it strays from a straight line (Douglas and Peucker 1973), each piece is moved to where
//! the shades of grey put it, pieces that continue one another become one, and the little steps that a line
//! meeting a wall, a speck or the grid of pixels left between two long pieces give way to their corner.

use kurbo::{Point, Vec2};

use super::super::grey::Piece;

/// Walks are cut into stretches of at most this many steps first, so that the time stays in bounds.
const LONGEST_STRETCH: usize = 4096;

/// The points at which a walk bends, first and last included: none of those left out lies further than
/// `tolerance` off the straight lines between them.
pub(super) fn bends(walk: &[Point], tolerance: f64) -> Vec<Point> {
    let Some(last) = walk.len().checked_sub(1) else { return Vec::new() };
    let mut kept = vec![0];
    let mut start = 0;
    while start < last {
        let end = (start + LONGEST_STRETCH).min(last);
        let mut waiting = vec![(start, end)];
        while let Some((from, to)) = waiting.pop() {
            let furthest = furthest_from(walk, from, to);
            match furthest {
                Some((index, distance)) if distance > tolerance => {
                    waiting.push((index, to));
                    waiting.push((from, index));
                }
                _ => kept.push(to),
            }
        }
        start = end;
    }
    kept.into_iter().map(|index| walk[index]).collect()
}

fn furthest_from(walk: &[Point], from: usize, to: usize) -> Option<(usize, f64)> {
    let (start, end) = (walk[from], walk[to]);
    let along = end - start;
    let length = along.hypot();
    (from + 1..to)
        .map(|index| {
            let away = walk[index] - start;
            let distance = if length > 0.0 { (along.cross(away) / length).abs() } else { away.hypot() };
            (index, distance)
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
}

/// The bends of a closed walk, beginning at one of them.
pub(super) fn bends_of_closed(walk: &[Point], tolerance: f64) -> Vec<Point> {
    let Some(first) = walk.first() else { return Vec::new() };
    let furthest = |from: Point| {
        (0..walk.len()).max_by(|a, b| (walk[*a] - from).hypot2().total_cmp(&(walk[*b] - from).hypot2()))
    };
    // A point furthest from any other is a corner of the figure.
    let start = furthest(*first).unwrap_or(0);
    let mut turned = walk[start..].to_vec();
    turned.extend_from_slice(&walk[..start]);
    let half = (0..turned.len())
        .max_by(|a, b| (turned[*a] - turned[0]).hypot2().total_cmp(&(turned[*b] - turned[0]).hypot2()))
        .unwrap_or(0);
    turned.push(turned[0]);
    let mut points = bends(&turned[..=half], tolerance);
    points.extend(bends(&turned[half..], tolerance).into_iter().skip(1));
    points.pop();
    points
}

/// Joins pieces that follow one another.
pub(super) struct Joiner<'a> {
    /// Pieces shorter than this may give way to a corner, pixels.
    pub(super) short: f64,
    /// Whether the last piece leads to the first.
    pub(super) closed: bool,
    /// Moves a rough piece to its exact place.
    pub(super) fit: &'a dyn Fn(&Piece) -> Option<Piece>,
}

impl Joiner<'_> {
    /// The pieces between the bends, each in its exact place, joined where they go on straight.
    pub(super) fn pieces(&self, bends: &[Point]) -> Vec<Piece> {
        let ends = bends.iter().zip(bends.iter().skip(1));
        let mut pieces: Vec<Piece> = ends.map(|(from, to)| self.placed(Piece::plain(*from, *to))).collect();
        if let (true, Some(first), Some(last)) = (self.closed && bends.len() > 2, bends.first(), bends.last())
        {
            pieces.push(self.placed(Piece::plain(*last, *first)));
        }
        for _ in 0..4 {
            let before = pieces.len();
            pieces = self.joined(pieces);
            if pieces.len() == before {
                break;
            }
        }
        pieces
    }

    fn placed(&self, piece: Piece) -> Piece {
        if piece.length() >= 3.0 { (self.fit)(&piece).unwrap_or(piece) } else { piece }
    }

    /// One pass over the pieces: steps between long ones dropped, long ones that go on straight made one.
    fn joined(&self, mut pieces: Vec<Piece>) -> Vec<Piece> {
        let is_long = |piece: &Piece| piece.length() >= self.short;
        let Some(first_long) = pieces.iter().position(is_long) else { return pieces };
        if self.closed {
            pieces.rotate_left(first_long);
        }
        let mut done: Vec<Piece> = pieces.drain(..if self.closed { 0 } else { first_long }).collect();
        let keep_before = done.len();
        let mut steps: Vec<Piece> = Vec::new();
        for piece in pieces {
            if !is_long(&piece) {
                steps.push(piece);
                continue;
            }
            if let Some(last) = done.last().copied().filter(|_| done.len() > keep_before) {
                match self.meeting(&last, &piece, &steps) {
                    Meeting::GoesOn(whole) => {
                        done.pop();
                        done.push(whole);
                        steps.clear();
                        continue;
                    }
                    Meeting::Corner => steps.clear(),
                    Meeting::Apart => done.append(&mut steps),
                }
            }
            done.push(piece);
        }
        self.closed_up(done, steps)
    }

    fn closed_up(&self, mut done: Vec<Piece>, mut steps: Vec<Piece>) -> Vec<Piece> {
        if let (true, true, [first, .., last]) = (self.closed, done.len() > 3, done.as_slice()) {
            match self.meeting(last, first, &steps) {
                Meeting::GoesOn(whole) => {
                    done.pop();
                    done[0] = whole;
                    steps.clear();
                }
                Meeting::Corner => steps.clear(),
                Meeting::Apart => {}
            }
        }
        done.append(&mut steps);
        done
    }

    fn meeting(&self, before: &Piece, after: &Piece, steps: &[Piece]) -> Meeting {
        let (a, b) = (before.along(), after.along());
        let straight = a.dot(b) > 0.0;
        // Three degrees between pieces with steps between them, where a short one may lie a little askew; less
        // than a pixel of offset where nothing lies between.
        let (turn, aside) = if steps.is_empty() { (0.035, 0.8) } else { (0.06, 1.3) };
        let turn_of_short = 1.0 / before.length().min(after.length()).max(1.0);
        if straight && a.cross(b).abs() < turn + turn_of_short {
            let whole = Piece { from: before.from, to: after.to, ..*before };
            let furthest = [before.to, after.from, before.from, after.to]
                .iter()
                .map(|end| whole.offset_of(*end).abs())
                .fold(0.0, f64::max);
            if furthest < aside {
                let tried = if whole.fitted || after.fitted { (self.fit)(&whole) } else { None };
                return Meeting::GoesOn(tried.unwrap_or(Piece { fitted: false, ..whole }));
            }
        }
        let reach = self.short * 1.6 + 1.5;
        match crossing(before, after) {
            Some(corner) if !steps.is_empty() => {
                let near = (corner - before.to).hypot() <= reach && (corner - after.from).hypot() <= reach;
                if near { Meeting::Corner } else { Meeting::Apart }
            }
            _ => Meeting::Apart,
        }
    }

    /// The corners of a chain of pieces: where they cross, or halfway between their ends.
    pub(super) fn corners(&self, pieces: &[Piece]) -> Vec<Point> {
        let mut points = Vec::with_capacity(pieces.len() + 1);
        let Some((first, last)) = pieces.first().zip(pieces.last()) else { return points };
        if !self.closed {
            points.push(first.from);
        }
        for (before, after) in pieces.iter().zip(pieces.iter().skip(1)) {
            self.push_corner(&mut points, before, after);
        }
        if self.closed {
            self.push_corner(&mut points, last, first);
        } else {
            points.push(last.to);
        }
        points
    }

    fn push_corner(&self, points: &mut Vec<Point>, before: &Piece, after: &Piece) {
        let reach = self.short * 1.6 + 2.5;
        let near =
            |corner: &Point| (*corner - before.to).hypot() < reach && (*corner - after.from).hypot() < reach;
        match crossing(before, after).filter(near) {
            Some(corner) => points.push(corner),
            None if (after.from - before.to).hypot() < 1.0 => points.push(before.to.midpoint(after.from)),
            None => points.extend([before.to, after.from]),
        }
    }
}

enum Meeting {
    /// They are one piece.
    GoesOn(Piece),
    /// They meet at a corner.
    Corner,
    Apart,
}

/// Where two endless lines cross; `None` where they run within about 11° of each other.
fn crossing(one: &Piece, other: &Piece) -> Option<Point> {
    let (a, b) = (one.along(), other.along());
    let across = a.cross(b);
    (across.abs() > 0.2).then(|| one.from + a * ((other.from - one.from).cross(b) / across))
}

/// The direction that most of the pieces share, modulo a right angle, radians from −π/4 to π/4.
pub(super) fn main_direction<'a>(pieces: impl Iterator<Item = &'a Piece>) -> Option<f64> {
    let folded: Vec<(f64, f64)> = pieces
        .filter(|piece| piece.fitted)
        .map(|piece| (fold(piece.along().y.atan2(piece.along().x)), piece.length()))
        .collect();
    let bins = 360;
    let per_radian = bins as f64 / std::f64::consts::FRAC_PI_2;
    let mut heaps = vec![0.0; bins];
    for (angle, length) in &folded {
        heaps[((angle + std::f64::consts::FRAC_PI_4) * per_radian) as usize % bins] += length;
    }
    let near = |index: usize| heaps[index] + heaps[(index + 1) % bins] + heaps[(index + bins - 1) % bins];
    let fullest =
        (0..bins).max_by(|a, b| near(*a).total_cmp(&near(*b))).filter(|index| near(*index) > 0.0)?;
    let about = (fullest as f64 + 0.5) / per_radian - std::f64::consts::FRAC_PI_4;
    let (mut turned, mut weight) = (0.0, 0.0);
    for (angle, length) in folded {
        let away = fold(angle - about);
        if away.abs() < 0.008 {
            turned += away * length * length;
            weight += length * length;
        }
    }
    (weight > 0.0).then(|| about + turned / weight)
}

/// A piece turned about its middle to the main direction, where that moves its ends by no more than the grain
/// of the picture.
pub(super) fn aligned(piece: &Piece, main: f64) -> Piece {
    let along = piece.along();
    let away = fold(along.y.atan2(along.x) - main);
    let half = piece.length() / 2.0;
    if !piece.fitted || away.abs() > 0.0175 && half > 12.0 || half * away.sin().abs() > 0.7 {
        return *piece;
    }
    let middle = piece.from.midpoint(piece.to);
    let (sine, cosine) = (-away).sin_cos();
    let along = Vec2::new(along.x * cosine - along.y * sine, along.x * sine + along.y * cosine);
    Piece { from: middle - along * half, to: middle + along * half, ..*piece }
}

fn fold(angle: f64) -> f64 {
    let right = std::f64::consts::FRAC_PI_2;
    angle - (angle / right).round() * right
}
