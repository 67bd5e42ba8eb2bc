//! Why a plan can't be read: each a sentence that says what, where, and what to do.

use crate::edit::Subject;

/// Why a text can't be read as a plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadError {
    /// The text ends before the plan does.
    #[error(
        "the plan ends too early, at line {line}, column {column}: it was cut short, so take a whole copy of it"
    )]
    CutShort {
        /// Line at which the text ends, from 1.
        line: usize,
        /// Column at which the text ends, from 1.
        column: usize,
    },
    /// The text breaks the rules of JSON (RFC 8259).
    #[error(
        "line {line}, column {column} is not JSON ({what}): mend that place or take a whole copy of the plan"
    )]
    NotJson {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the JSON reader met.
        what: String,
    },
    /// A figure that no computer number holds, such as `1e999`.
    #[error("line {line}, column {column} holds a number that is not finite: put the true figure there")]
    NotFinite {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
    },
    /// A value of the wrong type, a field too few or one too many.
    #[error(
        "line {line}, column {column} does not fit a plan ({what}): mend that place or take a whole copy of the plan"
    )]
    WrongShape {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What was met and what was expected.
        what: String,
    },
    /// JSON, but something else.
    #[error("this is JSON but not a Pattress plan ({what}): choose a plan instead")]
    NotAPlan {
        /// What tells that it is none.
        what: String,
    },
    /// A version of the format that this release does not know yet.
    #[error(
        "the plan was written by release {written_by} in format version {version}, and this release reads up to \
         version {readable}: open it with release {written_by} or a later one"
    )]
    Newer {
        /// Version of the format it is in.
        version: u64,
        /// The newest version that this release reads.
        readable: u32,
        /// The release that wrote it, and so reads it.
        written_by: String,
    },
    /// A version of the format that never left the workshop, or that no migration starts from.
    #[error(
        "the plan is in format version {version}, which no release has issued: open a plan of version {readable}"
    )]
    NeverIssued {
        /// Version of the format it is in.
        version: u64,
        /// The version that this release writes.
        readable: u32,
    },
    /// One number for two things of one sort.
    #[error("{} {number} is there twice: give one of the two a number of its own, next_id or above", sort)]
    DuplicateId {
        /// The sort of thing.
        sort: &'static str,
        /// The number.
        number: u32,
    },
    /// What no project may be: half a reference, a wall of no length, a tag given twice.
    #[error("{sentence} (see {place} in project.json)")]
    Unsound {
        /// The thing at fault.
        subject: Subject,
        /// Its sort and number.
        place: String,
        /// What is wrong and what to do.
        sentence: String,
    },
}

impl ReadError {
    /// Sorts what the JSON reader met into what a person can act on.
    pub(super) fn from_json(error: &serde_json::Error) -> Self {
        use serde_json::error::Category;
        let (line, column) = (error.line(), error.column());
        let whole = error.to_string();
        let what = whole.rsplit_once(" at line ").map_or(whole.as_str(), |(what, _)| what);
        match error.classify() {
            Category::Eof => Self::CutShort { line, column },
            Category::Syntax if what.starts_with("number out of range") => Self::NotFinite { line, column },
            Category::Syntax | Category::Io => Self::NotJson { line, column, what: what.to_owned() },
            Category::Data => Self::WrongShape { line, column, what: in_plain_words(what) },
        }
    }

    /// A breach of what every project must be.
    pub(super) fn from_breach(breach: crate::edit::Refusal) -> Self {
        let sort = breach.subject.sort();
        let place = match breach.subject.number() {
            Some(number) => format!("{sort} {number}"),
            None => sort.to_owned(),
        };
        Self::Unsound { subject: breach.subject, place, sentence: breach.sentence }
    }
}

/// The JSON reader names types as a programmer does; people are told otherwise.
fn in_plain_words(what: &str) -> String {
    let mut words = what.to_owned();
    for (theirs, ours) in [
        ("expected f64", "expected a number"),
        ("expected u8", "expected a whole number from 0 to 255"),
        ("expected i8", "expected a whole number from -128 to 127"),
        ("expected u16", "expected a whole number from 0 to 65535"),
        ("expected i16", "expected a whole number from -32768 to 32767"),
        ("expected u32", "expected a whole number, zero or above"),
        ("expected i64", "expected a whole number"),
        ("expected a sequence", "expected a list"),
        ("expected a map", "expected fields by name"),
        ("expected a boolean", "expected true or false"),
        ("expected a string", "expected a text in quotes"),
        ("expected an array of length 2", "expected a point such as [1200, 3400]"),
        ("invalid type: ", "found "),
        ("invalid value: ", "found "),
        ("floating point ", "the number "),
        ("integer ", "the number "),
        ("map,", "fields by name,"),
        ("sequence,", "a list,"),
        ("string ", "the text "),
        ("variant", "word"),
    ] {
        words = words.replace(theirs, ours);
    }
    while let Some(start) = words.find("expected struct ") {
        let end = words[start + 16..].find(' ').map_or(words.len(), |length| start + 16 + length);
        words.replace_range(start..end, "expected the fields of one thing");
    }
    words
}
