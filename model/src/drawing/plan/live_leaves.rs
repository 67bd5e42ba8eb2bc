//! Leaves, sashes and drawers as they stand while the rules are played: open where a contact tells so.

use std::collections::BTreeMap;

use kurbo::{BezPath, Point, Vec2};

use super::live::{Now, Told};
use super::opening_items;
use crate::building::told_open::{OPEN, ToldOpen};
use crate::drawing::{Item, Layer, Role};
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::{DoorState, Joinery, Level, Opening, OpeningForm, Side};
use crate::project::Project;
use crate::systems::PointRef;
use crate::units::Angle;

/// A door that is open stands square; a sash stands ajar.
const DOOR_OPEN: Angle = Angle::radians(std::f64::consts::FRAC_PI_2);
const SASH_OPEN_RADIANS: f64 = 0.6;

/// A drawer or the door of a cupboard stands out by this, and is drawn so wide, mm.
const DRAWER_OUT_MM: f64 = 350.0;
const DRAWER_WIDE_MM: f64 = 500.0;

/// What of a level can stand open, each with the contacts that tell so.
#[derive(Clone, Debug, Default)]
pub(super) struct Leaves {
    openings: BTreeMap<Id<Opening>, Vec<PointRef>>,
    joinery: Vec<(Id<Joinery>, PointRef)>,
}

impl Leaves {
    pub(super) fn of(project: &Project, level: Id<Level>, told: &Told) -> Self {
        let mut leaves = Self::default();
        for (contact, of) in told {
            let tells = PointRef::new(*contact, OPEN);
            match of {
                ToldOpen::Opening(id) => {
                    let wall = project.openings.get(*id).and_then(|opening| project.walls.get(opening.wall));
                    if wall.is_some_and(|wall| wall.level == level) {
                        leaves.openings.entry(*id).or_default().push(tells);
                    }
                }
                ToldOpen::Joinery(id) => {
                    if project.joinery.get(*id).is_some_and(|piece| piece.level == level) {
                        leaves.joinery.push((*id, tells));
                    }
                }
            }
        }
        leaves
    }

    /// Doors that are drawn as they stand now.
    pub(super) fn doors(&self) -> impl Iterator<Item = Id<Opening>> + '_ {
        self.openings.keys().copied()
    }

    pub(super) fn items(&self, project: &Project, now: &dyn Fn(&PointRef) -> Option<Now>) -> Vec<Item> {
        let is_open = |tells: &PointRef| now(tells).is_some_and(|now| now.shown.is_on());
        let mut items = Vec::new();
        for (id, contacts) in &self.openings {
            items.extend(opening(project, *id, contacts.iter().any(is_open)));
        }
        for (id, tells) in &self.joinery {
            if is_open(tells) {
                items.extend(drawer(project, *id, tells.device));
            }
        }
        items
    }
}

fn opening(project: &Project, id: Id<Opening>, is_open: bool) -> Vec<Item> {
    let Some(found) = project.openings.get(id) else { return Vec::new() };
    let Some(wall) = project.walls.get(found.wall) else { return Vec::new() };
    let mut now = found.clone();
    match &mut now.form {
        OpeningForm::Door { state, .. } => {
            *state = if is_open { DoorState::Open(DOOR_OPEN) } else { DoorState::Shut };
        }
        OpeningForm::Window { .. } if is_open => {
            let mut items = opening_items(id, found, wall);
            let hinge = wall.on_axis(found.from());
            let shut = wall.on_axis(found.to()) - hinge;
            let (sin, cos) = SASH_OPEN_RADIANS.sin_cos();
            let outward = wall.normal(Side::Left) * shut.hypot();
            let edge = hinge + shut * cos + outward * sin;
            items.push(leaf(Subject::Opening(id), [hinge, edge], shut.hypot()));
            return items;
        }
        OpeningForm::Window { .. } | OpeningForm::Plain => {}
    }
    let mut items = opening_items(id, &now, wall);
    for item in &mut items {
        if is_open && item.role == Role::DoorLeaf {
            item.role = Role::NowOpen;
        }
    }
    items
}

/// A thin leaf from its hinge to its free edge.
fn leaf(subject: Subject, [hinge, edge]: [Point; 2], length: f64) -> Item {
    let along = (edge - hinge) / length.max(1.0);
    let across = Vec2::new(-along.y, along.x) * 30.0;
    let path = outline(&[hinge, edge, edge + across, hinge + across]);
    Item::path(Layer::Building, Role::NowOpen, Some(subject), path)
}

/// A drawer drawn out before its piece, where its contact is.
fn drawer(project: &Project, id: Id<Joinery>, contact: Id<Device>) -> Option<Item> {
    let piece = project.joinery.get(id)?;
    let Mount::Joinery { offset, .. } = project.devices.get(contact)?.mount else { return None };
    let across = piece.turn.direction();
    let forward = Vec2::new(across.y, -across.x);
    let wide = DRAWER_WIDE_MM.min(piece.width.as_mm());
    let most = (piece.width.as_mm() - wide) / 2.0;
    let middle = piece.centre + across * offset.x.clamp(-most, most) + forward * (piece.depth.as_mm() / 2.0);
    let half = across * (wide / 2.0);
    let out = forward * DRAWER_OUT_MM.min(piece.depth.as_mm());
    let path = outline(&[middle - half, middle + half, middle + half + out, middle - half + out]);
    Some(Item::path(Layer::Joinery, Role::NowOpen, Some(Subject::Joinery(id)), path))
}

fn outline(corners: &[Point]) -> BezPath {
    crate::geometry::Ring::new(corners.to_vec()).to_path()
}
