//! The text form in which IFC files are written: numbered records between `DATA;` and `ENDSEC;`.
//!
//! One pass notes where each record lies; a record is taken apart only when someone asks for it. Every byte
//! taken apart is charged to an allowance proportional to the file's size, so that no file, however its records
//! refer to one another, takes more than linear time. Grammar: ISO 10303-21 (clear text encoding), from memory.

use std::cell::Cell;
use std::collections::BTreeMap;

use super::grammar::{Cursor, Value, parse};
use super::lettering::text_of;
use super::{IfcError, KeepGoing};

/// How often, on average, each byte of a file may be taken apart again.
const READINGS_OF_EACH_BYTE: u64 = 24;

/// Longer records are not taken apart: they hold terrain, not houses.
const LONGEST_RECORD: usize = 16 << 20;

/// A record taken apart.
#[derive(Clone, Debug)]
pub(super) struct Record<'a> {
    /// Its number.
    pub(super) number: u64,
    /// What it is, in capitals.
    pub(super) entity: &'a str,
    arguments: Vec<Value<'a>>,
}

impl<'a> Record<'a> {
    /// The argument in that place, from 0.
    pub(super) fn argument(&self, place: usize) -> &Value<'a> {
        self.arguments.get(place).unwrap_or(&Value::Missing)
    }

    /// A number in that place.
    pub(super) fn number_at(&self, place: usize) -> Option<f64> {
        self.argument(place).number()
    }

    /// The record to which that place points.
    pub(super) fn reference_at(&self, place: usize) -> Option<u64> {
        self.argument(place).reference()
    }

    /// The word between full stops in that place.
    pub(super) fn word_at(&self, place: usize) -> Option<&'a str> {
        if let Value::Word(word) = self.argument(place) { Some(word) } else { None }
    }

    /// The lettering in that place; `None` where there is none or it is blank.
    pub(super) fn text_at(&self, place: usize) -> Option<String> {
        let Value::Text(bytes) = self.argument(place) else { return None };
        let text = text_of(bytes);
        (!text.trim().is_empty()).then(|| text.trim().to_owned())
    }

    /// The list in that place; empty where there is none.
    pub(super) fn list_at(&self, place: usize) -> &[Value<'a>] {
        if let Value::List(list) = self.argument(place) { list } else { &[] }
    }

    /// The records to which the list in that place points. Some writers leave out the brackets around one.
    pub(super) fn references_at(&self, place: usize) -> Vec<u64> {
        match self.argument(place) {
            Value::List(list) => list.iter().filter_map(Value::reference).collect(),
            Value::Reference(one) => vec![*one],
            _ => Vec::new(),
        }
    }
}

struct Place {
    number: u64,
    entity: u32,
    start: usize,
    end: usize,
}

/// A file whose records can be asked for by number or by what they are.
pub(super) struct StepFile<'a> {
    bytes: &'a [u8],
    places: Vec<Place>,
    by_entity: BTreeMap<&'a str, Vec<u64>>,
    entities: Vec<&'a str>,
    allowance: Cell<u64>,
    /// What stands in `FILE_SCHEMA`.
    pub(super) schema: String,
    /// Records with the number of an earlier one, which are left out.
    pub(super) repeated: Vec<u64>,
}

impl<'a> StepFile<'a> {
    /// Notes where each record lies.
    pub(super) fn index(bytes: &'a [u8], keep_going: KeepGoing<'_>) -> Result<Self, IfcError> {
        let mut cursor = Cursor { bytes, at: 0 };
        if !cursor.take_opening() {
            return Err(IfcError::NotIfc);
        }
        let mut file = Self {
            bytes,
            places: Vec::new(),
            by_entity: BTreeMap::new(),
            entities: Vec::new(),
            allowance: Cell::new(
                (bytes.len() as u64).saturating_mul(READINGS_OF_EACH_BYTE).saturating_add(1_000_000),
            ),
            schema: String::new(),
            repeated: Vec::new(),
        };
        file.read_header(&mut cursor)?;
        file.read_data(&mut cursor, keep_going)?;
        file.places.sort_by_key(|place| place.number);
        let mut repeated = Vec::new();
        file.places.dedup_by(|later, earlier| {
            let same = later.number == earlier.number;
            if same {
                repeated.push(later.number);
            }
            same
        });
        file.repeated = repeated;
        let mut by_entity: Vec<Vec<u64>> = vec![Vec::new(); file.entities.len()];
        for place in &file.places {
            by_entity[place.entity as usize].push(place.number);
        }
        file.by_entity = file.entities.iter().copied().zip(by_entity).collect();
        Ok(file)
    }

