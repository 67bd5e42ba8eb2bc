//! The way from a door to the keypad and back: too long for the time there is, without a keypad, or past a detector that
//! does not wait.

use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::limits::Limit;
use crate::studies::coverage::intrusion::{Route, RouteWay};

pub(super) const CHECK: Check =
    Check { name: "entry-route", limits: &["longest_entry_time", "time_for_door_and_code"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("longest_entry_time") else { return };
    let aims = &house.project.site.intrusion;
    if !house.intrusion().routes.is_empty() && aims.entry_time.0 > limit.value {
        let sentence = format!(
            "The entry time is set to {:.0} s, of at most {:.0} s: shorten it.",
            aims.entry_time.0, limit.value
        );
        found.push(house.of_subject(Subject::Site, Severity::Warning, CHECK.name, sentence, &limit.source));
    }
    for route in &house.intrusion().routes {
        about(house, found, route, limit);
    }
}

fn about(house: &House<'_>, found: &mut Vec<Finding>, route: &Route, limit: &'static Limit) {
    let aims = &house.project.site.intrusion;
    let room = house.project.rooms.get(route.room).map_or("", |room| room.name.as_str());
    let level = house.level_name(route.level);
    let (way, allowed) = match route.way {
        RouteWay::Entry => ("in", aims.entry_time.0.min(limit.value)),
        RouteWay::Exit => ("out", aims.exit_time.0),
    };
    let mut tell = |at: Option<kurbo::Point>, sentence: String| {
        let subject = Subject::Opening(route.door);
        let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, &limit.source);
        let door = house
            .project
            .openings
            .get(route.door)
            .and_then(|opening| Some(house.project.walls.get(opening.wall)?.on_axis(opening.centre)));
        found.push(Finding { level: Some(route.level), at: at.or(door), ..finding });
    };
    if route.way == RouteWay::Entry && !route.keypad_in_room {
        tell(
            None,
            format!(
                "The way in at “{room}” ({level}) has no keypad that can unset the alarm in the room it opens into: \
             put one there."
            ),
        );
    }
    match route.time {
        None if route.way == RouteWay::Entry => tell(
            None,
            format!(
                "From the way in at “{room}” ({level}) no keypad that can unset the alarm is reached: put one on the route."
            ),
        ),
        Some(time) if time.0 > allowed => tell(
            None,
            format!(
                "The way {way} by “{room}” ({level}) takes {:.0} s, of {allowed:.0} s: move the keypad nearer the door.",
                time.0
            ),
        ),
        _ => {}
    }
    for crossing in &route.crossings {
        let Some(detector) = house.project.devices.get(crossing.detector) else { continue };
        let what = match route.way {
            RouteWay::Entry => "an alarm while somebody enters",
            RouteWay::Exit => "what keeps the alarm from being set",
        };
        tell(
            Some(crossing.at),
            format!(
                "{} sees the way {way} by “{room}” ({level}) after {:.1} m and is not on the entry route: that is {what}, \
             so turn it, move it or put it on the route.",
                house.called(detector),
                crossing.after.as_m(),
            ),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Detection, Family, MountKind, Pattern, PointRole, PointSpec, PointType};
    use crate::plan::{Sense, Side};
    use crate::small_house::drawn_rooms::{face, two_rooms};
    use crate::small_house::plain_kind;
    use crate::systems::ZonePurpose;
    use crate::units::{Angle, Length, Seconds};

    /// 45 s: EN 50131-1:2006, 8.3.8.2. A kitchen with a way in, and a hall behind it.
    #[test]
    fn a_way_in_wants_a_keypad_near_and_no_detector_off_the_route() {
        for (keypad_in, entry_time, detector, expected) in [
            ("kitchen", 30.0, None, 0),
            ("kitchen", 50.0, None, 1),
            ("kitchen", 10.5, None, 1),
            ("hall", 30.0, None, 1),
            ("nowhere", 30.0, None, 2),
            ("kitchen", 30.0, Some(true), 0),
            ("kitchen", 30.0, Some(false), 2),
        ] {
            let (mut house, _) = two_rooms();
            let [south, east, north, _] = house.walls;
            house.door(south, 1000.0);
            house.set_site(|site| site.intrusion.entry_time = Seconds(entry_time));
            let contact = plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
            let contact = house.place_new(contact, face(south, Side::Left, 1000.0), Some(2000.0));
            let mut keypad = plain_kind("Keypad", Family::Keypads, "KP", MountKind::Wall, &["armed"]);
            keypad.points[0].role = PointRole::Does;
            keypad.points.push(PointSpec {
                name: "set".to_owned(),
                point_type: PointType::Event,
                role: PointRole::Reports,
            });
            let place = match keypad_in {
                "kitchen" => Some(face(south, Side::Left, 3000.0)),
                "hall" => Some(face(east, Side::Right, 500.0)),
                _ => None,
            };
            if let Some(place) = place {
                house.place_new(keypad, place, Some(1200.0));
            }
            let mut full = vec![(contact, "open")];
            let mut entry = vec![(contact, "open")];
            if let Some(on_route) = detector {
                let mut kind = plain_kind("Detector", Family::Intrusion, "PIR", MountKind::Wall, &["alarm"]);
                let pattern = Pattern::Fan { angle: Angle::degrees(120.0), range: Length::m(12.0) };
                kind.detection = Some(Detection::plain(Sense::BodyHeat, pattern));
                let device = house.place_new(kind, face(north, Side::Left, 2000.0), Some(2200.0));
                full.push((device, "alarm"));
                if on_route {
                    entry.push((device, "alarm"));
                }
            }
            house.zone(ZonePurpose::FullSet, &full);
            house.zone(ZonePurpose::EntryRoute, &entry);
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{keypad_in} {entry_time} {detector:?}: {found_there:?}");
        }
    }
}
