//! Runs: bands on one axis, joined into walls across what interrupts them.
//!
//! The longest band leads; others on its axis and as thick join it where the stretch between is solid (a wall
//! that meets it there) or is a gap with signs of a door or a window, or a plain gap between two ends that face
//! each other.

use kurbo::{Point, Vec2};

use super::facing::Band;
use super::material::{Material, Void};
use super::signs::{Gap, Signs};
use crate::survey::ProposedForm;

/// Gaps narrower than this are slips of the pen, mm.
const SLIP_MM: f64 = 60.0;

/// A gap with signs in it may be so wide, mm: a run of windows.
const WIDEST_SIGNED_MM: f64 = 7000.0;

/// A plain gap between two facing ends may be so wide, mm.
const WIDEST_PLAIN_MM: f64 = 2600.0;

/// A plain gap may be no wider than this many times the wall beside it.
const PLAIN_TO_WALL: f64 = 1.3;

/// A band counts as a wall on its own from this many times its thickness.
const LEAST_SLENDERNESS: f64 = 0.9;

/// A hole along a run.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Hole {
    /// Where it starts, mm along the run.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// What it is.
    pub form: ProposedForm,
    /// 0 to 1.
    pub confidence: f64,
}

/// A straight wall in the making.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Run {
    /// A point on its axis from which distances along it count.
    pub origin: Point,
    /// Unit vector along it.
    pub along: Vec2,
    /// Where it starts, mm along.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// From face to face, mm.
    pub thickness: f64,
    /// Its holes, in order.
    pub holes: Vec<Hole>,
    /// Length of the bands in it, mm.
    pub drawn: f64,
}

impl Run {
    /// A point on the axis.
    pub fn at(&self, along: f64) -> Point {
        self.origin + self.along * along
    }

    /// Length of the axis.
    pub fn length(&self) -> f64 {
        self.to - self.from
    }

    /// A point as distance along and distance to the left of the axis.
    pub fn place(&self, point: Point) -> (f64, f64) {
        ((point - self.origin).dot(self.along), self.along.cross(point - self.origin))
    }

    /// Whether a point lies within its faces and ends, give or take.
    pub fn holds(&self, point: Point, give: f64) -> bool {
        let (along, aside) = self.place(point);
        aside.abs() <= self.thickness / 2.0 + give && (self.from - give..=self.to + give).contains(&along)
    }
}

/// Joins bands into runs, longest first; `None` when told to stop.
pub(super) fn runs_of(
    bands: &[Band],
    material: &Material,
    signs: &Signs<'_>,
    noise: f64,
    keep_going: &dyn Fn(f32) -> bool,
) -> Option<Vec<Run>> {
    let mut order: Vec<usize> = (0..bands.len()).collect();
    order.sort_by(|a, b| bands[*b].length().total_cmp(&bands[*a].length()));
    let mut used = vec![false; bands.len()];
    let mut runs: Vec<Run> = Vec::new();
    for (count, lead) in order.iter().enumerate() {
        if count % 64 == 0 && !keep_going(count as f32 / order.len() as f32) {
            return None;
        }
        let band = &bands[*lead];
        if used[*lead] || band.length() < LEAST_SLENDERNESS * band.thickness || is_covered(band, &runs, noise)
        {
            continue;
        }
        runs.push(Joining { bands, material, signs, noise }.run_from(*lead, &mut used));
    }
    Some(runs)
}

/// Whether most of a band's axis lies within runs already made.
fn is_covered(band: &Band, runs: &[Run], noise: f64) -> bool {
    let within = |part: u32| {
        let point = band.start.lerp(band.end, f64::from(part) / 10.0);
        runs.iter().any(|run| run.holds(point, 5.0 + noise))
    };
    (0..=10).filter(|part| within(*part)).count() >= 8
}

struct Joining<'a> {
    bands: &'a [Band],
    material: &'a Material,
    signs: &'a Signs<'a>,
    noise: f64,
}

/// A band on the axis of a run.
struct Piece {
    from: f64,
    to: f64,
    aside: f64,
    thickness: f64,
    band: usize,
}

