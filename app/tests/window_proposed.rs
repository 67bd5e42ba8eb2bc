//! What is proposed over a drawing: listed, lit, accepted by button, key, click and rectangle, set aside, undone.

use egui::{Key, Modifiers, PointerButton, Pos2, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use kurbo::Point;
use pattress::window::Board;
use pattress::window::intent::{Intent, Viewing};
use pattress::window::session::Stage;
use pattress::window::survey::offer::Offer;
use pattress::window::survey::proposed::Offering;
use pattress_model::edit::verbs;
use pattress_model::plan::{Hand, RoomUse, Side, Underlay};
use pattress_model::project::Project;
use pattress_model::survey::{
    Part, Proposal, ProposedDoor, ProposedForm, ProposedOpening, ProposedRoom, ProposedWall,
};
use pattress_model::units::{Angle, Length};

fn window(project: Project) -> Harness<'static, Board> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1280.0, 800.0))
        .with_max_steps(16)
        .build_ui_state(|ui, board: &mut Board| board.show(ui), Board::for_tests(project));
    harness.run();
    harness
}

fn do_it(harness: &mut Harness<'static, Board>, intent: Intent) {
    let ctx = harness.ctx.clone();
    harness.state_mut().carry_out(&ctx, intent);
    harness.run();
}

fn wall(start: (f64, f64), end: (f64, f64), confidence: f64) -> ProposedWall {
    ProposedWall {
        start: start.into(),
        end: end.into(),
        thickness: Length::mm(102.0),
        height: None,
        make_up: None,
        confidence,
    }
}

/// A room of 4 by 3 m with a door in its lower wall and a wall by itself that is a mere guess.
fn proposal() -> Proposal {
    Proposal {
        walls: vec![
            wall((0.0, 0.0), (4000.0, 0.0), 0.97),
            wall((4000.0, 0.0), (4000.0, 3000.0), 0.95),
            wall((4000.0, 3000.0), (0.0, 3000.0), 0.93),
            wall((0.0, 3000.0), (0.0, 0.0), 0.78),
            wall((5000.0, 500.0), (7000.0, 500.0), 0.41),
        ],
        openings: vec![ProposedOpening {
            wall: 0,
            centre: Length::mm(1000.0),
            width: Length::mm(838.0),
            sill: None,
            head: None,
            form: ProposedForm::Door(Some(ProposedDoor { hinge: Hand::Start, swing: Side::Left })),
            confidence: 0.9,
        }],
        rooms: vec![ProposedRoom {
            name: "Kitchen".to_owned(),
            room_use: Some(RoomUse::Kitchen),
            seed: Point::new(2000.0, 1500.0),
            outline: [(51.0, 51.0), (3949.0, 51.0), (3949.0, 2949.0), (51.0, 2949.0)]
                .map(Into::into)
                .to_vec(),
            confidence: 0.91,
        }],
    }
}

/// A board on whose level the proposal lies, in the survey.
fn offered() -> Harness<'static, Board> {
    let mut harness = window(Project::new());
    let level = harness.state().session().level();
    do_it(&mut harness, Intent::Offer(Offering::Lay(Box::new(Offer::new(level, None, proposal())))));
    do_it(&mut harness, Intent::View(Viewing::Stage(Stage::Survey)));
    harness
}

fn left(harness: &Harness<'static, Board>) -> Vec<Part> {
    let board = harness.state();
    let session = board.session();
    board.proposed().on(session.level()).unwrap().left(session.project())
}

fn press(harness: &mut Harness<'static, Board>, modifiers: Modifiers, key: Key) {
    harness.key_press_modifiers(modifiers, key);
    harness.run();
}

fn at(harness: &Harness<'static, Board>, x: f64, y: f64) -> Pos2 {
    harness.state().screen_of(Point::new(x, y))
}

fn button(harness: &mut Harness<'static, Board>, pos: Pos2, button: PointerButton, pressed: bool) {
    harness.event(egui::Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE });
    harness.run();
}

fn hover(harness: &mut Harness<'static, Board>, x: f64, y: f64) -> Pos2 {
    let pos = at(harness, x, y);
    harness.hover_at(pos);
    harness.run();
    pos
}

fn counts(project: &Project) -> [usize; 3] {
    [project.walls.len(), project.openings.len(), project.rooms.len()]
}

