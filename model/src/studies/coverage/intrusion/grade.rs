//! The grade of the system: that of its lowest part.
//!
//! Parts are the devices of the full and the part set, what sets and unsets, the panel, and the sirens (PD 6662: a part
//! of a lower grade lowers the system).

use super::sets::Sets;
use crate::id::Id;
use crate::kit::{Device, Family, Kind};
use crate::project::Project;

/// The grade of the whole.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SystemGrade {
    /// The lowest grade named by any part; `None` where none names one.
    pub lowest: Option<u8>,
    /// The parts of that grade.
    pub lowest_parts: Vec<Id<Device>>,
    /// Parts for which no grade is named.
    pub without: Vec<Id<Device>>,
}

/// Whether a device of this kind is part of an intruder alarm whatever set it is in.
fn is_plant_of_alarm(kind: &Kind) -> bool {
    match kind.family {
        Family::Keypads => kind.point("armed").is_some() || kind.security_grade.is_some(),
        Family::Sounders => kind.point("siren").is_some(),
        _ => false,
    }
}

pub(super) fn grade(project: &Project, sets: &Sets) -> SystemGrade {
    let mut found = SystemGrade::default();
    for (id, device) in project.devices.iter() {
        let Some(kind) = project.kinds.get(device.kind) else { continue };
        if !(sets.full.contains(&id) || sets.part.contains(&id) || is_plant_of_alarm(kind)) {
            continue;
        }
        match kind.security_grade {
            None => found.without.push(id),
            Some(grade) if found.lowest.is_none_or(|lowest| grade < lowest) => {
                found.lowest = Some(grade);
                found.lowest_parts = vec![id];
            }
            Some(grade) if found.lowest == Some(grade) => found.lowest_parts.push(id),
            Some(_) => {}
        }
    }
    found
}
