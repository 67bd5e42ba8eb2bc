//! How much of the processor a rehearsal in the window takes: the frame in which a key is pressed, the next one, in
//! which the plan shows what follows from it, frames while the clock goes, and an hour run through in one frame's
//! patience; egui's own layout and tessellation included.
//!
//! Measured on Ferry Cottage and on a drawn house of 400 devices in which every plate lights the lamps of its room. There
//! is no display: an egui context is driven as a window would drive it. The reference is the same window at rest.

mod measuring;

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use egui::{Pos2, RawInput, Rect, Vec2, vec2};
use measuring::{Times, worked};
use pattress::window::Board;
use pattress::window::intent::{Intent, Rehearsing, Viewing};
use pattress::window::jobs::Jobs;
use pattress::window::rehearsal::pace::Pace;
use pattress::window::session::Session;
use pattress_model::edit::History;
use pattress_model::edit::verbs;
use pattress_model::kit::PointType;
use pattress_model::project::Project;
use pattress_model::store::Media;
use pattress_model::studies::rehearsal::{Incoming, PointNumber};
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Setting, Target, Trigger, Value,
};
use pattress_model::units::Seconds;
use pattress_tests::generator::house_of_walls_and_devices;

const SCREEN: Vec2 = vec2(2560.0, 1440.0);

/// A frame at 60 Hz.
const FRAME: Duration = Duration::from_micros(16_667);

/// Clicks and frames of which a median is taken.
const TIMES: usize = 100;

fn main() {
    for (name, project) in
        [("Ferry Cottage", pattress_tests::ferry_cottage::ferry_cottage()), ("400 devices", large_house())]
    {
        measure(name, &project);
    }
}

/// A house of 400 devices and 500 rules: every key of every plate dims the lamps, every detector holds some.
fn large_house() -> Project {
    let mut project = house_of_walls_and_devices(200, 400);
    let (mut keys, mut eyes, mut lamps) = (Vec::new(), Vec::new(), Vec::new());
    for (id, device) in project.devices.iter() {
        let Some(kind) = project.kinds.get(device.kind) else { continue };
        for point in &kind.points {
            let at = PointRef::new(id, point.name.as_str());
            match (point.name.as_str(), point.point_type) {
                (name, PointType::Event) if name.starts_with("key") => keys.push(at),
                ("motion", _) => eyes.push(at),
                ("level", _) if kind.lamp.is_some() => lamps.push(at),
                _ => {}
            }
        }
    }
    let mut history = History::default();
    if lamps.is_empty() {
        return project;
    }
    for number in 0..500 {
        let target = |by: usize| Target::Point(lamps[(number * 7 + by) % lamps.len()].clone());
        let body = if number % 2 == 0 && !keys.is_empty() {
            let trigger =
                Trigger::Event { point: keys[number % keys.len()].clone(), gesture: Gesture::Press };
            let level = Value::Number((10 + number % 90) as f64);
            let set = |by| Action { fade: Seconds(2.0), ..Action::new(Some(target(by)), Deed::Set(level)) };
            RuleBody::When { trigger, conditions: Vec::new(), actions: (0..8).map(set).collect() }
        } else if eyes.is_empty() {
            continue;
        } else {
            let point = eyes[number % eyes.len()].clone();
            let conditions = vec![Condition::Point { point, comparison: Comparison::Is, value: Value::On }];
            let held = |by| Setting { target: target(by), value: Value::Number(70.0), fade: Seconds::ZERO };
            let settings = (0..4).map(held).collect();
            RuleBody::While { conditions, linger: Seconds(60.0), settings, rank: 1, yields_to_hand: true }
        };
        let rule =
            Rule { name: format!("Rule {number}"), room: None, enabled: true, comment: String::new(), body };
        if let Ok(change) = verbs::add_rule(&project, rule)
            && let Err(refusal) = history.apply(&mut project, change)
        {
            println!("a rule was left out: {refusal}");
        }
    }
    project
}

