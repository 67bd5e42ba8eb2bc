//! Proposed: what the trace found and nobody has decided on yet, those least sure first.
//!
//! Pointing at a line lights up its ghost, and the ghost under the pointer marks its line. What is accepted
//! leaves the list and comes back with undo; what is set aside can be brought back.

use egui::{Align, Color32, Layout, RichText, Shape, Stroke, Ui, vec2};
use pattress_model::plan::Underlay;
use pattress_model::survey::Part;

use super::header;
use crate::window::canvas::offered::ink_of;
use crate::window::command::Command;
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::survey::offer::{Offer, Sureness};
use crate::window::survey::proposed::{Offering, Proposed};
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// So many lines are shown at first, and so many more at a time: those least sure want looking at, not all.
const LINES_AT_ONCE: usize = 40;

/// Shows what is proposed for the level on the board.
pub fn ui(ui: &mut Ui, session: &Session, proposed: &Proposed, theme: &Theme, intents: &mut Vec<Intent>) {
    let level = session.level();
    if let Some(tracing) = proposed.tracing() {
        lines::group(ui, theme, "Proposed");
        header(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 6.0;
            ui.add(egui::Label::new(tracing.what()).truncate());
            ui.horizontal(|ui| {
                if ui.button("Stop").on_hover_text("Stop the trace; the plan stays as it is.").clicked() {
                    intents.push(Intent::Offer(Offering::StopTracing));
                }
                let bar = egui::ProgressBar::new(tracing.share()).desired_width(ui.available_width());
                ui.add(bar.text(format!("{:.0} %", tracing.share() * 100.0)));
            });
        });
        return;
    }
    let drawing = session.project().underlays.iter().find(|(_, underlay)| underlay.level == level);
    match (proposed.on(level), drawing) {
        (Some(offer), _) => {
            lines::group(ui, theme, "Proposed");
            offered(ui, session, proposed, offer, theme, intents);
        }
        (None, Some((_, underlay))) => {
            lines::group(ui, theme, "Proposed");
            nothing_yet(ui, underlay, theme, intents);
        }
        (None, None) => {}
    }
}

fn nothing_yet(ui: &mut Ui, underlay: &Underlay, theme: &Theme, intents: &mut Vec<Intent>) {
    header(ui, |ui| {
        let row = Command::Trace.row();
        if ui.button(row.label).on_hover_text(row.tip).clicked() {
            intents.push(Intent::Run(Command::Trace));
        }
        ui.add_space(4.0);
        let words = format!("Walls, openings and rooms of {} as a ghost, for you to accept.", underlay.name);
        lines::caption(ui, theme, words);
    });
}

fn offered(
    ui: &mut Ui,
    session: &Session,
    proposed: &Proposed,
    offer: &Offer,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let left = offer.left(project);
    header(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 6.0;
        ui.add(egui::Label::new(counts(&left, offer.aside())).wrap());
        if offer.is_stale(project) {
            let words = "The drawing has moved or was scaled since: trace it again.";
            ui.add(egui::Label::new(RichText::new(words).color(theme.warn)).wrap());
            run(ui, Command::Trace, intents);
            return;
        }
        if !left.is_empty() {
            legend(ui, theme);
            decide(ui, proposed, offer, &left, intents);
        }
        ui.horizontal_wrapped(|ui| {
            if offer.aside() > 0 {
                let words = format!("Bring back {} set aside", offer.aside());
                if lines::small_button(ui, &words, &words).clicked() {
                    intents.push(Intent::Offer(Offering::BringBack));
                }
            }
            if !left.is_empty() {
                run(ui, Command::SetRestAside, intents);
            }
            if lines::small_button(ui, "Trace again", "Trace the drawing again").clicked() {
                intents.push(Intent::Run(Command::Trace));
            }
        });
    });
    if offer.is_stale(project) {
        return;
    }
    let salt = egui::Id::unique(("lines proposed", session.level().number()));
    let most = ui.data(|data| data.get_temp::<usize>(salt)).unwrap_or(LINES_AT_ONCE);
    for part in left.iter().take(most) {
        part_line(ui, proposed, offer, *part, theme, intents);
    }
    if left.len() > most {
        header(ui, |ui| {
            let words = format!("Show more: {} that are surer", left.len() - most);
            if lines::small_button(ui, &words, &words).clicked() {
                ui.data_mut(|data| data.insert_temp(salt, most + LINES_AT_ONCE));
            }
        });
    }
}

fn run(ui: &mut Ui, command: Command, intents: &mut Vec<Intent>) {
    let row = command.row();
    if ui.button(row.label).on_hover_text(row.tip).clicked() {
        intents.push(Intent::Run(command));
    }
}

/// `34 walls, 12 openings and 8 rooms to decide on; 3 set aside.`
fn counts(left: &[Part], aside: usize) -> String {
    let counted = |one: &str, of: fn(&Part) -> bool| {
        let count = left.iter().filter(|part| of(part)).count();
        format!("{count} {one}{}", if count == 1 { "" } else { "s" })
    };
    let words = if left.is_empty() {
        "Everything is decided on".to_owned()
    } else {
        format!(
            "{}, {} and {} to decide on",
            counted("wall", |part| matches!(part, Part::Wall(_))),
            counted("opening", |part| matches!(part, Part::Opening(_))),
            counted("room", |part| matches!(part, Part::Room(_))),
        )
    };
    if aside == 0 { format!("{words}.") } else { format!("{words}; {aside} set aside.") }
}

