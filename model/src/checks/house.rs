//! The house as the checks see it: the project, where everything is, and the words to speak of it.
//!
//! Rooms are worked out once; each check then reads them. What sort of thing a kind is follows from its
//! family, its points and the words of its name, so that the integrator's own kinds are checked like ours.

use std::cell::OnceCell;
use std::collections::BTreeSet;

use kurbo::Point;

use super::{Finding, Severity};
use crate::building::Whereabouts;
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, Drives, Family, Kind};
use crate::limits::{Limit, limits};
use crate::plan::{Level, Room, Sense, Spot};
use crate::project::Project;
use crate::studies::coverage::alarms;
use crate::studies::coverage::intrusion;
use crate::studies::coverage::{CameraCoverage, Options, Report, SunPath, coverage};
use crate::systems::ZonePurpose;

/// Source of demands that follow from the plan itself: what is missing cannot be set out or built.
pub const COMMON_PRACTICE: &str = "common practice, no published source";

/// A project with its rooms worked out.
pub struct House<'a> {
    /// The project.
    pub project: &'a Project,
    /// Which room each device is in.
    pub whereabouts: Whereabouts,
    coverage: OnceCell<Report>,
    alarms: OnceCell<alarms::Report>,
    sun: OnceCell<Option<SunPath>>,
    intrusion: OnceCell<intrusion::Report>,
}

impl<'a> House<'a> {
    /// Works out the rooms.
    pub fn of(project: &'a Project) -> Self {
        let whereabouts = Whereabouts::of(project);
        Self {
            project,
            whereabouts,
            coverage: OnceCell::new(),
            alarms: OnceCell::new(),
            sun: OnceCell::new(),
            intrusion: OnceCell::new(),
        }
    }

    /// What the sensors cover with doors as drawn and what follows for the rooms, worked out when first asked for.
    pub fn coverage(&self) -> &Report {
        self.coverage.get_or_init(|| coverage(self.project, Options::default()))
    }

    /// What the fire alarms reach, worked out when first asked.
    pub fn alarms(&self) -> &alarms::Report {
        self.alarms.get_or_init(|| alarms::alarms(self.project, &self.whereabouts))
    }

    /// What every camera shows, doors as drawn.
    pub fn cameras(&self) -> &[CameraCoverage] {
        &self.coverage().cameras
    }

    /// The sun's year over the site; `None` where its place is not known.
    pub fn sun(&self) -> Option<&SunPath> {
        self.sun.get_or_init(|| SunPath::of(&self.project.site)).as_ref()
    }

    /// What the intruder alarm watches and crosses, worked out when first asked.
    pub fn intrusion(&self) -> &intrusion::Report {
        self.intrusion.get_or_init(|| intrusion::intrusion(self.project))
    }

    /// A limit of that name.
    pub fn limit(&self, name: &str) -> Option<&'static Limit> {
        limits().get(name)
    }

    /// Every device with its kind.
    pub fn devices(&self) -> impl Iterator<Item = (Id<Device>, &'a Device, &'a Kind)> {
        let project = self.project;
        project.devices.iter().filter_map(|(id, device)| Some((id, device, project.kinds.get(device.kind)?)))
    }

    /// The room a device is in.
    pub fn room_of(&self, device: &Device) -> Option<(Id<Room>, &'a Room)> {
        let id = self.whereabouts.room_of(self.project, device)?;
        Some((id, self.project.rooms.get(id)?))
    }

    /// `PL-01 (Kitchen, Ground floor)`.
    pub fn called(&self, device: &Device) -> String {
        let level = self.level_name(device.level);
        match self.room_of(device) {
            Some((_, room)) if !room.name.trim().is_empty() => {
                format!("{} ({}, {level})", device.tag, room.name)
            }
            _ => format!("{} ({level})", device.tag),
        }
    }

    /// The name of a level.
    pub fn level_name(&self, level: Id<Level>) -> &'a str {
        self.project.levels.get(level).map_or("level missing", |level| level.name.as_str())
    }

    /// The name of a room, or what is said where it has none.
    pub fn room_name(&self, room: Id<Room>) -> &'a str {
        let name = self.project.rooms.get(room).map_or("", |room| room.name.trim());
        if name.is_empty() { "a room without a name" } else { name }
    }

    /// The tag of a device.
    pub fn tag(&self, device: Id<Device>) -> String {
        self.project.devices.get(device).map_or_else(String::new, |device| device.tag.to_string())
    }

    /// A finding about a device, at its place.
    pub fn of_device(
        &self,
        (id, device): (Id<Device>, &Device),
        severity: Severity,
        check: &'static str,
        sentence: String,
        source: &'static str,
    ) -> Finding {
        Finding {
            severity,
            check,
            subject: Subject::Device(id),
            level: Some(device.level),
            at: self.project.position_of(device),
            sentence,
            source,
            fix: None,
            script: None,
        }
    }

    /// A finding about a spot, at its place.
    pub fn of_spot(
        &self,
        (id, spot): (Id<Spot>, &Spot),
        severity: Severity,
        check: &'static str,
        sentence: String,
        source: &'static str,
    ) -> Finding {
        let (level, at) = (Some(spot.level), Some(spot.at));
        Finding {
            severity,
            check,
            subject: Subject::Spot(id),
            level,
            at,
            sentence,
            source,
            fix: None,
            script: None,
        }
    }

    /// A finding about something that has no place of its own.
    pub fn of_subject(
        &self,
        subject: Subject,
        severity: Severity,
        check: &'static str,
        sentence: String,
        source: &'static str,
    ) -> Finding {
        Finding { severity, check, subject, level: None, at: None, sentence, source, fix: None, script: None }
    }

    /// A finding about a room, at its seed.
    pub fn of_room(
        &self,
        (id, room): (Id<Room>, &Room),
        severity: Severity,
        check: &'static str,
        sentence: String,
        source: &'static str,
    ) -> Finding {
        let (level, at): (_, Point) = (room.level, room.seed);
        Finding {
            severity,
            check,
            subject: Subject::Room(id),
            level: Some(level),
            at: Some(at),
            sentence,
            source,
            fix: None,
            script: None,
        }
    }

    /// Devices of a sort that are in no zone of that purpose: one finding each.
    pub fn outside_zones(
        &self,
        purpose: ZonePurpose,
        is_meant: impl Fn(&Kind) -> bool,
        check: &'static str,
        zone: &str,
    ) -> Vec<Finding> {
        let zones = self.project.zones.iter().filter(|(_, zone)| zone.purpose == purpose);
        let zoned: BTreeSet<Id<Device>> =
            zones.flat_map(|(_, zone)| zone.points.iter().map(|point| point.device)).collect();
        self.devices()
            .filter(|(id, _, kind)| is_meant(kind) && !zoned.contains(id))
            .map(|(id, device, _)| {
                let sentence = format!("{} is in no {zone}: put it into one.", self.called(device));
                self.of_device((id, device), Severity::Warning, check, sentence, COMMON_PRACTICE)
            })
            .collect()
    }
}