fn measure(name: &str, project: &Project) {
    println!(
        "\n{name}: {} devices, {} rules, {} x {}; CPU time of a frame",
        project.devices.len(),
        project.rules.len(),
        SCREEN.x,
        SCREEN.y
    );
    let mut window = Window::open(project);
    window.carry_out(Intent::Rehearse(Rehearsing::Start));
    window.carry_out(Intent::Rehearse(Rehearsing::Plays(false)));
    let still = Times::sorted((0..TIMES).map(|_| window.frame(Vec::new())).collect());
    still.print("at rest", Some(FRAME), None);
    let keys = window.keys();
    let (mut clicks, mut answers) = (Vec::new(), Vec::new());
    for turn in 0..TIMES {
        let Some(point) = keys.get(turn * 13 % keys.len().max(1)) else { break };
        let what = Incoming::Gesture { point: *point, gesture: Gesture::Press };
        clicks.push(window.frame(vec![Intent::Rehearse(Rehearsing::Do(what))]));
        answers.push(window.frame(Vec::new()));
    }
    Times::sorted(clicks).print("a key is pressed", Some(FRAME), Some(&still));
    Times::sorted(answers).print("the plan answers", Some(FRAME), Some(&still));
    for pace in [Pace::AsItIs, Pace::Days] {
        window.frame(vec![
            Intent::Rehearse(Rehearsing::Pace(pace)),
            Intent::Rehearse(Rehearsing::Pauses(false)),
            Intent::Rehearse(Rehearsing::Plays(true)),
        ]);
        let going: Vec<Duration> = (0..TIMES).map(|_| window.frame(Vec::new())).collect();
        Times::sorted(going).print(&format!("the clock goes, {}", pace.words()), Some(FRAME), Some(&still));
    }
}

/// A window without a display.
struct Window {
    ctx: egui::Context,
    board: Board,
    clock: f64,
}

impl Window {
    fn open(project: &Project) -> Self {
        let brought = Arc::new(AtomicU64::new(0));
        let counter = Arc::clone(&brought);
        let jobs = Jobs::start(move || {
            counter.fetch_add(1, Ordering::SeqCst);
        });
        let session = Session::new(project.clone(), Media::default(), None);
        let mut window =
            Self { ctx: egui::Context::default(), board: Board::new(session, jobs, false), clock: 0.0 };
        let begun = Instant::now();
        // Figures and a sheet.
        while brought.load(Ordering::SeqCst) < 2 && begun.elapsed() < Duration::from_secs(120) {
            window.frame(Vec::new());
            std::thread::sleep(Duration::from_millis(20));
        }
        window.carry_out(Intent::View(Viewing::WholePlan));
        window
    }

    /// The keys of the house, by number.
    fn keys(&self) -> Vec<PointNumber> {
        let Some(live) = self.board.live() else { return Vec::new() };
        let is_key =
            |(number, name): (PointNumber, &PointRef)| name.point.starts_with("key").then_some(number);
        live.book().points().filter_map(is_key).collect()
    }

    /// One frame in which something is asked for; returns the processor's time on it.
    fn frame(&mut self, intents: Vec<Intent>) -> Duration {
        self.clock += 1.0 / 60.0;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, SCREEN)),
            time: Some(self.clock),
            focused: true,
            ..RawInput::default()
        };
        let started = worked();
        let ctx = self.ctx.clone();
        for intent in intents {
            self.board.carry_out(&ctx, intent);
        }
        let mut output = self.ctx.run_ui(input, |ui| self.board.show(ui));
        // There is no screen to take the letters to.
        output.textures_delta.clear();
        let primitives = self.ctx.tessellate(output.shapes, output.pixels_per_point);
        let took = worked() - started;
        drop(std::hint::black_box(primitives));
        took
    }

    fn carry_out(&mut self, intent: Intent) {
        self.frame(vec![intent]);
        for _ in 0..30 {
            self.frame(Vec::new());
        }
    }
}
