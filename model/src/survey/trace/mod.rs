//! Trace for me: walls, openings and rooms from the lines, areas and lettering of a page.
//!
//! What is drawn is laid on the plan; faces that face each other across wall material make bands, bands on one
//! axis make walls, and what lies in their gaps makes doors and windows. Walls are then brought axis to axis,
//! what does not hang together with the house is dropped, and the spaces between walls are the rooms.

mod arcs;
mod clutter;
mod facing;
mod faint;
mod ink;
mod joints;
mod material;
mod outline;
mod rooms;
mod runs;
mod signs;
mod solid;
mod straight;
#[cfg(test)]
mod tests;

use kurbo::Affine;

use super::{Page, Proposal, ProposedOpening, ProposedWall};
use crate::units::Length;
use ink::ink_of;
use joints::{doors_in_unbroken_walls, ends_to_axes, run_on_through_openings};
use material::Material;
use runs::{Run, runs_of};
use signs::Signs;

/// A page with so much filled wall draws no other walls in outline, mm.
const ENOUGH_FILLED_MM: f64 = 15_000.0;

/// Walls shorter than this are not proposed, mm.
const SHORTEST_WALL_MM: f64 = 60.0;

/// Proposes walls, openings and rooms for what a page shows, in plan millimetres.
///
/// `plan_from_drawing` lays the page on the plan, so the scale of the drawing must be known by then.
/// `keep_going` is told how much is done, from 0 to 1; where it answers no, tracing stops and gives `None`.
/// A page on which nothing looks like a wall gives an empty proposal.
pub fn trace_page(
    page: &Page,
    plan_from_drawing: Affine,
    keep_going: &dyn Fn(f32) -> bool,
) -> Option<Proposal> {
    let ink = ink_of(page, plan_from_drawing, &|done| keep_going(0.2 * done))?;
    let filled = solid::solid_walls(&ink, &|done| keep_going(0.2 + 0.1 * done))?;
    let walls = if filled.wall_length() >= ENOUGH_FILLED_MM {
        filled
    } else {
        let outlined = outline::outlined_walls(&ink, &|done| keep_going(0.3 + 0.1 * done))?;
        if outlined.wall_length() > filled.wall_length() { outlined } else { filled }
    };
    let signs = Signs::of_ink(&ink);
    let material = Material::of_faces(&walls.faces);
    let mut runs = runs_of(&walls.bands, &material, &signs, ink.noise, &|done| keep_going(0.4 + 0.4 * done))?;
    run_on_through_openings(&mut runs, &material, &signs, ink.noise);
    let mut runs = clutter::without_clutter(runs, &ink);
    ends_to_axes(&mut runs, ink.noise);
    doors_in_unbroken_walls(&mut runs, &ink.arcs);
    if !keep_going(0.9) {
        return None;
    }
    let mut proposal = proposal_of(&runs);
    proposal.rooms = rooms::rooms_between(&proposal.walls, page, plan_from_drawing);
    keep_going(1.0).then_some(proposal)
}

fn proposal_of(runs: &[Run]) -> Proposal {
    let mut proposal = Proposal::default();
    for run in runs.iter().filter(|run| run.length() >= SHORTEST_WALL_MM) {
        let wall = proposal.walls.len();
        proposal.walls.push(ProposedWall {
            start: run.at(run.from),
            end: run.at(run.to),
            thickness: Length::mm(run.thickness),
            height: None,
            make_up: None,
            confidence: confidence_of(run),
        });
        for hole in &run.holes {
            let (from, to) = (hole.from.max(run.from), hole.to.min(run.to));
            proposal.openings.push(ProposedOpening {
                wall,
                centre: Length::mm(f64::midpoint(from, to) - run.from),
                width: Length::mm(to - from),
                sill: None,
                head: None,
                form: hole.form,
                confidence: hole.confidence,
            });
        }
    }
    proposal
}

/// A wall is the surer the longer it is drawn and the more of it is drawn rather than bridged.
fn confidence_of(run: &Run) -> f64 {
    let slender = (run.drawn / (4.0 * run.thickness).max(1.0)).min(1.0);
    let drawn = (run.drawn / run.length().max(1.0)).min(1.0);
    (0.4 + 0.4 * slender + 0.2 * drawn).min(0.98)
}
