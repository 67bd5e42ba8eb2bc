//! Fire alarms of mixed grades, and alarms that do not sound with the others: the house is as good as the lowest.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::kit::FireGrade;

pub(super) const CHECK: Check = Check { name: "fire-grade", limits: &[], run };

const SOURCE: &str = "BS 5839-6:2019, grades and interlinking; read in secondary pages, D2 from memory: check the \
     current edition";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let alarms: Vec<_> = house
        .devices()
        .filter_map(|(id, device, kind)| Some((id, device, kind.fire?)))
        .filter(|(_, _, alarm)| alarm.notices.notices_fire())
        .collect();
    let grades = || alarms.iter().map(|(_, _, alarm)| alarm.grade);
    let (Some(best), Some(lowest)) = (grades().min(), grades().max()) else { return };
    if best != lowest {
        let of_lowest: Vec<String> = alarms
            .iter()
            .filter(|(_, _, alarm)| alarm.grade == lowest)
            .map(|(_, device, _)| device.tag.to_string())
            .collect();
        let what = format!(
            "The fire alarms are of grades {} to {}, and together of grade {}, the lowest ({})",
            FireGrade::name(best),
            FireGrade::name(lowest),
            FireGrade::name(lowest),
            of_lowest.join(", ")
        );
        let sentence = for_the_designer(&what);
        found.push(house.of_subject(Subject::Site, Severity::Warning, CHECK.name, sentence, SOURCE));
    }
    if alarms.len() < 2 {
        return;
    }
    for (id, device, _) in alarms.iter().filter(|(_, _, alarm)| !alarm.interlinked) {
        let what = format!("{} does not sound with the other fire alarms", house.called(device));
        let sentence = for_the_designer(&what);
        found.push(house.of_device((*id, device), Severity::Warning, CHECK.name, sentence, SOURCE));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::FireAlarm;
    use crate::kit::FireGrade::{D1, F1};
    use crate::kit::FireSense::{CarbonMonoxide, Heat, Smoke};
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, fire_alarm};

    #[test]
    fn one_grade_and_all_linked_is_well() {
        for (alarms, expected) in [
            (vec![], 0),
            (vec![(Smoke, D1, false)], 0),
            (vec![(Smoke, D1, true), (Heat, D1, true)], 0),
            (vec![(Smoke, D1, true), (Heat, F1, true)], 1),
            (vec![(Smoke, D1, true), (CarbonMonoxide, F1, false)], 0),
            (vec![(Smoke, D1, true), (Heat, D1, false)], 1),
            (vec![(Smoke, D1, false), (Heat, F1, false)], 3),
        ] {
            let mut house = bare_house();
            for (index, (notices, grade, interlinked)) in alarms.iter().enumerate() {
                let mut kind = fire_alarm(*notices);
                kind.fire = Some(FireAlarm { notices: *notices, grade: *grade, interlinked: *interlinked });
                house.place_new(kind, ceiling(1000.0 + 500.0 * index as f64, 1500.0), None);
            }
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{alarms:?}");
            assert!(found_there.iter().all(|finding| finding.subject != Subject::Site
                || finding.sentence.contains("grade F1, the lowest")));
        }
    }
}
