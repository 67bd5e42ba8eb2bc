//! A drawing on its way in: a picture of it, and the few things to say before it lies under the level.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use egui::{
    ColorImage, Image, RichText, ScrollArea, Sense, TextureHandle, TextureOptions, Ui, WidgetInfo, vec2,
};
use pattress_model::survey::scale::StatedScale;
use pattress_model::survey::straighten::Skew;
use pattress_model::survey::{Proposal, Scale};
use pattress_model::units::Angle;

use super::{storeys, title};
use crate::window::command::Command;
use crate::window::intent::{Intent, Laying, Surveying};
use crate::window::session::Session;
use crate::window::survey::Desk;
use crate::window::survey::at_hand::{CAUTION, figure, paper_in_words};
use crate::window::survey::changes::askew_in_words;
use crate::window::survey::desk::Stand;
use crate::window::survey::reading::{BroughtPage, BroughtPicture, What};
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// How the scale is found.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum ScaleBy {
    /// One that the page states.
    Stated(usize),
    /// Typed: 1 to so many.
    Typed,
    /// By two points, once it lies there.
    #[default]
    TwoPoints,
}

/// What is picked before anything is laid.
#[derive(Default)]
pub struct State {
    /// The reading that all of this is about.
    of: Option<u64>,
    preview: Option<TextureHandle>,
    thumbnails: BTreeMap<u32, TextureHandle>,
    password: String,
    asked_for_password: bool,
    page: String,
    scale_by: ScaleBy,
    denominator: String,
    straighten: bool,
    on_a_new_level: bool,
    ticked: BTreeSet<usize>,
    refused: String,
}

impl State {
    /// Another reading is on the desk: what was picked for the one before is of no use, but where it goes is.
    fn turn_to(&mut self, desk: &Desk, ui: &Ui) {
        let Stand::Read(brought) = desk.stand() else { return };
        if self.of == Some(desk.number()) {
            return;
        }
        let (on_a_new_level, thumbnails) = (self.on_a_new_level, std::mem::take(&mut self.thumbnails));
        *self = Self { of: Some(desk.number()), on_a_new_level, thumbnails, ..Self::default() };
        let load = |image: &Arc<ColorImage>| {
            ui.ctx().load_texture("drawing to bring in", Arc::clone(image), TextureOptions::LINEAR)
        };
        match &brought.what {
            What::Page(page) => {
                self.preview = Some(load(&page.preview));
                self.page = page.page.to_string();
                self.straighten = page.skew.is_some();
                if !page.scales.is_empty() {
                    self.scale_by = ScaleBy::Stated(0);
                }
            }
            What::Picture(picture) => {
                self.preview = Some(load(&picture.preview));
                self.straighten = picture.skew.is_some();
            }
            What::Building(building) => {
                // Foundations and roofs have walls too; what is lived in has rooms.
                let with = |wanted: fn(&Proposal) -> bool| -> BTreeSet<usize> {
                    let storeys = building.storeys.iter().enumerate();
                    storeys.filter(|(_, storey)| wanted(&storey.proposal)).map(|(index, _)| index).collect()
                };
                let with_rooms = with(|proposal| !proposal.walls.is_empty() && !proposal.rooms.is_empty());
                let any_walls = with(|proposal| !proposal.walls.is_empty());
                self.ticked = if with_rooms.is_empty() { any_walls } else { with_rooms };
            }
        }
    }
}

/// Shows the file on the desk.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    desk: &Desk,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let mut intents = Vec::new();
    if fresh {
        *state = State::default();
    }
    state.turn_to(desk, ui);
    let close = title(ui, &format!("Bring in {}", desk.name()), &mut intents);
    if fresh {
        close.request_focus();
    }
    match desk.stand() {
        Stand::Empty => {
            ui.label("No file is in hand.");
            other_file(ui, &mut intents);
        }
        Stand::Reading => reading(ui, desk, &mut intents),
        Stand::Locked(wrong) => locked(ui, *wrong, state, &mut intents, theme),
        Stand::Refused(sentence) => {
            ui.add(egui::Label::new(RichText::new(capitalised(sentence)).color(theme.wrong)).wrap());
            ui.add_space(8.0);
            other_file(ui, &mut intents);
        }
        Stand::Read(brought) => match &brought.what {
            What::Page(page) => drawing(ui, state, desk, &mut intents, |ui, state, intents| {
                page_choices(ui, session, page, state, intents, theme);
            }),
            What::Picture(picture) => drawing(ui, state, desk, &mut intents, |ui, state, intents| {
                picture_choices(ui, session, picture, state, intents, theme);
            }),
            What::Building(building) => {
                storeys::ui(ui, building, &mut state.ticked, &mut intents, theme);
            }
        },
    }
    intents
}

