//! Times of day and of the sun: both days of the clock change, midnight, a leap day, a day without a sunset.

use std::sync::Arc;

use super::house::{House, Run, date, hold_while, time, when, when_if};
use crate::calendar::{LocalClock, MS_PER_DAY, MS_PER_MINUTE, SummerTime, UtcTime};
use crate::studies::rehearsal::clock::shown_ms;
use crate::studies::rehearsal::{Sky, What};
use crate::sun::SunPosition;
use crate::systems::Value::{Number, On};
use crate::systems::{Condition, SunEvent, Trigger, Weekdays};
use crate::units::Angle;

/// Local times, in minutes after local midnight of the first day, at which the rule of that house started.
fn starts(run: &Run, days: i64) -> Vec<i64> {
    let mut run = run.run.clone();
    let clock = run.clock();
    let first = shown_ms(clock, run.now()).div_euclid(MS_PER_DAY);
    run.run_until(run.now().after_ms(days * MS_PER_DAY));
    let entries = run.journal().entries().iter();
    let started = entries.filter(|entry| matches!(entry.what, What::Started(_)));
    started.map(|entry| (shown_ms(clock, entry.at) - first * MS_PER_DAY) / MS_PER_MINUTE).collect()
}

fn house_with(trigger: Trigger, conditions: Vec<Condition>) -> House {
    let mut house = House::new();
    house.device("lamp", &["does number level"]);
    let on = house.set(("lamp", "level"), On);
    house.rule("Test", when_if(trigger, conditions, vec![on]));
    house
}

#[test]
fn a_time_comes_once_a_day_through_both_days_of_the_clock_change() {
    for typed in ["00:30", "01:00", "01:30", "02:00", "02:30"] {
        let at = i64::from(time(typed).minutes);
        let house = house_with(Trigger::Time(time(typed)), Vec::new());
        let spring = starts(&house.run(date(2026, 3, 28), "12:00"), 3);
        let skipped = (60..120).contains(&at);
        assert_eq!(spring, [1440 + if skipped { 120 } else { at }, 2880 + at, 4320 + at], "spring {typed}");
        let autumn = starts(&house.run(date(2026, 10, 24), "12:00"), 3);
        assert_eq!(autumn, [1440 + at, 2880 + at, 4320 + at], "autumn {typed}");
    }
}

#[test]
fn between_is_what_the_clock_on_the_wall_shows_and_so_holds_twice_in_a_doubled_hour() {
    let mut house = House::new();
    house.device("lamp", &["does number level"]);
    let lit = vec![house.holding(("lamp", "level"), Number(50.0), 0.0)];
    let quarter = vec![Condition::Between(time("01:15"), time("01:45"))];
    house.rule("Night", hold_while(quarter, 0.0, lit, 1));
    let changes = |day, expected: &[(i64, bool)]| {
        let run = house.run(day, "00:00");
        let mut run = run.run;
        run.run_until(run.now().after_ms(6 * 60 * MS_PER_MINUTE));
        let start = run.journal().entries()[0].at;
        let seen: Vec<(i64, bool)> = run
            .journal()
            .entries()
            .iter()
            .filter_map(|entry| match entry.what {
                What::Changed { to, .. } => Some(((entry.at.ms - start.ms) / MS_PER_MINUTE, to.is_on())),
                _ => None,
            })
            .collect();
        assert_eq!(seen, expected, "{day:?}");
    };
    changes(date(2026, 6, 1), &[(75, true), (105, false)]);
    changes(date(2026, 10, 25), &[(75, true), (105, false), (135, true), (165, false)]);
    // The clock jumps from 00:59 to 02:00: it never shows 01:15.
    changes(date(2026, 3, 29), &[]);
}

#[test]
fn midnight_belongs_to_the_day_that_begins_and_a_night_goes_over_it() {
    let house = house_with(Trigger::Time(time("00:00")), Vec::new());
    assert_eq!(starts(&house.run(date(2026, 12, 31), "23:59"), 2), [1440, 2880]);
    let only_monday = vec![Condition::Weekdays(Weekdays::of(&[crate::systems::Weekday::Monday]))];
    let house = house_with(Trigger::Time(time("00:00")), only_monday);
    // 2026-11-29 is a Sunday.
    assert_eq!(starts(&house.run(date(2026, 11, 29), "12:00"), 8), [1440, 8 * 1440]);
    let night = vec![Condition::Between(time("22:30"), time("06:30"))];
    for (typed, expected) in
        [("22:29", 0), ("22:30", 1), ("23:59", 1), ("00:00", 1), ("06:29", 1), ("06:30", 0)]
    {
        let house = house_with(Trigger::Time(time(typed)), night.clone());
        assert_eq!(starts(&house.run(date(2026, 6, 1), "12:00"), 1).len(), expected, "{typed}");
    }
}

