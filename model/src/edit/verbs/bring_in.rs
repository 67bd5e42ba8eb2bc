//! Bring in what a survey read: a drawing under a storey, or the storeys of a building.

use super::accept_proposal::{Defaults, accept_proposal};
use super::draft::Draft;
use super::edit_plan::tidy_underlay;
use super::levels::{FLOOR_BUILD_UP, STOREY_HEIGHT, level_named, lone_empty_level, tidy};
use crate::edit::Change;
use crate::id::Id;
use crate::plan::{Level, Underlay};
use crate::project::Project;
use crate::survey::ifc::{Building, Storey};

/// Lays a drawing under its storey. A storey that is new comes with it: the drawing then names the next fresh id.
///
/// # Errors
/// A sentence, where its scale is not above zero, or the storey is gone or unsound.
pub fn bring_in_drawing(
    project: &Project,
    drawing: Underlay,
    new_level: Option<Level>,
) -> Result<Change, String> {
    let label = format!("Bring in {}", drawing.name);
    let mut draft = Draft::of(project);
    if let Some(level) = new_level {
        draft.put(drawing.level, tidy(level)?);
    }
    draft.add(tidy_underlay(drawing));
    draft.finish(label)
}

/// Brings in storeys of a building with their walls, openings and rooms; gives the levels they lie on, in the order
/// of the storeys. A storey goes onto the level of its name, where there is one, and the first onto the only level
/// of an empty plan, which takes the building's name and north as well.
///
/// # Errors
/// A sentence, where there is no storey, or nothing in one that is not there already.
pub fn bring_in_building(
    project: &Project,
    building: &Building,
    storeys: &[&Storey],
) -> Result<(Change, Vec<Id<Level>>), String> {
    if storeys.is_empty() {
        return Err("no storey is chosen: choose those that you need".to_owned());
    }
    let mut draft = Draft::of(project);
    if lone_empty_level(project).is_some() {
        take_site_facts(&mut draft, building);
    }
    let mut levels = Vec::new();
    for storey in storeys {
        let level = level_for(&mut draft, storey)?;
        levels.push(level);
        let proposal = &storey.proposal;
        if proposal.walls.is_empty() && proposal.rooms.is_empty() {
            continue;
        }
        let accepted = accept_proposal(draft.now(), level, proposal, None, Defaults::default())
            .map_err(|sentence| format!("{}: {sentence}", storey.name))?;
        draft.take_in(accepted);
    }
    Ok((draft.finish("Bring in the building")?, levels))
}

fn take_site_facts(draft: &mut Draft, building: &Building) {
    let mut site = (*draft.now().site).clone();
    if let Some(name) = building.project.as_deref().map(str::trim).filter(|name| !name.is_empty()) {
        site.project_name = name.to_owned();
    }
    site.north = building.north.unwrap_or(site.north);
    if site != *draft.now().site {
        draft.put_site(site);
    }
}

