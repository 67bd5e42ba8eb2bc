//! What a pointer catches on a picture: edges, fine lines, corners, and how thick a wall is drawn.
//!
//! The nearest place where the tone changes strongly is found around the pointer; there the line is fitted to
//! the shades of grey over a few pixels, so that a click lands on the drawing to a small share of a pixel.
//! Places are pixels of the picture, x right, y down, whole numbers at the corners of pixels.

use kurbo::{Point, Vec2};

use super::Greyscale;
use super::grey::{Piece, fitted_centre, fitted_edge, tone_at};

/// What was caught.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeKind {
    /// Where dark meets light.
    Edge,
    /// The middle of a fine dark line.
    Line,
    /// Where two of those meet.
    Corner,
}

/// A place on the drawing near the pointer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeHit {
    /// Where it lies, pixels.
    pub point: Point,
    /// Unit vector along the edge or line; along one of the two at a corner.
    pub direction: Vec2,
    /// What it is.
    pub kind: EdgeKind,
}

/// Pointers reach no further than this, pixels, so that each look is quick.
const FURTHEST_REACH: f64 = 32.0;
/// Half the length over which a line is fitted, pixels.
const HALF_FIT: f64 = 6.0;
/// Gradients (Sobel's sums) below this are grain of the paper.
const LEAST_GRADIENT: i32 = 120;
/// Lines up to this wide are caught by their middle, wider ones by their edges, pixels.
const WIDEST_LINE: f64 = 5.0;
/// Two directions nearer to each other than this (sine) make no corner.
const CORNER_SINE: f64 = 0.4;
/// Coherence of the directions around a pixel on a straight edge: 1 without noise, 0 where they point anywhere.
const STRAIGHTNESS: f64 = 0.85;
/// Tones differ by at least this much between paper and ink.
const LEAST_CONTRAST: f64 = 30.0;

/// A pixel where the tone changes.
#[derive(Clone, Copy)]
struct Change {
    at: Point,
    /// Unit vector towards lighter.
    lighter: Vec2,
    distance: f64,
}

/// The corner, edge or fine line nearest to a place, within `reach` pixels; corners are preferred.
pub fn nearest_edge(picture: &Greyscale, at: Point, reach: f64) -> Option<EdgeHit> {
    let reach = if reach > 0.0 { reach.min(FURTHEST_REACH) } else { return None };
    let mut changes = changes_near(picture, at, reach);
    changes.retain(|change| runs_straight(picture, change));
    let (first, caught) =
        changes.iter().take(12).find_map(|change| Some((change, fitted(picture, change)?)))?;
    // Walls mostly meet squarely: what runs across is tried before what runs aslant, such as a rounded corner.
    let corner = [0.8, CORNER_SINE].into_iter().find_map(|sine| {
        let other_ways = changes.iter().filter(|change| {
            change.lighter.cross(first.lighter).abs() > sine && (change.at - first.at).hypot() < reach
        });
        other_ways
            .take(6)
            .find_map(|change| corner_of(picture, caught, change))
            .filter(|corner| (*corner - at).hypot() <= reach)
    });
    let (piece, kind) = caught;
    let direction = piece.along();
    if let Some(point) = corner {
        return Some(EdgeHit { point, direction, kind: EdgeKind::Corner });
    }
    let point = piece.from + direction * (at - piece.from).dot(direction);
    ((point - at).hypot() <= reach).then_some(EdgeHit { point, direction, kind })
}

/// Where what was caught meets what runs through another change of tone.
fn corner_of(picture: &Greyscale, caught: (Piece, EdgeKind), change: &Change) -> Option<Point> {
    let other = fitted(picture, change)?;
    let (mut one, mut two) = (caught.0, other.0);
    let mut corner = crossing(&one, &two)?;
    // The corner lies where both are drawn, not where they would meet if they went on.
    if (corner - change.at).hypot() > HALF_FIT + 2.0 {
        return None;
    }
    for _ in 0..2 {
        one = fitted_clear_of(picture, corner, one, caught.1).unwrap_or(one);
        two = fitted_clear_of(picture, corner, two, other.1).unwrap_or(two);
        corner = crossing(&one, &two)?;
    }
    Some(corner)
}

