//! What waits to be done, the first due first.

use egui::{RichText, ScrollArea, Ui};
use pattress_model::sentence::Phrase;
use pattress_model::studies::rehearsal::telling;

use crate::window::intent::{Intent, Rehearsing};
use crate::window::rehearsal::LivePlan;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::{lines, telling as phrased};

/// No more than so many are listed.
const MOST: usize = 200;

/// Shows what waits.
pub fn ui(ui: &mut Ui, live: &LivePlan, theme: &Theme, intents: &mut Vec<Intent>) {
    let waiting = telling::waiting_phrases(live.plan(), live.reel());
    if waiting.is_empty() {
        let words = "No rule waits to do anything. What a rule does after a time waits here until then.";
        return lines::nothing(ui, theme, words);
    }
    ScrollArea::vertical().id_salt("waiting").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for (place, (at, rule, mut phrases)) in waiting.into_iter().take(MOST).enumerate() {
            let name = live.plan().rules.get(rule).map_or("", |rule| rule.name.as_str());
            let line = lines::line(ui, theme, false, |ui| {
                ui.push_id(place, |ui| {
                    ui.horizontal(|ui| {
                        let time = telling::clock_words(live.clock(), at);
                        ui.label(RichText::new(time.clone()).color(theme.quiet));
                        ui.label(RichText::new(format!("“{name}”")).family(medium()));
                        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                            let full = format!("Let the clock run to {time}");
                            if lines::small_button(ui, "Go there", &full).clicked() {
                                intents.push(Intent::Rehearse(Rehearsing::JumpTo(at)));
                            }
                        });
                    });
                    phrases.push(Phrase { words: ".".to_owned(), subject: None, part: None });
                    phrased::sentence(ui, theme, &phrases, false)
                })
                .inner
            });
            intents.extend(line.inner.pointed.map(Intent::PointAt));
        }
    });
}
