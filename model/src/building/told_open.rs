//! What a contact tells of: the leaf or sash that it is fixed to.
//!
//! A contact on a wall tells of the door or window of that wall which is nearest to it, where it is on its frame; a
//! contact on joinery tells of that piece. Without such a one it tells of nothing that is drawn.

use std::collections::BTreeMap;

use crate::id::Id;
use crate::kit::{Device, Family, Mount};
use crate::plan::{Joinery, Opening, OpeningForm};
use crate::project::Project;

/// How far beside an opening a contact may be and still be on its frame, mm: a frame and its architrave. Common
/// practice, no published source.
const FRAME_MM: f64 = 150.0;

/// The point by which a contact tells that something is open.
pub const OPEN: &str = "open";

/// What a contact tells of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ToldOpen {
    /// A door or a window.
    Opening(Id<Opening>),
    /// A door or a drawer of a piece of joinery.
    Joinery(Id<Joinery>),
}

/// Every contact that tells whether something drawn is open, with what it tells of.
pub fn told_open(project: &Project) -> BTreeMap<Id<Device>, ToldOpen> {
    let tells = |device: &Device| match device.mount {
        Mount::WallFace { .. } => nearest_opening(project, device).map(ToldOpen::Opening),
        Mount::Joinery { joinery, .. } => Some(ToldOpen::Joinery(joinery)),
        _ => None,
    };
    let is_contact = |device: &Device| {
        let kind = project.kinds.get(device.kind);
        kind.is_some_and(|kind| kind.family == Family::Contacts && kind.point(OPEN).is_some())
    };
    let contacts = project.devices.iter().filter(|(_, device)| is_contact(device));
    contacts.filter_map(|(id, device)| Some((id, tells(device)?))).collect()
}

fn nearest_opening(project: &Project, device: &Device) -> Option<Id<Opening>> {
    let Mount::WallFace { wall, along, .. } = device.mount else { return None };
    let beside =
        |opening: &Opening| (along.as_mm() - opening.centre.as_mm()).abs() - opening.width.as_mm() / 2.0;
    project
        .openings
        .iter()
        .filter(|(_, opening)| opening.wall == wall && opening.form != OpeningForm::Plain)
        .map(|(id, opening)| (id, beside(opening)))
        .filter(|(_, beside)| *beside <= FRAME_MM)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(id, _)| id)
}
