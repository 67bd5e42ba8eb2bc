//! What the clock and the sun bring on a day: times of day, sunrise and sunset, and the moments at which a
//! condition of clock, day or sun comes to hold or ceases to. Worked out day by day, as a run comes to it.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::book::{ClockAtom, RuleBook};
use super::clock::{comes_at, shown_ms};
use super::sky::{MINUTES, Sky, SunDays, stands_between};
use crate::calendar::{Date, LocalClock, MS_PER_DAY, MS_PER_HOUR, MS_PER_MINUTE, UtcTime};
use crate::sun::SunPosition;
use crate::units::TimeOfDay;

/// One thing that the clock brings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Mark {
    /// A *when* rule's time of day or of the sun comes.
    Start(u32),
    /// A condition has this truth from now on.
    Truth(u32, bool),
}

/// What the clock brings on one day of universal time, in order.
pub(super) type Day = Arc<[(UtcTime, Mark)]>;

/// Days, worked out once each.
#[derive(Clone)]
pub(super) struct Almanac {
    pub(super) clock: LocalClock,
    suns: SunDays,
    days: BTreeMap<i64, Day>,
}

impl Almanac {
    pub(super) fn new(clock: LocalClock, sky: Arc<dyn Sky>) -> Self {
        Self { clock, suns: SunDays::new(sky), days: BTreeMap::new() }
    }

    /// The first moment after this one, and not after the last, at which the clock brings something.
    pub(super) fn next(&mut self, book: &RuleBook, after: UtcTime, last: UtcTime) -> Option<UtcTime> {
        if !book.watches_clock() {
            return None;
        }
        let day_of = |at: UtcTime| at.ms.div_euclid(MS_PER_DAY);
        (day_of(after)..=day_of(last)).find_map(|day| {
            let marks = self.day(book, day);
            let at = marks.partition_point(|(at, _)| *at <= after);
            marks.get(at).map(|(at, _)| *at).filter(|at| *at <= last)
        })
    }

    /// What the clock brings at a moment.
    pub(super) fn marks(&mut self, book: &RuleBook, at: UtcTime) -> Day {
        let day = self.day(book, at.ms.div_euclid(MS_PER_DAY));
        let from = day.partition_point(|(when, _)| *when < at);
        let to = day.partition_point(|(when, _)| *when <= at);
        day.get(from..to).unwrap_or(&[]).into()
    }

    /// The truth of a clock condition at a moment.
    pub(super) fn truth(&mut self, atom: ClockAtom, at: UtcTime) -> bool {
        let sun = |suns: &mut SunDays| {
            let day = suns.day(at.ms.div_euclid(MS_PER_DAY));
            let minute = at.ms.rem_euclid(MS_PER_DAY) / MS_PER_MINUTE;
            day.at(minute as usize).map(|(_, now)| now)
        };
        match atom {
            ClockAtom::Between(..) | ClockAtom::Weekdays(_) => by_clock(self.clock, atom, at),
            _ => sun(&mut self.suns).is_some_and(|sun| by_sun(atom, sun)),
        }
    }

    fn day(&mut self, book: &RuleBook, day: i64) -> Day {
        if let Some(found) = self.days.get(&day) {
            return Arc::clone(found);
        }
        let mut marks = Vec::new();
        self.times(book, day, &mut marks);
        self.clock_truths(book, day, &mut marks);
        if book.watches_sun() {
            self.sun(book, day, &mut marks);
        }
        // What holds is known before what starts; else as they were put.
        marks.sort_by_key(|(at, mark)| (*at, matches!(mark, Mark::Start(_))));
        let marks: Day = marks.into();
        self.days.insert(day, Arc::clone(&marks));
        marks
    }

    fn times(&self, book: &RuleBook, day: i64, marks: &mut Vec<(UtcTime, Mark)>) {
        for (time, starter) in &book.times {
            for local_day in day - 1..=day + 1 {
                let Some(at) = comes_at(self.clock, local_day, *time) else { continue };
                if at.ms.div_euclid(MS_PER_DAY) == day {
                    marks.push((at, Mark::Start(*starter)));
                }
            }
        }
    }

