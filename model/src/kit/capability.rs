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

impl PointSpec {
    /// Its name without the number that tells it from others of its kind (`position` of `position 2`).
    pub fn stem(&self) -> &str {
        self.name.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end()
    }

    /// Whether it takes its time to get where it is told to be: the position of a blind, a gate, a door.
    pub fn travels(&self) -> bool {
        self.point_type == PointType::Number && self.role == PointRole::Does && self.stem() == "position"
    }
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

/// One layer of a lens, between two angles below its axis. Rays outside every layer see nothing; the strip
/// beneath a detector that no layer reaches is blind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tier {
    /// The upper edge, from the axis downwards; below zero above the axis.
    pub from: Angle,
    /// The lower edge, from the axis downwards; 90° is straight down where the axis is level.
    pub to: Angle,
}

/// How somebody moves, as far as a detector can tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Movement {
    /// Walking across the fan: noticed best.
    Across,
    /// Walking towards the detector.
    Towards,
    /// Sitting, with small movements of a hand.
    Still,
}

impl Movement {
    /// Every movement, the best noticed first.
    pub const ALL: [Self; 3] = [Self::Across, Self::Towards, Self::Still];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Across => "walking across",
            Self::Towards => "walking towards it",
            Self::Still => "sitting, small movements",
        }
    }
}

/// What is left of the pattern's reach, as shares of it from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReachLeft {
    /// For somebody who walks towards the detector.
    pub towards: f64,
    /// For somebody who sits and moves a hand; 0 where that goes unnoticed.
    pub still: f64,
    /// Beyond one boarded partition or one shut door, for a sense that passes it with a loss.
    pub through_board: f64,
    /// In a room so warm that a body hardly differs from it.
    pub warm: f64,
}

impl ReachLeft {
    /// The whole reach whatever happens, but nothing through a partition.
    pub const WHOLE: Self = Self { towards: 1.0, still: 1.0, through_board: 0.0, warm: 1.0 };

    /// The share left for a movement.
    pub const fn for_movement(self, movement: Movement) -> f64 {
        match movement {
            Movement::Across => 1.0,
            Movement::Towards => self.towards,
            Movement::Still => self.still,
        }
    }
}

/// Radii on the floor of a ceiling detector mounted at a height, as its maker states them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReachAtHeight {
    /// Height of the detector above the floor.
    pub mounted: Length,
    /// Radius in which somebody walking is noticed.
    pub walking: Length,
    /// Radius in which somebody sitting is noticed; `None` where nobody is.
    pub seated: Option<Length>,
}

/// What a sensor detects, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Detection {
    /// What it senses, which decides what stops it.
    pub sense: Sense,
    /// Where it looks on the plan, and how far somebody walking across it is noticed.
    pub pattern: Pattern,
    /// Where it looks up and down; empty where it looks at every height.
    pub tiers: Vec<Tier>,
    /// What is left of its reach in harder cases.
    pub reach_left: ReachLeft,
    /// For ceiling detectors: radii by mounting height, lowest first, which go before the pattern's.
    pub by_height: Vec<ReachAtHeight>,
}

impl Detection {
    /// A sensor that looks at every height and reaches as far in every case.
    pub const fn plain(sense: Sense, pattern: Pattern) -> Self {
        Self { sense, pattern, tiers: Vec::new(), reach_left: ReachLeft::WHOLE, by_height: Vec::new() }
    }
}

/// A flat picture is no wider than this, degrees: beyond it a lens bends what it shows. Common practice, no published
/// source.
pub const WIDEST_FLAT_VIEW_DEGREES: f64 = 150.0;

/// A camera's optics.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Optics {
    /// Width of the picture sensor.
    pub sensor_width: Length,
    /// Focal length.
    pub focal_length: Length,
    /// Pixels across.
    pub pixels_across: u32,
    /// Pixels from top to bottom.
    pub pixels_down: u32,
    /// Horizontal field of view as its maker states it; goes before what sensor and lens give.
    pub stated_view: Option<Angle>,
    /// How far the cone is drawn.
    pub drawn_range: Length,
}

impl Optics {
    /// Horizontal field of view: as stated, else 2·atan(w / 2f), the pinhole relation as any lens handbook gives it.
    pub fn field_of_view(&self) -> Angle {
        self.stated_view.unwrap_or_else(|| self.view_of_lens())
    }

    /// Whether it shows a flat picture, as a pinhole does; a lens that sees wider bends what it shows.
    pub fn is_flat(&self) -> bool {
        self.field_of_view().as_degrees() <= WIDEST_FLAT_VIEW_DEGREES
    }

    /// Vertical field of view, with pixels as wide as they are high: for a flat picture the tangents of the half views
    /// are as its pixels, for a wider one the angles are (an equidistant lens).
    pub fn view_down(&self) -> Angle {
        let across = self.field_of_view().as_radians();
        let share = f64::from(self.pixels_down) / f64::from(self.pixels_across.max(1));
        Angle::radians(if self.is_flat() {
            2.0 * ((across / 2.0).tan() * share).atan()
        } else {
            (across * share).min(std::f64::consts::PI)
        })
    }

    fn view_of_lens(&self) -> Angle {
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

/// What a fire or gas alarm notices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FireSense {
    /// Smoke.
    Smoke,
    /// Heat.
    Heat,
    /// Smoke and heat.
    SmokeAndHeat,
    /// Carbon monoxide.
    CarbonMonoxide,
}

impl FireSense {
    /// Every one, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Smoke, Self::Heat, Self::SmokeAndHeat, Self::CarbonMonoxide];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Smoke => "smoke",
            Self::Heat => "heat",
            Self::SmokeAndHeat => "smoke and heat",
            Self::CarbonMonoxide => "carbon monoxide",
        }
    }

    /// Whether it notices smoke.
    pub const fn notices_smoke(self) -> bool {
        matches!(self, Self::Smoke | Self::SmokeAndHeat)
    }

    /// Whether it notices fire, by smoke or by heat.
    pub const fn notices_fire(self) -> bool {
        self.notices_smoke() || self.notices_heat()
    }

    /// Whether it notices heat.
    pub const fn notices_heat(self) -> bool {
        matches!(self, Self::Heat | Self::SmokeAndHeat)
    }
}

/// How a domestic fire alarm is fed (grades of BS 5839-6:2019; read in a secondary page, D2 from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FireGrade {
    /// A panel to BS 5839-1.
    A,
    /// Mains, with central control and standby.
    C,
    /// Mains, with a standby supply that nobody can take out.
    D1,
    /// Mains, with a battery that can be replaced.
    D2,
    /// A battery that nobody can take out.
    F1,
    /// A battery that can be replaced.
    F2,
}

impl FireGrade {
    /// Every grade, the best first.
    pub const ALL: [Self; 6] = [Self::A, Self::C, Self::D1, Self::D2, Self::F1, Self::F2];

    /// The grade's own name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::C => "C",
            Self::D1 => "D1",
            Self::D2 => "D2",
            Self::F1 => "F1",
            Self::F2 => "F2",
        }
    }
}

/// A fire or gas alarm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FireAlarm {
    /// What it notices.
    pub notices: FireSense,
    /// How it is fed.
    pub grade: FireGrade,
    /// Whether it makes the others sound, and sounds with them.
    pub interlinked: bool,
}

/// How loud something is: A-weighted sound pressure level in the open, in front of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loudness {
    /// dB(A).
    pub level_dba: f64,
    /// At this distance.
    pub at: Length,
}
