//! A device that is meant for a wall, a ceiling or joinery that is not there.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::kit::Mount;

pub(super) const CHECK: Check = Check { name: "host-missing", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        if matches!(device.mount, Mount::Loose { .. }) {
            let sentence = format!(
                "{} is fixed to nothing: it is made for a {}, so move it onto one.",
                house.called(device),
                match kind.mount {
                    crate::kit::MountKind::Joinery => "piece of joinery",
                    crate::kit::MountKind::Outdoors => "place outdoors",
                    other => other.name(),
                }
            );
            found.push(house.of_device(
                (id, device),
                Severity::Serious,
                CHECK.name,
                sentence,
                COMMON_PRACTICE,
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::{bare_house, small_house};

    #[test]
    fn a_loose_device_is_reported_with_what_it_is_made_for() {
        let found_there = found(CHECK, &small_house().project);
        assert_eq!(found_there.len(), 1);
        assert!(found_there[0].sentence.contains("made for a wall"), "{}", found_there[0].sentence);
        assert!(found(CHECK, &bare_house().project).is_empty());
    }
}
