//! Shadows on the plan of what stands through a part of the heights between a sensor and its target.
//!
//! A sight line from the eye at height h to the target at height t passes the plan fraction s of its way at the height
//! h + (t − h) s. A prism stops it for the s at which that height lies within the prism, from s₀ to s₁; so it hides
//! its own footprint, seen from the eye, enlarged by every factor from 1 / s₁ to 1 / s₀. For a convex footprint that
//! is exactly the convex hull of the two enlarged footprints, and where s₀ is 0 the shadow has no end.

use kurbo::{Point, Rect, Vec2};

use crate::building::obstacle::Prism;
use crate::geometry::Ring;

/// An eye nearer to a footprint than this is taken to be so far from it, mm.
const NEAREST_MM: f64 = 1e-3;

/// The shadow that a prism throws within a range, plan mm; `None` where it hides nothing there. For a prism that spans
/// all heights, which throws an endless shadow from its footprint on, it is that shadow.
pub(super) fn shadow(prism: &Prism, eye: Point, (height, target): (f64, f64), range: f64) -> Option<Ring> {
    let (least, most) = enlargement(prism, height, target)?;
    // What lies beyond the range is of no use, and would cost digits.
    let near = Rect::from_center_size(eye, (2.0 * range / least, 2.0 * range / least)).inflate(1.0, 1.0);
    let meets = prism.bounds.x0 < near.x1
        && near.x0 < prism.bounds.x1
        && prism.bounds.y0 < near.y1
        && near.y0 < prism.bounds.y1;
    if !meets {
        return None;
    }
    let footprint: Vec<Vec2> = prism.footprint.points().iter().map(|corner| *corner - eye).collect();
    let footprint = clipped_to_square(&footprint, range / least + 1.0);
    let distance = distance_from_origin(&footprint)?;
    if distance * least > range {
        return None;
    }
    let most = most.min(1.5 * range / distance.max(NEAREST_MM)).max(least);
    let enlarged = footprint.iter().flat_map(|corner| [*corner * least, *corner * most]);
    let hull = convex_hull(enlarged.collect());
    let kept = clipped_to_square(&hull, 1.5 * range);
    (kept.len() >= 3).then(|| Ring::new(kept.into_iter().map(|corner| eye + corner).collect()))
}

/// The least and the largest factor by which the footprint is enlarged; `None` where no sight line meets the prism.
fn enlargement(prism: &Prism, height: f64, target: f64) -> Option<(f64, f64)> {
    let (low, high) = (height.min(target), height.max(target));
    if prism.spans(low, high) {
        return Some((1.0, f64::INFINITY));
    }
    if prism.top <= low || prism.base >= high {
        return None;
    }
    let part = |z: f64| (z - height) / (target - height);
    let (a, b) = (part(prism.base), part(prism.top));
    let (from, to) = (a.min(b).max(0.0), a.max(b).min(1.0));
    (to > from).then(|| (1.0 / to, if from > 0.0 { 1.0 / from } else { f64::INFINITY }))
}

/// Distance of the origin from a convex polygon; 0 within it, `None` for one without corners.
fn distance_from_origin(corners: &[Vec2]) -> Option<f64> {
    let edges = || corners.iter().zip(corners.iter().cycle().skip(1));
    let outside = corners.len() < 3 || edges().any(|(a, b)| a.cross(*b) < 0.0);
    let nearest = edges().map(|(a, b)| {
        let along = *b - *a;
        let square = along.hypot2();
        let part = if square > 0.0 { (-a.dot(along) / square).clamp(0.0, 1.0) } else { 0.0 };
        (*a + along * part).hypot()
    });
    nearest.reduce(f64::min).map(|distance| if outside { distance } else { 0.0 })
}

/// The part of a convex polygon within a square about the origin of that half width.
fn clipped_to_square(corners: &[Vec2], half: f64) -> Vec<Vec2> {
    let mut kept = corners.to_vec();
    for normal in [Vec2::new(1.0, 0.0), Vec2::new(-1.0, 0.0), Vec2::new(0.0, 1.0), Vec2::new(0.0, -1.0)] {
        if kept.iter().any(|corner| normal.dot(*corner) > half) {
            kept = clipped(&kept, normal, half);
        }
    }
    kept
}

