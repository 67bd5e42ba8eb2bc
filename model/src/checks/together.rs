//! Whether conditions can hold at one time, found by trying every value that they tell apart.
//!
//! Points, clock, sun, day and mode are taken one by one; what is left out (that a zone's points are points too) only
//! lets more pass as possible, so that what is called impossible is so. Conditions within conditions are opened out,
//! up to a number of branches beyond which all is taken to be possible.

use std::collections::BTreeMap;

use crate::kit::PointType;
use crate::project::Project;
use crate::systems::{Comparison, Condition, HouseMode, PointRef, Value, Weekday};

/// Branches that are tried at most.
const MOST_BRANCHES: usize = 256;

/// A condition that is not made of others, and whether it must hold.
type Part<'a> = (&'a Condition, bool);

/// Whether all of these can hold at one time.
pub(super) fn can_hold(project: &Project, conditions: &[&Condition]) -> bool {
    let mut branches: Vec<Vec<Part<'_>>> = vec![Vec::new()];
    for condition in conditions {
        branches = opened(branches, condition, true);
        if branches.len() > MOST_BRANCHES {
            return true;
        }
    }
    branches.iter().any(|branch| is_possible(project, branch))
}

/// Every branch joined with every way in which a condition holds (or does not).
fn opened<'a>(branches: Vec<Vec<Part<'a>>>, condition: &'a Condition, holds: bool) -> Vec<Vec<Part<'a>>> {
    if branches.len() > MOST_BRANCHES {
        return branches;
    }
    match (condition, holds) {
        (Condition::Not(inner), holds) => opened(branches, inner, !holds),
        (Condition::OneOf(inner), true) => {
            inner.iter().flat_map(|one| opened(branches.clone(), one, true)).collect()
        }
        (Condition::OneOf(inner), false) => {
            inner.iter().fold(branches, |branches, one| opened(branches, one, false))
        }
        (part, holds) => branches
            .into_iter()
            .map(|mut branch| {
                branch.push((part, holds));
                branch
            })
            .collect(),
    }
}