    fn read_header(&mut self, cursor: &mut Cursor<'a>) -> Result<(), IfcError> {
        loop {
            cursor.skip_blank();
            if cursor.take(b"DATA") {
                cursor.skip_statement();
                return Ok(());
            }
            let start = cursor.at;
            let name = cursor.name();
            if cursor.at >= cursor.bytes.len() {
                return Err(IfcError::CutShort { line: self.line_of(start) });
            }
            if !cursor.skip_statement() {
                return Err(IfcError::CutShort { line: self.line_of(start) });
            }
            if name != "FILE_SCHEMA" {
                continue;
            }
            let statement = Record {
                number: 0,
                entity: name,
                arguments: parse(&self.bytes[start + name.len()..cursor.at]).unwrap_or_default(),
            };
            if let Some(Value::Text(schema)) = statement.list_at(0).first() {
                self.schema = text_of(schema).to_ascii_uppercase();
            }
        }
    }

    fn read_data(&mut self, cursor: &mut Cursor<'a>, keep_going: KeepGoing<'_>) -> Result<(), IfcError> {
        let mut known: BTreeMap<&'a str, u32> = BTreeMap::new();
        let mut statements = 0_usize;
        loop {
            cursor.skip_blank();
            let start = cursor.at;
            let broken = |what: &'static str| IfcError::NotARecord { line: self.line_of(start), what };
            if cursor.take(b"ENDSEC") {
                cursor.skip_statement();
                cursor.skip_blank();
                // Edition 3 of the standard allows several data sections.
                if cursor.take(b"DATA") {
                    cursor.skip_statement();
                    continue;
                }
                return Ok(());
            }
            if start >= self.bytes.len() {
                return Err(IfcError::CutShort { line: self.line_of(start) });
            }
            statements += 1;
            if statements.is_multiple_of(20_000) && !keep_going(start as f32 / self.bytes.len() as f32 * 0.5)
            {
                return Err(IfcError::Stopped);
            }
            if !cursor.take(b"#") {
                return Err(broken("a record should begin with # and its number"));
            }
            let Some(number) = cursor.whole_number() else {
                return Err(broken("the # has no number after it"));
            };
            cursor.skip_blank();
            if !cursor.take(b"=") {
                return Err(broken("there is no = after the record's number"));
            }
            cursor.skip_blank();
            let name = cursor.name();
            let arguments = cursor.at;
            if !cursor.skip_statement() {
                return Err(IfcError::CutShort { line: self.line_of(start) });
            }
            let entities = &mut self.entities;
            let entity = *known.entry(name).or_insert_with(|| {
                entities.push(name);
                (entities.len() - 1) as u32
            });
            self.places.push(Place { number, entity, start: arguments, end: cursor.at - 1 });
        }
    }

    /// The line on which a byte lies, from 1.
    fn line_of(&self, at: usize) -> usize {
        self.bytes.iter().take(at).filter(|byte| **byte == b'\n').count() + 1
    }

    fn place(&self, number: u64) -> Option<&Place> {
        let index = self.places.binary_search_by_key(&number, |place| place.number).ok()?;
        self.places.get(index)
    }

