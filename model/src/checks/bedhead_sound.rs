//! A bedhead at which the fire alarms are not loud enough, all doors shut, or a bedroom in which none is marked.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;

pub(super) const CHECK: Check = Check {
    name: "bedhead-sound",
    limits: &["sound_at_bedhead", "sound_at_bedroom_door", "sound_loss_of_a_door"],
    run,
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let (Some(at_head), Some(at_door)) =
        (house.limit("sound_at_bedhead"), house.limit("sound_at_bedroom_door"))
    else {
        return;
    };
    let sounds = house.devices().any(|(_, _, kind)| {
        kind.loudness.is_some() && kind.fire.is_some_and(|alarm| alarm.notices.notices_fire())
    });
    if !sounds {
        return;
    }
    for head in &house.alarms().bedheads {
        let Some(spot) = house.project.spots.get(head.spot) else { continue };
        // BS 5839-6 asks for the level at the door, BS 5839-1 for that at the bedhead: either will do.
        let loud_enough = head.level_dba.is_some_and(|level| level >= at_head.value)
            || head.at_door_dba.is_some_and(|level| level >= at_door.value);
        if loud_enough {
            continue;
        }
        let heard = match (head.level_dba, head.from.and_then(|device| house.project.devices.get(device))) {
            (Some(level), Some(device)) => {
                let doors = match head.doors {
                    0 => "no shut door".to_owned(),
                    1 => "one shut door".to_owned(),
                    more => format!("{more} shut doors"),
                };
                format!("hears {level:.0} dB(A) from {} through {doors}", device.tag)
            }
            _ => "hears no alarm of its storey".to_owned(),
        };
        let what = format!(
            "“{}” ({}) {heard}, where {:.0} dB(A) at the bedhead or {:.0} dB(A) at the bedroom's door would do",
            spot.name,
            house.level_name(spot.level),
            at_head.value,
            at_door.value,
        );
        let (subject, sentence) = (Subject::Spot(head.spot), for_the_designer(&what));
        let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, &at_head.source);
        found.push(Finding { level: Some(spot.level), at: Some(spot.at), ..finding });
    }
    for id in &house.alarms().bedrooms_without_bedhead {
        let Some(room) = house.project.rooms.get(*id) else { continue };
        let what = format!(
            "“{}” ({}) has no bedhead marked, so that nobody can say how loud an alarm is there",
            room.name,
            house.level_name(room.level)
        );
        let sentence = for_the_designer(&what);
        found.push(house.of_room((*id, room), Severity::Note, CHECK.name, sentence, &at_head.source));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{FireSense, Loudness};
    use crate::plan::SpotUse;
    use crate::small_house::drawn_rooms::{ceiling, two_rooms};
    use crate::small_house::fire_alarm;
    use crate::units::Length;

    #[test]
    fn a_bedhead_behind_a_door_hears_too_little_unless_the_door_hears_enough() {
        // In the hall the alarm stands on a line with the door, whose hall face is at x 4050.
        for (at, loud, expected) in [
            (Some((2000.0, 1500.0)), 85.0, 0),
            (Some((6500.0, 1500.0)), 85.0, 0),
            (Some((6500.0, 1500.0)), 80.0, 1),
            (Some((6500.0, 1500.0)), 100.0, 0),
            (None, 85.0, 0),
        ] {
            let (mut house, _) = two_rooms();
            house.spot("Anna's bed", SpotUse::BedHead, (500.0, 1500.0));
            if let Some((x, y)) = at {
                let mut kind = fire_alarm(FireSense::Smoke);
                kind.loudness = Some(Loudness { level_dba: loud, at: Length::m(3.0) });
                house.place_new(kind, ceiling(x, y), None);
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{at:?} {loud}");
        }
    }
}
