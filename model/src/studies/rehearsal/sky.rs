//! Where the sun stands, as the engine asks it: once on every whole minute.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::clock::{DAY_MS, MINUTE_MS, Moment};
use crate::systems::SunEvent;

/// Where the sun's centre stands.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SunPosition {
    /// Above the horizon, degrees, without refraction; below zero where it lies under it.
    pub height_degrees: f64,
    /// Clockwise from true north, degrees, 0 up to 360.
    pub bearing_degrees: f64,
}

/// Height of the sun's centre at which its upper edge is seen on the horizon: 34' of refraction and 16' of
/// radius, the usual allowance for sunrise and sunset (Astronomical Almanac, from memory).
pub const RISE_AND_SET_DEGREES: f64 = -0.833;

/// Something that knows where the sun stands over the site.
pub trait Sky: Send + Sync {
    /// Where it stands at a moment.
    fn sun_at(&self, at: Moment) -> SunPosition;
}

/// A plain sky for tests and for plans without a place: the sun rises at six and sets at six, universal time,
/// and goes round evenly.
#[derive(Clone, Copy, Debug, Default)]
pub struct EvenSky;

impl Sky for EvenSky {
    fn sun_at(&self, at: Moment) -> SunPosition {
        let turn = at.0.rem_euclid(DAY_MS) as f64 / DAY_MS as f64;
        let height = -60.0 * (turn * std::f64::consts::TAU).cos() + RISE_AND_SET_DEGREES;
        // A cosine that is not quite zero at six must not put sunrise off by a minute.
        let height_degrees = (height * 1e9).round() / 1e9;
        SunPosition { height_degrees, bearing_degrees: turn * 360.0 }
    }
}

/// Minutes in a day.
pub(super) const MINUTES: usize = 1440;

/// The sun over one day of universal time, minute by minute, with the minute before it first.
pub(super) struct SunDay {
    minutes: Vec<SunPosition>,
    crossings: Vec<(i64, SunEvent)>,
}

impl SunDay {
    /// The sun in a minute of the day, and in the minute before.
    pub(super) fn at(&self, minute: usize) -> Option<(SunPosition, SunPosition)> {
        Some((*self.minutes.get(minute)?, *self.minutes.get(minute + 1)?))
    }

    /// The minutes of the day at which the sun rises or sets.
    pub(super) fn crossings(&self) -> &[(i64, SunEvent)] {
        &self.crossings
    }
}

/// Days of sun, worked out once each.
#[derive(Clone)]
pub(super) struct SunDays {
    sky: Arc<dyn Sky>,
    days: BTreeMap<i64, Arc<SunDay>>,
}

impl SunDays {
    pub(super) fn new(sky: Arc<dyn Sky>) -> Self {
        Self { sky, days: BTreeMap::new() }
    }

    /// The sun over a day, counted from 1970-01-01 in universal time.
    pub(super) fn day(&mut self, day: i64) -> Arc<SunDay> {
        let sky = &self.sky;
        let found = self.days.entry(day).or_insert_with(|| {
            let minutes: Vec<SunPosition> = (0..=MINUTES as i64)
                .map(|minute| sky.sun_at(Moment(day * DAY_MS + (minute - 1) * MINUTE_MS)))
                .collect();
            let pairs = minutes.iter().zip(minutes.iter().skip(1)).enumerate();
            let crossings = pairs
                .filter_map(|(minute, (before, now))| match (is_up(*before), is_up(*now)) {
                    (false, true) => Some((minute as i64, SunEvent::Rise)),
                    (true, false) => Some((minute as i64, SunEvent::Set)),
                    _ => None,
                })
                .collect();
            Arc::new(SunDay { minutes, crossings })
        });
        Arc::clone(found)
    }
}

/// Whether the sun is up: its upper edge over the horizon.
pub(super) fn is_up(sun: SunPosition) -> bool {
    sun.height_degrees >= RISE_AND_SET_DEGREES
}

/// Whether the sun stands between two bearings, clockwise from the first.
pub(super) fn stands_between(sun: SunPosition, from: f64, to: f64) -> bool {
    let bearing = sun.bearing_degrees;
    if from <= to { bearing >= from && bearing <= to } else { bearing >= from || bearing <= to }
}
