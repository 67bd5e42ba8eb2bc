//! The house as it is told to people who do not read tags: rooms in walking order with their plates and rules, and
//! devices without a name called by what they are and where (`the hall motion detector`), and how long a change is
//! spread left out.

use std::collections::{BTreeMap, BTreeSet};

use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::{Device, Family};
use crate::plan::Room;
use crate::project::Project;
use crate::sentence::USUAL_RANK;
use crate::sentence::keys::{Legend, Plate, PlateKey, legend_of, plates};
use crate::systems::{Rule, RuleBody, Trigger};
use crate::units::Seconds;

/// A plate with the words on its keys.
pub(super) struct ToldPlate {
    /// The plate, its keys told in plain words.
    pub plate: Plate,
    /// What stands on each key.
    pub legends: Vec<Legend>,
    /// The room in which it hangs.
    pub room: Option<Id<Room>>,
}

/// A room with what is in it.
pub(super) struct ToldRoom {
    /// The room.
    pub id: Id<Room>,
    /// What it is called.
    pub name: String,
    /// Places of its plates in [`Told::plates`].
    pub plates: Vec<usize>,
    /// Rules listed under it that are on, keys apart.
    pub rules: Vec<Id<Rule>>,
}

/// The house told.
pub(super) struct Told<'a> {
    /// The house as it is.
    pub project: &'a Project,
    /// The house in which every device has a name that people understand, and changes take no time.
    pub named: Project,
    /// Every plate, in walking order.
    pub plates: Vec<ToldPlate>,
    /// Every room, in walking order.
    pub rooms: Vec<ToldRoom>,
}

impl<'a> Told<'a> {
    /// Tells a house; `None` where it has neither plates nor rules.
    pub fn of(project: &'a Project) -> Option<Self> {
        let has_keys = project.kinds.iter().any(|(_, kind)| kind.keys().next().is_some());
        if project.rules.is_empty() && !has_keys {
            return None;
        }
        let whereabouts = Whereabouts::of(project);
        let named = with_names(project, &whereabouts);
        let ranks: BTreeMap<_, _> =
            project.levels_upwards().into_iter().enumerate().map(|(rank, (id, _))| (id, rank)).collect();
        let mut rooms: Vec<(Id<Room>, &Room)> = project.rooms.iter().collect();
        rooms.sort_by_key(|(id, room)| (ranks.get(&room.level).copied(), room.name.as_str(), *id));
        let place_of = |room: Option<Id<Room>>| {
            room.and_then(|room| rooms.iter().position(|(id, _)| *id == room)).unwrap_or(usize::MAX)
        };
        let mut told_plates: Vec<ToldPlate> = plates(&named)
            .into_iter()
            .map(|plate| {
                let room =
                    project.devices.get(plate.device).and_then(|device| whereabouts.room_of(project, device));
                let legend = |key: &PlateKey| legend_of(project, plate.device, key, room);
                let legends = plate.keys.iter().map(legend).collect();
                ToldPlate { plate, legends, room }
            })
            .collect();
        let tag_of =
            |told: &ToldPlate| project.devices.get(told.plate.device).map(|device| device.tag.clone());
        told_plates.sort_by_cached_key(|told| (place_of(told.room), tag_of(told)));
        let of_room = |(id, room): &(Id<Room>, &Room)| ToldRoom {
            id: *id,
            name: if room.name.trim().is_empty() {
                "Room without a name".to_owned()
            } else {
                room.name.clone()
            },
            plates: (0..told_plates.len()).filter(|at| told_plates[*at].room == Some(*id)).collect(),
            rules: rules_under(project, Some(*id)),
        };
        let rooms = rooms.iter().map(of_room).collect();
        Some(Self { project, named, plates: told_plates, rooms })
    }

    /// The tag and the name of a plate (`PL-04 Kitchen plate`).
    pub fn plate_words(&self, plate: &ToldPlate) -> String {
        let device = self.project.devices.get(plate.plate.device);
        device.map_or_else(String::new, |device| format!("{} {}", device.tag, device.name).trim().to_owned())
    }

    /// Whether the legend of a plate is final.
    pub fn is_final(&self, plate: &ToldPlate) -> bool {
        self.project.devices.get(plate.plate.device).is_some_and(|device| device.legend.is_final)
    }

