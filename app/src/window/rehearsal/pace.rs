//! How fast the clock of a rehearsal goes against the clock on the wall.

/// How fast the clock goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Pace {
    /// As it does in the house.
    #[default]
    AsItIs,
    /// A minute in a second.
    Minutes,
    /// Ten minutes in a second.
    TenMinutes,
    /// A day in half a minute.
    Days,
    /// From one thing that happens to the next, with time to look at each.
    ThingByThing,
}

/// So long each thing is shown at [`Pace::ThingByThing`], seconds of the wall's clock.
const LOOK_SECONDS: f64 = 1.2;

impl Pace {
    /// Every pace, the slowest first.
    pub const ALL: [Self; 5] =
        [Self::AsItIs, Self::Minutes, Self::TenMinutes, Self::Days, Self::ThingByThing];

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::AsItIs => "1×, as it is",
            Self::Minutes => "60×",
            Self::TenMinutes => "600×",
            Self::Days => "a day in 30 s",
            Self::ThingByThing => "thing by thing",
        }
    }

    /// Milliseconds of the house to a second of the wall's clock; `None` where it goes from thing to thing.
    pub const fn ms_a_second(self) -> Option<f64> {
        match self {
            Self::AsItIs => Some(1_000.0),
            Self::Minutes => Some(60_000.0),
            Self::TenMinutes => Some(600_000.0),
            Self::Days => Some(2_880_000.0),
            Self::ThingByThing => None,
        }
    }
}

/// What has to pass in the house since it was last let go on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Beat {
    owed_ms: f64,
    looked_s: f64,
}

/// What a frame brings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Brings {
    /// So many milliseconds pass.
    Time(i64),
    /// The next thing happens.
    NextThing,
    /// Nothing yet.
    Nothing,
}

impl Beat {
    /// What so many seconds of the wall's clock bring.
    pub fn passed(&mut self, pace: Pace, seconds: f64) -> Brings {
        match pace.ms_a_second() {
            Some(ms) => {
                self.owed_ms += ms * seconds.max(0.0);
                let whole = self.owed_ms.floor();
                self.owed_ms -= whole;
                if whole > 0.0 { Brings::Time(whole as i64) } else { Brings::Nothing }
            }
            None => {
                self.looked_s += seconds.max(0.0);
                if self.looked_s < LOOK_SECONDS {
                    return Brings::Nothing;
                }
                self.looked_s = 0.0;
                Brings::NextThing
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_part_of_a_millisecond_is_lost() {
        let mut beat = Beat::default();
        let passed: i64 = (0..600)
            .map(|_| match beat.passed(Pace::AsItIs, 1.0 / 60.0) {
                Brings::Time(ms) => ms,
                _ => 0,
            })
            .sum();
        assert!((9_999..=10_000).contains(&passed), "{passed}");
    }

    #[test]
    fn things_are_shown_one_after_another() {
        let mut beat = Beat::default();
        let brings: Vec<Brings> = (0..4).map(|_| beat.passed(Pace::ThingByThing, 0.5)).collect();
        assert_eq!(brings, [Brings::Nothing, Brings::Nothing, Brings::NextThing, Brings::Nothing]);
    }
}