    /// What the record of that number is, in capitals.
    pub(super) fn entity_of(&self, number: u64) -> Option<&'a str> {
        self.entities.get(self.place(number)?.entity as usize).copied()
    }

    /// The record of that number, taken apart; `None` where there is none, it is not readable or the allowance
    /// is used up.
    pub(super) fn record(&self, number: u64) -> Option<Record<'a>> {
        let place = self.place(number)?;
        let cost = (place.end - place.start) as u64 + 16;
        let left = self.allowance.get().checked_sub(cost);
        self.allowance.set(left.unwrap_or(0));
        left?;
        if place.end - place.start > LONGEST_RECORD {
            return None;
        }
        Some(Record {
            number,
            entity: self.entities.get(place.entity as usize)?,
            arguments: parse(self.bytes.get(place.start..place.end)?)?,
        })
    }

    /// The record to which a place of another points.
    pub(super) fn record_at(&self, of: &Record<'_>, place: usize) -> Option<Record<'a>> {
        self.record(of.reference_at(place)?)
    }

    /// Whether the allowance is used up, so that parts of the file went unread.
    pub(super) fn is_exhausted(&self) -> bool {
        self.allowance.get() == 0
    }

    /// Numbers of all records that are one of these, by number.
    pub(super) fn all_of(&self, entities: &[&str]) -> Vec<u64> {
        let mut found: Vec<u64> =
            entities.iter().filter_map(|entity| self.by_entity.get(entity)).flatten().copied().collect();
        found.sort_unstable();
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn index(text: &str) -> Result<StepFile<'_>, IfcError> {
        StepFile::index(text.as_bytes(), &|_| true)
    }

    #[test]
    fn records_are_found_by_number_and_by_what_they_are() {
        let file = index(
            "\u{feff} /* note; */ ISO-10303-21;\nHEADER;FILE_NAME('a','b',(''),(''),'maker','Drawing desk 3','');\n\
             FILE_SCHEMA(('IFC4'));ENDSEC;DATA;\n#2 = IFCWALL('a;b',$);/* #9=IFCWALL(); */\n#1=IFCDOOR(#2,(3.,4.));\n\
             #2=IFCDOOR();ENDSEC;END-ISO-10303-21;",
        )
        .unwrap();
        assert_eq!(file.schema, "IFC4");
        assert_eq!(file.all_of(&["IFCDOOR", "IFCWALL", "IFCSLAB"]), [1, 2]);
        assert_eq!(file.repeated, [2]);
        let door = file.record(1).unwrap();
        assert_eq!((door.entity, door.reference_at(0), door.list_at(1).len()), ("IFCDOOR", Some(2), 2));
        assert_eq!(file.record_at(&door, 0).unwrap().text_at(0).as_deref(), Some("a;b"));
        assert!(file.record(3).is_none() && door.number_at(99).is_none());
    }

    #[test]
    fn a_broken_file_is_refused_with_its_line() {
        let head = "ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;DATA;\n";
        for (text, expected) in [
            ("solid cube", IfcError::NotIfc),
            ("ISO-10303-21;\nHEADER;", IfcError::CutShort { line: 2 }),
            (&format!("{head}#1=IFCWALL();\n#2=IFCWA"), IfcError::CutShort { line: 3 }),
            (&format!("{head}#1=IFCWALL();\n"), IfcError::CutShort { line: 3 }),
        ] {
            assert_eq!(index(text).err(), Some(expected), "{text}");
        }
        let wrong = index(&format!("{head}\n\nIFCWALL();")).err().unwrap();
        assert!(wrong.to_string().starts_with("line 4: a record should begin"), "{wrong}");
    }

    #[test]
    fn no_file_is_read_over_and_over_without_end() {
        let text =
            format!("ISO-10303-21;HEADER;ENDSEC;DATA;#1=IFCPOLYLINE(({}));ENDSEC;", "#2,".repeat(100_000));
        let file = index(&text).unwrap();
        let readings = (0..1000).filter(|_| file.record(1).is_some()).count();
        assert!((20..40).contains(&readings) && file.is_exhausted(), "{readings}");
    }
}
