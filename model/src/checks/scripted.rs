//! Scripts for what checks find: steps that make a rule run, or a sensor report, each played before it is offered.
//!
//! A script takes the conditions of a rule as they stand in it: what must be on is given as the run starts, a mode is
//! set, the clock is set to where it must stand. Where that does not bring the rule to run, there is no script.

use std::cell::{Cell, OnceCell};
use std::sync::Arc;

use crate::calendar::UtcTime;
use crate::id::Id;
use crate::project::Project;
use crate::studies::rehearsal::script::{Walks, World, play, point_words, read_script, value_words};
use crate::studies::rehearsal::{RuleBook, Setup, What};
use crate::systems::{
    Comparison, Condition, Gesture, HouseMode, PointRef, Rule, RuleBody, Script, Trigger, Value,
};
use crate::units::TimeOfDay;

/// So many scripts of one check are played: a plan with more findings than that has other cares.
const MOST_PLAYED: usize = 20;

/// The date on which scripts start where the plan has no date of issue: any would do.
const SOME_DATE: &str = "2026-01-15";

/// In the evening, at noon and late at night.
const EVENING: TimeOfDay = TimeOfDay { minutes: 20 * 60 };
const NOON: TimeOfDay = TimeOfDay { minutes: 12 * 60 };
const NIGHT: TimeOfDay = TimeOfDay { minutes: 2 * 60 };

/// Where the scripts of one check are played; the rules are laid out once, and only if one is.
pub(super) struct Stage<'a> {
    project: &'a Project,
    book: OnceCell<Arc<RuleBook>>,
    left: Cell<usize>,
}

impl<'a> Stage<'a> {
    pub(super) const fn of(project: &'a Project) -> Self {
        Self { project, book: OnceCell::new(), left: Cell::new(MOST_PLAYED) }
    }

    /// A script that makes all of these rules run, by the trigger and the conditions of the first.
    pub(super) fn runs(&self, name: &str, rules: &[Id<Rule>]) -> Option<Script> {
        let first = self.project.rules.get(*rules.first()?)?;
        let left = self.left.get().checked_sub(1)?;
        self.left.set(left);
        let lines = lines_to_run(self.project, first)?;
        let ran = self.ran(&lines)?;
        let script = Script { name: name.to_owned(), lines };
        rules.iter().all(|rule| ran.contains(rule)).then_some(script)
    }

    /// The rules that run where some lines are played.
    fn ran(&self, lines: &[String]) -> Option<Vec<Id<Rule>>> {
        let project = self.project;
        let steps = read_script(project, lines).ok()?;
        let book = self.book.get_or_init(|| Arc::new(RuleBook::of(project)));
        let sky = Setup::of(project, UtcTime::from_ms(0)).sky;
        let world = World { clock: project.site.clock, sky, walks: Walks::new() };
        let played = play(project, book, &steps, &world).ok()?;
        let ran = played.run.journal().entries().iter().filter_map(|entry| match entry.what {
            What::Started(rule) | What::HoldBegan(rule) => Some(rule),
            _ => None,
        });
        Some(ran.collect())
    }
}

/// The first line of a script.
fn start(project: &Project, time: TimeOfDay) -> String {
    let of_issue = crate::calendar::Date::parse(&project.site.issue_date).ok();
    let date = of_issue.map_or_else(|| SOME_DATE.to_owned(), |date| date.to_string());
    format!("start {date} {time}")
}

