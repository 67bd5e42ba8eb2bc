//! Change what a device's card shows: height, turn, name, note. Its tag never changes.

use super::draft::Draft;
use super::words::{gone, label, picked};
use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::kit::Device;
use crate::project::Project;
use crate::units::{Angle, Length};

/// Sets the height of devices above the finished floor; `None` leaves it open, which is a finding.
///
/// # Errors
/// A sentence, where no device is picked or the height is out of bounds.
pub fn set_height(project: &Project, subjects: &[Subject], height: Option<Length>) -> Result<Change, String> {
    each_device(project, subjects, "Set height of", |device| {
        device.height_affl = height.map(Length::rounded);
    })
}

/// Sets by how much devices are turned from their host's own direction.
///
/// # Errors
/// A sentence, where no device is picked or the angle is not a number.
pub fn set_turn(project: &Project, subjects: &[Subject], turn: Angle) -> Result<Change, String> {
    each_device(project, subjects, "Turn", |device| device.turn = turn.wrapped())
}

/// Sets by how much devices are tilted down from level.
///
/// # Errors
/// A sentence, where no device is picked or the angle is not within a quarter turn.
pub fn set_tilt(project: &Project, subjects: &[Subject], tilt: Angle) -> Result<Change, String> {
    let tilt = tilt.wrapped();
    if !(-90.0..=90.0).contains(&tilt.as_degrees()) {
        return Err("a device is tilted by 90° at most, down or up: type an angle from -90 to 90".to_owned());
    }
    each_device(project, subjects, "Tilt", |device| device.tilt = tilt)
}

/// Sets the remark for whoever fits the devices.
///
/// # Errors
/// A sentence, where no device is picked.
pub fn set_note(project: &Project, subjects: &[Subject], note: &str) -> Result<Change, String> {
    each_device(project, subjects, "Note on", |device| device.note = note.trim().to_owned())
}

/// Gives a device the name the family calls it by; an empty one leaves it to its tag.
///
/// # Errors
/// A sentence, where the device is gone.
pub fn rename_device(project: &Project, id: Id<Device>, name: &str) -> Result<Change, String> {
    if !project.devices.contains(id) {
        return Err(gone("device"));
    }
    each_device(project, &[Subject::Device(id)], "Rename", |device| device.name = name.trim().to_owned())
}

fn each_device(
    project: &Project,
    subjects: &[Subject],
    verb: &str,
    change: impl Fn(&mut Device),
) -> Result<Change, String> {
    let mut things = picked(project, subjects)?;
    things.retain(|thing| matches!(thing, Subject::Device(_)));
    if things.is_empty() {
        return Err("no device is picked: pick a device first".to_owned());
    }
    let mut draft = Draft::of(project);
    for thing in &things {
        if let Subject::Device(id) = *thing
            && let Some(mut device) = project.devices.get(id).cloned()
        {
            change(&mut device);
            draft.put(id, device);
        }
    }
    draft.finish(label(project, verb, &things))
}
