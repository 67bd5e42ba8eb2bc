//! A camera against the light: the sun stands in its picture at times of the year, or a window does that it sees from
//! within.

use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::building::sunlight::{RayEnds, Sunlight};
use crate::plan::OpeningForm;
use crate::studies::coverage::{CameraCoverage, HOW_SAMPLED, SunSpell};

pub(super) const CHECK: Check = Check { name: "against-light", limits: &[], run };

/// That backlight spoils a picture is common practice.
const SOURCE_WINDOW: &str = "common practice, no published source: daylight behind a face leaves it dark";

/// How far before the glass of a window it is looked for in the picture, mm.
const BEFORE_GLASS_MM: f64 = 20.0;

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let sunlight = Sunlight::of(house.project, &house.whereabouts);
    for camera in house.cameras().iter().filter(|camera| camera.height.is_some()) {
        let Some(device) = house.project.devices.get(camera.device) else { continue };
        let spells = sun_in_picture(house, &sunlight, camera);
        if !spells.is_empty() {
            let times: Vec<String> = spells.iter().map(SunSpell::to_string).collect();
            let sentence = format!(
                "{} has the sun in its picture {}, where nothing outside the plan shades it: turn or tilt it, or give \
                 it a hood.",
                house.called(device),
                times.join("; "),
            );
            found.push(house.of_device(
                (camera.device, device),
                Severity::Note,
                CHECK.name,
                sentence,
                HOW_SAMPLED,
            ));
        }
        if house.room_of(device).is_some() && sees_window(house, camera) {
            let sentence = format!(
                "{} looks at a window from within: by day what stands before it is dark. Turn it away from the glass.",
                house.called(device),
            );
            found.push(house.of_device(
                (camera.device, device),
                Severity::Note,
                CHECK.name,
                sentence,
                SOURCE_WINDOW,
            ));
        }
    }
}

/// When the sun stands in the picture and nothing of the house hides it.
fn sun_in_picture(house: &House<'_>, sunlight: &Sunlight<'_>, camera: &CameraCoverage) -> Vec<SunSpell> {
    let (Some(path), Some(height)) = (house.sun(), camera.height) else { return Vec::new() };
    let Some(device) = house.project.devices.get(camera.device) else { return Vec::new() };
    let Some(from) = Whereabouts::stands_at(house.project, device) else { return Vec::new() };
    let north = house.project.site.north;
    path.spells(|sun| {
        let on_plan = sun.on_plan(north);
        camera.lens.holds_direction(on_plan, sun.elevation)
            && sunlight.follow(camera.level, from, height, on_plan, sun.elevation) != RayEnds::Indoors
    })
}

/// Whether the middle of a window's glass, at the height that bands are drawn for, is in the picture.
fn sees_window(house: &House<'_>, camera: &CameraCoverage) -> bool {
    house.project.openings_on(camera.level).any(|(_, opening, wall)| {
        let is_window = matches!(opening.form, OpeningForm::Window { .. });
        let spans = opening.sill() <= camera.target_height && camera.target_height <= opening.head;
        let side = wall.side_of(camera.lens.eye);
        let before = wall.on_face(opening.centre, side) + wall.normal(side) * BEFORE_GLASS_MM;
        is_window && spans && camera.seen.contains(before)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::Mount;
    use crate::plan::Opening;
    use crate::project::Place;
    use crate::small_house::{bare_house, camera_outdoors, edit_device, edit_site};
    use crate::units::{Angle, Length};
    use kurbo::Point;

    fn put_in_england(house: &mut crate::small_house::SmallHouse) {
        let place = Place { latitude: Angle::degrees(52.0), longitude: Angle::degrees(1.0) };
        edit_site(house, |site| site.place = Some(place));
    }

    #[test]
    fn a_level_camera_to_the_south_has_the_low_sun_and_one_to_the_north_has_none() {
        for (turn, tilt, expected) in [(270.0, 0.0, 1), (270.0, 45.0, 0), (90.0, 0.0, 0)] {
            let mut house = bare_house();
            let camera = camera_outdoors(&mut house, 2600.0, tilt);
            edit_device(&mut house, camera, |device| device.turn = Angle::degrees(turn));
            assert!(found(CHECK, &house.project).is_empty(), "without a place there is no sun");
            put_in_england(&mut house);
            let all = found(CHECK, &house.project);
            assert_eq!(all.len(), expected, "{turn} {tilt} {all:?}");
            if expected == 1 {
                // A picture of 53° from top to bottom, half of it above the horizon: the sun of winter all day.
                assert!(all[0].sentence.contains("to "), "{}", all[0].sentence);
                assert!(all[0].sentence.contains("between"), "{}", all[0].sentence);
            }
        }
    }

    #[test]
    fn north_of_the_plan_decides() {
        let mut house = bare_house();
        camera_outdoors(&mut house, 2600.0, 0.0);
        put_in_england(&mut house);
        // The plan's south now points north.
        edit_site(&mut house, |site| site.north = Angle::degrees(270.0));
        assert!(found(CHECK, &house.project).is_empty());
    }

    #[test]
    fn from_within_the_walls_shade_it_but_a_window_is_spoken_of() {
        let mut house = bare_house();
        let camera = camera_outdoors(&mut house, 1500.0, 0.0);
        edit_device(&mut house, camera, |device| {
            device.mount = Mount::Ceiling { at: Point::new(2000.0, 1500.0) }
        });
        put_in_england(&mut house);
        assert!(found(CHECK, &house.project).is_empty());
        let wall = house.walls[0];
        house.put(Opening {
            wall,
            centre: Length::mm(2000.0),
            width: Length::mm(1200.0),
            head: Length::mm(2100.0),
            form: OpeningForm::Window { sill: Length::mm(900.0) },
        });
        let sentences: Vec<String> = found(CHECK, &house.project).into_iter().map(|f| f.sentence).collect();
        assert_eq!(sentences.len(), 2, "{sentences:?}");
        assert!(sentences[0].contains("the sun") && sentences[1].contains("window"), "{sentences:?}");
    }
}
