//! A camera that sees beyond the site: what it records there is somebody else's life.

use super::{Check, Finding, House, Severity};

pub(super) const CHECK: Check = Check { name: "beyond-boundary", limits: &["seen_beyond_boundary"], run };

/// The duty is the law's; the tool only measures.
const SOURCE: &str = "data protection law of the place; ask one who knows it";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("seen_beyond_boundary") else { return };
    for camera in house.cameras() {
        let Some(beyond) = camera.beyond_boundary.filter(|area| area.as_m2() >= limit.value) else {
            continue;
        };
        let Some(device) = house.project.devices.get(camera.device) else { continue };
        let sentence = format!(
            "{} sees {beyond} beyond the site's boundary within its drawn reach: turn it, mask the picture or settle \
             it with the neighbours; local law on data protection decides.",
            house.called(device),
        );
        found.push(house.of_device((camera.device, device), Severity::Note, CHECK.name, sentence, SOURCE));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::{bare_house, camera_outdoors, edit_site};
    use kurbo::Point;

    #[test]
    fn a_boundary_that_the_picture_crosses_is_spoken_of() {
        for (south, expected) in [(-20_000.0, 0), (-4000.0, 1)] {
            let mut house = bare_house();
            camera_outdoors(&mut house, 2600.0, 0.0);
            assert!(found(CHECK, &house.project).is_empty());
            let corners = [(-20_000.0, south), (20_000.0, south), (20_000.0, 9000.0), (-20_000.0, 9000.0)];
            edit_site(&mut house, |site| site.boundary = corners.map(Point::from).to_vec());
            assert_eq!(found(CHECK, &house.project).len(), expected, "{south}");
        }
    }
}
