//! What a sheet has to say of the devices on it: what they lack, and the cautions that go with their kinds.

use std::collections::BTreeSet;

use crate::id::Id;
use crate::kit::{Device, Family, Kind, Mount};
use crate::project::Project;
use crate::systems::ZonePurpose;

/// Something that devices lack, with the tags of those that lack it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Missing {
    /// What is missing, in words.
    pub what: &'static str,
    /// Tags, in order.
    pub tags: Vec<String>,
}

/// What is missing of devices: heights, things to be fixed to, boxes, and zones that would switch a luminaire.
/// Printed as missing, never guessed.
pub(super) fn missing(project: &Project, devices: impl IntoIterator<Item = Id<Device>>) -> Vec<Missing> {
    let zoned: BTreeSet<Id<Device>> = project
        .zones
        .iter()
        .filter(|(_, zone)| zone.purpose == ZonePurpose::Lighting)
        .flat_map(|(_, zone)| zone.points.iter().map(|point| point.device))
        .collect();
    let mut devices: Vec<(Id<Device>, &Device, &Kind)> = devices
        .into_iter()
        .filter_map(|id| {
            let device = project.devices.get(id)?;
            Some((id, device, project.kinds.get(device.kind)?))
        })
        .collect();
    devices.sort_by(|(_, a, _), (_, b, _)| a.tag.cmp(&b.tag));
    let tags = |lacks: &dyn Fn(Id<Device>, &Device, &Kind) -> bool| -> Vec<String> {
        let lacking = devices.iter().filter(|(id, device, kind)| lacks(*id, device, kind));
        lacking.map(|(_, device, _)| device.tag.to_string()).collect()
    };
    [
        Missing { what: "Height missing", tags: tags(&|_, device, _| device.height_affl.is_none()) },
        Missing {
            what: "Host missing, fixed to nothing yet",
            tags: tags(&|_, device, _| matches!(device.mount, Mount::Loose { .. })),
        },
        Missing {
            what: "Box missing",
            tags: tags(&|_, _, kind| kind.needs_back_box() && kind.back_box.is_none()),
        },
        Missing {
            what: "Lighting zone missing",
            tags: tags(&|id, _, kind| kind.family == Family::Luminaires && !zoned.contains(&id)),
        },
    ]
    .into_iter()
    .filter(|missing| !missing.tags.is_empty())
    .collect()
}

/// The cautions of the kinds of some devices, each sentence once, with the codes of the kinds it goes with.
pub(super) fn kind_cautions(project: &Project, devices: impl IntoIterator<Item = Id<Device>>) -> Vec<String> {
    let mut cautions: Vec<(String, BTreeSet<String>)> = Vec::new();
    let kinds: BTreeSet<_> =
        devices.into_iter().filter_map(|id| project.devices.get(id)).map(|device| device.kind).collect();
    for kind in kinds.into_iter().filter_map(|id| project.kinds.get(id)) {
        for words in kind.caution.iter().flat_map(|caution| sentences(caution)) {
            match cautions.iter_mut().find(|(known, _)| *known == words) {
                Some((_, codes)) => {
                    codes.insert(kind.code.clone());
                }
                None => cautions.push((words, BTreeSet::from([kind.code.clone()]))),
            }
        }
    }
    cautions
        .into_iter()
        .map(|(words, codes)| {
            let codes: Vec<String> = codes.into_iter().filter(|code| !code.is_empty()).collect();
            if codes.is_empty() { words } else { format!("{}: {words}", codes.join(", ")) }
        })
        .collect()
}

/// The sentences of a caution.
fn sentences(caution: &str) -> Vec<String> {
    let mut sentences: Vec<String> = caution.split(". ").map(|part| part.trim().to_owned()).collect();
    let last = sentences.len().saturating_sub(1);
    for sentence in &mut sentences[..last] {
        sentence.push('.');
    }
    sentences.retain(|sentence| !sentence.is_empty());
    sentences
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::History;
    use crate::edit::verbs::{self, Placing};
    use crate::kit::catalogue::kind_by_key;
    use crate::units::Angle;
    use kurbo::Point;

    /// A house with one device of a shipped kind, which may be altered, on nothing.
    fn with_one(key: &str, alter: impl Fn(&mut Kind)) -> Project {
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let mut kind = kind_by_key(key).unwrap();
        alter(&mut kind);
        let change = verbs::with_kind(&project, &kind, |project, kind| {
            let placing = Placing { kind, level, turn: Angle::ZERO, height: None };
            verbs::place_device(project, placing, Mount::Ceiling { at: Point::ORIGIN })
        });
        History::default().apply(&mut project, change.unwrap()).unwrap();
        project
    }

    #[test]
    fn what_is_missing_is_told_by_tag() {
        for (key, without_box, expected) in [
            ("downlight", false, &["Lighting zone missing"][..]),
            ("pendant", false, &["Height missing", "Lighting zone missing"]),
            ("plate-4", true, &["Box missing"]),
            ("plate-4", false, &[]),
            ("smoke-alarm", false, &[]),
        ] {
            let project = with_one(key, |kind| {
                if without_box {
                    kind.back_box = None;
                }
            });
            let told = missing(&project, project.devices.ids());
            let words: Vec<&str> = told.iter().map(|missing| missing.what).collect();
            assert_eq!(words, expected, "{key}");
            assert!(told.iter().all(|missing| missing.tags.len() == 1));
        }
    }
}
