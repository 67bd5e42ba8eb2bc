//! How much of the processor a frame of the window takes with 1,000 walls and 2,000 devices on the board: still,
//! panned, zoomed and with a sensor dragged about, egui's own layout and tessellation included.
//!
//! There is no display: an egui context is driven as a window would drive it, and its triangles are made and
//! dropped. Studies are computed on their own thread as in the real window, and what the window's thread does to
//! take them in counts. The reference of frames is egui alone painting the walls and devices of the same display list
//! afresh, as thin lines without anything else of the window; the reference of letting go is the plan's text
//! written and read back whole.
//! Words after `--` choose what is measured: `cargo bench --bench window -- Near`.

mod measuring;

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use egui::epaint::Primitive;
use egui::{Event, Modifiers, MouseWheelUnit, PointerButton, Pos2, RawInput, Rect, TouchPhase, Vec2, vec2};
use kurbo::Point;
use measuring::{Times, worked};
use pattress::window::Board;
use pattress::window::intent::{Intent, Overlay, Selecting, Viewing};
use pattress::window::jobs::Jobs;
use pattress::window::session::Session;
use pattress_model::checks::findings;
use pattress_model::drawing::plan::{building_items, device_items};
use pattress_model::drawing::{Item, Paper, Shape, style_of};
use pattress_model::edit::{Change, Entity, History, Op, Subject, verbs};
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::project::{Project, Site};
use pattress_model::store::{Media, read_project, write_project};
use pattress_tests::generator::{house_of_walls_and_devices, house_with_rules};

const SCREENS: [Vec2; 2] = [vec2(1280.0, 800.0), vec2(2560.0, 1440.0)];
const PAN: Duration = Duration::from_millis(2);
const ZOOM: Duration = Duration::from_millis(12);
const DRAG: Duration = Duration::from_millis(8);

/// How large a plan millimetre is in the near view, points: a room of 4 m is 240 points wide.
const NEAR: f64 = 0.06;

/// Frames of which a median is taken.
const FRAMES: usize = 200;

/// So often a sensor is dragged and let go.
const DRAGS: usize = 3;

/// So long the studies of the whole house may take before the bench gives up.
const STUDIES: Duration = Duration::from_secs(120);

fn main() {
    let project = large_house();
    println!("\n{} walls, {} devices; CPU time of a frame", project.walls.len(), project.devices.len());
    let chosen: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
    if chosen.is_empty() || chosen.iter().any(|word| "rules".contains(word)) {
        rules();
    }
    for screen in SCREENS {
        for view in [View::WholePlan, View::Near] {
            let name = format!("{view:?}, {} x {}", screen.x, screen.y);
            if chosen.is_empty() || chosen.iter().any(|word| name.contains(word)) {
                measure(&project, screen, view);
            }
        }
    }
}

/// Rules of the house whose lists and editor are measured.
const RULES: usize = 10_000;
/// The least a frame of sixty in a second has, less what the desktop takes.
const FRAME: Duration = Duration::from_millis(12);

