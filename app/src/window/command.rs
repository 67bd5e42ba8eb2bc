//! The one table of commands: label, key and tip. Menus, keys, the finder and the list of keys read it.

use egui::{Key, KeyboardShortcut, Modifiers};

/// Everything that can be done by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)] // Each is told by its row in the table below.
pub enum Command {
    NewPlan,
    OpenPlan,
    Save,
    SaveAs,
    BringIn,
    Issue,
    Undo,
    Redo,
    Copy,
    CopyUp,
    Remove,
    SelectAll,
    TurnLeft,
    TurnRight,
    MirrorAcross,
    MirrorUpDown,
    AlignLeft,
    AlignRight,
    AlignTop,
    AlignBottom,
    DistributeAcross,
    DistributeUpDown,
    Array,
    MakeZone,
    NewRule,
    NewLevel,
    Pointer,
    DrawWall,
    DrawRoom,
    DrawDoor,
    DrawWindow,
    DrawPlainOpening,
    NameRoom,
    DrawJoinery,
    DrawRoomLine,
    MarkSpot,
    DrawWalk,
    DrawBoundary,
    SuggestPlace,
    Tape,
    WallLine,
    WallAsDrawn,
    AlignStorey,
    Trace,
    Accept,
    AcceptAll,
    AcceptSure,
    SetRestAside,
    ScaleDrawing,
    ScalePrinted,
    CheckScale,
    LevelLine,
    Straighten,
    FourCorners,
    Find,
    Rehearse,
    PlayOrPause,
    Preview,
    WholeSheet,
    WholePlan,
    ZoomIn,
    ZoomOut,
    LevelUp,
    LevelDown,
    DarkOrLight,
    ClientView,
    SiteFacts,
    Keys,
    Quit,
}

/// Groups, in the order of the menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// Plans and files.
    Plan,
    /// Changing what is selected.
    Change,
    /// Drawing the building.
    Draw,
    /// Looking.
    Look,
}

impl Group {
    /// Every group, in order.
    pub const ALL: [Self; 4] = [Self::Plan, Self::Change, Self::Draw, Self::Look];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Plan => "Plan",
            Self::Change => "Change",
            Self::Draw => "Draw",
            Self::Look => "Look",
        }
    }
}

/// One row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// The command.
    pub command: Command,
    /// Where it stands in the menu.
    pub group: Group,
    /// What it is called.
    pub label: &'static str,
    /// What it does, in a sentence.
    pub tip: &'static str,
    /// Its key, if it has one.
    pub shortcut: Option<KeyboardShortcut>,
}

const fn key(modifiers: Modifiers, key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(modifiers, key))
}

const CTRL: Modifiers = Modifiers::COMMAND;
const SHIFT: Modifiers = Modifiers::SHIFT;
const CTRL_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);
const BARE: Modifiers = Modifiers::NONE;

const fn row(
    command: Command,
    group: Group,
    label: &'static str,
    shortcut: Option<KeyboardShortcut>,
    tip: &'static str,
) -> Row {
    Row { command, group, label, tip, shortcut }
}