fn capitalised(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

fn other_file(ui: &mut Ui, intents: &mut Vec<Intent>) {
    ui.horizontal(|ui| {
        if ui.button("Choose another file…").clicked() {
            intents.push(Intent::Run(Command::BringIn));
        }
        if ui.button("Cancel").clicked() {
            intents.push(Intent::CloseOverlay);
        }
    });
}

fn reading(ui: &mut Ui, desk: &Desk, intents: &mut Vec<Intent>) {
    ui.horizontal(|ui| {
        let (what, share) = desk.progress().unwrap_or(("Reading", 0.0));
        ui.spinner();
        ui.add(egui::ProgressBar::new(share).desired_width(420.0).text(what));
        if ui.button("Stop").clicked() {
            intents.push(Intent::Survey(Surveying::Stop));
        }
    });
}

fn locked(ui: &mut Ui, wrong: bool, state: &mut State, intents: &mut Vec<Intent>, theme: &Theme) {
    ui.label("This PDF is locked with a password. It is kept in the plan without it.");
    if wrong {
        ui.label(RichText::new("That password does not open it.").color(theme.wrong));
    }
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        let field = egui::TextEdit::singleline(&mut state.password).password(true).desired_width(220.0);
        let response = ui.add(field);
        response.widget_info(|| WidgetInfo::labeled(egui::Role::PasswordInput, true, "Password"));
        if !std::mem::replace(&mut state.asked_for_password, true) {
            response.request_focus();
        }
        let entered = response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
        if (ui.button("Open it").clicked() || entered) && !state.password.is_empty() {
            intents.push(Intent::Survey(Surveying::Unlock(state.password.clone())));
        }
    });
    ui.add_space(8.0);
    other_file(ui, intents);
}

/// The picture at the left, the choices at the right.
fn drawing(
    ui: &mut Ui,
    state: &mut State,
    desk: &Desk,
    intents: &mut Vec<Intent>,
    choices: impl FnOnce(&mut Ui, &mut State, &mut Vec<Intent>),
) {
    let height = (ui.ctx().content_rect().height() - 190.0).clamp(280.0, 900.0);
    let left = ui.available_width() * 0.56;
    ui.horizontal_top(|ui| {
        ui.allocate_ui_with_layout(vec2(left, height), egui::Layout::top_down(egui::Align::Min), |ui| {
            ui.set_width(left);
            picture(ui, state, turn_of(desk, state), height - 118.0);
            pages(ui, state, desk, intents);
        });
        ui.add_space(12.0);
        ui.vertical(|ui| {
            ui.set_width(ui.available_width());
            choices(ui, state, intents);
            if desk.progress().is_some() {
                ui.add_space(6.0);
                reading(ui, desk, intents);
            }
        });
    });
}

/// How far the drawing will be turned, anticlockwise.
fn turn_of(desk: &Desk, state: &State) -> Angle {
    let Stand::Read(brought) = desk.stand() else { return Angle::ZERO };
    let skew = match &brought.what {
        What::Page(page) => page.skew,
        What::Picture(picture) => picture.skew,
        What::Building(_) => None,
    };
    skew.filter(|_| state.straighten).map_or(Angle::ZERO, |skew| Angle::ZERO - skew.angle)
}

/// The picture, turned as it will lie.
fn picture(ui: &mut Ui, state: &State, turn: Angle, tallest: f32) {
    let Some(texture) = &state.preview else { return };
    let room = vec2(ui.available_width(), tallest);
    let size = texture.size_vec2();
    let fits = (room.x / size.x).min(room.y / size.y);
    let response = ui.add(
        Image::new(texture)
            .fit_to_exact_size(size * fits)
            .rotate(-turn.as_radians() as f32, vec2(0.5, 0.5))
            .sense(Sense::hover()),
    );
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, "The drawing"));
}