/// Frames with ten thousand rules: the list, searched, scrolled, and the editor of one; beside each the same frame with
/// ten rules. What a change of one rule costs the window's thread, and what all checks cost the worker, come last.
fn rules() {
    let (many, few) = (house_with_rules(40, RULES), house_with_rules(40, 10));
    println!("\n{} rules; CPU time of a frame, beside it with {} rules", many.rules.len(), few.rules.len());
    let frames = |project: &Project, prepare: &dyn Fn(&mut Window), events: &dyn Fn(usize) -> Vec<Event>| {
        let mut window = Window::open(project, SCREENS[0]);
        prepare(&mut window);
        // A field with the keyboard blinks and never comes to rest.
        for _ in 0..20 {
            window.frame(Vec::new());
        }
        Times::sorted((0..FRAMES).map(|frame| window.frame(events(frame))).collect())
    };
    let nothing = |_: usize| Vec::new();
    let as_it_is = |_: &mut Window| {};
    let editor = |window: &mut Window| {
        let rule = window.board.session().project().rules.ids().next_back();
        if let Some(rule) = rule {
            window.board.carry_out(&window.ctx.clone(), Intent::Open(Overlay::RuleEditor(rule)));
        }
    };
    let finder = |window: &mut Window| {
        window.board.carry_out(&window.ctx.clone(), Intent::Open(Overlay::Finder));
    };
    let selected = |window: &mut Window| {
        let lamp = window.board.session().project().devices.ids().next_back();
        if let Some(lamp) = lamp {
            let only = Selecting::Only(vec![Subject::Device(lamp)]);
            window.board.carry_out(&window.ctx.clone(), Intent::Select(only));
        }
    };
    let list = Pos2::new(SCREENS[0].x - 150.0, 400.0);
    let scroll = move |_: usize| {
        let wheel = Event::MouseWheel {
            unit: MouseWheelUnit::Point,
            delta: vec2(0.0, -240.0),
            phase: TouchPhase::Move,
            modifiers: Modifiers::NONE,
            source: egui::MouseWheelSource::Wheel,
        };
        vec![Event::PointerMoved(list), wheel]
    };
    let type_on =
        |frame: usize| vec![Event::Text(if frame.is_multiple_of(2) { "p".into() } else { "l".into() })];
    for (name, prepare, events) in [
        ("the list, still", &as_it_is as &dyn Fn(&mut Window), &nothing as &dyn Fn(usize) -> Vec<Event>),
        ("the list, scrolled", &as_it_is, &scroll),
        ("a lamp selected", &selected, &nothing),
        ("the editor of a rule", &editor, &nothing),
        ("the finder, a letter in every frame", &finder, &type_on),
    ] {
        let reference = frames(&few, prepare, events);
        frames(&many, prepare, events).print(name, Some(FRAME), Some(&reference));
    }
    let change = |project: &Project| {
        let mut window = Window::open(project, SCREENS[0]);
        let rules: Vec<_> = window.board.session().project().rules.ids().take(20).collect();
        Times::sorted(
            rules
                .into_iter()
                .map(|rule| {
                    let started = worked();
                    let ctx = window.ctx.clone();
                    let change = verbs::switch_rule(window.board.session().project(), rule, false);
                    window.board.carry_out(&ctx, Intent::Change(change));
                    let took = worked() - started;
                    took + window.frame(Vec::new())
                })
                .collect(),
        )
    };
    change(&many).print("a rule switched off, with the frame after", Some(FRAME), Some(&change(&few)));
    let checks = |project: &Project| Times::of(5, || findings(project));
    checks(&many).print("all checks, on the worker", None, Some(&checks(&few)));
}

/// The large house on paper that holds it.
fn large_house() -> Project {
    let mut project = house_of_walls_and_devices(1000, 2000);
    let site = Site { paper: Paper::A0, scale: 100, ..(*project.site).clone() };
    let change = Change::new("Lay it on large paper", vec![Op::Put(Entity::Site(site.into()))]);
    if let Err(refusal) = History::default().apply(&mut project, change) {
        println!("the plan is not on large paper: {refusal}");
    }
    project
}

/// How the board is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
enum View {
    /// Everything at once.
    WholePlan,
    /// A few rooms, at about 1:50 on the screen.
    Near,
}

fn measure(project: &Project, screen: Vec2, view: View) {
    let name = |what: &str| format!("{what}, {view:?}, {} x {}", screen.x, screen.y);
    let mut window = Window::open(project, screen);
    let sensor = window.look(view);
    let still = Times::sorted((0..FRAMES).map(|_| window.frame(Vec::new())).collect());
    let afresh = paint_afresh(project, &window);
    println!("{} triangles", window.triangles);
    still.print(&name("still"), Some(PAN), Some(&afresh));
    window.pan().print(&name("pan"), Some(PAN), Some(&afresh));
    let (steps, all) = window.zoom();
    steps.print(&name("zoom, the longest frame of a step"), Some(ZOOM), Some(&afresh));
    all.print(&name("zoom, every frame until sharp"), Some(ZOOM), Some(&afresh));
    window.look(view);
    let (drags, drop) = window.drag(sensor);
    drags.print(&name("drag a sensor"), Some(DRAG), Some(&afresh));
    let anew = Times::of(5, || write_anew(project));
    drop.print(&name("let it go, the longest frame till all is fresh"), Some(DRAG), Some(&anew));
}

/// A window without a display.
struct Window {
    ctx: egui::Context,
    board: Board,
    screen: Vec2,
    clock: f64,
    wants_more: bool,
    /// How many triangles the last frame had: a fast frame without any would be no merit.
    triangles: usize,
    /// Answers that the worker has brought, and those that were asked for: figures, a sheet and what
    /// trying the rules showed for every change.
    answers: Arc<AtomicU64>,
    asked: u64,
    generation: Option<u64>,
}

impl Window {
    fn open(project: &Project, screen: Vec2) -> Self {
        let answers = Arc::new(AtomicU64::new(0));
        let counter = Arc::clone(&answers);
        let jobs = Jobs::start(move || {
            counter.fetch_add(1, Ordering::SeqCst);
        });
        let session = Session::new(project.clone(), Media::default(), None);
        let mut window = Self {
            ctx: egui::Context::default(),
            board: Board::new(session, jobs, false),
            screen,
            clock: 0.0,
            wants_more: true,
            triangles: 0,
            answers,
            asked: 0,
            generation: None,
        };
        window.settle();
        window
    }

