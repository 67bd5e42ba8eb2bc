//! How long it takes to issue Ferry Cottage, and to get from its files to the first frames of the window.

mod measuring;

use std::time::Duration;

use egui::{Pos2, RawInput, Rect, vec2};
use measuring::Times;
use pattress::window::Board;
use pattress::window::jobs::Jobs;
use pattress::window::session::Session;
use pattress::{commands, files};
use pattress_tests::samples;

const ISSUE: Duration = Duration::from_secs(2);
const FIRST_FRAME: Duration = Duration::from_millis(500);

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let plan = samples::folder().join("ferry-cottage");
    let folder = tempfile::tempdir()?;
    println!("\nFerry Cottage; CPU time");
    let mut exit = 0;
    let issued = Times::in_all(7, || {
        let arguments = [
            "pattress".into(),
            "issue".into(),
            plan.clone().into_os_string(),
            "--out".into(),
            folder.path().to_owned().into_os_string(),
        ];
        exit = commands::run(arguments, &mut std::io::sink(), &mut std::io::stderr());
    });
    if exit != 0 {
        return Err(format!("issue ended with {exit}").into());
    }
    issued.print("issue all sheets and schedules", Some(ISSUE), None);
    let mut unread = None;
    let started = Times::of(7, || match files::read(&plan) {
        Ok(read) => first_frames(Session::new(read.project, read.media, Some(plan.clone()))),
        Err(error) => unread = Some(error),
    });
    if let Some(error) = unread {
        return Err(error.into());
    }
    started.print("from its files to the second frame, window's thread", Some(FIRST_FRAME), None);
    Ok(())
}

/// The first frame finds out how large everything is, the second shows it.
fn first_frames(session: Session) {
    let mut board = Board::new(session, Jobs::start(|| {}), false);
    let ctx = egui::Context::default();
    for _ in 0..2 {
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, vec2(1280.0, 800.0))),
            ..RawInput::default()
        };
        let output = ctx.run_ui(input, |ui| board.show(ui));
        std::hint::black_box(ctx.tessellate(output.shapes, output.pixels_per_point));
    }
}
