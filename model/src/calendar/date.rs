//! Days of the calendar in use since 1582, counted from 1 January 1970, with their weekdays.

use std::fmt;

/// Days from 1 March of the year 0 to 1 January 1970.
const DAYS_BEFORE_1970: i64 = 719_468;

/// Days in four centuries, after which the calendar repeats.
const DAYS_PER_ERA: i64 = 146_097;

/// A day of the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weekday {
    /// Monday.
    Monday,
    /// Tuesday.
    Tuesday,
    /// Wednesday.
    Wednesday,
    /// Thursday.
    Thursday,
    /// Friday.
    Friday,
    /// Saturday.
    Saturday,
    /// Sunday.
    Sunday,
}

impl Weekday {
    /// The days, from Monday (ISO 8601).
    pub const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Monday => "Monday",
            Self::Tuesday => "Tuesday",
            Self::Wednesday => "Wednesday",
            Self::Thursday => "Thursday",
            Self::Friday => "Friday",
            Self::Saturday => "Saturday",
            Self::Sunday => "Sunday",
        }
    }
}

/// A day of the Gregorian calendar, in the years 1 to 9999.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: i32,
    month: u8,
    day: u8,
}

impl Date {
    /// A day; `None` where the calendar has none of that name, or the year is not 1 to 9999.
    ///
    /// ```
    /// use pattress_model::calendar::Date;
    /// assert!(Date::new(2024, 2, 29).is_some());
    /// assert!(Date::new(2100, 2, 29).is_none());
    /// ```
    pub const fn new(year: i32, month: u8, day: u8) -> Option<Self> {
        let known = year >= 1 && year <= 9999 && month >= 1 && month <= 12 && day >= 1;
        if known && day <= days_in_month(year, month) { Some(Self { year, month, day }) } else { None }
    }

    /// Reads `2026-03-31` (ISO 8601).
    ///
    /// # Errors
    /// A sentence that says what is wrong and shows what would do.
    pub fn parse(text: &str) -> Result<Self, String> {
        let refusal = || format!("“{}” is not a date: type 2026-03-31", text.trim());
        let parts: Vec<&str> = text.trim().split('-').collect();
        let all_digits = |part: &&str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
        let [year, month, day] = parts[..] else { return Err(refusal()) };
        if !parts.iter().all(all_digits) {
            return Err(refusal());
        }
        let read = (year.parse(), month.parse(), day.parse());
        let (Ok(year), Ok(month), Ok(day)) = read else { return Err(refusal()) };
        Self::new(year, month, day).ok_or_else(refusal)
    }

    /// The year.
    pub const fn year(self) -> i32 {
        self.year
    }

    /// The month, 1 to 12.
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, from 1.
    pub const fn day(self) -> u8 {
        self.day
    }

    /// Days since 1 January 1970, below zero before it. The year is begun in March, so that the leap day comes last
    /// (H. Hinnant, “chrono-Compatible Low-Level Date Algorithms”, 2013).
    pub const fn days(self) -> i64 {
        let year = if self.month <= 2 { self.year - 1 } else { self.year } as i64;
        let (era, of_era) = (year.div_euclid(400), year.rem_euclid(400));
        let months_since_march = (self.month as i64 + 9) % 12;
        let of_year = (153 * months_since_march + 2) / 5 + self.day as i64 - 1;
        era * DAYS_PER_ERA + of_era * 365 + of_era / 4 - of_era / 100 + of_year - DAYS_BEFORE_1970
    }

    /// The date so many days after 1 January 1970; `None` outside the years 1 to 9999.
    pub fn from_days(days: i64) -> Option<Self> {
        let days = days.checked_add(DAYS_BEFORE_1970)?;
        let (era, of_era) = (days.div_euclid(DAYS_PER_ERA), days.rem_euclid(DAYS_PER_ERA));
        let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / (DAYS_PER_ERA - 1)) / 365;
        let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let months_since_march = (5 * of_year + 2) / 153;
        let day = of_year - (153 * months_since_march + 2) / 5 + 1;
        let month = if months_since_march < 10 { months_since_march + 3 } else { months_since_march - 9 };
        let year = era.checked_mul(400)?.checked_add(year_of_era)? + i64::from(month <= 2);
        Self::new(i32::try_from(year).ok()?, month as u8, day as u8)
    }

    /// The date so many days later, or earlier where that is below zero; `None` outside the years 1 to 9999.
    pub fn plus_days(self, days: i64) -> Option<Self> {
        Self::from_days(self.days().checked_add(days)?)
    }

    /// The day of the week.
    pub fn weekday(self) -> Weekday {
        // 1 January 1970 was a Thursday.
        Weekday::ALL[(self.days() + 3).rem_euclid(7) as usize]
    }

    /// The day of the year, from 1.
    pub const fn day_of_year(self) -> i64 {
        self.days() - Self { year: self.year, month: 1, day: 1 }.days() + 1
    }

    /// The last Sunday of a month; `None` where there is no such month.
    pub fn last_sunday(year: i32, month: u8) -> Option<Self> {
        if !(1..=12).contains(&month) {
            return None;
        }
        let last = Self::new(year, month, days_in_month(year, month))?;
        let past_sunday = (last.weekday() as i64 + 1) % 7;
        last.plus_days(-past_sunday)
    }
}

