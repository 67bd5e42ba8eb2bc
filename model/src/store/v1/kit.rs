//! The Kit as it stands in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{Degrees, Figure, IdV1, Millimetres};
use super::{Filed, words};
use crate::id::Id;
use crate::kit::{
    BackBox, Detection, Family, Kind, Lamp, MountKind, Optics, Pattern, PointRole, PointSpec, PointType,
    Supply, Symbol,
};
use crate::plan::Sense;
use crate::units::{Lumens, Money, Watts};

words! {
    /// The family of the Kit under which a kind is offered.
    FamilyV1 for Family {
        Presence, Intrusion, Contacts, CamerasAndEntry, Sounders, Keypads, FireAndCo, Environment, Plates, Modules,
        Luminaires, Motors, Heating, SoundAndScreens, Plant, Network,
    }
}

words! {
    /// The form drawn on the plan.
    SymbolV1 for Symbol {
        CodeInCircle, CodeInHalfCircle, CodeInSquare, CodeInHexagon, CodeInRectangle, Contact, Camera, Plate,
        LightingPoint, Downlight, WallLight, LinearLight, Floodlight, Motor, Loudspeaker, Sounder, Screen, Outlet,
        AccessPoint,
    }
}

words! {
    /// What a kind is fixed to.
    MountKindV1 for MountKind { Wall, Ceiling, Floor, Joinery, Outdoors }
}

words! {
    /// What travels over a point.
    PointTypeV1 for PointType { Event, State, Number, Colour }
}

words! {
    /// Whether a point tells or obeys.
    PointRoleV1 for PointRole { Reports, Does }
}

words! {
    /// A way of sensing.
    SenseV1 for Sense { BodyHeat, Microwave, Dual, Camera, Sound, FireOrGas }
}

/// The back box a device needs.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct BackBoxV1 {
    gangs: u8,
    depth: Millimetres,
}

/// What a device is fed from.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum SupplyV1 {
    /// 230 V a.c.
    Mains,
    /// Volts d.c.
    ExtraLow { volts: u8 },
    /// IEEE 802.3 class.
    PowerOverEthernet { class: u8 },
    /// Battery.
    Battery,
    /// A dry contact or a passive thing.
    None,
}

impl From<Supply> for SupplyV1 {
    fn from(supply: Supply) -> Self {
        match supply {
            Supply::Mains => Self::Mains,
            Supply::ExtraLow { volts } => Self::ExtraLow { volts },
            Supply::PowerOverEthernet { class } => Self::PowerOverEthernet { class },
            Supply::Battery => Self::Battery,
            Supply::None => Self::None,
        }
    }
}

impl From<SupplyV1> for Supply {
    fn from(supply: SupplyV1) -> Self {
        match supply {
            SupplyV1::Mains => Self::Mains,
            SupplyV1::ExtraLow { volts } => Self::ExtraLow { volts },
            SupplyV1::PowerOverEthernet { class } => Self::PowerOverEthernet { class },
            SupplyV1::Battery => Self::Battery,
            SupplyV1::None => Self::None,
        }
    }
}

/// One thing that every device of a kind reports or does.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct PointSpecV1 {
    name: String,
    point_type: PointTypeV1,
    role: PointRoleV1,
}

/// The plan shape of what a sensor covers.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum PatternV1 {
    /// A fan in front: its whole angle and reach.
    Fan { angle: Degrees, range: Millimetres },
    /// All round.
    Round { radius: Millimetres },
}

/// What a sensor detects, and where.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct DetectionV1 {
    sense: SenseV1,
    pattern: PatternV1,
}

impl From<Detection> for DetectionV1 {
    fn from(Detection { sense, pattern }: Detection) -> Self {
        let pattern = match pattern {
            Pattern::Fan { angle, range } => PatternV1::Fan { angle: angle.into(), range: range.into() },
            Pattern::Round { radius } => PatternV1::Round { radius: radius.into() },
        };
        Self { sense: sense.into(), pattern }
    }
}

impl From<DetectionV1> for Detection {
    fn from(DetectionV1 { sense, pattern }: DetectionV1) -> Self {
        let pattern = match pattern {
            PatternV1::Fan { angle, range } => Pattern::Fan { angle: angle.into(), range: range.into() },
            PatternV1::Round { radius } => Pattern::Round { radius: radius.into() },
        };
        Self { sense: sense.into(), pattern }
    }
}

/// A camera's optics.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct OpticsV1 {
    sensor_width: Millimetres,
    focal_length: Millimetres,
    pixels_across: u32,
    drawn_range: Millimetres,
}

