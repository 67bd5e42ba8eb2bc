//! The clock of a rehearsal and what moves it: go and stop, pace, steps, a time to jump to, the mode of the house, the
//! light outside.

use egui::{RichText, Ui, vec2};
use pattress_model::calendar::{Date, Local, MS_PER_SECOND};
use pattress_model::sentence::mode_words;
use pattress_model::studies::rehearsal::{Has, Incoming};
use pattress_model::systems::HouseMode;
use pattress_model::units::TimeOfDay;

use crate::window::intent::{Intent, Rehearsing};
use crate::window::rehearsal::LivePlan;
use crate::window::rehearsal::pace::Pace;
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::{lines, text_field};

/// Light outside that can be chosen: what falls on the ground, lux (from memory, common practice).
const DAYLIGHT: [(f64, &str); 5] = [
    (0.0, "night, 0 lx"),
    (30.0, "dusk, 30 lx"),
    (2_000.0, "dark clouds, 2,000 lx"),
    (10_000.0, "overcast, 10,000 lx"),
    (60_000.0, "full sun, 60,000 lx"),
];

/// Shows the bar.
pub fn ui(ui: &mut Ui, live: &LivePlan, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    ui.horizontal_wrapped(|ui| {
        ui.set_min_height(26.0);
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        clock(ui, live, theme, &mut intents);
        ui.separator();
        going(ui, live, theme, &mut intents);
        ui.separator();
        house(ui, live, &mut intents);
        ui.separator();
        let tip = "Leave the rehearsal (Esc). The plan is as it was.";
        if ui.button("End rehearsal").on_hover_text(tip).clicked() {
            intents.push(Intent::Rehearse(Rehearsing::Stop));
        }
    });
    intents
}

/// Shows over the board why the clock stands, where it was stopped.
pub fn stopped(ctx: &egui::Context, board: egui::Rect, live: &LivePlan, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let Some(paused) = live.paused() else { return intents };
    let frame =
        egui::Frame::NONE.fill(theme.panel).stroke(egui::Stroke::new(1.0, theme.warn)).corner_radius(4);
    egui::Area::new(egui::Id::unique("rehearsal stopped"))
        .order(egui::Order::Middle)
        .constrain_to(board)
        .fixed_pos(board.left_top() + vec2(10.0, 10.0))
        .show(ctx, |ui| {
            frame.inner_margin(8).show(ui, |ui| {
                ui.set_max_width((board.width() - 40.0).clamp(200.0, 640.0));
                ui.horizontal_wrapped(|ui| {
                    if ui.button("Go on").on_hover_text("Let the clock go on.").clicked() {
                        intents.push(Intent::Rehearse(Rehearsing::Plays(true)));
                    }
                    if ui.button("Tell why").on_hover_text("Show what led to it.").clicked() {
                        intents.push(Intent::Rehearse(Rehearsing::Choose(Some(paused.entry))));
                    }
                    let words = format!("Stopped: {}", paused.sentence);
                    let words = RichText::new(words).family(semi_bold()).color(theme.warn);
                    ui.add(egui::Label::new(words).wrap());
                });
            });
        });
    intents
}

/// The clock of the house, date and time each to be typed.
fn clock(ui: &mut Ui, live: &LivePlan, theme: &Theme, intents: &mut Vec<Intent>) {
    let Some(local) = live.clock().shows(live.now()) else { return };
    let tip = "Type a date, such as 2026-06-21, and the clock goes there: back to a moment that was, or on.";
    let date = local.date.to_string();
    let (response, typed) =
        text_field(ui, egui::Id::unique("rehearsal date"), "Date of the rehearsal", &date, 92.0);
    response.on_hover_text(tip);
    if let Some(typed) = typed {
        intents.push(match Date::parse(typed.trim()) {
            Ok(date) => jump(live, Local { date, ..local }),
            Err(sentence) => Intent::Change(Err(sentence)),
        });
    }
    let seconds = local.since_midnight_ms / MS_PER_SECOND;
    let shown = format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
    let (response, typed) =
        text_field(ui, egui::Id::unique("rehearsal time"), "Time of the rehearsal", &shown, 72.0);
    response.on_hover_text("Type a time, such as 22:30, and the clock goes there.");
    if let Some(typed) = typed {
        intents.push(match time_typed(&typed) {
            Ok(since_midnight_ms) => jump(live, Local { date: local.date, since_midnight_ms }),
            Err(sentence) => Intent::Change(Err(sentence)),
        });
    }
    ui.label(RichText::new(local.date.weekday().name()).color(theme.quiet));
}

fn jump(live: &LivePlan, to: Local) -> Intent {
    Intent::Rehearse(Rehearsing::JumpTo(live.clock().when(to).earliest()))
}