/// Where two lines cross, if they run in different directions.
fn crossing(one: &Piece, other: &Piece) -> Option<Point> {
    let (a, b) = (one.along(), other.along());
    let sine = a.cross(b);
    (sine.abs() > CORNER_SINE).then(|| one.from + a * ((other.from - one.from).cross(b) / sine))
}

/// An edge or line fitted again on the side of a corner where it is drawn, clear of the corner's rounding.
fn fitted_clear_of(picture: &Greyscale, corner: Point, piece: Piece, kind: EdgeKind) -> Option<Piece> {
    let along = piece.along();
    let middle = corner + along * (piece.from.midpoint(piece.to) - corner).dot(along);
    let forwards = (middle - corner).dot(along) >= 0.0;
    let fit = |forwards: bool| {
        let (near, far) = if forwards { (2.0, 2.0 + 2.0 * HALF_FIT) } else { (-2.0 - 2.0 * HALF_FIT, -2.0) };
        let rough = Piece::plain(corner + along * near, corner + along * far);
        if kind == EdgeKind::Line {
            fitted_centre(picture, &rough, WIDEST_LINE)
        } else {
            fitted_edge(picture, &rough)
        }
    };
    fit(forwards).or_else(|| fit(!forwards))
}

/// Strong changes of tone within reach, nearest first.
fn changes_near(picture: &Greyscale, at: Point, reach: f64) -> Vec<Change> {
    let inside = |place: f64, size: usize| place.is_finite() && place > -reach && place < size as f64 + reach;
    if picture.width() < 3 || !inside(at.x, picture.width()) || !inside(at.y, picture.height()) {
        return Vec::new();
    }
    let span = |place: f64, size: usize| {
        let from = (place - reach).max(1.0) as usize;
        from..((place + reach).max(0.0) as usize + 1).min(size.saturating_sub(1)).max(from)
    };
    let mut found: Vec<(i32, Change)> = Vec::new();
    for y in span(at.y, picture.height()) {
        for x in span(at.x, picture.width()) {
            let place = Point::new(x as f64 + 0.5, y as f64 + 0.5);
            let distance = (place - at).hypot();
            let (across, down) = gradient(picture, x, y);
            let strength = across.abs() + down.abs();
            if distance <= reach && strength >= LEAST_GRADIENT {
                let lighter = Vec2::new(f64::from(across), f64::from(down));
                found.push((strength, Change { at: place, lighter: lighter / lighter.hypot(), distance }));
            }
        }
    }
    let strongest = found.iter().map(|(strength, _)| *strength).max().unwrap_or(0);
    let mut changes: Vec<Change> = found
        .into_iter()
        .filter(|(strength, _)| *strength * 10 >= strongest * 4)
        .map(|(_, change)| change)
        .collect();
    changes.sort_by(|a, b| a.distance.total_cmp(&b.distance));
    changes
}

/// Towards lighter, x right and y down: Sobel's sums.
fn gradient(picture: &Greyscale, x: usize, y: usize) -> (i32, i32) {
    let tone = |dx: usize, dy: usize| i32::from(picture.at(x + dx - 1, y + dy - 1));
    let across = tone(2, 0) + 2 * tone(2, 1) + tone(2, 2) - tone(0, 0) - 2 * tone(0, 1) - tone(0, 2);
    let down = tone(0, 2) + 2 * tone(1, 2) + tone(2, 2) - tone(0, 0) - 2 * tone(1, 0) - tone(2, 0);
    (across, down)
}

/// The edge or line that runs through a change of tone.
fn fitted(picture: &Greyscale, change: &Change) -> Option<(Piece, EdgeKind)> {
    let lighter = steadied(picture, change);
    // With paper to the left of the way.
    let along = Vec2::new(-lighter.y, lighter.x);
    let rough = |middle: Point| Piece::plain(middle - along * HALF_FIT, middle + along * HALF_FIT);
    // A fine line has its middle to the dark side, and paper again beyond.
    let dark = (0..=8)
        .map(|step| change.at - lighter * (f64::from(step) * 0.5))
        .min_by(|a, b| tone_at(picture, *a).total_cmp(&tone_at(picture, *b)))?;
    let line = fitted_centre(picture, &rough(dark), WIDEST_LINE).filter(|line| line.width <= WIDEST_LINE);
    if let Some(line) = line {
        let beyond =
            |side: f64| (3..=5).map(move |step| tone_at(picture, dark + lighter * (side * f64::from(step))));
        let lightest_beyond = beyond(-1.0).fold(0.0_f64, f64::max);
        let lightest_before = beyond(1.0).fold(0.0_f64, f64::max);
        if lightest_beyond.min(lightest_before) - line.ink > LEAST_CONTRAST {
            return Some((line, EdgeKind::Line));
        }
    }
    fitted_edge(picture, &rough(change.at)).map(|edge| (edge, EdgeKind::Edge))
}

