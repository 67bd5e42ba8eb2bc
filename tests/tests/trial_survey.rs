//! Drawings of real houses, brought in and traced as the command line does, held against exact truths.
//!
//! The trial data are no part of the checkout: they are looked for in `shared/data` in the folders above it, or
//! where the variable PATTRESS_TRIAL_DATA says; without them this test says so and passes. The table gives what was
//! found beside what is asked; the test holds each drawing to what was reached, so that nothing gets worse unseen.

use std::ffi::OsString;
use std::path::Path;
use std::time::Instant;

use kurbo::Point;
use pattress::survey::{Corners, square_up};
use pattress_model::plan::Underlay;
use pattress_model::units::Length;
use pattress_tests::truth::{Found, Score, Truth, score, trial_folder};

/// How a drawing is brought to scale and straight.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Way {
    /// By its stated drawing scale.
    Stated(f64),
    /// By two corners of the house and the length between, picked to the pixel.
    TwoPoints,
    /// The same, and turned by itself.
    TwoPointsStraightened,
    /// By the four corners of the house.
    FourCorners,
}

/// What is asked of a kind of drawing, in percent; openings, thickness and rooms where anything is asked.
#[derive(Clone, Copy, Debug)]
struct Asked {
    walls: f64,
    no_wall: f64,
    scale: f64,
    openings: bool,
}

const VECTOR: Asked = Asked { walls: 97.0, no_wall: 3.0, scale: 0.01, openings: true };
const CLEAN: Asked = Asked { walls: 93.0, no_wall: 6.0, scale: 0.1, openings: false };
const POOR: Asked = Asked { walls: 85.0, no_wall: 10.0, scale: 0.1, openings: false };

/// Millimetres to a PostScript point.
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// One drawing: its file, its truth, how its units differ from those of the truth, and what is asked of it and
/// was reached: walls found at least, false at most, in percent.
struct Case {
    file: &'static str,
    truth: &'static str,
    further: Option<[[f64; 3]; 3]>,
    way: Way,
    asked: Asked,
    reached: (f64, f64),
}

const fn case(file: &'static str, truth: &'static str, way: Way, asked: Asked, reached: (f64, f64)) -> Case {
    Case { file, truth, further: None, way, asked, reached }
}

fn cases() -> Vec<Case> {
    const FLAT: &str = "derived/flat_L1_1-50_A3.truth.json";
    const DUPLEX: &str = "derived/duplex_L1_1-100_A3.truth.json";
    let turned_and_cropped = {
        // MANIFEST: the crop box lies 60, 40, 30 and 50 points (left, bottom, right, top) within an A3 sheet,
        // which is then shown turned by a right angle clockwise.
        let [left, top] = [60.0, 50.0].map(|points| points * MM_PER_POINT);
        let height = 751.89 * MM_PER_POINT;
        [[0.0, -1.0, height + top], [1.0, 0.0, -left], [0.0, 0.0, 1.0]]
    };
    let twice = [[2.0, 0.0, 0.0], [0.0, 2.0, 0.0], [0.0, 0.0, 1.0]];
    vec![
        case("derived/flat_L1_1-50_A3.pdf", FLAT, Way::Stated(50.0), VECTOR, (99.9, 3.1)),
        case("derived/flat_L1_1-50_A3.svg", FLAT, Way::Stated(50.0), VECTOR, (99.9, 3.1)),
        case("derived/duplex_L1_1-100_A3.pdf", DUPLEX, Way::Stated(100.0), VECTOR, (85.5, 0.5)),
        case("derived/duplex_L1_1-100_A3.svg", DUPLEX, Way::Stated(100.0), VECTOR, (85.5, 0.5)),
        Case {
            further: Some(turned_and_cropped),
            ..case("pdf/flat_L1_1-50_A3_rotate90_cropbox.pdf", FLAT, Way::Stated(50.0), VECTOR, (99.9, 3.1))
        },
        Case {
            further: Some(twice),
            ..case("torture/pdf_userunit_2.0.pdf", FLAT, Way::Stated(25.0), VECTOR, (99.9, 3.1))
        },
        case(
            "derived/flat_L1_1-50_A3.png",
            "derived/flat_L1_1-50_A3.png.truth.json",
            Way::TwoPoints,
            CLEAN,
            (97.5, 2.0),
        ),
        case("derived/flat_gray16.png", "derived/flat_gray16.truth.json", Way::TwoPoints, CLEAN, (99.0, 3.2)),
        case(
            "derived/flat_exif_orientation6.jpg",
            "derived/flat_exif_orientation6.truth.json",
            Way::TwoPoints,
            CLEAN,
            (98.5, 3.5),
        ),
        case(
            "derived/duplexL1_1bit_600dpi.png",
            "derived/duplexL1_1bit_600dpi.truth.json",
            Way::TwoPoints,
            POOR,
            (85.0, 0.5),
        ),
        case(
            "derived/flat_scan_skew2.3_150dpi.jpg",
            "derived/flat_scan_skew2.3_150dpi.truth.json",
            Way::TwoPointsStraightened,
            POOR,
            (94.0, 3.5),
        ),
        case(
            "derived/duplexL1_scan_skew-1.4_200dpi.jpg",
            "derived/duplexL1_scan_skew-1.4_200dpi.truth.json",
            Way::TwoPointsStraightened,
            POOR,
            (78.5, 0.5),
        ),
        case(
            "derived/duplexL1_photo_perspective.jpg",
            "derived/duplexL1_photo_perspective.truth.json",
            Way::FourCorners,
            POOR,
            (78.5, 0.5),
        ),
        case(
            "raster/mlstruct_7784.png",
            "raster/mlstruct_7784.truth.json",
            Way::TwoPoints,
            CLEAN,
            (74.5, 100.0),
        ),
        case(
            "raster/mlstruct_8888.png",
            "raster/mlstruct_8888.truth.json",
            Way::TwoPoints,
            CLEAN,
            (97.5, 100.0),
        ),
        case(
            "raster/mlstruct_f23c_left.png",
            "raster/mlstruct_f23c_left.truth.json",
            Way::TwoPoints,
            CLEAN,
            (66.0, 100.0),
        ),
    ]
}
/// Pictures of more than thirty million pixels.
const LARGE: [&str; 4] = [
    "derived/duplexL1_1bit_600dpi.png",
    "raster/mlstruct_7784.png",
    "raster/mlstruct_8888.png",
    "raster/mlstruct_f23c_left.png",
];

