//! Take a suggested place: the best three stand as numbered ghosts with their cones; a click on one places it.

use egui::CursorIcon;
use kurbo::{Point, Vec2};
use pattress_model::drawing::Item;
use pattress_model::drawing::plan::{coverage_item, device_items};
use pattress_model::edit::{Subject, verbs};
use pattress_model::studies::coverage::SensorCoverage;
use pattress_model::units::Area;

use super::preview::preview;
use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;
use crate::window::suggesting::{Found, Suggesting, gives};

/// A ghost is caught within so many screen points of its place.
const CATCH_POINTS: f64 = 22.0;

/// The tool that takes one.
#[derive(Default)]
pub struct TakePlace {
    /// The ghosts, each device after its cone, and which search and which scale they are of.
    drawn: Vec<[Vec<Item>; 2]>,
    drawn_for: Option<(u64, f64)>,
    places: Vec<Point>,
    /// The one that the arrow keys came to.
    at_hand: Option<usize>,
    lit: Option<usize>,
    ghost: Ghost,
}

impl TakePlace {
    fn show(&mut self, found: &Found, around: &Around<'_>) {
        if self.drawn_for != Some((found.number, around.scale)) {
            self.drawn_for = Some((found.number, around.scale));
            self.at_hand = None;
            self.places = found.suggestion.best.iter().map(|pose| pose.at).collect();
            self.drawn = (0..self.places.len())
                .map(|index| ghost_of(found, index, around).unwrap_or_default())
                .collect();
        }
        let mut ghost = Ghost::default();
        // Where one is lit it shows its cone alone; three over one another tell nothing apart.
        let coned = |index: usize| self.lit.is_none_or(|lit| lit == index);
        let cones = self.drawn.iter().enumerate().filter(|(index, _)| coned(*index));
        let cones = cones.flat_map(|(_, [cone, _])| cone);
        ghost.items = cones.chain(self.drawn.iter().flat_map(|[_, device]| device)).cloned().collect();
        for (index, pose) in found.suggestion.best.iter().enumerate() {
            let number = (index + 1).to_string();
            let words = match self.lit {
                Some(lit) if lit == index => format!("{number}: {}", gives(found.sought.wish, pose)),
                _ => number,
            };
            ghost.notes.push((pose.at, words));
        }
        ghost.mark = self.lit.and_then(|lit| self.places.get(lit)).copied();
        self.ghost = ghost;
    }

    fn under(&self, at: Point, around: &Around<'_>) -> Option<usize> {
        let reach = CATCH_POINTS * around.mm_per_point;
        let near = self.places.iter().map(|place| place.distance(at)).enumerate();
        near.filter(|(_, away)| *away <= reach).min_by(|a, b| a.1.total_cmp(&b.1)).map(|(index, _)| index)
    }
}

/// What a device would see, and the device as it would stand; nothing where it is refused.
fn ghost_of(found: &Found, index: usize, around: &Around<'_>) -> Option<[Vec<Item>; 2]> {
    let project = around.project();
    let change = found.change(project, index).ok()?;
    let after = preview(project, &change)?;
    let id = verbs::new_things(project, &change).into_iter().find_map(|subject| match subject {
        Subject::Device(id) => Some(id),
        _ => None,
    })?;
    let device = after.devices.get(id)?;
    let kind = after.kinds.get(device.kind)?;
    let (sense, pose) = (kind.senses()?.sense, found.suggestion.best.get(index)?);
    let coverage = SensorCoverage {
        device: id,
        level: device.level,
        room: None,
        sense,
        area: Area::mm2(pose.view.area()),
        polygon: pose.view.clone(),
        share_of_room: None,
    };
    Some([coverage_item(&after, &coverage), device_items(&after, id, device, kind, around.scale)])
}

impl Tool for TakePlace {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        let suggested = around.surveyed.suggested;
        let Some(found) = suggested.found().filter(|found| found.level == around.level()) else {
            self.ghost = Ghost::default();
            return Vec::new();
        };
        let under = if touch.gesture == Gesture::Away { None } else { self.under(touch.at, around) };
        if under.is_some() {
            self.at_hand = None;
        }
        self.lit = under.or(suggested.pointed()).or(self.at_hand);
        self.show(found, around);
        if under.is_some() {
            self.ghost.cursor = Some(CursorIcon::PointingHand);
        }
        let clicked = matches!(touch.gesture, Gesture::Click | Gesture::Drop);
        match (under, under.or(self.at_hand)) {
            (Some(index), _) if clicked => vec![Intent::Suggest(Suggesting::Take(index))],
            (_, Some(index)) => vec![Intent::Suggest(Suggesting::PointAt(index))],
            _ => Vec::new(),
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        match self.lit {
            Some(lit) => format!("Click to place it at {}; Esc drops the suggestions.", lit + 1),
            None => "Click a numbered ghost to place it there; Esc drops them.".to_owned(),
        }
    }

    fn enter(&mut self, _around: &mut Around<'_>) -> Vec<Intent> {
        vec![Intent::Suggest(Suggesting::Take(self.lit.unwrap_or(0)))]
    }

    fn nudge(&mut self, by: Vec2, _around: &mut Around<'_>) -> Vec<Intent> {
        let last = self.places.len().saturating_sub(1);
        let next = match self.lit {
            None => 0,
            Some(lit) if by.x - by.y >= 0.0 => (lit + 1).min(last),
            Some(lit) => lit.saturating_sub(1),
        };
        self.at_hand = Some(next);
        vec![Intent::Suggest(Suggesting::PointAt(next))]
    }
}
