//! A room's guest sheet: only what a guest needs, in large letters, and nothing of how the house is watched.
//!
//! A key or a rule is the household's own where it works on, or tells of, anything of the alarm, of cameras, door
//! stations, locks, gates or sirens, sends a message, or sets a mode on which any such rule depends. Such keys are shown,
//! for the guest sees them, and left without a word of what they do.

use std::collections::BTreeSet;

use super::Page;
use super::client::{deed_words, picture};
use super::handout::{head, lines, pair, set, subhead, width};
use super::told::{Told, ToldRoom};
use crate::drawing::Role;
use crate::drawing::sheets::pen::Hand;
use crate::id::Id;
use crate::kit::{Device, Family};
use crate::plan::RoomUse;
use crate::project::Project;
use crate::sentence::keys::{KeyUse, PlateKey};
use crate::systems::{
    Condition, Deed, Gesture, HouseMode, PointRef, Rule, RuleBody, Setting, Target, Trigger, ZonePurpose,
};

/// Width of the column in which the words on a key stand, mm.
const KEY_MM: f64 = 52.0;

/// Height of the letters, mm.
const TEXT_MM: f64 = 3.5;

/// Whether a room has a guest sheet: guests stay in rooms, and there is something to tell them.
pub(super) fn has_some(told: &Told<'_>, room: &ToldRoom) -> bool {
    let room_use = told.project.rooms.get(room.id).map(|room| room.room_use);
    let is_for_guests = !matches!(
        room_use,
        None | Some(RoomUse::Store | RoomUse::Plant | RoomUse::Garage | RoomUse::Outside | RoomUse::Utility)
    );
    is_for_guests && (!room.plates.is_empty() || !by_itself(told, room).is_empty())
}

/// The sheets of a room.
pub(super) fn pages(told: &Told<'_>, room: &ToldRoom) -> Vec<Page> {
    let large = Hand::regular(Role::Body, TEXT_MM);
    let mut blocks = head(&room.name, 10.0);
    for plate in room.plates.iter().filter_map(|at| told.plates.get(*at)) {
        let name = told.project.devices.get(plate.plate.device).map_or("", |device| device.name.as_str());
        blocks.push(subhead(if name.is_empty() { "The plate on the wall" } else { name }, TEXT_MM));
        let words: Vec<[String; 2]> = plate
            .plate
            .keys
            .iter()
            .zip(&plate.legends)
            .map(|(key, legend)| {
                let says_enough = !legend.words[0].is_empty() && !is_the_hosts(told, key);
                if says_enough { legend.words.clone() } else { [with_capital(&key.key), String::new()] }
            })
            .collect();
        blocks.extend(picture(told, plate, &words, 0.6, false));
        for (key, words) in plate.plate.keys.iter().zip(&words) {
            blocks.extend(pair(words.join(" ").trim(), &key_words(told, key), KEY_MM, large));
        }
    }
    let rules = by_itself(told, room);
    if !rules.is_empty() {
        blocks.push(subhead("What happens by itself", TEXT_MM));
        for rule in rules {
            blocks.extend(lines(&told.sentence(rule), large, width(), "–", 2.5));
        }
    }
    blocks.push(subhead("If something is wrong", TEXT_MM));
    for words in [
        "Fire or alarm: leave the house, then call the emergency number (999 or 112 in the UK).",
        "Anything else: tell your host.",
    ] {
        blocks.extend(lines(words, large, width(), "–", 2.5));
    }
    set(&format!("{}: guest sheet", room.name), &blocks, &[])
}

