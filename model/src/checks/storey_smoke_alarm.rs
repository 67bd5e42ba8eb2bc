//! A storey without a smoke alarm.

use super::house::is_smoke_alarm;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::plan::RoomUse;

pub(super) const CHECK: Check =
    Check { name: "storey-smoke-alarm", limits: &["smoke_alarms_on_a_storey"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("smoke_alarms_on_a_storey") else { return };
    for (id, level) in house.project.levels_upwards() {
        let has_rooms = house.project.rooms_on(id).any(|(_, room)| room.room_use != RoomUse::Outside);
        let alarms = house.project.devices_on(id).filter(|(_, _, kind)| is_smoke_alarm(kind)).count();
        if has_rooms && (alarms as f64) < limit.value {
            let sentence = format!(
                "{} has no smoke alarm: have the fire alarms designed by someone competent in them.",
                level.name
            );
            let subject = Subject::Level(id);
            let finding = house.of_subject(subject, Severity::Serious, CHECK.name, sentence, &limit.source);
            found.push(Finding { level: Some(id), ..finding });
        }
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{FireSense, Mount};
    use crate::project::Project;
    use crate::small_house::{bare_house, fire_alarm};

    #[test]
    fn each_storey_with_rooms_needs_a_smoke_alarm_of_its_own() {
        assert!(found(CHECK, &Project::new()).is_empty());
        for (notices, expected) in [(FireSense::Heat, 1), (FireSense::Smoke, 0), (FireSense::SmokeAndHeat, 0)]
        {
            let mut house = bare_house();
            assert_eq!(found(CHECK, &house.project).len(), 1);
            let kind = house.put(fire_alarm(notices));
            house.place(kind, Mount::Ceiling { at: Point::new(2000.0, 1500.0) }, None);
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{notices:?}");
            assert!(found_there.iter().all(|finding| finding.severity == Severity::Serious));
        }
    }
}
