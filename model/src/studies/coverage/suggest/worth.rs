//! What a pose is worth: its view, and from it every number that poses are ranked by.

use kurbo::Point;

use super::{DOORS, Pose, ShownBy, Wish};
use crate::building::Whereabouts;
use crate::building::outline::RoomOutline;
use crate::geometry::{Region, intersection};
use crate::id::Id;
use crate::kit::{Detection, Device, Kind, Mount, Movement, Pattern};
use crate::limits::limits;
use crate::plan::{Level, Opening, OpeningForm, Room, Sense, Side, Spot, SpotUse};
use crate::project::Project;
use crate::studies::coverage::rooms::first_seen::{entries, middle_of};
use crate::studies::coverage::rooms::lighters::{Lighter, StaysOn};
use crate::studies::coverage::rooms::ways_in::{WayIn, ways_into};
use crate::studies::coverage::windows::windows_seen;
use crate::studies::coverage::{Question, Scenes, Target, sensor_polygon_for};
use crate::units::{Angle, Length};

/// The inside of a door or window is looked for so far in front of it, mm: where somebody stands who came in.
const INSIDE_MM: f64 = 500.0;

/// What stands against a wall is looked for so far in front of it, mm.
const BEFORE_WALL_MM: f64 = 100.0;

/// Nobody walks farther unseen than this counts, m.
const NEVER_COUNTS_M: f64 = 5.0;

/// A thing that can set it off takes so much from the score.
const RISK_COSTS: f64 = 0.1;

/// Each metre walked unseen takes so much.
const METRE_COSTS: f64 = 0.1;

/// Pixels to a metre that count as one: enough to identify somebody (BS EN 62676-4:2015, read in a secondary page).
const PX_THAT_SUFFICE: f64 = 250.0;

/// Looking down on a face beyond this takes from the score, degrees (a maker's note on test targets of 2025).
const DOWN_DEGREES: f64 = 13.0;

/// Each degree beyond that takes so much.
const DEGREE_COSTS: f64 = 0.01;

/// Judges poses in one room.
pub(super) struct Judge<'a> {
    project: &'a Project,
    level: Id<Level>,
    outline: &'a RoomOutline,
    room: Region,
    kind: &'a Kind,
    detection: Detection,
    wish: Wish,
    scenes: Scenes,
    ways: Vec<WayIn>,
    middle: Option<Point>,
    lighter: [Lighter; 1],
    dwelt_in: Vec<Point>,
    insides: Vec<Point>,
    warm: Vec<(Id<Spot>, &'a Spot)>,
    target: Option<(Point, Length)>,
}

