//! Storeys: walls copied up with or without what is in them, and ceilings that slope.

use egui::{Key, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use kurbo::{Point, Rect};
use pattress::window::Board;
use pattress::window::intent::{Intent, Selecting};
use pattress_model::edit::{Change, History, Subject, verbs};
use pattress_model::plan::{Level, MakeUp, Opening, OpeningForm, Room, RoomUse};
use pattress_model::project::Project;
use pattress_model::units::Length;

fn change(project: &mut Project, change: impl FnOnce(&Project) -> Result<Change, String>) {
    let made = change(project).unwrap();
    History::default().apply(project, made).unwrap();
}

/// A room of 5 by 4 m with a window, and an empty storey above it.
fn house() -> Project {
    let mut project = Project::new();
    let level = project.levels.ids().next().unwrap();
    let spec =
        verbs::WallSpec { thickness: Length::mm(100.0), height: Length::m(2.4), make_up: MakeUp::Stud };
    change(&mut project, |project| {
        verbs::draw_room(project, level, Rect::new(0.0, 0.0, 5000.0, 4000.0), spec)
    });
    let wall = project.walls.ids().next().unwrap();
    change(&mut project, |project| {
        verbs::add_opening(
            project,
            Opening {
                wall,
                centre: Length::m(2.5),
                width: Length::m(1.2),
                head: Length::m(2.1),
                form: OpeningForm::Window { sill: Length::m(0.9) },
            },
        )
    });
    change(&mut project, |project| {
        let (room_use, seed) = (RoomUse::Bedroom, Point::new(2500.0, 2000.0));
        verbs::add_room(project, Room { level, name: "Loft".to_owned(), room_use, seed, ceiling: None })
    });
    change(&mut project, |project| {
        verbs::add_level(
            project,
            Level {
                name: "First floor".to_owned(),
                floor_above_datum: Length::m(2.7),
                ceiling_affl: Length::m(2.3),
            },
        )
    });
    project
}

fn window() -> Harness<'static, Board> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1280.0, 800.0))
        .with_max_steps(16)
        .build_ui_state(|ui, board: &mut Board| board.show(ui), Board::for_tests(house()));
    harness.run();
    harness.get_by_label("Survey").click();
    harness.run();
    harness
}

fn type_in(harness: &mut Harness<'static, Board>, label: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, label).focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, label).type_text(text);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn walls_are_copied_up_with_their_openings_or_without() {
    for (button, openings) in [
        ("Copy the walls of Ground floor to First floor", 2),
        ("Copy the walls of Ground floor to First floor, without their openings", 1),
    ] {
        let mut harness = window();
        harness.get_by_label(button).click();
        harness.run();
        let project = harness.state().session().project();
        assert_eq!((project.walls.len(), project.openings.len()), (8, openings), "{button}");
        let (_, top) = project.walls.iter().last().unwrap();
        assert_eq!(top.height, Length::m(2.3), "as high as their own storey");
    }
}

#[test]
fn a_sloping_ceiling_is_typed_on_the_rooms_card_and_taken_back() {
    let mut harness = window();
    let room = harness.state().session().project().rooms.ids().next().unwrap();
    let ctx = harness.ctx.clone();
    let select = Intent::Select(Selecting::Only(vec![Subject::Room(room)]));
    harness.state_mut().carry_out(&ctx, select);
    harness.run();
    harness
        .get_by_label("Give the ceiling a lowest and a highest height; both begin at the level’s.")
        .click();
    harness.run();
    type_in(&mut harness, "Ceiling, low", "4ft 11in");
    type_in(&mut harness, "Slopes", "falls to the eaves at the north wall");
    let ceiling = |harness: &Harness<'static, Board>| {
        harness.state().session().project().rooms.get(room).unwrap().ceiling.clone()
    };
    let sloping = ceiling(&harness).unwrap();
    assert_eq!((sloping.low, sloping.high), (Length::mm(1498.6), Length::m(2.4)));
    assert_eq!(sloping.note, "falls to the eaves at the north wall");
    type_in(&mut harness, "Ceiling, low", "3m");
    assert!(harness.state().said().refused, "lower than where it is highest: {:?}", harness.state().said());
    harness.get_by_label("The ceiling is level: as high as the level says").click();
    harness.run();
    assert_eq!(ceiling(&harness), None);
}
