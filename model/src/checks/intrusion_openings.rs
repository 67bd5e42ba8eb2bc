//! A door, a window or a roof light that can be reached from outside and that nothing in the full set watches.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;

pub(super) const CHECK: Check = Check { name: "opening-unwatched", limits: &["glass_break_reach"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for cover in house.intrusion().openings.iter().filter(|cover| !cover.is_watched()) {
        let Some(opening) = house.project.openings.get(cover.opening) else { continue };
        let room = house.project.rooms.get(cover.room).map_or("", |room| room.name.as_str());
        let sentence = format!(
            "The {} of “{room}” ({}) can be reached from outside and nothing in the full set watches it: \
             put a contact on it or a detector before it.",
            opening.name(),
            house.level_name(cover.level),
        );
        let subject = Subject::Opening(cover.opening);
        let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE);
        found.push(Finding { level: Some(cover.level), at: Some(cover.inside), ..finding });
    }
    for cover in house.intrusion().roof_lights.iter().filter(|cover| cover.by.is_empty()) {
        let Some(spot) = house.project.spots.get(cover.spot) else { continue };
        let sentence = format!(
            "“{}” ({}) is a roof light within reach and nothing in the full set watches it: put a contact \
             on it or a detector beneath it.",
            spot.name,
            house.level_name(spot.level),
        );
        let subject = Subject::Spot(cover.spot);
        let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE);
        found.push(Finding { level: Some(spot.level), at: Some(spot.at), ..finding });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, MountKind};
    use crate::plan::{Side, SpotUse};
    use crate::small_house::drawn_rooms::face;
    use crate::small_house::{bare_house, plain_kind};
    use crate::systems::ZonePurpose;

    #[test]
    fn each_opening_that_nothing_watches_is_named_where_there_is_an_alarm_at_all() {
        for (set, on_window, expected) in [(false, false, 0), (true, true, 2), (true, false, 3)] {
            let mut house = bare_house();
            let [south, _, north, _] = house.walls;
            house.window(north, 2000.0);
            house.door(south, 2000.0);
            house.spot("Roof light", SpotUse::ReachableRoofLight, (2000.0, 1500.0));
            let contact = plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
            let along = if on_window { 2000.0 } else { 3500.0 };
            let contact = house.place_new(contact, face(north, Side::Left, along), Some(2100.0));
            if set {
                house.zone(ZonePurpose::FullSet, &[(contact, "open")]);
            }
            // The contact on the window lies too far from the roof light to be its own.
            assert_eq!(found(CHECK, &house.project).len(), expected, "{set} {on_window}");
        }
    }
}
