//! Somebody in the house: where they are, and what their moving makes the sensors report.
//!
//! A sensor that looks reports movement from where somebody's way enters what it covers until where it leaves it, to
//! the moment at which they are there, as for the walks of the plan (`crate::rehearsing`); it is not asked whether
//! they stand still within, which the figures of where people dwell tell. Doors count as they are drawn. Somebody who
//! is led by the pointer walks no faster than people do: the clock goes on by what their way takes at 1.3 m/s.

use kurbo::Point;
use pattress_model::calendar::UtcTime;
use pattress_model::geometry::{Segment, stretches_inside};
use pattress_model::id::Id;
use pattress_model::plan::{Level, Walk};
use pattress_model::project::Project;
use pattress_model::studies::coverage::SensorCoverage;
use pattress_model::studies::coverage::rooms::first_seen::WALKING_MM_PER_S;
use pattress_model::studies::coverage::rooms::route::Route;
use pattress_model::studies::rehearsal::script::Footstep;
use pattress_model::systems::PointRef;
use pattress_model::units::Seconds;

use crate::rehearsing::{walk_past, what_it_reports};

/// Somebody in the house.
#[derive(Clone, Debug)]
pub enum Person {
    /// Led by the pointer, and now here.
    Led {
        /// The storey.
        level: Id<Level>,
        /// Where, plan mm.
        at: Point,
    },
    /// On a walk of the plan.
    Walking(Walking),
}

/// Somebody on a walk of the plan.
#[derive(Clone, Debug)]
pub struct Walking {
    /// The walk's name.
    pub name: String,
    route: Route,
    set_out: UtcTime,
    coming: Vec<(UtcTime, Footstep)>,
    /// How many of these have come.
    came: usize,
}

/// What a sensor comes to report on somebody's way.
#[derive(Clone, Debug, PartialEq)]
pub struct Noticed {
    /// So long after the way began, ms.
    pub after_ms: i64,
    /// The point of the sensor.
    pub point: PointRef,
    /// Whether it sees them now, or no more.
    pub seen: bool,
}

impl Person {
    /// Where they are at a moment; `None` before they set out and once they have arrived and left.
    pub fn at(&self, now: UtcTime) -> Option<(Id<Level>, Point)> {
        match self {
            Self::Led { level, at } => Some((*level, *at)),
            Self::Walking(walking) => walking.at(now),
        }
    }
}

impl Walking {
    /// Sets out on a walk.
    pub fn set_out(project: &Project, walk: &Walk, sensors: &[SensorCoverage], now: UtcTime) -> Self {
        let coming = walk_past(project, walk, sensors)
            .into_iter()
            .map(|step| (now.after_ms(ms(step.after.0)), step))
            .collect();
        Self { name: walk.name.clone(), route: Route::of(walk), set_out: now, coming, came: 0 }
    }

    /// When the next sensor comes to report.
    pub fn next(&self) -> Option<UtcTime> {
        self.coming.get(self.came).map(|(at, _)| *at)
    }

    /// What is reported up to a moment.
    pub fn take(&mut self, until: UtcTime) -> Option<Footstep> {
        let (at, step) = self.coming.get(self.came)?;
        (*at <= until).then(|| {
            self.came += 1;
            step.clone()
        })
    }

    /// What came after a moment comes again: it was forgotten with all that was recorded after it.
    pub fn again_from(&mut self, now: UtcTime) {
        self.came = self.coming.partition_point(|(at, _)| *at <= now);
    }

    /// Whether they are still on their way.
    pub fn goes_on(&self, now: UtcTime) -> bool {
        self.came < self.coming.len() || now < self.set_out.after_ms(ms(self.route.seconds()))
    }

    fn at(&self, now: UtcTime) -> Option<(Id<Level>, Point)> {
        let gone = Seconds((now.ms - self.set_out.ms) as f64 / 1000.0);
        if gone.0 < 0.0 || gone.0 > self.route.seconds() + 2.0 {
            return None;
        }
        self.route.place(self.route.where_at(gone.0))
    }
}

/// What sensors come to report while somebody goes straight from one place to another on a storey, and how long
/// that takes, ms. Without a former place they appear there, without a next one they are gone.
pub fn noticed(
    project: &Project,
    sensors: &[SensorCoverage],
    level: Id<Level>,
    from: Option<Point>,
    to: Option<Point>,
) -> (Vec<Noticed>, i64) {
    let here = sensors.iter().filter(|sensor| sensor.level == level);
    let mut found = Vec::new();
    let takes_ms = match (from, to) {
        (Some(from), Some(to)) => ms((to - from).hypot() / WALKING_MM_PER_S),
        _ => 0,
    };
    for sensor in here {
        let Some(point) = what_it_reports(project, sensor) else { continue };
        let mut tell = |after_ms, seen| found.push(Noticed { after_ms, point: point.clone(), seen });
        let within = |at: Option<Point>| at.is_some_and(|at| sensor.polygon.contains(at));
        match (from, to) {
            (Some(from), Some(to)) => {
                let way = Segment::new(from, to);
                let mut inside = sensor.polygon.contains(from);
                for (enters, leaves) in stretches_inside(&sensor.polygon, &way) {
                    if !inside {
                        tell(ms(enters / WALKING_MM_PER_S), true);
                    }
                    inside = true;
                    if leaves < way.length() - 0.5 {
                        tell(ms(leaves / WALKING_MM_PER_S), false);
                        inside = false;
                    }
                }
                if inside != sensor.polygon.contains(to) {
                    tell(takes_ms, !inside);
                }
            }
            _ if within(from) != within(to) => tell(0, within(to)),
            _ => {}
        }
    }
    found.sort_by_key(|noticed| noticed.after_ms);
    (found, takes_ms)
}

fn ms(seconds: f64) -> i64 {
    (seconds * 1000.0).round() as i64
}
