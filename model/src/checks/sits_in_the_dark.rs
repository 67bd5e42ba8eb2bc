//! A desk, a sofa or a basin at which no sensor that lights the room notices small movements: the light goes out on
//! whoever sits there.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;

pub(super) const CHECK: Check = Check { name: "sits-in-the-dark", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for answer in house.coverage().dwell.iter().filter(|answer| answer.sits_in_the_dark()) {
        let Some(spot) = house.project.spots.get(answer.spot) else { continue };
        let room = answer.room.map_or("the room", |room| house.room_name(room));
        let sentence = format!(
            "Nobody who keeps still at {} in {room} is noticed by what puts its light on: place a presence detector \
             over it, or let the light stay on until it is put out by hand.",
            if spot.name.trim().is_empty() { spot.spot_use.name() } else { spot.name.trim() }
        );
        let subject = Subject::Spot(answer.spot);
        let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE);
        found.push(Finding { level: Some(spot.level), at: Some(spot.at), ..finding });
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Mount, ReachLeft};
    use crate::plan::{Sense, Spot, SpotUse};
    use crate::studies::coverage::rooms::small_rooms::{detector, lit_by_motion, two_rooms};
    use crate::units::Length;

    #[test]
    fn only_where_people_dwell_in_reach_of_no_presence_detector() {
        for (spot_use, still, by_rule, expected) in [
            (SpotUse::Desk, 0.25, true, 1),
            (SpotUse::Seat, 0.25, true, 1),
            (SpotUse::Seat, 0.75, true, 0),
            (SpotUse::Seat, 0.25, false, 0),
            (SpotUse::Radiator, 0.25, true, 0),
        ] {
            let mut rooms = two_rooms();
            let mut kind = detector(Sense::BodyHeat, 3000.0);
            if let Some(detection) = &mut kind.detection {
                detection.reach_left = ReachLeft { still, ..ReachLeft::WHOLE };
            }
            let kind = rooms.house.put(kind);
            let mount = Mount::Ceiling { at: Point::new(2000.0, 1500.0) };
            let sensor = rooms.house.place(kind, mount, Some(2400.0));
            let lamp = rooms.lamp(2000.0, 2500.0);
            if by_rule {
                rooms.house.put(lit_by_motion(sensor, lamp, 300.0));
            }
            let (level, at) = (rooms.house.ground, Point::new(3200.0, 1500.0));
            let (name, height_affl) = ("Reading chair".to_owned(), Length::mm(800.0));
            rooms.house.put(Spot { level, name, spot_use, at, height_affl });
            let warnings = found(CHECK, &rooms.house.project);
            assert_eq!(warnings.len(), expected, "{spot_use:?} {still} {by_rule}");
            assert!(warnings.iter().all(|warning| warning.at == Some(at)));
        }
    }
}
