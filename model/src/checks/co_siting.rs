//! Carbon monoxide alarms against what burns fuel: one in the same room, one to three metres from it, high on a wall or
//! clear of walls on the ceiling, and not where water or an extractor keeps the gas away.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, FireSense, Mount};
use crate::plan::{Room, RoomUse, Spot, SpotUse};

pub(super) const CHECK: Check = Check {
    name: "co-siting",
    limits: &[
        "co_nearest_appliance",
        "co_farthest_appliance",
        "co_below_ceiling",
        "co_from_walls",
        "co_from_sink_or_extractor",
        "co_from_breathing_height",
    ],
    run,
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for level in house.project.levels.ids() {
        for (id, spot) in house.project.spots_on(level) {
            if spot.spot_use == SpotUse::FuelAppliance {
                appliance(house, found, id, spot);
            }
        }
    }
    for (id, device) in co_alarms(house) {
        alarm(house, found, id, device);
    }
}

fn co_alarms<'a>(house: &House<'a>) -> Vec<(Id<Device>, &'a Device)> {
    let of_co = house
        .devices()
        .filter(|(_, _, kind)| kind.fire.is_some_and(|alarm| alarm.notices == FireSense::CarbonMonoxide));
    of_co.map(|(id, device, _)| (id, device)).collect()
}

/// The room in which a spot lies.
fn room_of_spot(house: &House<'_>, spot: &Spot) -> Option<Id<Room>> {
    house
        .project
        .rooms_on(spot.level)
        .find(|(id, _)| {
            house.whereabouts.outline(house.project, *id).is_some_and(|outline| outline.contains(spot.at))
        })
        .map(|(id, _)| id)
}

fn appliance(house: &House<'_>, found: &mut Vec<Finding>, id: Id<Spot>, spot: &Spot) {
    let (Some(nearest), Some(farthest)) =
        (house.limit("co_nearest_appliance"), house.limit("co_farthest_appliance"))
    else {
        return;
    };
    let room = room_of_spot(house, spot);
    let distances: Vec<f64> = co_alarms(house)
        .into_iter()
        .filter(|(_, device)| room.is_some() && house.room_of(device).map(|(room, _)| room) == room)
        .filter_map(|(_, device)| house.project.position_of(device).map(|at| at.distance(spot.at)))
        .collect();
    let well = |distance: &f64| (nearest.value..=farthest.value).contains(distance);
    if distances.iter().any(well) {
        return;
    }
    let said = match distances.iter().copied().reduce(f64::min) {
        None => "has no carbon monoxide alarm in its room".to_owned(),
        Some(distance) => format!(
            "has its carbon monoxide alarm {distance:.0} mm away, where {:.0} to {:.0} mm are wanted",
            nearest.value, farthest.value
        ),
    };
    let what = format!("“{}” ({}) {said}", spot.name, house.level_name(spot.level));
    let (subject, sentence) = (Subject::Spot(id), for_the_designer(&what));
    let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, &nearest.source);
    found.push(Finding { level: Some(spot.level), at: Some(spot.at), ..finding });
}

