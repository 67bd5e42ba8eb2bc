//! What the integrator should know: findings, one check a file.
//!
//! Each [`Check`] reads the [`House`] and pushes what it finds; none changes anything. Every figure that a check
//! applies is a named limit of [`crate::limits`], and its finding quotes where the limit comes from.

pub mod finding;
pub mod house;
pub mod tried;

mod accessory_height;
mod against_light;
mod alarm_clearance;
mod back_box_missing;
mod bedhead_sound;
mod behind_door;
mod beyond_boundary;
mod blind_without_zone;
mod busy_passage;
mod camera_looks_down;
mod co_siting;
mod consumer_unit_height;
mod contact_siting;
mod dead_key;
mod door_station_height;
mod duplicate_gesture;
mod empty_rule;
mod entry_route;
mod facing_window;
mod fire_alarm_doors;
mod fire_alarm_height;
mod fire_alarm_room;
mod fire_category;
mod fire_grade;
mod fire_reach;
mod fire_words;
mod glass_break;
mod heating_and_open_window;
mod height_band;
mod height_missing;
mod holds_overlap;
mod host_missing;
mod in_opening;
mod intrusion_grade;
mod intrusion_openings;
mod kitchen_heat_alarm;
mod legend_differs;
mod life_safety_rule;
mod lights_next_room;
mod long_walk_in_the_dark;
mod luminaire_without_zone;
mod motion_detector_height;
mod near_heat;
mod never_holds;
mod never_put_out;
mod night_walk;
mod no_wired_key;
mod outside_rooms;
mod powered_way_rule;
mod room_name_missing;
mod room_not_enclosed;
mod room_use_missing;
mod rules_circle;
mod rules_disagree;
mod same_place;
mod script_unreadable;
mod scripted;
mod sees_nothing;
mod shared_indication;
mod site_facts;
mod sits_in_the_dark;
mod storey_smoke_alarm;
mod sun_on_detector;
mod to_be_seen;
mod together;
mod unheard;
mod walk_goes_dark;
mod water_risk;

pub use finding::{Finding, Severity};
pub use house::House;
pub use tried::with_faults;

use crate::project::Project;

/// One check.
#[derive(Clone, Copy)]
pub struct Check {
    /// Its name, stable across releases (`height-missing`).
    pub name: &'static str,
    /// The limits it applies, by name.
    pub limits: &'static [&'static str],
    /// Pushes what it finds.
    pub run: fn(&House<'_>, &mut Vec<Finding>),
}

/// Every check, in the order in which a plan is made.
pub const CHECKS: &[Check] = &[
    life_safety_rule::CHECK,
    storey_smoke_alarm::CHECK,
    kitchen_heat_alarm::CHECK,
    alarm_clearance::CHECK,
    fire_reach::CHECK,
    fire_alarm_doors::CHECK,
    fire_alarm_room::CHECK,
    fire_alarm_height::CHECK,
    fire_category::CHECK,
    fire_grade::CHECK,
    bedhead_sound::CHECK,
    co_siting::CHECK,
    intrusion_openings::CHECK,
    entry_route::CHECK,
    night_walk::CHECK,
    intrusion_grade::CHECK,
    shared_indication::CHECK,
    contact_siting::CHECK,
    glass_break::CHECK,
    water_risk::CHECK,
    door_station_height::CHECK,
    powered_way_rule::CHECK,
    host_missing::CHECK,
    height_missing::CHECK,
    sees_nothing::CHECK,
    back_box_missing::CHECK,
    room_not_enclosed::CHECK,
    room_name_missing::CHECK,
    room_use_missing::CHECK,
    outside_rooms::CHECK,
    same_place::CHECK,
    behind_door::CHECK,
    in_opening::CHECK,
    luminaire_without_zone::CHECK,
    blind_without_zone::CHECK,
    empty_rule::CHECK,
    script_unreadable::CHECK,
    duplicate_gesture::CHECK,
    rules_disagree::CHECK,
    rules_circle::CHECK,
    never_holds::CHECK,
    holds_overlap::CHECK,
    never_put_out::CHECK,
    heating_and_open_window::CHECK,
    facing_window::CHECK,
    long_walk_in_the_dark::CHECK,
    walk_goes_dark::CHECK,
    sits_in_the_dark::CHECK,
    lights_next_room::CHECK,
    near_heat::CHECK,
    busy_passage::CHECK,
    sun_on_detector::CHECK,
    to_be_seen::CHECK,
    camera_looks_down::CHECK,
    against_light::CHECK,
    beyond_boundary::CHECK,
    motion_detector_height::CHECK,
    accessory_height::CHECK,
    consumer_unit_height::CHECK,
    legend_differs::CHECK,
    dead_key::CHECK,
    unheard::CHECK,
    no_wired_key::CHECK,
    site_facts::CHECK,
];

/// Everything that every check finds, serious first, then check by check in the order of [`CHECKS`].
pub fn findings(project: &Project) -> Vec<Finding> {
    let house = House::of(project);
    let mut found = Vec::new();
    for check in CHECKS {
        (check.run)(&house, &mut found);
    }
    found.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Change, History};
    use crate::limits::limits;
    use crate::small_house::small_house;

    /// What one check finds in a house.
    pub(crate) fn found(check: Check, project: &Project) -> Vec<Finding> {
        let mut found = Vec::new();
        (check.run)(&House::of(project), &mut found);
        for finding in &found {
            assert_eq!(finding.check, check.name);
            assert!(finding.sentence.ends_with('.'), "{}", finding.sentence);
            assert!(!finding.source.is_empty());
            assert!(finding.subject.is_in(project));
            if let Some(fix) = &finding.fix {
                settles(check, project, finding, fix);
            }
            if let Some(script) = &finding.script {
                let read = crate::studies::rehearsal::script::read_script(project, &script.lines);
                assert!(read.is_ok(), "{script:?}: {read:?}");
            }
        }
        found
    }

    /// A fix must be a change that the project accepts and after which the check finds that no more.
    fn settles(check: Check, project: &Project, finding: &Finding, fix: &Change) {
        let mut settled = project.clone();
        let refused = History::default().apply(&mut settled, fix.clone());
        assert!(refused.is_ok(), "{}: {refused:?}", finding.sentence);
        let mut left = Vec::new();
        (check.run)(&House::of(&settled), &mut left);
        assert!(left.iter().all(|other| other.subject != finding.subject), "{}", finding.sentence);
    }

    #[test]
    fn every_limit_that_a_check_names_exists_and_every_limit_is_used() {
        let named: Vec<&str> = CHECKS.iter().flat_map(|check| check.limits.iter().copied()).collect();
        for name in &named {
            assert!(limits().get(name).is_some(), "{name}");
        }
        for (name, _) in limits().iter() {
            assert!(named.contains(&name), "no check applies the limit {name}");
        }
    }

    #[test]
    fn names_of_checks_are_unique() {
        let mut names: Vec<_> = CHECKS.iter().map(|check| check.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), CHECKS.len());
    }

    #[test]
    fn serious_findings_come_first_and_the_same_house_finds_the_same() {
        let house = small_house();
        let all = findings(&house.project);
        assert!(all.len() > 3);
        assert!(all.is_sorted_by_key(|finding| std::cmp::Reverse(finding.severity)));
        assert_eq!(all[0].severity, Severity::Serious);
        assert_eq!(all, findings(&house.project));
    }

    #[test]
    fn a_new_house_has_nothing_serious() {
        let all = findings(&Project::new());
        assert!(all.iter().all(|finding| finding.severity == Severity::Note), "{all:?}");
    }
}
