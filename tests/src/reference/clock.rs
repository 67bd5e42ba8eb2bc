//! Local time, in whole minutes (section 3).
//!
//! Times of day and offsets are whole minutes and clocks change on one, so whatever depends on the clock changes
//! as a minute of UTC begins.

use std::ops::Range;

use pattress_model::project::{LocalClock, SummerTime};
use pattress_model::systems::Weekday;
use pattress_model::units::TimeOfDay;

/// Minutes of a day.
pub const DAY: i64 = 24 * 60;

/// Days from 1970-01-01 to a date of the Gregorian calendar, counted out: every year, every month.
pub fn days_to(year: i64, month: usize, day: i64) -> i64 {
    let leap = |year: i64| (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    let years: i64 = (1970..year).map(|year| if leap(year) { 366 } else { 365 }).sum();
    let february = if leap(year) { 29 } else { 28 };
    let months = [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    years + months[..month - 1].iter().sum::<i64>() + day - 1
}

/// The day of the week, 0 for Monday: 1970-01-01 was a Thursday.
fn weekday(days: i64) -> i64 {
    (days + 3).rem_euclid(7)
}

/// 01:00 UTC on the last Sunday of a month of 31 days.
fn last_sunday_at_one(year: i64, month: usize) -> i64 {
    let last = days_to(year, month, 31);
    let sunday = last - (weekday(last) + 1) % 7;
    sunday * DAY + 60
}

/// The clock on the walls of a house, from 1970 to 2099.
pub struct Clock {
    winter_ahead: i64,
    summers: Vec<Range<i64>>,
}

impl Clock {
    /// The clock of a house.
    pub fn of(clock: LocalClock) -> Self {
        let years = match clock.summer_time {
            SummerTime::Never => 1970..1970,
            SummerTime::European => 1970..2100,
        };
        let summers = years.map(|year| last_sunday_at_one(year, 3)..last_sunday_at_one(year, 10)).collect();
        Self { winter_ahead: i64::from(clock.ahead_of_utc_minutes), summers }
    }

    /// What it shows at a minute of UTC, as minutes of a clock that has shown 1970-01-01 00:00.
    fn shown(&self, minute: i64) -> i64 {
        let year = usize::try_from(minute / (366 * DAY)).unwrap_or(0);
        let near = self.summers.iter().skip(year).take(3);
        let is_summer = near.into_iter().any(|summer| summer.contains(&minute));
        minute + self.winter_ahead + if is_summer { 60 } else { 0 }
    }

    /// The time of day that it shows.
    pub fn time_shown(&self, minute: i64) -> i64 {
        self.shown(minute).rem_euclid(DAY)
    }

    /// The weekday of the local date.
    pub fn weekday_shown(&self, minute: i64) -> Weekday {
        Weekday::ALL[weekday(self.shown(minute).div_euclid(DAY)) as usize]
    }

    /// Whether a time of day comes at this minute: it shows that or later, for the first time on that date.
    pub fn comes(&self, time: TimeOfDay, minute: i64) -> bool {
        let now = self.shown(minute);
        // It goes back by no more than an hour: what it showed before that lies lower. Where it goes on evenly, so
        // does what it showed within the hour.
        let is_even = self.shown(minute - 61) == now - 61;
        let hour = if is_even { 1..=1 } else { 1..=61 };
        let before = hour.map(|back| self.shown(minute - back)).max().unwrap_or(now);
        (before + 1..=now).any(|shown| shown.rem_euclid(DAY) == i64::from(time.minutes))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const UK: LocalClock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };

    fn at(year: i64, month: usize, day: i64, hour: i64, minute: i64) -> i64 {
        days_to(year, month, day) * DAY + hour * 60 + minute
    }

    /// Dates of the directive's last Sundays, read off a calendar: 29 March and 25 October 2026, 26 March 2028.
    #[test]
    fn clocks_go_forward_and_back_on_the_last_sundays() {
        for (minute, shows) in [
            (at(2026, 3, 29, 0, 59), 59),
            (at(2026, 3, 29, 1, 0), 120),
            (at(2026, 10, 25, 0, 59), 119),
            (at(2026, 10, 25, 1, 0), 60),
            (at(2028, 3, 26, 1, 0), 120),
            (at(2026, 12, 1, 12, 0), 720),
        ] {
            assert_eq!(Clock::of(UK).time_shown(minute), shows);
        }
        assert_eq!(Clock::of(UK).weekday_shown(at(2028, 2, 29, 12, 0)), Weekday::Tuesday);
    }

    #[test]
    fn a_time_comes_once_a_day_also_where_the_clock_jumps() {
        let clock = Clock::of(UK);
        let half_past_one = TimeOfDay { minutes: 90 };
        for (day, month, times) in [(29, 3, vec![60]), (25, 10, vec![30]), (1, 6, vec![30])] {
            let midnight = at(2026, month, day, 0, 0);
            let found: Vec<i64> =
                (0..DAY - 120).filter(|minute| clock.comes(half_past_one, midnight + minute)).collect();
            assert_eq!(found, times, "{day}. {month}.");
        }
    }
}