impl<'a> Judge<'a> {
    /// Gathers what all poses share; `None` where a camera is wished and there is none, or nothing for it to show.
    pub(super) fn new(
        project: &'a Project,
        whereabouts: &Whereabouts,
        (room, outline): (Id<Room>, &'a RoomOutline),
        kind: &'a Kind,
        device: Id<Device>,
        wish: Wish,
    ) -> Option<Self> {
        let level = project.rooms.get(room)?.level;
        let target = match wish {
            Wish::Camera(spot) => {
                let spot = project.spots.get(spot).filter(|spot| spot.level == level)?;
                kind.optics?;
                Some((spot.at, spot.height_affl))
            }
            _ => None,
        };
        let in_room = |spot: &Spot| outline.contains(spot.at);
        let lighter = Lighter { device, rule: None, stays_on: StaysOn::Unsaid, door: None };
        Some(Self {
            project,
            level,
            outline,
            room: Region { shapes: vec![outline.shape.clone()] },
            kind,
            detection: kind.senses()?,
            wish,
            scenes: Scenes::of_level(project, level, DOORS),
            ways: ways_into(project, whereabouts, (room, level), outline),
            middle: middle_of(outline),
            lighter: [lighter],
            dwelt_in: project
                .spots_on(level)
                .filter(|(_, spot)| spot.spot_use.is_dwelt_in() && in_room(spot))
                .map(|(_, spot)| spot.at)
                .collect(),
            insides: insides(project, level, outline),
            warm: project
                .spots_on(level)
                .filter(|(_, spot)| {
                    matches!(spot.spot_use, SpotUse::Radiator | SpotUse::WarmAir) && in_room(spot)
                })
                .collect(),
            target,
        })
    }

    /// A pose with its numbers; `None` for one from which a camera does not see its spot, or that sees nothing.
    pub(super) fn pose(&mut self, placed: &Device) -> Option<Pose> {
        let at = Whereabouts::stands_at(self.project, placed)?;
        let mut device = placed.clone();
        if let Some((target, height)) = self.target {
            self.aim(&mut device, at, (target, height));
        }
        let question = match (self.wish, self.target) {
            (Wish::Sitting, _) => Question { doors: DOORS, ..Question::of_seated() },
            (Wish::Intrusion, _) => Question { movement: Movement::Towards, ..Question::with_doors(DOORS) },
            (_, Some((_, height))) => Question { target: Target::At(height), ..Question::with_doors(DOORS) },
            _ => Question::with_doors(DOORS),
        };
        let view = self.view(&device, question)?;
        let shown = match self.target {
            Some(target) => Some(self.shown(&device, at, target, &view)?),
            None => None,
        };
        let whole = self.room.area();
        let covered = intersection(&self.room, &view).area();
        let ways = entries(
            &self.ways,
            (self.outline, self.middle),
            &self.lighter,
            &[(self.lighter[0].device, &view)],
        );
        let ways_unseen = ways.iter().filter(|entry| entry.first_seen().is_none()).count();
        // The worst comes first, and one by which nobody is seen is worst of all.
        let first_seen = ways.first().and_then(|entry| entry.first_seen()).map(|seen| seen.after);
        let within = |points: &[Point]| points.iter().filter(|point| view.contains(**point)).count();
        let mut pose = Pose {
            mount: device.mount,
            turn: device.turn,
            tilt: device.tilt,
            height_affl: device.height_affl,
            at: self.project.position_of(&device)?,
            facing: self.project.facing_of(&device),
            share: if whole > 0.0 { (covered / whole).clamp(0.0, 1.0) } else { 0.0 },
            first_seen,
            ways_unseen,
            dwelt_in: (self.noticed(&device, &view), self.dwelt_in.len()),
            openings: (within(&self.insides), self.insides.len()),
            windows_faced: self.windows(&device, at, &view),
            warm_spots: self.warm_spots(&device, at, &view),
            shown,
            score: 0.0,
            view,
        };
        pose.score = self.score(&pose, !ways.is_empty());
        (pose.share > 0.0 || pose.shown.is_some()).then_some(pose)
    }

    fn view(&mut self, device: &Device, question: Question) -> Option<Region> {
        sensor_polygon_for(self.project, &mut self.scenes, device, &self.detection, question)
    }

    /// At how many spots small movements are noticed. Only asked for where somebody dwells.
    fn noticed(&mut self, device: &Device, view: &Region) -> usize {
        if self.dwelt_in.is_empty() {
            return 0;
        }
        let seated = match self.wish {
            Wish::Sitting => Some(view.clone()),
            _ => self.view(device, Question { doors: DOORS, ..Question::of_seated() }),
        };
        let Some(seated) = seated else { return 0 };
        self.dwelt_in.iter().filter(|spot| seated.contains(**spot)).count()
    }

    fn aim(&self, device: &mut Device, at: Point, (target, height): (Point, Length)) {
        let to = target - at;
        let level = self.project.facing_of(device);
        device.turn = device.turn + (Angle::of(to) - level);
        let drop = device.height_affl.unwrap_or(self.ceiling()) - height;
        device.tilt = Angle::radians(drop.as_mm().atan2(to.hypot()).max(0.0));
    }

    fn ceiling(&self) -> Length {
        self.project.levels.get(self.level).map_or(Length::ZERO, |level| level.ceiling_affl)
    }

    /// What an aimed camera gives of its spot: N / (2 D tan(V / 2)), with the depth D along its axis, which passes
    /// through the spot. `None` where the spot is hidden or behind the wall.
    fn shown(
        &self,
        device: &Device,
        at: Point,
        (target, height): (Point, Length),
        view: &Region,
    ) -> Option<ShownBy> {
        let optics = self.kind.optics?;
        if let Mount::WallFace { wall, side, .. } = device.mount
            && (target - at).dot(self.project.walls.get(wall)?.normal(side)) <= 0.0
        {
            return None;
        }
        if !view.contains(target) {
            return None;
        }
        let drop = (device.height_affl.unwrap_or(self.ceiling()) - height).as_m();
        let across = (target - at).hypot() / 1000.0;
        let half = (optics.field_of_view().as_radians() / 2.0).tan();
        let px_per_m = f64::from(optics.pixels_across) / (2.0 * across.hypot(drop) * half);
        let down = Angle::radians(drop.atan2(across));
        (px_per_m.is_finite() && px_per_m > 0.0).then_some(ShownBy { px_per_m, down })
    }

    fn minds_warmth(&self) -> bool {
        matches!(self.detection.sense, Sense::BodyHeat | Sense::Dual)
    }

    /// As the check of detectors that face windows has it: one on the ceiling, or that looks all round, looks down.
    fn windows(&self, device: &Device, at: Point, view: &Region) -> Vec<Id<Opening>> {
        match device.mount {
            Mount::WallFace { wall, .. }
                if self.minds_warmth() && !matches!(self.detection.pattern, Pattern::Round { .. }) =>
            {
                windows_seen(self.project, self.level, Some(wall), at, view)
            }
            _ => Vec::new(),
        }
    }

    /// What grows warm beneath it, or is in its view nearby.
    fn warm_spots(&self, device: &Device, at: Point, view: &Region) -> Vec<Id<Spot>> {
        if !self.minds_warmth() {
            return Vec::new();
        }
        let limit = |name: &str| limits().get(name).map_or(0.0, |limit| limit.value);
        let (beneath, in_view) = (limit("heat_beneath_detector"), limit("heat_in_view"));
        let height = device.height_affl.unwrap_or(self.ceiling());
        self.warm
            .iter()
            .filter(|(_, spot)| {
                let distance = spot.at.distance(at);
                let before = spot.at + (at - spot.at) * (BEFORE_WALL_MM / distance.max(BEFORE_WALL_MM));
                (distance < beneath && height > spot.height_affl)
                    || (distance < in_view && view.contains(before))
            })
            .map(|(id, _)| *id)
            .collect()
    }

    fn score(&self, pose: &Pose, has_ways: bool) -> f64 {
        let part = |(some, all): (usize, usize)| if all == 0 { 0.0 } else { some as f64 / all as f64 };
        let risks = RISK_COSTS * (pose.windows_faced.len() + pose.warm_spots.len()) as f64;
        match self.wish {
            Wish::LightByMotion => {
                let unseen = if has_ways { NEVER_COUNTS_M } else { 0.0 };
                let walked = pose.first_seen.map_or(unseen, |first| first.as_m().min(NEVER_COUNTS_M));
                pose.share - METRE_COSTS * walked - risks
            }
            Wish::Sitting => part(pose.dwelt_in) + 0.5 * pose.share - risks,
            Wish::Intrusion => pose.share + part(pose.openings) - risks,
            Wish::Camera(_) => pose.shown.map_or(0.0, |shown| {
                let beyond = (shown.down.as_degrees() - DOWN_DEGREES).max(0.0);
                (shown.px_per_m / PX_THAT_SUFFICE).min(1.0) - DEGREE_COSTS * beyond
            }),
        }
    }
}

/// Where somebody stands who came in by each door or window of the room.
fn insides(project: &Project, level: Id<Level>, outline: &RoomOutline) -> Vec<Point> {
    let mut insides = Vec::new();
    for (_, opening, wall) in project.openings_on(level) {
        if matches!(opening.form, OpeningForm::Plain) {
            continue;
        }
        for side in [Side::Left, Side::Right] {
            let (face, inwards) = (wall.on_face(opening.centre, side), wall.normal(side));
            if outline.contains(face + inwards) {
                insides.push(face + inwards * INSIDE_MM);
            }
        }
    }
    insides
}
