//! An acoustic glass-break detector that hears no pane, or none that breaks loudly enough.

use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::kit::Family;
use crate::plan::{OpeningForm, Sense};

pub(super) const CHECK: Check =
    Check { name: "glass-break", limits: &["glass_break_reach", "smallest_pane"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let (Some(reach), Some(pane)) = (house.limit("glass_break_reach"), house.limit("smallest_pane")) else {
        return;
    };
    for (id, device, kind) in house.devices() {
        let hears = kind.detection.as_ref().filter(|detection| detection.sense == Sense::Sound);
        let (Some(detection), Family::Intrusion) = (hears, kind.family) else { continue };
        let Some((room, of)) = house.room_of(device) else { continue };
        let (Some(at), Some(outline)) =
            (Whereabouts::stands_at(house.project, device), house.whereabouts.outline(house.project, room))
        else {
            continue;
        };
        let farthest = detection.pattern.range().as_mm().min(reach.value);
        // Only panes of its own room: walls, doors shut and curtains drawn keep it from hearing others.
        let panes: Vec<(f64, f64)> = house
            .project
            .openings_on(device.level)
            .filter_map(|(_, opening, wall)| {
                let OpeningForm::Window { sill } = opening.form else { return None };
                let side = wall.side_of(at);
                let glass = wall.on_face(opening.centre, side);
                let smaller = opening.width.as_mm().min((opening.head - sill).as_mm());
                outline.contains(glass + wall.normal(side)).then(|| (glass.distance(at), smaller))
            })
            .collect();
        let heard: Vec<_> = panes.iter().filter(|(distance, _)| *distance <= farthest).collect();
        let (said, source) = if heard.is_empty() {
            (
                format!("has no pane of “{}” within {farthest:.0} mm: move it nearer the glass", of.name),
                &reach.source,
            )
        } else if heard.iter().all(|(_, smaller)| *smaller < pane.value) {
            let least = pane.value;
            (
                format!(
                    "hears only panes smaller than {least:.0} mm, which may break unheard: put contacts on them"
                ),
                &pane.source,
            )
        } else {
            continue;
        };
        let sentence = format!("{} {said}.", house.called(device));
        found.push(house.of_device((id, device), Severity::Warning, CHECK.name, sentence, source));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Detection, MountKind, Pattern};
    use crate::plan::Opening;
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Length;

    /// At most 9 m from the pane (a maker's page); panes of 0.3 by 0.3 m at least (an application notebook).
    #[test]
    fn a_pane_large_enough_must_be_within_reach() {
        for (metres, width, expected) in
            [(6.0, Some(1200.0), 0), (6.0, Some(290.0), 1), (6.0, None, 1), (1.0, Some(1200.0), 1)]
        {
            let mut house = bare_house();
            if let Some(width) = width {
                let wall = house.walls[2];
                let form = OpeningForm::Window { sill: Length::mm(900.0) };
                let (centre, head) = (Length::mm(2000.0), Length::mm(2100.0));
                house.put(Opening { wall, centre, width: Length::mm(width), head, form });
            }
            let mut kind = plain_kind("Glass", Family::Intrusion, "GB", MountKind::Ceiling, &["alarm"]);
            let pattern = Pattern::Round { radius: Length::m(metres) };
            kind.detection = Some(Detection::plain(Sense::Sound, pattern));
            house.place_new(kind, ceiling(2000.0, 1000.0), None);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{metres} {width:?}");
        }
    }
}
