//! Somebody who gets up at night walks into a movement detector of the part set.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity, scripted};
use crate::edit::Subject;
use crate::kit::PointRole;
use crate::systems::PointRef;

pub(super) const CHECK: Check = Check { name: "night-walk", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for walk in &house.intrusion().night {
        let drawn = walk.walk.and_then(|id| house.project.walks.get(id));
        let bedroom = walk.bedroom.and_then(|id| house.project.rooms.get(id));
        let who = match (drawn, bedroom) {
            (Some(walk), _) => format!("“{}”", walk.name),
            (None, Some(room)) => format!("from “{}” to the nearest bathroom", room.name),
            (None, None) => continue,
        };
        for crossing in &walk.crossings {
            let Some(detector) = house.project.devices.get(crossing.detector) else { continue };
            let sentence = format!(
                "{} is in the part set and sees who walks at night {who}, after {:.1} m: leave it out of the part \
                 set or turn it away.",
                house.called(detector),
                crossing.after.as_m(),
            );
            let subject = Subject::Device(crossing.detector);
            let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE);
            let kind = house.project.kinds.get(detector.kind);
            let told = ["motion", "alarm"].into_iter().find(|name| {
                kind.is_some_and(|kind| {
                    kind.point(name).is_some_and(|point| point.role == PointRole::Reports)
                })
            });
            let script = told.and_then(|name| {
                let seen_by = PointRef::new(crossing.detector, name);
                let walk = drawn.map(|walk| walk.name.as_str());
                let title = format!("{} at night", detector.tag);
                scripted::night_walk(house.project, &title, walk, &seen_by, crossing.after.as_m())
            });
            let place = Finding { level: Some(detector.level), at: Some(crossing.at), ..finding };
            found.push(place.shown_by(script));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Detection, Family, MountKind, Pattern};
    use crate::plan::{RoomUse, Sense, Side, Walk, WalkPoint, WalkPurpose};
    use crate::small_house::drawn_rooms::{face, two_rooms};
    use crate::small_house::plain_kind;
    use crate::systems::ZonePurpose;
    use crate::units::{Angle, Length};

    #[test]
    fn who_gets_up_crosses_what_the_part_set_sees() {
        // The kitchen is made a bedroom and the hall a bathroom; the detector stands on the bedroom's north wall.
        for (in_part_set, drawn, expected) in
            [(false, false, 0), (true, false, 1), (false, true, 0), (true, true, 2)]
        {
            let (mut house, hall) = two_rooms();
            for (id, room_use) in [(house.kitchen, RoomUse::Bedroom), (hall, RoomUse::Bathroom)] {
                let room = crate::plan::Room { room_use, ..house.project.rooms.get(id).unwrap().clone() };
                house.alter(id, room);
            }
            let mut kind = plain_kind("Detector", Family::Intrusion, "PIR", MountKind::Wall, &["alarm"]);
            let pattern = Pattern::Fan { angle: Angle::degrees(120.0), range: Length::m(12.0) };
            kind.detection = Some(Detection::plain(Sense::BodyHeat, pattern));
            let north = house.walls[2];
            let device = house.place_new(kind, face(north, Side::Left, 2000.0), Some(2200.0));
            house.zone(ZonePurpose::FullSet, &[(device, "alarm")]);
            if in_part_set {
                house.zone(ZonePurpose::PartSet, &[(device, "alarm")]);
            }
            if drawn {
                let level = house.ground;
                let at = [(500.0, 300.0), (3500.0, 300.0)];
                let points = at.map(|at| WalkPoint { level, at: at.into() }).to_vec();
                house.put(Walk { name: "to the sink".to_owned(), purpose: WalkPurpose::Night, points });
            }
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{in_part_set} {drawn}");
        }
    }
}
