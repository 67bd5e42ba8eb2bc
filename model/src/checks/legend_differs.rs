//! A key that no longer does what it did when the legend of its plate was marked final: its words are engraved, and a
//! rule has changed since.
//!
//! What each key did is kept with the legend as the sentences it read then, so that a rule that was changed, switched
//! off or written anew is seen, and the finding can say both. A zone or a scene that has another name since reads
//! otherwise too: whoever reads the plate knows it by the former. Common practice, no published source.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::sentence::keys::{PlateKey, keys_that_differ, plates};

pub(super) const CHECK: Check = Check { name: "legend-differs", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    if house.project.devices.iter().all(|(_, device)| !device.legend.is_final) {
        return;
    }
    for plate in plates(house.project) {
        let Some(device) = house.project.devices.get(plate.device) else { continue };
        for (key, did) in keys_that_differ(&device.legend, &plate) {
            let sentence = format!(
                "{}: its legend is final, but {}{} did “{}” when it was agreed and now does “{}”: change the rule \
                 back, or agree the legend anew.",
                house.called(device),
                key.key,
                engraved(device.legend.of(&key.key).map(|legend| &legend.words)),
                listed(did),
                listed(&PlateKey::told(key)),
            );
            let of = (plate.device, device);
            found.push(house.of_device(of, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

/// ` (“All off”)`.
fn engraved(words: Option<&[String; 2]>) -> String {
    let words = words.map(|words| words.join(" ").trim().to_owned()).unwrap_or_default();
    if words.is_empty() { String::new() } else { format!(" (“{words}”)") }
}

fn listed(told: &[String]) -> String {
    if told.is_empty() { "nothing".to_owned() } else { told.join("; ") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::edit::{History, verbs};
    use crate::sentence::keys::agreed_legend;
    use crate::small_house::small_house;

    #[test]
    fn a_rule_that_changes_after_the_legend_was_agreed_is_told_until_it_is_agreed_anew() {
        let mut house = small_house();
        let plate = plates(&house.project)[0].device;
        let mut history = History::default();
        let agree = |project: &crate::project::Project| {
            verbs::mark_legend_final(project, plate, agreed_legend(project, plate, None).unwrap()).unwrap()
        };
        let change = agree(&house.project);
        history.apply(&mut house.project, change).unwrap();
        assert!(found(CHECK, &house.project).is_empty());
        let (rule, _) = house.project.rules.iter().next().unwrap();
        let change = verbs::switch_rule(&house.project, rule, false).unwrap();
        history.apply(&mut house.project, change).unwrap();
        let told = found(CHECK, &house.project);
        assert_eq!(told.len(), 1);
        let expected = "key 1 (“Kitchen ceiling”) did “one press: turn Kitchen ceiling lights on or off” when it was \
                        agreed and now does “nothing”";
        assert!(told[0].sentence.contains(expected), "{}", told[0].sentence);
        let change = agree(&house.project);
        history.apply(&mut house.project, change).unwrap();
        assert!(found(CHECK, &house.project).is_empty());
    }
}
