//! A smoke alarm too near a wall or a light fitting: smoke reaches the dead corner late, and a lamp's warmth
//! drives it off.

use super::fire_words::for_the_designer;
use super::house::is_smoke_alarm;
use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::kit::{Device, Family, Mount};
use crate::limits::Limit;
use crate::units::Length;

pub(super) const CHECK: Check =
    Check { name: "alarm-clearance", limits: &["smoke_alarm_to_wall", "smoke_alarm_to_luminaire"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        if !is_smoke_alarm(kind) || !matches!(device.mount, Mount::Ceiling { .. }) {
            continue;
        }
        let mut report = |distance: f64, from: String, limit: &'static Limit| {
            let what = format!(
                "{} is {distance:.0} mm from {from}: keep {:.0} mm, and look into the current edition",
                house.called(device),
                limit.value
            );
            let sentence = for_the_designer(&what);
            let source = limit.source.as_str();
            found.push(house.of_device((id, device), Severity::Warning, CHECK.name, sentence, source));
        };
        if let (Some(limit), Some(distance)) = (house.limit("smoke_alarm_to_wall"), to_wall(house, device))
            && distance < limit.value
        {
            report(distance, "a wall".to_owned(), limit);
        }
        if let (Some(limit), Some((distance, luminaire))) =
            (house.limit("smoke_alarm_to_luminaire"), to_luminaire(house, device))
            && distance < limit.value
        {
            report(distance, luminaire.tag.to_string(), limit);
        }
    }
}

/// Distance to the nearest wall of its room, mm.
fn to_wall(house: &House<'_>, device: &Device) -> Option<f64> {
    let (room, _) = house.room_of(device)?;
    let at = house.project.position_of(device)?;
    let outline = house.whereabouts.outline(house.project, room)?;
    outline.shape.rings().map(|ring| ring.distance_to_outline(at)).reduce(f64::min)
}

/// The nearest luminaire of its level and the distance to it through the air, mm. One without a height is
/// taken to be as high as the alarm.
fn to_luminaire<'a>(house: &House<'a>, device: &Device) -> Option<(f64, &'a Device)> {
    let at = house.project.position_of(device)?;
    let height = Whereabouts::height_of(house.project, device)?;
    house
        .devices()
        .filter(|(_, other, kind)| kind.family == Family::Luminaires && other.level == device.level)
        .filter_map(|(_, other, _)| {
            let across = (house.project.position_of(other)? - at).hypot();
            let up =
                Whereabouts::height_of(house.project, other).map_or(Length::ZERO, |other| other - height);
            Some((across.hypot(up.as_mm()), other))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{FireSense, MountKind};
    use crate::small_house::{bare_house, fire_alarm, plain_kind};

    #[test]
    fn walls_are_measured_to_their_faces() {
        // The south wall's inner face is at y = 50.
        for (notices, y, expected) in
            [(FireSense::Smoke, 349.0, 1), (FireSense::Smoke, 350.0, 0), (FireSense::Heat, 349.0, 0)]
        {
            let mut house = bare_house();
            let kind = house.put(fire_alarm(notices));
            house.place(kind, Mount::Ceiling { at: Point::new(2000.0, y) }, None);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{notices:?} {y}");
        }
    }

    #[test]
    fn luminaires_are_measured_through_the_air() {
        for (x, height, expected) in
            [(2299.0, None, 1), (2300.0, None, 0), (2100.0, Some(2300.0), 1), (2100.0, Some(1000.0), 0)]
        {
            let mut house = bare_house();
            let alarm = house.put(fire_alarm(FireSense::Smoke));
            let lamp =
                house.put(plain_kind("Lamp", Family::Luminaires, "DL", MountKind::Ceiling, &["level"]));
            house.place(alarm, Mount::Ceiling { at: Point::new(2000.0, 1500.0) }, None);
            house.place(lamp, Mount::Ceiling { at: Point::new(x, 1500.0) }, height);
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{x} {height:?}");
            assert!(found_there.iter().all(|finding| finding.sentence.contains("from DL-01")));
        }
    }
}
