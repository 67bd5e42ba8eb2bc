//! The window as a whole: what lies where, and how intents find their way to [`super::update`].

use std::path::PathBuf;

use eframe::egui;
use egui::{CentralPanel, Frame, Margin, Panel};

use super::board::Board;
use super::command;
use super::intent::{Intent, PathFor};
use super::jobs::Jobs;
use super::panels;
use super::session::{Session, Stage};
use super::suggesting::Suggesting;
use super::survey::Surveyed;
use super::survey::doing::Doing;
use super::survey::proposed::Offering;
use super::theme;
use super::update::{DRAWINGS, update};
use pattress_model::project::Project;
use pattress_model::store::Media;

impl Board {
    /// Carries out an intent from outside, as a panel would.
    pub fn carry_out(&mut self, ctx: &egui::Context, intent: Intent) {
        update(self, ctx, intent);
    }

    /// One frame: panels around, board in the middle, intents carried out at the end.
    pub fn show(&mut self, ui: &mut egui::Ui) {
        let ctx = ui.ctx().clone();
        if self.dressed != Some(self.theme) {
            if self.dressed.is_none() {
                ctx.set_fonts(theme::fonts());
            }
            self.theme.dress(&ctx);
            self.dressed = Some(self.theme);
        }
        self.drawings.wakes(&ctx);
        super::update::keep_up(self, &ctx);
        self.jobs.keep_up(&self.session);
        let mut intents = Vec::new();
        if !self.jobs.is_fresh(self.session.generation()) {
            ctx.request_repaint_after(std::time::Duration::from_millis(100));
        }
        intents.extend(ctx.input(|input| {
            input.raw.dropped_files.iter().filter_map(|file| dropped(file.path())).collect::<Vec<_>>()
        }));
        // Escape that closes a menu is used up by that.
        let menu_was_open = egui::Popup::is_any_open(&ctx);
        self.lay_out(ui, &mut intents);
        let pressed = command::pressed(&ctx, self.overlay.is_some() || self.live.is_some());
        let kept =
            pressed.into_iter().filter(|command| !menu_was_open || *command != command::Command::Pointer);
        intents.extend(kept.map(Intent::Run));
        if ctx.input(|input| input.viewport().close_requested()) && !self.leaving && self.session.is_changed()
        {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            intents.push(Intent::Run(command::Command::Quit));
        }
        let pointed = intents.iter().rev().find_map(|intent| match intent {
            Intent::PointAt(subject) => Some(*subject),
            _ => None,
        });
        self.session.pointed_at = pointed;
        self.proposed.pointed = intents.iter().rev().find_map(|intent| match intent {
            Intent::Offer(Offering::PointAt(part)) => Some(*part),
            _ => None,
        });
        self.suggested.pointed = intents.iter().rev().find_map(|intent| match intent {
            Intent::Suggest(Suggesting::PointAt(index)) => Some(*index),
            _ => None,
        });
        for intent in intents {
            update(self, &ctx, intent);
        }
    }

