//! `project.json`: a project written as text and read again, whole or not at all.

use std::collections::BTreeSet;

use serde::Deserialize;
use serde_json::Value;

use super::layout::lay_out;
use super::migration::{STEPS, migrate};
use super::v1::{Filed, IdV1, PlanV1, TagNumber};
use super::{ReadError, migration};
use crate::edit::{Entity, Op, invariant};
use crate::id::Id;
use crate::project::Kept;
use crate::project::{Project, Table};

/// What the `format` field of every plan says.
pub const FORMAT: &str = "pattress-plan";

/// The version of the format that this release writes, and the newest that it reads.
pub const VERSION: u32 = 1;

/// The text of `project.json`: stable key order, one thing a line, so that two versions differ in few lines.
pub fn write_project(project: &Project) -> String {
    let plan = PlanV1 {
        format: FORMAT.to_owned(),
        version: VERSION,
        written_by: env!("CARGO_PKG_VERSION").to_owned(),
        next_id: IdV1::number(project.next_id()),
        highest_tags: project
            .highest_tags()
            .iter()
            .map(|(code, number)| (code.clone(), TagNumber(*number)))
            .collect(),
        site: project.site.as_ref().into(),
        levels: filed(&project.levels),
        walls: filed(&project.walls),
        openings: filed(&project.openings),
        rooms: filed(&project.rooms),
        room_lines: filed(&project.room_lines),
        joinery: filed(&project.joinery),
        underlays: filed(&project.underlays),
        spots: filed(&project.spots),
        walks: filed(&project.walks),
        kinds: filed(&project.kinds),
        devices: filed(&project.devices),
        zones: filed(&project.zones),
        modes: filed(&project.modes),
        scenes: filed(&project.scenes),
        scripts: filed(&project.scripts),
        rules: filed(&project.rules),
    };
    // Nothing in these structs can fail to become JSON: every key is a text. An empty text, which no reader
    // accepts, would be caught where a plan is saved, which reads back what it wrote.
    serde_json::to_value(&plan).map(|value| lay_out(&value)).unwrap_or_default()
}

fn filed<T, F: Filed<T>>(table: &Table<T>) -> Vec<F> {
    table.iter().map(|(id, thing)| F::of(id, thing)).collect()
}

/// Reads the text of `project.json`.
///
/// # Errors
/// [`ReadError`]: the first thing that keeps it from being read whole, with its place.
pub fn read_project(text: &str) -> Result<Project, ReadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let version = version_of(text)?;
    let plan: PlanV1 = if version == VERSION {
        serde_json::from_str(text).map_err(|error| ReadError::from_json(&error))?
    } else {
        let older: Value = serde_json::from_str(text).map_err(|error| ReadError::from_json(&error))?;
        let current = migrate(older, version, VERSION, STEPS)?;
        serde_json::from_value(current).map_err(|error| ReadError::from_json(&error))?
    };
    project_of(plan)
}

/// The few fields that tell what a text is; all else is passed over.
#[derive(Deserialize)]
struct Head {
    format: Option<Value>,
    version: Option<Value>,
    written_by: Option<Value>,
}

/// The version of the format, once it is sure that this release can go on reading.
fn version_of(text: &str) -> Result<u32, ReadError> {
    if text.trim_start().starts_with('[') {
        let _: serde::de::IgnoredAny =
            serde_json::from_str(text).map_err(|error| ReadError::from_json(&error))?;
        return Err(ReadError::NotAPlan { what: "it is a list".to_owned() });
    }
    let head: Head = serde_json::from_str(text).map_err(|error| match ReadError::from_json(&error) {
        ReadError::WrongShape { what, .. } => ReadError::NotAPlan { what },
        other => other,
    })?;
    match head.format.as_ref().and_then(Value::as_str) {
        Some(FORMAT) => {}
        Some(other) => return Err(ReadError::NotAPlan { what: format!("its format is “{other}”") }),
        None => return Err(ReadError::NotAPlan { what: "it does not name its format".to_owned() }),
    }
    let Some(version) = head.version.as_ref().and_then(Value::as_u64) else {
        return Err(ReadError::NotAPlan { what: "it does not name the version of its format".to_owned() });
    };
    match u32::try_from(version) {
        Ok(known) if known == VERSION || migration::STEPS.iter().any(|step| step.from == known) => Ok(known),
        Ok(older) if older < VERSION => {
            Err(ReadError::NeverIssued { version: u64::from(older), readable: VERSION })
        }
        _ => {
            let written_by = head.written_by.as_ref().and_then(Value::as_str).unwrap_or("(not named)");
            Err(ReadError::Newer { version, readable: VERSION, written_by: written_by.to_owned() })
        }
    }
}

/// Puts everything into an empty project, then asks for every breach of what a project must be.
fn project_of(plan: PlanV1) -> Result<Project, ReadError> {
    let highest_tags = plan.highest_tags.into_iter().map(|(code, number)| (code, number.0)).collect();
    let mut project = Project::with_counters(plan.next_id.into(), highest_tags);
    project.perform(Op::Put(Entity::Site(std::sync::Arc::new(plan.site.into()))));
    put_all(&mut project, plan.levels)?;
    put_all(&mut project, plan.walls)?;
    put_all(&mut project, plan.openings)?;
    put_all(&mut project, plan.rooms)?;
    put_all(&mut project, plan.room_lines)?;
    put_all(&mut project, plan.joinery)?;
    put_all(&mut project, plan.underlays)?;
    put_all(&mut project, plan.spots)?;
    put_all(&mut project, plan.walks)?;
    put_all(&mut project, plan.kinds)?;
    put_all(&mut project, plan.devices)?;
    put_all(&mut project, plan.zones)?;
    put_all(&mut project, plan.modes)?;
    put_all(&mut project, plan.scenes)?;
    put_all(&mut project, plan.scripts)?;
    put_all(&mut project, plan.rules)?;
    match invariant::check_all(&project).into_iter().next() {
        None => Ok(project),
        Some(breach) => Err(ReadError::from_breach(breach)),
    }
}

