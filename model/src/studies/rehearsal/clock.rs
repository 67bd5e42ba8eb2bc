//! The clock of a rehearsal: whole milliseconds, and the local time that a wall clock shows.
//!
//! Nothing here reads a clock of the machine. A moment is handed in, and a clock rule says by how much local
//! time is ahead of universal time at it, so that both days of the clock change can be rehearsed.

use std::ops::{Add, Sub};

use crate::systems::Weekday;
use crate::units::{Seconds, TimeOfDay};

/// Milliseconds in a minute.
pub const MINUTE_MS: i64 = 60_000;
/// Milliseconds in a day of 24 hours.
pub const DAY_MS: i64 = 86_400_000;

/// A moment: milliseconds since 1970-01-01T00:00Z.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(pub i64);

impl Moment {
    /// Before all others: nothing is due yet.
    pub const FIRST: Self = Self(i64::MIN);
    /// After all others: nothing will be due.
    pub const NEVER: Self = Self(i64::MAX);

    /// So many milliseconds later.
    pub const fn plus_ms(self, ms: i64) -> Self {
        Self(self.0.saturating_add(ms))
    }
}

/// So much later; parts of a millisecond are rounded, halves up.
impl Add<Seconds> for Moment {
    type Output = Self;
    fn add(self, time: Seconds) -> Self {
        self.plus_ms(whole_ms(time))
    }
}

/// Milliseconds between two moments.
impl Sub for Moment {
    type Output = i64;
    fn sub(self, other: Self) -> i64 {
        self.0.saturating_sub(other.0)
    }
}

/// A duration in whole milliseconds, halves up; not below zero.
pub fn whole_ms(time: Seconds) -> i64 {
    (time.0 * 1000.0 + 0.5).floor().max(0.0) as i64
}

/// A date of the Gregorian calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// The year.
    pub year: i32,
    /// 1 to 12.
    pub month: u32,
    /// 1 to 31.
    pub day: u32,
}

impl Date {
    /// Days since 1970-01-01. The method is Howard Hinnant's, "chrono-compatible low-level date algorithms",
    /// from memory; checked below against dates of known weekdays.
    pub fn days_since_epoch(self) -> i64 {
        let year = i64::from(self.year) - i64::from(self.month <= 2);
        let era = year.div_euclid(400);
        let year_of_era = year.rem_euclid(400);
        let month_from_march = (i64::from(self.month) + 9) % 12;
        let day_of_year = (153 * month_from_march + 2) / 5 + i64::from(self.day) - 1;
        era * 146_097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719_468
    }

    /// The date so many days after 1970-01-01.
    pub fn from_days(days: i64) -> Self {
        let shifted = days + 719_468;
        let era = shifted.div_euclid(146_097);
        let day_of_era = shifted.rem_euclid(146_097);
        let year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let month_from_march = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
        let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
        let year = year_of_era + era * 400 + i64::from(month <= 2);
        Self { year: year as i32, month: month as u32, day: day as u32 }
    }
}

/// The day of the week, so many days after 1970-01-01, which was a Thursday.
pub fn weekday_of(days: i64) -> Weekday {
    Weekday::ALL[(days + 3).rem_euclid(7) as usize]
}

/// When clocks are put forward.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SummerTime {
    /// Never.
    #[default]
    None,
    /// By an hour from 01:00 universal time on the last Sunday of March to 01:00 universal time on the last
    /// Sunday of October: Directive 2000/84/EC; the United Kingdom by the Summer Time Order 2002.
    European,
}

/// How local time follows from universal time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ClockRule {
    /// By how many minutes local standard time is ahead of universal time.
    pub standard_minutes: i32,
    /// When clocks are put forward.
    pub summer: SummerTime,
}

/// The hour by which clocks are put forward.
const SUMMER_MS: i64 = 60 * MINUTE_MS;

impl ClockRule {
    /// The clock of the United Kingdom.
    pub const UNITED_KINGDOM: Self = Self { standard_minutes: 0, summer: SummerTime::European };

    const fn standard_ms(self) -> i64 {
        self.standard_minutes as i64 * MINUTE_MS
    }

    /// By how many milliseconds local time is ahead at a moment.
    pub fn offset_ms(self, at: Moment) -> i64 {
        let year = Date::from_days(at.0.div_euclid(DAY_MS)).year;
        let summer = self.changes(year).is_some_and(|[forward, back]| at >= forward && at < back);
        self.standard_ms() + if summer { SUMMER_MS } else { 0 }
    }

    /// The two moments of a year at which the clock is changed: forward, then back.
    pub fn changes(self, year: i32) -> Option<[Moment; 2]> {
        match self.summer {
            SummerTime::None => None,
            SummerTime::European => Some([3, 10].map(|month| {
                let last = Date { year, month, day: 31 }.days_since_epoch();
                let since_sunday = (weekday_of(last) as i64 + 1) % 7;
                Moment((last - since_sunday) * DAY_MS + 60 * MINUTE_MS)
            })),
        }
    }

    /// What a clock on the wall shows, as milliseconds since 1970-01-01T00:00 local.
    pub fn local_ms(self, at: Moment) -> i64 {
        at.0 + self.offset_ms(at)
    }

    /// Local date and time of day, with milliseconds after midnight.
    pub fn local(self, at: Moment) -> (Date, i64) {
        let local = self.local_ms(at);
        (Date::from_days(local.div_euclid(DAY_MS)), local.rem_euclid(DAY_MS))
    }

    /// The local day, counted from 1970-01-01.
    pub fn local_day(self, at: Moment) -> i64 {
        self.local_ms(at).div_euclid(DAY_MS)
    }

