//! A device made for indoors that stands in no named room: it is missing from every list by room.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::kit::{Device, Family, Kind, Mount, MountKind};

pub(super) const CHECK: Check = Check { name: "outside-rooms", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        if is_for_indoors(device, kind) && house.room_of(device).is_none() {
            let sentence = format!(
                "{} is in no room: move it into one, or name the room it is in.",
                house.called(device)
            );
            found.push(house.of_device(
                (id, device),
                Severity::Warning,
                CHECK.name,
                sentence,
                COMMON_PRACTICE,
            ));
        }
    }
}

/// Loose devices have a finding of their own. Cameras, bells, readers, luminaires, and whatever says so in its
/// name, do hang on the outer face of a wall.
fn is_for_indoors(device: &Device, kind: &Kind) -> bool {
    let may_hang_outside = matches!(
        kind.family,
        Family::CamerasAndEntry
            | Family::Sounders
            | Family::Keypads
            | Family::Luminaires
            | Family::Environment
    ) || kind.name.to_lowercase().contains("outdoor");
    match device.mount {
        Mount::Outdoors { .. } | Mount::Loose { .. } => false,
        Mount::WallFace { .. } => !may_hang_outside && kind.mount != MountKind::Outdoors,
        Mount::Ceiling { .. } | Mount::Floor { .. } | Mount::Joinery { .. } => {
            kind.mount != MountKind::Outdoors && !kind.name.to_lowercase().contains("garden")
        }
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::plan::Side;
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Length;

    #[test]
    fn a_device_must_stand_in_a_room_unless_made_for_outside() {
        let mut house = bare_house();
        let wall = house.walls[0];
        let outer = Mount::WallFace { wall, side: Side::Right, along: Length::mm(1000.0) };
        let inner = house.on_wall(0, 1000.0);
        let away = Mount::Ceiling { at: Point::new(9000.0, 9000.0) };
        for (family, mount, expected) in [
            (Family::Plates, inner, 0),
            (Family::Plates, outer, 1),
            (Family::CamerasAndEntry, outer, 0),
            (Family::Plates, away, 1),
            (Family::Luminaires, away, 1),
            (Family::Plates, Mount::Outdoors { at: Point::ZERO }, 0),
        ] {
            let kind = house.put(plain_kind("Thing", family, "T", MountKind::Wall, &[]));
            let before = found(CHECK, &house.project).len();
            house.place(kind, mount, Some(1000.0));
            let after = found(CHECK, &house.project).len();
            assert_eq!(after - before, expected, "{family:?} {mount:?}");
        }
    }
}