fn with_capital(key: &str) -> String {
    let mut letters = key.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What a key does, for a guest.
fn key_words(told: &Told<'_>, key: &PlateKey) -> Vec<String> {
    if key.deeds.is_empty() {
        return vec!["Does nothing yet.".to_owned()];
    }
    if is_the_hosts(told, key) {
        return vec!["Please leave this key to your host.".to_owned()];
    }
    match key.deeds.as_slice() {
        // What is pressed once goes without saying.
        [only] if only.used == KeyUse::Gesture(Gesture::Press) && only.only_if.is_empty() => {
            vec![format!("{}.", with_capital(&only.does))]
        }
        deeds => deeds.iter().map(deed_words).collect(),
    }
}

/// Whether a key does anything that is no business of a guest.
fn is_the_hosts(told: &Told<'_>, key: &PlateKey) -> bool {
    let rules = &told.named.rules;
    key.deeds.iter().any(|deed| rules.get(deed.rule).is_none_or(|rule| is_the_households(&told.named, rule)))
}

/// What a guest may be told of what happens by itself: light, warmth, blinds and sound of the room.
fn by_itself(told: &Told<'_>, room: &ToldRoom) -> Vec<Id<Rule>> {
    let tells = |id: &Id<Rule>| {
        told.named.rules.get(*id).is_some_and(|rule| {
            let works = !rule.targets().is_empty() || !rule.scenes().is_empty();
            works && !is_the_households(&told.named, rule)
        })
    };
    room.rules.iter().copied().filter(tells).collect()
}

/// Whether a rule is no business of a guest.
pub(super) fn is_the_households(project: &Project, rule: &Rule) -> bool {
    is_watchful(project, rule) || entered(rule).iter().any(|mode| mode_is_watchful(project, *mode))
}

/// Whether a rule speaks of anything by which the house is watched or shut, or tells the household something.
fn is_watchful(project: &Project, rule: &Rule) -> bool {
    let in_rule = rule.points().into_iter().any(|point| point_is_watchful(project, point))
        || rule.zones().into_iter().any(|zone| zone_is_watchful(project, zone))
        || !rule.cameras().is_empty();
    let in_scene = rule.scenes().into_iter().filter_map(|scene| project.scenes.get(scene)).any(|scene| {
        scene.settings.iter().any(|Setting { target, .. }| match target {
            Target::Point(point) => point_is_watchful(project, point),
            Target::Zone(zone) => zone_is_watchful(project, *zone),
        })
    });
    in_rule || in_scene || tells_the_household(rule)
}

fn tells_the_household(rule: &Rule) -> bool {
    match &rule.body {
        RuleBody::When { actions, .. } => {
            actions.iter().any(|action| matches!(action.deed, Deed::Notify { .. }))
        }
        RuleBody::While { .. } | RuleBody::Wired { .. } => false,
    }
}

fn point_is_watchful(project: &Project, point: &PointRef) -> bool {
    let name = point.point.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    matches!(name, "locked" | "armed" | "alarm" | "release" | "tamper" | "set" | "unset")
        || device_is_watchful(project, point.device)
}

fn device_is_watchful(project: &Project, device: Id<Device>) -> bool {
    let kind = project.devices.get(device).and_then(|device| project.kinds.get(device.kind));
    kind.is_some_and(|kind| {
        let watches = matches!(
            kind.family,
            Family::Intrusion
                | Family::Contacts
                | Family::CamerasAndEntry
                | Family::Sounders
                | Family::Keypads
                | Family::FireAndCo
        );
        // Gates, garage doors and locks let people in; blinds and valves do not.
        let opens = kind.drives.is_some_and(crate::kit::Drives::is_powered_way);
        watches || opens
    })
}

fn zone_is_watchful(project: &Project, zone: Id<crate::systems::Zone>) -> bool {
    project.zones.get(zone).is_some_and(|zone| {
        let of_alarm = matches!(
            zone.purpose,
            ZonePurpose::FullSet | ZonePurpose::PartSet | ZonePurpose::EntryRoute | ZonePurpose::Indication
        );
        of_alarm || zone.points.iter().any(|point| point_is_watchful(project, point))
    })
}

/// The modes that a rule puts the house into.
fn entered(rule: &Rule) -> BTreeSet<HouseMode> {
    match &rule.body {
        RuleBody::When { actions, .. } => actions
            .iter()
            .filter_map(|action| match action.deed {
                Deed::EnterMode(mode) => Some(mode),
                _ => None,
            })
            .collect(),
        RuleBody::While { .. } | RuleBody::Wired { .. } => BTreeSet::new(),
    }
}

/// Whether any watchful rule depends on a mode.
fn mode_is_watchful(project: &Project, mode: HouseMode) -> bool {
    project.rules.iter().filter(|(_, rule)| rule.enabled).any(|(_, rule)| {
        let by_trigger = matches!(
            &rule.body,
            RuleBody::When { trigger: Trigger::ModeEntered(entered), .. } if *entered == mode
        );
        let by_condition = rule
            .conditions()
            .into_iter()
            .any(|condition| matches!(condition, Condition::Mode(asked) if *asked == mode));
        (by_trigger || by_condition) && is_watchful(project, rule)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::MountKind;
    use crate::small_house::{SmallHouse, key_rule, plain_kind, small_house};
    use crate::systems::{Action, Mode};

    fn words(house: &SmallHouse) -> String {
        let told = Told::of(&house.project).unwrap();
        let room = told.rooms.iter().find(|room| room.name == "Kitchen").unwrap();
        let mut words = String::new();
        for item in pages(&told, room).into_iter().flat_map(|page| page.items) {
            if let crate::drawing::Shape::Text { text, .. } = item.shape {
                words.push_str(&text);
                words.push(' ');
            }
        }
        words
    }

    fn second_key_does(deeds: impl Fn(&mut SmallHouse) -> Vec<Action>) -> String {
        let mut house = small_house();
        let actions = deeds(&mut house);
        let (plate, _) = house.project.devices.iter().find(|(_, device)| device.tag.code == "PL").unwrap();
        let rule = key_rule("Secret", None, plate, "key 2", Target::Point(PointRef::new(plate, "key 2")));
        let RuleBody::When { trigger, conditions, .. } = rule.body else { panic!("a key starts it") };
        house.put(Rule { body: RuleBody::When { trigger, conditions, actions }, ..rule });
        words(&house)
    }

    /// A lock, an alarm or a message are the household's own; so is a mode that a lock follows.
    #[test]
    fn a_guest_reads_nothing_of_locks_alarms_and_messages() {
        let own = "Please leave this key to your host.";
        let of_kind = |house: &mut SmallHouse, family, point: &str| {
            let kind = house.put(plain_kind("Device", family, "XX", MountKind::Wall, &[point]));
            let device = house.place(kind, house.on_wall(1, 1000.0), Some(1000.0));
            Target::Point(PointRef::new(device, point))
        };
        let lamp = second_key_does(|house| {
            let (zone, _) = house.project.zones.iter().next().unwrap();
            vec![Action::new(Some(Target::Zone(zone)), Deed::Toggle)]
        });
        assert!(!lamp.contains(own) && lamp.contains("Turn Kitchen ceiling lights on or off."), "{lamp}");
        for (family, point) in
            [(Family::Motors, "locked"), (Family::Intrusion, "armed"), (Family::Sounders, "siren")]
        {
            let told =
                second_key_does(|house| vec![Action::new(Some(of_kind(house, family, point)), Deed::Toggle)]);
            assert!(told.contains(own) && !told.contains("XX-01"), "{point}: {told}");
        }
        let message = second_key_does(|_| vec![Action::new(None, Deed::notify("Somebody is at the safe."))]);
        assert!(message.contains(own) && !message.contains("safe"), "{message}");
        let mode = second_key_does(|house| {
            let night = HouseMode::Named(house.put(Mode { name: "Night".to_owned() }));
            let target = of_kind(house, Family::Motors, "locked");
            let (plate, _) = house.project.devices.iter().next().unwrap();
            let locks = key_rule("Lock up", None, plate, "key 1", target.clone());
            let body = RuleBody::When {
                trigger: Trigger::ModeEntered(night),
                conditions: Vec::new(),
                actions: vec![Action::new(Some(target), Deed::Toggle)],
            };
            house.put(Rule { body, ..locks });
            vec![Action::new(None, Deed::EnterMode(night))]
        });
        assert!(mode.contains(own) && !mode.contains("Night"), "{mode}");
    }
}
