//! The clock on the wall: how far it is from UTC, and the nights on which it jumps.
//!
//! Where the clock goes forward, an hour is never shown; where it goes back, an hour is shown twice. Whoever asks
//! for a time of day on such a night is told so, and decides.

use std::fmt;

use super::{Date, MS_PER_DAY, MS_PER_HOUR, MS_PER_MINUTE, UtcTime};
use crate::units::TimeOfDay;

/// When clocks are put forward and back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SummerTime {
    /// Never.
    Never,
    /// By one hour from 01:00 UTC on the last Sunday of March to 01:00 UTC on the last Sunday of October (Directive
    /// 2000/84/EC; the United Kingdom keeps the same days).
    European,
}

impl SummerTime {
    /// Every rule, in the order they are offered.
    pub const ALL: [Self; 2] = [Self::European, Self::Never];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Never => "no summer time",
            Self::European => "last Sundays of March and October",
        }
    }

    /// The moments of a year at which the clock goes forward and back; `None` where it stays.
    pub fn changes(self, year: i32) -> Option<(UtcTime, UtcTime)> {
        match self {
            Self::Never => None,
            Self::European => Some((
                UtcTime::on(Date::last_sunday(year, 3)?, 1, 0, 0),
                UtcTime::on(Date::last_sunday(year, 10)?, 1, 0, 0),
            )),
        }
    }
}

/// The clock on the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LocalClock {
    /// Minutes that winter time is ahead of UTC.
    pub ahead_of_utc_minutes: i16,
    /// When it goes forward and back.
    pub summer_time: SummerTime,
}

/// What a clock on the wall and a calendar beside it show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Local {
    /// The date.
    pub date: Date,
    /// Milliseconds that the clock shows past midnight, 0 to 86 399 999.
    pub since_midnight_ms: i64,
}

impl Local {
    /// A time of day on a date.
    pub const fn at(date: Date, time: TimeOfDay) -> Self {
        Self { date, since_midnight_ms: time.minutes as i64 * MS_PER_MINUTE }
    }

    /// The time of day, seconds dropped.
    pub const fn time_of_day(self) -> TimeOfDay {
        TimeOfDay { minutes: (self.since_midnight_ms / MS_PER_MINUTE) as u16 }
    }
}

/// Date and time to the minute (`2026-03-29 01:30`).
impl fmt::Display for Local {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} {}", self.date, self.time_of_day())
    }
}

/// When a clock shows a certain time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moments {
    /// At one moment, as nearly always.
    Once(UtcTime),
    /// Twice, an hour apart, because the clock goes back.
    Twice {
        /// In summer time.
        first: UtcTime,
        /// In winter time.
        second: UtcTime,
    },
    /// Never, because the clock jumps over it.
    Never {
        /// When it jumps.
        jumps: UtcTime,
    },
}

impl Moments {
    /// The first moment at which the clock shows that time or has jumped over it.
    pub const fn earliest(self) -> UtcTime {
        match self {
            Self::Once(moment) | Self::Twice { first: moment, .. } | Self::Never { jumps: moment } => moment,
        }
    }
}

impl LocalClock {
    /// Milliseconds that the clock is ahead of UTC at a moment.
    pub fn ahead_ms(self, at: UtcTime) -> i64 {
        let winter = self.winter_ms();
        let changes = at.date().and_then(|date| self.summer_time.changes(date.year()));
        let is_summer = changes.is_some_and(|(forward, back)| forward <= at && at < back);
        if is_summer { winter + MS_PER_HOUR } else { winter }
    }

    /// What the clock shows at a moment; `None` outside the years that a [`Date`] can be in.
    pub fn shows(self, at: UtcTime) -> Option<Local> {
        let shown = at.ms.checked_add(self.ahead_ms(at))?;
        let date = Date::from_days(shown.div_euclid(MS_PER_DAY))?;
        Some(Local { date, since_midnight_ms: shown.rem_euclid(MS_PER_DAY) })
    }

    /// When the clock shows a time.
    pub fn when(self, local: Local) -> Moments {
        let shown = local.date.days() * MS_PER_DAY + local.since_midnight_ms;
        let winter = UtcTime::from_ms(shown - self.winter_ms());
        if self.summer_time == SummerTime::Never {
            return Moments::Once(winter);
        }
        let summer = winter.after_ms(-MS_PER_HOUR);
        let holds = |moment: UtcTime| moment.ms + self.ahead_ms(moment) == shown;
        match (holds(summer), holds(winter)) {
            (true, true) => Moments::Twice { first: summer, second: winter },
            (true, false) => Moments::Once(summer),
            (false, true) => Moments::Once(winter),
            // Of the hour that is jumped over, the change is the one between both readings of it.
            (false, false) => {
                let change = winter.date().and_then(|date| self.summer_time.changes(date.year()));
                Moments::Never { jumps: change.map_or(winter, |(forward, _)| forward) }
            }
        }
    }

