//! Commands of the table, carried out.

use kurbo::{Point, Rect, Vec2};
use pattress_model::edit::verbs::{Axis, Edge, MirrorLine};
use pattress_model::edit::{Change, Subject, verbs};
use pattress_model::id::Id;
use pattress_model::kit::{Device, Family};
use pattress_model::plan::Level;
use pattress_model::project::Project;
use pattress_model::survey::Part;
use pattress_model::systems::ZonePurpose;
use pattress_model::units::Angle;

use crate::window::board::{Board, Said};
use crate::window::canvas::tools::manner::Thickness;
use crate::window::command::Command;
use crate::window::intent::{
    AfterSaving, Filing, Intent, Overlay, PathFor, Rehearsing, Selecting, Surveying, Viewing,
};
use crate::window::survey::proposed::Offering;
use crate::window::theme::Theme;
use crate::window::tool_choice::{OpeningChoice, ToolChoice};

use super::{files, suggesting, update};

/// A copy is laid so far beside what it copies, mm.
const COPY_BESIDE: Vec2 = Vec2::new(500.0, 0.0);

/// Carries out a command.
pub fn run(board: &mut Board, ctx: &egui::Context, command: Command) {
    use Command as C;
    let intent = match command {
        C::NewPlan => unless_unsaved(board, AfterSaving::New, Intent::File(Filing::New)),
        C::OpenPlan => {
            unless_unsaved(board, AfterSaving::Open, Intent::Open(Overlay::TypePath(PathFor::Open)))
        }
        C::Quit => unless_unsaved(board, AfterSaving::Quit, Intent::File(Filing::Quit)),
        C::Save => Intent::File(Filing::Save),
        C::SaveAs => Intent::Open(Overlay::TypePath(PathFor::SaveAs)),
        C::BringIn => Intent::Open(Overlay::TypePath(PathFor::Drawing)),
        C::Issue => Intent::Open(Overlay::TypePath(PathFor::Issue)),
        C::SiteFacts => Intent::Open(Overlay::Site),
        C::Preview => Intent::Open(Overlay::Preview),
        C::Find => Intent::Open(Overlay::Finder),
        C::Keys => Intent::Open(Overlay::Keys),
        C::Rehearse if board.live.is_some() => Intent::Rehearse(Rehearsing::Stop),
        C::Rehearse => Intent::Rehearse(Rehearsing::Start),
        C::PlayOrPause => match &board.live {
            Some(live) => Intent::Rehearse(Rehearsing::Plays(!live.plays)),
            None => Intent::Say("No rehearsal is under way: Rehearse (Look menu) begins one.".to_owned()),
        },
        C::Array => Intent::Open(Overlay::Array),
        C::NewRule => Intent::Open(Overlay::NewRule),
        C::Undo | C::Redo => return step(board, command == C::Undo),
        C::Pointer => return escape(board, ctx),
        C::DrawWall => Intent::TakeUp(ToolChoice::Wall),
        C::DrawRoom => Intent::TakeUp(ToolChoice::FourWalls),
        C::DrawDoor => Intent::TakeUp(ToolChoice::Opening(OpeningChoice::Door)),
        C::DrawWindow => Intent::TakeUp(ToolChoice::Opening(OpeningChoice::Window)),
        C::DrawPlainOpening => Intent::TakeUp(ToolChoice::Opening(OpeningChoice::Plain)),
        C::NameRoom => Intent::TakeUp(ToolChoice::NameRoom),
        C::DrawJoinery => Intent::TakeUp(ToolChoice::Joinery(pattress_model::plan::JoineryForm::Island)),
        C::MarkSpot => Intent::TakeUp(ToolChoice::MarkSpot),
        C::DrawRoomLine => Intent::TakeUp(ToolChoice::RoomLine),
        C::DrawWalk => Intent::TakeUp(ToolChoice::DrawWalk),
        C::DrawBoundary => Intent::TakeUp(ToolChoice::DrawBoundary),
        C::SuggestPlace => suggesting::for_kind_in_hand(board),
        C::Tape => Intent::TakeUp(ToolChoice::Tape),
        C::WallLine | C::WallAsDrawn => return draw_walls(board, command),
        C::Trace => Intent::Offer(Offering::Trace),
        C::AlignStorey => Intent::TakeUp(ToolChoice::AlignStorey),
        C::Accept => Intent::TakeUp(ToolChoice::Accept),
        C::AcceptAll => Intent::Offer(Offering::AcceptAll),
        C::AcceptSure => Intent::Offer(Offering::AcceptSure),
        C::SetRestAside => Intent::Offer(Offering::SetRestAside),
        C::Remove if aside(board).is_some() => {
            Intent::Offer(Offering::SetAside(aside(board).into_iter().collect()))
        }
        C::ScaleDrawing => Intent::TakeUp(ToolChoice::ScaleDrawing),
        C::ScalePrinted => Intent::TakeUp(ToolChoice::ScalePrinted),
        C::CheckScale => Intent::TakeUp(ToolChoice::CheckScale),
        C::LevelLine => Intent::TakeUp(ToolChoice::LevelLine),
        C::FourCorners => Intent::TakeUp(ToolChoice::FourCorners),
        C::Straighten => Intent::Survey(Surveying::Straighten),
        C::WholeSheet => Intent::View(Viewing::WholeSheet),
        C::WholePlan => Intent::View(Viewing::WholePlan),
        C::ZoomIn => Intent::View(Viewing::Zoom(1.25)),
        C::ZoomOut => Intent::View(Viewing::Zoom(0.8)),
        C::LevelUp | C::LevelDown => match neighbour(board, command == C::LevelUp) {
            Some(level) => Intent::View(Viewing::Level(level)),
            None => Intent::Say(match command {
                C::LevelUp => "There is no level above: New level above (Change menu) adds one.".to_owned(),
                _ => "There is no level below.".to_owned(),
            }),
        },
        C::ClientView => Intent::View(Viewing::ClientView(!board.session.client_view)),
        C::DarkOrLight => {
            board.theme = Theme::of(!board.theme.dark);
            return;
        }
        C::SelectAll => {
            let level = board.session.level;
            let all = board.session.project().devices_on(level).map(|(id, ..)| Subject::Device(id)).collect();
            Intent::Select(Selecting::Only(all))
        }
        C::TurnLeft | C::TurnRight => {
            let degrees = if command == C::TurnLeft { 15.0 } else { -15.0 };
            if board.surface.turn_ghost(degrees) {
                return;
            }
            changing(board, command)
        }
        _ => changing(board, command),
    };
    update(board, ctx, intent);
}

