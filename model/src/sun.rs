//! The sun: where it stands at a moment over a place, and when it rises and sets.
//!
//! The algorithm is NREL's (Reda and Andreas, “Solar Position Algorithm for Solar Radiation Applications”,
//! NREL/TP-560-34302, 2008: 0.0003° in the years -2000 to 6000), as the `solar-positioning` crate has it, with the
//! mathematics of `libm`, so that every machine finds the same. Tests hold it to the worked example of that report.

use solar_positioning::time::JulianDate;
use solar_positioning::{Horizon, Location, RefractionCorrection, SolarEvents, SolarPositions, delta_t};

use crate::calendar::{Date, LocalClock, UtcTime};
use crate::units::{Angle, Length};

/// Where on Earth the house stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// North of the equator, from -90° to 90°.
    pub latitude: Angle,
    /// East of Greenwich, from -180° to 180°.
    pub longitude: Angle,
}

/// Elevation of the sun's centre at which its upper edge touches a level horizon, degrees: minus 50 minutes of arc,
/// 34 for refraction and 16 for half the disc, which NREL/TP-560-34302, A.2, rounds to -0.8333°.
pub const ELEVATION_AT_SUNRISE_DEGREES: f64 = -50.0 / 60.0;

/// Where the sun stands, as seen from a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunPosition {
    /// From north, clockwise, 0° to 360°.
    pub azimuth: Angle,
    /// Above the level horizon, refraction included; below zero where it is down.
    pub elevation: Angle,
}

impl SunPosition {
    /// The direction towards the sun on a plan, anticlockwise from +x, for north lying as given.
    pub fn on_plan(self, north: Angle) -> Angle {
        (north - self.azimuth).wrapped()
    }

    /// Whether some of its disc is above the horizon.
    pub fn is_up(self) -> bool {
        // The elevation here holds refraction already, so only half the disc is left: 16 minutes of arc.
        self.elevation.as_degrees() > -16.0 / 60.0
    }
}

/// What the air and the ground add to the position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Height above the sea.
    pub above_sea: Length,
    /// Pressure of the air over a year, millibars.
    pub pressure_mbar: f64,
    /// Its temperature over a year, °C.
    pub temperature_c: f64,
    /// Seconds that terrestrial time is ahead of universal time; `None` takes the estimate for the date.
    pub delta_t_seconds: Option<f64>,
}

impl Default for Surroundings {
    /// The sea's height and the standard atmosphere's air (ISO 2533: 1013.25 mbar, 15 °C).
    fn default() -> Self {
        Self { above_sea: Length::ZERO, pressure_mbar: 1013.25, temperature_c: 15.0, delta_t_seconds: None }
    }
}

/// What the sun does in one day of the local clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Risings {
    /// It rises, sets or does both. Where the bright season of the far north begins or ends, a day holds one of them.
    Crosses {
        /// The first time its upper edge comes up.
        rise: Option<UtcTime>,
        /// The first time its upper edge goes down.
        set: Option<UtcTime>,
    },
    /// It never sets.
    AlwaysUp,
    /// It never rises.
    AlwaysDown,
}

/// Where the sun stands; `None` where the place is not on Earth, or outside the years that the time scale is known
/// for (-500 to 3000).
pub fn sun_at(at: UtcTime, place: Place) -> Option<SunPosition> {
    sun_in(at, place, Surroundings::default())
}

/// Where the sun stands, with the air and height of the place known. `None` as for [`sun_at`], and where the air is
/// none that anybody breathes.
pub fn sun_in(at: UtcTime, place: Place, surroundings: Surroundings) -> Option<SunPosition> {
    let Surroundings { above_sea, pressure_mbar, temperature_c, delta_t_seconds } = surroundings;
    let delta_t = delta_t_seconds.or_else(|| delta_t_at(at))?;
    let time = JulianDate::new(at.julian_date(), delta_t).ok()?;
    let air = RefractionCorrection::new(pressure_mbar, temperature_c).ok()?;
    let found =
        SolarPositions::new().at_from_julian(time, location(place), above_sea.as_m(), Some(air)).ok()?;
    Some(SunPosition {
        azimuth: Angle::degrees(found.azimuth()),
        elevation: Angle::degrees(found.elevation_angle()),
    })
}

