//! The sun over a year as samples, and the spells of a day and months in which something of it holds.
//!
//! Two days of each month are sampled every ten minutes of the local clock, in the year 2025: from year to year the
//! sun's path of a date differs by less than a quarter of a degree, half its own width.

use crate::calendar::{Date, Local, LocalClock, MS_PER_MINUTE};
use crate::project::Site;
use crate::sun::{Place, SunPosition, sun_at};
use crate::units::TimeOfDay;

/// The year that is sampled; it has no leap day.
const SAMPLED_YEAR: i32 = 2025;

/// Days of each month that are sampled.
const SAMPLED_DAYS: [u8; 2] = [6, 21];

/// Minutes from one sample to the next.
const MINUTES_APART: i64 = 10;

/// Times of day farther apart than this are two spells, minutes.
const ONE_SPELL_MINUTES: u16 = 60;

/// The words for the sampling, to go with whatever is made of it.
pub const HOW_SAMPLED: &str = "sun every 10 minutes of the 6th and 21st of each month, NREL/TP-560-34302";

/// Names of the months.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Where the sun stands at a moment of the year; it is up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunSample {
    /// What the clock on the wall shows.
    pub local: Local,
    /// Where it stands.
    pub sun: SunPosition,
}

/// The sun's year over one place, the hours of night left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SunPath {
    /// The samples, in order.
    pub samples: Vec<SunSample>,
}

/// Some months on end, and the time of day within which something holds in them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SunSpell {
    /// The first month, 1 to 12.
    pub first_month: u8,
    /// The last month, which may lie beyond the turn of the year.
    pub last_month: u8,
    /// The earliest time by the clock on the wall.
    pub from: TimeOfDay,
    /// The latest.
    pub to: TimeOfDay,
}

impl SunPath {
    /// The sun's year over a site; `None` where its place is not known.
    pub fn of(site: &Site) -> Option<Self> {
        Some(Self::over(site.place?, site.clock))
    }

    /// The sun's year over a place.
    pub fn over(place: Place, clock: LocalClock) -> Self {
        let days = (1..=12).flat_map(|month| SAMPLED_DAYS.map(|day| Date::new(SAMPLED_YEAR, month, day)));
        let mut samples = Vec::new();
        for date in days.flatten() {
            let begins = clock.begins(date);
            for step in 0..24 * 60 / MINUTES_APART {
                let at = begins.after_ms(step * MINUTES_APART * MS_PER_MINUTE);
                let (Some(sun), Some(local)) = (sun_at(at, place), clock.shows(at)) else { continue };
                if sun.elevation.as_radians() > 0.0 {
                    samples.push(SunSample { local, sun });
                }
            }
        }
        Self { samples }
    }

    /// In which months and at which times something of the sun holds. Spells of one month or of neighbouring months are
    /// one where their times come within an hour of each other.
    pub fn spells(&self, holds: impl Fn(&SunPosition) -> bool) -> Vec<SunSpell> {
        let mut gathered: Vec<Gathered> = Vec::new();
        for sample in self.samples.iter().filter(|sample| holds(&sample.sun)) {
            let (month, time) = (sample.local.date.month(), sample.local.time_of_day());
            let mut spell = Gathered { months: 1 << (month - 1), from: time, to: time };
            gathered.retain(|other| {
                let is_one = spell.belongs_with(other);
                if is_one {
                    spell.take_in(other);
                }
                !is_one
            });
            gathered.push(spell);
        }
        gathered.iter().map(Gathered::spell).collect()
    }
}

/// Months and times on the way to a spell; the months hang together round the year.
#[derive(Clone, Copy)]
struct Gathered {
    /// One bit a month, January the lowest.
    months: u16,
    from: TimeOfDay,
    to: TimeOfDay,
}

/// A bit for every month.
const ALL_YEAR: u16 = 0b1111_1111_1111;

impl Gathered {
    fn belongs_with(&self, other: &Self) -> bool {
        let later = (other.months << 1 | other.months >> 11) & ALL_YEAR;
        let earlier = (other.months >> 1 | other.months << 11) & ALL_YEAR;
        let in_season = self.months & (other.months | later | earlier) != 0;
        let in_time = self.from.minutes <= other.to.minutes + ONE_SPELL_MINUTES
            && other.from.minutes <= self.to.minutes + ONE_SPELL_MINUTES;
        in_season && in_time
    }

    fn take_in(&mut self, other: &Self) {
        self.months |= other.months;
        self.from = self.from.min(other.from);
        self.to = self.to.max(other.to);
    }

    fn spell(&self) -> SunSpell {
        let is_in = |month: u16| self.months & (1 << (month % 12)) != 0;
        let first = (0..12).find(|month| is_in(*month) && !is_in(month + 11)).unwrap_or(0);
        let last = (first..first + 12).take_while(|month| is_in(*month)).last().unwrap_or(first);
        let named = |month: u16| (month % 12 + 1) as u8;
        SunSpell { first_month: named(first), last_month: named(last), from: self.from, to: self.to }
    }
}

/// `March to September, between 06:10 and 08:30`; `all year, between 09:00 and 15:00`.
impl std::fmt::Display for SunSpell {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let name = |month: u8| MONTHS.get(usize::from(month).wrapping_sub(1)).copied().unwrap_or("no month");
        match (self.first_month, self.last_month) {
            (1, 12) => write!(out, "all year")?,
            (first, last) if first == last => write!(out, "in {}", name(first))?,
            (first, last) => write!(out, "{} to {}", name(first), name(last))?,
        }
        if self.from == self.to {
            write!(out, ", about {}", self.from)
        } else {
            write!(out, ", between {} and {}", self.from, self.to)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::SummerTime;
    use crate::units::Angle;

    fn london() -> SunPath {
        let place = Place { latitude: Angle::degrees(51.51), longitude: Angle::degrees(-0.13) };
        SunPath::over(place, LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European })
    }

    #[test]
    fn the_sun_stands_in_the_south_at_midday_and_in_the_north_east_on_summer_mornings() {
        let path = london();
        assert!(path.samples.len() > 1500 && path.samples.len() < 2000, "{}", path.samples.len());
        let between =
            |low: f64, high: f64| path.spells(move |sun| (low..high).contains(&sun.azimuth.as_degrees()));
        let south: Vec<String> = between(175.0, 185.0).iter().map(SunSpell::to_string).collect();
        assert_eq!(south, ["all year, between 11:30 and 13:10"]);
        let north_east = between(40.0, 60.0);
        assert_eq!(north_east.len(), 1);
        // The sun rises north of 60° while its declination is above 18°: asin(cos 60° cos 51.5°), mid-May to late July.
        assert_eq!((north_east[0].first_month, north_east[0].last_month), (5, 7), "{north_east:?}");
        assert!(path.spells(|sun| sun.elevation.as_degrees() > 62.0).is_empty());
        assert!(between(350.0, 360.0).is_empty());
    }

    #[test]
    fn a_spell_runs_over_the_turn_of_the_year() {
        let low_noon = london().spells(|sun| {
            sun.elevation.as_degrees() < 20.0 && (170.0..190.0).contains(&sun.azimuth.as_degrees())
        });
        assert_eq!(low_noon.len(), 1, "{low_noon:?}");
        assert!(low_noon[0].to_string().starts_with("November to January, between 11:"), "{}", low_noon[0]);
    }

    #[test]
    fn a_site_without_a_place_has_no_sun() {
        assert_eq!(SunPath::of(&Site::default()), None);
    }
}
