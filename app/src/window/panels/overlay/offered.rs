//! What a rule can join: every point of every device on the plan, grouped by room, and every zone.

use std::collections::BTreeMap;

use pattress_model::building::Whereabouts;
use pattress_model::id::Id;
use pattress_model::kit::{PointRole, PointSpec, PointType};
use pattress_model::plan::Room;
use pattress_model::project::Project;
use pattress_model::sentence::device_words;
use pattress_model::systems::{PointRef, Target};

/// One point that can be picked.
#[derive(Clone, Debug)]
pub struct Point {
    /// The point.
    pub point: PointRef,
    /// What travels over it, and whether it tells or obeys.
    pub spec: PointSpec,
    /// The room its device is in.
    pub room: Option<Id<Room>>,
    /// That room in words (`Kitchen`, `Outside the rooms`).
    pub room_words: String,
    /// The device and the point in words (`PL-02 key 1`).
    pub words: String,
}

impl Point {
    /// Whether it tells of something that happens.
    pub fn is_event(&self) -> bool {
        self.spec.role == PointRole::Reports && self.spec.point_type == PointType::Event
    }

    /// Whether it has a value that can be compared: what it reports, or what it was told to do.
    pub fn has_value(&self) -> bool {
        self.spec.point_type != PointType::Event
    }

    /// Whether something can be done to it.
    pub fn obeys(&self) -> bool {
        self.spec.role == PointRole::Does
    }
}

/// Everything that can be picked, worked out again when the plan changes.
#[derive(Default)]
pub struct Offered {
    of: Option<Project>,
    points: Vec<Point>,
    places: BTreeMap<PointRef, usize>,
}

impl Offered {
    /// Works it out again where devices, kinds or rooms have changed.
    pub fn keep_up(&mut self, project: &Project) {
        let same = self.of.as_ref().is_some_and(|of| {
            of.devices.is_same(&project.devices)
                && of.kinds.is_same(&project.kinds)
                && of.rooms.is_same(&project.rooms)
                && of.walls.is_same(&project.walls)
                && of.openings.is_same(&project.openings)
        });
        if same {
            return;
        }
        let whereabouts = Whereabouts::of(project);
        let mut points: Vec<Point> = project
            .devices
            .iter()
            .filter_map(|(id, device)| Some((id, device, project.kinds.get(device.kind)?)))
            .flat_map(|(id, device, kind)| {
                let room = whereabouts.room_of(project, device);
                let room_words = room
                    .and_then(|room| project.rooms.get(room))
                    .map_or_else(|| "Outside the rooms".to_owned(), |room| room.name.clone());
                let called = device_words(project, id);
                kind.points.iter().map(move |spec| Point {
                    point: PointRef::new(id, spec.name.as_str()),
                    spec: spec.clone(),
                    room,
                    room_words: room_words.clone(),
                    words: format!("{called} {}", spec.name),
                })
            })
            .collect();
        points.sort_by_cached_key(|point| (point.room.is_none(), point.room, point.point.device));
        self.places = points.iter().enumerate().map(|(at, point)| (point.point.clone(), at)).collect();
        self.points = points;
        self.of = Some(project.clone());
    }

    /// Every point, room by room.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The points of a room.
    pub fn in_room(&self, room: Option<Id<Room>>) -> impl Iterator<Item = &Point> {
        self.points.iter().filter(move |point| room.is_none() || point.room == room)
    }

    /// A point by its name.
    pub fn get(&self, point: &PointRef) -> Option<&Point> {
        self.places.get(point).and_then(|at| self.points.get(*at))
    }

    /// A point in words, with its room: `Kitchen · PL-02 key 1`.
    pub fn words(&self, point: &PointRef) -> String {
        match self.get(point) {
            Some(found) => format!("{} · {}", found.room_words, found.words),
            None => "(missing)".to_owned(),
        }
    }

    /// A target in words.
    pub fn target_words(&self, project: &Project, target: &Target) -> String {
        match target {
            Target::Point(point) => self.words(point),
            Target::Zone(zone) => project
                .zones
                .get(*zone)
                .map_or_else(|| "(missing)".to_owned(), |zone| format!("Zone · {}", zone.name)),
        }
    }

    /// What a target takes: a zone takes what its first point does.
    pub fn type_of(&self, project: &Project, target: &Target) -> PointType {
        let spec = match target {
            Target::Point(point) => self.get(point),
            Target::Zone(zone) => project
                .zones
                .get(*zone)
                .and_then(|zone| zone.points.first())
                .and_then(|point| self.get(point)),
        };
        spec.map_or(PointType::State, |found| found.spec.point_type)
    }
}

/// The unit of a figure at a point of that name.
pub fn unit_of(point: &str) -> &'static str {
    let stem = point.trim_end_matches(|letter: char| letter.is_ascii_digit() || letter == ' ');
    match stem {
        "level" | "position" | "humidity" | "volume" => "%",
        "temperature" | "set point" => "°C",
        "light" => "lx",
        "colour temperature" => "K",
        _ => "",
    }
}
