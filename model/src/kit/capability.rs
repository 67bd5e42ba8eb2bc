//! Capabilities as values: what a kind senses, sees, lights, reports and does.

use crate::plan::Sense;
use crate::units::{Angle, Length, Lumens};

/// What travels over a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PointType {
    /// Something that happens: a key pressed, a bell rung.
    Event,
    /// Something that holds or does not: motion, open, armed.
    State,
    /// A figure: level in percent, lux, degrees.
    Number,
    /// A colour.
    Colour,
}

impl PointType {
    /// Every type, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Event, Self::State, Self::Number, Self::Colour];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Event => "event",
            Self::State => "state",
            Self::Number => "number",
            Self::Colour => "colour",
        }
    }
}

/// Whether a point tells or obeys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PointRole {
    /// The device reports it.
    Reports,
    /// The device does it.
    Does,
}

/// One thing that every device of a kind reports or does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointSpec {
    /// Its name, unique within the kind (`motion`, `key 2`, `level`).
    pub name: String,
    /// What travels over it.
    pub point_type: PointType,
    /// Reports or does.
    pub role: PointRole,
}

/// The plan shape of what a sensor covers where nothing stands in the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pattern {
    /// A fan in front of the device: full angle and reach.
    Fan {
        /// The whole angle, edge to edge.
        angle: Angle,
        /// How far it reaches.
        range: Length,
    },
    /// All round, as from a ceiling.
    Round {
        /// Radius on the floor.
        radius: Length,
    },
}

impl Pattern {
    /// The whole angle it looks through.
    pub fn angle(self) -> Angle {
        match self {
            Self::Fan { angle, .. } => angle,
            Self::Round { .. } => Angle::degrees(360.0),
        }
    }

    /// How far it reaches.
    pub const fn range(self) -> Length {
        match self {
            Self::Fan { range, .. } => range,
            Self::Round { radius } => radius,
        }
    }
}

/// What a sensor detects, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Detection {
    /// What it senses, which decides what stops it.
    pub sense: Sense,
    /// Where it looks.
    pub pattern: Pattern,
}

/// A camera's optics.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Optics {
    /// Width of the picture sensor.
    pub sensor_width: Length,
    /// Focal length.
    pub focal_length: Length,
    /// Pixels across.
    pub pixels_across: u32,
    /// How far the cone is drawn.
    pub drawn_range: Length,
}

impl Optics {
    /// Horizontal field of view, 2·atan(w / 2f): the pinhole relation, as any lens handbook gives it.
    pub fn field_of_view(&self) -> Angle {
        Angle::radians(2.0 * (self.sensor_width.as_mm() / (2.0 * self.focal_length.as_mm())).atan())
    }
}

/// What a luminaire gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lamp {
    /// Luminous flux.
    pub flux: Lumens,
    /// Full beam angle at half the peak intensity; `None` where light goes all round.
    pub beam: Option<Angle>,
    /// Correlated colour temperature, kelvin.
    pub colour_temperature_k: u16,
    /// Whether it can be dimmed.
    pub dims: bool,
}
