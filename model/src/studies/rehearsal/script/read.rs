//! Reads the lines of a script against a plan, and points at the word that cannot be read.

use super::step::{Deed, Expected, ScriptStep, Step};
use crate::calendar::{Date, Local};
use crate::id::Id;
use crate::kit::Device;
use crate::project::Project;
use crate::systems::{Comparison, Gesture, HouseMode, PointRef, Value};
use crate::units::{Seconds, TimeOfDay};

/// Why a line cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, at “{word}”: {sentence}")]
pub struct LineError {
    /// The line, from 1.
    pub line: usize,
    /// The word at fault; empty at the end of the line.
    pub word: String,
    /// What is wrong and what to type.
    pub sentence: String,
}

/// Reads a script.
///
/// # Errors
/// Every line that cannot be read, in order.
pub fn read_script(project: &Project, lines: &[String]) -> Result<Vec<ScriptStep>, Vec<LineError>> {
    let (mut steps, mut errors) = (Vec::new(), Vec::new());
    for (line, text) in (1..).zip(lines) {
        let words: Vec<&str> = text.split_whitespace().collect();
        if words.first().is_none_or(|first| first.starts_with('#')) {
            continue;
        }
        let mut reader = Reader { project, words: &words, at: 0 };
        match reader.step().and_then(|step| reader.end().map(|()| step)) {
            Ok(step) => steps.push(ScriptStep { line, step }),
            Err(sentence) => {
                let word = words.get(reader.at).copied().unwrap_or_default().to_owned();
                errors.push(LineError { line, word, sentence });
            }
        }
    }
    if let Some(first) = steps.first()
        && !matches!(first.step, Step::Do(Deed::Start(_)))
    {
        errors.push(LineError {
            line: first.line,
            word: String::new(),
            sentence: "a script begins with its date and time: put “start 2026-01-15 20:00” first".to_owned(),
        });
    }
    if errors.is_empty() { Ok(steps) } else { Err(errors) }
}

/// The words that a line can start with.
const BEGINNINGS: [&str; 14] = [
    "start", "given", "at", "after", "press", "hold", "release", "happens", "report", "give", "mode", "hub",
    "walk", "expect",
];

