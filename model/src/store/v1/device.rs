//! The devices placed as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Filed;
use super::figures::{Degrees, IdV1, Millimetres, PointMm, TagV1};
use super::plan::SideV1;
use crate::id::Id;
use crate::kit::{Device, KeyLegend, Mount, PlateLegend};

/// What a device is fixed to, and where.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum MountV1 {
    /// A wall face; `along` from the wall's start to the centre of the box.
    WallFace { wall: IdV1, side: SideV1, along: Millimetres },
    /// The ceiling.
    Ceiling { at: PointMm },
    /// The floor.
    Floor { at: PointMm },
    /// A piece of joinery; `offset` from its centre, x along its front, y to its back.
    Joinery { joinery: IdV1, offset: PointMm },
    /// Outdoors.
    Outdoors { at: PointMm },
    /// Meant for a host that is not there.
    Loose { at: PointMm },
}

impl From<Mount> for MountV1 {
    fn from(mount: Mount) -> Self {
        match mount {
            Mount::WallFace { wall, side, along } => {
                Self::WallFace { wall: wall.into(), side: side.into(), along: along.into() }
            }
            Mount::Ceiling { at } => Self::Ceiling { at: at.into() },
            Mount::Floor { at } => Self::Floor { at: at.into() },
            Mount::Joinery { joinery, offset } => {
                Self::Joinery { joinery: joinery.into(), offset: offset.into() }
            }
            Mount::Outdoors { at } => Self::Outdoors { at: at.into() },
            Mount::Loose { at } => Self::Loose { at: at.into() },
        }
    }
}

impl From<MountV1> for Mount {
    fn from(mount: MountV1) -> Self {
        match mount {
            MountV1::WallFace { wall, side, along } => {
                Self::WallFace { wall: wall.into(), side: side.into(), along: along.into() }
            }
            MountV1::Ceiling { at } => Self::Ceiling { at: at.into() },
            MountV1::Floor { at } => Self::Floor { at: at.into() },
            MountV1::Joinery { joinery, offset } => {
                Self::Joinery { joinery: joinery.into(), offset: offset.into() }
            }
            MountV1::Outdoors { at } => Self::Outdoors { at: at.into() },
            MountV1::Loose { at } => Self::Loose { at: at.into() },
        }
    }
}

/// The words on one key.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct KeyLegendV1 {
    /// The name of its point.
    key: String,
    /// Two lines, either of which may be empty.
    words: [String; 2],
    /// What it did when the legend was marked final.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    did: Vec<String>,
}

/// What is written on a plate.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct PlateLegendV1 {
    /// Whether it may be engraved.
    is_final: bool,
    keys: Vec<KeyLegendV1>,
}

impl PlateLegendV1 {
    /// Left out where nothing is decided.
    fn of(legend: &PlateLegend) -> Option<Self> {
        (*legend != PlateLegend::default()).then(|| Self {
            is_final: legend.is_final,
            keys: legend
                .keys
                .iter()
                .map(|KeyLegend { key, words, did }| KeyLegendV1 {
                    key: key.clone(),
                    words: words.clone(),
                    did: did.clone(),
                })
                .collect(),
        })
    }

    fn legend(self) -> PlateLegend {
        let keys = self.keys.into_iter();
        PlateLegend {
            is_final: self.is_final,
            keys: keys.map(|KeyLegendV1 { key, words, did }| KeyLegend { key, words, did }).collect(),
        }
    }
}

/// A device placed.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct DeviceV1 {
    id: IdV1,
    tag: TagV1,
    kind: IdV1,
    level: IdV1,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    name: String,
    mount: MountV1,
    /// Its centre above the finished floor; left out where it is not decided.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    height_affl: Option<Millimetres>,
    /// From the wall's normal, the joinery's front or +x.
    turn: Degrees,
    /// Down from level.
    #[serde(default = "Degrees::none", skip_serializing_if = "Degrees::is_none")]
    tilt: Degrees,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
    /// What is written on its keys; left out where nobody has decided anything.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    legend: Option<PlateLegendV1>,
}

impl Filed<Device> for DeviceV1 {
    fn of(id: Id<Device>, thing: &Device) -> Self {
        let Device { kind, level, tag, name, mount, height_affl, turn, tilt, note, legend } = thing;
        Self {
            id: id.into(),
            tag: TagV1(tag.clone()),
            kind: (*kind).into(),
            level: (*level).into(),
            name: name.clone(),
            mount: (*mount).into(),
            height_affl: height_affl.map(Into::into),
            turn: (*turn).into(),
            tilt: (*tilt).into(),
            note: note.clone(),
            legend: PlateLegendV1::of(legend),
        }
    }

    fn thing(self) -> (Id<Device>, Device) {
        let device = Device {
            kind: self.kind.into(),
            level: self.level.into(),
            tag: self.tag.0,
            name: self.name,
            mount: self.mount.into(),
            height_affl: self.height_affl.map(Into::into),
            turn: self.turn.into(),
            tilt: self.tilt.into(),
            note: self.note,
            legend: self.legend.map(PlateLegendV1::legend).unwrap_or_default(),
        };
        (self.id.into(), device)
    }
}
