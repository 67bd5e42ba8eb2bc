//! Words, figures and times in a typed text, and what was expected where they were not found.

use super::fault::Expected;
use crate::project::Project;
use crate::systems::Value;
use crate::units::{Seconds, TimeOfDay};

/// Words that are tried before the reader gives up.
const MOST_EFFORT: usize = 2_000_000;

/// A text that is being read, and how far reading came.
pub(super) struct Reader<'a> {
    pub(super) project: &'a Project,
    pub(super) text: &'a str,
    /// What each device may be called.
    pub(super) devices: Vec<(String, crate::id::Id<crate::kit::Device>)>,
    /// The farthest byte at which something was expected and not found.
    pub(super) farthest: usize,
    /// What was expected there.
    pub(super) expected: Vec<Expected>,
    effort: usize,
}

/// Whether two letters are taken for the same.
fn alike(typed: char, meant: char) -> bool {
    match meant {
        '“' | '”' => typed == meant || typed == '"',
        '’' => typed == meant || typed == '\'',
        _ => typed == meant || typed.to_lowercase().eq(meant.to_lowercase()),
    }
}

impl<'a> Reader<'a> {
    pub(super) fn new(project: &'a Project, text: &'a str) -> Self {
        let mut reader =
            Self { project, text, devices: Vec::new(), farthest: 0, expected: Vec::new(), effort: 0 };
        reader.devices = reader.names_of_devices();
        reader
    }

