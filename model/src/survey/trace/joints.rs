//! Joints: where the ends of walls go.
//!
//! A wall that stops at a door or a window beside another wall runs on through it. An end at another wall is
//! then drawn out, or cut back, to that wall's axis, since our walls meet axis to axis.

use super::arcs::Arc;
use super::facing::THICKEST_MM;
use super::material::Material;
use super::runs::{Hole, Run};
use super::signs::{Gap, Signs};
use crate::plan::{Hand, Side};
use crate::survey::{ProposedDoor, ProposedForm};

/// An opening is no narrower than this, mm.
const NARROWEST_OPENING_MM: f64 = 250.0;

/// Nor wider than this, mm.
const WIDEST_OPENING_MM: f64 = 7000.0;

/// Gaps narrower than this are slips of the pen, mm.
const SLIP_MM: f64 = 60.0;

/// A gap that starts farther than this from an end lies beyond a wall that it meets, mm.
const SAME_END_MM: f64 = 60.0;

/// Beyond a wall only doors may be wider than this, mm: furniture has lines too.
const WIDEST_PAST_A_WALL_MM: f64 = 2500.0;

/// The arc of a door drawn on an unbroken wall starts this near to its face, mm.
const ARC_FROM_FACE_MM: f64 = 40.0;

/// Nor anything of which there are no surer signs.
const SURE_PAST_A_WALL: f64 = 0.85;

/// Most openings that follow each other beyond one end.
const MOST_IN_A_ROW: usize = 8;

/// An end may miss the face of the wall it meets by this, mm.
const GIVE_MM: f64 = 40.0;

/// Walls that meet under a smaller angle run along each other, as the sine (about 10°).
const LEAST_ANGLE: f64 = 0.17;

/// Lengthens runs through a door or window between their end and the next wall ahead.
pub(super) fn run_on_through_openings(runs: &mut [Run], material: &Material, signs: &Signs<'_>, noise: f64) {
    for index in 0..runs.len() {
        for outwards in [-1.0, 1.0] {
            // A door, a pier and a window may follow each other.
            for _ in 0..MOST_IN_A_ROW {
                let Some(hole) = opening_ahead(runs, index, outwards, material, signs, noise) else { break };
                let run = &mut runs[index];
                (run.from, run.to) = (run.from.min(hole.from), run.to.max(hole.to));
                run.holes.push(hole);
                run.holes.sort_by(|a, b| a.from.total_cmp(&b.from));
            }
        }
    }
}

fn opening_ahead(
    runs: &[Run],
    index: usize,
    outwards: f64,
    material: &Material,
    signs: &Signs<'_>,
    noise: f64,
) -> Option<Hole> {
    let run = &runs[index];
    let (near, far) = gap_ahead(run, outwards, material, noise)?;
    let (from, to) = if outwards > 0.0 { (near, far) } else { (far, near) };
    let middle = run.at(f64::midpoint(from, to));
    if runs.iter().enumerate().any(|(other, run)| other != index && run.holds(middle, 0.0)) {
        return None;
    }
    let (form, confidence) =
        signs.in_gap(Gap { a: run.at(from), b: run.at(to), thickness: run.thickness })?;
    let end = if outwards > 0.0 { run.to } else { run.from };
    let is_past_a_wall = (near - end).abs() > SAME_END_MM;
    let is_sure = matches!(form, ProposedForm::Door(_)) || confidence >= SURE_PAST_A_WALL;
    let may_be = !is_past_a_wall || is_sure || to - from <= WIDEST_PAST_A_WALL_MM;
    may_be.then_some(Hole { from, to, form, confidence })
}

/// The gap between an end, or the wall that it meets, and the next wall ahead, as places along the run.
fn gap_ahead(run: &Run, outwards: f64, material: &Material, noise: f64) -> Option<(f64, f64)> {
    let end = if outwards > 0.0 { run.to } else { run.from };
    let direction = run.along * outwards;
    // From just within the wall, so that its own face is met as the start of the gap.
    let start = run.at(end) - direction * (5.0 + noise);
    let farthest = start + direction * (WIDEST_OPENING_MM + THICKEST_MM);
    let gap = material.voids(start, farthest).into_iter().find(|void| void.to - void.from > SLIP_MM)?;
    let place = |at: f64| end + outwards * (at - 5.0 - noise);
    let is_opening = gap.from <= THICKEST_MM
        && gap.face_at_to > 0.0
        && (NARROWEST_OPENING_MM..=WIDEST_OPENING_MM).contains(&(gap.to - gap.from));
    is_opening.then(|| (place(gap.from), place(gap.to)))
}

/// Adds the doors whose arcs are drawn at the face of a wall that runs on unbroken.
pub(super) fn doors_in_unbroken_walls(runs: &mut [Run], arcs: &[Arc]) {
    for arc in arcs {
        if runs.iter().any(|run| is_hung_in(run, arc)) {
            continue;
        }
        let found = runs.iter().enumerate().find_map(|(index, run)| Some((index, door_on(run, arc)?)));
        if let Some((index, hole)) = found {
            runs[index].holes.push(hole);
            runs[index].holes.sort_by(|a, b| a.from.total_cmp(&b.from));
        }
    }
}

/// Whether the arc belongs to a door of the run.
fn is_hung_in(run: &Run, arc: &Arc) -> bool {
    let (along, aside) = run.place(arc.centre);
    let near = 0.15 * arc.radius + 50.0;
    let at_jamb = |hole: &Hole| (hole.from - along).abs() <= near || (hole.to - along).abs() <= near;
    aside.abs() <= run.thickness / 2.0 + 200.0
        && run.holes.iter().any(|hole| matches!(hole.form, ProposedForm::Door(_)) && at_jamb(hole))
}