/// Small pictures of the pages, to choose one.
fn pages(ui: &mut Ui, state: &mut State, desk: &Desk, intents: &mut Vec<Intent>) {
    let Stand::Read(brought) = desk.stand() else { return };
    let What::Page(page) = &brought.what else { return };
    if page.pages < 2 {
        return;
    }
    ScrollArea::horizontal().id_salt("pages").max_height(104.0).show(ui, |ui| {
        ui.horizontal(|ui| {
            for (number, image) in desk.thumbnails() {
                let texture = state.thumbnails.entry(*number).or_insert_with(|| {
                    ui.ctx().load_texture(format!("page {number}"), Arc::clone(image), TextureOptions::LINEAR)
                });
                let size = texture.size_vec2();
                let fitted = size * (76.0 / size.y.max(size.x)).min(1.0);
                ui.vertical(|ui| {
                    let chosen = *number == page.page;
                    let button =
                        egui::Button::image(Image::new(&*texture).fit_to_exact_size(fitted)).selected(chosen);
                    let response = ui.add(button);
                    let name = format!("Page {number}");
                    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, &name));
                    if response.on_hover_text(name).clicked() && !chosen {
                        intents.push(Intent::Survey(Surveying::TurnTo(*number)));
                    }
                });
            }
        });
    });
}

fn page_choices(
    ui: &mut Ui,
    session: &Session,
    page: &BroughtPage,
    state: &mut State,
    intents: &mut Vec<Intent>,
    theme: &Theme,
) {
    let (width, height) = page.size_mm;
    let paper = match paper_in_words(page.size_mm) {
        known if known.starts_with('A') => format!("{known} ({width:.0} × {height:.0} mm)"),
        other => other,
    };
    let of_pages =
        if page.pages > 1 { format!("Page {} of {}, ", page.page, page.pages) } else { String::new() };
    let sort = if page.is_scan { "a scan" } else { "lines and lettering" };
    lines::caption(ui, theme, format!("{of_pages}{paper}, {sort}."));
    if page.was_locked {
        lines::caption(ui, theme, "It was locked; it is kept without its password.");
    }
    if page.pages > 1 {
        page_number(ui, page, state, intents, theme);
    }
    heading(ui, theme, "Scale");
    if page.scales.is_empty() {
        lines::caption(ui, theme, "The page states no scale that can be read.");
    }
    for (index, stated) in page.scales.iter().take(4).enumerate() {
        let words = format!("1:{}", figure(stated.mm_per_unit));
        ui.radio_value(&mut state.scale_by, ScaleBy::Stated(index), words).on_hover_text(&stated.text);
        lines::caption(ui, theme, said_on_the_page(stated));
    }
    typed_scale(ui, state, "Drawn at 1 to");
    ui.radio_value(&mut state.scale_by, ScaleBy::TwoPoints, "By two points afterwards");
    let scale = match state.scale_by {
        ScaleBy::Stated(index) => page.scales.get(index).map(|stated| Ok(Scale::of_statement(stated))),
        ScaleBy::Typed => Some(denominator(&state.denominator).and_then(Scale::told)),
        ScaleBy::TwoPoints => None,
    };
    rest(ui, session, page.skew, scale, state, intents, theme);
}

fn said_on_the_page(stated: &StatedScale) -> String {
    let remark = stated.remark.as_ref().map_or(String::new(), |remark| format!(" {remark}"));
    format!("The page says “{}”.{remark}", stated.text)
}

/// Any page by its number, for files with more pages than are shown.
fn page_number(ui: &mut Ui, page: &BroughtPage, state: &mut State, intents: &mut Vec<Intent>, theme: &Theme) {
    ui.horizontal(|ui| {
        lines::cell(ui, theme, "Page", 13.0, 52.0);
        let response = ui.add(egui::TextEdit::singleline(&mut state.page).desired_width(48.0));
        response.widget_info(|| {
            let mut info = WidgetInfo::text_edit(true, "", &state.page, "");
            info.label = Some("Page".to_owned());
            info
        });
        lines::caption(ui, theme, format!("of {}", page.pages));
        if response.lost_focus() {
            match state.page.trim().parse::<u32>() {
                Ok(number) if (1..=page.pages).contains(&number) => {
                    if number != page.page {
                        intents.push(Intent::Survey(Surveying::TurnTo(number)));
                    }
                }
                _ => state.page = page.page.to_string(),
            }
        }
    });
}