/// Whether the tone changes in one direction all around: not so at corners, in lettering and in grain.
fn runs_straight(picture: &Greyscale, change: &Change) -> bool {
    let (x, y) = (change.at.x as usize, change.at.y as usize);
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for row in y.saturating_sub(2).max(1)..=y + 2 {
        for column in x.saturating_sub(2).max(1)..=x + 2 {
            let (across, down) = gradient(picture, column, row);
            let (across, down) = (f64::from(across), f64::from(down));
            (xx, xy, yy) = (xx + across * across, xy + across * down, yy + down * down);
        }
    }
    // Coherence of the structure tensor (Bigün and Granlund 1987).
    ((xx - yy).powi(2) + 4.0 * xy * xy).sqrt() > STRAIGHTNESS * (xx + yy)
}

/// The direction towards lighter, steadied by the pixels around that agree with it.
fn steadied(picture: &Greyscale, change: &Change) -> Vec2 {
    let mut sum = change.lighter;
    let (x, y) = (change.at.x as usize, change.at.y as usize);
    for row in y.saturating_sub(3).max(1)..=y + 3 {
        for column in x.saturating_sub(3).max(1)..=x + 3 {
            let (across, down) = gradient(picture, column, row);
            let own = Vec2::new(f64::from(across), f64::from(down));
            if own.dot(change.lighter) > 0.85 * own.hypot() {
                sum += own / 64.0;
            }
        }
    }
    sum / sum.hypot().max(1e-9)
}

/// How thick the wall at a place is drawn, pixels, measured along `across`; `None` where no wall is seen within
/// `most` pixels to either side.
///
/// A wall drawn solid is measured from edge to edge, one drawn in outline from the middle of one line to the
/// middle of the other.
pub fn wall_thickness_at(picture: &Greyscale, at: Point, across: Vec2, most: f64) -> Option<f64> {
    let length = across.hypot();
    let usable = at.is_finite() && length.is_finite() && length > 0.0 && most > 0.0;
    if !usable {
        return None;
    }
    let across = across / length;
    let along = Vec2::new(-across.y, across.x);
    let most = most.min(600.0);
    // Tones averaged over a few pixels along the wall, so that grain does not tell.
    let tone = |offset: f64| {
        (-3..=3).map(|step| tone_at(picture, at + across * offset + along * f64::from(step))).sum::<f64>()
            / 7.0
    };
    let steps = (most * 2.0).ceil() as i32 + 4;
    let tones: Vec<f64> = (-steps..=steps).map(|step| tone(f64::from(step) * 0.5)).collect();
    let (ink, paper) =
        tones.iter().fold((255.0_f64, 0.0_f64), |(low, high), tone| (low.min(*tone), high.max(*tone)));
    if paper - ink < LEAST_CONTRAST {
        return None;
    }
    let half = f64::midpoint(paper, ink);
    let middle = steps as usize;
    let solid = tones[middle] < half;
    let side = |step: isize| {
        let first = change_from(&tones, middle, step, half, solid)?;
        if solid {
            return Some(first);
        }
        let second =
            change_from(&tones, (middle as isize + step * first.ceil() as isize) as usize, step, half, true)?;
        Some(f64::midpoint(first, first.ceil() + second))
    };
    let thickness = (side(1)? + side(-1)?) * 0.5;
    (thickness <= most).then_some(thickness)
}