fn lines_to_run(project: &Project, rule: &Rule) -> Option<Vec<String>> {
    let (trigger, conditions) = match &rule.body {
        RuleBody::When { trigger, conditions, .. } => (Some(trigger), conditions),
        RuleBody::While { conditions, .. } => (None, conditions),
        RuleBody::Wired { .. } => return None,
    };
    let mut time = EVENING;
    let (mut given, mut set) = (Vec::new(), Vec::new());
    for condition in conditions {
        match condition {
            Condition::Point { point, comparison: Comparison::Is, value } => {
                let line = format!("{} {}", point_words(project, point)?, value_words(*value));
                // A hold begins as what it waits for is reported.
                if trigger.is_some() {
                    given.push(format!("given {line}"))
                } else {
                    set.push(format!("report {line}"))
                }
            }
            Condition::AnyOf(zone) => {
                let point = project.zones.get(*zone)?.points.first()?;
                given.push(format!("given {} on", point_words(project, point)?));
            }
            Condition::Mode(HouseMode::Named(mode)) => {
                set.push(format!("mode {}", project.modes.get(*mode)?.name));
            }
            Condition::Dark => time = NIGHT,
            Condition::Daylight => time = NOON,
            Condition::Between(from, _) => time = *from,
            _ => {}
        }
    }
    let mut does = Vec::new();
    match trigger {
        None => {}
        Some(Trigger::Event { point, gesture }) => {
            let at = point_words(project, point)?;
            does.push(match gesture {
                Gesture::Happens => format!("happens {at}"),
                Gesture::Press => format!("press {at}"),
                Gesture::PressTwice => format!("press {at} twice"),
                Gesture::PressThrice => format!("press {at} three times"),
                Gesture::Hold => format!("hold {at}"),
                Gesture::Release => format!("release {at}"),
            });
        }
        Some(Trigger::Becomes { point, comparison: Comparison::Is, value }) => {
            let at = point_words(project, point)?;
            if *value == Value::Off {
                given.push(format!("given {at} on"));
            }
            does.push(format!("report {at} {}", value_words(*value)));
        }
        Some(Trigger::Time(at)) => {
            time = TimeOfDay { minutes: (at.minutes + 1440 - 1) % 1440 };
            does.push(format!("at {at}"));
        }
        Some(Trigger::ModeEntered(HouseMode::Named(mode))) => {
            does.push(format!("mode {}", project.modes.get(*mode)?.name));
        }
        Some(_) => return None,
    }
    let mut lines = vec![start(project, time)];
    lines.extend(given);
    lines.extend(set);
    lines.extend(does);
    Some(lines)
}

/// A script in which a sensor reports, for all the house makes of it.
pub(super) fn reports(project: &Project, name: &str, point: &PointRef) -> Option<Script> {
    let lines = vec![start(project, EVENING), format!("report {} on", point_words(project, point)?)];
    Some(Script { name: name.to_owned(), lines })
}

/// A script in which the alarm is set and somebody gets up at night: along a drawn walk, else as the detector tells of it.
pub(super) fn night_walk(
    project: &Project,
    name: &str,
    walk: Option<&str>,
    seen_by: &PointRef,
    after_m: f64,
) -> Option<Script> {
    let seen_by = point_words(project, seen_by)?;
    let mut lines = vec![start(project, NIGHT)];
    let sets = project.devices.iter().find_map(|(id, device)| {
        let point = project.kinds.get(device.kind)?.point("armed")?;
        (point.role == crate::kit::PointRole::Does).then(|| PointRef::new(id, "armed"))
    });
    lines.extend(sets.and_then(|point| Some(format!("give {} on", point_words(project, &point)?))));
    match walk {
        Some(walk) => {
            lines.push(format!("walk {walk}"));
            // At the pace of stairs all the way, and some time to spare.
            lines.push(format!("expect {seen_by} is on within {} s", (after_m / 0.45).ceil() + 10.0));
        }
        None => lines.push(format!("report {seen_by} on")),
    }
    Some(Script { name: name.to_owned(), lines })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::{key_rule, small_house};
    use crate::systems::Target;

    #[test]
    fn a_script_makes_its_rule_run_or_is_not_offered() {
        let mut house = small_house();
        let plate = house.project.devices_on(house.ground).find(|(.., kind)| kind.code == "PL").unwrap().0;
        let zone = house.project.zones.ids().next().unwrap();
        let with = |condition: Condition| {
            let mut rule = key_rule("Test", None, plate, "key 2", Target::Zone(zone));
            if let RuleBody::When { conditions, .. } = &mut rule.body {
                conditions.push(condition);
            }
            rule
        };
        for (condition, runs) in [
            (Condition::Dark, true),
            (Condition::Daylight, true),
            (Condition::Between(TimeOfDay { minutes: 90 }, TimeOfDay { minutes: 120 }), true),
            (Condition::AnyOf(zone), true),
            (Condition::OneOf(Vec::new()), false),
        ] {
            let rule = house.put(with(condition.clone()));
            let script = Stage::of(&house.project).runs("Test", &[rule]);
            assert_eq!(script.is_some(), runs, "{condition:?} {script:?}");
            assert!(script.is_none_or(|script| script.lines.contains(&"press PL-01 key 2".to_owned())));
        }
    }
}