    fn lay_out(&mut self, ui: &mut egui::Ui, intents: &mut Vec<Intent>) {
        let Self {
            session,
            surface,
            jobs,
            drawings,
            catching,
            proposed,
            suggested,
            theme,
            overlay,
            panels,
            said,
            files,
            desk,
            doing,
            live,
            ..
        } = self;
        let figures = jobs.figures();
        let surveyed = Surveyed { drawings, catching, proposed, suggested };
        let fresh = jobs.is_fresh(session.generation());
        let flat = |inner: i8| Frame::NONE.fill(theme.panel).inner_margin(Margin::same(inner));
        Panel::top("head").frame(flat(8)).show(ui, |ui| {
            intents.extend(panels::head::ui(ui, session, theme));
        });
        if let Some(live) = live {
            Panel::top("rehearsal").frame(flat(6)).show(ui, |ui| {
                intents.extend(panels::rehearsal::bar::ui(ui, live, theme));
            });
        }
        Panel::bottom("status")
            .frame(Frame::NONE.fill(theme.panel).inner_margin(Margin::symmetric(10, 5)))
            .show(ui, |ui| {
                let progress = files.progress();
                let work = desk.progress().or(doing.as_ref().map(Doing::progress));
                let told =
                    panels::status::Told { session, surface, figures, proposed, fresh, said, progress, work };
                intents.extend(panels::status::ui(ui, &told, theme));
            });
        if live.is_none() {
            Panel::left("kit").frame(flat(0)).default_size(248.0).size_range(200.0..=340.0).show(ui, |ui| {
                intents.extend(match session.stage() {
                    Stage::Survey => panels::draw::ui(ui, session, surface.choice(), surface.manner(), theme),
                    _ => panels::kit::ui(ui, session, surface.choice(), &mut panels.kit, theme),
                });
            });
        }
        Panel::right("lists").frame(flat(0)).default_size(330.0).size_range(260.0..=460.0).show(ui, |ui| {
            if let Some(live) = live {
                intents.extend(panels::rehearsal::ui(ui, live, &mut panels.rehearsal, theme));
                return;
            }
            if !session.selection().is_empty() {
                let most = (ui.available_height() * 0.62).max(160.0);
                Panel::bottom("card").frame(flat(0)).resizable(true).default_size(300.0).max_size(most).show(
                    ui,
                    |ui| {
                        let seen = panels::card::Seen { session, figures, suggested };
                        intents.extend(panels::card::ui(ui, &seen, &mut panels.card, theme));
                    },
                );
            }
            intents.extend(panels::side_list::ui(
                ui,
                session,
                figures,
                proposed,
                &mut panels.side_list,
                theme,
            ));
        });
        CentralPanel::default().frame(Frame::NONE.fill(theme.board)).show(ui, |ui| {
            surface.enliven(session, figures, live.as_deref());
            intents.extend(surface.ui(ui, session, figures, surveyed, theme, jobs.laid()));
        });
        if let Some(live) = live {
            let ctx = ui.ctx();
            intents.extend(panels::rehearsal::bar::stopped(ctx, surface.board(), live, theme));
            intents.extend(panels::rehearsal::card::ui(ctx, surface, live, theme));
        }
        let seen = panels::overlay::Seen { session, figures, desk };
        if let Some(overlay) = overlay {
            intents.extend(panels::overlay::ui(ui.ctx(), overlay, &seen, panels, theme));
        } else {
            panels.overlay.rest();
        }
    }
}

fn dropped(path: &std::path::Path) -> Option<Intent> {
    let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or("").to_lowercase();
    let is_drawing = DRAWINGS.contains(&ending.as_str());
    let purpose = if is_drawing { PathFor::Drawing } else { PathFor::Open };
    Some(purpose.intent(path.to_owned()))
}

impl eframe::App for Board {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.files.close();
    }
}

/// Opens the window, with a plan if one is named. Returns when it is closed.
///
/// # Errors
/// One sentence: the plan can't be read, there is no display, or a system library is missing.
pub fn run(plan: Option<PathBuf>) -> Result<(), String> {
    super::startup::check_display()?;
    let opened = plan.map(|path| super::update::open(&path)).transpose()?;
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Pattress")
            .with_app_id("pattress")
            .with_inner_size([1280.0, 800.0])
            .with_min_inner_size([900.0, 600.0]),
        persist_window: false,
        ..Default::default()
    };
    super::startup::guarded(|| {
        eframe::run_native(
            "Pattress",
            options,
            Box::new(move |creation| {
                let ctx = creation.egui_ctx.clone();
                let jobs = Jobs::start(move || ctx.request_repaint());
                let dark = creation.egui_ctx.input(|input| input.raw.system_theme) == Some(egui::Theme::Dark);
                let mut board = Board::new(Session::new(Project::new(), Media::default(), None), jobs, dark);
                super::update::keep_scratch(&mut board, opened.is_none());
                if let Some(opened) = opened {
                    super::update::put_on_board(&mut board, opened);
                }
                Ok(Box::new(board))
            }),
        )
    })
}
