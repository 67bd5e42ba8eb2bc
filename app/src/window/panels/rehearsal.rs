//! What shows while the rules are played: the clock and what moves it along the top, the timeline, what waits and the
//! scripts in place of the side list, and a card at the thing that is worked.

pub mod bar;
pub mod card;
mod points;
mod scripts;
mod timeline;
mod waiting;
mod why;

use egui::{Frame, Margin, Ui};

use crate::window::intent::Intent;
use crate::window::rehearsal::LivePlan;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// What these panels remember between frames that is no part of the rehearsal: which list shows, what is typed.
#[derive(Default)]
pub struct State {
    list: List,
    keep_as: String,
    timeline: timeline::Kept,
}

/// The lists of a rehearsal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum List {
    /// What happened.
    #[default]
    Timeline,
    /// What waits to be done.
    Waiting,
    /// The scripts of the plan, and the walks.
    Scripts,
}

impl State {
    /// Turns to the timeline.
    pub fn show_timeline(&mut self) {
        self.list = List::Timeline;
    }

    /// Turns to the scripts.
    pub fn show_scripts(&mut self) {
        self.list = List::Scripts;
    }
}

/// Shows the lists.
pub fn ui(ui: &mut Ui, live: &LivePlan, state: &mut State, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    Frame::NONE.inner_margin(Margin { left: 14, right: 12, top: 10, bottom: 8 }).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let waiting = live.run().waiting().len();
        let offered = [
            (List::Timeline, "Timeline".to_owned()),
            (List::Waiting, format!("Waiting {waiting}")),
            (List::Scripts, format!("Scripts {}", live.plan().scripts.len())),
        ];
        if let Some(list) = lines::tabs(ui, theme, state.list, &offered) {
            state.list = list;
        }
    });
    lines::thin_rule(ui, theme);
    match state.list {
        List::Timeline => timeline::ui(ui, live, &mut state.timeline, theme, &mut intents),
        List::Waiting => waiting::ui(ui, live, theme, &mut intents),
        List::Scripts => scripts::ui(ui, live, &mut state.keep_as, theme, &mut intents),
    }
    intents
}
