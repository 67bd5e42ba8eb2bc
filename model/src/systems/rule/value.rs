//! What rules compare and give: values, gestures, how values are compared, sun and weekdays.

pub use crate::calendar::Weekday;

/// What is done to a key, or what an event point tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gesture {
    /// The event itself: a bell rung, motion started.
    Happens,
    /// One press.
    Press,
    /// Two presses.
    PressTwice,
    /// Three presses.
    PressThrice,
    /// Held down.
    Hold,
    /// Let go after holding.
    Release,
}

impl Gesture {
    /// Every gesture, in the order they are offered.
    pub const ALL: [Self; 6] =
        [Self::Happens, Self::Press, Self::PressTwice, Self::PressThrice, Self::Hold, Self::Release];

    /// The words for it, after the point's name (`key 1 is pressed twice`).
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::Happens => "happens",
            Self::Press => "is pressed",
            Self::PressTwice => "is pressed twice",
            Self::PressThrice => "is pressed three times",
            Self::Hold => "is held",
            Self::Release => "is released",
        }
    }
}

/// Sunrise or sunset at the site.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SunEvent {
    /// Sunrise.
    Rise,
    /// Sunset.
    Set,
}

/// A value that a point can have or be given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// On, open, active.
    On,
    /// Off, shut, idle.
    Off,
    /// A figure in the point's own unit (percent for levels and positions).
    Number(f64),
    /// A colour, sRGB.
    Colour([u8; 3]),
}

/// How a value is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Comparison {
    /// The same.
    Is,
    /// Not the same.
    IsNot,
    /// Below.
    Below,
    /// Above.
    Above,
}

impl Comparison {
    /// Every comparison, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Is, Self::IsNot, Self::Below, Self::Above];

    /// The words for it.
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::Is => "is",
            Self::IsNot => "is not",
            Self::Below => "is below",
            Self::Above => "is above",
        }
    }
}

/// Some of the days of the week.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Weekdays(u8);

impl Weekdays {
    /// Monday to Friday.
    pub const WORKING: Self = Self(0b001_1111);
    /// Saturday and Sunday.
    pub const WEEKEND: Self = Self(0b110_0000);

    /// The days that are given.
    pub fn of(days: &[Weekday]) -> Self {
        days.iter().fold(Self::default(), |all, day| all.with(*day, true))
    }

    /// The same days with one of them put in or taken out.
    pub const fn with(self, day: Weekday, is_in: bool) -> Self {
        let bit = 1 << day as u8;
        Self(if is_in { self.0 | bit } else { self.0 & !bit })
    }

    /// Whether a day is among them.
    pub const fn contains(self, day: Weekday) -> bool {
        self.0 & (1 << day as u8) != 0
    }

    /// The days in it, from Monday.
    pub fn days(self) -> impl Iterator<Item = Weekday> {
        Weekday::ALL.into_iter().filter(move |day| self.contains(*day))
    }
}

/// `Monday to Friday`, `Saturday or Sunday`, `Monday, Wednesday or Friday`; `no day` where there is none.
impl std::fmt::Display for Weekdays {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let days: Vec<Weekday> = self.days().collect();
        let (Some(first), Some(last)) = (days.first(), days.last()) else { return out.write_str("no day") };
        let in_a_row = *last as usize - *first as usize + 1 == days.len();
        if in_a_row && days.len() > 2 {
            return write!(out, "{} to {}", first.name(), last.name());
        }
        for (index, day) in days.iter().enumerate() {
            let before = match index {
                0 => "",
                _ if index + 1 == days.len() => " or ",
                _ => ", ",
            };
            write!(out, "{before}{}", day.name())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weekdays_read_as_people_say_them() {
        use Weekday::{Friday, Monday, Sunday, Wednesday};
        for (days, words) in [
            (Weekdays::WORKING, "Monday to Friday"),
            (Weekdays::WEEKEND, "Saturday or Sunday"),
            (Weekdays::of(&[Friday, Monday, Wednesday]), "Monday, Wednesday or Friday"),
            (Weekdays::of(&[Sunday]), "Sunday"),
            (Weekdays::of(&Weekday::ALL), "Monday to Sunday"),
            (Weekdays::default(), "no day"),
            (Weekdays::WEEKEND.with(Sunday, false), "Saturday"),
        ] {
            assert_eq!(days.to_string(), words);
        }
    }
}