    /// Every moment at which the clock shows a bound, in summer or standard time, or is changed: a few too many
    /// do no harm, for each says the truth.
    fn clock_truths(&self, book: &RuleBook, day: i64, marks: &mut Vec<(UtcTime, Mark)>) {
        let midnight = TimeOfDay { minutes: 0 };
        let changes: Vec<UtcTime> = Date::from_days(day)
            .and_then(|date| self.clock.summer_time.changes(date.year()))
            .map_or_else(Vec::new, |(forward, back)| vec![forward, back]);
        for (number, atom) in &book.clock_atoms {
            let bounds = match atom {
                ClockAtom::Between(from, to) => [*from, *to],
                ClockAtom::Weekdays(_) => [midnight, midnight],
                _ => continue,
            };
            let shown = bounds.into_iter().flat_map(|bound| {
                (day - 1..=day + 1).flat_map(move |local_day| {
                    let local = local_day * MS_PER_DAY + since_midnight_ms(bound);
                    let standard =
                        UtcTime::from_ms(local - i64::from(self.clock.ahead_of_utc_minutes) * MS_PER_MINUTE);
                    [standard, standard.after_ms(-MS_PER_HOUR)]
                })
            });
            for at in shown.chain(changes.iter().copied()) {
                if at.ms.div_euclid(MS_PER_DAY) == day {
                    marks.push((at, Mark::Truth(*number, by_clock(self.clock, *atom, at))));
                }
            }
        }
    }

    fn sun(&mut self, book: &RuleBook, day: i64, marks: &mut Vec<(UtcTime, Mark)>) {
        let today = self.suns.day(day);
        for (number, atom) in &book.clock_atoms {
            if matches!(atom, ClockAtom::Between(..) | ClockAtom::Weekdays(_)) {
                continue;
            }
            for minute in 0..MINUTES {
                let Some((before, now)) = today.at(minute) else { continue };
                let holds = by_sun(*atom, now);
                if by_sun(*atom, before) != holds {
                    let at = UtcTime::from_ms(day * MS_PER_DAY + minute as i64 * MS_PER_MINUTE);
                    marks.push((at, Mark::Truth(*number, holds)));
                }
            }
        }
        for (event, offset_minutes, starter) in &book.suns {
            let earliest = (day * MINUTES as i64 - offset_minutes).div_euclid(MINUTES as i64);
            for of_day in earliest..=earliest + 1 {
                for (crossed_at, crossing) in self.suns.day(of_day).crossings() {
                    let at =
                        UtcTime::from_ms(of_day * MS_PER_DAY + (crossed_at + offset_minutes) * MS_PER_MINUTE);
                    if crossing == event && at.ms.div_euclid(MS_PER_DAY) == day {
                        marks.push((at, Mark::Start(*starter)));
                    }
                }
            }
        }
    }
}

fn since_midnight_ms(time: TimeOfDay) -> i64 {
    i64::from(time.minutes) * MS_PER_MINUTE
}

fn by_clock(clock: LocalClock, atom: ClockAtom, at: UtcTime) -> bool {
    let local = shown_ms(clock, at);
    match atom {
        ClockAtom::Between(from, to) => {
            let (now, from, to) =
                (local.rem_euclid(MS_PER_DAY), since_midnight_ms(from), since_midnight_ms(to));
            if from <= to { now >= from && now < to } else { now >= from || now < to }
        }
        ClockAtom::Weekdays(days) => {
            Date::from_days(local.div_euclid(MS_PER_DAY)).is_some_and(|date| days.contains(date.weekday()))
        }
        _ => false,
    }
}

fn by_sun(atom: ClockAtom, sun: SunPosition) -> bool {
    match atom {
        ClockAtom::Up => sun.is_up(),
        ClockAtom::Higher(degrees) => sun.elevation.as_degrees() > degrees,
        ClockAtom::Lower(degrees) => sun.elevation.as_degrees() < degrees,
        ClockAtom::Bearing(from, to) => stands_between(sun, from, to),
        ClockAtom::Between(..) | ClockAtom::Weekdays(_) => false,
    }
}
