//! The timeline: what came in and what changed, line by line; pointing at a line lights up what it speaks of, a click
//! tells why it happened.

use egui::{Align2, FontId, Label, Panel, Rect, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2};
use pattress_model::studies::rehearsal::telling::{self, Weight};

use super::why;
use crate::window::intent::{Intent, Rehearsing};
use crate::window::rehearsal::LivePlan;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::lines;

/// Height of a line, points.
const LINE: f32 = 22.0;

/// Where the words start, after the time.
const WORDS_AT: f32 = 74.0;

/// What follows from something stands in by this.
const INDENT: f32 = 12.0;

/// The entries that are shown, and where the list stood.
#[derive(Default)]
pub struct Kept {
    made: Option<(u64, usize)>,
    rows: Vec<Row>,
    happened: usize,
}

/// A line: an entry, and how many that say the same of other things in the same moment go with it.
#[derive(Clone, Copy)]
struct Row {
    entry: usize,
    others: usize,
}

impl Kept {
    fn keep_up(&mut self, live: &LivePlan) {
        let reel = live.reel();
        let made = Some((reel.revision(), reel.told().len()));
        if self.made == made {
            return;
        }
        // What was told before stays, unless something was done in the past since.
        let known = match self.made {
            Some((revision, length)) if revision == reel.revision() => length,
            _ => {
                self.rows.clear();
                0
            }
        };
        for (index, entry) in reel.told().iter().enumerate().skip(known) {
            if telling::weight(entry) == Weight::Between || telling::says_again(reel, index) {
                continue;
            }
            match self.rows.last_mut() {
                Some(last) if telling::says_the_same(reel, last.entry, index) => last.others += 1,
                _ => self.rows.push(Row { entry: index, others: 0 }),
            }
        }
        self.made = made;
    }
}

/// Shows the timeline.
pub fn ui(ui: &mut Ui, live: &LivePlan, kept: &mut Kept, theme: &Theme, intents: &mut Vec<Intent>) {
    kept.keep_up(live);
    if let Some(chosen) = live.chosen() {
        let frame = egui::Frame::NONE.fill(theme.panel);
        Panel::bottom("why").frame(frame).resizable(true).default_size(230.0).show(ui, |ui| {
            why::ui(ui, live, chosen, theme, intents);
        });
    }
    if kept.rows.len() <= 1 {
        lines::nothing(
            ui,
            theme,
            "Nothing has happened yet. Click a plate, a door or a device on the plan, or drag over the floor to walk \
             somebody through the house: all that follows is told here.",
        );
    }
    let happened = live.reel().happened();
    let mut area = ScrollArea::vertical().id_salt("timeline").auto_shrink(false);
    if kept.happened != happened {
        kept.happened = happened;
        let row = kept.rows.partition_point(|row| row.entry < happened);
        let above = (ui.available_height() - 3.0 * LINE).max(0.0);
        area = area.vertical_scroll_offset((row as f32 * LINE - above).max(0.0));
    }
    ui.spacing_mut().item_spacing.y = 0.0;
    area.show_rows(ui, LINE, kept.rows.len(), |ui, range| {
        for row in kept.rows.get(range).unwrap_or_default() {
            line(ui, live, *row, theme, intents);
        }
    });
}

fn line(ui: &mut Ui, live: &LivePlan, row: Row, theme: &Theme, intents: &mut Vec<Intent>) {
    let (reel, entry) = (live.reel(), row.entry);
    let Some(found) = reel.told().get(entry) else { return };
    let mut words = telling::in_words(live.plan(), reel, entry);
    match row.others {
        0 => {}
        1 => words.push_str(", and one more"),
        others => words.push_str(&format!(", and {others} more")),
    }
    let is_cause = telling::weight(found) == Weight::Cause;
    let is_ahead = entry >= reel.happened();
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), LINE), Sense::click());
    let time = telling::clock_words(live.clock(), found.at);
    let name = format!("{time} {words}");
    response.widget_info(|| WidgetInfo::selected(Role::ListItem, true, live.chosen() == Some(entry), &name));
    if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 0.0, theme.raised);
        intents.extend(telling::subject(live.plan(), reel, entry).map(Intent::PointAt));
    }
    if live.chosen() == Some(entry) {
        ui.painter().rect_filled(rect, 0.0, theme.accent_soft);
        let bar = Rect::from_min_size(rect.min, vec2(3.0, rect.height()));
        ui.painter().rect_filled(bar, 0.0, theme.accent);
    }
    lines::ring_if_focused(ui, &response);
    let ink = if is_ahead { theme.quiet } else { theme.ink };
    let font = if is_cause { FontId::new(13.0, medium()) } else { FontId::proportional(13.0) };
    if is_cause || begins(live, entry) {
        let at = rect.left_center() + vec2(14.0, 0.0);
        ui.painter().text(at, Align2::LEFT_CENTER, time, FontId::proportional(12.0), theme.quiet);
    }
    let indent = if is_cause { 0.0 } else { INDENT };
    let left = rect.left() + WORDS_AT + indent;
    let place = Rect::from_min_max(egui::pos2(left, rect.top()), rect.right_bottom() - vec2(8.0, 0.0));
    let said = if is_ahead { format!("{words} (ahead)") } else { words };
    let text = egui::RichText::new(said.clone()).font(font).color(ink);
    ui.put(place, |ui: &mut Ui| {
        ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
            ui.add(Label::new(text).truncate().selectable(false).sense(Sense::hover()))
        })
        .response
    });
    if response.on_hover_text(said).clicked() {
        let chosen = (live.chosen() != Some(entry)).then_some(entry);
        intents.push(Intent::Rehearse(Rehearsing::Choose(chosen)));
    }
}

/// Whether an entry is the first of its moment that shows without a cause of its own.
fn begins(live: &LivePlan, entry: usize) -> bool {
    let told = live.reel().told();
    let before = entry.checked_sub(1).and_then(|before| told.get(before));
    before.map(|before| before.at) != told.get(entry).map(|entry| entry.at)
}
