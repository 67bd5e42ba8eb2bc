//! Whether a condition holds, and whether the clock changes it (sections 3 and 6).

use pattress_model::systems::Condition;

use super::Reference;
use super::values::{compares, is_on};

impl Reference<'_> {
    /// The minute of UTC that a millisecond lies in.
    pub(super) fn minute(&self) -> i64 {
        self.state.at.div_euclid(60_000)
    }

    /// Whether all of these hold.
    pub(super) fn all_hold(&self, conditions: &[Condition]) -> bool {
        conditions.iter().all(|condition| self.holds(condition))
    }

    /// Whether it holds now.
    pub(super) fn holds(&self, condition: &Condition) -> bool {
        match condition {
            Condition::Point { point, comparison, value } => self.house.number(point).is_some_and(|number| {
                let point_type = self.house.points[number].point_type;
                compares(self.seen_at(number), point_type, *comparison, *value)
            }),
            Condition::AnyOf(zone) => self
                .house
                .zones
                .get(zone)
                .is_some_and(|zone| zone.iter().any(|point| is_on(self.seen_at(*point)))),
            Condition::AllOf(zone) => {
                self.house.zones.get(zone).is_some_and(|zone| {
                    !zone.is_empty() && zone.iter().all(|point| is_on(self.seen_at(*point)))
                })
            }
            Condition::Mode(mode) => self.state.mode == *mode,
            Condition::Not(inner) => !self.holds(inner),
            Condition::OneOf(inner) => inner.iter().any(|condition| self.holds(condition)),
            by_clock => self.clock_shows(by_clock, self.minute()),
        }
    }

    /// Whether a condition of clock, day or sun holds at a minute.
    fn clock_shows(&self, condition: &Condition, minute: i64) -> bool {
        let sun = || (self.setup.sky)(minute);
        match condition {
            Condition::Between(from, to) => {
                let (from, to) = (i64::from(from.minutes), i64::from(to.minutes));
                let now = self.clock.time_shown(minute);
                if from <= to { from <= now && now < to } else { from <= now || now < to }
            }
            Condition::Weekdays(days) => days.contains(self.clock.weekday_shown(minute)),
            Condition::Dark => !sun().is_up(),
            Condition::Daylight => sun().is_up(),
            Condition::SunHigher { degrees } => sun().height > *degrees,
            Condition::SunLower { degrees } => sun().height < *degrees,
            Condition::SunBetween { from_degrees, to_degrees } => {
                let sun = sun();
                let (after, before) = (*from_degrees <= sun.bearing, sun.bearing <= *to_degrees);
                if to_degrees < from_degrees { after || before } else { after && before }
            }
            _ => false,
        }
    }

    /// Whether a condition of clock, day or sun holds at this minute and did not before, or the other way round.
    pub(super) fn clock_changes(&self, condition: &Condition) -> bool {
        let minute = self.minute();
        self.clock_shows(condition, minute) != self.clock_shows(condition, minute - 1)
    }
}