#[test]
fn what_is_proposed_is_listed_with_the_least_sure_first_and_never_enters_by_itself() {
    let harness = offered();
    harness.get_by_label("5 walls, 1 opening and 1 room to decide on.");
    let least_sure = left(&harness);
    assert_eq!(least_sure[0], Part::Wall(4));
    assert_eq!(least_sure.last(), Some(&Part::Wall(0)));
    harness.get_by_label("Wall, 102 mm thick, 2.00 m long, 41 % sure");
    assert_eq!(counts(harness.state().session().project()), [0, 0, 0]);
}

#[test]
fn all_is_accepted_in_one_step_that_undo_names() {
    let mut harness = offered();
    harness.get_by_label("Accept all").click();
    harness.run();
    assert_eq!(counts(harness.state().session().project()), [5, 1, 1]);
    assert_eq!(harness.state().session().history().depth(), 1);
    let label = harness.state().session().history().undo_label().unwrap().to_owned();
    assert!(label.contains("5 walls") && label.contains("1 room"), "{label}");
    assert!(left(&harness).is_empty());
    press(&mut harness, Modifiers::COMMAND, Key::Z);
    assert_eq!(counts(harness.state().session().project()), [0, 0, 0]);
    assert_eq!(left(&harness).len(), 7, "undo brings the ghosts back");
    press(&mut harness, Modifiers::COMMAND, Key::Y);
    assert!(left(&harness).is_empty(), "and doing it again takes them");
}

#[test]
fn what_stands_already_is_not_to_be_decided_on_again() {
    let mut harness = offered();
    press(&mut harness, Modifiers::SHIFT, Key::A);
    let level = harness.state().session().level();
    let again = Offer::new(level, None, proposal());
    do_it(&mut harness, Intent::Offer(Offering::Lay(Box::new(again))));
    assert_eq!(left(&harness), []);
    harness.get_by_label("Everything is decided on.");
    press(&mut harness, Modifiers::COMMAND, Key::Z);
    assert_eq!(left(&harness).len(), 7, "undo brings the ghosts back");
}

#[test]
fn those_that_are_sure_enough_are_accepted_and_the_rest_set_aside_and_brought_back() {
    let mut harness = offered();
    do_it(&mut harness, Intent::Offer(Offering::Least(93)));
    harness.get_by_label("Accept the 3 at least").click();
    harness.run();
    assert_eq!(counts(harness.state().session().project()), [3, 0, 0]);
    press(&mut harness, Modifiers::SHIFT, Key::X);
    assert!(left(&harness).is_empty());
    harness.get_by_label("Everything is decided on; 4 set aside.");
    harness.get_by_label("Bring back 4 set aside").click();
    harness.run();
    assert_eq!(left(&harness).len(), 4);
}

#[test]
fn a_line_accepts_and_sets_aside_its_part() {
    let mut harness = offered();
    harness.get_by_label("Set aside: Wall, 102 mm thick, 2.00 m long, 41 % sure").click();
    harness.run();
    harness.get_by_label("Accept: Door, 838 mm wide, 90 % sure").click();
    harness.run();
    let project = harness.state().session().project();
    assert_eq!(counts(project), [1, 1, 0], "an opening brings its wall along");
    assert!(!left(&harness).contains(&Part::Wall(0)) && !left(&harness).contains(&Part::Opening(0)));
}

#[test]
fn a_room_waits_until_its_walls_close() {
    let mut harness = offered();
    harness.get_by_label("Accept: Room Kitchen, 11.3 m², 91 % sure").click();
    harness.run();
    assert!(harness.state().said().refused, "{:?}", harness.state().said());
    assert!(left(&harness).contains(&Part::Room(0)));
}

#[test]
fn pointing_at_a_line_lights_the_ghost_and_the_other_way_round() {
    let mut harness = offered();
    let line = harness.get_by_label("Wall, 102 mm thick, 2.00 m long, 41 % sure").rect().center();
    harness.hover_at(line);
    harness.run();
    assert_eq!(harness.state().proposed().lit(), Some(Part::Wall(4)));
    hover(&mut harness, 4000.0, 1500.0);
    assert_eq!(harness.state().proposed().lit(), Some(Part::Wall(1)));
    hover(&mut harness, 9000.0, 9000.0);
    assert_eq!(harness.state().proposed().lit(), None);
}