    /// The sentence of a rule in plain words.
    pub fn sentence(&self, rule: Id<Rule>) -> String {
        self.named
            .rules
            .get(rule)
            .map_or_else(String::new, |rule| crate::sentence::sentence_text(&self.named, rule))
    }
}

/// Rules that are on and listed under a room (or under none), but for those that a key of a plate starts: those stand
/// with the plates.
pub(super) fn rules_under(project: &Project, room: Option<Id<Room>>) -> Vec<Id<Rule>> {
    let is_key = |device: Id<Device>, point: &str| {
        let kind = project.devices.get(device).and_then(|device| project.kinds.get(device.kind));
        kind.is_some_and(|kind| kind.keys().any(|key| key.name == point))
    };
    project
        .rules
        .iter()
        .filter(|(_, rule)| rule.enabled && rule.room == room)
        .filter(|(_, rule)| match &rule.body {
            RuleBody::When { trigger: Trigger::Event { point, .. }, .. } => {
                !is_key(point.device, &point.point)
            }
            RuleBody::When { .. } | RuleBody::While { .. } => true,
            RuleBody::Wired { .. } => false,
        })
        .map(|(id, _)| id)
        .collect()
}

/// The project with a plain name for every device that has none and that a rule speaks of.
fn with_names(project: &Project, whereabouts: &Whereabouts) -> Project {
    let spoken_of: BTreeSet<Id<Device>> =
        project.rules.iter().flat_map(|(_, rule)| rule.devices()).chain(scene_devices(project)).collect();
    let nameless = spoken_of.into_iter().filter_map(|id| {
        let device = project.devices.get(id).filter(|device| device.name.trim().is_empty())?;
        Some((id, device, plain_name(project, whereabouts, device)))
    });
    let nameless: Vec<_> = nameless.collect();
    let mut named = project.clone();
    for (id, device, name) in &nameless {
        let alike = nameless.iter().filter(|(_, _, other)| other == name).count();
        let name = if alike > 1 { format!("{name} ({})", device.tag) } else { name.clone() };
        let _ = named.perform(crate::edit::Op::put(*id, Device { name, ..(*device).clone() }));
    }
    for (id, rule) in project.rules.iter() {
        let _ = named.perform(crate::edit::Op::put(id, at_once(rule)));
    }
    named
}

/// The rule without the times over which its changes are spread, and without the rank by which holds are told apart:
/// both are for whoever programs the house.
fn at_once(rule: &Rule) -> Rule {
    let mut rule = rule.clone();
    match &mut rule.body {
        RuleBody::When { actions, .. } => actions.iter_mut().for_each(|action| action.fade = Seconds::ZERO),
        RuleBody::While { settings, rank, .. } => {
            *rank = USUAL_RANK;
            settings.iter_mut().for_each(|setting| setting.fade = Seconds::ZERO);
        }
        RuleBody::Wired { .. } => {}
    }
    rule
}

fn scene_devices(project: &Project) -> Vec<Id<Device>> {
    let devices =
        |scene: &crate::systems::Scene| scene.points().map(|point| point.device).collect::<Vec<_>>();
    project.scenes.iter().flat_map(|(_, scene)| devices(scene)).collect()
}

/// `the hall motion detector`, `the kitchen plate`.
fn plain_name(project: &Project, whereabouts: &Whereabouts, device: &Device) -> String {
    let room = whereabouts.room_of(project, device).and_then(|room| project.rooms.get(room));
    let room = room.map(|room| small_first(&room.name)).filter(|name| !name.trim().is_empty());
    let kind = project.kinds.get(device.kind);
    let what = match kind.map(|kind| kind.family) {
        Some(Family::Plates) => "plate".to_owned(),
        Some(Family::Luminaires) => "light".to_owned(),
        _ => kind.map_or_else(String::new, |kind| {
            small_first(kind.name.split(',').next().unwrap_or_default().trim())
        }),
    };
    match room {
        Some(room) => format!("the {room} {what}"),
        None => format!("the {what}"),
    }
}

/// Words with a small first letter, unless they are an abbreviation.
pub(super) fn small_first(words: &str) -> String {
    let mut letters = words.chars();
    let (first, second) = (letters.next(), words.chars().nth(1));
    match first {
        Some(first) if !second.is_some_and(char::is_uppercase) => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => words.to_owned(),
    }
}