fn level_for(draft: &mut Draft, storey: &Storey) -> Result<Id<Level>, String> {
    let empty = lone_empty_level(draft.now());
    if let (None, Some(there)) = (empty, level_named(draft.now(), &storey.name)) {
        return Ok(there);
    }
    let to_next = storey.height_to_next.map(|height| height - FLOOR_BUILD_UP);
    let known = storey.ceiling.or(to_next).filter(|height| height.as_mm() > 0.0);
    let level = tidy(Level {
        name: storey.name.clone(),
        floor_above_datum: storey.floor_above_datum,
        ceiling_affl: known.unwrap_or(STOREY_HEIGHT),
    })?;
    Ok(match empty {
        Some(only) => {
            draft.put(only, level);
            only
        }
        None => draft.add(level),
    })
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::edit::History;
    use crate::edit::verbs::level_on_top;
    use crate::plan::{MakeUp, RoomUse};
    use crate::project::Site;
    use crate::survey::{Proposal, ProposedRoom, ProposedWall};
    use crate::units::{Angle, Length};

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
            project: Some("Mill House".to_owned()),
            site: None,
            north: Some(Angle::degrees(80.0)),
            storeys: vec![storey("Ground", 0.0), storey("Attic", 2700.0)],
            moved_by: None,
            not_understood: Vec::new(),
            left_out: Vec::new(),
        }
    }

    /// The plan with these storeys of the building brought in.
    fn with(project: &Project, chosen: &[usize]) -> Result<(Project, Vec<Id<Level>>), String> {
        let building = building();
        let storeys: Vec<&Storey> = chosen.iter().map(|index| &building.storeys[*index]).collect();
        let (change, levels) = bring_in_building(project, &building, &storeys)?;
        let mut after = project.clone();
        History::default().apply(&mut after, change).map_err(|refusal| refusal.sentence)?;
        Ok((after, levels))
    }

    #[test]
    fn storeys_come_as_one_change_and_the_empty_level_becomes_the_first() {
        let (after, levels) = with(&Project::new(), &[0, 1]).unwrap();
        let names: Vec<&str> = after.levels_upwards().iter().map(|(_, level)| level.name.as_str()).collect();
        assert_eq!(names, ["Ground", "Attic"]);
        assert_eq!((after.walls.len(), after.rooms.len()), (8, 2));
        assert_eq!(after.walls_on(levels[0]).count(), 4);
        assert_eq!(after.levels.get(levels[0]).unwrap().ceiling_affl, Length::mm(2400.0));
        assert_eq!(after.site.project_name, "Mill House");
        assert_eq!(after.site.north, Angle::degrees(80.0));
    }

    #[test]
    fn only_chosen_storeys_come_and_a_plan_with_walls_keeps_its_level_and_its_name() {
        let (mut drawn, _) = with(&Project::new(), &[0]).unwrap();
        let site = Site { project_name: "Our name".to_owned(), ..(*drawn.site).clone() };
        let change = crate::edit::verbs::edit_site(&drawn, site).unwrap();
        History::default().apply(&mut drawn, change).unwrap();
        let (after, levels) = with(&drawn, &[1]).unwrap();
        assert_eq!(after.levels.len(), 2);
        assert_eq!(after.levels.get(levels[0]).unwrap().name, "Attic");
        assert_eq!(after.site.project_name, "Our name");
        assert!(with(&drawn, &[]).is_err());
        assert!(with(&drawn, &[0]).is_err(), "all of it is there already");
    }

    #[test]
    fn a_drawing_goes_under_a_level_or_brings_one() {
        let project = Project::new();
        let ground = project.levels.ids().next().unwrap();
        let drawing = Underlay {
            level: ground,
            name: "plan.pdf".to_owned(),
            media: format!("{}.pdf", "0a".repeat(32)),
            page: 2,
            width: 420.0,
            height: 297.0,
            mm_per_unit: 50.0,
            scale_from: None,
            second_length: None,
            position: Point::ORIGIN,
            turn: Angle::ZERO,
            opacity: 0.5,
            on_sheets: false,
        };
        assert_eq!(bring_in_drawing(&project, drawing.clone(), None).unwrap().ops.len(), 1);
        let level = project.fresh_ids().issue();
        let above = Underlay { level, ..drawing.clone() };
        let change = bring_in_drawing(&project, above.clone(), Some(level_on_top(&project))).unwrap();
        let mut after = project.clone();
        History::default().apply(&mut after, change).unwrap();
        assert_eq!(after.levels.get(level).unwrap().name, "First floor");
        assert_eq!(after.underlays.iter().next().unwrap().1.level, level);
        assert!(bring_in_drawing(&project, above, None).is_err(), "there is no such level");
        let without_scale = Underlay { mm_per_unit: 0.0, ..drawing };
        assert!(bring_in_drawing(&project, without_scale, None).is_err());
    }
}
