//! A camera that looks too far down on what it is to show: a brow or a cap hides the face.

use super::{Check, Finding, House, Severity};
use crate::plan::SpotUse;

pub(super) const CHECK: Check =
    Check { name: "camera-looks-down", limits: &["camera_looks_down", "camera_looks_down_for_faces"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let (Some(steep), Some(for_faces)) =
        (house.limit("camera_looks_down"), house.limit("camera_looks_down_for_faces"))
    else {
        return;
    };
    for (id, spot) in house.project.spots.iter().filter(|(_, spot)| spot.spot_use == SpotUse::ToBeSeen) {
        // The camera that looks at it most level among those that show it decides.
        let shown = house.cameras().iter().flat_map(|camera| {
            let seen = camera.targets.iter().filter(|target| target.spot == id && target.px_per_m.is_ok());
            seen.map(move |target| (camera.device, target.down_angle.as_degrees()))
        });
        let Some((camera, degrees)) = shown.min_by(|a, b| a.1.total_cmp(&b.1)) else { continue };
        let Some(device) = house.project.devices.get(camera) else { continue };
        let (limit, what) = if degrees > steep.value {
            (steep, "a cap or a brow hides the face")
        } else if degrees > for_faces.value {
            (for_faces, "the picture is of little use to compare faces")
        } else {
            continue;
        };
        let sentence = format!(
            "{} looks down on {} by {degrees:.0}°, more than {:.1}°: {what}. Mount it lower or farther away.",
            house.called(device),
            spot.name,
            limit.value,
        );
        found.push(house.of_device((camera, device), Severity::Note, CHECK.name, sentence, &limit.source));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::{bare_house, camera_outdoors, spot};

    #[test]
    fn the_angle_to_the_face_counts_and_not_the_tilt() {
        // 1 m above the face: 22.5° at 2.41 m, 13° at 4.33 m.
        for (distance, expected) in
            [(2300.0, Some("22.5")), (2500.0, Some("13.0")), (4200.0, Some("13.0")), (4500.0, None)]
        {
            let mut house = bare_house();
            camera_outdoors(&mut house, 2600.0, 15.0);
            spot(&mut house, SpotUse::ToBeSeen, (2000.0, -50.0 - distance), 1600.0);
            let all = found(CHECK, &house.project);
            assert_eq!(all.len(), usize::from(expected.is_some()), "{distance}");
            if let Some(limit) = expected {
                assert!(all[0].sentence.contains(limit), "{}", all[0].sentence);
            }
        }
    }
}
