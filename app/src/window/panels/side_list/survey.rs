//! Survey: levels, rooms, what is drawn, the drawings beneath, and what the survey still lacks.

use egui::{Align, Layout, RichText, Ui};
use pattress_model::checks::Finding;
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::{Level, OpeningForm, Underlay};

use super::{findings, header, pick, proposed};
use crate::window::command::Command;
use crate::window::intent::{Intent, Viewing};
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::survey::at_hand::scale_in_words;
use crate::window::survey::proposed::Proposed;
use crate::window::theme::Theme;
use crate::window::widgets::{length_field, lines, text_field};

/// Shows the survey.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    offers: &Proposed,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    levels(ui, session, theme, intents);
    proposed::ui(ui, session, offers, theme, intents);
    drawn(ui, session, theme);
    rooms(ui, session, figures, theme, intents);
    underlays(ui, session, theme, intents);
    lines::group(ui, theme, "Findings of the survey");
    let found = figures.findings.iter().filter(|finding| is_of_the_survey(finding));
    findings::ui(ui, session, figures, found, theme, intents);
}

fn is_of_the_survey(finding: &Finding) -> bool {
    !matches!(finding.subject, Subject::Device(_) | Subject::Kind(_) | Subject::Zone(_) | Subject::Rule(_))
}

fn levels(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    let levels = session.project().levels_upwards();
    header(ui, |ui| {
        ui.horizontal(|ui| {
            lines::heading(ui, "Levels");
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let row = Command::NewLevel.row();
                if ui.button("Add a level").on_hover_text(row.tip).clicked() {
                    intents.push(Intent::Run(Command::NewLevel));
                }
            });
        });
    });
    lines::thin_rule(ui, theme);
    for (id, level) in levels.into_iter().rev() {
        let at_hand = id == session.level();
        lines::line(ui, theme, at_hand, |ui| {
            if at_hand {
                level_editor(ui, session, id, level, theme, intents);
                return;
            }
            let response = lines::name_button(ui, &level.name, &format!("Show {}", level.name), theme.ink);
            if response.clicked() {
                intents.push(Intent::View(Viewing::Level(id)));
            }
            if session.client_view() {
                return;
            }
            let words = format!(
                "floor {:+.0} mm, ceiling {} mm",
                level.floor_above_datum.as_mm(),
                level.ceiling_affl
            );
            lines::caption(ui, theme, words);
        });
    }
}

/// The level on the board: its name and heights, to be changed.
fn level_editor(
    ui: &mut Ui,
    session: &Session,
    id: Id<Level>,
    level: &Level,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let salt = |field: &str| egui::Id::unique(("level", id.number(), field));
    let edit = |level: Level| Intent::Change(verbs::edit_level(project, id, level));
    let width = ui.available_width().min(220.0);
    if let (_, Some(name)) = text_field(ui, salt("name"), "Name of the level", &level.name, width) {
        intents.push(edit(Level { name, ..level.clone() }));
    }
    if session.client_view() {
        return;
    }
    for (name, unit, value) in
        [("Floor", "mm above datum", level.floor_above_datum), ("Ceiling", "mm AFFL", level.ceiling_affl)]
    {
        ui.horizontal(|ui| {
            lines::cell(ui, theme, name, 13.0, 52.0);
            match length_field(ui, salt(name), name, Some(value)) {
                Some(Ok(length)) if name == "Floor" => {
                    intents.push(edit(Level { floor_above_datum: length, ..level.clone() }));
                }
                Some(Ok(length)) => intents.push(edit(Level { ceiling_affl: length, ..level.clone() })),
                Some(Err(sentence)) => intents.push(Intent::Change(Err(sentence))),
                None => {}
            }
            lines::caption(ui, theme, unit);
        });
    }
    ui.horizontal_wrapped(|ui| {
        let levels = project.levels_upwards();
        let place = levels.iter().position(|(other, _)| *other == id);
        if let Some((upper, above)) = place.and_then(|place| levels.get(place + 1)) {
            let name = format!("Copy the walls of {} to {}", level.name, above.name);
            if lines::small_button(ui, "Copy walls up", &name).clicked() {
                intents.push(Intent::Change(verbs::copy_walls_up(project, id, *upper)));
            }
            if lines::small_button(ui, "without openings", &format!("{name}, without their openings"))
                .clicked()
            {
                let copied = verbs::copy_walls_to(project, id, *upper, verbs::CopiedOpenings::Without);
                intents.push(Intent::Change(copied));
            }
        }
        if levels.len() > 1
            && lines::small_button(ui, "Remove", &format!("Remove {} and all on it", level.name)).clicked()
        {
            intents.push(Intent::Change(verbs::remove_level(project, id)));
        }
    });
}

