//! What is said of a text that cannot be read: the word at fault, what would have done, and what is most like it.

use std::ops::Range;

use super::ReadError;
use super::text::Reader;
use crate::sentence::{device_words, mode_words, names};
use crate::systems::HouseMode;

/// What a name may stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sort {
    Device,
    Point,
    Zone,
    Scene,
    Mode,
    Rule,
}

impl Sort {
    const fn word(self) -> &'static str {
        match self {
            Self::Device => "device",
            Self::Point => "point",
            Self::Zone => "zone",
            Self::Scene => "scene",
            Self::Mode => "house mode",
            Self::Rule => "rule",
        }
    }
}

/// What was expected at a place and not found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Expected {
    /// These words, or what they describe.
    Words(String),
    /// A name that begins at a place.
    Name { sort: Sort, from: usize },
}

/// Words less alike than this are not taken for one another (Jaro and Winkler, 0 to 1).
const ALIKE: f64 = 0.8;

/// So many of the things expected are said.
const MOST_SAID: usize = 5;

/// Of the names on a plan, so many are compared with what was typed.
const MOST_COMPARED: usize = 20_000;

/// Something known that is like what was typed.
struct Like {
    how: f64,
    sort: Option<Sort>,
    at: Range<usize>,
    words: String,
}

impl Reader<'_> {
    /// The fault of a text that no way of reading reached the end of.
    pub(super) fn fault(&self) -> ReadError {
        let at = self.word_at(self.farthest, 1);
        let like = self.likes().into_iter().max_by(|a, b| a.how.total_cmp(&b.how));
        if let Some(Like { sort, at, words, .. }) = like {
            let typed = self.text.get(at.clone()).unwrap_or_default();
            let sentence = match sort {
                Some(sort) => format!("no {} is called “{typed}”: did you mean “{words}”?", sort.word()),
                None => format!("“{typed}” is not understood here: did you mean “{words}”?"),
            };
            return ReadError { at, sentence };
        }
        let typed = self.text.get(at.clone()).unwrap_or_default();
        let wanted = self.wanted();
        let sentence = if typed.is_empty() {
            format!("the rule ends too early: {wanted} is expected here")
        } else {
            format!("“{typed}” is not understood here: {wanted} is expected")
        };
        ReadError { at, sentence }
    }

    /// The bytes of so many words from a place on, stops after them left out.
    fn word_at(&self, at: usize, words: usize) -> Range<usize> {
        let from = self.past_blanks(at);
        let mut end = from;
        for _ in 0..words.max(1) {
            let next = self.past_blanks(end);
            let rest = self.rest(next);
            let long = rest.find(char::is_whitespace).unwrap_or(rest.len());
            if long == 0 {
                break;
            }
            end = next + long;
        }
        let typed = self.text.get(from..end).unwrap_or_default();
        let bare = typed.trim_end_matches([':', ';', ',', '.']);
        from..from + if bare.is_empty() { typed.len() } else { bare.len() }
    }

    /// What is known and like what was typed where reading stopped.
    fn likes(&self) -> Vec<Like> {
        let mut found = Vec::new();
        for expected in &self.expected {
            match expected {
                Expected::Words(words) => {
                    // Of longer words the first are compared, as many as tell them apart.
                    let count = words.split_whitespace().count().min(2);
                    for count in 1..=count {
                        let meant: Vec<&str> = words.split_whitespace().take(count).collect();
                        found.extend(self.like(None, self.farthest, &meant.join(" ")));
                    }
                }
                Expected::Name { sort, from } => {
                    let names = self.known(*sort).into_iter().take(MOST_COMPARED);
                    found.extend(names.filter_map(|name| self.like(Some(*sort), *from, &name)));
                }
            }
        }
        found
    }

    /// A known name, if what was typed at a place is like it.
    fn like(&self, sort: Option<Sort>, from: usize, words: &str) -> Option<Like> {
        let at = self.word_at(from, words.split_whitespace().count());
        let typed = self.text.get(at.clone())?.to_lowercase();
        let how = strsim::jaro_winkler(&typed, &words.to_lowercase());
        // What is the same is not what is wrong.
        (ALIKE..1.0).contains(&how).then(|| Like { how, sort, at, words: words.to_owned() })
    }

    /// Every name of a sort on the plan.
    fn known(&self, sort: Sort) -> Vec<String> {
        let project = self.project;
        match sort {
            Sort::Device => project.devices.ids().map(|id| device_words(project, id)).collect(),
            Sort::Point => {
                let mut found = Vec::new();
                for id in project.devices.ids() {
                    let device = device_words(project, id);
                    let points = names::kind_of(project, id).map_or(&[][..], |kind| &kind.points);
                    found.extend(points.iter().map(|point| format!("{device} {}", point.name)));
                    found.push(device);
                }
                found
            }
            Sort::Zone => project.zones.ids().map(|id| names::zone_words(project, id)).collect(),
            Sort::Scene => project.scenes.iter().map(|(_, scene)| names::quoted(&scene.name)).collect(),
            Sort::Rule => project.rules.iter().map(|(_, rule)| names::quoted(&rule.name)).collect(),
            Sort::Mode => {
                let named = project.modes.ids().map(HouseMode::Named);
                let all = std::iter::once(HouseMode::AtHome).chain(named);
                all.map(|mode| names::quoted(&mode_words(project, mode))).collect()
            }
        }
    }

    /// What was expected, in words.
    fn wanted(&self) -> String {
        let mut said: Vec<String> = Vec::new();
        for expected in &self.expected {
            let words = match expected {
                Expected::Words(words) if words.starts_with("a ") || words.starts_with("the ") => {
                    words.clone()
                }
                Expected::Words(words) => format!("“{words}”"),
                Expected::Name { sort, .. } => format!("a {}", sort.word()),
            };
            if !said.contains(&words) {
                said.push(words);
            }
        }
        // Where a figure was typed, a figure was meant.
        if self.rest(self.farthest).starts_with(|typed: char| typed.is_ascii_digit()) {
            said.sort_by_key(|words| !words.contains(|known: char| known.is_ascii_digit()));
        }
        let more = said.len() > MOST_SAID;
        said.truncate(MOST_SAID);
        match said.split_last() {
            None => "a rule that starts with “When” or “While”".to_owned(),
            Some(_) if more => format!("{} or the like", said.join(", ")),
            Some((only, [])) => only.clone(),
            Some((last, others)) => format!("{} or {last}", others.join(", ")),
        }
    }
}
