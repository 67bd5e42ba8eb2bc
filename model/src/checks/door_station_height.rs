//! A door station that does not stand at the height of faces: it shows foreheads, or looks up at chins.

use super::{Check, Finding, House, Severity};
use crate::kit::{Family, Mount};

pub(super) const CHECK: Check = Check {
    name: "door-station-height",
    limits: &["door_station_height_lowest", "door_station_height_highest"],
    run,
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let (Some(lowest), Some(highest)) =
        (house.limit("door_station_height_lowest"), house.limit("door_station_height_highest"))
    else {
        return;
    };
    for (id, device, kind) in house.devices() {
        let is_station =
            kind.family == Family::CamerasAndEntry && kind.optics.is_some() && kind.point("ring").is_some();
        let (Some(height), Mount::WallFace { .. }, true) = (device.height_affl, device.mount, is_station)
        else {
            continue;
        };
        let limit = match height.as_mm() {
            below if below < lowest.value => lowest,
            above if above > highest.value => highest,
            _ => continue,
        };
        let sentence = format!(
            "{} is {height} mm above the floor; to see faces a door station stands between {:.0} and {:.0} mm: \
             move it, or see on site that it shows who stands and who sits.",
            house.called(device),
            lowest.value,
            highest.value
        );
        found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, &limit.source));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{MountKind, Optics};
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Length;

    #[test]
    fn stations_with_a_camera_stand_at_faces() {
        for (height, camera, expected) in
            [(1399.0, true, 1), (1400.0, true, 0), (1600.0, true, 0), (1601.0, true, 1), (1000.0, false, 0)]
        {
            let mut house = bare_house();
            let mut kind = plain_kind("Station", Family::CamerasAndEntry, "DS", MountKind::Wall, &["ring"]);
            kind.optics = camera.then_some(Optics {
                sensor_width: Length::mm(3.6),
                focal_length: Length::mm(1.8),
                pixels_across: 1280,
                pixels_down: 960,
                stated_view: None,
                drawn_range: Length::m(4.0),
            });
            let mount = house.on_wall(0, 1000.0);
            house.place_new(kind, mount, Some(height));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{height} {camera}");
        }
    }
}
