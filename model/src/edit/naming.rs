//! What people call a thing of the plan, in labels and in refusals.

use super::Subject;
use crate::project::Project;

/// The name that someone gave it, or its tag; `None` where it has none or is gone.
pub(super) fn given_name(project: &Project, subject: Subject) -> Option<String> {
    let name = match subject {
        Subject::Site => Some(project.site.project_name.clone()),
        Subject::Level(id) => project.levels.get(id).map(|level| level.name.clone()),
        Subject::Room(id) => project.rooms.get(id).map(|room| room.name.clone()),
        Subject::Joinery(id) => project.joinery.get(id).map(|piece| piece.name.clone()),
        Subject::Underlay(id) => project.underlays.get(id).map(|underlay| underlay.name.clone()),
        Subject::Spot(id) => project.spots.get(id).map(|spot| spot.name.clone()),
        Subject::Walk(id) => project.walks.get(id).map(|walk| walk.name.clone()),
        Subject::Kind(id) => project.kinds.get(id).map(|kind| kind.name.clone()),
        Subject::Device(id) => project.devices.get(id).map(|device| device.tag.to_string()),
        Subject::Zone(id) => project.zones.get(id).map(|zone| zone.name.clone()),
        Subject::Mode(id) => project.modes.get(id).map(|mode| mode.name.clone()),
        Subject::Script(id) => project.scripts.get(id).map(|script| script.name.clone()),
        Subject::Scene(id) => project.scenes.get(id).map(|scene| scene.name.clone()),
        Subject::Rule(id) => project.rules.get(id).map(|rule| rule.name.clone()),
        Subject::Wall(_) | Subject::Opening(_) | Subject::RoomLine(_) => None,
    };
    name.filter(|name| !name.is_empty())
}

/// A thing as a sentence would name it: its sort and the name people know it by, else its number.
pub fn describe(project: &Project, subject: Subject) -> String {
    match (given_name(project, subject), subject.number()) {
        (Some(name), _) => format!("{} “{name}”", subject.sort()),
        (None, Some(number)) => format!("{} {number}", subject.sort()),
        (None, None) => subject.sort().to_owned(),
    }
}