fn picture_choices(
    ui: &mut Ui,
    session: &Session,
    picture: &BroughtPicture,
    state: &mut State,
    intents: &mut Vec<Intent>,
    theme: &Theme,
) {
    let (width, height) = picture.size_px;
    lines::caption(ui, theme, format!("A picture of {width} × {height} pixels."));
    if picture.times_smaller > 1 {
        let words = format!("It came in {} times smaller, as fine as can be traced.", picture.times_smaller);
        lines::caption(ui, theme, words);
    }
    heading(ui, theme, "Scale");
    ui.radio_value(&mut state.scale_by, ScaleBy::TwoPoints, "By two points afterwards");
    let mut scale = None;
    if let Some(px_per_inch) = picture.px_per_inch {
        typed_scale(ui, state, "A scan of a drawing at 1 to");
        lines::caption(ui, theme, format!("The file says {} dots per inch of paper.", figure(px_per_inch)));
        if state.scale_by == ScaleBy::Typed {
            let told = denominator(&state.denominator).and_then(Scale::told);
            scale = Some(told.map(|scale| scale.of_a_scan(px_per_inch)));
        }
    }
    rest(ui, session, picture.skew, scale, state, intents, theme);
    ui.add_space(6.0);
    lines::caption(
        ui,
        theme,
        "A photograph taken at a slant is made square afterwards: Square up by four corners.",
    );
}

/// The scale typed as 1 to so many; typing picks it.
fn typed_scale(ui: &mut Ui, state: &mut State, words: &str) {
    ui.horizontal(|ui| {
        ui.radio_value(&mut state.scale_by, ScaleBy::Typed, words);
        let field = egui::TextEdit::singleline(&mut state.denominator).hint_text("50").desired_width(56.0);
        let response = ui.add(field);
        response.widget_info(|| {
            let mut info = WidgetInfo::text_edit(true, "", &state.denominator, "50");
            info.label = Some("Scale".to_owned());
            info
        });
        if response.changed() {
            state.scale_by = ScaleBy::Typed;
        }
    });
}

/// Reads `50`, `1:50`, `1/50`.
fn denominator(typed: &str) -> Result<f64, String> {
    let typed = typed.trim();
    let number = typed.strip_prefix("1:").or(typed.strip_prefix("1/")).unwrap_or(typed);
    match number.trim().replace(',', ".").parse::<f64>() {
        Ok(scale) if scale.is_finite() && scale > 0.0 => Ok(scale),
        _ => Err(format!("“{typed}” is no scale: type what the drawing is 1 to, such as 50")),
    }
}

/// Straightening, level, and the button that lays it there.
fn rest(
    ui: &mut Ui,
    session: &Session,
    skew: Option<Skew>,
    scale: Option<Result<Scale, String>>,
    state: &mut State,
    intents: &mut Vec<Intent>,
    theme: &Theme,
) {
    heading(ui, theme, "Straighten");
    match skew {
        Some(skew) => {
            let words = format!("Turn it straight: it lies {}", askew_in_words(skew.angle));
            ui.checkbox(&mut state.straighten, words);
        }
        None => {
            lines::caption(ui, theme, "It lies straight, as far as its lines tell.");
        }
    }
    heading(ui, theme, "Level");
    let project = session.project();
    let here = project.levels.get(session.level()).map_or("this level", |level| level.name.as_str());
    ui.radio_value(&mut state.on_a_new_level, false, format!("Under {here}"));
    ui.radio_value(&mut state.on_a_new_level, true, "Under a new level on top");
    ui.add_space(10.0);
    if !state.refused.is_empty() {
        ui.add(egui::Label::new(RichText::new(&state.refused).color(theme.wrong)).wrap());
    }
    ui.horizontal(|ui| {
        if ui.button("Lay it beneath").clicked() {
            match scale.transpose() {
                Ok(scale) => {
                    let turn = skew
                        .filter(|_| state.straighten)
                        .map_or(Angle::ZERO, |skew| Angle::ZERO - skew.angle);
                    let laying = Laying { scale, turn, on_a_new_level: state.on_a_new_level };
                    intents.push(Intent::Survey(Surveying::Lay(laying)));
                    state.refused.clear();
                }
                Err(sentence) => state.refused = sentence,
            }
        }
        if ui.button("Cancel").clicked() {
            intents.push(Intent::CloseOverlay);
        }
    });
    ui.add_space(4.0);
    lines::caption(ui, theme, CAUTION);
}

fn heading(ui: &mut Ui, theme: &Theme, words: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(words).size(12.0).color(theme.quiet).family(crate::window::theme::semi_bold()));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_is_read_as_people_write_it() {
        for (typed, scale) in [("50", 50.0), (" 1:100 ", 100.0), ("1/20", 20.0), ("1: 12,5", 12.5)] {
            assert_eq!(denominator(typed), Ok(scale), "{typed}");
        }
        for typed in ["", "0", "-5", "big", "1:0"] {
            assert!(denominator(typed).is_err(), "{typed}");
        }
    }
}