fn put_all<T: Kept, F: Filed<T>>(project: &mut Project, things: Vec<F>) -> Result<(), ReadError> {
    let mut seen: BTreeSet<Id<T>> = BTreeSet::new();
    for filed in things {
        let (id, thing) = filed.thing();
        if !seen.insert(id) {
            return Err(ReadError::DuplicateId { sort: T::subject(id).sort(), number: id.number() });
        }
        project.perform(Op::put(id, thing));
    }
    Ok(())
}

/// The JSON Schema (draft 2020-12) of `project.json`, as it is kept beside this file.
pub fn plan_schema() -> String {
    let schema = schemars::schema_for!(PlanV1);
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use super::super::sample::full_house;
    use super::*;

    #[test]
    fn one_of_everything_comes_back_and_is_written_alike() {
        let house = full_house();
        let text = write_project(&house);
        let back = read_project(&text).unwrap_or_else(|error| panic!("{error}\n{text}"));
        assert_eq!(back, house);
        assert_eq!(write_project(&back), text);
        assert_eq!(read_project(&format!("\u{feff}{text}")).unwrap(), house);
    }

    #[test]
    fn a_moved_thing_changes_one_line() {
        let house = full_house();
        let (id, wall) = house.walls.iter().next().unwrap();
        let mut moved = house.clone();
        moved.perform(Op::put(id, crate::plan::Wall { end: kurbo::Point::new(6000.0, 0.0), ..wall.clone() }));
        let (before, after) = (write_project(&house), write_project(&moved));
        assert_eq!(before.lines().zip(after.lines()).filter(|(a, b)| a != b).count(), 1);
    }

    #[test]
    fn the_schema_kept_in_the_repository_is_that_of_the_code() {
        let (kept, now) = (include_str!("plan.schema.json"), plan_schema());
        let differs = kept.lines().zip(now.lines()).position(|(kept, now)| kept != now);
        assert!(
            kept == now,
            "the structs of the file have changed, first at line {:?} of plan.schema.json: write it anew, and if \
             the change is not one that an older plan fits, raise VERSION and add a migration",
            differs.map(|line| line + 1)
        );
    }

    #[test]
    fn every_refusal_names_the_place_and_the_way_out() {
        let text = write_project(&full_house());
        let with = |from: &str, to: &str| {
            assert!(text.contains(from), "{from} is not in the plan:\n{text}");
            text.replacen(from, to, 1)
        };
        let cases = [
            (String::new(), "cut short"),
            (text[..text.len() / 2].to_owned(), "cut short"),
            ("PK\u{3}\u{4}".to_owned(), "not JSON"),
            ("[1, 2]".to_owned(), "not a Pattress plan (it is a list)"),
            ("{}".to_owned(), "not a Pattress plan"),
            (with("pattress-plan", "recipes"), "“recipes”"),
            (with("\"version\": 1", "\"version\": \"one\""), "not a Pattress plan"),
            (with("\"version\": 1", "\"version\": 0"), "which no release has issued"),
            (with("\"version\": 1", "\"version\": 7"), "open it with release"),
            (with("\"thickness\": 102.5", "\"thickness\": 1e999"), "not finite"),
            (with("\"thickness\": 102.5", "\"thickness\": \"thick\""), "expected a number"),
            (with("\"thickness\": 102.5", "\"thickness\": -1"), "wall 2 in project.json"),
            (with("\"thickness\": 102.5", "\"thick\": 102.5"), "unknown field `thick`"),
            (with("\"make_up\": \"block\"", "\"make_up\": \"cheese\""), "unknown word `cheese`"),
            (with("[5000.3, 0]", "[-1200, 0.1]"), "wall 2: the wall has no length"),
            (with("[5000.3, 0]", "[5000.3]"), "such as [1200, 3400]"),
            (with("\"along\": 900", "\"along\": 90000"), "beyond the end of its wall"),
            (with("\"wall\": 2", "\"wall\": 99"), "refers to wall 99"),
            (with("PIR-02", "PIR-01"), "PIR-01 is given twice"),
            (with("PIR-02", "PIR"), "“PIR” is not a tag"),
            (with("\"id\": 14,", "\"id\": 15,"), "is there twice"),
            (with("\"id\": 7,", "\"id\": 4294967295,"), "too high for an id"),
            (with("22:30", "25:00"), "type 22:30"),
        ];
        for (hostile, expected) in cases {
            let sentence = read_project(&hostile).map(|_| ()).unwrap_err().to_string();
            assert!(sentence.contains(expected), "{sentence} does not say {expected}");
            assert!(sentence.contains(": "), "no way out: {sentence}");
        }
    }

    #[test]
    fn a_plan_cut_short_anywhere_is_refused() {
        let text = write_project(&full_house());
        for end in (0..text.trim_end().len()).filter(|end| text.is_char_boundary(*end)) {
            assert!(read_project(&text[..end]).is_err(), "cut at {end}");
        }
    }
}