/// The table. Bare keys act only while no text is being typed.
pub const TABLE: &[Row] = {
    use Command as C;
    use Group::{Change, Draw, Look, Plan};
    &[
        row(C::NewPlan, Plan, "New plan", key(CTRL, Key::N), "Start an empty house."),
        row(C::OpenPlan, Plan, "Open…", key(CTRL, Key::O), "Open a plan from a file or folder."),
        row(C::Save, Plan, "Save", key(CTRL, Key::S), "Save the plan where it is kept."),
        row(C::SaveAs, Plan, "Save as…", key(CTRL_SHIFT, Key::S), "Save the plan under another name."),
        row(
            C::BringIn,
            Plan,
            "Bring in a drawing…",
            None,
            "Lay the architect’s PDF, SVG, scan or photograph under a level, or read an IFC model.",
        ),
        row(C::SiteFacts, Plan, "Title block…", None, "Names, address, date, paper, scale and north."),
        row(C::Preview, Plan, "Sheets", key(CTRL, Key::P), "See each sheet exactly as it will be issued."),
        row(
            C::Issue,
            Plan,
            "Issue sheets…",
            key(CTRL_SHIFT, Key::P),
            "Write the sheet set and the schedules.",
        ),
        row(C::Quit, Plan, "Leave", key(CTRL, Key::Q), "Close the window."),
        row(C::Undo, Change, "Undo", key(CTRL, Key::Z), "Take the last change back."),
        row(C::Redo, Change, "Redo", key(CTRL, Key::Y), "Do again what was taken back."),
        row(
            C::Copy,
            Change,
            "Copy beside",
            key(CTRL, Key::D),
            "Copy what is selected, half a metre to the right.",
        ),
        row(
            C::CopyUp,
            Change,
            "Copy to the level above",
            key(CTRL, Key::U),
            "Copy what is selected, straight up.",
        ),
        row(C::Remove, Change, "Remove", key(BARE, Key::Delete), "Remove what is selected."),
        row(
            C::SelectAll,
            Change,
            "Select all devices",
            key(CTRL, Key::A),
            "Select every device of this level.",
        ),
        row(
            C::TurnLeft,
            Change,
            "Turn 15° left",
            key(BARE, Key::OpenBracket),
            "Turn what is selected anticlockwise.",
        ),
        row(
            C::TurnRight,
            Change,
            "Turn 15° right",
            key(BARE, Key::CloseBracket),
            "Turn what is selected clockwise.",
        ),
        row(
            C::MirrorAcross,
            Change,
            "Mirror left to right",
            key(SHIFT, Key::M),
            "Mirror about the selection’s middle.",
        ),
        row(C::MirrorUpDown, Change, "Mirror top to bottom", None, "Mirror about the selection’s middle."),
        row(C::AlignLeft, Change, "Align left", None, "Bring all to the leftmost one’s line."),
        row(C::AlignRight, Change, "Align right", None, "Bring all to the rightmost one’s line."),
        row(C::AlignTop, Change, "Align top", None, "Bring all to the topmost one’s line."),
        row(C::AlignBottom, Change, "Align bottom", None, "Bring all to the lowest one’s line."),
        row(
            C::DistributeAcross,
            Change,
            "Space out left to right",
            None,
            "Equal distances from centre to centre.",
        ),
        row(
            C::DistributeUpDown,
            Change,
            "Space out top to bottom",
            None,
            "Equal distances from centre to centre.",
        ),
        row(
            C::Array,
            Change,
            "Rows of downlights…",
            key(SHIFT, Key::R),
            "Fill a room with rows and columns of one luminaire.",
        ),
        row(C::MakeZone, Change, "Make a zone", key(CTRL, Key::G), "Let the selected devices act as one."),
        row(C::NewRule, Change, "New rule", key(CTRL, Key::R), "Write what shall happen when."),
        row(C::NewLevel, Change, "New level above", None, "Add a storey on top."),
        row(C::Pointer, Draw, "Pointer", key(BARE, Key::Escape), "Select and move things."),
        row(
            C::DrawWall,
            Draw,
            "Wall",
            key(BARE, Key::W),
            "Draw walls by clicking; type a length for an exact one.",
        ),
        row(C::DrawRoom, Draw, "Four walls", key(SHIFT, Key::W), "Draw a rectangular room by two corners."),
        row(C::DrawDoor, Draw, "Door", key(BARE, Key::D), "Put a door into a wall."),
        row(C::DrawWindow, Draw, "Window", key(BARE, Key::G), "Put a window into a wall."),
        row(
            C::DrawPlainOpening,
            Draw,
            "Plain opening",
            key(BARE, Key::O),
            "Put an opening without a door into a wall.",
        ),
        row(
            C::NameRoom,
            Draw,
            "Name a room",
            key(BARE, Key::N),
            "Click into a space between walls and name it.",
        ),
        row(
            C::DrawRoomLine,
            Draw,
            "Room line",
            None,
            "Draw where one room ends and the next begins without a wall, as a kitchen in a living room.",
        ),
        row(
            C::DrawJoinery,
            Draw,
            "Joinery",
            key(BARE, Key::J),
            "Draw an island, a unit or a wardrobe by two corners.",
        ),
        row(
            C::MarkSpot,
            Draw,
            "Mark a spot",
            None,
            "Mark where somebody sits or sleeps, what a camera must show, what warms, burns or leaks.",
        ),
        row(C::DrawWalk, Draw, "Draw a walk", None, "Draw a way that people take, point by point."),
        row(
            C::DrawBoundary,
            Draw,
            "Boundary of the site",
            None,
            "Draw where the site ends, so that cameras can be kept within it.",
        ),
        row(
            C::SuggestPlace,
            Draw,
            "Suggest a place",
            key(SHIFT, Key::S),
            "Try places for the kind in hand in the room under the pointer, and show the best three.",
        ),
        row(C::Tape, Draw, "Tape", key(BARE, Key::T), "Measure between two points."),
        row(
            C::ScaleDrawing,
            Draw,
            "Scale by two points",
            key(BARE, Key::K),
            "Pick two points of the drawing beneath and type the length between.",
        ),
        row(
            C::ScalePrinted,
            Draw,
            "Scale by a printed length",
            None,
            "Click a dimension or a scale bar that is printed on the drawing beneath.",
        ),
        row(
            C::CheckScale,
            Draw,
            "Check a second length",
            None,
            "Hold another known length against the scale of the drawing beneath.",
        ),
        row(
            C::Straighten,
            Draw,
            "Straighten by itself",
            None,
            "Find how far the drawing beneath lies askew, and turn it straight.",
        ),
        row(
            C::LevelLine,
            Draw,
            "Level by a line",
            None,
            "Pick a line of the drawing beneath that is level or upright on site.",
        ),
        row(
            C::FourCorners,
            Draw,
            "Square up by four corners",
            None,
            "Make a photograph of a plan square by four corners of a known width and depth.",
        ),
        row(
            C::WallLine,
            Draw,
            "Wall by centre or face",
            key(BARE, Key::F),
            "Draw walls by their centre, their left face or their right face.",
        ),
        row(
            C::WallAsDrawn,
            Draw,
            "Thickness as drawn",
            key(BARE, Key::M),
            "Make walls as thick as the drawing shows where the first click lands.",
        ),
        row(
            C::AlignStorey,
            Draw,
            "Align with the level below",
            key(SHIFT, Key::L),
            "Bring two points of this drawing over the same points of the level below.",
        ),
        row(
            C::Trace,
            Draw,
            "Trace for me",
            key(SHIFT, Key::T),
            "Find walls, openings and rooms in the drawing and propose them.",
        ),
        row(
            C::Accept,
            Draw,
            "Accept by click",
            key(BARE, Key::A),
            "Click what is proposed to accept it, or drag around it.",
        ),
        row(
            C::AcceptAll,
            Change,
            "Accept all",
            key(SHIFT, Key::A),
            "Let all that is proposed on this level into the plan.",
        ),
        row(
            C::AcceptSure,
            Change,
            "Accept what is sure",
            key(CTRL_SHIFT, Key::A),
            "Let in what is at least as sure as the list says.",
        ),
        row(
            C::SetRestAside,
            Change,
            "Set the rest aside",
            key(SHIFT, Key::X),
            "Set aside all that is still proposed on this level.",
        ),
        row(
            C::Rehearse,
            Look,
            "Rehearse",
            key(CTRL_SHIFT, Key::R),
            "Play the rules on the plan: press keys, open doors, walk about, let the clock run. The plan stays as it is.",
        ),
        row(
            C::PlayOrPause,
            Look,
            "Let the clock go or stop it",
            None,
            "Let the clock of the rehearsal go, or stop it.",
        ),
        row(
            C::Find,
            Look,
            "Find anything",
            key(CTRL, Key::F),
            "Type a name, a tag, a room, a rule or a command.",
        ),
        row(C::WholeSheet, Look, "Whole sheet", key(BARE, Key::Num0), "Bring the whole sheet into view."),
        row(C::WholePlan, Look, "Whole plan", key(BARE, Key::Num1), "Bring the whole plan into view."),
        row(C::ZoomIn, Look, "Nearer", key(BARE, Key::Plus), "Come nearer."),
        row(C::ZoomOut, Look, "Farther", key(BARE, Key::Minus), "Go farther."),
        row(C::LevelUp, Look, "Level above", key(BARE, Key::PageUp), "Show the level above."),
        row(C::LevelDown, Look, "Level below", key(BARE, Key::PageDown), "Show the level below."),
        row(C::DarkOrLight, Look, "Dark or light", None, "Change between a dark and a light board."),
        row(C::ClientView, Look, "Client view", key(SHIFT, Key::C), "Hide what only the trade needs."),
        row(C::Keys, Look, "List of keys", key(BARE, Key::F1), "Show every command with its key."),
    ]
};

