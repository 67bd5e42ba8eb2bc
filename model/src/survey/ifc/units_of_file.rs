//! The units in which a file writes lengths and angles.

use super::reading::Reading;
use super::step::Record;

/// How far units may be defined by one another: an inch by a millimetre.
const LONGEST_DEFINITION: usize = 4;

/// What a file's numbers mean.
struct Found {
    mm: Option<f64>,
    radians: Option<f64>,
}

/// Finds the project's units and sets them.
pub(super) fn find_units(reading: &mut Reading<'_>) {
    let projects = reading.file.all_of(&["IFCPROJECT"]);
    let assigned = projects.iter().find_map(|number| {
        let project = reading.file.record(*number)?;
        reading.file.record_at(&project, 8)
    });
    // A file without a project may still hold its units.
    let assigned = assigned.or_else(|| {
        let first = reading.file.all_of(&["IFCUNITASSIGNMENT"]).first().copied()?;
        reading.file.record(first)
    });
    let units = assigned.map(|record| record.references_at(0)).unwrap_or_default();
    let mut found = Found { mm: None, radians: None };
    for unit in units {
        let Some(record) = reading.file.record(unit) else { continue };
        let size = size_of(reading, &record, LONGEST_DEFINITION).filter(|size| *size > 0.0);
        match record.word_at(1) {
            Some("LENGTHUNIT") => found.mm = found.mm.or(size.map(|metres| metres * 1000.0)),
            Some("PLANEANGLEUNIT") => found.radians = found.radians.or(size),
            _ => {}
        }
    }
    if found.mm.is_none() {
        let project = projects.first().copied().unwrap_or(0);
        reading.note("no unit of length: metres are taken", project);
    }
    reading.mm = found.mm.unwrap_or(1000.0);
    reading.radians = found.radians.unwrap_or(1.0);
}

/// How many metres or radians a unit has.
fn size_of(reading: &Reading<'_>, unit: &Record<'_>, steps_left: usize) -> Option<f64> {
    match unit.entity {
        "IFCSIUNIT" => prefix(unit.word_at(2)),
        "IFCCONVERSIONBASEDUNIT" | "IFCCONVERSIONBASEDUNITWITHOFFSET" if steps_left > 0 => {
            let measure = reading.file.record_at(unit, 3)?;
            let base = reading.file.record_at(&measure, 1)?;
            Some(measure.number_at(0)? * size_of(reading, &base, steps_left - 1)?)
        }
        _ => None,
    }
}

/// What a prefix of the International System multiplies by; `None` for one that no building is drawn in.
fn prefix(word: Option<&str>) -> Option<f64> {
    match word {
        None => Some(1.0),
        Some("KILO") => Some(1e3),
        Some("HECTO") => Some(1e2),
        Some("DECA") => Some(1e1),
        Some("DECI") => Some(1e-1),
        Some("CENTI") => Some(1e-2),
        Some("MILLI") => Some(1e-3),
        Some("MICRO") => Some(1e-6),
        Some(_) => None,
    }
}