/// What is drawn on the level, counted.
fn drawn(ui: &mut Ui, session: &Session, theme: &Theme) {
    let project = session.project();
    let level = session.level();
    let openings = |wanted: fn(&OpeningForm) -> bool| {
        project.openings_on(level).filter(|(_, opening, _)| wanted(&opening.form)).count()
    };
    let counted = |count: usize, one: &str| match count {
        1 => format!("1 {one}"),
        _ => format!("{count} {one}s"),
    };
    let words = [
        counted(project.walls_on(level).count(), "wall"),
        counted(openings(|form| matches!(form, OpeningForm::Door { .. })), "door"),
        counted(openings(|form| matches!(form, OpeningForm::Window { .. })), "window"),
        counted(openings(|form| matches!(form, OpeningForm::Plain)), "plain opening"),
    ];
    lines::group(ui, theme, "Drawn on this level");
    lines::line(ui, theme, false, |ui| ui.label(words.join(", ")));
}

fn rooms(ui: &mut Ui, session: &Session, figures: &Figures, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    lines::group(ui, theme, "Rooms");
    if project.rooms_on(session.level()).next().is_none() {
        lines::nothing(ui, theme, "No rooms named yet: take up Name a room and click between walls.");
    }
    for (id, room) in project.rooms_on(session.level()) {
        let subject = Subject::Room(id);
        let marked = session.pointed_at() == Some(subject) || session.selection().contains(&subject);
        let line = lines::line(ui, theme, marked, |ui| {
            ui.horizontal(|ui| {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    match figures.outlines.get(&id) {
                        Some(outline) => ui.label(RichText::new(outline.area().to_string())),
                        None => ui.label(RichText::new("walls do not close").color(theme.warn)),
                    };
                    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                        let name = format!("Room {}", room.name);
                        let response = lines::name_button(ui, &room.name, &name, theme.ink);
                        lines::caption(ui, theme, room.room_use.name());
                        if response.clicked() {
                            pick(subject, intents);
                        }
                        response.has_focus()
                    })
                    .inner
                })
                .inner
            })
            .inner
        });
        if line.hovered || line.inner {
            intents.push(Intent::PointAt(subject));
        }
    }
}

fn underlays(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    lines::group(ui, theme, "Drawings beneath");
    let mut any = false;
    for (id, underlay) in project.underlays.iter().filter(|(_, drawing)| drawing.level == session.level()) {
        any = true;
        let subject = Subject::Underlay(id);
        let line = lines::line(ui, theme, session.selection().contains(&subject), |ui| {
            let name = format!("Drawing {}", underlay.name);
            if lines::name_button(ui, &underlay.name, &name, theme.ink).clicked() {
                pick(subject, intents);
            }
            lines::caption(ui, theme, told(underlay));
            ui.horizontal(|ui| {
                opacity(ui, session, id, underlay, intents);
                let row = Command::ScaleDrawing.row();
                if lines::small_button(ui, "Scale…", row.tip).clicked() {
                    intents.push(Intent::Run(Command::ScaleDrawing));
                }
                if lines::small_button(ui, "Remove", &format!("Remove drawing {}", underlay.name)).clicked() {
                    intents.push(Intent::Change(verbs::remove_things(project, &[subject])));
                }
            });
        });
        if line.hovered {
            intents.push(Intent::PointAt(subject));
        }
    }
    if !any {
        header(ui, |ui| {
            let row = Command::BringIn.row();
            if ui.button(row.label).on_hover_text(row.tip).clicked() {
                intents.push(Intent::Run(Command::BringIn));
            }
        });
    }
}

/// Its scale, its page and whether it shows, in words.
fn told(underlay: &Underlay) -> String {
    let mut words = scale_in_words(underlay);
    if underlay.page > 1 {
        words = format!("page {}, {words}", underlay.page);
    }
    if underlay.opacity <= 0.0 {
        words.push_str(", hidden");
    }
    words
}

/// A slider that hands over one change when it is let go.
fn opacity(ui: &mut Ui, session: &Session, id: Id<Underlay>, underlay: &Underlay, intents: &mut Vec<Intent>) {
    let salt = egui::Id::unique(("strength", id.number()));
    let draft = ui.data(|data| data.get_temp::<f64>(salt));
    let mut percent = draft.unwrap_or(underlay.opacity * 100.0);
    ui.spacing_mut().slider_width = 90.0;
    let slider = egui::Slider::new(&mut percent, 0.0..=100.0).show_value(false).step_by(5.0);
    let response = ui.add(slider);
    response.widget_info(|| egui::WidgetInfo::slider(true, percent, "Strength of the drawing"));
    ui.label(RichText::new(format!("{percent:.0} %")).size(11.0));
    if response.dragged() {
        ui.data_mut(|data| data.insert_temp(salt, percent));
    } else if response.drag_stopped() || response.changed() {
        ui.data_mut(|data| data.remove::<f64>(salt));
        let change = verbs::set_underlay_opacity(session.project(), id, percent / 100.0);
        intents.push(Intent::Change(change));
    }
}
