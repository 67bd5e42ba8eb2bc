//! Places suggested for a kind in a room: sought off the window's thread, shown until one is taken, the tool is laid
//! down or the plan changes.
//!
//! What was found for an older plan is never shown: it is dropped as the plan changes.

use pattress_model::edit::{Change, verbs};
use pattress_model::id::Id;
use pattress_model::kit::{Family, Kind, MountKind};
use pattress_model::plan::{Level, Room, Sense, SpotUse};
use pattress_model::project::Project;
use pattress_model::studies::coverage::rooms::lighters::NOTICES_PEOPLE;
use pattress_model::studies::coverage::suggest::{Pose, Suggestion, Wish, suggest};
use pattress_model::units::Length;

use super::survey::work::{Hands, Work};

/// What a place is sought for.
#[derive(Clone, Debug, PartialEq)]
pub struct Sought {
    /// The room.
    pub room: Id<Room>,
    /// What is to be placed.
    pub kind: Kind,
    /// What it is to do there.
    pub wish: Wish,
}

/// What is asked of the suggested places.
#[derive(Clone, Debug)]
pub enum Suggesting {
    /// Seek places.
    Seek(Box<Sought>),
    /// The pointer or the keyboard is on this one, counted from 0; what is not repeated each frame lapses.
    PointAt(usize),
    /// Place a device there.
    Take(usize),
    /// Drop them.
    Drop,
}

/// Places that were found.
#[derive(Clone, Debug)]
pub struct Found {
    /// Tells them from any found before or after.
    pub number: u64,
    /// What they were sought for.
    pub sought: Sought,
    /// The level they are on.
    pub level: Id<Level>,
    /// The places, best first, and what was ranked by.
    pub suggestion: Suggestion,
}

/// The search under way and what the last one found.
#[derive(Default)]
pub struct Suggested {
    work: Option<(Work<Suggestion>, Sought)>,
    found: Option<Found>,
    generation: u64,
    number: u64,
    pub(super) pointed: Option<usize>,
}

impl Suggested {
    /// Begins to seek, in place of whatever was sought or found before.
    pub(super) fn seek(&mut self, project: &Project, generation: u64, sought: Sought, hands: &Hands) {
        let (house, job) = (project.clone(), sought.clone());
        let seek =
            move |_: super::survey::work::KeepGoing<'_>| suggest(&house, job.room, &job.kind, job.wish);
        let work = Work::begin("Seeking a place".to_owned(), hands, seek);
        self.drop_all();
        self.generation = generation;
        self.work = Some((work, sought));
    }

    /// Takes in what was found; drops all that is of an older plan. Returns whether something has come just now.
    pub(super) fn keep_up(&mut self, project: &Project, generation: u64) -> bool {
        if self.generation != generation {
            self.drop_all();
        }
        let Some(answer) = self.work.as_ref().and_then(|(work, _)| work.answer()) else { return false };
        let Some((_, sought)) = self.work.take() else { return false };
        let (Ok(suggestion), Some(room)) = (answer, project.rooms.get(sought.room)) else { return false };
        self.number += 1;
        self.found = Some(Found { number: self.number, sought, level: room.level, suggestion });
        true
    }

    pub(super) fn drop_all(&mut self) {
        (self.work, self.found, self.pointed) = (None, None, None);
    }

    /// What is being sought.
    pub fn seeking(&self) -> Option<&Sought> {
        self.work.as_ref().map(|(_, sought)| sought)
    }

    /// What was found, for the plan as it is.
    pub fn found(&self) -> Option<&Found> {
        self.found.as_ref()
    }

    /// The place that is pointed at.
    pub fn pointed(&self) -> Option<usize> {
        self.pointed
    }
}

impl Found {
    /// What placing a device at one of the places changes.
    ///
    /// # Errors
    /// A sentence, where there is no such place, or it is refused.
    pub fn change(&self, project: &Project, index: usize) -> Result<Change, String> {
        let pose = self.suggestion.best.get(index).ok_or("there is no such place: seek again")?;
        let (level, turn, height) = (self.level, pose.turn, pose.height_affl);
        verbs::with_kind(project, &self.sought.kind, |project, kind| {
            let placing = verbs::Placing { kind, level, turn, height };
            verbs::place_aimed(project, placing, pose.mount, pose.tilt)
        })
    }
}

/// Whether places can be sought for a kind.
pub fn can_be_sought(kind: &Kind) -> bool {
    let senses = |sense: Sense| NOTICES_PEOPLE.contains(&sense) || kind.optics.is_some();
    matches!(kind.mount, MountKind::Wall | MountKind::Ceiling)
        && kind.senses().is_some_and(|detection| senses(detection.sense))
}

/// What a kind can be wished to do in a room, in words; what its family is for comes first. A camera is wished to
/// show something that is marked on the storey.
pub fn wishes(project: &Project, level: Id<Level>, kind: &Kind) -> Vec<(Wish, String)> {
    if kind.optics.is_some() {
        return project
            .spots_on(level)
            .filter(|(_, spot)| spot.spot_use == SpotUse::ToBeSeen)
            .map(|(id, spot)| (Wish::Camera(id), format!("show {}", spot.name)))
            .collect();
    }
    let mut all = vec![
        (Wish::LightByMotion, "light whoever comes in".to_owned()),
        (Wish::Sitting, "notice who sits there".to_owned()),
        (Wish::Intrusion, "notice an intruder".to_owned()),
    ];
    if kind.family == Family::Intrusion {
        all.rotate_right(1);
    }
    all
}

/// What a place gives, in a few words.
pub fn gives(wish: Wish, pose: &Pose) -> String {
    let share = format!("{:.0} % of the floor", pose.share * 100.0);
    match wish {
        Wish::LightByMotion => format!("{share}, {}", first_seen(pose)),
        Wish::Sitting => match pose.dwelt_in {
            (_, 0) => format!("{share} for small movements"),
            (some, all) => format!("{some} of {all} places to sit, {share} for small movements"),
        },
        Wish::Intrusion => match pose.openings {
            (_, 0) => format!("{share} walking towards it"),
            (some, all) => format!("{some} of {all} doors and windows, {share} walking towards it"),
        },
        Wish::Camera(_) => pose.shown.map_or(share, |shown| {
            format!("{:.0} px/m, looking down {:.0}°", shown.px_per_m, shown.down.as_degrees().max(0.0))
        }),
    }
}

fn first_seen(pose: &Pose) -> String {
    match (pose.first_seen, pose.ways_unseen) {
        (_, unseen) if unseen > 0 => {
            format!("never seen by {unseen} {}", if unseen == 1 { "way in" } else { "ways in" })
        }
        (Some(seen), _) => format!("first seen after {} m", metres(seen)),
        (None, _) => "no way in".to_owned(),
    }
}

/// What speaks against a place, in a few words; what does not matter to the kind is not said.
pub fn risks(pose: &Pose) -> String {
    let several = |count: usize, one: &str, many: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        _ => Some(format!("{count} {many}")),
    };
    let risks: Vec<String> = [
        several(pose.windows_faced.len(), "window", "windows"),
        several(pose.warm_spots.len(), "warm thing", "warm things"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if risks.is_empty() {
        return "Faces no window and no warm thing it would mind.".to_owned();
    }
    format!("Faces {}: false alarms are likely.", risks.join(" and "))
}

/// Metres with one decimal.
pub fn metres(length: Length) -> String {
    format!("{:.1}", length.as_m())
}
