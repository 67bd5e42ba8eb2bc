//! Days and clocks, without looking at either: a moment is a count of milliseconds, handed in by whoever asks.
//!
//! [`UtcTime`] is a moment, [`Date`] a day of the calendar, [`Local`] what a clock on the wall shows. A [`LocalClock`]
//! turns one into the other and owns up to the two nights of a year on which that has no answer, or two.

mod clock;
mod date;

pub use clock::{Local, LocalClock, Moments, SummerTime};
pub use date::{Date, Weekday};

/// Milliseconds of a second.
pub const MS_PER_SECOND: i64 = 1000;

/// Milliseconds of a minute.
pub const MS_PER_MINUTE: i64 = 60 * MS_PER_SECOND;

/// Milliseconds of an hour.
pub const MS_PER_HOUR: i64 = 60 * MS_PER_MINUTE;

/// Milliseconds of a day of UTC; leap seconds are not counted, as by every common clock.
pub const MS_PER_DAY: i64 = 24 * MS_PER_HOUR;

/// A moment: milliseconds of UTC since the beginning of 1 January 1970, below zero before it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UtcTime {
    /// Milliseconds since 1970-01-01 00:00 UTC.
    pub ms: i64,
}

impl UtcTime {
    /// So many milliseconds since 1970-01-01 00:00 UTC.
    pub const fn from_ms(ms: i64) -> Self {
        Self { ms }
    }

    /// A time of day in UTC on a date.
    pub const fn on(date: Date, hour: i64, minute: i64, second: i64) -> Self {
        let of_day = hour * MS_PER_HOUR + minute * MS_PER_MINUTE + second * MS_PER_SECOND;
        Self { ms: date.days() * MS_PER_DAY + of_day }
    }

    /// The date in UTC; `None` outside the years that a [`Date`] can be in.
    pub fn date(self) -> Option<Date> {
        Date::from_days(self.ms.div_euclid(MS_PER_DAY))
    }

    /// Milliseconds since the last midnight of UTC.
    pub const fn since_midnight_ms(self) -> i64 {
        self.ms.rem_euclid(MS_PER_DAY)
    }

    /// The moment so many milliseconds later, or earlier where that is below zero; stays at the end of time there.
    pub const fn after_ms(self, ms: i64) -> Self {
        Self { ms: self.ms.saturating_add(ms) }
    }

    /// The Julian date: days and parts of days since noon of 1 January 4713 BC (Julian calendar); 1970-01-01 00:00 is
    /// 2440587.5. Near our time it resolves 0.04 ms.
    pub fn julian_date(self) -> f64 {
        2_440_587.5 + self.ms as f64 / MS_PER_DAY as f64
    }

    /// The moment of a Julian date, to the millisecond.
    pub fn from_julian_date(days: f64) -> Self {
        Self { ms: ((days - 2_440_587.5) * MS_PER_DAY as f64).round() as i64 }
    }
}

/// As ISO 8601 writes it (`2026-03-29T01:00:00Z`), down to the second.
impl std::fmt::Display for UtcTime {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Some(date) = self.date() else { return write!(out, "{} ms from 1970", self.ms) };
        let seconds = self.since_midnight_ms() / MS_PER_SECOND;
        let (hours, minutes) = (seconds / 3600, seconds / 60 % 60);
        write!(out, "{date}T{hours:02}:{minutes:02}:{:02}Z", seconds % 60)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Table A4.1 of NREL/TP-560-34302 lists Julian dates of this kind; the first two are its rows as a public port
    /// of it tests them, the third is the moment of its worked example, the last the beginning of this count.
    #[test]
    fn julian_dates_are_those_of_the_published_table() {
        for (date, (hour, minute, second), expected) in [
            ((2000, 1, 1), (12, 0, 0), 2_451_545.0),
            ((1987, 1, 27), (0, 0, 0), 2_446_822.5),
            ((2003, 10, 17), (19, 30, 30), 2_452_930.312_847),
            ((1970, 1, 1), (0, 0, 0), 2_440_587.5),
        ] {
            let date = Date::new(date.0, date.1, date.2).unwrap();
            let moment = UtcTime::on(date, hour, minute, second);
            assert!((moment.julian_date() - expected).abs() < 5e-7, "{moment}: {}", moment.julian_date());
            assert_eq!(UtcTime::from_julian_date(moment.julian_date()), moment);
        }
    }

    #[test]
    fn moments_are_written_as_the_standard_does() {
        for (ms, expected) in [
            (0, "1970-01-01T00:00:00Z"),
            (-1, "1969-12-31T23:59:59Z"),
            (1_774_746_000_000, "2026-03-29T01:00:00Z"),
            (i64::MAX, "9223372036854775807 ms from 1970"),
        ] {
            assert_eq!(UtcTime::from_ms(ms).to_string(), expected);
        }
        assert_eq!(UtcTime::from_ms(i64::MAX).after_ms(1).ms, i64::MAX);
    }
}