/// The part of a convex polygon on the near side of a line (I. Sutherland, G. Hodgman, "Reentrant polygon clipping",
/// 1974): where the corner's component along the normal is at most the limit.
pub(super) fn clipped(corners: &[Vec2], normal: Vec2, limit: f64) -> Vec<Vec2> {
    let mut kept = Vec::with_capacity(corners.len() + 2);
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (from, to) = (normal.dot(*a) - limit, normal.dot(*b) - limit);
        if from <= 0.0 {
            kept.push(*a);
        }
        if (from < 0.0 && to > 0.0) || (from > 0.0 && to < 0.0) {
            kept.push(*a + (*b - *a) * (from / (from - to)));
        }
    }
    kept
}

/// The convex hull, anticlockwise (A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions",
/// 1979).
fn convex_hull(mut points: Vec<Vec2>) -> Vec<Vec2> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let half = |points: &mut dyn Iterator<Item = Vec2>| {
        let mut chain: Vec<Vec2> = Vec::new();
        for point in points {
            while chain.len() >= 2
                && (chain[chain.len() - 1] - chain[chain.len() - 2]).cross(point - chain[chain.len() - 1])
                    <= 0.0
            {
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut points.iter().copied());
    hull.extend(half(&mut points.iter().rev().copied()));
    hull
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::building::obstacle::{PartOf, Passage};

    fn block(x0: f64, x1: f64, base: f64, top: f64) -> Prism {
        let bounds = Rect::new(x0, -500.0, x1, 500.0);
        Prism {
            part_of: PartOf::Joinery,
            footprint: Ring::from_rect(bounds),
            bounds,
            base,
            top,
            passage: Passage::None,
        }
    }

    /// An island of 900 mm from 2 m to 3 m, seen from 2.2 m. Similar triangles: the line over its far edge to the floor
    /// meets the floor at 3 m × 2.2 / 1.3; to a seated target at 0.8 m at 3 m × 1.4 / 1.3; over the walking target
    /// at 1.3 m it throws none.
    #[test]
    fn an_island_hides_the_floor_behind_it() {
        for (target, reaches) in
            [(0.0, Some(3000.0 * 2.2 / 1.3)), (800.0, Some(3000.0 * 1.4 / 1.3)), (1300.0, None)]
        {
            let thrown = shadow(&block(2000.0, 3000.0, 0.0, 900.0), Point::ZERO, (2200.0, target), 12_000.0);
            let end = thrown.and_then(|ring| ring.bounds()).map(|bounds| (bounds.x0, bounds.x1));
            match (reaches, end) {
                (None, None) => {}
                (Some(expected), Some((x0, x1))) => {
                    assert!(
                        (x1 - expected).abs() < 1e-6
                            && (x0 - 2000.0 * (expected / 3000.0).min(1.0)).abs() < 1e-6,
                        "{target}: {x0} {x1}"
                    );
                }
                other => panic!("{target}: {other:?}"),
            }
        }
    }

    /// Wall units from 1.4 m to 2.1 m, 1 m off, hide a seated person from 2.2 m onwards between the lines past
    /// their top front and bottom back edges.
    #[test]
    fn what_hangs_hides_what_lies_between_two_lines() {
        let thrown = shadow(&block(1000.0, 1300.0, 1400.0, 2100.0), Point::ZERO, (2200.0, 800.0), 20_000.0);
        let bounds = thrown.and_then(|ring| ring.bounds()).expect("a shadow");
        assert!((bounds.x0 - 1000.0 * 1400.0 / 800.0).abs() < 1e-6, "{bounds:?}");
        assert!((bounds.x1 - 1300.0 * 1400.0 / 100.0).abs() < 1e-6, "{bounds:?}");
    }

    /// At the height of the eye a shadow has no end, and is cut where the range ends.
    #[test]
    fn what_stands_at_the_height_of_the_eye_hides_without_end() {
        let thrown = shadow(&block(1000.0, 1300.0, 1400.0, 2300.0), Point::ZERO, (2200.0, 800.0), 5000.0);
        let bounds = thrown.and_then(|ring| ring.bounds()).expect("a shadow");
        assert!((bounds.x0 - 1750.0).abs() < 1e-6 && (bounds.x1 - 7500.0).abs() < 1e-6, "{bounds:?}");
        assert_eq!(
            shadow(&block(4000.0, 4300.0, 1400.0, 2300.0), Point::ZERO, (2200.0, 800.0), 5000.0),
            None
        );
    }
}
