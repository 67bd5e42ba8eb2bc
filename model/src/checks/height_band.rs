//! What the checks of heights share: a device on a wall of a room, above or below a band.

use super::house::mm;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::edit::verbs::set_height;
use crate::kit::{Kind, Mount};
use crate::units::Length;

/// A band of heights for some kinds.
pub(super) struct HeightBand {
    /// Whom it is about.
    pub applies_to: fn(&Kind) -> bool,
    /// What the finding says between the height and the band (`in a new dwelling it belongs`).
    pub belongs: &'static str,
    /// What to do about it.
    pub way_out: &'static str,
}

impl HeightBand {
    /// Pushes a note for every device beyond the band, whose ends are the check's two limits.
    pub(super) fn run(&self, check: &Check, house: &House<'_>, found: &mut Vec<Finding>) {
        let &[lowest, highest] = check.limits else { return };
        let (Some(lowest), Some(highest)) = (house.limit(lowest), house.limit(highest)) else { return };
        for (id, device, kind) in house.devices() {
            let (Some(height), Mount::WallFace { .. }) = (device.height_affl, device.mount) else { continue };
            let limit = match height.as_mm() {
                below if below < lowest.value => lowest,
                above if above > highest.value => highest,
                _ => continue,
            };
            if (self.applies_to)(kind) && house.room_of(device).is_some() {
                let sentence = format!(
                    "{} is {} above the floor; {} between {:.0} and {:.0} mm: {}.",
                    house.called(device),
                    mm(height),
                    self.belongs,
                    lowest.value,
                    highest.value,
                    self.way_out
                );
                let beyond =
                    house.of_device((id, device), Severity::Note, check.name, sentence, &limit.source);
                let within = Some(Length::mm(limit.value));
                found.push(beyond.with_fix(set_height(house.project, &[Subject::Device(id)], within)));
            }
        }
    }
}