    pub(super) fn rest(&self, at: usize) -> &'a str {
        self.text.get(at..).unwrap_or_default()
    }

    pub(super) fn past_blanks(&self, at: usize) -> usize {
        let rest = self.rest(at);
        at + rest.len() - rest.trim_start().len()
    }

    /// Notes what was expected at a place and not found.
    pub(super) fn wants(&mut self, at: usize, what: Expected) {
        if at > self.farthest {
            self.farthest = at;
            self.expected.clear();
        }
        if at == self.farthest && !self.expected.contains(&what) {
            self.expected.push(what);
        }
    }

    /// Whether nothing but a full stop comes after.
    pub(super) fn ends(&mut self, at: usize) -> bool {
        let rest = self.rest(at).trim_start();
        let is_end = rest.strip_prefix('.').unwrap_or(rest).trim().is_empty();
        if !is_end {
            self.wants(self.past_blanks(at), Expected::Words("the end of the rule".to_owned()));
        }
        is_end
    }

    /// How far the text goes along with some words: their end if wholly, else the word that fails.
    pub(super) fn along(&mut self, at: usize, words: &str) -> Result<usize, usize> {
        self.effort += 1;
        if self.effort > MOST_EFFORT {
            return Err(0);
        }
        let mut typed = self.rest(at).char_indices().peekable();
        let mut word_at = at;
        let mut last = None;
        let mut meant = words.chars().peekable();
        while let Some(letter) = meant.next() {
            if letter.is_whitespace() {
                while meant.peek().is_some_and(|next| next.is_whitespace()) {
                    meant.next();
                }
                let from = typed.peek().map_or(self.text.len(), |(by, _)| at + by);
                let end = self.past_blanks(from);
                // Blanks after a stop may be left out.
                if end == from && last.is_none_or(|last: char| last.is_alphanumeric()) {
                    return Err(if from == at { at } else { self.start_of_word(from) });
                }
                while typed.peek().is_some_and(|(by, _)| at + by < end) {
                    typed.next();
                }
                word_at = end;
                last = Some(letter);
                continue;
            }
            if matches!(letter, ':' | ';' | ',' | ')') {
                // Nor does a blank before a stop matter.
                while typed.next_if(|(_, typed)| typed.is_whitespace()).is_some() {}
            }
            match typed.next_if(|(_, typed)| alike(*typed, letter)) {
                Some(_) => last = Some(letter),
                None => return Err(word_at),
            }
        }
        let end = typed.peek().map_or(self.text.len(), |(by, _)| at + by);
        let runs_on = last.is_some_and(char::is_alphanumeric)
            && typed.peek().is_some_and(|(_, next)| next.is_alphanumeric());
        if runs_on { Err(word_at) } else { Ok(end) }
    }

    /// The start of the word that ends or goes on at a place.
    fn start_of_word(&self, at: usize) -> usize {
        let before = self.text.get(..at).unwrap_or_default();
        let word = before.len() - before.trim_end_matches(|c: char| !c.is_whitespace()).len();
        at - word
    }

    /// The end of some words, if the text goes along with them.
    pub(super) fn word(&mut self, at: usize, words: &str) -> Option<usize> {
        match self.along(at, words) {
            Ok(end) => Some(end),
            Err(failed) => {
                let from = self.past_blanks(failed);
                let left = left_of(words, self.text.get(at..failed).unwrap_or_default());
                self.wants(from, Expected::Words(left.trim().to_owned()));
                None
            }
        }
    }

    /// A figure, with its end; nothing is noted where there is none.
    fn figure(&self, at: usize) -> Option<(usize, f64)> {
        let at = self.past_blanks(at);
        let rest = self.rest(at);
        let mut end = 0;
        let mut letters = rest.char_indices().peekable();
        while let Some((by, letter)) = letters.next() {
            let then_digit = letters.peek().is_some_and(|(_, next)| next.is_ascii_digit());
            match letter {
                '0'..='9' => end = by + 1,
                '-' | '+' if by == 0 && then_digit => {}
                '−' if by == 0 && then_digit => {}
                '.' | ',' if then_digit => {}
                _ => break,
            }
        }
        let typed = rest.get(..end)?.replace(',', ".").replace('−', "-");
        let figure: f64 = typed.parse().ok()?;
        figure.is_finite().then_some((at + end, figure))
    }

    pub(super) fn number(&mut self, at: usize, wanted: &str) -> Option<(usize, f64)> {
        let found = self.figure(at);
        if found.is_none() {
            self.wants(self.past_blanks(at), Expected::Words(wanted.to_owned()));
        }
        found
    }

    pub(super) fn whole_number(
        &mut self,
        at: usize,
        wanted: &str,
        least: i32,
        most: i32,
    ) -> Option<(usize, i32)> {
        let found = self.figure(at).filter(|(_, figure)| {
            figure.fract() == 0.0 && (f64::from(least)..=f64::from(most)).contains(figure)
        });
        if found.is_none() {
            self.wants(self.past_blanks(at), Expected::Words(wanted.to_owned()));
        }
        found.map(|(end, figure)| (end, figure as i32))
    }

    /// `30 s`, `5 min`, `2 h`.
    pub(super) fn duration(&mut self, at: usize) -> Option<(usize, Seconds)> {
        let (end, figure) = self.number(at, "a time such as 30 s, 5 min or 2 h")?;
        let unit_at = self.past_blanks(end);
        let rest = self.rest(unit_at);
        let unit = &rest[..rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len())];
        let factor = match unit.to_lowercase().as_str() {
            "s" | "sec" | "second" | "seconds" => 1.0,
            "min" | "minute" | "minutes" => 60.0,
            "h" | "hour" | "hours" => 3600.0,
            _ => {
                for unit in ["s", "min", "h"] {
                    self.wants(unit_at, Expected::Words(unit.to_owned()));
                }
                return None;
            }
        };
        let time = Seconds(figure * factor);
        if !time.0.is_finite() || time.0 < 0.0 {
            self.wants(self.past_blanks(at), Expected::Words("a time of 0 s or more".to_owned()));
            return None;
        }
        Some((unit_at + unit.len(), time))
    }

    /// `22:30`.
    pub(super) fn time_of_day(&mut self, at: usize) -> Option<(usize, TimeOfDay)> {
        let at = self.past_blanks(at);
        let rest = self.rest(at);
        let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
        let hours = digits(rest);
        let end = match rest.get(hours..).and_then(|rest| rest.strip_prefix(':')) {
            Some(minutes) if hours > 0 && digits(minutes) == 2 => Some(hours + 1 + 2),
            _ => None,
        };
        let read = end.and_then(|end| Some((at + end, TimeOfDay::parse(rest.get(..end)?).ok()?)));
        if read.is_none() {
            self.wants(at, Expected::Words("a time of day such as 22:30".to_owned()));
        }
        read
    }

    /// `on`, `off`, a colour, or a figure with or without its unit.
    pub(super) fn value(&mut self, at: usize, unit: &str) -> Option<(usize, Value)> {
        let at = self.past_blanks(at);
        for (word, value) in [("on", Value::On), ("off", Value::Off)] {
            if let Ok(end) = self.along(at, word) {
                return Some((end, value));
            }
        }
        if let Some(colour) = colour(self.rest(at)) {
            return Some((at + 7, Value::Colour(colour)));
        }
        if let Some((end, figure)) = self.figure(at) {
            let unit_at = self.past_blanks(end);
            let end = match self.along(unit_at, unit.trim()) {
                Ok(end) if !unit.is_empty() => end,
                _ => end,
            };
            return Some((end, Value::Number(figure)));
        }
        for wanted in ["on", "off", "a figure", "a colour such as #ffaa00"] {
            self.wants(at, Expected::Words(wanted.to_owned()));
        }
        None
    }

    /// Words in quotation marks, straight or curly; a closing mark that stands twice is one of the words.
    pub(super) fn quoted(&mut self, at: usize, wanted: &str) -> Option<(usize, String)> {
        let at = self.past_blanks(at);
        let mut letters = self.rest(at).char_indices();
        let closing = match letters.next() {
            Some((_, '“')) => '”',
            Some((_, '"')) => '"',
            _ => {
                self.wants(at, Expected::Words(format!("{wanted} in quotation marks")));
                return None;
            }
        };
        let mut words = String::new();
        let mut letters = letters.peekable();
        while let Some((by, letter)) = letters.next() {
            if letter != closing {
                words.push(letter);
            } else if letters.next_if(|(_, next)| *next == closing).is_some() {
                words.push(closing);
            } else {
                return Some((at + by + letter.len_utf8(), words));
            }
        }
        self.wants(self.text.len(), Expected::Words("the closing quotation mark".to_owned()));
        None
    }
}

/// What is left of some words from the word on that the text did not go along with.
fn left_of<'w>(words: &'w str, gone: &str) -> &'w str {
    let done = gone.split_whitespace().count();
    let mut rest = words;
    for _ in 0..done {
        rest = rest.trim_start();
        rest = rest.find(char::is_whitespace).map_or("", |end| &rest[end..]);
    }
    if rest.trim().is_empty() { words } else { rest }
}

/// A colour at the start of a text, such as `#ffaa00`.
fn colour(text: &str) -> Option<[u8; 3]> {
    let digits =
        text.strip_prefix('#')?.get(..6).filter(|digits| digits.bytes().all(|b| b.is_ascii_hexdigit()))?;
    let part = |from: usize| u8::from_str_radix(digits.get(from..from + 2)?, 16).ok();
    Some([part(0)?, part(2)?, part(4)?])
}
