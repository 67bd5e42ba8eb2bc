//! A file in reading: its records, its units, where its parts stand, and what was not understood so far.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::Note;
use super::frame::{Frame, Space, cross, less, times, unit};
use super::grammar::Value;
use super::step::{Record, StepFile};

/// How many placements may stand upon one another. A building has about five.
const TALLEST_STACK: usize = 128;

/// How often something was met, and where first.
type Tally = BTreeMap<String, (usize, String)>;

/// A file in reading.
pub(super) struct Reading<'a> {
    /// Its records.
    pub(super) file: StepFile<'a>,
    /// Millimetres in its unit of length.
    pub(super) mm: f64,
    /// Radians in its unit of angle.
    pub(super) radians: f64,
    notes: RefCell<Tally>,
    left_out: RefCell<Tally>,
    placed: RefCell<BTreeMap<u64, Option<Frame>>>,
}

impl<'a> Reading<'a> {
    /// A file whose units are still to be found.
    pub(super) fn new(file: StepFile<'a>) -> Self {
        Self {
            file,
            mm: 1000.0,
            radians: 1.0,
            notes: RefCell::default(),
            left_out: RefCell::default(),
            placed: RefCell::default(),
        }
    }

    /// Keeps something that was not understood, with the record at which it was met.
    pub(super) fn note(&self, what: impl Into<String>, number: u64) {
        let name = self.name_of(number);
        self.notes.borrow_mut().entry(what.into()).or_insert((0, name)).0 += 1;
    }

    /// Keeps something that was understood but has no place on our plans.
    pub(super) fn leave_out(&self, what: impl Into<String>, number: u64) {
        let name = self.name_of(number);
        self.left_out.borrow_mut().entry(what.into()).or_insert((0, name)).0 += 1;
    }

    /// A record as people can find it: number, what it is, and its name where it has one.
    fn name_of(&self, number: u64) -> String {
        let Some(entity) = self.file.entity_of(number) else { return format!("#{number}") };
        match self.file.record(number).and_then(|record| record.text_at(2)) {
            Some(name) => format!("#{number} {entity} “{}”", name.chars().take(60).collect::<String>()),
            None => format!("#{number} {entity}"),
        }
    }

    /// What was not understood and what was left out, each in the order of the alphabet.
    pub(super) fn into_notes(self) -> (Vec<Note>, Vec<Note>) {
        let listed = |tally: RefCell<Tally>| {
            let tally = tally.into_inner().into_iter();
            tally.map(|(what, (count, example))| Note { what, count, example }).collect()
        };
        (listed(self.notes), listed(self.left_out))
    }

    /// Up to three numbers of a list, the missing ones 0.
    pub(super) fn numbers(values: &[Value<'_>]) -> Option<Space> {
        let mut found = [0.0; 3];
        for (place, value) in values.iter().take(3).enumerate() {
            found[place] = value.number()?;
        }
        (values.len() >= 2).then_some(found)
    }

    /// A point, mm.
    pub(super) fn point(&self, number: u64) -> Option<Space> {
        let record = self.file.record(number)?;
        if record.entity != "IFCCARTESIANPOINT" {
            self.note(format!("points given as {}", record.entity), number);
            return None;
        }
        Some(times(Self::numbers(record.list_at(0))?, self.mm))
    }

    /// A direction, of any length.
    pub(super) fn direction(&self, number: u64) -> Option<Space> {
        let record = self.file.record(number)?;
        (record.entity == "IFCDIRECTION").then(|| Self::numbers(record.list_at(0))).flatten()
    }

    fn direction_at(&self, record: &Record<'_>, place: usize) -> Option<Space> {
        self.direction(record.reference_at(place)?)
    }

    /// The frame that an IfcAxis2Placement gives.
    pub(super) fn axis_placement(&self, number: u64) -> Option<Frame> {
        let record = self.file.record(number)?;
        let origin = self.point(record.reference_at(0)?)?;
        match record.entity {
            "IFCAXIS2PLACEMENT2D" => Some(Frame::upright(origin, None, self.direction_at(&record, 1))),
            "IFCAXIS2PLACEMENT3D" => {
                Some(Frame::upright(origin, self.direction_at(&record, 1), self.direction_at(&record, 2)))
            }
            other => {
                self.note(format!("placements given as {other}"), number);
                None
            }
        }
    }

    /// Where something placed by an IfcLocalPlacement stands in the file's world. `None` where it stands on
    /// itself, or on something that is not understood.
    pub(super) fn placement(&self, number: u64) -> Option<Frame> {
        let mut stack = Vec::new();
        let mut next = Some(number);
        let mut frame = Some(Frame::WORLD);
        while let Some(number) = next {
            if let Some(known) = self.placed.borrow().get(&number) {
                frame = *known;
                break;
            }
            if stack.len() > TALLEST_STACK {
                self.note("placements that stand on one another in a circle", number);
                frame = None;
                break;
            }
            let record = self.file.record(number);
            next = record.as_ref().and_then(|record| record.reference_at(0));
            stack.push((number, record));
        }
        while let Some((number, record)) = stack.pop() {
            frame = frame.and_then(|below| {
                let record = record?;
                if record.entity != "IFCLOCALPLACEMENT" {
                    self.note(format!("placements given as {}", record.entity), number);
                    return None;
                }
                Some(below.then(&self.axis_placement(record.reference_at(1)?)?))
            });
            self.placed.borrow_mut().insert(number, frame);
        }
        frame
    }

    /// Where a product stands: the world's own frame where it says nothing.
    pub(super) fn stands(&self, product: &Record<'_>) -> Option<Frame> {
        match product.reference_at(5) {
            Some(placement) => self.placement(placement),
            None => Some(Frame::WORLD),
        }
    }

    /// The frame that an IfcCartesianTransformationOperator gives, scaled as it asks.
    pub(super) fn transformation(&self, number: u64) -> Option<Frame> {
        let record = self.file.record(number)?;
        let origin = self.point(record.reference_at(2)?)?;
        let scale = record.number_at(3).unwrap_or(1.0);
        let flat = record.entity.starts_with("IFCCARTESIANTRANSFORMATIONOPERATOR2D");
        let axis = |place| self.direction_at(&record, place).and_then(unit);
        let (y_scale, z_scale) = match record.entity {
            "IFCCARTESIANTRANSFORMATIONOPERATOR2DNONUNIFORM" => (record.number_at(4).unwrap_or(scale), 1.0),
            "IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM" => {
                (record.number_at(5).unwrap_or(scale), record.number_at(6).unwrap_or(scale))
            }
            _ => (scale, scale),
        };
        let z = if flat { None } else { axis(4) };
        let square = Frame::upright(origin, z, axis(0));
        // A second axis against the rule of thumb mirrors the part.
        let y = match axis(1) {
            Some(given) if less_than_square(given, square.y) => times(square.y, -1.0),
            _ => square.y,
        };
        let frame =
            Frame { x: times(square.x, scale), y: times(y, y_scale), z: times(square.z, z_scale), ..square };
        let volume = super::frame::dot(cross(frame.x, frame.y), frame.z);
        (volume.is_finite() && volume != 0.0).then_some(frame)
    }
}

fn less_than_square(a: Space, b: Space) -> bool {
    let apart = less(a, b);
    super::frame::dot(apart, apart) > 2.0
}
