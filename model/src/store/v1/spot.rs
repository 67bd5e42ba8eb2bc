//! Spots and walks as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{IdV1, Millimetres, PointMm};
use super::{Filed, words};
use crate::id::Id;
use crate::plan::{Spot, SpotUse, Walk, WalkPoint, WalkPurpose};

words! {
    /// What a spot is.
    SpotUseV1 for SpotUse {
        Desk, Seat, Basin, BedHead, ToBeSeen, Radiator, WarmAir, Cooker, FuelAppliance, Sink, Extractor,
        ReachableRoofLight, WaterRisk,
    }
}

/// A place that matters to what the house senses.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct SpotV1 {
    id: IdV1,
    level: IdV1,
    name: String,
    #[serde(rename = "use")]
    spot_use: SpotUseV1,
    at: PointMm,
    /// Above the finished floor.
    height_affl: Millimetres,
}

impl Filed<Spot> for SpotV1 {
    fn of(id: Id<Spot>, thing: &Spot) -> Self {
        let Spot { level, name, spot_use, at, height_affl } = thing;
        Self {
            id: id.into(),
            level: (*level).into(),
            name: name.clone(),
            spot_use: (*spot_use).into(),
            at: (*at).into(),
            height_affl: (*height_affl).into(),
        }
    }

    fn thing(self) -> (Id<Spot>, Spot) {
        let spot = Spot {
            level: self.level.into(),
            name: self.name,
            spot_use: self.spot_use.into(),
            at: self.at.into(),
            height_affl: self.height_affl.into(),
        };
        (self.id.into(), spot)
    }
}

words! {
    /// What a walk is for.
    WalkPurposeV1 for WalkPurpose { Daily, EntryRoute, ExitRoute, Night }
}

/// A point of a walk.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WalkPointV1 {
    level: IdV1,
    at: PointMm,
}

/// A way that people take; it climbs a stair where the level changes.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct WalkV1 {
    id: IdV1,
    name: String,
    purpose: WalkPurposeV1,
    points: Vec<WalkPointV1>,
}

impl Filed<Walk> for WalkV1 {
    fn of(id: Id<Walk>, thing: &Walk) -> Self {
        let Walk { name, purpose, points } = thing;
        Self {
            id: id.into(),
            name: name.clone(),
            purpose: (*purpose).into(),
            points: points
                .iter()
                .map(|point| WalkPointV1 { level: point.level.into(), at: point.at.into() })
                .collect(),
        }
    }

    fn thing(self) -> (Id<Walk>, Walk) {
        let points = self.points.into_iter();
        let walk = Walk {
            name: self.name,
            purpose: self.purpose.into(),
            points: points
                .map(|point| WalkPoint { level: point.level.into(), at: point.at.into() })
                .collect(),
        };
        (self.id.into(), walk)
    }
}
