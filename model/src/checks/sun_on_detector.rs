//! Sun that falls through a window on a body-heat detector: glass that stops a body's warmth lets the sun's through.

use super::house::sees_body_heat;
use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::building::sunlight::{RayEnds, Sunlight};
use crate::studies::coverage::{HOW_SAMPLED, SunSpell};

pub(super) const CHECK: Check = Check { name: "sun-on-detector", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let Some(path) = house.sun() else { return };
    let sunlight = Sunlight::of(project, &house.whereabouts);
    for (id, device, kind) in house.devices() {
        if !sees_body_heat(kind) || house.room_of(device).is_none() {
            continue;
        }
        let (Some(from), Some(height)) =
            (Whereabouts::stands_at(project, device), Whereabouts::height_of(project, device))
        else {
            continue;
        };
        let spells = path.spells(|sun| {
            let on_plan = sun.on_plan(project.site.north);
            let ends = sunlight.follow(device.level, from, height, on_plan, sun.elevation);
            matches!(ends, RayEnds::InTheSky(glass) if !glass.is_empty())
        });
        if !spells.is_empty() {
            let times: Vec<String> = spells.iter().map(SunSpell::to_string).collect();
            let sentence = format!(
                "The sun falls through a window on {} {}: shade the window or move the detector.",
                house.called(device),
                times.join("; "),
            );
            found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, HOW_SAMPLED));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::Mount;
    use crate::plan::{Opening, OpeningForm, Sense};
    use crate::project::Place;
    use crate::small_house::{bare_house, detector, edit_site};
    use crate::units::{Angle, Length};
    use kurbo::Point;

    #[test]
    fn a_low_sun_reaches_into_a_room_with_a_south_window() {
        for (sense, height, north, expected) in [
            (Sense::BodyHeat, 1500.0, 90.0, 1),
            (Sense::Microwave, 1500.0, 90.0, 0),
            // Above the head of the window the sun never comes.
            (Sense::BodyHeat, 2300.0, 90.0, 0),
            // A window to the north lets none in at this height.
            (Sense::BodyHeat, 1500.0, 270.0, 0),
        ] {
            let mut house = bare_house();
            let wall = house.walls[0];
            house.put(Opening {
                wall,
                centre: Length::mm(2000.0),
                width: Length::mm(1200.0),
                head: Length::mm(2100.0),
                form: OpeningForm::Window { sill: Length::mm(900.0) },
            });
            let kind = detector(&mut house, sense);
            house.place(kind, Mount::Floor { at: Point::new(2000.0, 1500.0) }, Some(height));
            edit_site(&mut house, |site| {
                site.place = Some(Place { latitude: Angle::degrees(52.0), longitude: Angle::degrees(1.0) });
                site.north = Angle::degrees(north);
            });
            assert_eq!(found(CHECK, &house.project).len(), expected, "{sense:?} {height} {north}");
        }
    }
}
