//! Spots: places of the house that matter to what it senses, named by a person.
//!
//! Where somebody sits or sleeps, what a camera must recognise, what warms or blows, what burns fuel. None of them is
//! fitted by the integrator; all of them decide whether what is fitted will serve.

use kurbo::Point;

use super::Level;
use crate::id::Id;
use crate::units::Length;

/// What a spot is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpotUse {
    /// A desk or table at which somebody sits with small movements.
    Desk,
    /// A sofa or armchair.
    Seat,
    /// A basin, a mirror, a WC.
    Basin,
    /// The head of a bed.
    BedHead,
    /// What a camera must show: a face at the door, a gate, a car.
    ToBeSeen,
    /// A radiator or another thing that grows warm.
    Radiator,
    /// An outlet of warm air.
    WarmAir,
    /// A cooker or another source of fire in a kitchen.
    Cooker,
    /// An appliance that burns fuel: a boiler, a stove, a fire.
    FuelAppliance,
    /// A sink.
    Sink,
    /// An extractor or an air vent.
    Extractor,
    /// A roof light that somebody can reach from outside.
    ReachableRoofLight,
    /// A place where water may leak: a washing machine, a cylinder, a manifold.
    WaterRisk,
}

impl SpotUse {
    /// Every use, in the order they are offered.
    pub const ALL: [Self; 13] = [
        Self::Desk,
        Self::Seat,
        Self::Basin,
        Self::BedHead,
        Self::ToBeSeen,
        Self::Radiator,
        Self::WarmAir,
        Self::Cooker,
        Self::FuelAppliance,
        Self::Sink,
        Self::Extractor,
        Self::ReachableRoofLight,
        Self::WaterRisk,
    ];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Desk => "desk or table",
            Self::Seat => "sofa or armchair",
            Self::Basin => "basin or WC",
            Self::BedHead => "bedhead",
            Self::ToBeSeen => "to be seen by a camera",
            Self::Radiator => "radiator",
            Self::WarmAir => "warm-air outlet",
            Self::Cooker => "cooker",
            Self::FuelAppliance => "fuel-burning appliance",
            Self::Sink => "sink",
            Self::Extractor => "extractor or vent",
            Self::ReachableRoofLight => "roof light within reach",
            Self::WaterRisk => "may leak water",
        }
    }

    /// Whether somebody dwells there with small movements and must not sit in the dark.
    pub const fn is_dwelt_in(self) -> bool {
        matches!(self, Self::Desk | Self::Seat | Self::Basin)
    }

    /// Its usual height above the floor: 0.80 m where people sit (the height at which makers state seated reach),
    /// 1.60 m for a face (adult eye level, from memory), else common practice, no published source.
    pub const fn usual_height(self) -> Length {
        match self {
            Self::Desk | Self::Seat | Self::Basin => Length::mm(800.0),
            Self::BedHead => Length::mm(600.0),
            Self::ToBeSeen => Length::mm(1600.0),
            Self::Radiator => Length::mm(300.0),
            Self::WarmAir | Self::Extractor => Length::mm(2200.0),
            Self::Cooker | Self::Sink => Length::mm(900.0),
            Self::FuelAppliance => Length::mm(1000.0),
            Self::ReachableRoofLight => Length::mm(2400.0),
            Self::WaterRisk => Length::ZERO,
        }
    }
}

/// A place that matters.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// The storey it is on.
    pub level: Id<Level>,
    /// What the family calls it (`Anna's desk`).
    pub name: String,
    /// What it is.
    pub spot_use: SpotUse,
    /// Where, mm.
    pub at: Point,
    /// How high above the finished floor.
    pub height_affl: Length,
}
