//! Two devices in one place: one of them cannot be fitted.

use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::units::Length;

pub(super) const CHECK: Check = Check { name: "same-place", limits: &["same_place"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("same_place") else { return };
    let placed: Vec<_> = house
        .devices()
        .filter_map(|(id, device, _)| {
            let at = house.project.position_of(device)?;
            let height = Whereabouts::height_of(house.project, device).map(Length::as_mm)?;
            Some((id, device, at, height))
        })
        .collect();
    for (index, (id, device, at, height)) in placed.iter().enumerate() {
        for (_, other, other_at, other_height) in &placed[index + 1..] {
            let near = (*at - *other_at).hypot() < limit.value && (height - other_height).abs() < limit.value;
            if near && device.level == other.level {
                let sentence =
                    format!("{} and {} are in one place: move one of them.", house.called(device), other.tag);
                let source = limit.source.as_str();
                found.push(house.of_device((*id, device), Severity::Warning, CHECK.name, sentence, source));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, MountKind};
    use crate::small_house::{bare_house, plain_kind};

    #[test]
    fn near_in_plan_and_in_height_is_one_place() {
        for (along, height, expected) in
            [(1049.0, 1100.0, 1), (1051.0, 1100.0, 0), (1000.0, 1149.0, 1), (1000.0, 1200.0, 0)]
        {
            let mut house = bare_house();
            let kind = house.put(plain_kind("Plate", Family::Plates, "PL", MountKind::Wall, &[]));
            house.place(kind, house.on_wall(0, 1000.0), Some(1100.0));
            house.place(kind, house.on_wall(0, along), Some(height));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{along} {height}");
        }
    }
}
