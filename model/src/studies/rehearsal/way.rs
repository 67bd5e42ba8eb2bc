//! The way of a point from one value to another: fades, and the travel of blinds.

use super::clock::{FIRST, ms_between};
use super::value::Has;
use crate::calendar::UtcTime;

/// A way from a value, begun at a moment, that lasts so long. Where it leads is what shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    pub(super) from: Has,
    pub(super) begun: UtcTime,
    pub(super) lasts_ms: i64,
}

impl Way {
    /// There already.
    pub(super) const fn there(at: Has) -> Self {
        Self { from: at, begun: FIRST, lasts_ms: 0 }
    }

    /// The value on the way to a goal.
    pub(super) fn value(&self, goal: Has, at: UtcTime) -> Has {
        let gone = ms_between(self.begun, at);
        if gone >= self.lasts_ms {
            return goal;
        }
        match (self.from, goal) {
            (Has::Number(from), Has::Number(to)) => Has::Number(part(from, to, gone, self.lasts_ms)),
            (Has::Colour(from), Has::Colour(to)) => Has::Colour(std::array::from_fn(|channel| {
                let value = part(f64::from(from[channel]), f64::from(to[channel]), gone, self.lasts_ms);
                (value + 0.5).floor() as u8
            })),
            _ => goal,
        }
    }

    /// When it is there.
    pub(super) const fn ends(&self) -> UtcTime {
        self.begun.after_ms(self.lasts_ms)
    }
}

fn part(from: f64, to: f64, gone: i64, lasts: i64) -> f64 {
    from + (to - from) * gone as f64 / lasts as f64
}

/// How long it takes from one value to another: the fade, or the travel where that takes longer; nothing where
/// it is there already and for what only switches.
pub(super) fn duration_ms(from: Has, to: Has, fade_ms: i64, full_travel_ms: Option<i64>) -> i64 {
    match (from, to) {
        _ if from == to => 0,
        (Has::Number(a), Has::Number(b)) => {
            let travel =
                full_travel_ms.map_or(0, |full| ((b - a).abs() / 100.0 * full as f64 + 0.5).floor() as i64);
            fade_ms.max(travel)
        }
        (Has::Colour(_), Has::Colour(_)) => fade_ms,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_and_colours_go_evenly_and_end_at_their_goal() {
        let level = Way { from: Has::Number(20.0), begun: UtcTime::from_ms(1000), lasts_ms: 4000 };
        let goal = Has::Number(100.0);
        for (at, expected) in [(1000, 20.0), (2000, 40.0), (4999, 99.98), (5000, 100.0), (9000, 100.0)] {
            assert_eq!(level.value(goal, UtcTime::from_ms(at)), Has::Number(expected), "{at}");
        }
        let colour = Way { from: Has::Colour([255, 0, 10]), begun: UtcTime::from_ms(0), lasts_ms: 1000 };
        assert_eq!(
            colour.value(Has::Colour([0, 255, 11]), UtcTime::from_ms(500)),
            Has::Colour([128, 128, 11])
        );
        let state = Way { from: Has::State(false), begun: UtcTime::from_ms(0), lasts_ms: 1000 };
        assert_eq!(state.value(Has::State(true), UtcTime::from_ms(1)), Has::State(true));
    }

    #[test]
    fn a_blind_takes_its_travel_and_a_slow_fade_takes_longer() {
        let (shut, half) = (Has::Number(0.0), Has::Number(50.0));
        assert_eq!(duration_ms(half, shut, 0, Some(25_000)), 12_500);
        assert_eq!(duration_ms(half, shut, 60_000, Some(25_000)), 60_000);
        assert_eq!(duration_ms(half, half, 60_000, Some(25_000)), 0);
        assert_eq!(duration_ms(shut, half, 3000, None), 3000);
        assert_eq!(duration_ms(Has::State(false), Has::State(true), 3000, None), 0);
    }
}
