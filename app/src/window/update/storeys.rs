//! Storeys of a building model, straight into the plan as one change: levels, walls, openings and rooms.

use pattress_model::edit::{Change, verbs};
use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::project::Project;
use pattress_model::survey::ifc::{Building, Storey};

use crate::window::board::{Board, Said};
use crate::window::survey::desk::Stand;
use crate::window::survey::reading::What;

use super::commands::FLOOR_BUILD_UP;
use super::survey::{level_added, show_beneath, with};

/// A storey whose ceiling the model does not tell is taken to be so high, mm. Common practice, no published source.
const CEILING_WHERE_UNTOLD: pattress_model::units::Length = pattress_model::units::Length::mm(2400.0);

/// Brings in the chosen storeys of the building on the desk.
pub fn lay(board: &mut Board, ctx: &egui::Context, chosen: &[usize]) {
    let Stand::Read(brought) = board.desk.stand().clone() else { return };
    let What::Building(building) = &brought.what else { return };
    let laid = storeys_change(board.session.project(), building, chosen);
    let (change, first) = match laid {
        Ok(laid) => laid,
        Err(sentence) => return super::refuse(board, sentence),
    };
    let label = format!("Bring in the building from {}", brought.name);
    let rooms_before = board.session.project().rooms.len();
    super::apply(board, ctx, Change { label, ..change });
    if board.said.refused {
        return;
    }
    board.overlay = None;
    board.desk.clear();
    board.session.selection.clear();
    show_beneath(board, ctx, first);
    let named = board.session.project().rooms.len() - rooms_before;
    let told: usize = chosen
        .iter()
        .filter_map(|index| building.storeys.get(*index))
        .map(|storey| storey.proposal.rooms.len())
        .sum();
    let open = match told.saturating_sub(named) {
        0 => String::new(),
        1 => " 1 room that no walls part from its neighbour has no name.".to_owned(),
        count => format!(" {count} rooms that no walls part from their neighbours have no name."),
    };
    let sentence = format!("Brought in {}: check it on site.{open}", brought.name);
    board.said = Said { sentence, refused: false };
}

/// The change that brings storeys in, and the lowest of their levels.
fn storeys_change(
    project: &Project,
    building: &Building,
    chosen: &[usize],
) -> Result<(Change, Id<Level>), String> {
    let mut after = project.clone();
    let mut ops = Vec::new();
    let mut first = None;
    for storey in chosen.iter().filter_map(|index| building.storeys.get(*index)) {
        let (change, level) = level_for(&after, storey)?;
        after = with(&after, &change)?;
        ops.extend(change.ops);
        first.get_or_insert(level);
        let proposal = &storey.proposal;
        if proposal.walls.is_empty() && proposal.rooms.is_empty() {
            continue;
        }
        let accepted = verbs::accept_proposal(&after, level, proposal, None, verbs::Defaults::default())
            .map_err(|sentence| format!("{}: {sentence}", storey.name))?;
        after = with(&after, &accepted)?;
        ops.extend(accepted.ops);
    }
    let first = first.ok_or("no storey is ticked: tick those that you need")?;
    Ok((Change::new("Bring in the building", ops), first))
}

/// The level that a storey comes to lie on: the one level of a plan that holds nothing yet, else a new one.
fn level_for(project: &Project, storey: &Storey) -> Result<(Change, Id<Level>), String> {
    let to_next = storey.height_to_next.map(|height| height - FLOOR_BUILD_UP);
    let above_zero = |height: &pattress_model::units::Length| height.as_mm() > 0.0;
    let level = Level {
        name: storey.name.clone(),
        floor_above_datum: storey.floor_above_datum,
        ceiling_affl: storey.ceiling.or(to_next).filter(above_zero).unwrap_or(CEILING_WHERE_UNTOLD),
    };
    let empty = project.walls.is_empty() && project.devices.is_empty() && project.underlays.is_empty();
    match project.levels.ids().next() {
        Some(only) if empty && project.levels.len() == 1 => {
            Ok((verbs::edit_level(project, only, level)?, only))
        }
        _ => level_added(project, level),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;
    use pattress_model::plan::{MakeUp, RoomUse};
    use pattress_model::survey::{Proposal, ProposedRoom, ProposedWall};
    use pattress_model::units::Length;

    fn storey(name: &str, floor: f64) -> Storey {
        let corners = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)].map(Point::from);
        let walls = (0..4)
            .map(|index| ProposedWall {
                start: corners[index],
                end: corners[(index + 1) % 4],
                thickness: Length::mm(100.0),
                height: None,
                make_up: Some(MakeUp::Stud),
                confidence: 1.0,
            })
            .collect();
        let room = ProposedRoom {
            name: "Study".to_owned(),
            room_use: Some(RoomUse::Study),
            seed: Point::new(2000.0, 1500.0),
            outline: corners.to_vec(),
            confidence: 1.0,
        };
        Storey {
            name: name.to_owned(),
            floor_above_datum: Length::mm(floor),
            height_to_next: Some(Length::mm(2700.0)),
            ceiling: None,
            proposal: Proposal { walls, openings: Vec::new(), rooms: vec![room] },
        }
    }

    fn building() -> Building {
        Building {
            schema: "IFC4".to_owned(),
            written_by: None,
            project: None,
            site: None,
            north: None,
            storeys: vec![storey("Ground", 0.0), storey("Attic", 2700.0)],
            moved_by: None,
            not_understood: Vec::new(),
            left_out: Vec::new(),
        }
    }

    #[test]
    fn storeys_come_as_one_change_and_the_empty_level_becomes_the_first() {
        let project = Project::new();
        let (change, first) = storeys_change(&project, &building(), &[0, 1]).unwrap();
        let after = with(&project, &change).unwrap();
        let names: Vec<&str> = after.levels_upwards().iter().map(|(_, level)| level.name.as_str()).collect();
        assert_eq!(names, ["Ground", "Attic"]);
        assert_eq!((after.walls.len(), after.rooms.len()), (8, 2));
        assert_eq!(after.walls_on(first).count(), 4);
        assert_eq!(after.levels.get(first).unwrap().ceiling_affl, Length::mm(2400.0));
    }

    #[test]
    fn only_ticked_storeys_come_and_a_plan_with_walls_keeps_its_level() {
        let project = Project::new();
        let (change, _) = storeys_change(&project, &building(), &[0]).unwrap();
        let drawn = with(&project, &change).unwrap();
        let (change, level) = storeys_change(&drawn, &building(), &[1]).unwrap();
        let after = with(&drawn, &change).unwrap();
        assert_eq!(after.levels.len(), 2);
        assert_eq!(after.levels.get(level).unwrap().name, "Attic");
        assert!(storeys_change(&project, &building(), &[]).is_err());
    }
}
