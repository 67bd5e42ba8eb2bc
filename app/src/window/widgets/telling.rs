//! Sentences that speak of things on the plan: each such phrase can be pointed at and clicked.

use egui::text::LayoutJob;
use egui::{Align, FontSelection, Label, RichText, Role, Sense, Stroke, Ui, WidgetInfo, vec2};
use pattress_model::checks::Severity;
use pattress_model::edit::Subject;
use pattress_model::sentence::Phrase;

use super::lines::ring_if_focused;
use crate::window::theme::Theme;

/// What a sentence was asked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Asked {
    /// A thing whose phrase the pointer or the keyboard is on.
    pub pointed: Option<Subject>,
    /// A thing whose phrase was clicked.
    pub clicked: Option<Subject>,
}

/// Shows a sentence; phrases that speak of a thing are underlined and answer.
pub fn sentence(ui: &mut Ui, theme: &Theme, phrases: &[Phrase], quiet: bool) -> Asked {
    let mut asked = Asked::default();
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = 16.0;
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = vec2(0.0, 2.0);
            let plain = if quiet { theme.quiet } else { theme.ink };
            let mut stops = 0;
            for (index, phrase) in phrases.iter().enumerate() {
                // What this phrase begins with and the one before it has taken along.
                let words = &phrase.words[stops..];
                let next = phrases.get(index + 1).map_or("", |next| next.words.as_str());
                stops = stops_of(next);
                let Some(subject) = phrase.subject else {
                    ui.label(RichText::new(format!("{words}{}", &next[..stops])).color(plain));
                    continue;
                };
                let ink = if quiet { theme.quiet } else { theme.accent };
                let mut text = LayoutJob::default();
                for part in
                    [RichText::new(words).color(ink).underline(), RichText::new(&next[..stops]).color(plain)]
                {
                    part.append_to(&mut text, ui.style(), FontSelection::Default, Align::BOTTOM);
                }
                let response = ui.add(Label::new(text).sense(Sense::click()));
                response.widget_info(|| WidgetInfo::labeled(Role::Link, true, &phrase.words));
                ring_if_focused(ui, &response);
                if response.hovered() || response.has_focus() {
                    asked.pointed = Some(subject);
                }
                if response.clicked() {
                    asked.clicked = Some(subject);
                }
            }
        });
    });
    asked
}

/// How many bytes of words are stops that must not begin a line: they stay with what they follow.
fn stops_of(words: &str) -> usize {
    words.find(|letter: char| !matches!(letter, ';' | ',' | '.' | ':' | '”' | ')')).unwrap_or(words.len())
}

/// The beginning of a sentence: no more than so many letters, cut between words. What is left out is told by a
/// last phrase that leads to `whole`.
pub fn beginning(phrases: Vec<Phrase>, most_letters: usize, whole: Subject) -> Vec<Phrase> {
    let letters = |phrase: &Phrase| phrase.words.chars().count();
    if phrases.iter().map(letters).sum::<usize>() <= most_letters {
        return phrases;
    }
    let mut left = most_letters;
    let mut kept = Vec::new();
    for phrase in phrases {
        let long = letters(&phrase);
        if long > left {
            if phrase.subject.is_none() {
                let begun: String = phrase.words.chars().take(left).collect();
                let words = begun.rsplit_once(' ').map_or("", |(words, _)| words);
                kept.push(Phrase { words: format!("{words} "), subject: None, part: None });
            }
            break;
        }
        left -= long;
        kept.push(phrase);
    }
    kept.push(Phrase { words: "… more".to_owned(), subject: Some(whole), part: None });
    kept
}

/// The mark of a severity: a shape of its own as well as a colour.
pub fn severity_mark(ui: &mut Ui, theme: &Theme, severity: Severity) {
    let (rect, _) = ui.allocate_exact_size(vec2(12.0, 14.0), Sense::hover());
    let centre = rect.center();
    let at = |x: f32, y: f32| centre + vec2(x, y);
    let ink = severity_ink(theme, severity);
    match severity {
        Severity::Serious => {
            let corners = vec![at(0.0, -6.0), at(6.0, 0.0), at(0.0, 6.0), at(-6.0, 0.0)];
            ui.painter().add(egui::Shape::convex_polygon(corners, ink, Stroke::NONE));
        }
        Severity::Warning => {
            let corners = vec![at(0.0, -5.0), at(5.5, 4.5), at(-5.5, 4.5)];
            ui.painter().add(egui::Shape::closed_line(corners, Stroke::new(1.6, ink)));
        }
        Severity::Note => {
            ui.painter().circle_stroke(centre, 4.0, Stroke::new(1.4, ink));
        }
    }
}

/// The colour of a severity, never shown without its word or mark.
pub fn severity_ink(theme: &Theme, severity: Severity) -> egui::Color32 {
    match severity {
        Severity::Serious => theme.wrong,
        Severity::Warning => theme.warn,
        Severity::Note => theme.quiet,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_sentence_is_cut_between_words_and_says_so() {
        let zone = Some(Subject::Site);
        let phrase = |words: &str, subject| Phrase { words: words.to_owned(), subject, part: None };
        let sentence =
            || vec![phrase("When ", None), phrase("Hall", zone), phrase(" is set, all goes off.", None)];
        let words = |most| -> String {
            let kept = beginning(sentence(), most, Subject::Site);
            kept.iter().map(|phrase| phrase.words.as_str()).collect()
        };
        assert_eq!(words(40), "When Hall is set, all goes off.");
        assert_eq!(words(31), "When Hall is set, all goes off.");
        assert_eq!(words(20), "When Hall is set, … more");
        assert_eq!(words(7), "When … more");
        assert_eq!(words(2), " … more");
    }

    #[test]
    fn stops_stay_with_what_they_follow() {
        for (words, stops) in
            [("; turn", 1), (".”", 4), (" lights", 0), ("", 0), (", and", 1), ("”; then", 4)]
        {
            assert_eq!(stops_of(words), stops, "{words}");
        }
    }
}
