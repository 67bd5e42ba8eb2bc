//! Suggested places, worked by accessible name, by key and by clicks on the plan, with no display.

mod window_house;

use egui::{Key, Modifiers, PointerButton, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use pattress::window::Board;
use pattress::window::intent::{Intent, Selecting};
use pattress::window::tool_choice::ToolChoice;
use pattress_model::edit::{Subject, verbs};
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::project::Project;
use pattress_model::studies::coverage::suggest::{Wish, suggest};

fn window() -> Harness<'static, Board> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1280.0, 800.0))
        .with_max_steps(16)
        .build_ui_state(|ui, board: &mut Board| board.show(ui), Board::for_tests(window_house::kitchen()));
    harness.run();
    harness
}

fn do_it(harness: &mut Harness<'static, Board>, intent: Intent) {
    let ctx = harness.ctx.clone();
    harness.state_mut().carry_out(&ctx, intent);
    harness.run();
}

fn project(harness: &Harness<'static, Board>) -> Project {
    harness.state().session().project().clone()
}

/// Selects the kitchen and asks on its card.
fn ask(harness: &mut Harness<'static, Board>) {
    let room = project(harness).rooms.ids().next().unwrap();
    do_it(harness, Intent::Select(Selecting::Only(vec![Subject::Room(room)])));
    harness.get_by_role_and_label(Role::Button, "Suggest a place").scroll_to_me();
    harness.run();
    harness.get_by_role_and_label(Role::Button, "Suggest a place").click();
    harness.run();
    harness.run();
}

fn found(harness: &Harness<'static, Board>) -> Option<usize> {
    harness.state().suggested().found().map(|found| found.suggestion.best.len())
}

#[test]
fn the_card_of_a_room_suggests_places_and_a_click_on_one_takes_it() {
    let mut harness = window();
    let before = project(&harness);
    ask(&mut harness);
    let answer = harness.state().suggested().found().unwrap().clone();
    let room = before.rooms.ids().next().unwrap();
    let expected = suggest(&before, room, &answer.sought.kind, Wish::LightByMotion);
    assert_eq!((answer.sought.wish, &answer.suggestion), (Wish::LightByMotion, &expected));
    assert!(!expected.best.is_empty() && expected.tried > 3);
    // The second of them, on the plan.
    let pose = expected.best[1].clone();
    let at = harness.state().screen_of(pose.at);
    harness.hover_at(at);
    harness.run();
    assert_eq!(harness.state().suggested().pointed(), Some(1), "pointing at a ghost lights it");
    for pressed in [true, false] {
        let event = egui::Event::PointerButton {
            pos: at,
            button: PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        };
        harness.event(event);
        harness.run();
    }
    let after = project(&harness);
    assert_eq!(after.devices.len(), before.devices.len() + 1);
    let placed = after.devices.iter().next_back().unwrap().1.clone();
    assert_eq!((placed.mount, placed.turn), (verbs_rounded(pose.mount), pose.turn.wrapped()));
    assert!(found(&harness).is_none(), "the plan changed, so what was suggested for it is gone");
}

/// A mount as it is kept.
fn verbs_rounded(mount: pattress_model::kit::Mount) -> pattress_model::kit::Mount {
    use pattress_model::kit::Mount;
    match mount {
        Mount::WallFace { wall, side, along } => Mount::WallFace { wall, side, along: along.rounded() },
        other => other,
    }
}

#[test]
fn a_place_is_taken_from_the_card_by_name() {
    let mut harness = window();
    let before = project(&harness);
    ask(&mut harness);
    harness.get_by_label_contains("Place it at 1:").scroll_to_me();
    harness.run();
    harness.get_by_label_contains("Place it at 1:").click();
    harness.run();
    assert_eq!(project(&harness).devices.len(), before.devices.len() + 1);
    assert_eq!(harness.state().session().history().depth(), 1, "one gesture, one step");
}

#[test]
fn escape_and_any_change_of_the_plan_drop_what_is_suggested() {
    let mut harness = window();
    ask(&mut harness);
    assert_eq!(found(&harness), Some(3));
    harness.key_press(Key::Escape);
    harness.run();
    assert!(found(&harness).is_none());
    assert!(!harness.state().session().selection().is_empty(), "Esc drops the ghosts first");
    ask(&mut harness);
    assert_eq!(found(&harness), Some(3));
    let plan = project(&harness);
    let lamp = plan.devices.ids().next_back().unwrap();
    let change = verbs::set_note(&plan, &[Subject::Device(lamp)], "behind the beam");
    do_it(&mut harness, Intent::Change(change));
    harness.run();
    assert!(found(&harness).is_none());
}

#[test]
fn a_kind_in_hand_is_sought_a_place_in_the_room_under_the_pointer() {
    let mut harness = window();
    for (key, finds) in [("ceiling-presence-6m", true), ("plate-4", false)] {
        let Some(kind) = kind_by_key(key) else { continue };
        do_it(&mut harness, Intent::TakeUp(ToolChoice::Place(Box::new(kind))));
        let at = harness.state().screen_of(kurbo::Point::new(2500.0, 2000.0));
        harness.hover_at(at);
        harness.run();
        harness.key_press_modifiers(Modifiers::SHIFT, Key::S);
        harness.run();
        harness.run();
        assert_eq!(found(&harness).is_some(), finds, "{key}: {:?}", harness.state().said());
    }
    assert!(harness.state().said().sentence.contains("only for detectors"), "{:?}", harness.state().said());
}