    /// One frame; returns the processor's time on it.
    fn frame(&mut self, events: Vec<Event>) -> Duration {
        self.clock += 1.0 / 60.0;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, self.screen)),
            time: Some(self.clock),
            focused: true,
            events,
            ..RawInput::default()
        };
        let started = worked();
        let output = self.ctx.run_ui(input, |ui| self.board.show(ui));
        let primitives = self.ctx.tessellate(output.shapes, output.pixels_per_point);
        let took = worked() - started;
        let corners = primitives.iter().map(|primitive| match &primitive.primitive {
            Primitive::Mesh(mesh) => mesh.indices.len(),
            Primitive::Callback(_) => 0,
        });
        self.triangles = corners.sum::<usize>() / 3;
        drop(std::hint::black_box(primitives));
        let generation = self.board.session().generation();
        if self.generation.replace(generation) != Some(generation) {
            self.asked += 3;
        }
        self.wants_more =
            output.viewport_output.values().any(|viewport| viewport.repaint_delay < Duration::from_secs(1));
        took
    }

    /// Frames until none is asked for and all studies are there; returns the time of each.
    fn settle(&mut self) -> Vec<Duration> {
        let mut times = Vec::new();
        let started = Instant::now();
        loop {
            let brought = self.answers.load(Ordering::SeqCst);
            times.push(self.frame(Vec::new()));
            let fresh = brought >= self.asked;
            if fresh && !self.wants_more {
                return times;
            }
            assert!(started.elapsed() < STUDIES, "the window does not come to rest");
            if !fresh {
                std::thread::sleep(Duration::from_millis(20));
            }
        }
    }

    fn carry_out(&mut self, intent: Intent) {
        let ctx = self.ctx.clone();
        self.board.carry_out(&ctx, intent);
        self.settle();
    }

    /// Looks at the plan and returns a sensor that stands in the middle of it.
    fn look(&mut self, view: View) -> Id<Device> {
        self.carry_out(Intent::View(Viewing::WholePlan));
        let middle = self.plan_point(self.middle());
        let project = self.board.session().project();
        let distance = |device: &Device| {
            let at = project.position_of(device).unwrap_or(Point::ORIGIN);
            ((at - middle).hypot() * 1000.0) as i64
        };
        let senses =
            |device: &Device| project.kinds.get(device.kind).is_some_and(|kind| kind.senses().is_some());
        let sensors = project.devices.iter().filter(|(_, device)| senses(device));
        let sensor = sensors.min_by_key(|(_, device)| distance(device)).map(|(id, _)| id);
        let sensor = sensor.unwrap_or(Id::from_number(0));
        if view == View::Near {
            self.carry_out(Intent::View(Viewing::Zoom(1000.0)));
            self.carry_out(Intent::View(Viewing::Bring(Subject::Device(sensor))));
            self.carry_out(Intent::View(Viewing::Zoom(NEAR / self.points_per_mm())));
        }
        sensor
    }

    /// A place on the board near the middle of the screen.
    fn middle(&self) -> Pos2 {
        Pos2::new(self.screen.x * 0.46, self.screen.y * 0.5)
    }

    fn points_per_mm(&self) -> f64 {
        let metre = self.board.screen_of(Point::new(1000.0, 0.0)) - self.board.screen_of(Point::ORIGIN);
        f64::from(metre.x) / 1000.0
    }

    fn plan_point(&self, screen: Pos2) -> Point {
        let offset = screen - self.board.screen_of(Point::ORIGIN);
        let points_per_mm = self.points_per_mm();
        Point::new(f64::from(offset.x) / points_per_mm, f64::from(-offset.y) / points_per_mm)
    }

    /// Pans in a circle with the middle button held.
    fn pan(&mut self) -> Times {
        let middle = self.middle();
        self.frame(vec![Event::PointerMoved(middle)]);
        self.frame(vec![button(middle, PointerButton::Middle, true)]);
        let times = (0..FRAMES)
            .map(|turn| {
                let angle = turn as f32 * 0.1;
                self.frame(vec![Event::PointerMoved(middle + Vec2::angled(angle) * 90.0 - vec2(90.0, 0.0))])
            })
            .collect();
        self.frame(vec![Event::PointerMoved(middle)]);
        self.frame(vec![button(middle, PointerButton::Middle, false)]);
        self.settle();
        Times::sorted(times)
    }

    /// Turns the wheel in and out; returns the longest frame of each step and all of them.
    fn zoom(&mut self) -> (Times, Times) {
        let middle = self.middle();
        self.frame(vec![Event::PointerMoved(middle)]);
        let (mut longest, mut all) = (Vec::new(), Vec::new());
        for step in 0..24 {
            let notches = if step % 2 == 0 { 1.0 } else { -1.0 };
            let wheel = Event::MouseWheel {
                unit: MouseWheelUnit::Line,
                source: egui::MouseWheelSource::Wheel,
                delta: vec2(0.0, notches),
                phase: TouchPhase::Move,
                modifiers: Modifiers::NONE,
            };
            let mut times = vec![self.frame(vec![wheel])];
            times.extend(self.settle());
            longest.extend(times.iter().max().copied());
            all.extend(times);
        }
        (Times::sorted(longest), Times::sorted(all))
    }

    /// Drags a sensor about and lets it go; returns the frames of the drag, and those in which it is let go.
    fn drag(&mut self, sensor: Id<Device>) -> (Times, Times) {
        self.carry_out(Intent::Select(Selecting::Only(vec![Subject::Device(sensor)])));
        let (mut drags, mut drops) = (Vec::new(), Vec::new());
        for _ in 0..DRAGS {
            let at = self.where_is(sensor);
            self.frame(vec![Event::PointerMoved(at)]);
            self.frame(vec![button(at, PointerButton::Primary, true)]);
            self.frame(vec![Event::PointerMoved(at - vec2(8.0, 0.0))]);
            drags.extend((0..FRAMES / DRAGS).map(|turn| {
                let by = Vec2::angled(turn as f32 * 0.2) * 12.0 - vec2(20.0, 0.0);
                self.frame(vec![Event::PointerMoved(at + by)])
            }));
            let before = self.board.session().generation();
            let end = at + Vec2::angled((FRAMES / DRAGS) as f32 * 0.2) * 12.0 - vec2(20.0, 0.0);
            let drop = self.frame(vec![button(end, PointerButton::Primary, false)]);
            drops.push(self.settle().into_iter().fold(drop, Duration::max));
            assert!(self.board.session().generation() > before, "the drag moved nothing");
        }
        (Times::sorted(drags), Times::sorted(drops))
    }

    fn where_is(&self, device: Id<Device>) -> Pos2 {
        let project = self.board.session().project();
        let at = project.devices.get(device).and_then(|device| project.position_of(device));
        self.board.screen_of(at.unwrap_or(Point::ORIGIN))
    }
}

