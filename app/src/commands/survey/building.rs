//! A model of a building: its storeys with walls, openings and rooms, straight into the plan.

use pattress_model::edit::verbs;
use pattress_model::survey::ifc::{Building, Note, Storey, read_ifc};

use super::Surveyed;
use super::wish::{ScaleWish, TurnWish, Wish};
use crate::commands::Stop;

/// Brings the storeys asked for into the plan.
pub fn bring_in(plan: &mut Surveyed, wish: &Wish, bytes: &[u8]) -> Result<(), Stop> {
    let plain = matches!(wish.scale, ScaleWish::AsStated)
        && matches!(wish.turn, TurnWish::By(by) if by.as_radians() == 0.0);
    if !plain {
        return Err(Stop::unreadable(format!(
            "“{}” is a model in true lengths: leave out --scale, --length, --turn and --corners",
            wish.name
        )));
    }
    let building = read_ifc(bytes, &|_| true)
        .map_err(|error| Stop::unreadable(format!("“{}” can't be brought in: {error}", wish.name)))?;
    let storeys = chosen(&building, wish)?;
    let (change, _) = verbs::bring_in_building(&plan.project, &building, &storeys).map_err(Stop::not_done)?;
    plan.take_in(change)?;
    storeys.iter().for_each(|found| tell_storey(plan, found));
    tell_notes(plan, "Not understood", &building.not_understood);
    tell_notes(plan, "Left out", &building.left_out);
    Ok(())
}

fn chosen<'a>(building: &'a Building, wish: &Wish) -> Result<Vec<&'a Storey>, Stop> {
    if let Some(missing) = wish
        .storeys
        .iter()
        .find(|name| !building.storeys.iter().any(|there| verbs::same_storey(&there.name, name)))
    {
        let names: Vec<String> = building.storeys.iter().map(|there| format!("“{}”", there.name)).collect();
        return Err(Stop::unreadable(format!(
            "“{}” has no storey “{missing}”: it has {}",
            wish.name,
            names.join(", ")
        )));
    }
    let wanted = |there: &&Storey| {
        wish.storeys.is_empty() || wish.storeys.iter().any(|name| verbs::same_storey(&there.name, name))
    };
    Ok(building.storeys.iter().filter(wanted).collect())
}

fn tell_storey(plan: &mut Surveyed, found: &Storey) {
    let proposal = &found.proposal;
    plan.tell(format!(
        "{}: {} walls, {} openings, {} rooms, floor {:+.0} mm above the datum",
        found.name,
        proposal.walls.len(),
        proposal.openings.len(),
        proposal.rooms.len(),
        found.floor_above_datum.as_mm(),
    ));
}

fn tell_notes(plan: &mut Surveyed, heading: &str, notes: &[Note]) {
    for note in notes {
        plan.tell(format!("{heading}: {} ({} ×, first {})", note.what, note.count, note.example));
    }
}
