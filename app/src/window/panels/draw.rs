//! The drawing tools of the survey: walls, openings, rooms, joinery, the picture beneath.

mod walls;

use egui::{Button, RichText, ScrollArea, Ui, vec2};
use pattress_model::edit::Subject;
use pattress_model::plan::JoineryForm;

use crate::window::canvas::tools::manner::Manner;
use crate::window::command::Command;
use crate::window::intent::{Intent, Selecting};
use crate::window::session::Session;
use crate::window::theme::{Theme, semi_bold};
use crate::window::tool_choice::{OpeningChoice, ToolChoice};

/// Shows the tools.
pub fn ui(ui: &mut Ui, session: &Session, choice: &ToolChoice, manner: Manner, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let margin = egui::Margin { left: 12, right: 12, top: 6, bottom: 12 };
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        egui::Frame::NONE.inner_margin(margin).show(ui, |ui| {
            heading(ui, "The picture beneath");
            let underlay =
                session.project().underlays.iter().find(|(_, underlay)| underlay.level == session.level());
            match underlay {
                None => {
                    quiet(ui, theme, "Lay a scan or a photograph of the plan under this level and trace it.");
                    command(ui, Command::LayUnderlay, choice, theme, &mut intents);
                }
                Some((id, underlay)) => {
                    if ui.link(&underlay.name).on_hover_text("Select the picture.").clicked() {
                        intents.push(Intent::Select(Selecting::Only(vec![Subject::Underlay(id)])));
                    }
                    quiet(ui, theme, &format!("1 pixel is {:.2} mm.", underlay.mm_per_unit));
                    command(ui, Command::ScaleUnderlay, choice, theme, &mut intents);
                    command(ui, Command::LayUnderlay, choice, theme, &mut intents);
                    if session.level_below().is_some() {
                        command(ui, Command::AlignStorey, choice, theme, &mut intents);
                    }
                    command(ui, Command::Trace, choice, theme, &mut intents);
                    command(ui, Command::Accept, choice, theme, &mut intents);
                }
            }
            heading(ui, "Walls");
            for tool in [Command::DrawWall, Command::DrawRoom] {
                command(ui, tool, choice, theme, &mut intents);
            }
            walls::ui(ui, choice, manner, theme, &mut intents);
            heading(ui, "In a wall");
            for tool in [Command::DrawDoor, Command::DrawWindow, Command::DrawPlainOpening] {
                command(ui, tool, choice, theme, &mut intents);
            }
            heading(ui, "Rooms");
            quiet(ui, theme, "A room is there as soon as its walls close.");
            command(ui, Command::NameRoom, choice, theme, &mut intents);
            heading(ui, "Joinery");
            for form in JoineryForm::ALL {
                let tool = ToolChoice::Joinery(form);
                let mut name = form.name().to_owned();
                name[..1].make_ascii_uppercase();
                let chosen = *choice == tool;
                if row(ui, &name, "", "Draw it by two corners.", chosen, theme) {
                    intents.push(Intent::TakeUp(tool));
                }
            }
            heading(ui, "Measuring");
            command(ui, Command::Tape, choice, theme, &mut intents);
        });
    });
    intents
}

fn heading(ui: &mut Ui, words: &str) {
    ui.add_space(10.0);
    ui.label(RichText::new(words).family(semi_bold()).size(13.0));
}

fn quiet(ui: &mut Ui, theme: &Theme, words: &str) {
    ui.label(RichText::new(words).size(12.0).color(theme.quiet));
}

fn command(ui: &mut Ui, command: Command, choice: &ToolChoice, theme: &Theme, intents: &mut Vec<Intent>) {
    let tool = match command {
        Command::DrawWall => Some(ToolChoice::Wall),
        Command::DrawRoom => Some(ToolChoice::FourWalls),
        Command::DrawDoor => Some(ToolChoice::Opening(OpeningChoice::Door)),
        Command::DrawWindow => Some(ToolChoice::Opening(OpeningChoice::Window)),
        Command::DrawPlainOpening => Some(ToolChoice::Opening(OpeningChoice::Plain)),
        Command::NameRoom => Some(ToolChoice::NameRoom),
        Command::Tape => Some(ToolChoice::Tape),
        Command::ScaleUnderlay => Some(ToolChoice::ScaleUnderlay),
        Command::Accept => Some(ToolChoice::Accept),
        Command::AlignStorey => Some(ToolChoice::AlignStorey),
        _ => None,
    };
    let chosen = tool.is_some_and(|tool| {
        std::mem::discriminant(&tool) == std::mem::discriminant(choice) && tool.name() == choice.name()
    });
    let table = command.row();
    let keys = table.shortcut.map_or(String::new(), |shortcut| ui.ctx().format_shortcut(&shortcut));
    if row(ui, table.label, &keys, table.tip, chosen, theme) {
        intents.push(Intent::Run(command));
    }
}

fn row(ui: &mut Ui, label: &str, keys: &str, tip: &str, chosen: bool, theme: &Theme) -> bool {
    let ink = if chosen { theme.on_accent } else { theme.ink };
    let fill = if chosen { theme.accent } else { theme.raised };
    let button = Button::new(RichText::new(label).color(ink))
        .shortcut_text(RichText::new(keys).color(if chosen { theme.on_accent } else { theme.quiet }))
        .fill(fill);
    let response = ui.add_sized(vec2(ui.available_width(), 26.0), button).on_hover_text(tip);
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, chosen, label));
    response.clicked()
}
