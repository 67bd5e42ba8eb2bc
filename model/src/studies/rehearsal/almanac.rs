//! What the clock and the sun bring on a day: times of day, sunrise and sunset, and the moments at which a
//! condition of clock, day or sun comes to hold or ceases to. Worked out day by day, as a run comes to it.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::book::{ClockAtom, RuleBook};
use super::clock::{ClockRule, DAY_MS, Date, MINUTE_MS, Moment, weekday_of};
use super::sky::{MINUTES, Sky, SunDays, is_up, stands_between};
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
pub(super) type Day = Arc<[(Moment, Mark)]>;

/// Days, worked out once each.
#[derive(Clone)]
pub(super) struct Almanac {
    pub(super) clock: ClockRule,
    suns: SunDays,
    days: BTreeMap<i64, Day>,
}

impl Almanac {
    pub(super) fn new(clock: ClockRule, sky: Arc<dyn Sky>) -> Self {
        Self { clock, suns: SunDays::new(sky), days: BTreeMap::new() }
    }

    /// The first moment after this one, and not after the last, at which the clock brings something.
    pub(super) fn next(&mut self, book: &RuleBook, after: Moment, last: Moment) -> Option<Moment> {
        if !book.watches_clock() {
            return None;
        }
        let day_of = |at: Moment| at.0.div_euclid(DAY_MS);
        (day_of(after)..=day_of(last)).find_map(|day| {
            let marks = self.day(book, day);
            let at = marks.partition_point(|(at, _)| *at <= after);
            marks.get(at).map(|(at, _)| *at).filter(|at| *at <= last)
        })
    }

    /// What the clock brings at a moment.
    pub(super) fn marks(&mut self, book: &RuleBook, at: Moment) -> Day {
        let day = self.day(book, at.0.div_euclid(DAY_MS));
        let from = day.partition_point(|(when, _)| *when < at);
        let to = day.partition_point(|(when, _)| *when <= at);
        day.get(from..to).unwrap_or(&[]).into()
    }

    /// The truth of a clock condition at a moment.
    pub(super) fn truth(&mut self, atom: ClockAtom, at: Moment) -> bool {
        let sun = |suns: &mut SunDays| {
            let day = suns.day(at.0.div_euclid(DAY_MS));
            let minute = at.0.rem_euclid(DAY_MS) / MINUTE_MS;
            day.at(minute as usize).map(|(_, now)| now).unwrap_or_default()
        };
        match atom {
            ClockAtom::Between(..) | ClockAtom::Weekdays(_) => by_clock(self.clock, atom, at),
            _ => by_sun(atom, sun(&mut self.suns)),
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

    fn times(&self, book: &RuleBook, day: i64, marks: &mut Vec<(Moment, Mark)>) {
        for (time, starter) in &book.times {
            for local_day in day - 1..=day + 1 {
                let at = self.clock.moment_of(local_day * DAY_MS + local_ms(*time));
                if at.0.div_euclid(DAY_MS) == day {
                    marks.push((at, Mark::Start(*starter)));
                }
            }
        }
    }

    /// Every moment at which the clock shows a bound, in summer or standard time, or is changed: a few too many
    /// do no harm, for each says the truth.
    fn clock_truths(&self, book: &RuleBook, day: i64, marks: &mut Vec<(Moment, Mark)>) {
        let midnight = TimeOfDay { minutes: 0 };
        let year = Date::from_days(day).year;
        let changes: Vec<Moment> =
            (year - 1..=year + 1).filter_map(|year| self.clock.changes(year)).flatten().collect();
        for (number, atom) in &book.clock_atoms {
            let bounds = match atom {
                ClockAtom::Between(from, to) => [*from, *to],
                ClockAtom::Weekdays(_) => [midnight, midnight],
                _ => continue,
            };
            let shown = bounds.into_iter().flat_map(|bound| {
                (day - 1..=day + 1).flat_map(move |local_day| {
                    let local = local_day * DAY_MS + local_ms(bound);
                    let standard = Moment(local - i64::from(self.clock.standard_minutes) * MINUTE_MS);
                    [standard, standard.plus_ms(-60 * MINUTE_MS)]
                })
            });
            for at in shown.chain(changes.iter().copied()) {
                if at.0.div_euclid(DAY_MS) == day {
                    marks.push((at, Mark::Truth(*number, by_clock(self.clock, *atom, at))));
                }
            }
        }
    }

    fn sun(&mut self, book: &RuleBook, day: i64, marks: &mut Vec<(Moment, Mark)>) {
        let today = self.suns.day(day);
        for (number, atom) in &book.clock_atoms {
            if matches!(atom, ClockAtom::Between(..) | ClockAtom::Weekdays(_)) {
                continue;
            }
            for minute in 0..MINUTES {
                let Some((before, now)) = today.at(minute) else { continue };
                let holds = by_sun(*atom, now);
                if by_sun(*atom, before) != holds {
                    let at = Moment(day * DAY_MS + minute as i64 * MINUTE_MS);
                    marks.push((at, Mark::Truth(*number, holds)));
                }
            }
        }
        for (event, offset_minutes, starter) in &book.suns {
            let earliest = (day * MINUTES as i64 - offset_minutes).div_euclid(MINUTES as i64);
            for of_day in earliest..=earliest + 1 {
                for (crossed_at, crossing) in self.suns.day(of_day).crossings() {
                    let at = Moment(of_day * DAY_MS + (crossed_at + offset_minutes) * MINUTE_MS);
                    if crossing == event && at.0.div_euclid(DAY_MS) == day {
                        marks.push((at, Mark::Start(*starter)));
                    }
                }
            }
        }
    }
}

fn local_ms(time: TimeOfDay) -> i64 {
    i64::from(time.minutes) * MINUTE_MS
}

fn by_clock(clock: ClockRule, atom: ClockAtom, at: Moment) -> bool {
    let local = clock.local_ms(at);
    match atom {
        ClockAtom::Between(from, to) => {
            let (now, from, to) = (local.rem_euclid(DAY_MS), local_ms(from), local_ms(to));
            if from <= to { now >= from && now < to } else { now >= from || now < to }
        }
        ClockAtom::Weekdays(days) => days.contains(weekday_of(local.div_euclid(DAY_MS))),
        _ => false,
    }
}

fn by_sun(atom: ClockAtom, sun: super::sky::SunPosition) -> bool {
    match atom {
        ClockAtom::Up => is_up(sun),
        ClockAtom::Higher(degrees) => sun.height_degrees > degrees,
        ClockAtom::Lower(degrees) => sun.height_degrees < degrees,
        ClockAtom::Bearing(from, to) => stands_between(sun, from, to),
        ClockAtom::Between(..) | ClockAtom::Weekdays(_) => false,
    }
}
