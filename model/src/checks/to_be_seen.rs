//! What a person said a camera must show: some camera shows it, in enough detail.

use super::{Check, Finding, House, Severity};
use crate::plan::SpotUse;
use crate::studies::coverage::{TargetSeen, Unseen};

pub(super) const CHECK: Check = Check { name: "to-be-seen", limits: &["camera_detail_of_a_face"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("camera_detail_of_a_face") else { return };
    for (id, spot) in house.project.spots.iter().filter(|(_, spot)| spot.spot_use == SpotUse::ToBeSeen) {
        let shown = house.cameras().iter().flat_map(|camera| {
            camera.targets.iter().filter(|target| target.spot == id).map(move |target| (camera, target))
        });
        let best = shown.clone().filter_map(|(camera, target)| Some((camera, target, target.px_per_m.ok()?)));
        let best = best.max_by(|a, b| a.2.total_cmp(&b.2));
        let place = house.level_name(spot.level);
        let (severity, sentence) = match best {
            Some((_, _, px_per_m)) if px_per_m >= limit.value => continue,
            Some((camera, target, px_per_m)) => {
                let tag = house.project.devices.get(camera.device).map(|device| device.tag.to_string());
                let level = target.level.map_or("below every level".to_owned(), |level| level.name.clone());
                let sentence = format!(
                    "{} ({place}) is shown by {} with {px_per_m:.0} px/m ({level}), too few to recognise a face: \
                     bring the camera nearer or give it a longer lens.",
                    spot.name,
                    tag.unwrap_or_default(),
                );
                (Severity::Note, sentence)
            }
            None => {
                let why = why_not(shown.map(|(_, target)| target));
                (
                    Severity::Warning,
                    format!("{} ({place}) is shown by no camera{why}: place or turn one.", spot.name),
                )
            }
        };
        found.push(house.of_spot((id, spot), severity, CHECK.name, sentence, &limit.source));
    }
}

/// Why the one camera that could show it doesn't; nothing where there are several, or none.
fn why_not<'a>(mut targets: impl Iterator<Item = &'a TargetSeen>) -> String {
    let (first, second) = (targets.next(), targets.next());
    match (first.and_then(|target| target.px_per_m.err()), second) {
        (Some(reason), None) => format!(" ({})", Unseen::name(reason)),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::{bare_house, camera_outdoors, spot};

    #[test]
    fn a_target_needs_a_camera_that_shows_it_finely_enough() {
        // 1000 pixels over 2 D: 125 px/m at 4 m.
        for (south, expected) in [
            (-3000.0, None),
            (-3900.0, None),
            (-6000.0, Some(Severity::Note)),
            (4500.0, Some(Severity::Warning)),
        ] {
            let mut house = bare_house();
            camera_outdoors(&mut house, 2600.0, 0.0);
            spot(&mut house, SpotUse::ToBeSeen, (2000.0, south), 1600.0);
            let severities: Vec<Severity> = found(CHECK, &house.project).iter().map(|f| f.severity).collect();
            assert_eq!(severities, Vec::from_iter(expected), "{south}");
        }
    }

    #[test]
    fn without_a_camera_it_is_shown_by_none() {
        let mut house = bare_house();
        spot(&mut house, SpotUse::ToBeSeen, (2000.0, -3000.0), 1600.0);
        spot(&mut house, SpotUse::Desk, (2000.0, 1000.0), 800.0);
        let all = found(CHECK, &house.project);
        assert_eq!(all.len(), 1);
        assert!(all[0].sentence.contains("by no camera:"), "{}", all[0].sentence);
    }
}
