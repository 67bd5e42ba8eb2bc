//! How loud the alarms are where people sleep.
//!
//! Sound falls by 6 dB for each doubling of the way and by the loss of each door it passes, all doors shut, along the
//! shortest way through the doors of the storey. Where alarms are interlinked the loudest of them counts, for all sound
//! together; else it is the loudest alone, whichever fire it is for. Storeys above and below are left out, which errs on
//! the side of too quiet.

use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::{Device, Loudness};
use crate::limits::limits;
use crate::plan::{Room, RoomUse, Spot, SpotUse};
use crate::project::Project;
use crate::studies::coverage::ways::StoreyWays;
use crate::units::Length;

/// How loud it is at a bedhead.
#[derive(Clone, Debug, PartialEq)]
pub struct BedHeadSound {
    /// The bedhead.
    pub spot: Id<Spot>,
    /// The bedroom it is in, if any.
    pub room: Option<Id<Room>>,
    /// dB(A) from the loudest alarm; `None` where no alarm of the storey can be heard through doors.
    pub level_dba: Option<f64>,
    /// That alarm.
    pub from: Option<Id<Device>>,
    /// How far its sound goes.
    pub way: Option<Length>,
    /// Shut doors on the way.
    pub doors: usize,
    /// dB(A) at the last door before the bedhead, on its outer side; `None` where there is none on the way.
    pub at_door_dba: Option<f64>,
}

/// Level after so long a way through so many shut doors, dB(A): L − 20·log₁₀(d / d₀) − doors · loss. Nearer than the
/// distance at which it was measured it is taken to be as loud as there.
pub fn level_at(loudness: Loudness, way: Length, doors: usize, door_loss_db: f64) -> f64 {
    let ratio = (way.as_mm() / loudness.at.as_mm()).max(1.0);
    loudness.level_dba - 20.0 * ratio.log10() - doors as f64 * door_loss_db
}

pub(super) fn bedheads(project: &Project) -> Vec<BedHeadSound> {
    let mut found = Vec::new();
    for level in project.levels.ids() {
        let heads: Vec<_> =
            project.spots_on(level).filter(|(_, spot)| spot.spot_use == SpotUse::BedHead).collect();
        if heads.is_empty() {
            continue;
        }
        let ways = StoreyWays::of_level(project, level);
        let sounding = sounding(project, level);
        found.extend(heads.into_iter().map(|(id, spot)| at_bedhead(&ways, &sounding, id, spot)));
    }
    found
}

/// The alarms of a storey that sound for fire: those that are interlinked, or all where none is.
fn sounding(project: &Project, level: Id<crate::plan::Level>) -> Vec<(Id<Device>, Loudness, kurbo::Point)> {
    let of_fire = || {
        project.devices_on(level).filter_map(|(id, device, kind)| {
            let alarm =
                kind.fire.filter(|alarm| alarm.notices.notices_smoke() || alarm.notices.notices_heat())?;
            Some((alarm.interlinked, (id, kind.loudness?, Whereabouts::stands_at(project, device)?)))
        })
    };
    let any_linked = of_fire().any(|(linked, _)| linked);
    of_fire().filter(|(linked, _)| *linked || !any_linked).map(|(_, alarm)| alarm).collect()
}

fn at_bedhead(
    ways: &StoreyWays,
    sounding: &[(Id<Device>, Loudness, kurbo::Point)],
    id: Id<Spot>,
    spot: &Spot,
) -> BedHeadSound {
    let loss = limits().get("sound_loss_of_a_door").map_or(0.0, |limit| limit.value);
    let mut best = BedHeadSound {
        spot: id,
        room: ways.room_at(spot.at),
        level_dba: None,
        from: None,
        way: None,
        doors: 0,
        at_door_dba: None,
    };
    for (device, loudness, at) in sounding {
        let Some(way) = ways.shortest(*at, spot.at) else { continue };
        let leaves: Vec<usize> =
            way.through.iter().copied().filter(|index| ways.doorways[*index].has_leaf).collect();
        let level = level_at(*loudness, Length::mm(way.length), leaves.len(), loss);
        if best.level_dba.is_some_and(|loudest| loudest >= level) {
            continue;
        }
        let to_last_door = leaves.last().and_then(|last| {
            // The way to the nearer side of the last door with a leaf.
            let sides = ways.doorways[*last].sides;
            let lengths = sides.iter().filter_map(|side| ways.shortest(*at, *side)).map(|way| way.length);
            lengths.reduce(f64::min)
        });
        best = BedHeadSound {
            level_dba: Some(level),
            from: Some(*device),
            way: Some(Length::mm(way.length)),
            doors: leaves.len(),
            at_door_dba: to_last_door
                .map(|length| level_at(*loudness, Length::mm(length), leaves.len() - 1, loss)),
            ..best
        };
    }
    best
}