/// What came of one drawing.
struct Outcome {
    scale_off: f64,
    skew_off: Option<f64>,
    score: Score,
    seconds: f64,
}

fn whole(at: Point) -> Point {
    Point::new(at.x.round(), at.y.round())
}

fn run(data: &Path, place: &Path, case: &Case) -> Outcome {
    let truth = Truth::read(&data.join(case.truth));
    let truth = case.further.map_or(truth.clone(), |further| truth.on_drawing(further));
    let drawing = data.join(case.file);
    let plan = place.join(format!("{}.pattress", case.file.replace('/', "-")));
    let [lower_left, lower_right, upper_right, upper_left] = truth.corners();
    let picked = [upper_left, upper_right, lower_right, lower_left].map(|at| whole(truth.on_the_drawing(at)));
    let (width, depth) = (lower_right.x - lower_left.x, upper_left.y - lower_left.y);
    let diagonal = (lower_right - upper_left).hypot();
    let mut arguments: Vec<OsString> = vec!["pattress".into(), "survey".into(), drawing.clone().into()];
    arguments.extend(["--trace".into(), "--out".into(), plan.clone().into()]);
    match case.way {
        Way::Stated(scale) => arguments.extend(["--scale".into(), scale.to_string().into()]),
        Way::FourCorners => {
            let corners: Vec<String> = picked.iter().map(|at| format!("{},{}", at.x, at.y)).collect();
            arguments.extend(["--corners".into(), format!("{},{width},{depth}", corners.join(",")).into()]);
        }
        Way::TwoPoints | Way::TwoPointsStraightened => {
            let [first, _, second, _] = picked;
            let length = format!("{},{},{},{},{diagonal}", first.x, first.y, second.x, second.y);
            arguments.extend(["--length".into(), length.into()]);
        }
    }
    if case.way == Way::TwoPointsStraightened {
        arguments.extend(["--turn".into(), "auto".into()]);
    }
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let begun = Instant::now();
    let code = pattress::commands::run(arguments, &mut out, &mut err);
    let seconds = begun.elapsed().as_secs_f64();
    assert_eq!(code, 0, "{}: {}", case.file, String::from_utf8_lossy(&err));
    let read = pattress::files::read(&plan).expect("the plan can be read");
    let (_, underlay) = read.project.underlays.iter().next().expect("the drawing lies beneath");
    let level = underlay.level;
    // On plan millimetres to those of the truth.
    let corner = (case.way == Way::FourCorners).then(|| {
        let corners = Corners { at: picked, width: Length::mm(width), depth: Length::mm(depth) };
        let photograph = std::fs::read(&drawing).expect("read");
        square_up(&photograph, &corners, &|_| true).expect("squared").corner
    });
    let drawing_from_plan = underlay.plan_from_drawing().inverse();
    let truth_from_plan = |at: Point| {
        let on_drawing = drawing_from_plan * at;
        match corner {
            Some(corner) => {
                let off = (on_drawing - corner) * underlay.mm_per_unit;
                Point::new(upper_left.x + off.x, upper_left.y - off.y)
            }
            None => truth.from_the_drawing(on_drawing),
        }
    };
    let found = Found::on_level(&read.project, level).mapped(&truth_from_plan);
    Outcome {
        scale_off: scale_off(&truth, underlay, corner.is_some()),
        skew_off: (case.way == Way::TwoPointsStraightened).then(|| skew_off(&truth, underlay)),
        score: score(&truth, &found),
        seconds,
    }
}

