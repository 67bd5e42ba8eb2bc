//! Make zones, and put points in and out of them.

use super::draft::Draft;
use super::edit_plan::named;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::kit::{Device, PointRole, PointType};
use crate::project::Project;
use crate::systems::{PointRef, Zone, ZonePurpose};

/// Makes a zone of points, each taken once.
///
/// # Errors
/// A sentence, where it has no name or a point is not there.
pub fn make_zone(
    project: &Project,
    name: &str,
    purpose: ZonePurpose,
    points: Vec<PointRef>,
) -> Result<Change, String> {
    let name = named("zone", name)?;
    let label = format!("Make zone {name}");
    let mut zone = Zone { name, purpose, points: Vec::new() };
    put_in(&mut zone, points);
    let mut draft = Draft::of(project);
    draft.add(zone);
    draft.finish(label)
}

/// Adds points to a zone; those already in it stay where they are.
///
/// # Errors
/// A sentence, where the zone or a point is gone.
pub fn add_to_zone(project: &Project, id: Id<Zone>, points: Vec<PointRef>) -> Result<Change, String> {
    edit_zone(project, id, "Add to zone", |zone| put_in(zone, points))
}

/// Takes points out of a zone.
///
/// # Errors
/// A sentence, where the zone is gone.
pub fn take_from_zone(project: &Project, id: Id<Zone>, points: &[PointRef]) -> Result<Change, String> {
    edit_zone(project, id, "Take from zone", |zone| zone.points.retain(|point| !points.contains(point)))
}

/// Gives a zone another name.
///
/// # Errors
/// A sentence, where the zone is gone or would have no name.
pub fn rename_zone(project: &Project, id: Id<Zone>, name: &str) -> Result<Change, String> {
    let name = named("zone", name)?;
    edit_zone(project, id, "Rename zone", |zone| zone.name = name)
}

/// Gives a zone another purpose.
///
/// # Errors
/// A sentence, where the zone is gone.
pub fn set_zone_purpose(project: &Project, id: Id<Zone>, purpose: ZonePurpose) -> Result<Change, String> {
    edit_zone(project, id, "Change purpose of zone", |zone| zone.purpose = purpose)
}

fn edit_zone(
    project: &Project,
    id: Id<Zone>,
    verb: &str,
    change: impl FnOnce(&mut Zone),
) -> Result<Change, String> {
    let mut zone = project.zones.get(id).ok_or_else(|| gone("zone"))?.clone();
    let label = format!("{verb} {}", zone.name);
    change(&mut zone);
    let mut draft = Draft::of(project);
    draft.put(id, zone);
    draft.finish(label)
}

fn put_in(zone: &mut Zone, points: Vec<PointRef>) {
    for point in points {
        if !zone.points.contains(&point) {
            zone.points.push(point);
        }
    }
}

/// The point of each device that a zone of that purpose would take: what it does for a zone that acts, what
/// it reports for a detection set. A device without such a point has none.
pub fn zone_points_of(project: &Project, purpose: ZonePurpose, devices: &[Id<Device>]) -> Vec<PointRef> {
    devices
        .iter()
        .filter_map(|id| {
            let kind = project.kinds.get(project.devices.get(*id)?.kind)?;
            let role = match purpose {
                ZonePurpose::FullSet | ZonePurpose::PartSet => PointRole::Reports,
                _ => PointRole::Does,
            };
            let fitting = || kind.points.iter().filter(move |point| point.role == role);
            let preferred =
                usual_points(purpose).iter().find_map(|name| fitting().find(|point| point.name == *name));
            let first =
                || fitting().find(|point| matches!(point.point_type, PointType::State | PointType::Number));
            preferred.or_else(first).map(|point| PointRef::new(*id, point.name.as_str()))
        })
        .collect()
}

/// Names of points that suit a purpose, the best first.
const fn usual_points(purpose: ZonePurpose) -> &'static [&'static str] {
    match purpose {
        ZonePurpose::Lighting => &["level", "on"],
        ZonePurpose::Heating => &["set point", "level", "demand", "on"],
        ZonePurpose::Blinds => &["position"],
        ZonePurpose::FullSet | ZonePurpose::PartSet | ZonePurpose::EntryRoute | ZonePurpose::Indication => {
            &["motion", "open", "alarm"]
        }
        ZonePurpose::Sound => &["volume", "playing"],
    }
}
