//! Where exactly an edge or a fine line runs, read from the shades of grey.
//!
//! An edge that falls between two pixels leaves the ones it crosses half grey, so its place is known to a small
//! share of a pixel: where the tone passes halfway between paper and ink, or where the darkness of a line has
//! its middle. Many such places along a straight piece make a line by least squares, strays left out.

use kurbo::{Point, Vec2};

use super::Greyscale;

/// The tone that bare paper gets where light is made even, with room above it so that noise is not cut off on one
/// side; and what lies beyond the edges of a picture.
pub(super) const PAPER: u8 = 224;

/// Half a profile across an edge or a line, in steps of half a pixel.
const HALF_PROFILE: i32 = 12;
const STEPS: usize = 2 * HALF_PROFILE as usize + 1;
/// As many places as are read along one piece.
const MOST_PLACES: f64 = 240.0;
/// Places further off the fitted line than this, pixels, are strays however much the others scatter.
const STRAY: f64 = 0.6;

/// A straight piece between two points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) from: Point,
    pub(super) to: Point,
    /// Tone of the ink beside the edge or in the middle of the line; 255 where it was not read.
    pub(super) ink: f64,
    /// Width of a line, pixels; 0 for an edge.
    pub(super) width: f64,
    /// Whether its place was read from the shades of grey.
    pub(super) fitted: bool,
}

impl Piece {
    pub(super) fn plain(from: Point, to: Point) -> Self {
        Self { from, to, ink: 255.0, width: 0.0, fitted: false }
    }

    pub(super) fn length(&self) -> f64 {
        (self.to - self.from).hypot()
    }

    /// Unit vector from start to end; (1, 0) for a point.
    pub(super) fn along(&self) -> Vec2 {
        let vector = self.to - self.from;
        let length = vector.hypot();
        if length > 0.0 { vector / length } else { Vec2::new(1.0, 0.0) }
    }

    /// How far a point lies to the side of the endless line.
    pub(super) fn offset_of(&self, point: Point) -> f64 {
        self.along().cross(point - self.from)
    }
}

/// The tone at a place; whole numbers are corners of pixels. Paper beyond the edges.
pub(super) fn tone_at(picture: &Greyscale, at: Point) -> f64 {
    let (x, y) = (at.x - 0.5, at.y - 0.5);
    let (left, top) = (x.floor(), y.floor());
    let (across, down) = (x - left, y - top);
    let (width, height) = (picture.width() as f64, picture.height() as f64);
    let inside = left >= 0.0 && top >= 0.0 && left + 1.0 < width && top + 1.0 < height;
    if !inside {
        return f64::from(PAPER);
    }
    let start = top as usize * picture.width() + left as usize;
    let luma = picture.luma();
    let [a, b, c, d] = [start, start + 1, start + picture.width(), start + picture.width() + 1]
        .map(|at| f64::from(luma[at]));
    let (upper, lower) = (a + (b - a) * across, c + (d - c) * across);
    upper + (lower - upper) * down
}

/// Profiles across a piece: one for each place along it, from its left to its right.
struct Profiles {
    /// Distance from the start of the piece for each place.
    places: Vec<f64>,
    tones: Vec<[f64; STEPS]>,
    mean: [f64; STEPS],
}

impl Profiles {
    fn across(picture: &Greyscale, piece: &Piece) -> Option<Self> {
        let length = piece.length();
        let margin = (length * 0.2).min(2.5);
        let count = (length - 2.0 * margin).ceil().clamp(3.0, MOST_PLACES);
        let along = piece.along();
        let right = Vec2::new(-along.y, along.x);
        let mut profiles = Self { places: Vec::new(), tones: Vec::new(), mean: [0.0; STEPS] };
        for index in 0..count as usize {
            let place = margin + (length - 2.0 * margin) * (index as f64 + 0.5) / count;
            let middle = piece.from + along * place;
            let mut tones = [0.0; STEPS];
            for (step, tone) in tones.iter_mut().enumerate() {
                *tone = tone_at(picture, middle + right * offset(step));
            }
            profiles.mean.iter_mut().zip(tones).for_each(|(sum, tone)| *sum += tone / count);
            profiles.places.push(place);
            profiles.tones.push(tones);
        }
        (length.is_finite() && length > 0.0).then_some(profiles)
    }
}

fn offset(step: usize) -> f64 {
    (step as i32 - HALF_PROFILE) as f64 * 0.5
}

/// The steps of a profile from one offset to another, pixels.
fn steps(from: f64, to: f64) -> std::ops::RangeInclusive<usize> {
    let step = |offset: f64| ((offset * 2.0) as i32 + HALF_PROFILE).clamp(0, STEPS as i32 - 1) as usize;
    step(from)..=step(to)
}

