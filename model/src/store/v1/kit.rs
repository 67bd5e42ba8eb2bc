//! The Kit as it stands in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::capability::{DetectionV1, FireAlarmV1, LampV1, LoudnessV1, OpticsV1};
use super::figures::{Figure, IdV1, Millimetres, SecondsV1};
use super::{Filed, words};
use crate::id::Id;
use crate::kit::{
    BackBox, Battery, Drives, Family, FireAlarm, FireGrade, FireSense, Kind, MountKind, PlateFace, PointRole,
    PointSpec, PointType, Supply, Symbol,
};
use crate::units::{Money, Watts};

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

/// The back box a device needs.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct BackBoxV1 {
    gangs: u8,
    depth: Millimetres,
}

/// What a device is fed from.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, JsonSchema)]
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

/// A battery and what is drawn from it.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct BatteryV1 {
    /// What it holds when new.
    capacity_mah: Figure,
    /// What is drawn while a message is sent.
    speaking_ma: Figure,
    /// How long a message takes, seconds.
    message: SecondsV1,
    /// What is drawn all the time.
    standby_ua: Figure,
    /// What is lost by itself in a year, percent of what it holds when new.
    self_discharge_percent: Figure,
}

impl From<Battery> for BatteryV1 {
    fn from(battery: Battery) -> Self {
        Self {
            capacity_mah: Figure(battery.capacity_mah),
            speaking_ma: Figure(battery.speaking_ma),
            message: battery.message.into(),
            standby_ua: Figure(battery.standby_ua),
            self_discharge_percent: Figure(battery.self_discharge_percent),
        }
    }
}

impl From<BatteryV1> for Battery {
    fn from(battery: BatteryV1) -> Self {
        Self {
            capacity_mah: battery.capacity_mah.0,
            speaking_ma: battery.speaking_ma.0,
            message: battery.message.into(),
            standby_ua: battery.standby_ua.0,
            self_discharge_percent: battery.self_discharge_percent.0,
        }
    }
}

/// The front of a plate.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct PlateFaceV1 {
    width: Millimetres,
    height: Millimetres,
    /// Keys side by side.
    columns: u8,
}

impl From<PlateFace> for PlateFaceV1 {
    fn from(face: PlateFace) -> Self {
        Self { width: face.width.into(), height: face.height.into(), columns: face.columns }
    }
}

impl From<PlateFaceV1> for PlateFace {
    fn from(face: PlateFaceV1) -> Self {
        Self { width: face.width.into(), height: face.height.into(), columns: face.columns }
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
    #[serde(default, skip_serializing_if = "Option::is_none")]
    battery: Option<BatteryV1>,
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
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fire: Option<FireAlarmV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    loudness: Option<LoudnessV1>,
    /// 1 to 4; left out where none is claimed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    security_grade: Option<u8>,
    /// What it sets in motion; left out where it moves nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    drives: Option<DrivesV1>,
    /// Over its whole travel; left out where it has none or nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    full_travel: Option<SecondsV1>,
    /// Length of a linear luminaire.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    drawn_length: Option<Millimetres>,
    /// The front of a plate; left out where box and number of keys tell it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    face: Option<PlateFaceV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    caution: Option<String>,
}

words! {
    /// What is set in motion.
    DrivesV1 for Drives { Blind, Curtain, Window, Gate, GarageDoor, Door, Lock, Valve }
}

/// Plans from before alarms said what they notice tell it by the words of their names.
fn alarm_by_name(name: &str, family: Family, supply: Supply) -> Option<FireAlarm> {
    if family != Family::FireAndCo {
        return None;
    }
    let name = name.to_lowercase();
    let notices = match (name.contains("smoke"), name.contains("heat"), name.contains("monoxide")) {
        (true, true, _) => FireSense::SmokeAndHeat,
        (true, false, _) => FireSense::Smoke,
        (false, true, _) => FireSense::Heat,
        (false, false, true) => FireSense::CarbonMonoxide,
        (false, false, false) => return None,
    };
    let grade = if supply == Supply::Battery { FireGrade::F1 } else { FireGrade::D1 };
    Some(FireAlarm { notices, grade, interlinked: true })
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
            battery,
            load,
            points,
            price,
            minutes,
            detection,
            optics,
            lamp,
            fire,
            loudness,
            security_grade,
            drives,
            full_travel,
            drawn_length,
            face,
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
            battery: battery.map(Into::into),
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
            detection: detection.as_ref().map(Into::into),
            optics: optics.map(Into::into),
            lamp: lamp.map(Into::into),
            fire: fire.map(Into::into),
            loudness: loudness.map(Into::into),
            security_grade: *security_grade,
            drives: drives.map(Into::into),
            full_travel: full_travel.map(Into::into),
            drawn_length: drawn_length.map(Into::into),
            face: face.map(Into::into),
            caution: caution.clone(),
        }
    }

    fn thing(self) -> (Id<Kind>, Kind) {
        let fire = self
            .fire
            .map(Into::into)
            .or_else(|| alarm_by_name(&self.name, self.family.into(), self.supply.into()));
        // Plans from before motors said what they drive tell it by the words of their names.
        let by_name = || {
            let is_motor = Family::from(self.family) == Family::Motors;
            is_motor.then(|| Drives::by_name(&self.name)).flatten()
        };
        let drives = self.drives.map(Into::into).or_else(by_name);
        let kind = Kind {
            name: self.name,
            family: self.family.into(),
            code: self.code,
            symbol: self.symbol.into(),
            mount: self.mount.into(),
            default_height: self.default_height.map(Into::into),
            back_box: self.back_box.map(|found| BackBox { gangs: found.gangs, depth: found.depth.into() }),
            supply: self.supply.into(),
            battery: self.battery.map(Into::into),
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
            fire,
            loudness: self.loudness.map(Into::into),
            security_grade: self.security_grade,
            drives,
            full_travel: self.full_travel.map(Into::into),
            drawn_length: self.drawn_length.map(Into::into),
            face: self.face.map(Into::into),
            caution: self.caution,
        };
        (self.id.into(), kind)
    }
}