    /// The first moment whose local date and time is this or later: in the hour that is skipped, the moment of
    /// the jump; in the hour that is doubled, the first of the two.
    pub fn moment_of(self, local_ms: i64) -> Moment {
        let early = Moment(local_ms - self.standard_ms() - SUMMER_MS);
        if self.summer == SummerTime::None {
            return Moment(local_ms - self.standard_ms());
        }
        if self.local_ms(early) >= local_ms {
            return early;
        }
        let late = Moment(local_ms - self.standard_ms());
        let year = Date::from_days(early.0.div_euclid(DAY_MS)).year;
        match self.changes(year) {
            Some([forward, _]) if forward > early && forward < late => forward,
            _ => late,
        }
    }

    /// A local date and time of day as a moment, as [`Self::moment_of`] takes it.
    pub fn at(self, date: Date, time: TimeOfDay) -> Moment {
        self.moment_of(date.days_since_epoch() * DAY_MS + i64::from(time.minutes) * MINUTE_MS)
    }

    /// The next moment after this one at which a time of day comes.
    pub fn next(self, after: Moment, time: TimeOfDay) -> Moment {
        let today = self.local_day(after);
        let on = |day: i64| self.moment_of(day * DAY_MS + i64::from(time.minutes) * MINUTE_MS);
        (today - 1..=today + 1).map(on).find(|at| *at > after).unwrap_or_else(|| on(today + 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const UK: ClockRule = ClockRule::UNITED_KINGDOM;

    fn date(year: i32, month: u32, day: u32) -> Date {
        Date { year, month, day }
    }

    fn time(typed: &str) -> TimeOfDay {
        TimeOfDay::parse(typed).unwrap()
    }

    #[test]
    fn dates_and_weekdays_are_those_of_the_calendar() {
        for (day, weekday) in [
            (date(1970, 1, 1), Weekday::Thursday),
            (date(2000, 2, 29), Weekday::Tuesday),
            (date(2024, 2, 29), Weekday::Thursday),
            (date(2026, 12, 31), Weekday::Thursday),
            (date(1969, 12, 31), Weekday::Wednesday),
        ] {
            let days = day.days_since_epoch();
            assert_eq!(Date::from_days(days), day);
            assert_eq!(weekday_of(days), weekday, "{day:?}");
        }
        for days in -200_000..200_000 {
            assert_eq!(Date::from_days(days).days_since_epoch(), days);
        }
    }

    /// The dates are those that the government of the United Kingdom publishes for 2024 to 2026 (from memory).
    #[test]
    fn clocks_change_on_the_last_sundays_of_march_and_october() {
        for (year, forward, back) in [(2024, 31, 27), (2025, 30, 26), (2026, 29, 25)] {
            let [spring, autumn] = UK.changes(year).unwrap();
            assert_eq!(UK.local(spring), (date(year, 3, forward), 2 * 60 * MINUTE_MS));
            assert_eq!(UK.local(spring.plus_ms(-1)), (date(year, 3, forward), 60 * MINUTE_MS - 1));
            assert_eq!(UK.local(autumn), (date(year, 10, back), 60 * MINUTE_MS));
            assert_eq!(UK.local(autumn.plus_ms(-1)), (date(year, 10, back), 2 * 60 * MINUTE_MS - 1));
        }
    }

    #[test]
    fn a_time_that_is_skipped_comes_with_the_jump_and_one_that_is_doubled_comes_first() {
        let [spring, autumn] = UK.changes(2026).unwrap();
        let on = |day, typed| UK.at(day, time(typed));
        assert_eq!(on(date(2026, 3, 29), "00:59"), spring.plus_ms(-MINUTE_MS));
        for skipped in ["01:00", "01:30", "01:59", "02:00"] {
            assert_eq!(on(date(2026, 3, 29), skipped), spring, "{skipped}");
        }
        assert_eq!(on(date(2026, 3, 29), "02:01"), spring.plus_ms(MINUTE_MS));
        assert_eq!(on(date(2026, 10, 25), "01:30"), autumn.plus_ms(-30 * MINUTE_MS));
        assert_eq!(on(date(2026, 10, 25), "02:00"), autumn.plus_ms(60 * MINUTE_MS));
        assert_eq!(on(date(2026, 10, 25), "00:30"), autumn.plus_ms(-90 * MINUTE_MS));
    }

    /// Brute force over every minute of the days around both changes.
    #[test]
    fn the_first_moment_is_found_as_by_trying_every_minute() {
        for rule in [UK, ClockRule { standard_minutes: 60, summer: SummerTime::European }] {
            for change in rule.changes(2026).unwrap() {
                let from = change.0 - 2 * DAY_MS;
                let day = rule.local_day(change);
                for minutes in (0..1440).step_by(7) {
                    let local = day * DAY_MS + minutes * MINUTE_MS;
                    let tried = (0..)
                        .map(|step| from + step * MINUTE_MS)
                        .find(|u| rule.local_ms(Moment(*u)) >= local);
                    assert_eq!(Some(rule.moment_of(local).0), tried, "{minutes}");
                }
            }
        }
    }

    #[test]
    fn the_next_time_of_day_is_after_now() {
        let evening = UK.at(date(2026, 6, 1), time("22:30"));
        assert_eq!(UK.next(evening, time("22:30")), UK.at(date(2026, 6, 2), time("22:30")));
        assert_eq!(UK.next(evening.plus_ms(-1), time("22:30")), evening);
        assert_eq!(UK.next(evening, time("07:00")), UK.at(date(2026, 6, 2), time("07:00")));
    }
}
