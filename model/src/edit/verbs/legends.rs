//! Write the words on the keys of a plate, mark them final, and take that back.
//!
//! What a key does follows from the rules and is worked out by [`crate::sentence::keys`]; whoever marks a legend final
//! hands in the words as they stand and what each key does that day, and both are kept.

use super::draft::Draft;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::kit::{Device, KeyLegend, PlateLegend};
use crate::project::Project;

/// Writes one or two short lines on a key; with both empty the key says again what it does.
///
/// # Errors
/// A sentence, where the plate is gone, has no such key, a line is too long, or the legend is final.
pub fn set_legend(
    project: &Project,
    id: Id<Device>,
    key: &str,
    words: [String; 2],
) -> Result<Change, String> {
    let mut device = plate(project, id)?;
    if device.legend.is_final {
        return Err(format!(
            "the legend of {} is final and may be engraved already: take that back before its words change",
            device.tag
        ));
    }
    let words = words.map(|line| line.trim().to_owned());
    let legend = &mut device.legend;
    let at = legend.keys.iter().position(|legend| legend.key == key);
    match (at, words.iter().all(String::is_empty)) {
        (Some(at), true) => drop(legend.keys.remove(at)),
        (Some(at), false) => legend.keys[at].words = words,
        (None, true) => {}
        (None, false) => legend.keys.push(KeyLegend { key: key.to_owned(), words, did: Vec::new() }),
    }
    put(project, id, device, "Write on")
}

/// Marks the legend of a plate final. `agreed` has, for every key, the words that will be engraved and what the key
/// does now.
///
/// # Errors
/// A sentence, where the plate is gone or what is agreed does not fit it.
pub fn mark_legend_final(
    project: &Project,
    id: Id<Device>,
    agreed: Vec<KeyLegend>,
) -> Result<Change, String> {
    let mut device = plate(project, id)?;
    device.legend = PlateLegend { is_final: true, keys: agreed };
    put(project, id, device, "Mark final the legend of")
}

/// Makes the legend of a plate provisional again; its words stay.
///
/// # Errors
/// A sentence, where the plate is gone.
pub fn take_legend_back(project: &Project, id: Id<Device>) -> Result<Change, String> {
    let mut device = plate(project, id)?;
    device.legend = provisional(device.legend);
    put(project, id, device, "Take back the legend of")
}

/// A legend with its words that nobody has agreed to.
pub(super) fn provisional(legend: PlateLegend) -> PlateLegend {
    let mut keys = legend.keys;
    for key in &mut keys {
        key.did.clear();
    }
    keys.retain(|key| key.words.iter().any(|line| !line.is_empty()));
    PlateLegend { is_final: false, keys }
}

fn plate(project: &Project, id: Id<Device>) -> Result<Device, String> {
    project.devices.get(id).cloned().ok_or_else(|| gone("plate"))
}

fn put(project: &Project, id: Id<Device>, device: Device, verb: &str) -> Result<Change, String> {
    let label = format!("{verb} {}", device.tag);
    let mut draft = Draft::of(project);
    draft.put(id, device);
    draft.finish(label)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{History, verbs};
    use crate::small_house::small_house;

    fn lines(first: &str, second: &str) -> [String; 2] {
        [first.to_owned(), second.to_owned()]
    }

    #[test]
    fn words_are_written_engraved_and_taken_back() {
        let mut house = small_house();
        let (plate, _) = house.project.devices.iter().find(|(_, device)| device.tag.code == "PL").unwrap();
        let mut history = History::default();
        let mut apply = |change: Result<Change, String>| {
            history.apply(&mut house.project, change.unwrap()).unwrap();
            house.project.clone()
        };
        let project = apply(set_legend(&small_house().project, plate, "key 1", lines(" Kitchen ", "light")));
        let legend = &project.devices.get(plate).unwrap().legend;
        assert_eq!(legend.of("key 1").unwrap().words, lines("Kitchen", "light"));
        for (key, words, part) in [
            ("key 9", lines("Nothing", ""), "does not have"),
            ("key 2", lines("A line that nobody reads on a key", ""), "longer than"),
        ] {
            assert!(set_legend(&project, plate, key, words).unwrap_err().contains(part), "{key}");
        }
        let agreed = vec![KeyLegend {
            key: "key 1".to_owned(),
            words: lines("Kitchen", "light"),
            did: vec!["one press: turn Kitchen ceiling lights on or off".to_owned()],
        }];
        let project = apply(mark_legend_final(&project, plate, agreed));
        assert!(set_legend(&project, plate, "key 1", lines("", "")).unwrap_err().contains("is final"));
        let project = apply(take_legend_back(&project, plate));
        let legend = &project.devices.get(plate).unwrap().legend;
        assert!(!legend.is_final && legend.of("key 1").unwrap().did.is_empty());
        let project = apply(set_legend(&project, plate, "key 1", lines("", "")));
        assert_eq!(project.devices.get(plate).unwrap().legend, PlateLegend::default());
    }

    #[test]
    fn a_key_takes_its_words_along_and_a_copy_is_provisional() {
        let house = small_house();
        let (plate, device) =
            house.project.devices.iter().find(|(_, device)| device.tag.code == "PL").unwrap();
        let mut project = house.project.clone();
        let agreed = |key: &str| KeyLegend {
            key: key.to_owned(),
            words: lines("Light", ""),
            did: vec!["one press: …".to_owned()],
        };
        let change = mark_legend_final(&project, plate, vec![agreed("key 1"), agreed("key 2")]).unwrap();
        History::default().apply(&mut project, change).unwrap();
        let mut kind = project.kinds.get(device.kind).unwrap().clone();
        for point in &mut kind.points {
            point.name = point.name.replace("key", "button");
        }
        let renamed = ["key 1", "key 2"].map(|key| (key.to_owned(), key.replace("key", "button")));
        let change = verbs::edit_kind(&project, device.kind, kind, &renamed).unwrap();
        History::default().apply(&mut project, change).unwrap();
        assert!(project.devices.get(plate).unwrap().legend.of("button 2").is_some());
        let by = kurbo::Vec2::new(500.0, 0.0);
        let change = verbs::copy_things(&project, &[crate::edit::Subject::Device(plate)], by).unwrap();
        History::default().apply(&mut project, change).unwrap();
        let copy = project.devices.iter().rfind(|(_, device)| device.tag.code == "PL").unwrap().1;
        assert!(!copy.legend.is_final && copy.legend.of("button 1").unwrap().did.is_empty());
    }
}
