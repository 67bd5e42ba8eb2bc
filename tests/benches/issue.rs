//! How long it takes to issue Ferry Cottage, and to get from its files to the first frames of the window.
//!
//! The reference of the issue is the drawing alone of its written SVG sheets as pictures by resvg, without lettering.
//! The reference of the first frames is two frames of egui with one word in them, letters included. Where a virtual
//! display (Xvfb) and the built program (`cargo build --release`) are there, the program itself is started: what it
//! works until it comes to rest, all its threads, studies and drawing in software included, is more than its first
//! frame took. Then what it works in ten idle seconds is measured.

mod measuring;

use std::path::Path;
use std::time::Duration;

use egui::{Pos2, RawInput, Rect, vec2};
use measuring::Times;
use pattress::window::Board;
use pattress::window::jobs::Jobs;
use pattress::window::session::Session;
use pattress::{commands, files};
use pattress_tests::samples;
use resvg::{tiny_skia, usvg};

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
    let sheets = drawings(&folder.path().join("sheets"))?;
    let drawn = Times::in_all(3, || sheets.iter().filter_map(|sheet| picture(sheet)).count());
    issued.print("issue all sheets and schedules", Some(ISSUE), Some(&drawn));
    let mut unread = None;
    let started = Times::of(7, || match files::read(&plan) {
        Ok(read) => first_frames(Session::new(read.project, read.media, Some(plan.clone()))),
        Err(error) => unread = Some(error),
    });
    if let Some(error) = unread {
        return Err(error.into());
    }
    let bare = Times::of(7, bare_frames);
    started.print("from its files to the second frame, window's thread", Some(FIRST_FRAME), Some(&bare));
    // A copy: the program keeps a recovery log beside the plan that it opens.
    let copy = folder.path().join("copy");
    let read = files::read(&plan)?;
    files::save(&copy, &read.project, &read.media)?;
    match program::start(&copy) {
        Some(told) => {
            let to_rest = Times::sorted(vec![told.to_rest]);
            to_rest.print("the program under Xvfb, until it comes to rest", Some(FIRST_FRAME), Some(&bare));
            Times::sorted(vec![told.idle]).print("and in ten idle seconds", None, None);
        }
        None => println!(
            "the program itself: not measured, for Xvfb or target/release/pattress is not there, or is older than \
             the plan, or never came to rest"
        ),
    }
    Ok(())
}

/// The texts of all SVG files in a folder.
fn drawings(folder: &Path) -> std::io::Result<Vec<String>> {
    let mut texts = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "svg") {
            texts.push(std::fs::read_to_string(path)?);
        }
    }
    Ok(texts)
}

/// A sheet drawn at 150 dots per inch, as the issue draws its pictures.
fn picture(text: &str) -> Option<tiny_skia::Pixmap> {
    const PX_PER_UNIT: f32 = 150.0 / 96.0;
    let tree = usvg::Tree::from_str(text, &usvg::Options::default()).ok()?;
    let size = tree.size().to_int_size().scale_by(PX_PER_UNIT)?;
    let mut pixmap = tiny_skia::Pixmap::new(size.width(), size.height())?;
    resvg::render(&tree, tiny_skia::Transform::from_scale(PX_PER_UNIT, PX_PER_UNIT), &mut pixmap.as_mut());
    Some(pixmap)
}

/// Two frames of egui with one word in them.
fn bare_frames() {
    let ctx = egui::Context::default();
    for _ in 0..2 {
        frame(&ctx, |ui| {
            ui.label("Plan");
        });
    }
}

fn frame(ctx: &egui::Context, show: impl FnMut(&mut egui::Ui)) {
    let input = RawInput {
        screen_rect: Some(Rect::from_min_size(Pos2::ZERO, vec2(1280.0, 800.0))),
        ..RawInput::default()
    };
    let output = ctx.run_ui(input, show);
    std::hint::black_box(ctx.tessellate(output.shapes, output.pixels_per_point));
}

/// The program as it is built, on a virtual display.
#[cfg(target_os = "linux")]
mod program {
    use std::path::Path;
    use std::process::{Child, Command, Stdio};
    use std::thread::sleep;
    use std::time::{Duration, Instant};

    /// What the program worked.
    pub struct Told {
        pub to_rest: Duration,
        pub idle: Duration,
    }

    /// Linux counts the work of programs in hundredths of a second (proc(5), `USER_HZ`).
    const TICK: Duration = Duration::from_millis(10);

    /// A program that is ended when it is dropped.
    struct Running(Child);

    impl Drop for Running {
        fn drop(&mut self) {
            let _ = self.0.kill();
            let _ = self.0.wait();
        }
    }

    /// Starts the program with a plan; `None` where it or a display is not there.
    pub fn start(plan: &Path) -> Option<Told> {
        let built = std::env::current_exe().ok()?.ancestors().nth(2)?.join("pattress");
        let display = format!(":{}", 300 + std::process::id() % 600);
        let quiet = |command: &mut Command| {
            command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().ok().map(Running)
        };
        if !built.exists() {
            return None;
        }
        let _screen = quiet(Command::new("Xvfb").args([&display, "-screen", "0", "1280x800x24"]))?;
        sleep(Duration::from_secs(2));
        let home = tempfile::tempdir().ok()?;
        let mut command = Command::new(built);
        command.arg(plan).env("DISPLAY", &display).env_remove("WAYLAND_DISPLAY");
        command.env("HOME", home.path()).env("XDG_DATA_HOME", home.path());
        let program = quiet(&mut command)?;
        let to_rest = at_rest(program.0.id())?;
        let before = worked(program.0.id())?;
        sleep(Duration::from_secs(10));
        Some(Told { to_rest, idle: worked(program.0.id())? - before })
    }

    /// What a program has worked once it works no more for two seconds.
    fn at_rest(program: u32) -> Option<Duration> {
        let started = Instant::now();
        let mut before = Duration::ZERO;
        while started.elapsed() < Duration::from_secs(120) {
            sleep(Duration::from_secs(2));
            let now = worked(program)?;
            if now > Duration::ZERO && now - before <= TICK {
                return Some(now);
            }
            before = now;
        }
        None
    }

    /// What a program has worked, itself and the system on its behalf.
    fn worked(program: u32) -> Option<Duration> {
        let told = std::fs::read_to_string(format!("/proc/{program}/stat")).ok()?;
        // After the name in brackets, which may hold anything, come the state as field 3, and utime and stime as 14
        // and 15.
        let fields: Vec<&str> = told.rsplit_once(')')?.1.split_whitespace().collect();
        let ticks: u32 = fields.get(11)?.parse::<u32>().ok()? + fields.get(12)?.parse::<u32>().ok()?;
        Some(TICK * ticks)
    }
}

/// Elsewhere the program is not tried.
#[cfg(not(target_os = "linux"))]
mod program {
    /// What the program worked.
    pub struct Told {
        pub to_rest: std::time::Duration,
        pub idle: std::time::Duration,
    }

    /// Not tried.
    pub fn start(_plan: &std::path::Path) -> Option<Told> {
        None
    }
}

/// The first frame finds out how large everything is, the second shows it.
fn first_frames(session: Session) {
    let mut board = Board::new(session, Jobs::start(|| {}), false);
    let ctx = egui::Context::default();
    for _ in 0..2 {
        frame(&ctx, |ui| board.show(ui));
    }
}
