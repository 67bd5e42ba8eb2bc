//! Every command with its key, in columns.

use egui::{RichText, ScrollArea, Ui};

use super::title;
use crate::window::command::{Group, TABLE};
use crate::window::intent::Intent;
use crate::window::theme::{Theme, medium, semi_bold};
use crate::window::widgets::lines;

/// Shows the keys.
pub fn ui(ui: &mut Ui, fresh: bool, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let close = title(ui, "Keys", &mut intents);
    if fresh {
        close.request_focus();
    }
    let tallest = ui.ctx().content_rect().height() - 150.0;
    ScrollArea::vertical().max_height(tallest).min_scrolled_height(tallest).auto_shrink([false, true]).show(
        ui,
        |ui| {
            ui.columns(Group::ALL.len(), |columns| {
                for (column, group) in columns.iter_mut().zip(Group::ALL) {
                    column.spacing_mut().item_spacing.y = 7.0;
                    column
                        .label(RichText::new(group.name()).family(semi_bold()).color(theme.quiet).size(12.0));
                    for row in TABLE.iter().filter(|row| row.group == group) {
                        let key = row.key_words(column.ctx());
                        column.vertical(|ui| {
                            ui.spacing_mut().item_spacing.y = 0.0;
                            ui.add(egui::Label::new(row.label).wrap()).on_hover_text(row.tip);
                            if key.is_empty() {
                                lines::caption(ui, theme, "by menu or finder");
                            } else {
                                let key = RichText::new(key).family(medium()).size(12.0);
                                ui.label(key.color(theme.accent));
                            }
                        });
                    }
                }
            });
        },
    );
    ui.add_space(6.0);
    lines::caption(
        ui,
        theme,
        "The wheel comes nearer and goes farther. The middle button, or space and the main button, moves the \
         sheet. Alt lets snapping go.",
    );
    intents
}
