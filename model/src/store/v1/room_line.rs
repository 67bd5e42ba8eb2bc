//! Room lines as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Filed;
use super::figures::{IdV1, PointMm};
use crate::id::Id;
use crate::plan::RoomLine;

/// A line between rooms that no wall parts.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct RoomLineV1 {
    id: IdV1,
    level: IdV1,
    start: PointMm,
    end: PointMm,
}

impl Filed<RoomLine> for RoomLineV1 {
    fn of(id: Id<RoomLine>, thing: &RoomLine) -> Self {
        let RoomLine { level, start, end } = thing;
        Self { id: id.into(), level: (*level).into(), start: (*start).into(), end: (*end).into() }
    }

    fn thing(self) -> (Id<RoomLine>, RoomLine) {
        let line = RoomLine { level: self.level.into(), start: self.start.into(), end: self.end.into() };
        (self.id.into(), line)
    }
}
