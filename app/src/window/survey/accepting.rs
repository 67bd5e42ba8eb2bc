//! Parts of an offer as one change of the plan.
//!
//! An opening brings its wall along. What the change leaves out, such as a room whose walls do not close yet, stays
//! on offer: only what came in counts as accepted.

use kurbo::Point;
use pattress_model::edit::verbs::{Defaults, accept_proposal};
use pattress_model::edit::{Change, Entity, Op};
use pattress_model::id::Id;
use pattress_model::plan::Wall;
use pattress_model::project::Project;
use pattress_model::survey::{Part, Proposal};

use super::offer::Offer;

/// The change that lets parts of an offer into the plan, and the parts that come in with it.
///
/// # Errors
/// A sentence, where nothing of them can come in.
pub fn accepting(
    project: &Project,
    offer: &Offer,
    mut parts: Vec<Part>,
) -> Result<(Change, Vec<Part>), String> {
    let proposal = offer.proposal();
    let hosts: Vec<Part> = parts.iter().filter_map(|part| host_of(proposal, *part)).collect();
    parts.extend(hosts);
    parts.sort_unstable();
    parts.dedup();
    let change = accept_proposal(project, offer.level(), proposal, Some(&parts), Defaults::default())?;
    parts.retain(|part| comes_in(project, offer, &change, *part));
    Ok((change, parts))
}

/// A wall of the plan, or one that a change brings.
fn wall_of<'a>(project: &'a Project, change: &'a Change, id: Id<Wall>) -> Option<&'a Wall> {
    let brought = change.ops.iter().find_map(|op| match op {
        Op::Put(Entity::Wall(other, wall)) if *other == id => Some(wall.as_ref()),
        _ => None,
    });
    brought.or_else(|| project.walls.get(id))
}

/// The wall of a proposed opening.
fn host_of(proposal: &Proposal, part: Part) -> Option<Part> {
    match part {
        Part::Opening(index) => Some(Part::Wall(proposal.openings.get(index)?.wall)),
        Part::Wall(_) | Part::Room(_) => None,
    }
}

/// Whether a change brings a part. A wall always comes, unless one stands there already.
fn comes_in(project: &Project, offer: &Offer, change: &Change, part: Part) -> bool {
    let Some(place) = offer.place(part) else { return false };
    let near = |point: Point, reach: f64| (point - place).hypot() <= reach;
    let mut put = change.ops.iter().filter_map(|op| match op {
        Op::Put(entity) => Some(entity),
        Op::Remove(_) => None,
    });
    match part {
        Part::Wall(_) => true,
        // Trimmed to fit, an opening keeps half of its width at least.
        Part::Opening(index) => {
            let width = offer.proposal().openings.get(index).map_or(0.0, |opening| opening.width.as_mm());
            put.any(|entity| match entity {
                Entity::Opening(_, opening) => wall_of(project, change, opening.wall)
                    .is_some_and(|wall| near(wall.on_axis(opening.centre), width / 2.0)),
                _ => false,
            })
        }
        Part::Room(_) => put.any(|entity| matches!(entity, Entity::Room(_, room) if near(room.seed, 1.0))),
    }
}