/// Whether a kind's name holds one of these words, in either case.
fn named(kind: &Kind, words: &[&str]) -> bool {
    let name = kind.name.to_lowercase();
    words.iter().any(|word| name.contains(word))
}

/// A smoke alarm, or an alarm that senses smoke among other things.
pub fn is_smoke_alarm(kind: &Kind) -> bool {
    kind.fire.is_some_and(|alarm| alarm.notices.notices_smoke())
}

/// A heat alarm, or an alarm that senses heat among other things.
pub fn is_heat_alarm(kind: &Kind) -> bool {
    kind.fire.is_some_and(|alarm| alarm.notices.notices_heat())
}

/// A motor of a blind, a curtain, a shutter or an awning.
pub fn is_blind_motor(kind: &Kind) -> bool {
    kind.drives.is_some_and(Drives::shades)
}

/// A motor or a lock that can crush, trap or let someone in: gates, garage doors, doors, locks.
pub fn is_powered_way(kind: &Kind) -> bool {
    kind.drives.is_some_and(Drives::is_powered_way)
}

/// A sensor that notices leaking water.
pub fn is_leak_sensor(kind: &Kind) -> bool {
    kind.family == Family::Environment && kind.point("leak").is_some()
}

/// A consumer unit.
pub fn is_consumer_unit(kind: &Kind) -> bool {
    kind.family == Family::Plant && named(kind, &["consumer unit"])
}

/// A detector that sees body heat, alone or together with microwaves.
pub fn sees_body_heat(kind: &Kind) -> bool {
    kind.detection.as_ref().is_some_and(|detection| matches!(detection.sense, Sense::BodyHeat | Sense::Dual))
}

/// Millimetres as findings write them (`2100 mm`).
pub fn mm(length: crate::units::Length) -> String {
    format!("{length} mm")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::catalogue::catalogue;

    #[test]
    fn shipped_kinds_are_told_apart_by_family_and_name() {
        let keys = |is: fn(&Kind) -> bool| -> Vec<&str> {
            catalogue().iter().filter(|entry| is(&entry.kind)).map(|entry| entry.key).collect()
        };
        assert_eq!(keys(is_smoke_alarm), ["smoke-alarm", "smoke-alarm-battery", "multi-sensor-alarm"]);
        assert_eq!(keys(is_heat_alarm), ["heat-alarm", "multi-sensor-alarm"]);
        assert_eq!(
            keys(is_blind_motor),
            ["blind-motor", "blind-motor-24v", "roof-blind-motor", "curtain-motor"]
        );
        assert_eq!(keys(is_powered_way), ["gate-motor", "garage-door-motor", "lock-release", "motor-lock"]);
        assert_eq!(keys(is_consumer_unit), ["consumer-unit"]);
    }
}