    /// The moment at which a local day begins: midnight, or the jump over it.
    pub fn begins(self, date: Date) -> UtcTime {
        self.when(Local { date, since_midnight_ms: 0 }).earliest()
    }

    const fn winter_ms(self) -> i64 {
        self.ahead_of_utc_minutes as i64 * MS_PER_MINUTE
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn clock(ahead_of_utc_minutes: i16) -> LocalClock {
        LocalClock { ahead_of_utc_minutes, summer_time: SummerTime::European }
    }

    fn local(date: (i32, u8, u8), time: &str) -> Local {
        Local::at(Date::new(date.0, date.1, date.2).unwrap(), TimeOfDay::parse(time).unwrap())
    }

    fn utc(date: (i32, u8, u8), hour: i64, minute: i64) -> UtcTime {
        UtcTime::on(Date::new(date.0, date.1, date.2).unwrap(), hour, minute, 0)
    }

    /// The rule of Directive 2000/84/EC on the nights of 2026, in London, Berlin and the Azores, where the hour that is
    /// left out begins at midnight.
    #[test]
    fn a_clock_jumps_over_one_hour_and_shows_another_twice() {
        let (spring, autumn) = ((2026, 3, 29), (2026, 10, 25));
        for (ahead, date, time, expected) in [
            (0, spring, "00:59", Moments::Once(utc(spring, 0, 59))),
            (0, spring, "01:00", Moments::Never { jumps: utc(spring, 1, 0) }),
            (0, spring, "01:59", Moments::Never { jumps: utc(spring, 1, 0) }),
            (0, spring, "02:00", Moments::Once(utc(spring, 1, 0))),
            (0, autumn, "00:59", Moments::Once(utc((2026, 10, 24), 23, 59))),
            (0, autumn, "01:00", Moments::Twice { first: utc(autumn, 0, 0), second: utc(autumn, 1, 0) }),
            (0, autumn, "01:59", Moments::Twice { first: utc(autumn, 0, 59), second: utc(autumn, 1, 59) }),
            (0, autumn, "02:00", Moments::Once(utc(autumn, 2, 0))),
            (60, spring, "02:30", Moments::Never { jumps: utc(spring, 1, 0) }),
            (60, autumn, "02:30", Moments::Twice { first: utc(autumn, 0, 30), second: utc(autumn, 1, 30) }),
            (-60, spring, "00:00", Moments::Never { jumps: utc(spring, 1, 0) }),
        ] {
            assert_eq!(clock(ahead).when(local(date, time)), expected, "{ahead} {date:?} {time}");
        }
        let azores = clock(-60).begins(Date::new(2026, 3, 29).unwrap());
        assert_eq!(azores, utc(spring, 1, 0));
        assert_eq!(clock(-60).shows(azores).unwrap().to_string(), "2026-03-29 01:00");
    }

    #[test]
    fn a_clock_without_summer_time_never_jumps() {
        let plain = LocalClock { ahead_of_utc_minutes: 330, summer_time: SummerTime::Never };
        let noon = local((2026, 7, 1), "12:00");
        assert_eq!(plain.when(noon), Moments::Once(utc((2026, 7, 1), 6, 30)));
        assert_eq!(plain.shows(utc((2026, 7, 1), 6, 30)), Some(noon));
        assert_eq!(plain.shows(UtcTime::from_ms(i64::MAX)), None);
    }

    proptest! {
        #[test]
        fn what_a_clock_shows_is_shown_at_that_moment(
            ahead in -720_i16..=840,
            ms in 0_i64..4_102_444_800_000,
            european in any::<bool>(),
        ) {
            let summer_time = if european { SummerTime::European } else { SummerTime::Never };
            let clock = LocalClock { ahead_of_utc_minutes: ahead, summer_time };
            let moment = UtcTime::from_ms(ms);
            let shown = clock.shows(moment).unwrap();
            let found = match clock.when(shown) {
                Moments::Once(at) => at == moment,
                Moments::Twice { first, second } => second.ms - first.ms == MS_PER_HOUR && (first == moment || second == moment),
                Moments::Never { .. } => false,
            };
            prop_assert!(found, "{} {}", shown, moment);
            let begins = clock.begins(shown.date);
            prop_assert!(begins <= moment && moment.ms - begins.ms < MS_PER_DAY + MS_PER_HOUR);
        }
    }
}
