//! What a motor, an opener or a lock sets in motion, by which it is known whether it can crush, trap or let someone in.

/// What is set in motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Drives {
    /// A blind, a shutter or an awning.
    Blind,
    /// A curtain.
    Curtain,
    /// A window.
    Window,
    /// A gate or a barrier.
    Gate,
    /// A garage door.
    GarageDoor,
    /// A door.
    Door,
    /// A lock, or its release.
    Lock,
    /// A valve.
    Valve,
}

impl Drives {
    /// Everything there is, in the order in which it is offered.
    pub const ALL: [Self; 8] = [
        Self::Blind,
        Self::Curtain,
        Self::Window,
        Self::Gate,
        Self::GarageDoor,
        Self::Door,
        Self::Lock,
        Self::Valve,
    ];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Blind => "a blind, shutter or awning",
            Self::Curtain => "a curtain",
            Self::Window => "a window",
            Self::Gate => "a gate or barrier",
            Self::GarageDoor => "a garage door",
            Self::Door => "a door",
            Self::Lock => "a lock",
            Self::Valve => "a valve",
        }
    }

    /// Whether it shades or darkens a window.
    pub const fn shades(self) -> bool {
        matches!(self, Self::Blind | Self::Curtain)
    }

    /// Whether it is a way that people and cars take: it can crush, trap or let someone in.
    pub const fn is_powered_way(self) -> bool {
        matches!(self, Self::Gate | Self::GarageDoor | Self::Door | Self::Lock)
    }

    /// What the words of a name tell, for kinds that nobody said it of; gates and doors before the locks in them.
    pub fn by_name(name: &str) -> Option<Self> {
        let name = name.to_lowercase();
        let words: [(&[&str], Self); 8] = [
            (&["garage"], Self::GarageDoor),
            (&["lock"], Self::Lock),
            (&["gate", "barrier"], Self::Gate),
            (&["door"], Self::Door),
            (&["blind", "shutter", "awning"], Self::Blind),
            (&["curtain"], Self::Curtain),
            (&["valve"], Self::Valve),
            (&["window"], Self::Window),
        ];
        words
            .into_iter()
            .find(|(words, _)| words.iter().any(|word| name.contains(word)))
            .map(|(_, what)| what)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::Family;
    use crate::kit::catalogue::catalogue;

    #[test]
    fn every_motor_of_the_catalogue_says_what_it_drives_and_its_name_tells_the_same() {
        let kinds = catalogue();
        let motors: Vec<_> = kinds.iter().filter(|entry| entry.kind.family == Family::Motors).collect();
        assert!(motors.len() >= 8);
        for entry in motors {
            assert!(entry.kind.drives.is_some(), "{}", entry.key);
            assert_eq!(entry.kind.drives, Drives::by_name(&entry.kind.name), "{}", entry.key);
        }
        assert_eq!(Drives::by_name("Pump"), None);
    }

    #[test]
    fn gates_doors_and_locks_are_ways_and_blinds_are_not() {
        let ways: Vec<_> = Drives::ALL.into_iter().filter(|what| what.is_powered_way()).collect();
        assert_eq!(ways, [Drives::Gate, Drives::GarageDoor, Drives::Door, Drives::Lock]);
        assert!(Drives::ALL.into_iter().all(|what| !(what.shades() && what.is_powered_way())));
    }
}
