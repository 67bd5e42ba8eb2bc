//! A model of a building: its storeys with walls, openings and rooms, straight into the plan.

use pattress_model::edit::verbs::{self, Defaults, accept_proposal};
use pattress_model::plan::Level;
use pattress_model::survey::ifc::{Building, Note, Storey, read_ifc};
use pattress_model::units::Length;

use super::wish::{ScaleWish, TurnWish, Wish};
use super::{Surveyed, storey};
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
    site_facts(plan, &building)?;
    for found in storeys {
        take(plan, found)?;
    }
    tell_notes(plan, "Not understood", &building.not_understood);
    tell_notes(plan, "Left out", &building.left_out);
    Ok(())
}

fn chosen<'a>(building: &'a Building, wish: &Wish) -> Result<Vec<&'a Storey>, Stop> {
    if let Some(missing) =
        wish.storeys.iter().find(|name| !building.storeys.iter().any(|there| storey::same(&there.name, name)))
    {
        let names: Vec<String> = building.storeys.iter().map(|there| format!("“{}”", there.name)).collect();
        return Err(Stop::unreadable(format!(
            "“{}” has no storey “{missing}”: it has {}",
            wish.name,
            names.join(", ")
        )));
    }
    let wanted = |there: &&Storey| {
        wish.storeys.is_empty() || wish.storeys.iter().any(|name| storey::same(&there.name, name))
    };
    Ok(building.storeys.iter().filter(wanted).collect())
}

/// The model's name and north, where the plan is new.
fn site_facts(plan: &mut Surveyed, building: &Building) -> Result<(), Stop> {
    if !plan.project.levels_upwards().is_empty() {
        return Ok(());
    }
    let mut site = (*plan.project.site).clone();
    if let Some(name) = building.project.as_deref().map(str::trim).filter(|name| !name.is_empty()) {
        site.project_name = name.to_owned();
    }
    site.north = building.north.unwrap_or(site.north);
    if site == *plan.project.site {
        return Ok(());
    }
    let change = verbs::edit_site(&plan.project, site).map_err(Stop::not_done)?;
    plan.take_in(change)
}

fn take(plan: &mut Surveyed, found: &Storey) -> Result<(), Stop> {
    let usual = Level {
        name: found.name.clone(),
        floor_above_datum: found.floor_above_datum.rounded(),
        ceiling_affl: ceiling_of(found),
    };
    let levels = plan.project.levels_upwards();
    let there = levels.iter().find(|(_, level)| storey::same(&level.name, &found.name)).map(|(id, _)| *id);
    let level = match there {
        Some(id) => id,
        None => storey::add(plan, usual)?,
    };
    let proposal = &found.proposal;
    plan.tell(format!(
        "{}: {} walls, {} openings, {} rooms, floor {:+.0} mm above the datum",
        found.name,
        proposal.walls.len(),
        proposal.openings.len(),
        proposal.rooms.len(),
        found.floor_above_datum.as_mm(),
    ));
    if proposal.walls.is_empty() {
        return Ok(());
    }
    let change =
        accept_proposal(&plan.project, level, proposal, None, Defaults::default()).map_err(Stop::not_done)?;
    plan.take_in(change)
}

/// The ceiling as the model has it; 300 mm below the next floor (common practice, no published source), where it
/// says no more.
fn ceiling_of(found: &Storey) -> Length {
    let below_next = found.height_to_next.map(|height| Length::mm(height.as_mm() - 300.0));
    let known = found.ceiling.or(below_next).filter(|height| height.as_mm() >= 1000.0);
    known.unwrap_or(Length::mm(2400.0)).rounded()
}

fn tell_notes(plan: &mut Surveyed, heading: &str, notes: &[Note]) {
    for note in notes {
        plan.tell(format!("{heading}: {} ({} ×, first {})", note.what, note.count, note.example));
    }
}
