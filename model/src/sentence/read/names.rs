//! The names of a plan as they are typed: devices by tag or by name, their points, zones and what stands in
//! quotation marks.

use super::Ways;
use super::fault::{Expected, Sort};
use super::text::Reader;
use crate::id::Id;
use crate::kit::{Device, PointRole};
use crate::project::Table;
use crate::sentence::{device_words, names, words};
use crate::systems::{HouseMode, PointRef, Rule, Scene, Target, Zone};

impl Reader<'_> {
    /// Everything that each device may be called: what a sentence calls it, its tag, its name.
    pub(super) fn names_of_devices(&self) -> Vec<(String, Id<Device>)> {
        let mut found = Vec::new();
        for (id, device) in self.project.devices.iter() {
            let spoken = device_words(self.project, id);
            let tag = device.tag.to_string();
            if spoken != device.name && !device.name.is_empty() {
                found.push((device.name.clone(), id));
            }
            if spoken != tag {
                found.push((tag, id));
            }
            found.push((spoken, id));
        }
        found
    }

    /// Devices named at a place. Where none is, a name of that sort was expected.
    fn device_as(&mut self, at: usize, sort: Sort) -> Ways<Id<Device>> {
        let mut found: Ways<Id<Device>> = Vec::new();
        let mut farthest = self.past_blanks(at);
        let known = std::mem::take(&mut self.devices);
        for (words, id) in &known {
            match self.along(at, words) {
                Ok(end) => found.push((end, *id)),
                Err(failed) => farthest = farthest.max(failed),
            }
        }
        self.devices = known;
        // The longest name first: “Hall lamp 12” is not “Hall lamp 1”.
        found.sort_by_key(|(end, _)| std::cmp::Reverse(*end));
        self.wants(farthest, Expected::Name { sort, from: self.past_blanks(at) });
        found
    }

    /// A device by itself.
    pub(super) fn device(&mut self, at: usize) -> Ways<Id<Device>> {
        self.device_as(at, Sort::Device)
    }

    /// Points of the devices named at a place, whose own name may be left unsaid: with where the device's name ends,
    /// and where that of the point does, if it is said.
    pub(super) fn points_of_devices(
        &mut self,
        at: usize,
    ) -> Vec<(usize, PointRef, PointRole, Option<usize>)> {
        let mut found = Vec::new();
        for (end, device) in self.device_as(at, Sort::Point) {
            let Some(kind) = names::kind_of(self.project, device) else { continue };
            let mut farthest = self.past_blanks(end);
            for spec in &kind.points {
                let said = match self.along(end, &format!(" {}", spec.name)) {
                    Ok(end) => Some(end),
                    Err(failed) => {
                        farthest = farthest.max(failed);
                        None
                    }
                };
                found.push((end, PointRef::new(device, spec.name.as_str()), spec.role, said));
            }
            self.wants(farthest, Expected::Name { sort: Sort::Point, from: self.past_blanks(at) });
        }
        found
    }

    /// A point by its device and its own name.
    pub(super) fn point(&mut self, at: usize) -> Ways<PointRef> {
        let points = self.points_of_devices(at);
        let mut found: Ways<PointRef> =
            points.into_iter().filter_map(|(_, point, _, said)| Some((said?, point))).collect();
        found.sort_by_key(|(end, _)| std::cmp::Reverse(*end));
        found
    }

    pub(super) fn zone(&mut self, at: usize) -> Ways<Id<Zone>> {
        let project = self.project;
        let known = project.zones.ids().map(|zone| (names::zone_words(project, zone), zone));
        let mut found = Vec::new();
        let mut farthest = self.past_blanks(at);
        for (words, zone) in known.filter(|(words, _)| !words.is_empty()) {
            match self.along(at, &words) {
                Ok(end) => found.push((end, zone)),
                Err(failed) => farthest = farthest.max(failed),
            }
        }
        found.sort_by_key(|(end, _)| std::cmp::Reverse(*end));
        self.wants(farthest, Expected::Name { sort: Sort::Zone, from: self.past_blanks(at) });
        found
    }

    /// What may be worked on, each with the name of the point by which its verbs are chosen.
    pub(super) fn target(&mut self, at: usize) -> Ways<(Target, String)> {
        let mut found: Ways<(Target, String)> = Vec::new();
        for (end, zone) in self.zone(at) {
            let point = names::point_of_zone(self.project, zone);
            if names::wants_lights(self.project, zone)
                && let Some(end) = self.word(end, " lights")
            {
                found.push((end, (Target::Zone(zone), point.clone())));
            }
            found.push((end, (Target::Zone(zone), point)));
        }
        let mut unsaid = Vec::new();
        for (device_end, point, role, said) in self.points_of_devices(at) {
            let name = point.point.clone();
            if words::goes_without_saying(&name) {
                // What does something is meant before what only reports.
                unsaid.push((role, device_end, (Target::Point(point.clone()), name.clone())));
            }
            found.extend(said.map(|end| (end, (Target::Point(point), name))));
        }
        unsaid.sort_by_key(|(role, end, _)| (*role != PointRole::Does, std::cmp::Reverse(*end)));
        found.extend(unsaid.into_iter().map(|(_, end, target)| (end, target)));
        found
    }

    /// A house mode, in quotation marks or without.
    pub(super) fn mode(&mut self, at: usize) -> Option<(usize, HouseMode)> {
        if let Ok(end) = self.along(at, "“At home”").or_else(|_| self.along(at, "at home")) {
            return Some((end, HouseMode::AtHome));
        }
        let table = &self.project.modes;
        self.in_marks(at, Sort::Mode, table, |mode| &mode.name)
            .map(|(end, mode)| (end, HouseMode::Named(mode)))
    }

    pub(super) fn scene(&mut self, at: usize) -> Option<(usize, Id<Scene>)> {
        self.in_marks(at, Sort::Scene, &self.project.scenes, |scene| &scene.name)
    }

    pub(super) fn rule(&mut self, at: usize) -> Option<(usize, Id<Rule>)> {
        self.in_marks(at, Sort::Rule, &self.project.rules, |rule| &rule.name)
    }

    /// A thing whose name stands in quotation marks.
    fn in_marks<T>(
        &mut self,
        at: usize,
        sort: Sort,
        table: &Table<T>,
        name: impl Fn(&T) -> &str + Copy,
    ) -> Option<(usize, Id<T>)> {
        let from = self.past_blanks(at);
        let is_marked = self.rest(from).starts_with(['“', '"']);
        let found = if is_marked {
            let (end, typed) = self.quoted(at, "a name")?;
            let typed = typed.trim().to_lowercase();
            let spoken = |(id, _): &(Id<T>, &T)| names::told_apart(table, *id, name).to_lowercase() == typed;
            let plain = |(_, thing): &(Id<T>, &T)| name(thing).to_lowercase() == typed;
            let by_name = table.iter().filter(|(_, thing)| typed.starts_with(&name(thing).to_lowercase()));
            let candidates: Vec<(Id<T>, &T)> = by_name.collect();
            let found =
                candidates.iter().find(|it| spoken(it)).or_else(|| candidates.iter().find(|it| plain(it)));
            found.map(|(id, _)| (end, *id))
        } else {
            let mut best = None;
            for (id, thing) in table.iter().filter(|(_, thing)| !name(thing).is_empty()) {
                if let Ok(end) = self.along(at, name(thing))
                    && best.is_none_or(|(known, _)| end > known)
                {
                    best = Some((end, id));
                }
            }
            best
        };
        if found.is_none() {
            self.wants(from, Expected::Name { sort, from });
        }
        found
    }
}