/// How far the scale is off, in percent; of a photograph made square it is what the four corners say.
fn scale_off(truth: &Truth, underlay: &Underlay, squared: bool) -> f64 {
    if squared {
        return 0.0;
    }
    let [lower_left, _, upper_right, _] = truth.corners();
    let on_drawing = truth.on_the_drawing(upper_right) - truth.on_the_drawing(lower_left);
    let true_scale = (upper_right - lower_left).hypot() / on_drawing.hypot();
    (underlay.mm_per_unit / true_scale - 1.0).abs() * 100.0
}

/// How far from level the house lies once the drawing is turned, degrees.
fn skew_off(truth: &Truth, underlay: &Underlay) -> f64 {
    let [lower_left, lower_right, ..] = truth.corners();
    let placed = underlay.plan_from_drawing();
    let along = placed * truth.on_the_drawing(lower_right) - placed * truth.on_the_drawing(lower_left);
    along.atan2().to_degrees().abs()
}

#[test]
fn drawings_come_in_to_scale_and_are_traced() {
    let Some(data) = trial_folder("derived").and_then(|folder| folder.parent().map(Path::to_path_buf)) else {
        println!("NOT RUN: the trial data is not present");
        return;
    };
    let place = tempfile::tempdir().expect("a folder");
    println!("{:<44} {:>8} {:>6}  {}  {:>5}  asked", "drawing", "scale %", "skew °", Score::HEADING, "s");
    let mut worse = Vec::new();
    for case in cases() {
        if cfg!(debug_assertions) && LARGE.contains(&case.file) {
            println!(
                "{:<44} NOT RUN without optimisation, for it takes minutes: cargo test --release",
                case.file
            );
            continue;
        }
        let outcome = run(&data, place.path(), &case);
        let Outcome { scale_off, skew_off, score, seconds } = &outcome;
        let percent = |share: Option<f64>| share.map(|share| 100.0 * share);
        let mut short = Vec::new();
        let mut ask = |name: &str, found: Option<f64>, holds: &dyn Fn(f64) -> bool| {
            if found.is_some_and(|found| !holds(found)) {
                short.push(name.to_owned());
            }
        };
        ask("scale", Some(*scale_off), &|off| off <= case.asked.scale);
        ask("skew", *skew_off, &|off| off <= 0.1);
        ask("walls", percent(score.walls_found), &|found| found >= case.asked.walls);
        ask("false walls", percent(score.walls_false), &|found| found <= case.asked.no_wall);
        ask("thickness", percent(score.thickness), &|found| found >= 90.0);
        if case.asked.openings {
            ask("openings", percent(score.openings), &|found| found >= 85.0);
        }
        ask("rooms", percent(score.rooms), &|found| found >= 90.0);
        println!(
            "{:<44} {scale_off:>8.4} {:>6}  {}  {seconds:>5.2}  walls {:.0}, false {:.0}{}",
            case.file,
            skew_off.map_or_else(|| "-".to_owned(), |off| format!("{off:.3}")),
            score.row(),
            case.asked.walls,
            case.asked.no_wall,
            if short.is_empty() { String::new() } else { format!("; SHORT: {}", short.join(", ")) },
        );
        let (least, most) = case.reached;
        if percent(score.walls_found).is_some_and(|found| found < least)
            || percent(score.walls_false).is_some_and(|found| found > most)
            || *scale_off > case.asked.scale
            || skew_off.is_some_and(|off| off > 0.1)
        {
            worse.push(case.file);
        }
    }
    assert!(worse.is_empty(), "less was found than before: {}", worse.join(", "));
}