/// Steps from a place to where the tone passes `half`, from dark to light or the other way.
fn change_from(tones: &[f64], start: usize, step: isize, half: f64, from_dark: bool) -> Option<f64> {
    let mut index = start;
    let mut steps = 0.0;
    loop {
        let next = index.checked_add_signed(step).filter(|next| *next < tones.len())?;
        let (own, ahead) = (tones[index], tones[next]);
        if (ahead >= half) == from_dark {
            return Some(steps + ((half - own) / (ahead - own)).clamp(0.0, 1.0));
        }
        (index, steps) = (next, steps + 1.0);
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::drawn::Sheet;
    use super::*;

    fn corner_of_a_wall(degrees: f64) -> Sheet {
        let mut sheet = Sheet::new(160, 160);
        sheet.turn = degrees;
        sheet.block((60.3, 60.3, 140.0, 84.7), 40);
        sheet.block((60.3, 60.3, 84.7, 140.0), 40);
        sheet
    }

    #[test]
    fn edges_and_corners_are_caught_to_a_fifth_of_a_pixel() {
        for degrees in [0.0, 2.3, -11.0, 30.0] {
            let sheet = corner_of_a_wall(degrees);
            let picture = sheet.picture(5.0, 0.1);
            let place = sheet.picture_from_sheet();
            let caught = nearest_edge(&picture, place * Point::new(110.0, 57.0), 8.0).unwrap();
            let found = place.inverse() * caught.point;
            assert_eq!(caught.kind, EdgeKind::Edge, "{degrees}");
            assert!((found.y - 60.3).abs() < 0.2, "{degrees}: {found:?}");
            for (corner, near) in [((60.3, 60.3), (57.0, 58.0)), ((84.7, 84.7), (87.0, 88.0))] {
                let caught = nearest_edge(&picture, place * Point::from(near), 9.0).unwrap();
                let found = place.inverse() * caught.point;
                assert_eq!(caught.kind, EdgeKind::Corner, "{degrees} {near:?}");
                assert!((found - Point::from(corner)).hypot() < 0.4, "{degrees}: {found:?}");
            }
        }
    }

    #[test]
    fn a_fine_line_is_caught_by_its_middle() {
        for degrees in [0.0, 7.0] {
            let mut sheet = Sheet::new(160, 160);
            sheet.turn = degrees;
            sheet.block((20.0, 70.25, 140.0, 72.25), 30);
            let picture = sheet.picture(5.0, 0.1);
            let place = sheet.picture_from_sheet();
            let caught = nearest_edge(&picture, place * Point::new(80.0, 75.0), 8.0).unwrap();
            assert_eq!(caught.kind, EdgeKind::Line);
            assert!(((place.inverse() * caught.point).y - 71.25).abs() < 0.2);
            assert!(
                caught.direction.cross(place * Point::new(1.0, 0.0) - place * Point::ORIGIN).abs() < 0.03
            );
            assert_eq!(nearest_edge(&picture, place * Point::new(80.0, 100.0), 8.0), None);
        }
    }

    #[test]
    fn thickness_is_read_off_solid_walls_and_outlined_ones() {
        let mut sheet = corner_of_a_wall(5.0);
        sheet.block((100.0, 100.0, 140.0, 102.0), 40);
        sheet.block((100.0, 118.5, 140.0, 120.5), 40);
        let picture = sheet.picture(5.0, 0.1);
        let place = sheet.picture_from_sheet();
        let across = place * Point::new(0.0, 1.0) - place * Point::ORIGIN;
        let solid = wall_thickness_at(&picture, place * Point::new(110.0, 70.0), across, 60.0).unwrap();
        assert!((solid - 24.4).abs() < 0.3, "{solid}");
        let outlined = wall_thickness_at(&picture, place * Point::new(120.0, 107.0), across, 30.0).unwrap();
        assert!((outlined - 18.5).abs() < 0.4, "{outlined}");
        assert_eq!(wall_thickness_at(&picture, place * Point::new(30.0, 30.0), across, 20.0), None);
    }

    proptest! {
        #[test]
        fn no_picture_and_no_place_make_it_panic(
            luma in prop::collection::vec(any::<u8>(), 48), x: f64, y in -20.0..20.0_f64, reach in 0.0..40.0_f64,
        ) {
            let picture = Greyscale::new(8, 6, luma).unwrap();
            for place in [Point::new(x, y), Point::new(y, y)] {
                let _ = nearest_edge(&picture, place, reach);
                let _ = wall_thickness_at(&picture, place, Vec2::new(1.0, y), reach);
            }
        }
    }
}