/// Goes on to the next manner of drawing walls, and says which it is.
fn draw_walls(board: &mut Board, command: Command) {
    let mut manner = board.surface.manner();
    let sentence = if command == Command::WallLine {
        manner.line = manner.line.next();
        let (one, four) = (manner.line.words(), manner.line.words_of_four());
        format!("A wall is drawn {one}, four walls {four}.")
    } else if manner.thickness == Thickness::AsDrawn {
        manner.thickness = Thickness::AsLast;
        "A wall is as thick as the one that is selected, else as the last.".to_owned()
    } else {
        manner.thickness = Thickness::AsDrawn;
        "A wall is as thick as the drawing shows where its first click lands.".to_owned()
    };
    board.surface.draw_walls(manner);
    board.said = Said { sentence, refused: false };
}

/// The ghost that Delete sets aside: the one that is lit while accepting.
fn aside(board: &Board) -> Option<Part> {
    board.proposed.lit().filter(|_| *board.surface.choice() == ToolChoice::Accept)
}

/// Commands that change the plan, most of them what is selected.
fn changing(board: &Board, command: Command) -> Intent {
    use Command as C;
    let project = board.session.project();
    let selected: Vec<Subject> = board.session.selection.iter().copied().collect();
    if selected.is_empty() && command != C::NewLevel {
        return Intent::Say(format!("{}: select something first.", command.label()));
    }
    Intent::Change(match command {
        C::Remove => verbs::remove_things(project, &selected),
        C::Copy => verbs::copy_things(project, &selected, COPY_BESIDE),
        C::CopyUp => match neighbour(board, true) {
            Some(level) => verbs::copy_to_level(project, &selected, level),
            None => Err("there is no level above: add one first (Change, New level above)".to_owned()),
        },
        C::TurnLeft => turn(project, &selected, 15.0),
        C::TurnRight => turn(project, &selected, -15.0),
        C::MirrorAcross => mirror(project, &selected, MirrorLine::Upright),
        C::MirrorUpDown => mirror(project, &selected, MirrorLine::Level),
        C::AlignLeft => verbs::align(project, &selected, Edge::Left),
        C::AlignRight => verbs::align(project, &selected, Edge::Right),
        C::AlignTop => verbs::align(project, &selected, Edge::Top),
        C::AlignBottom => verbs::align(project, &selected, Edge::Bottom),
        C::DistributeAcross => verbs::distribute(project, &selected, Axis::X),
        C::DistributeUpDown => verbs::distribute(project, &selected, Axis::Y),
        C::MakeZone => make_zone(project, &selected),
        C::NewLevel => verbs::add_level(project, verbs::level_on_top(project)),
        _ => return Intent::Say(String::new()),
    })
}

