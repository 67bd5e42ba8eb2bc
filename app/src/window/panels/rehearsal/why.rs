//! Why something happened: its chain from the effect back to what came in, with the rules' own sentences, which name
//! their conditions.

use egui::{Frame, Margin, RichText, ScrollArea, Ui};
use pattress_model::id::Id;
use pattress_model::sentence::sentence;
use pattress_model::studies::rehearsal::What;
use pattress_model::studies::rehearsal::telling;
use pattress_model::systems::Rule;

use crate::window::intent::{Intent, Rehearsing, Viewing};
use crate::window::rehearsal::LivePlan;
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::telling as phrased;

/// Shows why.
pub fn ui(ui: &mut Ui, live: &LivePlan, chosen: usize, theme: &Theme, intents: &mut Vec<Intent>) {
    let top = ui.max_rect();
    ui.painter().hline(top.x_range(), top.top(), egui::Stroke::new(1.0, theme.edge));
    let margin = Margin { left: 14, right: 12, top: 8, bottom: 8 };
    Frame::NONE.inner_margin(margin).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.label(RichText::new("Why").family(semi_bold()));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.button("Close").clicked() {
                    intents.push(Intent::Rehearse(Rehearsing::Choose(None)));
                }
                let tip = "Wind the house to where this has just happened.";
                if ui.button("Show this moment").on_hover_text(tip).clicked() {
                    intents.push(Intent::Rehearse(Rehearsing::GoTo(chosen)));
                }
            });
        });
        ScrollArea::vertical().id_salt("why").auto_shrink(false).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 4.0;
            chain(ui, live, chosen, theme, intents);
        });
    });
}

fn chain(ui: &mut Ui, live: &LivePlan, chosen: usize, theme: &Theme, intents: &mut Vec<Intent>) {
    let reel = live.reel();
    let mut last_at = None;
    let mut told_rules: Vec<Id<Rule>> = Vec::new();
    for (place, entry) in reel.chain(chosen).into_iter().enumerate() {
        let Some(found) = reel.told().get(entry) else { continue };
        let mut phrases = telling::phrases(live.plan(), reel, entry);
        let mut before = if place == 0 { String::new() } else { "because: ".to_owned() };
        if last_at != Some(found.at) {
            before = format!("{}  {before}", telling::clock_words(live.clock(), found.at));
        }
        last_at = Some(found.at);
        if !before.is_empty() {
            let words = pattress_model::sentence::Phrase { words: before, subject: None, part: None };
            phrases.insert(0, words);
        }
        ui.push_id(entry, |ui| answer(phrased::sentence(ui, theme, &phrases, false), intents));
        if let Some(rule) = rule_of(found.what).filter(|rule| !told_rules.contains(rule)) {
            told_rules.push(rule);
            let Some(says) = live.plan().rules.get(rule) else { continue };
            ui.push_id(("rule", rule.number()), |ui| {
                ui.indent("rule", |ui| {
                    answer(phrased::sentence(ui, theme, &sentence(live.plan(), says), true), intents);
                });
            });
        }
    }
}

fn answer(asked: phrased::Asked, intents: &mut Vec<Intent>) {
    intents.extend(asked.pointed.map(Intent::PointAt));
    if let Some(subject) = asked.clicked {
        intents.push(Intent::View(Viewing::Bring(subject)));
        intents.push(Intent::Rehearse(Rehearsing::Card(Some(subject))));
    }
}

/// The rule that an entry is about.
const fn rule_of(what: What) -> Option<Id<Rule>> {
    match what {
        What::Started(rule)
        | What::Waited { rule, .. }
        | What::Lasted(rule)
        | What::LingerOver(rule)
        | What::HoldBegan(rule)
        | What::HoldKept(rule)
        | What::HoldEnded(rule)
        | What::Sent { rule, .. } => Some(rule),
        _ => None,
    }
}