#[test]
fn ghosts_are_accepted_by_click_and_rectangle_and_set_aside_by_the_other_button() {
    let mut harness = offered();
    press(&mut harness, Modifiers::NONE, Key::A);
    let on_wall = hover(&mut harness, 4000.0, 1500.0);
    button(&mut harness, on_wall, PointerButton::Primary, true);
    button(&mut harness, on_wall, PointerButton::Primary, false);
    assert_eq!(counts(harness.state().session().project()), [1, 0, 0]);
    let on_guess = hover(&mut harness, 6000.0, 500.0);
    button(&mut harness, on_guess, PointerButton::Secondary, true);
    button(&mut harness, on_guess, PointerButton::Secondary, false);
    assert!(!left(&harness).contains(&Part::Wall(4)));
    let (from, to) = (at(&harness, -600.0, -600.0), at(&harness, 4600.0, 3600.0));
    harness.hover_at(from);
    harness.run();
    button(&mut harness, from, PointerButton::Primary, true);
    for step in 1..=4 {
        harness.hover_at(from + (to - from) * (step as f32 / 4.0));
        harness.run();
    }
    button(&mut harness, to, PointerButton::Primary, false);
    assert_eq!(counts(harness.state().session().project()), [4, 1, 1]);
    assert_eq!(harness.state().session().history().depth(), 2, "a rectangle is one step");
}

#[test]
fn keys_alone_go_through_what_is_proposed() {
    let mut harness = offered();
    press(&mut harness, Modifiers::NONE, Key::A);
    hover(&mut harness, 9000.0, 9000.0);
    press(&mut harness, Modifiers::NONE, Key::ArrowDown);
    assert_eq!(harness.state().proposed().lit(), Some(Part::Wall(4)));
    press(&mut harness, Modifiers::NONE, Key::Delete);
    assert!(!left(&harness).contains(&Part::Wall(4)));
    assert_eq!(harness.state().proposed().lit(), Some(Part::Wall(3)), "on to the next");
    press(&mut harness, Modifiers::NONE, Key::Enter);
    assert_eq!(counts(harness.state().session().project()), [1, 0, 0]);
    press(&mut harness, Modifiers::SHIFT, Key::A);
    assert_eq!(counts(harness.state().session().project()), [4, 1, 1]);
}

#[test]
fn an_offer_is_stale_once_its_drawing_lies_otherwise_and_goes_with_it() {
    let mut project = Project::new();
    let level = project.levels.ids().next().unwrap();
    let underlay = Underlay {
        level,
        name: "plan.png".to_owned(),
        media: "0.png".to_owned(),
        page: 1,
        width: 1000.0,
        height: 800.0,
        mm_per_unit: 5.0,
        scale_from: None,
        second_length: None,
        position: Point::ORIGIN,
        turn: Angle::ZERO,
        opacity: 0.6,
        on_sheets: false,
    };
    let laid = verbs::add_underlay(&project, underlay).unwrap();
    pattress_model::edit::History::default().apply(&mut project, laid).unwrap();
    let (id, underlay) = project.underlays.iter().map(|(id, found)| (id, found.clone())).next().unwrap();
    let mut harness = window(project);
    let offer = Offer::new(level, Some((id, underlay.clone())), proposal());
    do_it(&mut harness, Intent::Offer(Offering::Lay(Box::new(offer))));
    let change = |harness: &Harness<'static, Board>, underlay: Underlay| {
        Intent::Change(verbs::edit_underlay(harness.state().session().project(), id, underlay))
    };
    let fainter = change(&harness, Underlay { opacity: 0.3, ..underlay.clone() });
    do_it(&mut harness, fainter);
    assert!(harness.query_by_label("Accept all").is_some(), "how strongly it shows is no matter");
    let moved = change(&harness, Underlay { position: Point::new(100.0, 0.0), ..underlay });
    do_it(&mut harness, moved);
    harness.get_by_label("The drawing has moved or was scaled since: trace it again.");
    press(&mut harness, Modifiers::SHIFT, Key::A);
    assert_eq!(harness.state().session().project().walls.len(), 0);
    let remove = verbs::remove_things(
        harness.state().session().project(),
        &[pattress_model::edit::Subject::Underlay(id)],
    );
    do_it(&mut harness, Intent::Change(remove));
    assert!(harness.state().proposed().on(level).is_none());
}

#[test]
fn nothing_to_trace_is_said_and_the_list_keeps_to_the_survey() {
    let mut harness = window(Project::new());
    press(&mut harness, Modifiers::SHIFT, Key::T);
    assert!(harness.state().said().refused);
    assert!(harness.state().said().sentence.contains("no drawing on this level"));
    assert!(harness.query_by_role_and_label(Role::Button, "Accept all").is_none());
}