/// When the sun rises and sets in one day of the local clock, from its midnight to the next; `None` as for [`sun_at`].
pub fn sunrise_sunset(date: Date, place: Place, clock: LocalClock) -> Option<Risings> {
    let (from, to) = (clock.begins(date), clock.begins(date.plus_days(1)?));
    let delta_t = delta_t_at(from)?;
    let (start, end) = (from.julian_date(), to.julian_date());
    let events = SolarEvents::new();
    let horizon = Horizon::Custom(ELEVATION_AT_SUNRISE_DEGREES);
    let at = location(place);
    let rise = events.next_rise_from_julian(start, end, at, delta_t, horizon).ok()?;
    let set = events.next_set_from_julian(start, end, at, delta_t, horizon).ok()?;
    if rise.is_none() && set.is_none() {
        let is_up = sun_at(from, place)?.is_up();
        return Some(if is_up { Risings::AlwaysUp } else { Risings::AlwaysDown });
    }
    let moment = |days: Option<f64>| days.map(UtcTime::from_julian_date);
    Some(Risings::Crosses { rise: moment(rise), set: moment(set) })
}

fn location(place: Place) -> Location {
    Location { latitude: place.latitude.as_degrees(), longitude: place.longitude.as_degrees() }
}

/// Seconds that terrestrial time is ahead of universal time (Espenak and Meeus, and fits from 2015 on).
fn delta_t_at(at: UtcTime) -> Option<f64> {
    let date = at.date()?;
    let year = f64::from(date.year()) + (date.day_of_year() as f64 - 0.5) / 365.25;
    delta_t::estimate(year).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::{MS_PER_DAY, MS_PER_MINUTE, MS_PER_SECOND, SummerTime};
    use crate::units::TimeOfDay;
    use proptest::prelude::*;

    fn place(latitude: f64, longitude: f64) -> Place {
        Place { latitude: Angle::degrees(latitude), longitude: Angle::degrees(longitude) }
    }

    fn date(year: i32, month: u8, day: u8) -> Date {
        Date::new(year, month, day).unwrap()
    }

    const LONDON_CLOCK: LocalClock =
        LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };

    /// The example of NREL/TP-560-34302, A.5: Golden, Colorado, 17 October 2003 at 12:30:30, seven hours behind UTC.
    #[test]
    fn the_worked_example_of_the_report_is_met() {
        let golden = place(39.742_476, -105.178_6);
        let moment = UtcTime::on(date(2003, 10, 17), 19, 30, 30);
        let surroundings = Surroundings {
            above_sea: Length::m(1830.14),
            pressure_mbar: 820.0,
            temperature_c: 11.0,
            delta_t_seconds: Some(67.0),
        };
        assert!((moment.julian_date() - 2_452_930.312_847).abs() < 5e-7);
        let sun = sun_in(moment, golden, surroundings).unwrap();
        let zenith = 90.0 - sun.elevation.as_degrees();
        assert!((zenith - 50.111_622).abs() < 1e-6, "{zenith}");
        assert!((sun.azimuth.as_degrees() - 194.340_241).abs() < 1e-6, "{}", sun.azimuth.as_degrees());
    }

    fn rise_and_set(day: Date, place: Place, clock: LocalClock) -> (UtcTime, UtcTime) {
        match sunrise_sunset(day, place, clock) {
            Some(Risings::Crosses { rise: Some(rise), set: Some(set) }) => (rise, set),
            other => panic!("on {day} the sun rises and sets, but {other:?}"),
        }
    }

    /// The same example's sunrise 06:12:43 and sunset 17:20:19. The report looks at the UTC day of 17 October, in which
    /// the sun sets before it rises: that sunset is the one of the 16th by the clock of the place. It interpolates
    /// between three days and leaves the parallax out, which together is within a second and a half.
    #[test]
    fn the_worked_example_rises_and_sets_to_the_second() {
        let golden = place(39.742_476, -105.178_6);
        let clock = LocalClock { ahead_of_utc_minutes: -7 * 60, summer_time: SummerTime::Never };
        let (_, set) = rise_and_set(date(2003, 10, 16), golden, clock);
        let (rise, _) = rise_and_set(date(2003, 10, 17), golden, clock);
        for (found, expected) in [
            (rise, UtcTime::on(date(2003, 10, 17), 7 + 6, 12, 43)),
            (set, UtcTime::on(date(2003, 10, 16), 7 + 17, 20, 19)),
        ] {
            assert!((found.ms - expected.ms).abs() <= 3 * MS_PER_SECOND / 2, "{found} is not {expected}");
        }
    }

    /// Sunrise and sunset in London by the local clock (51.51 N 0.13 W), as public pages give them to the minute; two
    /// minutes are allowed. Of one page's table of the first days of months (whattime.city) the rows of April, the
    /// sunset of October and that of December are left out: they are up to five minutes from every other source, such
    /// as the 18:37 of 2 October 2007 below (a diary of that day, which also gives 11 h 34 min 58 s of daylight).
    #[test]
    fn london_rises_and_sets_as_published() {
        let london = place(51.51, -0.13);
        for (day, rise, set) in [
            (date(2026, 1, 1), Some("08:07"), Some("16:01")),
            (date(2026, 7, 1), Some("04:47"), Some("21:22")),
            (date(2026, 10, 1), Some("07:00"), None),
            (date(2026, 12, 1), Some("07:43"), None),
            (date(2007, 10, 2), None, Some("18:37")),
            (date(2007, 12, 22), None, Some("15:53")),
            (date(2018, 11, 3), None, Some("16:31")),
            (date(2018, 11, 4), None, Some("16:29")),
        ] {
            let (up, down) = rise_and_set(day, london, LONDON_CLOCK);
            for (found, expected) in [(up, rise), (down, set)] {
                let Some(expected) = expected else { continue };
                let shown = LONDON_CLOCK.shows(found).unwrap();
                let expected_minutes = i64::from(TimeOfDay::parse(expected).unwrap().minutes);
                let apart = shown.since_midnight_ms - expected_minutes * MS_PER_MINUTE;
                assert!(apart.abs() <= 2 * MS_PER_MINUTE, "{shown}, but {expected}");
                assert_eq!(shown.date, day);
            }
        }
        for (day, published_seconds) in
            [(date(2007, 10, 2), 11 * 3600 + 34 * 60 + 58), (date(2007, 12, 22), 7 * 3600 + 49 * 60 + 40)]
        {
            let (up, down) = rise_and_set(day, london, LONDON_CLOCK);
            let apart = (down.ms - up.ms) / MS_PER_SECOND - published_seconds;
            assert!(apart.abs() <= 30, "{day}: {apart} s apart");
        }
    }

    /// The last and first days on which London's sunset is before or after half past an hour, as a diary of November
    /// 2018 lists them for the twelve months to come; a minute is allowed.
    #[test]
    fn londons_sunset_passes_each_half_hour_on_the_published_day() {
        let london = place(51.51, -0.13);
        for (later, earlier, half_past) in [
            (date(2019, 1, 22), date(2019, 1, 21), "16:30"),
            (date(2019, 2, 24), date(2019, 2, 23), "17:30"),
            (date(2019, 5, 6), date(2019, 5, 5), "20:30"),
            (date(2019, 8, 11), date(2019, 8, 12), "20:30"),
            (date(2019, 9, 8), date(2019, 9, 9), "19:30"),
            (date(2019, 10, 4), date(2019, 10, 5), "18:30"),
        ] {
            let shown = |day| LONDON_CLOCK.shows(rise_and_set(day, london, LONDON_CLOCK).1).unwrap();
            let limit = i64::from(TimeOfDay::parse(half_past).unwrap().minutes) * MS_PER_MINUTE;
            assert!(shown(later).since_midnight_ms >= limit - MS_PER_MINUTE, "{}", shown(later));
            assert!(shown(earlier).since_midnight_ms <= limit + MS_PER_MINUTE, "{}", shown(earlier));
        }
    }

    #[test]
    fn beyond_the_polar_circle_the_sun_stays_up_or_down() {
        let north_cape = place(71.17, 25.78);
        let clock = LocalClock { ahead_of_utc_minutes: 60, summer_time: SummerTime::European };
        for (day, expected) in
            [(date(2026, 6, 21), Some(Risings::AlwaysUp)), (date(2026, 12, 21), Some(Risings::AlwaysDown))]
        {
            assert_eq!(sunrise_sunset(day, north_cape, clock), expected);
        }
        // Among the days between, every one that is not all bright or all dark says what it holds.
        let mut only_one = 0;
        for days in 0..365 {
            match sunrise_sunset(date(2026, 1, 1).plus_days(days).unwrap(), north_cape, clock).unwrap() {
                Risings::Crosses { rise: None, set: None } => panic!("day {days} says nothing"),
                Risings::Crosses { rise: None, .. } | Risings::Crosses { set: None, .. } => only_one += 1,
                _ => {}
            }
        }
        assert!(only_one <= 4, "{only_one}");
    }

    #[test]
    fn north_of_the_plan_turns_the_sun_with_it() {
        let south = SunPosition { azimuth: Angle::degrees(180.0), elevation: Angle::degrees(30.0) };
        assert_eq!(south.on_plan(Angle::degrees(90.0)).as_degrees(), 270.0);
        assert_eq!(south.on_plan(Angle::degrees(0.0)).as_degrees(), 180.0);
        let east = SunPosition { azimuth: Angle::degrees(90.0), ..south };
        assert_eq!(east.on_plan(Angle::degrees(90.0)).as_degrees(), 0.0);
    }

    #[test]
    fn nonsense_is_answered_with_nothing() {
        let noon = UtcTime::on(date(2026, 6, 21), 12, 0, 0);
        assert_eq!(sun_at(noon, place(91.0, 0.0)), None);
        assert_eq!(sun_at(noon, place(0.0, f64::NAN)), None);
        assert_eq!(sun_at(UtcTime::from_ms(i64::MAX), place(51.0, 0.0)), None);
        assert_eq!(sunrise_sunset(date(9999, 12, 31), place(51.0, 0.0), LONDON_CLOCK), None);
        let airless = Surroundings { pressure_mbar: 0.0, ..Surroundings::default() };
        assert_eq!(sun_in(noon, place(51.0, 0.0), airless), None);
    }

    proptest! {
        #[test]
        fn between_rise_and_set_the_sun_is_up(days in 0_i64..36_500, latitude in -60.0..60.0_f64, longitude in -180.0..180.0_f64) {
            let clock = LocalClock {
                ahead_of_utc_minutes: (longitude / 15.0).round() as i16 * 60,
                summer_time: SummerTime::Never,
            };
            let place = place(latitude, longitude);
            let day = date(1990, 1, 1).plus_days(days).unwrap();
            let Some(Risings::Crosses { rise: Some(rise), set: Some(set) }) = sunrise_sunset(day, place, clock) else {
                return Err(TestCaseError::fail("below the polar circles the sun rises and sets each day"));
            };
            prop_assert!(rise < set && set.ms - rise.ms < MS_PER_DAY);
            for (moment, up) in [
                (rise.after_ms(-5 * MS_PER_MINUTE), false),
                (rise.after_ms(5 * MS_PER_MINUTE), true),
                (set.after_ms(-5 * MS_PER_MINUTE), true),
                (set.after_ms(5 * MS_PER_MINUTE), false),
            ] {
                prop_assert_eq!(sun_at(moment, place).unwrap().is_up(), up);
            }
        }
    }
}
