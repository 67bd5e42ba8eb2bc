//! A device whose height is not decided: first fix cannot set its box out.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::edit::Subject;
use crate::edit::verbs::set_height;

pub(super) const CHECK: Check = Check { name: "height-missing", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        if Whereabouts::height_of(house.project, device).is_none() {
            let sentence = format!(
                "{} has no height: give the height of its centre above the finished floor.",
                house.called(device)
            );
            let missing =
                house.of_device((id, device), Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE);
            found.push(match kind.default_height {
                Some(usual) => {
                    missing.with_fix(set_height(house.project, &[Subject::Device(id)], Some(usual)))
                }
                None => missing,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::small_house;

    #[test]
    fn a_wall_device_needs_a_height_and_a_ceiling_gives_one() {
        let sentences: Vec<String> =
            found(CHECK, &small_house().project).into_iter().map(|finding| finding.sentence).collect();
        assert_eq!(
            sentences,
            ["PIR-01 (Cellar) has no height: give the height of its centre above the finished floor."]
        );
    }
}