impl Joining<'_> {
    fn run_from(&self, lead: usize, used: &mut [bool]) -> Run {
        let band = &self.bands[lead];
        let mut along = band.along();
        if along.x + along.y * 1e-3 < 0.0 {
            along = -along;
        }
        let mut run = Run {
            origin: band.middle(),
            along,
            from: -band.length() / 2.0,
            to: band.length() / 2.0,
            thickness: band.thickness,
            holes: Vec::new(),
            drawn: band.length(),
        };
        used[lead] = true;
        let pieces = self.pieces_on(&run, used);
        let slip = 10.0 + self.noise;
        let (lead_from, lead_to) = (run.from + slip, run.to - slip);
        let mut joined = vec![(band.length(), 0.0, band.thickness)];
        for piece in pieces.iter().filter(|piece| piece.from >= lead_to) {
            let Some(holes) = self.bridged(&run, run.to, piece.from, piece.to - piece.from) else { break };
            run.holes.extend(holes);
            run.to = run.to.max(piece.to);
            self.take(piece, &mut run, used, &mut joined);
        }
        for piece in pieces.iter().rev().filter(|piece| piece.to <= lead_from) {
            let Some(holes) = self.bridged(&run, piece.to, run.from, piece.to - piece.from) else { break };
            run.holes.extend(holes);
            run.from = run.from.min(piece.from);
            self.take(piece, &mut run, used, &mut joined);
        }
        run.holes.sort_by(|a, b| a.from.total_cmp(&b.from));
        let weight: f64 = joined.iter().map(|piece| piece.0).sum();
        let mean = |of: fn(&(f64, f64, f64)) -> f64| {
            joined.iter().map(|piece| piece.0 * of(piece)).sum::<f64>() / weight.max(1e-9)
        };
        run.thickness = mean(|piece| piece.2);
        run.origin += run.along.turn_90() * mean(|piece| piece.1);
        run
    }

    fn take(&self, piece: &Piece, run: &mut Run, used: &mut [bool], joined: &mut Vec<(f64, f64, f64)>) {
        used[piece.band] = true;
        run.drawn += piece.to - piece.from;
        joined.push((piece.to - piece.from, piece.aside, piece.thickness));
    }

    /// Bands that lie on the axis of a run and are as thick, in order along it.
    fn pieces_on(&self, run: &Run, used: &[bool]) -> Vec<Piece> {
        let off_axis = 10.0 + 1.5 * self.noise;
        let unlike = 15.0 + 2.0 * self.noise;
        let mut pieces = Vec::new();
        for (index, band) in self.bands.iter().enumerate() {
            if used[index] || (band.thickness - run.thickness).abs() > unlike {
                continue;
            }
            let (a, b) = (run.place(band.start), run.place(band.end));
            let is_parallel = (a.1 - b.1).abs() <= 0.05 * band.length() + self.noise;
            let aside = f64::midpoint(a.1, b.1);
            if is_parallel && aside.abs() <= off_axis {
                let (from, to) = (a.0.min(b.0), a.0.max(b.0));
                pieces.push(Piece { from, to, aside, thickness: band.thickness, band: index });
            }
        }
        pieces.sort_by(|a, b| a.from.total_cmp(&b.from));
        pieces
    }

    /// The holes between two places of a run, if it may run on from one to the other.
    fn bridged(&self, run: &Run, from: f64, to: f64, next: f64) -> Option<Vec<Hole>> {
        if to - from > 2.0 * WIDEST_SIGNED_MM {
            return None;
        }
        if to - from <= 0.0 {
            return Some(Vec::new());
        }
        let mut holes = Vec::new();
        for void in self.material.voids(run.at(from), run.at(to)) {
            let width = void.to - void.from;
            if width < SLIP_MM + self.noise {
                continue;
            }
            let gap =
                Gap { a: run.at(from + void.from), b: run.at(from + void.to), thickness: run.thickness };
            let signed = (width <= WIDEST_SIGNED_MM).then(|| self.signs.in_gap(gap)).flatten();
            let (form, confidence) = match signed {
                Some(sign) => sign,
                None if self.is_plain(&void, run, next) => (ProposedForm::Plain, 0.5),
                None => return None,
            };
            holes.push(Hole { from: from + void.from, to: from + void.to, form, confidence });
        }
        Some(holes)
    }

    /// Whether two ends of a wall face each other across a gap with nothing in it, rather than two walls that
    /// it meets.
    fn is_plain(&self, void: &Void, run: &Run, next: f64) -> bool {
        let width = void.to - void.from;
        let is_end = |face: f64| face <= 1.3 * run.thickness + 3.0 * self.noise;
        width <= WIDEST_PLAIN_MM
            && width <= PLAIN_TO_WALL * (run.drawn + next)
            && is_end(void.face_at_from)
            && is_end(void.face_at_to)
    }
}
