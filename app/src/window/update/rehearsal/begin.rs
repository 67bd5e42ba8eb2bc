//! How a rehearsal begins: of the house as it is, or of a script.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use pattress_model::calendar::{Date, Local, UtcTime};
use pattress_model::drawing::Layer;
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::script::{
    Deed, Outcome, ScriptStep, Step, Walks, World, play, read_script, set_up,
};
use pattress_model::studies::rehearsal::{PointNumber, Recording, RuleBook, Setup, whole_ms};
use pattress_model::systems::{PointRef, Script, Value};
use pattress_model::units::TimeOfDay;

use crate::rehearsing::{sky_of, walks_past};
use crate::window::board::Board;
use crate::window::intent::Viewing;
use crate::window::rehearsal::pace::Pace;
use crate::window::rehearsal::showing::Showing;
use crate::window::rehearsal::{LivePlan, Marks};
use crate::window::tool_choice::ToolChoice;

/// A rehearsal begins in the evening, when most of what a house does is to be seen.
const EVENING: TimeOfDay = TimeOfDay { minutes: 20 * 60 };

/// Layers that lie in the way of what is played: they can be shown by hand.
const IN_THE_WAY: [Layer; 6] =
    [Layer::Zones, Layer::Coverage, Layer::Spots, Layer::Tags, Layer::Dimensions, Layer::Frame];

/// Begins a rehearsal of the house as it is, this evening.
pub(super) fn start(board: &mut Board, ctx: &egui::Context) -> Result<(), String> {
    let project = board.session.project();
    let clock = project.site.clock;
    let today = clock.shows(wall_clock(board.in_place)).map(|local| local.date);
    let start = today.map_or(UtcTime::from_ms(0), |date| clock.when(Local::at(date, EVENING)).earliest());
    let book = Arc::new(RuleBook::of(project));
    let values = at_rest(project, &book);
    let setup = Setup { values, ..Setup::of(project, start) };
    let reel = Recording::start(book, setup).map_err(|refused| refused.to_string())?;
    put_on_board(board, reel);
    if let Some(live) = board.live.as_deref_mut().filter(|_| !board.in_place) {
        live.sensors.ask(board.session.project(), false, ctx);
    }
    super::say(board, "The rules are played: the plan answers to clicks. Esc ends it.");
    Ok(())
}

/// What the sensors of a house at rest report, where rules ask: a room at 20 °C, with air as it is with few people in
/// it. Common practice, no published source.
fn at_rest(project: &Project, book: &RuleBook) -> Vec<(PointNumber, Value)> {
    let spoken_of: BTreeSet<&PointRef> = project.rules.iter().flat_map(|(_, rule)| rule.points()).collect();
    let reported = |(number, name): (PointNumber, &PointRef)| {
        let figure = match name.point.as_str() {
            "temperature" => 20.0,
            "humidity" => 50.0,
            "carbon dioxide" => 600.0,
            _ => return None,
        };
        (spoken_of.contains(name) && !book.does(number)).then_some((number, Value::Number(figure)))
    };
    book.points().filter_map(reported).collect()
}

/// The moment it is, as the system says; a fixed one for tests.
fn wall_clock(in_place: bool) -> UtcTime {
    if in_place {
        return Date::new(2026, 1, 15).map_or(UtcTime::from_ms(0), |date| UtcTime::on(date, 12, 0, 0));
    }
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    UtcTime::from_ms(i64::try_from(since.as_millis()).unwrap_or(0))
}

/// Begins with a script; where somebody walks in it, once it is known what sensors cover.
pub(super) fn play_script(board: &mut Board, ctx: &egui::Context, script: Script) -> Result<(), String> {
    let project = board.session.project();
    let steps = read_script(project, &script.lines).map_err(|errors| {
        let first = errors.first().map(ToString::to_string).unwrap_or_default();
        format!("the script “{}” can't be read: {first}", script.name)
    })?;
    let walks = steps.iter().any(|step| matches!(step.step, Step::Do(Deed::Walk(_))));
    let book = Arc::new(RuleBook::of(project));
    let world = World { clock: project.site.clock, sky: sky_of(project), walks: Walks::new() };
    let setup = set_up(&book, &steps, &world);
    let ends = setup.start;
    let reel = Recording::start(book, setup)
        .map_err(|refused| format!("the script “{}” can't start: {refused}", script.name))?;
    let sensors = board.live.take().map(|live| {
        board.session.layers.clone_from(&live.before.layers);
        (live.sensors, live.before)
    });
    put_on_board(board, reel);
    let Some(live) = board.live.as_deref_mut() else { return Ok(()) };
    if let Some((sensors, before)) = sensors {
        (live.sensors, live.before) = (sensors, before);
    }
    live.plays = false;
    live.showing = Some(Showing { script, steps: Vec::new(), ends });
    if walks {
        live.sensors.ask(board.session.project(), board.in_place, ctx);
    }
    keep_up(board);
    Ok(())
}

/// Plays a script that waits, as soon as it can be.
pub(super) fn keep_up(board: &mut Board) {
    let project = board.session.project();
    let Some(live) = board.live.as_deref_mut() else { return };
    let Some(showing) = live.showing.as_mut().filter(|showing| showing.steps.is_empty()) else { return };
    let Ok(steps) = read_script(project, &showing.script.lines) else { return };
    let walks = steps.iter().any(|step| matches!(step.step, Step::Do(Deed::Walk(_))));
    let walks = match (walks, live.sensors.known()) {
        (false, _) => Walks::new(),
        (true, Some(sensors)) => walks_past(project, &sensors),
        (true, None) => return,
    };
    let world = World { clock: project.site.clock, sky: sky_of(project), walks };
    let book = Arc::clone(live.reel.run().book());
    let Ok(played) = play(project, &book, &steps, &world) else { return };
    if let Ok(reel) = Recording::of(book, live.reel.setup().clone(), &played.run) {
        live.reel = reel;
    }
    // To the last step, and to the end of what is looked out for after it.
    let lasts = |step: &ScriptStep| match &step.step {
        Step::Within(_, time) | Step::Stays(_, time) => whole_ms(*time),
        Step::Do(_) => 0,
    };
    let ends = played.steps.iter().zip(&steps).map(|(played, step)| match played.outcome {
        Outcome::Met(at) => at,
        _ => played.at.after_ms(lasts(step)),
    });
    showing.ends = ends.max().unwrap_or(showing.ends).max(played.run.now());
    showing.steps = played.steps;
    (live.plays, live.pace, live.last_frame) = (true, Pace::ThingByThing, None);
    board.panels.rehearsal.show_scripts();
}

/// Puts a recording on the board, and clears away what lies in its way.
fn put_on_board(board: &mut Board, reel: Recording) {
    let is_under_way = *board.surface.choice() == ToolChoice::Rehearse;
    let before = match board.live.take() {
        Some(live) => live.before,
        None => Marks {
            layers: board.session.layers.clone(),
            selection: board.session.selection.clone(),
            choice: ToolChoice::Pointer,
        },
    };
    board.session.selection.clear();
    board.session.layers = before.layers.clone();
    for layer in IN_THE_WAY {
        board.session.layers.remove(&layer);
    }
    board.overlay = None;
    if !is_under_way {
        board.surface.view(Viewing::WholePlan);
    }
    board.surface.take_up(ToolChoice::Rehearse);
    board.live = Some(Box::new(LivePlan::new(&board.session, reel, before)));
}