impl From<Optics> for OpticsV1 {
    fn from(Optics { sensor_width, focal_length, pixels_across, drawn_range }: Optics) -> Self {
        Self {
            sensor_width: sensor_width.into(),
            focal_length: focal_length.into(),
            pixels_across,
            drawn_range: drawn_range.into(),
        }
    }
}

impl From<OpticsV1> for Optics {
    fn from(OpticsV1 { sensor_width, focal_length, pixels_across, drawn_range }: OpticsV1) -> Self {
        Self {
            sensor_width: sensor_width.into(),
            focal_length: focal_length.into(),
            pixels_across,
            drawn_range: drawn_range.into(),
        }
    }
}

/// What a luminaire gives.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct LampV1 {
    /// Luminous flux, lumens.
    flux: Figure,
    /// Full beam angle at half the peak intensity; left out where light goes all round.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    beam: Option<Degrees>,
    /// Kelvin.
    colour_temperature_k: u16,
    dims: bool,
}

impl From<Lamp> for LampV1 {
    fn from(Lamp { flux, beam, colour_temperature_k, dims }: Lamp) -> Self {
        Self { flux: Figure(flux.0), beam: beam.map(Into::into), colour_temperature_k, dims }
    }
}

impl From<LampV1> for Lamp {
    fn from(LampV1 { flux, beam, colour_temperature_k, dims }: LampV1) -> Self {
        Self { flux: Lumens(flux.0), beam: beam.map(Into::into), colour_temperature_k, dims }
    }
}

/// One kind of device.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct KindV1 {
    id: IdV1,
    name: String,
    family: FamilyV1,
    /// The letter code that starts its tags.
    code: String,
    symbol: SymbolV1,
    mount: MountKindV1,
    /// Its centre above the finished floor; left out where each one must be decided.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    default_height: Option<Millimetres>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    back_box: Option<BackBoxV1>,
    supply: SupplyV1,
    /// Watts.
    load: Figure,
    points: Vec<PointSpecV1>,
    /// Hundredths of the plan's currency.
    price_hundredths: i64,
    /// Minutes to fit one.
    minutes: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    detection: Option<DetectionV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    optics: Option<OpticsV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lamp: Option<LampV1>,
    /// Length of a linear luminaire.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    drawn_length: Option<Millimetres>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    caution: Option<String>,
}

impl Filed<Kind> for KindV1 {
    fn of(id: Id<Kind>, thing: &Kind) -> Self {
        let Kind {
            name,
            family,
            code,
            symbol,
            mount,
            default_height,
            back_box,
            supply,
            load,
            points,
            price,
            minutes,
            detection,
            optics,
            lamp,
            drawn_length,
            caution,
        } = thing;
        Self {
            id: id.into(),
            name: name.clone(),
            family: (*family).into(),
            code: code.clone(),
            symbol: (*symbol).into(),
            mount: (*mount).into(),
            default_height: default_height.map(Into::into),
            back_box: back_box.map(|BackBox { gangs, depth }| BackBoxV1 { gangs, depth: depth.into() }),
            supply: (*supply).into(),
            load: Figure(load.0),
            points: points
                .iter()
                .map(|PointSpec { name, point_type, role }| PointSpecV1 {
                    name: name.clone(),
                    point_type: (*point_type).into(),
                    role: (*role).into(),
                })
                .collect(),
            price_hundredths: price.hundredths,
            minutes: *minutes,
            detection: detection.map(Into::into),
            optics: optics.map(Into::into),
            lamp: lamp.map(Into::into),
            drawn_length: drawn_length.map(Into::into),
            caution: caution.clone(),
        }
    }

    fn thing(self) -> (Id<Kind>, Kind) {
        let kind = Kind {
            name: self.name,
            family: self.family.into(),
            code: self.code,
            symbol: self.symbol.into(),
            mount: self.mount.into(),
            default_height: self.default_height.map(Into::into),
            back_box: self.back_box.map(|found| BackBox { gangs: found.gangs, depth: found.depth.into() }),
            supply: self.supply.into(),
            load: Watts(self.load.0),
            points: self
                .points
                .into_iter()
                .map(|point| PointSpec {
                    name: point.name,
                    point_type: point.point_type.into(),
                    role: point.role.into(),
                })
                .collect(),
            price: Money { hundredths: self.price_hundredths },
            minutes: self.minutes,
            detection: self.detection.map(Into::into),
            optics: self.optics.map(Into::into),
            lamp: self.lamp.map(Into::into),
            drawn_length: self.drawn_length.map(Into::into),
            caution: self.caution,
        };
        (self.id.into(), kind)
    }
}