impl Row {
    /// Its key as it stands on the keyboard (`Ctrl+Shift+S`, `[`); empty where it has none.
    pub fn key_words(&self, ctx: &egui::Context) -> String {
        let Some(shortcut) = self.shortcut else { return String::new() };
        let words = ctx.format_shortcut(&shortcut);
        [("OpenBracket", "["), ("CloseBracket", "]"), ("Plus", "+"), ("Minus", "-")]
            .into_iter()
            .fold(words, |words, (name, sign)| words.replace(name, sign))
    }
}

impl Command {
    /// Its row.
    pub fn row(self) -> &'static Row {
        TABLE.iter().find(|row| row.command == self).unwrap_or(&TABLE[0])
    }

    /// Its label.
    pub fn label(self) -> &'static str {
        self.row().label
    }
}

/// Keys with Ctrl that a text field needs for itself.
const KEYS_OF_TEXT: [Key; 3] = [Key::A, Key::Z, Key::Y];

/// The commands whose keys were pressed; bare keys and those of text fields are left alone while text is being
/// typed, and what would change a plan that is covered waits until it is seen again.
pub fn pressed(ctx: &egui::Context, covered: bool) -> Vec<Command> {
    let typing = ctx.text_edit_focused();
    let mut commands = Vec::new();
    // More modifiers first, so that Ctrl+Shift+S is not taken as Ctrl+S.
    let mut rows: Vec<&Row> = TABLE.iter().filter(|row| row.shortcut.is_some()).collect();
    rows.sort_by_key(|row| {
        row.shortcut
            .map_or(0, |shortcut| -(shortcut.modifiers.shift as i32) - (shortcut.modifiers.command as i32))
    });
    for row in rows {
        let Some(shortcut) = row.shortcut else { continue };
        let of_text = !shortcut.modifiers.command && shortcut.logical_key != Key::F1
            || KEYS_OF_TEXT.contains(&shortcut.logical_key);
        let steps = matches!(row.command, Command::Undo | Command::Redo | Command::Pointer);
        let on_the_plan = matches!(row.group, Group::Change | Group::Draw) && row.command != Command::NewRule;
        if typing && of_text || covered && on_the_plan && !steps {
            continue;
        }
        if ctx.input_mut(|input| input.consume_shortcut(&shortcut)) {
            commands.push(row.command);
        }
    }
    commands
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_a_key_or_a_label() {
        for (index, row) in TABLE.iter().enumerate() {
            for other in &TABLE[index + 1..] {
                assert_ne!(row.command, other.command);
                assert_ne!(row.label, other.label);
                assert!(
                    row.shortcut.is_none() || row.shortcut != other.shortcut,
                    "{} and {}",
                    row.label,
                    other.label
                );
            }
            assert!(row.tip.ends_with('.'), "{}", row.label);
        }
    }
}