#[test]
fn a_leap_day_is_a_day() {
    let house = house_with(Trigger::Time(time("07:00")), Vec::new());
    assert_eq!(starts(&house.run(date(2028, 2, 28), "00:00"), 3), [420, 1860, 3300]);
    let tuesdays = vec![Condition::Weekdays(Weekdays::of(&[crate::systems::Weekday::Tuesday]))];
    let house = house_with(Trigger::Time(time("07:00")), tuesdays);
    // 2028-02-29 is a Tuesday.
    assert_eq!(starts(&house.run(date(2028, 2, 28), "00:00"), 3), [1860]);
}

#[test]
fn sunrise_and_sunset_come_with_their_offset_and_across_midnight() {
    for (event, offset_minutes, expected) in [
        (SunEvent::Rise, 0, 6 * 60),
        (SunEvent::Rise, -45, 5 * 60 + 15),
        (SunEvent::Set, 30, 18 * 60 + 31),
        (SunEvent::Set, -1200, 22 * 60 + 1),
        (SunEvent::Set, 600, 4 * 60 + 1),
    ] {
        let house = house_with(Trigger::Sun { event, offset_minutes }, Vec::new());
        // January: universal time is local time.
        let found = starts(&house.run(date(2026, 1, 10), "00:00"), 2);
        let expected = [expected, expected + 1440];
        assert_eq!(found, expected, "{event:?} {offset_minutes}");
    }
}

#[test]
fn dark_and_daylight_and_height_and_bearing_change_with_the_sun() {
    for (condition, hour_of_start) in [
        (Condition::Daylight, Some(6)),
        (Condition::Dark, Some(0)),
        (Condition::SunHigher { degrees: 29.0 }, Some(8)),
        (Condition::SunLower { degrees: -70.0 }, None),
        (Condition::SunBetween { from_degrees: 90.0, to_degrees: 120.0 }, Some(6)),
        (Condition::SunBetween { from_degrees: 330.0, to_degrees: 10.0 }, Some(0)),
    ] {
        let mut house = House::new();
        house.device("lamp", &["does number level"]);
        let lit = vec![house.holding(("lamp", "level"), Number(50.0), 0.0)];
        house.rule("Sun", hold_while(vec![condition.clone()], 0.0, lit, 1));
        let mut run = house.run(date(2026, 1, 10), "00:00");
        let found = (0..24).find(|hour| run.is_on(f64::from(*hour) * 3600.0 + 60.0, ("lamp", "level")));
        assert_eq!(found, hour_of_start, "{condition:?}");
    }
}

/// A sun that never sets, as in summer beyond the polar circle, and one that never rises.
#[derive(Clone, Copy)]
struct Polar(f64);

impl Sky for Polar {
    fn sun_at(&self, _: UtcTime) -> SunPosition {
        SunPosition { elevation: Angle::degrees(self.0), azimuth: Angle::ZERO }
    }
}

#[test]
fn where_the_sun_does_not_set_a_sunset_never_comes_and_the_day_goes_on() {
    for (height, dark) in [(12.0, false), (-12.0, true)] {
        let mut house = House::new();
        house.device("lamp", &["does number level"]);
        let on = house.set(("lamp", "level"), On);
        house.rule("Dusk", when(Trigger::Sun { event: SunEvent::Set, offset_minutes: 0 }, vec![on]));
        let lit = vec![house.holding(("lamp", "level"), Number(30.0), 0.0)];
        house.rule("Dark", hold_while(vec![Condition::Dark], 0.0, lit, 1));
        let mut run = house.run_with(date(2026, 6, 20), "12:00", |_, setup| {
            setup.sky = Arc::new(Polar(height));
            setup.clock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::Never };
        });
        assert_eq!(run.figure(3.0 * 86_400.0, ("lamp", "level")), if dark { 30.0 } else { 0.0 });
        assert_eq!(run.count(|what| matches!(what, What::Started(_))), 0);
    }
}
