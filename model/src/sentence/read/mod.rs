//! Reads a rule that is typed as its sentence: what [`super::sentence_text`] writes reads back to the same rule.
//!
//! The reader follows every way in which the words may be taken and keeps those that go on to the end; names of
//! points, zones, scenes, modes and rules are looked up on the plan, by tag or by name. Where no way reaches the
//! end, the word at which the farthest one stopped is the one at fault, and the fault says what would have done
//! there and which known word or name is most like it.
//!
//! Capitals, blanks and straight quotation marks are taken as they come; a colon, a comma and a semicolon mean
//! what they mean in the sentence. Nothing that is typed can make the reader go on without end: conditions lie no
//! deeper in each other than a rule may have them, and a text that is too long is refused.

mod conditions;
mod deeds;
mod fault;
mod names;
mod text;

use std::ops::Range;

use crate::project::Project;
use crate::systems::RuleBody;
use crate::units::Seconds;

use super::USUAL_RANK;
use text::Reader;

/// Why a text is no rule.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{sentence}")]
pub struct ReadError {
    /// The words at fault: bytes of the text; empty at its end.
    pub at: Range<usize>,
    /// What is wrong and what to type.
    pub sentence: String,
}

/// No longer text is read, bytes.
const LONGEST: usize = 20_000;

/// Reads what a rule does from its sentence.
///
/// # Errors
/// [`ReadError`], at the word that cannot be read.
pub fn read_rule(project: &Project, text: &str) -> Result<RuleBody, ReadError> {
    if text.len() > LONGEST {
        let sentence = format!("a rule of more than {LONGEST} letters is not read: write several");
        return Err(ReadError { at: 0..0, sentence });
    }
    let mut reader = Reader::new(project, text);
    let start = reader.past_blanks(0);
    let bodies = reader.body(start);
    let whole = bodies.into_iter().find(|(end, _)| reader.ends(*end));
    whole.map(|(_, body)| body).ok_or_else(|| reader.fault())
}

/// Every way in which words may be taken: where each ends, and what it says.
type Ways<T> = Vec<(usize, T)>;

/// The ways of those that go on, each joined with what comes after it.
fn each_then<T: Clone, U, V>(
    ways: Ways<T>,
    mut next: impl FnMut(usize) -> Ways<U>,
    join: impl Fn(T, U) -> V,
) -> Ways<V> {
    let mut found = Vec::new();
    for (at, first) in ways {
        found.extend(next(at).into_iter().map(|(end, second)| (end, join(first.clone(), second))));
    }
    found
}

/// One way for each place at which ways end, the first of them.
fn one_for_each_end<T>(ways: Ways<T>) -> Ways<T> {
    let mut found: Ways<T> = Vec::new();
    for (end, what) in ways {
        if found.iter().all(|(other, _)| *other != end) {
            found.push((end, what));
        }
    }
    found
}

impl Reader<'_> {
    fn body(&mut self, at: usize) -> Ways<RuleBody> {
        let mut ways = Vec::new();
        if let Some(at) = self.word(at, "when ") {
            ways.extend(self.when(at));
        }
        if let Some(at) = self.word(at, "while ") {
            ways.extend(self.while_holds(at));
        }
        ways.extend(self.wired(at));
        ways
    }

    fn when(&mut self, at: usize) -> Ways<RuleBody> {
        let triggers = one_for_each_end(self.trigger(at));
        let begun = each_then(
            triggers,
            |at| {
                let mut ways = vec![(at, Vec::new())];
                if let Some(at) = self.word(at, ", if ") {
                    ways.extend(self.all_conditions(at));
                }
                ways
            },
            |trigger, conditions| (trigger, conditions),
        );
        each_then(
            one_for_each_end(begun),
            |at| match self.word(at, ": ") {
                Some(at) => self.actions(at),
                None => Vec::new(),
            },
            |(trigger, conditions), actions| RuleBody::When { trigger, conditions, actions },
        )
    }

    fn while_holds(&mut self, at: usize) -> Ways<RuleBody> {
        let mut conditions = self.all_conditions(at);
        conditions.extend(self.word(at, "always").map(|at| (at, Vec::new())));
        let lasting = each_then(
            conditions,
            |at| {
                let mut ways = vec![(at, Seconds::ZERO)];
                if let Some(at) = self.word(at, ", and for ") {
                    let after =
                        self.duration(at).and_then(|(at, time)| Some((self.word(at, " after that")?, time)));
                    ways.extend(after);
                }
                ways
            },
            |conditions, linger| (conditions, linger),
        );
        let held = each_then(
            one_for_each_end(lasting),
            |at| match self.word(at, ": ") {
                Some(at) => self.settings(at),
                None => Vec::new(),
            },
            |(conditions, linger), settings| (conditions, linger, settings),
        );
        each_then(
            one_for_each_end(held),
            |at| self.standing(at),
            |(conditions, linger, settings), (rank, yields_to_hand)| RuleBody::While {
                conditions,
                linger,
                settings,
                rank,
                yields_to_hand,
            },
        )
    }

    /// How a hold stands against others and against the hand, where it is said.
    fn standing(&mut self, at: usize) -> Ways<(u8, bool)> {
        let mut ways = vec![(at, true)];
        ways.extend(self.word(at, ", whatever is done by hand").map(|at| (at, false)));
        let mut found: Ways<(u8, bool)> = Vec::new();
        for (at, yields) in ways {
            found.push((at, (USUAL_RANK, yields)));
            if let Some(at) = self.word(at, " (rank ")
                && let Some((end, figure)) = self.whole_number(at, "a rank from 0 to 255", 0, 255)
                && let Some(end) = self.word(end, ")")
            {
                found.push((end, (figure as u8, yields)));
            }
        }
        found
    }

    fn wired(&mut self, at: usize) -> Ways<RuleBody> {
        let mut keys = Vec::new();
        for (at, key) in self.point(at) {
            keys.extend(self.word(at, " is wired to ").map(|at| (at, key)));
        }
        let targets = each_then(keys, |at| self.target(at), |key, (target, _)| (key, target));
        let mut found = Vec::new();
        for (at, (key, target)) in targets {
            let words = ": one press turns it on or off, with the hub or without";
            if let Some(end) = self.word(at, words).or_else(|| self.ends(at).then_some(at)) {
                found.push((end, RuleBody::Wired { key, target }));
            }
        }
        found
    }
}

#[cfg(test)]
mod tests;
