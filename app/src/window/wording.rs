//! What things are called in the window, so that a list, a card and the status line use one name.

use pattress_model::edit::Subject;
use pattress_model::edit::describe;
use pattress_model::project::Project;
use pattress_model::sentence::sentence_text;

/// A short title for a thing.
pub fn title(project: &Project, subject: Subject) -> String {
    let capitalised = |words: String| {
        let mut letters = words.chars();
        letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
    };
    match subject {
        Subject::Device(id) => match project.devices.get(id) {
            Some(device) if !device.name.is_empty() => format!("{}  {}", device.tag, device.name),
            Some(device) => {
                let kind = project.kinds.get(device.kind).map_or("", |kind| kind.name.as_str());
                format!("{}  {kind}", device.tag)
            }
            None => "Device".to_owned(),
        },
        Subject::Wall(id) => match project.walls.get(id) {
            Some(wall) => format!("Wall, {} mm long", wall.length()),
            None => "Wall".to_owned(),
        },
        Subject::RoomLine(id) => match project.room_lines.get(id) {
            Some(line) => format!("Room line, {} mm long", line.length()),
            None => "Room line".to_owned(),
        },
        // What nobody has named is called by what it is, for its number says nothing.
        Subject::Spot(id) => match project.spots.get(id) {
            Some(spot) if spot.name.is_empty() => capitalised(spot.spot_use.name().to_owned()),
            Some(spot) => spot.name.clone(),
            None => "Spot".to_owned(),
        },
        Subject::Walk(id) => match project.walks.get(id) {
            Some(walk) if walk.name.is_empty() => capitalised(walk.purpose.name().to_owned()),
            Some(walk) => walk.name.clone(),
            None => "Walk".to_owned(),
        },
        Subject::Opening(id) => match project.openings.get(id) {
            Some(opening) => capitalised(format!("{}, {} mm wide", opening.name(), opening.width)),
            None => "Opening".to_owned(),
        },
        Subject::Room(id) => project.rooms.get(id).map_or("Room".to_owned(), |room| room.name.clone()),
        Subject::Joinery(id) => {
            project.joinery.get(id).map_or("Joinery".to_owned(), |piece| piece.name.clone())
        }
        Subject::Zone(id) => project.zones.get(id).map_or("Zone".to_owned(), |zone| zone.name.clone()),
        Subject::Rule(id) => project.rules.get(id).map_or("Rule".to_owned(), |rule| rule.name.clone()),
        _ => capitalised(describe(project, subject)),
    }
}

/// What finding by typing reads of a thing, beyond its title.
pub fn more(project: &Project, subject: Subject) -> String {
    match subject {
        Subject::Device(id) => project
            .devices
            .get(id)
            .and_then(|device| project.kinds.get(device.kind))
            .map_or(String::new(), |kind| kind.name.clone()),
        Subject::Rule(id) => project.rules.get(id).map_or(String::new(), |rule| sentence_text(project, rule)),
        Subject::Room(id) => {
            project.rooms.get(id).map_or(String::new(), |room| room.room_use.name().to_owned())
        }
        Subject::Zone(id) => {
            project.zones.get(id).map_or(String::new(), |zone| zone.purpose.name().to_owned())
        }
        _ => subject.sort().to_owned(),
    }
}