/// Bedrooms in which no bedhead is marked, so that nobody can say how loud it is there.
pub(super) fn bedrooms_without_bedhead(project: &Project, heads: &[BedHeadSound]) -> Vec<Id<Room>> {
    project
        .rooms
        .iter()
        .filter(|(id, room)| {
            room.room_use == RoomUse::Bedroom && !heads.iter().any(|head| head.room == Some(*id))
        })
        .map(|(id, _)| id)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::{FireSense, Kind};
    use crate::small_house::drawn_rooms::{ceiling, two_rooms};
    use crate::small_house::{SmallHouse, fire_alarm};
    use crate::studies::coverage::alarms::alarms;

    const ALARM: Loudness = Loudness { level_dba: 85.0, at: Length::mm(3000.0) };

    /// 85 dB(A) at 3 m and about 20 dB for a door (FireNet, quoting BS 5839-6:2004): 55 to 65 dB(A) is typical at a
    /// bedhead behind one door.
    #[test]
    fn sound_falls_with_the_way_and_at_each_door() {
        for (metres, doors, expected) in [
            (3.0, 0, 85.0),
            (6.0, 0, 78.98),
            (30.0, 0, 65.0),
            (3.0, 1, 65.0),
            (9.49, 1, 55.0),
            (1.0, 0, 85.0),
        ] {
            let found = level_at(ALARM, Length::m(metres), doors, 20.0);
            assert!((found - expected).abs() < 0.01, "{metres} {doors}: {found}");
        }
    }

    fn loud(notices: FireSense, linked: bool) -> Kind {
        let mut kind = fire_alarm(notices);
        kind.loudness = Some(ALARM);
        kind.fire = kind.fire.map(|alarm| crate::kit::FireAlarm { interlinked: linked, ..alarm });
        kind
    }

    fn at_bed(house: &SmallHouse) -> BedHeadSound {
        alarms(&house.project, &Whereabouts::of(&house.project)).bedheads.remove(0)
    }

    #[test]
    fn a_bedhead_hears_the_loudest_of_the_interlinked_alarms_through_the_shut_door() {
        let (mut house, _) = two_rooms();
        house.spot("Bed", SpotUse::BedHead, (500.0, 1500.0));
        assert_eq!(at_bed(&house).level_dba, None);
        house.place_new(loud(FireSense::CarbonMonoxide, true), ceiling(600.0, 1500.0), None);
        assert_eq!(at_bed(&house).level_dba, None);
        let in_hall = house.place_new(loud(FireSense::Smoke, true), ceiling(6500.0, 1500.0), None);
        let found = at_bed(&house);
        // 6 m and one door: 85 − 6.02 − 20; at the door, 2.449 m away, the full 85.
        assert_eq!((found.from, found.doors), (Some(in_hall), 1));
        assert!((found.level_dba.unwrap() - 58.98).abs() < 0.01, "{found:?}");
        assert_eq!(found.at_door_dba, Some(85.0));
        // One nearer that does not sound with the others does not count; one that does, does.
        house.place_new(loud(FireSense::Heat, false), ceiling(1000.0, 1500.0), None);
        assert_eq!(at_bed(&house).from, Some(in_hall));
        let near = house.place_new(loud(FireSense::Heat, true), ceiling(1500.0, 1500.0), None);
        let found = at_bed(&house);
        assert_eq!((found.from, found.level_dba, found.at_door_dba), (Some(near), Some(85.0), None));
    }
}