struct Reader<'a> {
    project: &'a Project,
    words: &'a [&'a str],
    /// The word that is read next, and the one at fault where reading ends.
    at: usize,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<&'a str> {
        self.words.get(self.at).copied()
    }

    fn word(&mut self, wanted: &str) -> Result<&'a str, String> {
        let word = self.peek().ok_or_else(|| format!("the line ends too early: {wanted} is missing"))?;
        self.at += 1;
        Ok(word)
    }

    /// Takes a word if it comes next.
    fn takes(&mut self, word: &str) -> bool {
        let comes = self.peek().is_some_and(|next| next.eq_ignore_ascii_case(word));
        self.at += usize::from(comes);
        comes
    }

    fn back(&mut self, sentence: String) -> String {
        self.at = self.at.saturating_sub(1);
        sentence
    }

    fn end(&mut self) -> Result<(), String> {
        match self.peek() {
            None => Ok(()),
            Some(_) => Err("nothing is expected here: end the line before it".to_owned()),
        }
    }

    fn step(&mut self) -> Result<Step, String> {
        let word = self.word("what is to be done")?;
        Ok(Step::Do(match word.to_ascii_lowercase().as_str() {
            "start" => Deed::Start(self.date_and_time()?),
            "given" => {
                let (point, value) = self.point_and_value()?;
                Deed::Given(point, value)
            }
            "at" => Deed::At(self.time()?),
            "after" => Deed::After(self.duration()?),
            "press" => self.press()?,
            "hold" => Deed::Gesture(self.point()?, Gesture::Hold),
            "release" => Deed::Gesture(self.point()?, Gesture::Release),
            "happens" => Deed::Gesture(self.point()?, Gesture::Happens),
            "report" | "give" => {
                let (point, value) = self.point_and_value()?;
                Deed::Value(point, value)
            }
            "mode" => Deed::Mode(self.mode()?),
            "hub" => self.hub()?,
            "walk" => Deed::Walk(self.walk()?),
            "expect" => return self.expectation(),
            _ => return Err(self.unknown(word, &BEGINNINGS, "a line starts with")),
        }))
    }

    /// A word that is none of those known, with the one that it may have been meant for.
    fn unknown(&mut self, word: &str, known: &[&str], said: &str) -> String {
        let meant = nearest(word, known.iter().copied());
        let sentence = match meant {
            Some(meant) => format!("“{word}” is not known here: did you mean “{meant}”?"),
            None => format!("“{word}” is not known here: {said} {}", known.join(", ")),
        };
        self.back(sentence)
    }

    fn date_and_time(&mut self) -> Result<Local, String> {
        let date = self.word("a date such as 2026-01-15")?;
        let date = Date::parse(date).map_err(|sentence| self.back(sentence))?;
        Ok(Local::at(date, self.time()?))
    }

    fn time(&mut self) -> Result<TimeOfDay, String> {
        let word = self.word("a time such as 20:10")?;
        TimeOfDay::parse(word).map_err(|sentence| self.back(sentence))
    }

    /// `30 s`, `5 min`, `2 h`.
    fn duration(&mut self) -> Result<Seconds, String> {
        let word = self.word("a time such as 30 s")?;
        let figure = word.replace(',', ".").parse::<f64>().ok().filter(|figure| *figure >= 0.0);
        let Some(figure) = figure else {
            return Err(self.back(format!("“{word}” is not a figure: type a time such as 30 s or 5 min")));
        };
        let unit = self.word("s, min or h")?;
        let seconds = match unit {
            "s" => 1.0,
            "min" => 60.0,
            "h" => 3600.0,
            _ => return Err(self.back(format!("“{unit}” is no unit of time: type s, min or h"))),
        };
        Ok(Seconds(figure * seconds))
    }

    fn press(&mut self) -> Result<Deed, String> {
        let point = self.point()?;
        let gesture = if self.takes("twice") {
            Gesture::PressTwice
        } else if self.takes("three") {
            self.word("times")?;
            Gesture::PressThrice
        } else {
            Gesture::Press
        };
        Ok(Deed::Gesture(point, gesture))
    }

    fn hub(&mut self) -> Result<Deed, String> {
        let word = self.word("stops, starts or restarts")?;
        Ok(match word {
            "stops" => Deed::HubStops,
            "starts" => Deed::HubStarts,
            "restarts" => Deed::HubRestarts,
            _ => return Err(self.unknown(word, &["stops", "starts", "restarts"], "the hub")),
        })
    }

    fn rest(&mut self) -> String {
        let rest = self.words[self.at.min(self.words.len())..].join(" ");
        self.at = self.words.len();
        rest
    }

    fn walk(&mut self) -> Result<String, String> {
        let start = self.at;
        let name = self.rest();
        let known = || self.project.walks.iter().map(|(_, walk)| walk.name.as_str());
        if known().any(|walk| walk == name) {
            return Ok(name);
        }
        let meant = nearest(&name, known()).map_or(String::new(), |walk| format!(": did you mean “{walk}”?"));
        self.at = start;
        Err(format!("no walk of the plan is called “{name}”{meant}"))
    }

    fn mode(&mut self) -> Result<HouseMode, String> {
        let start = self.at;
        let mut name = String::new();
        while let Some(word) = self.peek().filter(|word| *word != "within") {
            if !name.is_empty() {
                name.push(' ');
            }
            name.push_str(word);
            self.at += 1;
        }
        if name.eq_ignore_ascii_case("at home") {
            return Ok(HouseMode::AtHome);
        }
        let found = self.project.modes.iter().find(|(_, mode)| mode.name.eq_ignore_ascii_case(&name));
        found.map(|(id, _)| HouseMode::Named(id)).ok_or_else(|| {
            self.at = start;
            let known = self.project.modes.iter().map(|(_, mode)| mode.name.as_str()).chain(["at home"]);
            let meant =
                nearest(&name, known).map_or(String::new(), |mode| format!(": did you mean “{mode}”?"));
            format!("the house has no mode “{name}”{meant}")
        })
    }

    /// A tag and a point of that device: the longest name that the words give.
    fn point(&mut self) -> Result<PointRef, String> {
        let word = self.word("a tag such as PL-04")?;
        let device = self.device(word)?;
        let kind = self
            .project
            .devices
            .get(device)
            .and_then(|device| self.project.kinds.get(device.kind))
            .ok_or_else(|| format!("{word} is of no known kind"))?;
        let rest = &self.words[self.at.min(self.words.len())..];
        let found = (1..=rest.len().min(4)).rev().find_map(|count| {
            let name = rest[..count].join(" ");
            kind.points.iter().find(|point| point.name == name).map(|_| (count, name))
        });
        if let Some((count, name)) = found {
            self.at += count;
            return Ok(PointRef::new(device, name));
        }
        let known: Vec<&str> = kind.points.iter().map(|point| point.name.as_str()).collect();
        let said = rest.iter().take(2).copied().collect::<Vec<_>>().join(" ");
        let meant = nearest(&said, known.iter().copied());
        Err(match meant {
            Some(meant) => format!("{word} has no point “{said}”: did you mean “{meant}”?"),
            None => format!("{word} has no point “{said}”: it has {}", known.join(", ")),
        })
    }

    fn device(&mut self, tag: &str) -> Result<Id<Device>, String> {
        let tags = || self.project.devices.iter().map(|(id, device)| (id, device.tag.to_string()));
        if let Some((id, _)) = tags().find(|(_, known)| known.eq_ignore_ascii_case(tag)) {
            return Ok(id);
        }
        let all: Vec<String> = tags().map(|(_, tag)| tag).collect();
        let meant = nearest(tag, all.iter().map(String::as_str));
        let meant = meant.map_or(String::new(), |meant| format!(": did you mean {meant}?"));
        Err(self.back(format!("no device has the tag {tag}{meant}")))
    }

    fn point_and_value(&mut self) -> Result<(PointRef, Value), String> {
        Ok((self.point()?, self.value()?))
    }

    fn value(&mut self) -> Result<Value, String> {
        let word = self.word("a value such as on, 40 or #ffaa00")?;
        let figure = || word.trim_end_matches('%').replace(',', ".").parse::<f64>().ok();
        match word {
            "on" => Ok(Value::On),
            "off" => Ok(Value::Off),
            _ => colour(word)
                .map(Value::Colour)
                .or_else(|| figure().filter(|figure| figure.is_finite()).map(Value::Number))
                .ok_or_else(|| {
                    self.back(format!(
                        "“{word}” is no value: type on, off, a figure or a colour such as #ffaa00"
                    ))
                }),
        }
    }

    fn expectation(&mut self) -> Result<Step, String> {
        if self.takes("message") {
            let words = self.quoted()?;
            return Ok(Step::Within(Expected::Message(words), self.within()?));
        }
        if self.takes("mode") {
            if !self.takes("is") {
                return Err("the mode is compared with “is”: type expect mode is Night".to_owned());
            }
            let mode = self.mode()?;
            return Ok(Step::Within(Expected::Mode(mode), self.within()?));
        }
        let point = self.point()?;
        if self.takes("stays") {
            let value = self.value()?;
            if !self.takes("for") {
                return Err("for how long it must stay so is missing: type for 10 min".to_owned());
            }
            let expected = Expected::Point { point, comparison: Comparison::Is, value };
            return Ok(Step::Stays(expected, self.duration()?));
        }
        if !self.takes("is") {
            return Err("a point is compared with is, is not, is above or is below, or it stays".to_owned());
        }
        let comparison = if self.takes("not") {
            Comparison::IsNot
        } else if self.takes("above") {
            Comparison::Above
        } else if self.takes("below") {
            Comparison::Below
        } else {
            Comparison::Is
        };
        let value = self.value()?;
        Ok(Step::Within(Expected::Point { point, comparison, value }, self.within()?))
    }

    fn within(&mut self) -> Result<Seconds, String> {
        if self.takes("within") { self.duration() } else { Ok(Seconds::ZERO) }
    }

    /// Words in quotation marks, straight or curly.
    fn quoted(&mut self) -> Result<String, String> {
        const MARKS: [char; 3] = ['"', '“', '”'];
        let first = self.word("the words of the message in quotation marks")?;
        if !first.starts_with(MARKS) {
            return Err(self.back("the words of the message stand in quotation marks".to_owned()));
        }
        let mut words = vec![first];
        while !(words.last().is_some_and(|word| word.ends_with(MARKS))
            && (words.len() > 1 || first.chars().count() > 1))
        {
            words.push(self.word("the closing quotation mark")?);
        }
        Ok(words.join(" ").trim_matches(MARKS).to_owned())
    }
}

fn colour(word: &str) -> Option<[u8; 3]> {
    let digits = word.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.is_ascii())?;
    let part = |from: usize| u8::from_str_radix(&digits[from..from + 2], 16).ok();
    Some([part(0)?, part(2)?, part(4)?])
}

/// Words less alike than this are not taken for one another (Jaro and Winkler, 0 to 1).
const ALIKE: f64 = 0.75;

/// The known word that is most like one, if any is like it.
fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    known
        .map(|known| (strsim::jaro_winkler(&word, &known.to_lowercase()), known))
        .filter(|(alike, _)| *alike >= ALIKE)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, known)| known)
}