/// The piece moved to where the tone passes halfway from paper (left) to ink (right); `None` where it does not.
pub(super) fn fitted_edge(picture: &Greyscale, rough: &Piece) -> Option<Piece> {
    let profiles = Profiles::across(picture, rough)?;
    let paper = profiles.mean[steps(-4.5, -1.0)].iter().fold(0.0_f64, |most, tone| most.max(*tone));
    let ink = profiles.mean[steps(0.5, 4.5)].iter().fold(255.0_f64, |least, tone| least.min(*tone));
    if paper - ink < 12.0 {
        return None;
    }
    let half = f64::midpoint(paper, ink);
    let found: Vec<(f64, f64)> = profiles
        .places
        .iter()
        .zip(&profiles.tones)
        .filter_map(|(place, tones)| {
            let crossings = steps(-3.5, 3.0).filter_map(|step| {
                let (left, right) = (tones[step], tones[step + 1]);
                (left >= half && right < half).then(|| offset(step) + 0.5 * (left - half) / (left - right))
            });
            crossings.min_by(|a, b| a.abs().total_cmp(&b.abs())).map(|across| (*place, across))
        })
        .collect();
    let mut fitted = through_places(rough, &found, profiles.places.len())?;
    fitted.ink = ink;
    Some(fitted)
}

/// The piece moved to the middle of the darkness of a fine line up to `widest` pixels wide, with its width.
pub(super) fn fitted_centre(picture: &Greyscale, rough: &Piece, widest: f64) -> Option<Piece> {
    let profiles = Profiles::across(picture, rough)?;
    let mean = &profiles.mean;
    let peak = steps(-1.5, 1.5).min_by(|a, b| mean[*a].total_cmp(&mean[*b]))?;
    let paper = mean.iter().fold(0.0_f64, |most, tone| most.max(*tone));
    let ink = mean[peak];
    if paper - ink < 4.0 {
        return None;
    }
    let half = f64::midpoint(paper, ink);
    let reach = (widest / 2.0 + 2.0).min(f64::from(HALF_PROFILE) / 2.0);
    let left = edge_of_line(mean, peak, half, -1).max(-reach);
    let right = edge_of_line(mean, peak, half, 1).min(reach);
    let found: Vec<(f64, f64)> = profiles
        .places
        .iter()
        .zip(&profiles.tones)
        .filter_map(|(place, tones)| {
            let (mut weighed, mut weights) = (0.0, 0.0);
            for step in steps(left - 1.5, right + 1.5) {
                let darkness = (paper - tones[step] - 0.15 * (paper - ink)).max(0.0);
                weighed += darkness * offset(step);
                weights += darkness;
            }
            (weights > 0.0).then(|| (*place, weighed / weights))
        })
        .collect();
    let mut fitted = through_places(rough, &found, profiles.places.len())?;
    fitted.ink = ink;
    fitted.width = right - left;
    Some(fitted)
}

/// Where the tone rises past half on one side of the darkest step.
fn edge_of_line(mean: &[f64; STEPS], peak: usize, half: f64, side: isize) -> f64 {
    let mut step = peak;
    while let Some(next) = step.checked_add_signed(side).filter(|next| *next < STEPS) {
        if mean[next] >= half {
            let share = (half - mean[step]) / (mean[next] - mean[step]).max(1e-9);
            return offset(step) + side as f64 * 0.5 * share;
        }
        step = next;
    }
    offset(step)
}

/// A straight line by least squares through places (along, across), strays left out; `None` where fewer than
/// four in ten of those looked for agree.
fn through_places(rough: &Piece, found: &[(f64, f64)], looked_for: usize) -> Option<Piece> {
    let mut kept: Vec<(f64, f64)> = found.to_vec();
    let mut middle: Vec<f64> = found.iter().map(|(_, across)| *across).collect();
    middle.sort_by(f64::total_cmp);
    let (mut level, mut slope) = (*middle.get(middle.len() / 2)?, 0.0);
    let mut limit = 2.0;
    for _ in 0..4 {
        kept.clear();
        kept.extend(found.iter().filter(|(along, across)| (across - level - slope * along).abs() <= limit));
        if kept.len() < 2 || kept.len() * 10 < looked_for * 4 {
            return None;
        }
        (level, slope) = least_squares(&kept)?;
        let scatter =
            kept.iter().map(|(along, across)| (across - level - slope * along).powi(2)).sum::<f64>();
        limit = (2.5 * (scatter / kept.len() as f64).sqrt()).max(STRAY);
    }
    let along = rough.along();
    let right = Vec2::new(-along.y, along.x);
    let length = rough.length();
    let moved = |at: f64| rough.from + along * at + right * (level + slope * at);
    (slope.abs() < 0.3).then(|| Piece { from: moved(0.0), to: moved(length), fitted: true, ..*rough })
}

/// Level and slope.
fn least_squares(points: &[(f64, f64)]) -> Option<(f64, f64)> {
    let count = points.len() as f64;
    let (x, y) =
        points.iter().fold((0.0, 0.0), |sum, point| (sum.0 + point.0 / count, sum.1 + point.1 / count));
    let (mut xx, mut xy) = (0.0, 0.0);
    for point in points {
        xx += (point.0 - x) * (point.0 - x);
        xy += (point.0 - x) * (point.1 - y);
    }
    let slope = if xx > 1e-9 { xy / xx } else { 0.0 };
    let level = y - slope * x;
    level.is_finite().then_some((level, slope))
}
