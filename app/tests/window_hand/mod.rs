//! A hand at the window for tests: it clicks and types by accessible name.

use egui::{Key, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use pattress::window::Board;
use pattress::window::intent::Intent;

use crate::window_house;

/// A window with this board, come to rest.
pub fn window(board: Board) -> Harness<'static, Board> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1280.0, 800.0))
        .with_max_steps(16)
        .build_ui_state(|ui, board: &mut Board| board.show(ui), board);
    harness.run();
    harness
}

/// A window with the small house.
pub fn kitchen() -> Harness<'static, Board> {
    window(Board::for_tests(window_house::kitchen()))
}

/// Has an intent carried out, as a panel would.
pub fn do_it(harness: &mut Harness<'static, Board>, intent: Intent) {
    let ctx = harness.ctx.clone();
    harness.state_mut().carry_out(&ctx, intent);
    harness.run();
}

/// Types into a field, in place of what is in it.
pub fn type_in(harness: &mut Harness<'static, Board>, label: &str, text: &str) {
    let field = harness.get_by_role_and_label(Role::TextInput, label);
    field.focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, label).type_text(text);
    harness.run();
}

/// Clicks what has that name.
pub fn click(harness: &mut Harness<'static, Board>, label: &str) {
    harness.get_by_label(label).click();
    harness.run();
}
