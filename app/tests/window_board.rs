//! The main job on the board, by pointer and keys, with no display: draw a room, name it, place a detector, see
//! what it covers, drag it, and take it all back step by step.

use egui::{Key, Modifiers, PointerButton, Pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use kurbo::Point;
use pattress::window::Board;
use pattress_model::building::outline::room_outlines;
use pattress_model::edit::Subject;
use pattress_model::kit::Mount;
use pattress_model::plan::DoorsAs;
use pattress_model::project::Project;
use pattress_model::studies::coverage::{Options, coverage};

fn window() -> Harness<'static, Board> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1280.0, 800.0))
        .with_max_steps(16)
        .build_ui_state(|ui, board: &mut Board| board.show(ui), Board::for_tests(Project::new()));
    harness.run();
    harness
}

fn at(harness: &Harness<'static, Board>, x: f64, y: f64) -> Pos2 {
    harness.state().screen_of(Point::new(x, y))
}

fn button(harness: &mut Harness<'static, Board>, pos: Pos2, pressed: bool) {
    let event = egui::Event::PointerButton {
        pos,
        button: PointerButton::Primary,
        pressed,
        modifiers: Modifiers::NONE,
    };
    harness.event(event);
    harness.run();
}

fn click(harness: &mut Harness<'static, Board>, x: f64, y: f64) {
    let pos = at(harness, x, y);
    harness.hover_at(pos);
    harness.run();
    button(harness, pos, true);
    button(harness, pos, false);
}

fn drag(harness: &mut Harness<'static, Board>, from: (f64, f64), to: (f64, f64)) {
    let (from, to) = (at(harness, from.0, from.1), at(harness, to.0, to.1));
    harness.hover_at(from);
    harness.run();
    button(harness, from, true);
    for step in 1..=4 {
        harness.hover_at(from + (to - from) * (step as f32 / 4.0));
        harness.run();
    }
    button(harness, to, false);
}

fn press(harness: &mut Harness<'static, Board>, key: Key) {
    harness.key_press(key);
    harness.run();
}

/// A room of four walls about 5 × 4 m, the last by closing on the first corner.
fn draw_room(harness: &mut Harness<'static, Board>) {
    press(harness, Key::W);
    for (x, y) in [(0.0, 0.0), (5000.0, 0.0), (5000.0, 4000.0), (0.0, 4000.0), (0.0, 0.0)] {
        click(harness, x, y);
    }
    press(harness, Key::Escape);
    press(harness, Key::Escape);
}

/// An empty house opens in Survey; the Kit stands beside the board in Design.
fn take_detector_from_kit(harness: &mut Harness<'static, Board>) {
    harness.get_by_label("Design").click();
    harness.run();
    harness.get_by_label("Place Wall motion detector, 12 m").click();
    harness.run();
}

#[test]
fn walls_drawn_by_clicking_make_a_room_that_can_be_named() {
    let mut harness = window();
    draw_room(&mut harness);
    let project = harness.state().session().project();
    assert_eq!(project.walls.len(), 4);
    press(&mut harness, Key::N);
    click(&mut harness, 2500.0, 2000.0);
    let session = harness.state().session();
    assert_eq!(session.project().rooms.len(), 1);
    let outlines = room_outlines(session.project(), session.level());
    let area = outlines.values().next().unwrap().area().as_m2();
    assert!((15.0..21.0).contains(&area), "{area} m²");
}

#[test]
fn a_detector_from_the_kit_lands_on_the_wall_and_covers_the_room() {
    let mut harness = window();
    draw_room(&mut harness);
    take_detector_from_kit(&mut harness);
    click(&mut harness, 2500.0, 300.0);
    let session = harness.state().session();
    let (id, device) = session.project().devices.iter().next().expect("nothing was placed");
    assert!(matches!(device.mount, Mount::WallFace { .. }), "{:?}", device.mount);
    assert_eq!(session.only_selected(), Some(Subject::Device(id)));
    let report = coverage(session.project(), Options { doors: DoorsAs::Drawn });
    assert!((5.0..21.0).contains(&report.sensors[0].area.as_m2()), "{:?}", report.sensors[0].area);
}

#[test]
fn a_dragged_detector_is_one_step_and_undo_names_it() {
    let mut harness = window();
    draw_room(&mut harness);
    take_detector_from_kit(&mut harness);
    click(&mut harness, 2000.0, 300.0);
    press(&mut harness, Key::Escape);
    press(&mut harness, Key::Escape);
    let placed = harness.state().session().project().clone();
    let depth = harness.state().session().history().depth();
    let device = placed.devices.iter().next().unwrap().1;
    let on_plan = placed.position_of(device).unwrap() + placed.facing_of(device).direction() * 100.0;
    drag(&mut harness, (on_plan.x, on_plan.y), (on_plan.x + 1500.0, on_plan.y));
    let session = harness.state().session();
    assert_eq!(session.history().depth(), depth + 1);
    assert!(
        session.history().undo_label().unwrap().starts_with("Move"),
        "{:?}",
        session.history().undo_label()
    );
    let moved = session.project().devices.iter().next().unwrap().1;
    let by = session.project().position_of(moved).unwrap() - placed.position_of(device).unwrap();
    assert!((1300.0..1700.0).contains(&by.x) && by.y.abs() < 1.0, "{by:?}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    assert_eq!(harness.state().session().project().devices, placed.devices);
}

#[test]
fn a_typed_length_makes_an_exact_wall() {
    let mut harness = window();
    press(&mut harness, Key::W);
    click(&mut harness, 0.0, 0.0);
    let towards = at(&harness, 2000.0, 0.0);
    harness.hover_at(towards);
    harness.run();
    for letter in ["3", ".", "6", "m"] {
        harness.event(egui::Event::Text(letter.to_owned()));
        harness.run();
    }
    press(&mut harness, Key::Enter);
    let project = harness.state().session().project();
    let lengths: Vec<f64> = project.walls.iter().map(|(_, wall)| wall.length().as_mm()).collect();
    assert_eq!(lengths, [3600.0]);
}

/// Points of the screen to a metre of the plan.
fn points_to_a_metre(harness: &Harness<'static, Board>) -> f32 {
    at(harness, 1000.0, 0.0).x - at(harness, 0.0, 0.0).x
}

#[test]
fn a_larger_window_shows_the_whole_larger_and_what_was_zoomed_to_stays() {
    let mut harness = window();
    let small = points_to_a_metre(&harness);
    harness.set_size(egui::vec2(2560.0, 1440.0));
    harness.run();
    let large = points_to_a_metre(&harness);
    assert!(large > 1.5 * small, "{small} {large}");
    press(&mut harness, Key::Plus);
    let zoomed = points_to_a_metre(&harness);
    assert!(zoomed > large);
    harness.set_size(egui::vec2(1280.0, 800.0));
    harness.run();
    assert!((points_to_a_metre(&harness) - zoomed).abs() < 1e-3);
}
