//! The points of a plan, numbered, and the rules that are on (section 1).

use std::collections::BTreeMap;

use pattress_model::id::Id;
use pattress_model::kit::{PointRole, PointType};
use pattress_model::project::Project;
use pattress_model::systems::{PointRef, Rule, Scene, Target, Value, Zone};

use super::values::{Held, turned};

/// One thing that a device reports or does.
pub struct Point {
    /// Its device and name.
    pub name: PointRef,
    /// Its type.
    pub point_type: PointType,
    /// Whether it obeys.
    pub does: bool,
    /// Whether its unit is percent.
    pub percent: bool,
    /// Whether it takes its time to get anywhere.
    pub travels: bool,
    /// Milliseconds over the whole way, where its kind says so.
    pub travel_ms: Option<i64>,
}

impl Point {
    /// The value it takes when given this; `None` where the deed does nothing.
    pub fn takes(&self, value: Value) -> Option<Held> {
        turned(value, self.point_type).map(|held| self.brought_in(held))
    }

    /// A figure in percent brought into 0 to 100.
    pub fn brought_in(&self, held: Held) -> Held {
        match held {
            Held::Number(figure) if self.percent => Held::Number(figure.clamp(0.0, 100.0)),
            other => other,
        }
    }
}

/// What rules are about.
pub struct House {
    /// Every point, in the order in which they are numbered.
    pub points: Vec<Point>,
    /// Zones as lists of points.
    pub zones: BTreeMap<Id<Zone>, Vec<usize>>,
    /// Scenes.
    pub scenes: BTreeMap<Id<Scene>, Scene>,
    /// Rules that are on, by id.
    pub rules: BTreeMap<Id<Rule>, Rule>,
}

impl House {
    /// The house of a plan.
    pub fn of(project: &Project) -> Self {
        let mut house = Self {
            points: Vec::new(),
            zones: BTreeMap::new(),
            scenes: BTreeMap::new(),
            rules: BTreeMap::new(),
        };
        for (id, device) in project.devices.iter() {
            let kind = project.kinds.get(device.kind).expect("every device has its kind");
            for spec in &kind.points {
                house.points.push(Point {
                    name: PointRef::new(id, spec.name.clone()),
                    point_type: spec.point_type,
                    does: spec.role == PointRole::Does,
                    percent: ["level", "position", "volume", "loop"]
                        .iter()
                        .any(|word| named(&spec.name, word)),
                    travels: named(&spec.name, "position") && spec.point_type == PointType::Number,
                    travel_ms: kind.full_travel.map(|time| (time.0 * 1000.0).round() as i64),
                });
            }
        }
        for (id, zone) in project.zones.iter() {
            let points = zone.points.iter().filter_map(|point| house.number(point)).collect();
            house.zones.insert(id, points);
        }
        house.scenes = project.scenes.iter().map(|(id, scene)| (id, scene.clone())).collect();
        let on = project.rules.iter().filter(|(_, rule)| rule.enabled);
        house.rules = on.map(|(id, rule)| (id, rule.clone())).collect();
        house
    }

    /// The number of a point.
    pub fn number(&self, name: &PointRef) -> Option<usize> {
        self.points.iter().position(|point| point.name == *name)
    }

    /// The points of a target that do something, in order (section 5).
    pub fn doing(&self, target: &Target) -> Vec<usize> {
        let all = match target {
            Target::Point(name) => self.number(name).into_iter().collect(),
            Target::Zone(zone) => self.zones.get(zone).cloned().unwrap_or_default(),
        };
        all.into_iter().filter(|point| self.points[*point].does).collect()
    }
}

/// The word itself, or the word and a number after it.
fn named(name: &str, word: &str) -> bool {
    let Some(rest) = name.strip_prefix(word) else { return false };
    let number = rest.trim_start();
    rest.is_empty() || (!number.is_empty() && number.chars().all(|c| c.is_ascii_digit()))
}
