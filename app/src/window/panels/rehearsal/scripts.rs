//! The scripts of the plan, each with a button that plays it; of the one that is shown, line by line how it came out;
//! the walks; and what was done so far, to be kept as a script.

use egui::{Align, Color32, Layout, RichText, ScrollArea, Ui};
use pattress_model::studies::rehearsal::script::Outcome;

use crate::window::intent::{Intent, Rehearsing};
use crate::window::rehearsal::LivePlan;
use crate::window::rehearsal::showing::Showing;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::lines;

/// Shows the scripts.
pub fn ui(ui: &mut Ui, live: &LivePlan, keep_as: &mut String, theme: &Theme, intents: &mut Vec<Intent>) {
    ScrollArea::vertical().id_salt("scripts").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        if let Some(showing) = live.showing() {
            lines::group(ui, theme, "On the plan now");
            shown(ui, live, showing, theme, intents);
        }
        keep(ui, live, keep_as, theme, intents);
        lines::group(ui, theme, "Scripts of the plan");
        if live.plan().scripts.is_empty() {
            let words = "The plan has no scripts yet. Do something on the plan, then keep it as a script: it is played \
                         again with one click, and on site it is the acceptance test.";
            lines::nothing(ui, theme, words);
        }
        for (id, script) in live.plan().scripts.iter() {
            lines::line(ui, theme, false, |ui| {
                ui.push_id(id.number(), |ui| {
                    ui.horizontal(|ui| {
                        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                            if lines::small_button(ui, "Play", &format!("Play script {}", script.name)).clicked() {
                                intents.push(Intent::Rehearse(Rehearsing::Play(script.clone())));
                            }
                            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                                ui.add(egui::Label::new(RichText::new(&script.name).family(medium())).truncate());
                            });
                        });
                    });
                });
            });
        }
        walks(ui, live, theme, intents);
        ui.add_space(16.0);
    });
}

/// The walks of the plan.
fn walks(ui: &mut Ui, live: &LivePlan, theme: &Theme, intents: &mut Vec<Intent>) {
    if live.plan().walks.is_empty() {
        return;
    }
    lines::group(ui, theme, "Walks of the plan");
    for (id, walk) in live.plan().walks.iter() {
        lines::line(ui, theme, false, |ui| {
            ui.push_id(("walk", id.number()), |ui| {
                ui.horizontal(|ui| {
                    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        let full = format!("Walk {}", walk.name);
                        if lines::small_button(ui, "Walk", &full).clicked() {
                            intents.push(Intent::Rehearse(Rehearsing::Walk(id)));
                        }
                        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                            ui.add(egui::Label::new(RichText::new(&walk.name)).truncate());
                        });
                    });
                });
            });
        });
    }
}

/// What was done so far, to be kept.
fn keep(ui: &mut Ui, live: &LivePlan, keep_as: &mut String, theme: &Theme, intents: &mut Vec<Intent>) {
    lines::group(ui, theme, "Keep what was done so far");
    lines::line(ui, theme, false, |ui| {
        let steps = live.reel().came().len();
        ui.horizontal(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let named = !keep_as.trim().is_empty();
                let button = ui.add_enabled(steps > 0 && named, egui::Button::new("Keep as script"));
                let why = if steps == 0 { "Nothing was done yet." } else { "Give it a name first." };
                let tip = "Keep the steps, and what the house did after each, as a script of the plan.";
                if button.on_disabled_hover_text(why).on_hover_text(tip).clicked() {
                    intents.push(Intent::Rehearse(Rehearsing::KeepAs(keep_as.trim().to_owned())));
                    keep_as.clear();
                }
                let field = egui::TextEdit::singleline(keep_as)
                    .hint_text("What it shows")
                    .desired_width(f32::INFINITY);
                let field = ui.add(field);
                field.widget_info(|| {
                    egui::WidgetInfo::labeled(egui::Role::TextInput, true, "Name of the script")
                });
            });
        });
        let words = match steps {
            0 => "Nothing was done yet.".to_owned(),
            1 => "One step so far.".to_owned(),
            steps => format!("{steps} steps so far."),
        };
        lines::caption(ui, theme, words);
    });
}

/// The script that is shown: how it came out, line by line.
fn shown(ui: &mut Ui, live: &LivePlan, showing: &Showing, theme: &Theme, intents: &mut Vec<Intent>) {
    lines::line(ui, theme, false, |ui| {
        let (words, ink) = match showing.passed() {
            None => ("waits for what the sensors cover".to_owned(), theme.quiet),
            Some(true) => ("passed".to_owned(), theme.well),
            Some(false) => (format!("{} failed", showing.failed()), theme.wrong),
        };
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(&showing.script.name).family(medium()));
            ui.label(RichText::new(words).family(medium()).color(ink));
        });
    });
    let at = showing.line_at(live.now());
    for (line, text) in (1..).zip(&showing.script.lines) {
        let step = showing.outcome(line);
        let said = step.map_or("", |step| Showing::said(&step.outcome));
        let (mark, ink) = mark_of(step.map(|step| &step.outcome), theme);
        let row = lines::line(ui, theme, at == Some(line), |ui| {
            ui.horizontal_top(|ui| {
                ui.allocate_ui(egui::vec2(58.0, 18.0), |ui| {
                    ui.set_width(58.0);
                    ui.label(RichText::new(mark).size(12.0).color(ink));
                });
                ui.vertical(|ui| {
                    let ink = if step.is_some() { theme.ink } else { theme.quiet };
                    ui.add(egui::Label::new(RichText::new(text).color(ink)).wrap());
                    if !said.is_empty() {
                        ui.add(egui::Label::new(RichText::new(said).size(12.0).color(theme.wrong)).wrap());
                    }
                });
            });
        });
        if let Some(step) = step {
            let response = row.response.interact(egui::Sense::click()).on_hover_text("Go to this moment.");
            if response.clicked() {
                intents.push(Intent::Rehearse(Rehearsing::JumpTo(step.at)));
            }
        }
    }
}

/// The word for how a line came out; colour never says it alone.
const fn mark_of(outcome: Option<&Outcome>, theme: &Theme) -> (&'static str, Color32) {
    match outcome {
        None => ("", theme.quiet),
        Some(Outcome::Done) => ("done", theme.quiet),
        Some(Outcome::Met(_)) => ("met", theme.well),
        Some(Outcome::Failed(_)) => ("failed", theme.wrong),
        Some(Outcome::Refused(_)) => ("refused", theme.wrong),
    }
}
