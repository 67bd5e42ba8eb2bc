//! A building model in the open standard IFC, read as a plan.
//!
//! IFC (ISO 16739-1; here the schemas 2x3, 4 and 4x3) says what a building consists of: storeys, walls with
//! their axes and layers, holes and the doors and windows in them, rooms. It is read in the text form of ISO
//! 10303-21. Of each storey a [`Proposal`] is made, in the building's own coordinates; what was not understood
//! is listed with counts, never dropped in silence.
//!
//! Both standards are followed from memory of their published text. Everything is pure: the time taken grows
//! with the size of the file and not faster, and no file makes it panic.

mod assembly;
mod bodies;
mod curves;
mod frame;
mod grammar;
mod layers;
mod lettering;
mod make_up;
mod openings;
mod reading;
mod relations;
mod rooms;
mod step;
mod storeys;
mod strip;
mod units_of_file;
mod walls;

#[cfg(test)]
mod hostile_tests;
#[cfg(test)]
mod tests;

use kurbo::Vec2;
use thiserror::Error;

use super::Proposal;
use crate::units::{Angle, Length};

/// Asked now and then with the share of the work done, 0 to 1; `false` stops it.
pub type KeepGoing<'a> = &'a dyn Fn(f32) -> bool;

/// What a file says of one building.
#[derive(Clone, Debug, PartialEq)]
pub struct Building {
    /// The schema, as the file writes it (`IFC2X3`, `IFC4`, `IFC4X3_ADD2`).
    pub schema: String,
    /// Name of the project.
    pub project: Option<String>,
    /// Name of the site.
    pub site: Option<String>,
    /// The direction of true north on the plan, from +x, where the file says it.
    pub north: Option<Angle>,
    /// Storeys, the lowest first.
    pub storeys: Vec<Storey>,
    /// By how much everything was moved on plan, mm, where the file's coordinates lay kilometres away, as
    /// surveyors' grids do.
    pub moved_by: Option<Vec2>,
    /// What was not understood, or not as it stands.
    pub not_understood: Vec<Note>,
    /// What was understood but has no place on a plan here (slabs, roofs, furniture).
    pub left_out: Vec<Note>,
}

/// One storey.
#[derive(Clone, Debug, PartialEq)]
pub struct Storey {
    /// Its name.
    pub name: String,
    /// Its floor above the building's datum.
    pub floor_above_datum: Length,
    /// From its floor to that of the next storey above.
    pub height_to_next: Option<Length>,
    /// Its ceiling above its floor, as most of its rooms have it; never above the next storey's floor.
    pub ceiling: Option<Length>,
    /// Walls, holes and rooms, plan mm in the building's own coordinates, x right and y up.
    pub proposal: Proposal,
}

/// Something met in a file, how often, and where first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// What it is.
    pub what: String,
    /// How often it was met.
    pub count: usize,
    /// The first: number, entity and name of its record (`#123 IFCWALL “West wall”`).
    pub example: String,
}

/// Why a file cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum IfcError {
    /// Another kind of file.
    #[error(
        "this is no IFC file in text form: it does not begin with ISO-10303-21; ask for the model as .ifc, neither zipped nor XML"
    )]
    NotIfc,
    /// Another schema.
    #[error("the file holds “{0}”, not a building: ask for the model as IFC2x3, IFC4 or IFC4x3")]
    OtherSchema(String),
    /// The end is missing.
    #[error("line {line}: the file breaks off before its end: fetch it again or ask for a new export")]
    CutShort {
        /// Where the last whole record ends, from 1.
        line: usize,
    },
    /// Something stands where a record should.
    #[error("line {line}: {what}: the file is damaged, ask for a new export")]
    NotARecord {
        /// The line, from 1.
        line: usize,
        /// What is wrong.
        what: &'static str,
    },
    /// Nothing to draw.
    #[error(
        "the file holds no wall and no room that can be read: ask for the architect's model with its walls"
    )]
    Empty,
    /// Someone asked to stop.
    #[error("stopped before the file was read to its end")]
    Stopped,
}

/// Whether these bytes begin like a file in the text form of ISO 10303-21, as IFC files do.
pub fn looks_like_ifc(bytes: &[u8]) -> bool {
    grammar::begins_like_step(bytes)
}

/// Reads a building from the bytes of an IFC file.
///
/// # Errors
/// One sentence that says where, what and what to do.
pub fn read_ifc(bytes: &[u8], keep_going: KeepGoing<'_>) -> Result<Building, IfcError> {
    let file = step::StepFile::index(bytes, keep_going)?;
    let known = ["IFC2X3", "IFC4"].iter().any(|known| file.schema.starts_with(known));
    if !known {
        return Err(IfcError::OtherSchema(file.schema.clone()));
    }
    let mut reading = reading::Reading::new(file);
    units_of_file::find_units(&mut reading);
    assembly::assemble(reading, keep_going)
}
