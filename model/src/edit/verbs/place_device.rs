//! Place a device: one of a kind, on its host, with the next tag of its code.

use super::draft::Draft;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::kit::{Device, Kind, Mount, PlateLegend};
use crate::plan::Level;
use crate::project::Project;
use crate::units::{Angle, Length, round_point};

/// What is about to be placed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placing {
    /// Of this kind, which the project already holds.
    pub kind: Id<Kind>,
    /// On this storey.
    pub level: Id<Level>,
    /// Turned by this from its host's own direction.
    pub turn: Angle,
    /// At this height; `None` for the kind's usual one.
    pub height: Option<Length>,
}

/// Places one device.
///
/// # Errors
/// A sentence, where the kind, the level or the host is gone or the place is out of bounds.
pub fn place_device(project: &Project, placing: Placing, mount: Mount) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    let id = put_device(&mut draft, placing, mount, String::new())?;
    let tag = draft.now().devices.get(id).map(|device| device.tag.to_string()).unwrap_or_default();
    draft.finish(format!("Place {tag}"))
}

/// Places one device that is tilted down from level by so much.
///
/// # Errors
/// A sentence, as of [`place_device`].
pub fn place_aimed(project: &Project, placing: Placing, mount: Mount, tilt: Angle) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    let id = put_device(&mut draft, placing, mount, String::new())?;
    let placed = draft.now().devices.get(id).cloned().ok_or_else(|| gone("device"))?;
    let label = format!("Place {}", placed.tag);
    draft.put(id, Device { tilt: tilt.wrapped(), ..placed });
    draft.finish(label)
}

/// Puts a device with its next tag into a draft.
pub(super) fn put_device(
    draft: &mut Draft,
    placing: Placing,
    mount: Mount,
    name: String,
) -> Result<Id<Device>, String> {
    let kind = draft.now().kinds.get(placing.kind).ok_or_else(|| gone("kind"))?;
    let tag = draft.next_tag(&kind.code);
    let height = placing.height.or(kind.default_height);
    Ok(draft.add(Device {
        kind: placing.kind,
        level: placing.level,
        tag,
        name,
        mount: rounded(mount),
        height_affl: height.map(Length::rounded),
        turn: placing.turn.wrapped(),
        tilt: Angle::ZERO,
        note: String::new(),
        legend: PlateLegend::default(),
    }))
}

/// The mount with its figures kept to the tenth of a millimetre.
pub(super) fn rounded(mount: Mount) -> Mount {
    match mount {
        Mount::WallFace { wall, side, along } => Mount::WallFace { wall, side, along: along.rounded() },
        Mount::Joinery { joinery, offset } => Mount::Joinery { joinery, offset: round_point(offset) },
        Mount::Ceiling { at } => Mount::Ceiling { at: round_point(at) },
        Mount::Floor { at } => Mount::Floor { at: round_point(at) },
        Mount::Outdoors { at } => Mount::Outdoors { at: round_point(at) },
        Mount::Loose { at } => Mount::Loose { at: round_point(at) },
    }
}
