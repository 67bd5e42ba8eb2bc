//! Zones: named sets of points that act as one.

use super::PointRef;

/// What a zone is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ZonePurpose {
    /// Luminaires that are switched and dimmed together.
    Lighting,
    /// Emitters that heat as one.
    Heating,
    /// Blinds or curtains that move together.
    Blinds,
    /// Detectors of the full set.
    FullSet,
    /// Detectors of the part set: those that watch while the house sleeps.
    PartSet,
    /// Detectors on the way from a way in to a keypad, which wait while somebody enters or leaves.
    EntryRoute,
    /// Contacts that share one indication at the panel.
    Indication,
    /// Loudspeakers that play the same.
    Sound,
}

impl ZonePurpose {
    /// Every purpose, in the order they are offered.
    pub const ALL: [Self; 8] = [
        Self::Lighting,
        Self::Heating,
        Self::Blinds,
        Self::FullSet,
        Self::PartSet,
        Self::EntryRoute,
        Self::Indication,
        Self::Sound,
    ];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Lighting => "lighting",
            Self::Heating => "heating",
            Self::Blinds => "blinds",
            Self::FullSet => "full set",
            Self::PartSet => "part set",
            Self::EntryRoute => "entry route",
            Self::Indication => "one indication",
            Self::Sound => "sound",
        }
    }
}

/// A named set of points that act as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// What the family calls it.
    pub name: String,
    /// What it is for.
    pub purpose: ZonePurpose,
    /// The points in it, in the order they were put in.
    pub points: Vec<PointRef>,
}
