//! The fire alarms fall short of the category that is asked for, room by room; where none is asked, what they reach.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::project::FireCategory;

pub(super) const CHECK: Check = Check { name: "fire-category", limits: &[], run };

const SOURCE: &str =
    "BS 5839-6:2019, categories; read in secondary pages (isurv, 4 October 2019): check the current edition";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let cover = &house.alarms().cover;
    if house.devices().all(|(_, _, kind)| kind.fire.is_none()) {
        return;
    }
    let Some(asked) = house.project.site.fire_category else {
        let reached = cover.reached.map_or("no category", FireCategory::name);
        let what = format!("No category of fire alarms is asked for; the layout reaches {reached}");
        let sentence = for_the_designer(&what);
        found.push(house.of_subject(Subject::Site, Severity::Note, CHECK.name, sentence, SOURCE));
        return;
    };
    for lacking in cover.missing_for(asked) {
        let Some(room) = house.project.rooms.get(lacking.room) else { continue };
        let within = if lacking.out_of_reach { " within reach of every point" } else { "" };
        let what = format!(
            "{} is asked for, and for {} “{}” ({}) wants {}{within}",
            asked.name(),
            lacking.category.name(),
            room.name,
            house.level_name(room.level),
            lacking.need.name(),
        );
        let sentence = for_the_designer(&what);
        found.push(house.of_room((lacking.room, room), Severity::Warning, CHECK.name, sentence, SOURCE));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::FireSense::Smoke;
    use crate::small_house::drawn_rooms::{ceiling, two_rooms};
    use crate::small_house::fire_alarm;

    #[test]
    fn each_room_that_the_category_asked_for_lacks_is_named() {
        for (asked, alarms, expected) in [
            (None, 1, 1),
            (Some(FireCategory::LD3), 1, 0),
            (Some(FireCategory::LD2), 1, 1),
            (Some(FireCategory::LD1), 1, 2),
            (Some(FireCategory::LD1), 0, 0),
        ] {
            let (mut house, _) = two_rooms();
            house.boxed_room("Bedroom", crate::plan::RoomUse::Bedroom, (10_000.0, 0.0), (4000.0, 3000.0));
            house.set_site(|site| site.fire_category = asked);
            for _ in 0..alarms {
                house.place_new(fire_alarm(Smoke), ceiling(5500.0, 1500.0), None);
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{asked:?} {alarms}");
        }
    }
}