fn turn(project: &Project, selected: &[Subject], degrees: f64) -> Result<Change, String> {
    verbs::turn_things(project, selected, Angle::degrees(degrees), middle(project, selected))
}

fn mirror(project: &Project, selected: &[Subject], line: MirrorLine) -> Result<Change, String> {
    verbs::mirror_things(project, selected, line, middle(project, selected))
}

/// The middle of the places of what is selected.
fn middle(project: &Project, selected: &[Subject]) -> Point {
    let places = selected.iter().filter_map(|subject| match subject {
        Subject::Device(id) => project.devices.get(*id).and_then(|device| project.position_of(device)),
        Subject::Wall(id) => project.walls.get(*id).map(|wall| wall.start.midpoint(wall.end)),
        Subject::Joinery(id) => project.joinery.get(*id).map(|piece| piece.centre),
        Subject::Room(id) => project.rooms.get(*id).map(|room| room.seed),
        Subject::RoomLine(id) => project.room_lines.get(*id).map(|line| line.start.midpoint(line.end)),
        Subject::Spot(id) => project.spots.get(*id).map(|spot| spot.at),
        Subject::Walk(id) => {
            project.walks.get(*id).and_then(|walk| walk.points.first()).map(|point| point.at)
        }
        Subject::Underlay(id) => project.underlays.get(*id).map(|underlay| underlay.position),
        _ => None,
    });
    places
        .map(|place| Rect::from_points(place, place))
        .reduce(|a, b| a.union(b))
        .map_or(Point::ORIGIN, |bounds| bounds.center())
}

/// A zone of the selected devices; its purpose follows from what most of them are.
fn make_zone(project: &Project, selected: &[Subject]) -> Result<Change, String> {
    let devices: Vec<Id<Device>> = selected
        .iter()
        .filter_map(|subject| match subject {
            Subject::Device(id) => Some(*id),
            _ => None,
        })
        .collect();
    let families = devices
        .iter()
        .filter_map(|id| project.devices.get(*id))
        .filter_map(|device| project.kinds.get(device.kind))
        .map(|kind| kind.family);
    let purpose = match families.max() {
        Some(Family::Motors) => ZonePurpose::Blinds,
        Some(Family::Heating) => ZonePurpose::Heating,
        Some(Family::SoundAndScreens) => ZonePurpose::Sound,
        Some(Family::Presence | Family::Intrusion | Family::Contacts) => ZonePurpose::FullSet,
        _ => ZonePurpose::Lighting,
    };
    let count = project.zones.iter().filter(|(_, zone)| zone.purpose == purpose).count();
    let mut name = format!("{} {}", purpose.name(), count + 1);
    name[..1].make_ascii_uppercase();
    let points = verbs::zone_points_of(project, purpose, &devices);
    verbs::make_zone(project, &name, purpose, points)
}

fn step(board: &mut Board, back: bool) {
    let label = if back { board.session.history.undo_label() } else { board.session.history.redo_label() };
    let Some(label) = label.map(str::to_owned) else {
        let sentence = if back { "There is nothing to undo." } else { "There is nothing to redo." };
        board.said = Said { sentence: sentence.to_owned(), refused: false };
        return;
    };
    if let Some(change) = board.session.step(back) {
        files::log(board, &change);
        let what = if back { "Undone" } else { "Done again" };
        board.said = Said { sentence: format!("{what}: {label}."), refused: false };
    }
}

/// Escape closes what lies over the board, then ends a rehearsal, else drops what the tool has half done, then the selection.
fn escape(board: &mut Board, ctx: &egui::Context) {
    if board.overlay.take().is_some() {
        return;
    }
    if let Some(live) = &board.live {
        let what = if live.card.is_some() { Rehearsing::Card(None) } else { Rehearsing::Stop };
        return super::rehearsal::rehearse(board, ctx, what);
    }
    let idle = *board.surface.choice() == ToolChoice::Pointer;
    if !board.surface.let_go() && idle {
        board.session.selection.clear();
    }
    if board.said.refused {
        board.said = Said::default();
    }
}

fn unless_unsaved(board: &Board, after: AfterSaving, then: Intent) -> Intent {
    if board.session.is_changed() { Intent::Open(Overlay::Unsaved(after)) } else { then }
}

fn neighbour(board: &Board, up: bool) -> Option<Id<Level>> {
    let levels = board.session.project().levels_upwards();
    let index = levels.iter().position(|(id, _)| *id == board.session.level)?;
    let other = if up { index + 1 } else { index.checked_sub(1)? };
    levels.get(other).map(|(id, _)| *id)
}