fn door_on(run: &Run, arc: &Arc) -> Option<Hole> {
    let reach = run.thickness / 2.0 + ARC_FROM_FACE_MM;
    let hinge = run.place(arc.centre);
    let (start, end) = (run.place(arc.start), run.place(arc.end));
    let (shut, open) =
        if (start.1 - hinge.1).abs() < (end.1 - hinge.1).abs() { (start, end) } else { (end, start) };
    let stands_in = hinge.1.abs() <= reach && (shut.1 - hinge.1).abs() <= 0.1 * arc.radius;
    let opens = (open.1 - hinge.1).abs() >= 0.6 * arc.radius && (open.0 - hinge.0).abs() <= 0.4 * arc.radius;
    let (from, to) = (hinge.0.min(shut.0), hinge.0.max(shut.0));
    let lies_on = from >= run.from && to <= run.to;
    let is_free = run.holes.iter().all(|hole| hole.to <= from + 20.0 || hole.from >= to - 20.0);
    if !(stands_in && opens && lies_on && is_free) {
        return None;
    }
    let hand = if hinge.0 < shut.0 { Hand::Start } else { Hand::End };
    let swing = if open.1 > hinge.1 { Side::Left } else { Side::Right };
    let form = ProposedForm::Door(Some(ProposedDoor { hinge: hand, swing }));
    // A free place may still share a slip with its neighbours.
    let from =
        run.holes.iter().filter(|hole| hole.to <= from + 20.0).fold(from, |from, hole| from.max(hole.to));
    let to = run.holes.iter().filter(|hole| hole.from >= to - 20.0).fold(to, |to, hole| to.min(hole.from));
    (to > from).then_some(Hole { from, to, form, confidence: 0.6 })
}

/// Brings every end that meets another wall to that wall's axis.
pub(super) fn ends_to_axes(runs: &mut [Run], noise: f64) {
    let before = runs.to_vec();
    for (index, run) in runs.iter_mut().enumerate() {
        for outwards in [-1.0, 1.0] {
            let Some(end) = end_at_axis(&before, index, outwards, noise) else { continue };
            // A hole keeps its place; an end never passes one.
            if outwards > 0.0 {
                run.to = end.max(run.holes.last().map_or(f64::NEG_INFINITY, |hole| hole.to));
            } else {
                run.from = end.min(run.holes.first().map_or(f64::INFINITY, |hole| hole.from));
            }
        }
    }
}

fn end_at_axis(runs: &[Run], index: usize, outwards: f64, noise: f64) -> Option<f64> {
    let run = &runs[index];
    let end = if outwards > 0.0 { run.to } else { run.from };
    let give = GIVE_MM + 2.0 * noise;
    let mut best: Option<f64> = None;
    for (other, that) in runs.iter().enumerate() {
        if other == index {
            continue;
        }
        let sine = run.along.cross(that.along);
        if sine.abs() < LEAST_ANGLE {
            if carries_on(run, end, that, give) {
                return None;
            }
            continue;
        }
        let meets = (that.origin - run.origin).cross(that.along) / sine;
        let (on_that, _) = that.place(run.at(meets));
        let room = run.thickness / 2.0 / sine.abs() + give;
        let reach = that.thickness / 2.0 / sine.abs() + give;
        let is_there = (that.from - room..=that.to + room).contains(&on_that);
        let shift = (meets - end) * outwards;
        if is_there
            && shift.abs() <= reach
            && best.is_none_or(|best| (meets - end).abs() < (best - end).abs())
        {
            best = Some(meets);
        }
    }
    best.filter(|end| if outwards > 0.0 { *end > run.from + 1.0 } else { *end < run.to - 1.0 })
}

/// Whether a parallel wall of another thickness goes on from an end.
fn carries_on(run: &Run, end: f64, that: &Run, give: f64) -> bool {
    let touches = |at: f64| {
        let (along, aside) = run.place(that.at(at));
        (along - end).abs() <= give && aside.abs() <= (run.thickness + that.thickness) / 2.0
    };
    touches(that.from) || touches(that.to)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Point, Vec2};

    fn run(origin: (f64, f64), along: (f64, f64), length: f64, thickness: f64) -> Run {
        let along = Vec2::new(along.0, along.1);
        let origin = Point::new(origin.0, origin.1);
        Run { origin, along, from: 0.0, to: length, thickness, holes: Vec::new(), drawn: length }
    }

    #[test]
    fn ends_reach_the_axis_they_meet() {
        // An outer corner, faces drawn to the inner corner; and a partition that stops at the face.
        let mut runs = vec![
            run((300.0, 150.0), (1.0, 0.0), 4700.0, 300.0),
            run((150.0, 300.0), (0.0, 1.0), 3700.0, 300.0),
            run((2000.0, 300.0), (0.0, 1.0), 2000.0, 100.0),
        ];
        ends_to_axes(&mut runs, 0.0);
        assert_eq!(runs[0].at(runs[0].from), Point::new(150.0, 150.0));
        assert_eq!(runs[1].at(runs[1].from), Point::new(150.0, 150.0));
        assert_eq!(runs[2].at(runs[2].from), Point::new(2000.0, 150.0));
        assert_eq!(runs[0].at(runs[0].to), Point::new(5000.0, 150.0));
    }

    #[test]
    fn a_nib_beyond_a_crossing_stays() {
        let mut runs = vec![
            run((0.0, 0.0), (1.0, 0.0), 4000.0, 100.0),
            run((2000.0, -150.0), (0.0, 1.0), 2000.0, 100.0),
        ];
        ends_to_axes(&mut runs, 0.0);
        assert_eq!(runs[1].from, 0.0);
    }
}
