//! Where the sun stands, as the engine asks it: once on every whole minute.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::calendar::{MS_PER_DAY, MS_PER_MINUTE, UtcTime};
use crate::sun::{Place, SunPosition, sun_at};
use crate::systems::SunEvent;
use crate::units::Angle;

/// Something that knows where the sun stands over the site.
pub trait Sky: Send + Sync {
    /// Where it stands at a moment.
    fn sun_at(&self, at: UtcTime) -> SunPosition;
}

/// The sky over a place. Outside the years for which the sun's position is known it stands at the nadir.
#[derive(Clone, Copy, Debug)]
pub struct SkyOver(pub Place);

impl Sky for SkyOver {
    fn sun_at(&self, at: UtcTime) -> SunPosition {
        let nadir = SunPosition { azimuth: Angle::ZERO, elevation: Angle::degrees(-90.0) };
        sun_at(at, self.0).unwrap_or(nadir)
    }
}

/// A plain sky, for plans that don't say where they are and for tests: the sun rises at six and sets at six,
/// universal time, stands at 60° at noon and goes round evenly.
#[derive(Clone, Copy, Debug, Default)]
pub struct EvenSky;

impl Sky for EvenSky {
    fn sun_at(&self, at: UtcTime) -> SunPosition {
        let turn = at.since_midnight_ms() as f64 / MS_PER_DAY as f64;
        // By a hair over the horizon at six sharp: a cosine that is not quite zero must not decide.
        let degrees = -60.0 * (turn * std::f64::consts::TAU).cos() - 16.0 / 60.0 + 1e-6;
        SunPosition { azimuth: Angle::degrees(turn * 360.0), elevation: Angle::degrees(degrees) }
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
    /// The sun in the minute before a minute of the day, and in that minute.
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
            let at = |minute: i64| UtcTime::from_ms(day * MS_PER_DAY + (minute - 1) * MS_PER_MINUTE);
            let minutes: Vec<SunPosition> =
                (0..=MINUTES as i64).map(|minute| sky.sun_at(at(minute))).collect();
            let pairs = minutes.iter().zip(minutes.iter().skip(1)).enumerate();
            let crossings = pairs
                .filter_map(|(minute, (before, now))| match (before.is_up(), now.is_up()) {
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

/// Whether the sun stands between two bearings, clockwise from the first.
pub(super) fn stands_between(sun: SunPosition, from: f64, to: f64) -> bool {
    let bearing = sun.azimuth.as_degrees();
    if from <= to { bearing >= from && bearing <= to } else { bearing >= from || bearing <= to }
}
