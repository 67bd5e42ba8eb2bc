//! A drawn walk along which the light goes out before the next sensor sees the walker.

use super::house::COMMON_PRACTICE;
use super::long_walk_in_the_dark::{on_walk, walk_name};
use super::{Check, Finding, House};
use crate::studies::coverage::rooms::Light;

pub(super) const CHECK: Check = Check { name: "walk-goes-dark", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for answer in &house.coverage().walks {
        for part in answer.stretches.iter().filter(|stretch| stretch.light == Light::GoneOut) {
            let room = part.room.map_or("a room", |room| house.room_name(room));
            let length = part.to - part.from;
            let sentence = format!(
                "On the walk {} the light of {room} goes out for {length} mm of the way: let it stay on for longer, or \
                 add a sensor.",
                walk_name(house, answer)
            );
            found.push(on_walk(house, answer, part.from, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::Mount;
    use crate::plan::Sense;
    use crate::studies::coverage::rooms::small_rooms::{detector, lit_by_motion, two_rooms};

    #[test]
    fn a_light_that_stays_on_too_briefly_goes_out_on_the_way() {
        // Last seen at x = 2000; with 1 s to go the light is out after 1300 mm, at x = 700, of 2000 to 100. With 2 s
        // it lasts to the end.
        for (linger, expected) in [(1.0, 1), (2.0, 0)] {
            let mut rooms = two_rooms();
            let kind = rooms.house.put(detector(Sense::BodyHeat, 1000.0));
            let mount = Mount::Ceiling { at: Point::new(3000.0, 1500.0) };
            let sensor = rooms.house.place(kind, mount, Some(2000.0));
            let lamp = rooms.lamp(2000.0, 2500.0);
            rooms.house.put(lit_by_motion(sensor, lamp, linger));
            rooms.walk(&[(3900.0, 1500.0), (100.0, 1500.0)]);
            let warnings = found(CHECK, &rooms.house.project);
            assert_eq!(warnings.len(), expected, "{linger}");
            if let Some(warning) = warnings.first() {
                assert!(warning.sentence.contains("goes out for 600 mm"), "{}", warning.sentence);
                assert!(warning.at.unwrap().distance(Point::new(700.0, 1500.0)) < 1.0, "{warning:?}");
            }
        }
    }
}
