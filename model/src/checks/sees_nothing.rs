//! A sensor that would see nothing, or of which it is not known what it sees: told with the reason.
//!
//! It stands inside a wall or joinery, reaches nowhere, looks past whomever it should notice, or everything before it is
//! hidden. Where its height is not decided, or lies beside its maker's table, the answer given is not to be relied on.

use std::collections::BTreeMap;

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::plan::DoorsAs;
use crate::studies::coverage::{Blind, Question, Reservation, Scenes, seen_by};

pub(super) const CHECK: Check = Check { name: "sees-nothing", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let mut scenes = BTreeMap::new();
    for (id, device, kind) in house.devices() {
        let Some(detection) = kind.senses() else { continue };
        let on_level = scenes
            .entry(device.level)
            .or_insert_with(|| Scenes::of_level(project, device.level, DoorsAs::Drawn));
        let Some(seen) = seen_by(project, on_level, device, &detection, Question::default()) else {
            continue;
        };
        let called = house.called(device);
        if let Some(blind) = seen.blind {
            let sentence = format!("{called} sees nothing: {}.", reason(blind));
            found.push(house.of_device(
                (id, device),
                Severity::Warning,
                CHECK.name,
                sentence,
                COMMON_PRACTICE,
            ));
        }
        for reservation in seen.reservations {
            let sentence = format!("{called} {}.", doubt(reservation));
            found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

/// Why it sees nothing, and what to do.
const fn reason(blind: Blind) -> &'static str {
    match blind {
        Blind::InsideWall => "it stands inside a wall; move it onto a face or into the room",
        Blind::InsideJoinery => "it stands inside a piece of joinery; move it or fix it to that piece",
        Blind::NoReach => "its kind reaches nowhere; give the kind a range and a fan",
        Blind::MissesTarget => {
            "its lens looks over or under somebody who walks by; change its height, its tilt or its lens"
        }
        Blind::Hidden => "all that it looks at is hidden; turn it or move what stands before it",
    }
}

/// What is not known of what it sees, and what to do.
const fn doubt(reservation: Reservation) -> &'static str {
    match reservation {
        Reservation::HeightUnknown => {
            "has no height, so that its coverage is only that of a flat plan; give it one"
        }
        Reservation::BesideTable => {
            "hangs lower or higher than its maker's table of radii goes, so that the nearest row was taken; ask the maker"
        }
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::catalogue::kind_by_key;
    use crate::kit::{Mount, Pattern};
    use crate::plan::Side;
    use crate::small_house::bare_house;
    use crate::units::{Angle, Length};

    #[test]
    fn every_reason_is_told_and_a_sound_sensor_is_not_named() {
        let in_air = |x: f64, y: f64| Mount::Outdoors { at: Point::new(x, y) };
        for (mount, height, range, expected) in [
            (in_air(2000.0, 1500.0), Some(2200.0), 12.0, None),
            // Inside the south wall, whose axis runs along y = 0.
            (in_air(2000.0, 0.0), Some(2200.0), 12.0, Some("inside a wall")),
            // The whole of its layer is below breast height.
            (in_air(2000.0, 1500.0), Some(1200.0), 12.0, Some("over or under")),
            (in_air(2000.0, 1500.0), Some(2200.0), 0.0, Some("reaches nowhere")),
            // Outside every room, and where its wall was: it still sees what is around it.
            (in_air(20_000.0, 1500.0), Some(2200.0), 12.0, None),
            (Mount::Loose { at: Point::new(2000.0, 1500.0) }, Some(2200.0), 12.0, None),
            (in_air(2000.0, 1500.0), None, 12.0, Some("has no height")),
        ] {
            let mut house = bare_house();
            let mut kind = kind_by_key("wall-motion-12m").unwrap();
            kind.default_height = None;
            if let Some(detection) = &mut kind.detection {
                detection.pattern = Pattern::Fan { angle: Angle::degrees(90.0), range: Length::m(range) };
            }
            let kind = house.put(kind);
            house.place(kind, mount, height);
            let sentences: Vec<String> =
                found(CHECK, &house.project).into_iter().map(|finding| finding.sentence).collect();
            match expected {
                None => assert!(sentences.is_empty(), "{sentences:?}"),
                Some(words) => assert!(sentences.len() == 1 && sentences[0].contains(words), "{sentences:?}"),
            }
        }
    }

    #[test]
    fn a_sensor_whose_wall_is_gone_or_whose_room_does_not_close_is_still_answered() {
        let mut house = bare_house();
        let kind = house.put(kind_by_key("wall-motion-12m").unwrap());
        let wall = house.walls[0];
        house.place(
            kind,
            Mount::WallFace { wall, side: Side::Left, along: Length::mm(2000.0) },
            Some(2200.0),
        );
        let opposite = [crate::edit::Subject::Wall(house.walls[2])];
        let gone = crate::edit::verbs::remove_things(&house.project, &opposite).unwrap();
        crate::edit::History::default().apply(&mut house.project, gone).unwrap();
        assert!(found(CHECK, &house.project).is_empty());
    }

    #[test]
    fn a_full_turn_and_a_height_beside_the_table_are_no_silence() {
        let mut house = bare_house();
        let kind = house.put(kind_by_key("presence-ceiling").unwrap());
        house.place(kind, Mount::Ceiling { at: Point::new(2000.0, 1500.0) }, Some(1900.0));
        let sentences: Vec<String> =
            found(CHECK, &house.project).into_iter().map(|finding| finding.sentence).collect();
        assert!(sentences.len() == 1 && sentences[0].contains("nearest row"), "{sentences:?}");
    }
}