fn alarm(house: &House<'_>, found: &mut Vec<Finding>, id: Id<Device>, device: &Device) {
    let Some((room_id, room)) = house.room_of(device) else { return };
    let mut tell = |limit: &str, said: &dyn Fn(f64) -> Option<String>| {
        if let Some(limit) = house.limit(limit)
            && let Some(said) = said(limit.value)
        {
            let sentence = for_the_designer(&format!("{} {said}", house.called(device)));
            let about = (id, device);
            found.push(house.of_device(about, Severity::Warning, CHECK.name, sentence, &limit.source));
        }
    };
    let (Some(at), Some(height)) =
        (house.project.position_of(device), Whereabouts::height_of(house.project, device))
    else {
        return;
    };
    let near_appliance = house.project.spots_on(device.level).any(|(_, spot)| {
        spot.spot_use == SpotUse::FuelAppliance && room_of_spot(house, spot) == Some(room_id)
    });
    match device.mount {
        Mount::WallFace { .. } if near_appliance => {
            let ceiling = house.project.levels.get(device.level).map(|level| level.ceiling_affl);
            let below = ceiling.map(|ceiling| (ceiling - height).as_mm());
            tell("co_below_ceiling", &|least| {
                below
                    .filter(|below| *below < least)
                    .map(|below| format!("is {below:.0} mm below the ceiling, of at least {least:.0} mm"))
            });
            let head = highest_head(house, room_id);
            tell("co_below_ceiling", &|_| {
                head.filter(|head| height.as_mm() <= *head).map(|head| {
                    format!("is no higher than the head of a door or window of its room ({head:.0} mm)")
                })
            });
        }
        Mount::WallFace { .. } if room.room_use == RoomUse::Bedroom => {
            let heads = house.project.spots_on(device.level).filter(|(_, spot)| {
                spot.spot_use == SpotUse::BedHead && room_of_spot(house, spot) == Some(room_id)
            });
            let off = heads.map(|(_, spot)| (spot.height_affl - height).as_mm().abs()).reduce(f64::min);
            tell("co_from_breathing_height", &|most| {
                off.filter(|off| *off > most).map(|off| {
                    format!("is {off:.0} mm off the height at which people breathe in bed, of at most {most:.0} mm")
                })
            });
        }
        Mount::Ceiling { .. } => {
            let outline = house.whereabouts.outline(house.project, room_id);
            let wall = outline
                .and_then(|of| of.shape.rings().map(|ring| ring.distance_to_outline(at)).reduce(f64::min));
            tell("co_from_walls", &|least| {
                wall.filter(|wall| *wall < least)
                    .map(|wall| format!("is {wall:.0} mm from a wall, of at least {least:.0} mm"))
            });
        }
        _ => {}
    }
    for (_, spot) in house.project.spots_on(device.level) {
        if matches!(spot.spot_use, SpotUse::Sink | SpotUse::Extractor)
            && room_of_spot(house, spot) == Some(room_id)
        {
            let distance = at.distance(spot.at);
            tell("co_from_sink_or_extractor", &|least| {
                (distance < least)
                    .then(|| format!("is {distance:.0} mm from “{}”, of at least {least:.0} mm", spot.name))
            });
        }
    }
}

/// The highest head among the doors and windows of a room, mm.
fn highest_head(house: &House<'_>, room: Id<Room>) -> Option<f64> {
    let outline = house.whereabouts.outline(house.project, room)?;
    let level = house.project.rooms.get(room)?.level;
    house
        .project
        .openings_on(level)
        .filter(|(_, opening, wall)| {
            [crate::plan::Side::Left, crate::plan::Side::Right]
                .into_iter()
                .any(|side| outline.contains(wall.on_face(opening.centre, side) + wall.normal(side)))
        })
        .map(|(_, opening, _)| opening.head.as_mm())
        .reduce(f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::Family;
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, fire_alarm, plain_kind};

    /// Guidance after BS EN 50292 (a council's page and two guides): same room, 1 to 3 m, 150 mm below the ceiling and
    /// above doors and windows, 300 mm from walls on a ceiling, not above a sink. The boiler stands at (500, 1500).
    #[test]
    fn siting_follows_the_guidance() {
        for (mount, height, sink, expected) in [
            (None, None, None, 1),
            (Some((1, 1500.0)), Some(2200.0), None, 1), // on the east wall, 3450 mm away
            (Some((0, 2500.0)), Some(2200.0), None, 0),
            (Some((0, 2500.0)), Some(2251.0), None, 1),
            (Some((0, 2500.0)), Some(2100.0), None, 1),
            (Some((0, 2500.0)), Some(2200.0), Some((2600.0, 300.0)), 1),
            (Some((9, 2000.0)), None, None, 0),
            (Some((9, 340.0)), None, None, 1), // on the ceiling, 290 mm from the south face
        ] {
            let mut house = bare_house();
            let window = house.walls[2];
            house.window(window, 2000.0);
            house.spot("Boiler", SpotUse::FuelAppliance, (500.0, 1500.0));
            if let Some(at) = sink {
                house.spot("Sink", SpotUse::Sink, at);
            }
            if let Some((wall, along)) = mount {
                let mount = if wall == 9 { ceiling(1800.0, along) } else { house.on_wall(wall, along) };
                house.place_new(fire_alarm(FireSense::CarbonMonoxide), mount, height);
            }
            // A smoke alarm is none.
            house.place_new(fire_alarm(FireSense::Smoke), ceiling(2000.0, 1500.0), None);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{mount:?} {height:?} {sink:?}");
        }
        let mut house = bare_house();
        house.place_new(
            plain_kind("Other", Family::FireAndCo, "X", crate::kit::MountKind::Ceiling, &[]),
            ceiling(100.0, 100.0),
            None,
        );
        assert!(found(CHECK, &house.project).is_empty());
    }
}