/// What the forms of the lines mean.
fn legend(ui: &mut Ui, theme: &Theme) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (sureness, words) in [
            (Sureness::Sure, "90 % sure or more"),
            (Sureness::Likely, "60 % or more"),
            (Sureness::Doubtful, "less"),
        ] {
            sample(ui, theme, sureness);
            lines::caption(ui, theme, words);
            ui.add_space(6.0);
        }
    });
}

fn sample(ui: &mut Ui, theme: &Theme, sureness: Sureness) {
    let (rect, _) = ui.allocate_exact_size(vec2(22.0, 12.0), egui::Sense::hover());
    let ends = [rect.left_center(), rect.right_center()];
    let stroke = Stroke::new(1.8, ink_of(theme, sureness));
    match sureness {
        Sureness::Sure => {
            ui.painter().line_segment(ends, stroke);
        }
        Sureness::Likely => ui.painter().extend(Shape::dashed_line(&ends, stroke, 6.0, 3.0)),
        Sureness::Doubtful => ui.painter().extend(Shape::dotted_line(&ends, stroke.color, 5.0, 1.4)),
    }
}

/// What can be done with all of it.
fn decide(ui: &mut Ui, proposed: &Proposed, offer: &Offer, left: &[Part], intents: &mut Vec<Intent>) {
    let sure = left.iter().filter(|part| offer.percent(**part) >= proposed.least()).count();
    ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
    ui.horizontal_wrapped(|ui| {
        run(ui, Command::AcceptAll, intents);
        run(ui, Command::Accept, intents);
    });
    ui.horizontal(|ui| {
        let words = format!("Accept the {sure} at least");
        let tip = Command::AcceptSure.row().tip;
        if ui.add_enabled(sure > 0, egui::Button::new(words)).on_hover_text(tip).clicked() {
            intents.push(Intent::Run(Command::AcceptSure));
        }
        let mut least = proposed.least();
        let field = egui::DragValue::new(&mut least).range(0..=100).suffix(" % sure");
        let response = ui.add(field).on_hover_text("Drag, or click and type a percentage.");
        response.widget_info(|| {
            egui::WidgetInfo::slider(true, f64::from(proposed.least()), "Least sureness, percent")
        });
        if least != proposed.least() {
            intents.push(Intent::Offer(Offering::Least(least)));
        }
    });
}

fn part_line(
    ui: &mut Ui,
    proposed: &Proposed,
    offer: &Offer,
    part: Part,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let percent = offer.percent(part);
    let words = capitalised(&offer.words(part));
    let full = capitalised(&offer.words_with_sureness(part));
    let line = lines::line(ui, theme, proposed.lit() == Some(part), |ui| {
        ui.horizontal(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let ink: Color32 = ink_of(theme, Sureness::of(percent));
                ui.add_sized(
                    vec2(36.0, 18.0),
                    egui::Label::new(RichText::new(format!("{percent} %")).color(ink)).halign(Align::RIGHT),
                );
                ui.spacing_mut().item_spacing.x = 4.0;
                if mark_button(ui, theme, Mark::Cross, &format!("Set aside: {full}")).clicked() {
                    intents.push(Intent::Offer(Offering::SetAside(vec![part])));
                }
                if mark_button(ui, theme, Mark::Tick, &format!("Accept: {full}")).clicked() {
                    intents.push(Intent::Offer(Offering::Accept(vec![part])));
                }
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                    let name = lines::name_button(ui, &words, &full, theme.ink);
                    if name.clicked() {
                        intents.push(Intent::Offer(Offering::ShowPart(part)));
                    }
                    name.has_focus()
                })
                .inner
            })
            .inner
        })
        .inner
    });
    if line.hovered || line.inner {
        intents.push(Intent::Offer(Offering::PointAt(part)));
    }
}

/// What a small square button shows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    Tick,
    Cross,
}

/// A small square button with a tick or a cross; its name says in full what it does.
fn mark_button(ui: &mut Ui, theme: &Theme, mark: Mark, name: &str) -> egui::Response {
    let (rect, response) = ui.allocate_exact_size(vec2(22.0, 20.0), egui::Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, name));
    let hot = response.hovered() || response.has_focus();
    let (ground, edge) = if hot { (theme.accent_soft, theme.accent) } else { (theme.raised, theme.edge) };
    ui.painter().rect(rect, 3.0, ground, Stroke::new(1.0, edge), egui::StrokeKind::Inside);
    let at = |x: f32, y: f32| rect.center() + vec2(x, y);
    let pen = Stroke::new(1.6, theme.ink);
    match mark {
        Mark::Tick => {
            ui.painter().line_segment([at(-4.5, 0.5), at(-1.5, 3.5)], pen);
            ui.painter().line_segment([at(-1.5, 3.5), at(4.5, -3.5)], pen);
        }
        Mark::Cross => {
            ui.painter().line_segment([at(-3.5, -3.5), at(3.5, 3.5)], pen);
            ui.painter().line_segment([at(-3.5, 3.5), at(3.5, -3.5)], pen);
        }
    }
    lines::ring_if_focused(ui, &response);
    response.on_hover_text(name)
}

fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