/// As ISO 8601 writes it (`2026-03-31`).
impl fmt::Display for Date {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// Whether a year has a 29 February: every fourth, but of full centuries only every fourth.
pub const fn is_leap_year(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// Days of a month, 1 to 12; no other month is asked for.
const fn days_in_month(year: i32, month: u8) -> u8 {
    match month {
        2 if is_leap_year(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Counts of days by the known beginnings of centuries; weekdays as printed calendars have them.
    #[test]
    fn days_are_counted_and_named() {
        use Weekday::{Friday, Monday, Saturday, Sunday, Thursday, Wednesday};
        for (date, days, weekday) in [
            ((1970, 1, 1), 0, Thursday),
            ((1969, 12, 31), -1, Wednesday),
            ((2000, 2, 29), 11_016, super::Weekday::Tuesday),
            ((2000, 3, 1), 11_017, Wednesday),
            ((2026, 3, 29), 20_541, Sunday),
            ((1900, 1, 1), -25_567, Monday),
            ((2100, 3, 1), 47_541, Monday),
            ((1, 1, 1), -719_162, Monday),
            ((9999, 12, 31), 2_932_896, Friday),
            ((2026, 2, 28), 20_512, Saturday),
        ] {
            let found = Date::new(date.0, date.1, date.2).unwrap();
            assert_eq!((found.days(), found.weekday()), (days, weekday), "{found}");
            assert_eq!(Date::from_days(days), Some(found));
        }
    }

    #[test]
    fn what_the_calendar_lacks_is_no_date() {
        for (year, month, day) in [
            (2023, 2, 29),
            (1900, 2, 29),
            (2026, 4, 31),
            (2026, 0, 1),
            (2026, 13, 1),
            (2026, 1, 0),
            (0, 1, 1),
        ] {
            assert_eq!(Date::new(year, month, day), None);
        }
        assert_eq!(Date::from_days(-719_163), None);
        assert_eq!(Date::from_days(2_932_897), None);
        assert_eq!(Date::from_days(i64::MAX), None);
        assert_eq!(Date::from_days(i64::MIN), None);
        assert_eq!(Date::last_sunday(2026, 13), None);
        for text in ["", "2026-3", "2026-02-30", "31.3.2026", "-2026-03-31", "2026-+3-01", "2026-03-01x"] {
            assert!(Date::parse(text).unwrap_err().contains("2026-03-31"), "{text}");
        }
        assert_eq!(Date::parse(" 2026-03-31 ").map(|date| date.to_string()), Ok("2026-03-31".to_owned()));
    }

    #[test]
    fn the_last_sunday_is_found_whatever_day_the_month_ends_on() {
        for (year, march, october) in [(2024, 31, 27), (2025, 30, 26), (2026, 29, 25), (2027, 28, 31)] {
            assert_eq!(Date::last_sunday(year, 3), Date::new(year, 3, march));
            assert_eq!(Date::last_sunday(year, 10), Date::new(year, 10, october));
        }
    }

    proptest! {
        #[test]
        fn a_day_and_its_count_are_one(days in -719_162_i64..2_932_896) {
            let date = Date::from_days(days).unwrap();
            prop_assert_eq!(date.days(), days);
            let next = date.plus_days(1).unwrap();
            prop_assert!(next > date);
            prop_assert_eq!((date.weekday() as usize + 1) % 7, next.weekday() as usize);
            prop_assert!((1..=366).contains(&date.day_of_year()));
            prop_assert_eq!(Date::parse(&date.to_string()), Ok(date));
        }
    }
}