fn button(pos: Pos2, button: PointerButton, pressed: bool) -> Event {
    Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE }
}

/// The reference of letting go: the plan's text written and read back.
fn write_anew(project: &Project) -> bool {
    read_project(&write_project(project)).is_ok()
}

/// The reference of frames: walls and devices that are in view, as egui shapes made and tessellated in every frame.
fn paint_afresh(project: &Project, window: &Window) -> Times {
    let Some(level) = project.levels.ids().next() else { return Times::sorted(Vec::new()) };
    let scale = f64::from(project.site.scale);
    let mut items = building_items(project, level);
    let devices = project.devices_on(level);
    items.extend(devices.flat_map(|(id, device, kind)| device_items(project, id, device, kind, scale)));
    let ctx = egui::Context::default();
    let screen = Rect::from_min_size(Pos2::ZERO, window.screen);
    Times::of(20, || {
        let input = RawInput { screen_rect: Some(screen), ..RawInput::default() };
        let output = ctx.run_ui(input, |ui| {
            for item in &items {
                paint(ui.painter(), item, window);
            }
        });
        ctx.tessellate(output.shapes, output.pixels_per_point)
    })
}

fn paint(painter: &egui::Painter, item: &Item, window: &Window) {
    let Shape::Path(path) = &item.shape else { return };
    let style = style_of(item.role);
    let (origin, points_per_mm) = (window.board.screen_of(Point::ORIGIN), window.points_per_mm());
    let place =
        |point: Point| origin + vec2((point.x * points_per_mm) as f32, (-point.y * points_per_mm) as f32);
    let [red, green, blue, alpha] = style.ink;
    let stroke = egui::Stroke::new(1.0, egui::Color32::from_rgba_unmultiplied(red, green, blue, alpha));
    let mut points: Vec<Pos2> = Vec::new();
    let draw = |points: &mut Vec<Pos2>| {
        let points = std::mem::take(points);
        if points.iter().any(|point| painter.clip_rect().contains(*point)) {
            painter.add(egui::Shape::line(points, stroke));
        }
    };
    kurbo::flatten(path.elements().iter().copied(), 0.15 / points_per_mm, |element| match element {
        kurbo::PathEl::MoveTo(to) => {
            draw(&mut points);
            points.push(place(to));
        }
        kurbo::PathEl::LineTo(to) => points.push(place(to)),
        kurbo::PathEl::ClosePath => points.extend(points.first().copied()),
        kurbo::PathEl::QuadTo(..) | kurbo::PathEl::CurveTo(..) => {}
    });
    draw(&mut points);
}
