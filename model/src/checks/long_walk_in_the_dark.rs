//! A room whose light comes on by a sensor, but late: whoever comes in walks on in the dark.
//!
//! It is asked of every way into the room, and of every drawn walk through it, but only where a rule lights the
//! room by a sensor: elsewhere nobody expects the light to come by itself.

use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::limits::Limit;
use crate::studies::coverage::rooms::route::Route;
use crate::studies::coverage::rooms::{Entry, Light, Way};
use crate::studies::coverage::{RoomCoverage, WalkAnswer};
use crate::units::Length;

pub(super) const CHECK: Check = Check { name: "long-walk-in-the-dark", limits: &["walk_in_the_dark"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("walk_in_the_dark") else { return };
    let report = house.coverage();
    for room in report.rooms.iter().filter(|room| room.is_lit_by_rule()) {
        found.extend(room.entries.iter().filter_map(|entry| late(house, limit, room, entry)));
    }
    for answer in &report.walks {
        let lit: Vec<_> = report.rooms.iter().filter(|room| room.is_lit_by_rule()).map(|r| r.room).collect();
        let part = answer.stretches.iter().find(|stretch| {
            let expected = stretch.room.is_some_and(|room| lit.contains(&room));
            stretch.light == Light::NotYet && expected && (stretch.to - stretch.from).as_mm() > limit.value
        });
        if let Some(part) = part {
            let room = part.room.map_or("a room", |room| house.room_name(room));
            let length = part.to - part.from;
            let sentence = format!(
                "On the walk {} somebody goes {length} mm into {room} before its light comes on: move, turn or add a \
                 sensor there.",
                walk_name(house, answer)
            );
            found.push(on_walk(house, answer, part.from, CHECK.name, sentence, &limit.source));
        }
    }
}

fn late(house: &House<'_>, limit: &'static Limit, room: &RoomCoverage, entry: &Entry) -> Option<Finding> {
    let name = house.room_name(room.room);
    let from = match (entry.way_in.from, entry.way_in.way) {
        (Some(from), _) => house.room_name(from).to_owned(),
        (None, Way::Stair(level)) => house.level_name(level).to_owned(),
        (None, _) => "outside".to_owned(),
    };
    let sentence = match entry.first_seen() {
        Some(seen) if seen.after.as_mm() > limit.value => format!(
            "Whoever comes into {name} from {from} walks {} mm before {} sees them and its light comes on: move or turn \
             it, or add a sensor.",
            seen.after,
            house.tag(seen.by)
        ),
        Some(_) => return None,
        None => format!(
            "Whoever comes into {name} from {from} and walks straight on is not seen by any sensor that puts its light \
             on: move or turn one, or add a sensor."
        ),
    };
    let project_room = house.project.rooms.get(room.room)?;
    let finding = house.of_room(
        (room.room, project_room),
        Severity::Warning,
        CHECK.name,
        sentence,
        limit.source.as_str(),
    );
    Some(Finding { at: Some(entry.way_in.at), ..finding })
}

/// The name of a walk.
pub(super) fn walk_name(house: &House<'_>, answer: &WalkAnswer) -> String {
    house.project.walks.get(answer.walk).map_or_else(String::new, |walk| format!("“{}”", walk.name))
}

/// A finding about a walk, so far along it.
pub(super) fn on_walk(
    house: &House<'_>,
    answer: &WalkAnswer,
    along: Length,
    check: &'static str,
    sentence: String,
    source: &'static str,
) -> Finding {
    let place = house.project.walks.get(answer.walk).and_then(|walk| Route::of(walk).place(along.as_mm()));
    let subject = Subject::Walk(answer.walk);
    let finding = house.of_subject(subject, Severity::Warning, check, sentence, source);
    Finding { level: place.map(|(level, _)| level), at: place.map(|(_, at)| at), ..finding }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::Mount;
    use crate::plan::{OpeningForm, Sense};
    use crate::studies::coverage::rooms::small_rooms::{TwoRooms, detector, lit_by_motion, two_rooms};

    /// A detector for 2 m on the kitchen's ceiling, at the height of what it looks for, opposite the way in at
    /// x = 3950, y = 1500.
    fn kitchen_with_a_detector_at(x: f64, by_rule: bool) -> TwoRooms {
        let mut rooms = two_rooms();
        rooms.way(1500.0, OpeningForm::Plain);
        let kind = rooms.house.put(detector(Sense::BodyHeat, 1000.0));
        let mount = Mount::Ceiling { at: Point::new(x, 1500.0) };
        let sensor = rooms.house.place(kind, mount, Some(2000.0));
        let lamp = rooms.lamp(2000.0, 2500.0);
        if by_rule {
            rooms.house.put(lit_by_motion(sensor, lamp, 60.0));
        }
        rooms
    }

    #[test]
    fn the_light_must_come_on_by_the_second_step_where_it_comes_by_itself() {
        // Seen from x + 1000 on: 1450 mm in for x = 1500, 1550 mm for x = 1400.
        for (x, by_rule, expected) in [(1500.0, true, 0), (1400.0, true, 1), (1400.0, false, 0)] {
            let rooms = kitchen_with_a_detector_at(x, by_rule);
            let warnings = found(CHECK, &rooms.house.project);
            assert_eq!(warnings.len(), expected, "{x} {by_rule}");
            if let Some(warning) = warnings.first() {
                assert!(
                    warning.sentence.contains("Kitchen from Hall walks 1550 mm before PD-01"),
                    "{warning:?}"
                );
                assert_eq!(warning.at, Some(Point::new(3950.0, 1500.0)));
            }
        }
    }

    #[test]
    fn a_room_in_which_nobody_is_seen_is_told_at_each_way_in() {
        // In the far upper corner, off both lines.
        let mut rooms = kitchen_with_a_detector_at(1500.0, true);
        let (sensor, device) =
            rooms.house.project.devices.iter().find(|(_, device)| device.tag.code == "PD").unwrap();
        let moved =
            crate::kit::Device { mount: Mount::Ceiling { at: Point::new(100.0, 2900.0) }, ..device.clone() };
        rooms.house.project.devices.put(sensor, std::sync::Arc::new(moved));
        let warnings = found(CHECK, &rooms.house.project);
        assert_eq!(warnings.len(), 1);
        assert!(warnings[0].sentence.contains("is not seen by any sensor"), "{}", warnings[0].sentence);
    }

    #[test]
    fn a_walk_that_goes_round_the_sensor_is_told_where_it_starts_to_be_dark() {
        // Along the lower wall, 1400 mm below the detector's middle: it is never seen in the kitchen's 3900 mm.
        let mut rooms = kitchen_with_a_detector_at(1500.0, true);
        rooms.walk(&[(3950.0, 100.0), (50.0, 100.0)]);
        let warnings = found(CHECK, &rooms.house.project);
        assert_eq!(warnings.len(), 1);
        assert_eq!(warnings[0].at, Some(Point::new(3950.0, 100.0)));
        assert!(warnings[0].sentence.contains("goes 3900 mm into Kitchen"), "{}", warnings[0].sentence);
    }
}
