//! What a search of a room is about: the rules that work in it, and what those rules speak of.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::super::book::{PointNumber, RuleBook};
use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::{Device, PointType};
use crate::plan::Room;
use crate::project::Project;
use crate::systems::{Rule, Target, Zone, ZonePurpose};

/// A room's rules, laid out by themselves.
pub(super) struct Subject {
    pub(super) room: Id<Room>,
    /// The plan with nothing but those rules and what they speak of.
    pub(super) project: Project,
    pub(super) book: Arc<RuleBook>,
    pub(super) rules: Vec<Id<Rule>>,
    /// Lamps of the room that the rules work.
    pub(super) lamps: Vec<PointNumber>,
}

impl Subject {
    pub(super) fn of(project: &Project, room: Id<Room>) -> Self {
        Self::in_house(project, &Whereabouts::of(project), room)
    }

    pub(super) fn in_house(project: &Project, whereabouts: &Whereabouts, room: Id<Room>) -> Self {
        let is_here = |id: Id<Device>| {
            let device = project.devices.get(id);
            device.is_some_and(|device| whereabouts.room_of(project, device) == Some(room))
        };
        let works_here =
            |rule: &Rule| rule.room == Some(room) || worked(project, rule).into_iter().any(is_here);
        let on = project.rules.iter().filter(|(_, rule)| rule.enabled && works_here(rule));
        let rules: Vec<Id<Rule>> = on.map(|(id, _)| id).collect();
        let project = only(project, &rules);
        let book = Arc::new(RuleBook::of(&project));
        let lamps = lamps(&project, &book)
            .into_iter()
            .filter(|lamp| book.name(*lamp).is_some_and(|name| is_here(name.device)));
        Self { room, lamps: lamps.collect(), book: Arc::clone(&book), rules, project }
    }
}

/// Devices that a rule works on: by point, by zone or by a scene.
fn worked(project: &Project, rule: &Rule) -> Vec<Id<Device>> {
    let scenes = rule.scenes().into_iter().filter_map(|scene| project.scenes.get(scene));
    let by_scene = scenes.flat_map(|scene| scene.settings.iter().map(|setting| &setting.target));
    let mut devices = Vec::new();
    for target in rule.targets().into_iter().chain(by_scene) {
        match target {
            Target::Point(point) => devices.push(point.device),
            Target::Zone(zone) => devices.extend(of_zone(project, *zone)),
        }
    }
    devices
}

fn of_zone(project: &Project, zone: Id<Zone>) -> Vec<Id<Device>> {
    let zone = project.zones.get(zone).map(|zone| zone.points.iter().map(|point| point.device));
    zone.into_iter().flatten().collect()
}

/// The plan with these rules alone, and the devices that they speak of.
fn only(project: &Project, rules: &[Id<Rule>]) -> Project {
    let mut kept: BTreeSet<Id<Device>> = BTreeSet::new();
    for rule in rules.iter().filter_map(|id| project.rules.get(*id)) {
        kept.extend(rule.devices());
        kept.extend(worked(project, rule));
        kept.extend(rule.zones().into_iter().flat_map(|zone| of_zone(project, zone)));
    }
    let mut small = project.clone();
    let rules: BTreeSet<Id<Rule>> = rules.iter().copied().collect();
    let others: Vec<Id<Rule>> = project.rules.ids().filter(|id| !rules.contains(id)).collect();
    others.into_iter().for_each(|id| drop(small.rules.remove(id)));
    let others: Vec<Id<Device>> = project.devices.ids().filter(|id| !kept.contains(id)).collect();
    others.into_iter().for_each(|id| drop(small.devices.remove(id)));
    small
}

/// Points that light something: level or on of a luminaire, or of a lighting zone.
fn lamps(project: &Project, book: &RuleBook) -> Vec<PointNumber> {
    let lit: BTreeSet<_> = project
        .zones
        .iter()
        .filter(|(_, zone)| zone.purpose == ZonePurpose::Lighting)
        .flat_map(|(_, zone)| zone.points.iter())
        .collect();
    let is_lamp = |number: PointNumber| {
        let (Some(name), Some(nature)) = (book.name(number), book.nature(number)) else { return false };
        let kind = project.devices.get(name.device).and_then(|device| project.kinds.get(device.kind));
        let lights = lit.contains(name) || kind.is_some_and(|kind| kind.lamp.is_some());
        let is_level = nature.percent || nature.point_type == PointType::State;
        nature.does && lights && is_level
    };
    book.points().map(|(number, _)| number).filter(|number| is_lamp(*number)).collect()
}