fn is_possible(project: &Project, branch: &[Part<'_>]) -> bool {
    let mut points: BTreeMap<&PointRef, Vec<(Comparison, Value, bool)>> = BTreeMap::new();
    for (part, holds) in branch {
        if let Condition::Point { point, comparison, value } = part {
            points.entry(point).or_default().push((*comparison, *value, *holds));
        }
    }
    points.iter().all(|(point, asked)| point_can(project, point, asked))
        && zones_can(project, branch)
        && clock_can(branch)
        && days_can(branch)
        && modes_can(project, branch)
        && sun_can(branch)
}

/// A value that a point may have.
#[derive(Clone, Copy, PartialEq)]
enum Has {
    Nothing,
    State(bool),
    Number(f64),
    Colour([u8; 3]),
}

/// Whether a point can have a value that compares as asked.
fn point_can(project: &Project, point: &PointRef, asked: &[(Comparison, Value, bool)]) -> bool {
    let kind = project.devices.get(point.device).and_then(|device| project.kinds.get(device.kind));
    let Some(spec) = kind.and_then(|kind| kind.point(&point.point)) else { return true };
    let tried: Vec<Has> = match spec.point_type {
        PointType::Event => vec![Has::Nothing],
        PointType::State => vec![Has::State(false), Has::State(true)],
        PointType::Number => numbers(asked).into_iter().map(Has::Number).collect(),
        PointType::Colour => {
            let named = asked.iter().filter_map(|(_, value, _)| match value {
                Value::Colour(colour) => Some(*colour),
                _ => None,
            });
            // And one that nobody speaks of: of 256 reds one is always left.
            let named: Vec<[u8; 3]> = named.chain([[0; 3], [255; 3]]).collect();
            let other = (1..=255).map(|red| [red, 7, 3]).find(|colour| !named.contains(colour));
            named.into_iter().chain(other).map(Has::Colour).collect()
        }
    };
    tried.into_iter().any(|has| {
        asked.iter().all(|(comparison, value, holds)| compares(has, *comparison, *value) == *holds)
    })
}

/// Figures of every sort that are told apart: those named, those between and beside them.
fn numbers(asked: &[(Comparison, Value, bool)]) -> Vec<f64> {
    let mut named: Vec<f64> = asked
        .iter()
        .filter_map(|(_, value, _)| match value {
            Value::Number(figure) => Some(*figure),
            _ => None,
        })
        .chain([0.0])
        .collect();
    named.sort_by(f64::total_cmp);
    let between: Vec<f64> = named.windows(2).map(|pair| f64::midpoint(pair[0], pair[1])).collect();
    let beside = [named.first().map(|low| low - 1.0), named.last().map(|high| high + 1.0)];
    named.into_iter().chain(between).chain(beside.into_iter().flatten()).collect()
}

/// As the rules' page has it, section 1.
fn compares(has: Has, comparison: Comparison, value: Value) -> bool {
    let is_on = match has {
        Has::Nothing => false,
        Has::State(on) => on,
        Has::Number(figure) => figure > 0.0,
        Has::Colour(colour) => colour != [0; 3],
    };
    let is = match (value, has) {
        (Value::On, _) => is_on,
        (Value::Off, _) => has != Has::Nothing && !is_on,
        (Value::Number(figure), Has::Number(has)) => figure == has,
        (Value::Number(figure), Has::State(on)) => (figure > 0.0) == on,
        (Value::Colour(colour), Has::Colour(has)) => colour == has,
        _ => false,
    };
    match (comparison, has, value) {
        (Comparison::Is, ..) => is,
        (Comparison::IsNot, ..) => !is,
        (Comparison::Above, Has::Number(has), Value::Number(than)) => has > than,
        (Comparison::Below, Has::Number(has), Value::Number(than)) => has < than,
        _ => false,
    }
}

/// A zone without points that can be on never is; none both is and is not.
fn zones_can(project: &Project, branch: &[Part<'_>]) -> bool {
    branch.iter().all(|(part, holds)| {
        let contradicted = branch.iter().any(|(other, otherwise)| {
            matches!(part, Condition::AnyOf(_) | Condition::AllOf(_)) && part == other && holds != otherwise
        });
        let (zone, is_any) = match part {
            Condition::AnyOf(zone) => (zone, true),
            Condition::AllOf(zone) => (zone, false),
            _ => return true,
        };
        let Some(zone) = project.zones.get(*zone) else { return true };
        let can_be_on = |point: &PointRef| point_can(project, point, &[(Comparison::Is, Value::On, true)]);
        let possible = if is_any {
            zone.points.iter().any(can_be_on)
        } else {
            !zone.points.is_empty() && zone.points.iter().all(can_be_on)
        };
        !contradicted && (possible || !holds)
    })
}

fn clock_can(branch: &[Part<'_>]) -> bool {
    (0..1440_u16).any(|now| {
        branch.iter().all(|(part, holds)| match part {
            Condition::Between(from, to) => {
                let (from, to) = (from.minutes, to.minutes);
                let between = if from <= to { from <= now && now < to } else { from <= now || now < to };
                between == *holds
            }
            _ => true,
        })
    })
}

fn days_can(branch: &[Part<'_>]) -> bool {
    Weekday::ALL.into_iter().any(|day| {
        branch.iter().all(|(part, holds)| match part {
            Condition::Weekdays(days) => days.contains(day) == *holds,
            _ => true,
        })
    })
}

fn modes_can(project: &Project, branch: &[Part<'_>]) -> bool {
    let named = project.modes.ids().map(HouseMode::Named);
    named.chain([HouseMode::AtHome]).any(|mode| {
        branch.iter().all(|(part, holds)| match part {
            Condition::Mode(asked) => (*asked == mode) == *holds,
            _ => true,
        })
    })
}

/// Elevation at which the sun counts as up: half its disc, 16' of arc, as `sun.rs` has it.
const UP_DEGREES: f64 = -16.0 / 60.0;

fn sun_can(branch: &[Part<'_>]) -> bool {
    let (mut heights, mut bearings) = (vec![-90.0, UP_DEGREES, UP_DEGREES + 1e-6, 90.0], vec![0.0, 180.0]);
    for (part, _) in branch {
        match part {
            Condition::SunHigher { degrees } | Condition::SunLower { degrees } => {
                heights.extend([degrees - 1e-6, *degrees, degrees + 1e-6]);
            }
            Condition::SunBetween { from_degrees, to_degrees } => {
                for bearing in [*from_degrees, *to_degrees] {
                    bearings.extend([bearing - 1e-6, bearing, bearing + 1e-6]);
                }
            }
            _ => {}
        }
    }
    heights.retain(|height| (-90.0..=90.0).contains(height));
    bearings.retain(|bearing| (0.0..=360.0).contains(bearing));
    let height_can = heights.iter().any(|height| {
        branch.iter().all(|(part, holds)| match part {
            Condition::Dark => (*height <= UP_DEGREES) == *holds,
            Condition::Daylight => (*height > UP_DEGREES) == *holds,
            Condition::SunHigher { degrees } => (height > degrees) == *holds,
            Condition::SunLower { degrees } => (height < degrees) == *holds,
            _ => true,
        })
    });
    let bearing_can = bearings.iter().any(|bearing| {
        branch.iter().all(|(part, holds)| match part {
            Condition::SunBetween { from_degrees: from, to_degrees: to } => {
                let (after, before) = (from <= bearing, bearing <= to);
                (if to < from { after || before } else { after && before }) == *holds
            }
            _ => true,
        })
    });
    height_can && bearing_can
}
