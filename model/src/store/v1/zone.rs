//! Zones as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::IdV1;
use super::value::PointRefV1;
use super::{Filed, words};
use crate::id::Id;
use crate::systems::{Zone, ZonePurpose};

words! {
    /// What a zone is for.
    ZonePurposeV1 for ZonePurpose {
        Lighting, Heating, Blinds, FullSet, PartSet, EntryRoute, Indication, Sound,
    }
}

/// A named set of points that act as one.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct ZoneV1 {
    id: IdV1,
    name: String,
    purpose: ZonePurposeV1,
    points: Vec<PointRefV1>,
}

impl Filed<Zone> for ZoneV1 {
    fn of(id: Id<Zone>, thing: &Zone) -> Self {
        let Zone { name, purpose, points } = thing;
        Self {
            id: id.into(),
            name: name.clone(),
            purpose: (*purpose).into(),
            points: points.iter().map(Into::into).collect(),
        }
    }

    fn thing(self) -> (Id<Zone>, Zone) {
        let zone = Zone {
            name: self.name,
            purpose: self.purpose.into(),
            points: self.points.into_iter().map(Into::into).collect(),
        };
        (self.id.into(), zone)
    }
}
