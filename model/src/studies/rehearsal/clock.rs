//! Moments and durations of a rehearsal, over the calendar of the house.

use crate::calendar::{Date, Local, LocalClock, MS_PER_DAY, UtcTime};
use crate::units::{Seconds, TimeOfDay};

/// Before all others.
pub(super) const FIRST: UtcTime = UtcTime::from_ms(i64::MIN);

/// After all others: nothing will be due.
pub(super) const NEVER: UtcTime = UtcTime::from_ms(i64::MAX);

/// A duration in whole milliseconds, halves up; not below zero.
pub fn whole_ms(time: Seconds) -> i64 {
    (time.0 * 1000.0 + 0.5).floor().max(0.0) as i64
}

/// Milliseconds from one moment to another.
pub(super) const fn ms_between(from: UtcTime, to: UtcTime) -> i64 {
    to.ms.saturating_sub(from.ms)
}

/// What the clock on the wall shows, as milliseconds since the beginning of 1970 there.
pub(super) fn shown_ms(clock: LocalClock, at: UtcTime) -> i64 {
    at.ms.saturating_add(clock.ahead_ms(at))
}

/// When a time of day comes on a local day, counted from 1970: in an hour that is skipped, as the clock jumps; in
/// one that is doubled, the first time.
pub(super) fn comes_at(clock: LocalClock, local_day: i64, time: TimeOfDay) -> Option<UtcTime> {
    Some(clock.when(Local::at(Date::from_days(local_day)?, time)).earliest())
}

/// The next moment after this one at which a time of day comes.
pub fn next_time(clock: LocalClock, after: UtcTime, time: TimeOfDay) -> UtcTime {
    let today = shown_ms(clock, after).div_euclid(MS_PER_DAY);
    let days = today - 1..=today + 2;
    days.filter_map(|day| comes_at(clock, day, time)).find(|at| *at > after).unwrap_or(NEVER)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::{MS_PER_MINUTE, SummerTime};

    const UK: LocalClock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };

    fn time(typed: &str) -> TimeOfDay {
        TimeOfDay::parse(typed).unwrap()
    }

    /// Brute force over every minute of the days around both changes.
    #[test]
    fn a_time_comes_at_the_first_minute_that_shows_it_or_later() {
        for clock in [UK, LocalClock { ahead_of_utc_minutes: 60, ..UK }] {
            let (forward, back) = clock.summer_time.changes(2026).unwrap();
            for change in [forward, back] {
                let from = change.ms - 2 * MS_PER_DAY;
                let day = shown_ms(clock, change).div_euclid(MS_PER_DAY);
                for minutes in (0..1440).step_by(7) {
                    let local = day * MS_PER_DAY + i64::from(minutes) * MS_PER_MINUTE;
                    let tried = (0..)
                        .map(|step| UtcTime::from_ms(from + step * MS_PER_MINUTE))
                        .find(|at| shown_ms(clock, *at) >= local);
                    assert_eq!(comes_at(clock, day, TimeOfDay { minutes }), tried, "{minutes}");
                }
            }
        }
    }

    #[test]
    fn the_next_time_of_day_is_after_now() {
        let on = |day, typed| UK.when(Local::at(Date::new(2026, 6, day).unwrap(), time(typed))).earliest();
        let evening = on(1, "22:30");
        assert_eq!(next_time(UK, evening, time("22:30")), on(2, "22:30"));
        assert_eq!(next_time(UK, evening.after_ms(-1), time("22:30")), evening);
        assert_eq!(next_time(UK, evening, time("07:00")), on(2, "07:00"));
    }

    #[test]
    fn durations_are_whole_milliseconds() {
        for (seconds, ms) in [(0.0, 0), (0.0004, 0), (0.0005, 1), (1.5, 1500), (-3.0, 0)] {
            assert_eq!(whole_ms(Seconds(seconds)), ms);
        }
    }
}
