//! The drawing tools of the survey: walls, openings, rooms, joinery, the drawing beneath.

mod walls;

use egui::{Button, RichText, ScrollArea, Ui, vec2};
use pattress_model::edit::Subject;
use pattress_model::plan::JoineryForm;

use crate::window::canvas::tools::manner::Manner;
use crate::window::command::Command;
use crate::window::intent::{Intent, Selecting};
use crate::window::session::Session;
use crate::window::survey::at_hand::{drawing_at_hand, is_page, scale_in_words};
use crate::window::theme::{Theme, semi_bold};
use crate::window::tool_choice::{OpeningChoice, ToolChoice};

/// Shows the tools.
pub fn ui(ui: &mut Ui, session: &Session, choice: &ToolChoice, manner: Manner, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let margin = egui::Margin { left: 12, right: 12, top: 6, bottom: 12 };
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        egui::Frame::NONE.inner_margin(margin).show(ui, |ui| {
            heading(ui, "The drawing beneath");
            beneath(ui, session, choice, theme, &mut intents);
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
            for tool in [Command::NameRoom, Command::DrawRoomLine] {
                command(ui, tool, choice, theme, &mut intents);
            }
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
            heading(ui, "Life in the house");
            quiet(ui, theme, "What sensors, cameras and alarms are checked against.");
            for tool in [Command::MarkSpot, Command::DrawWalk, Command::DrawBoundary] {
                command(ui, tool, choice, theme, &mut intents);
            }
            heading(ui, "Measuring");
            command(ui, Command::Tape, choice, theme, &mut intents);
        });
    });
    intents
}

/// The drawing beneath: what it is, its scale, and the tools that bring it to lie right.
fn beneath(ui: &mut Ui, session: &Session, choice: &ToolChoice, theme: &Theme, intents: &mut Vec<Intent>) {
    let Some((id, underlay)) = drawing_at_hand(session) else {
        quiet(
            ui,
            theme,
            "Bring in the architect’s PDF, SVG, scan or photograph and trace it, or an IFC model.",
        );
        return command(ui, Command::BringIn, choice, theme, intents);
    };
    if ui.link(&underlay.name).on_hover_text("Select the drawing.").clicked() {
        intents.push(Intent::Select(Selecting::Only(vec![Subject::Underlay(id)])));
    }
    quiet(ui, theme, &format!("{}.", scale_in_words(underlay)));
    let mut tools = vec![Command::ScaleDrawing];
    if is_page(underlay) {
        tools.push(Command::ScalePrinted);
    }
    tools.extend([Command::CheckScale, Command::Straighten, Command::LevelLine]);
    if !is_page(underlay) {
        tools.push(Command::FourCorners);
    }
    if session.level_below().is_some() {
        tools.push(Command::AlignStorey);
    }
    tools.extend([Command::Trace, Command::Accept, Command::BringIn]);
    for tool in tools {
        command(ui, tool, choice, theme, intents);
    }
    quiet(ui, theme, "What is measured on site wins over the drawing.");
}

fn heading(ui: &mut Ui, words: &str) {
    ui.add_space(10.0);
    ui.label(RichText::new(words).family(semi_bold()).size(13.0));
}

fn quiet(ui: &mut Ui, theme: &Theme, words: &str) {
    ui.add(egui::Label::new(RichText::new(words).size(12.0).color(theme.quiet)).wrap());
}

fn command(ui: &mut Ui, command: Command, choice: &ToolChoice, theme: &Theme, intents: &mut Vec<Intent>) {
    let tool = match command {
        Command::DrawWall => Some(ToolChoice::Wall),
        Command::DrawRoom => Some(ToolChoice::FourWalls),
        Command::DrawDoor => Some(ToolChoice::Opening(OpeningChoice::Door)),
        Command::DrawWindow => Some(ToolChoice::Opening(OpeningChoice::Window)),
        Command::DrawPlainOpening => Some(ToolChoice::Opening(OpeningChoice::Plain)),
        Command::NameRoom => Some(ToolChoice::NameRoom),
        Command::DrawRoomLine => Some(ToolChoice::RoomLine),
        Command::MarkSpot => Some(ToolChoice::MarkSpot),
        Command::DrawWalk => Some(ToolChoice::DrawWalk),
        Command::DrawBoundary => Some(ToolChoice::DrawBoundary),
        Command::Tape => Some(ToolChoice::Tape),
        Command::Accept => Some(ToolChoice::Accept),
        Command::AlignStorey => Some(ToolChoice::AlignStorey),
        Command::ScaleDrawing => Some(ToolChoice::ScaleDrawing),
        Command::ScalePrinted => Some(ToolChoice::ScalePrinted),
        Command::CheckScale => Some(ToolChoice::CheckScale),
        Command::LevelLine => Some(ToolChoice::LevelLine),
        Command::FourCorners => Some(ToolChoice::FourCorners),
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