/// `22:30` or `22:30:15` as milliseconds since midnight.
fn time_typed(typed: &str) -> Result<i64, String> {
    let typed = typed.trim();
    let (time, seconds) = match typed.match_indices(':').nth(1) {
        Some((at, _)) => (&typed[..at], typed[at + 1..].parse::<i64>().ok().filter(|s| (0..60).contains(s))),
        None => (typed, Some(0)),
    };
    let time = TimeOfDay::parse(time)?;
    let seconds =
        seconds.ok_or_else(|| format!("“{typed}” is no time: type one such as 22:30 or 22:30:15"))?;
    Ok((i64::from(time.minutes) * 60 + seconds) * MS_PER_SECOND)
}

/// Go and stop, pace, steps.
fn going(ui: &mut Ui, live: &LivePlan, theme: &Theme, intents: &mut Vec<Intent>) {
    let mut ask = |what| intents.push(Intent::Rehearse(what));
    if let Some(running) = live.running() {
        let (from, to, now) = (running.from.ms, running.to.ms, live.now().ms);
        let share = (now - from) as f32 / (to - from).max(1) as f32;
        ui.add(egui::ProgressBar::new(share).desired_width(170.0).text("Running ahead"));
        if ui.button("Stop").on_hover_text("Stop here.").clicked() {
            ask(Rehearsing::StopJump);
        }
        return;
    }
    let words = if live.plays() { "Pause" } else { "Go" };
    let fill = if live.plays() { theme.accent_soft } else { theme.raised };
    let button =
        egui::Button::new(RichText::new(words).family(semi_bold())).fill(fill).min_size(vec2(52.0, 24.0));
    let tip = "Let the clock go, or stop it (Enter on the plan).";
    if ui.add(button).on_hover_text(tip).clicked() {
        ask(Rehearsing::Plays(!live.plays()));
    }
    let offered: Vec<(Pace, String)> =
        Pace::ALL.iter().map(|pace| (*pace, pace.words().to_owned())).collect();
    let salt = egui::Id::unique("rehearsal pace");
    if let Some(pace) = lines::choice(ui, salt, "Pace", live.pace().words(), 104.0, &offered) {
        ask(Rehearsing::Pace(pace));
    }
    let back =
        ui.button("Back").on_hover_text("Go back to before the last thing that happened (Left arrow).");
    if back.clicked() {
        ask(Rehearsing::StepBack);
    }
    let next = ui.button("Next").on_hover_text("Go on to the next thing that happens (Right arrow).");
    if next.clicked() {
        ask(Rehearsing::StepForward);
    }
}

/// The mode of the house, and the light outside.
fn house(ui: &mut Ui, live: &LivePlan, intents: &mut Vec<Intent>) {
    let project = live.plan();
    let modes = std::iter::once(HouseMode::AtHome).chain(project.modes.ids().map(HouseMode::Named));
    let offered: Vec<(HouseMode, String)> = modes.map(|mode| (mode, mode_words(project, mode))).collect();
    let shown = mode_words(project, live.run().mode());
    let salt = egui::Id::unique("rehearsal mode");
    ui.label("Mode");
    if let Some(mode) = lines::choice(ui, salt, "House mode", &shown, 84.0, &offered) {
        intents.push(Intent::Rehearse(Rehearsing::Do(Incoming::Mode(mode))));
    }
    hub(ui, live, intents);
    let mut pauses = live.pauses();
    let tip = "Stop the clock where an alarm is given or a message is sent. Rules that go round in a circle stop it always.";
    if ui.checkbox(&mut pauses, "Stop at alarms").on_hover_text(tip).changed() {
        intents.push(Intent::Rehearse(Rehearsing::Pauses(pauses)));
    }
    let Some(Has::Number(lux)) = live.daylight() else { return };
    ui.label("Outside");
    let offered: Vec<(f64, String)> =
        DAYLIGHT.iter().map(|(lux, words)| (*lux, (*words).to_owned())).collect();
    let shown = DAYLIGHT
        .iter()
        .find(|(known, _)| *known == lux)
        .map_or_else(|| format!("{lux} lx"), |(_, words)| (*words).to_owned());
    let salt = egui::Id::unique("rehearsal daylight");
    if let Some(lux) = lines::choice(ui, salt, "Light outside", &shown, 112.0, &offered) {
        intents.push(Intent::Rehearse(Rehearsing::Daylight(lux)));
    }
}

/// The hub, to be stopped and started.
fn hub(ui: &mut Ui, live: &LivePlan, intents: &mut Vec<Intent>) {
    let runs = live.run().is_running();
    let words = if runs { "Hub runs" } else { "Hub stands" };
    ui.menu_button(words, |ui| {
        let offered = [
            ("Stop the hub", Incoming::HubStops, runs),
            ("Start the hub", Incoming::HubStarts, !runs),
            ("Restart the hub", Incoming::HubRestarts, runs),
        ];
        for (words, what, possible) in offered {
            if ui.add_enabled(possible, egui::Button::new(words)).clicked() {
                intents.push(Intent::Rehearse(Rehearsing::Do(what)));
                ui.close();
            }
        }
    });
}
