//! Drawings of real houses, brought in and traced as the command line does, held against exact truths.
//!
//! The trial data are no part of the checkout: they are looked for in `shared/data` in the folders above it, or
//! where the variable PATTRESS_TRIAL_DATA says; without them this test says so and passes. The table gives what was
//! found beside what is asked; the test holds each drawing to what was reached, so that nothing gets worse unseen.
//!
//! Rooms of these houses that run into each other without a wall, as a kitchen into a living room, are parted by no line
//! of a drawing, and a trace takes them for one; a model says where they part, and room lines do so on the plan. The
//! walls of the duplex are drawn as one filled area, linings and all: a trace finds a lined wall as one of the whole
//! thickness, where the truth counts the lining for itself.

use std::ffi::OsString;
use std::path::Path;
use std::time::Instant;

use kurbo::Point;
use pattress::survey::{Corners, square_up};
use pattress_model::plan::Underlay;
use pattress_model::survey::rectify::Homography;
use pattress_model::units::Length;
use pattress_tests::trial_data;
use pattress_tests::truth::{Found, Score, Truth, score};

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
    /// A model in true lengths, of which this storey is taken.
    Model(&'static str),
}

/// What is asked of a kind of drawing, in percent.
#[derive(Clone, Copy, Debug)]
struct Asked {
    scale: f64,
    walls: f64,
    no_wall: f64,
    thickness: f64,
    openings: f64,
    rooms: f64,
}

const VECTOR: Asked =
    Asked { scale: 0.01, walls: 97.0, no_wall: 3.0, thickness: 90.0, openings: 85.0, rooms: 90.0 };
/// Of pictures nothing is asked about openings.
const CLEAN: Asked = Asked { scale: 0.1, walls: 93.0, no_wall: 6.0, openings: 0.0, ..VECTOR };
const POOR: Asked = Asked { walls: 85.0, no_wall: 10.0, ..CLEAN };

/// What was reached, in percent: walls, thickness, openings and rooms at least, walls that are none at most.
#[derive(Clone, Copy, Debug)]
struct Reached {
    walls: f64,
    no_wall: f64,
    thickness: f64,
    openings: f64,
    rooms: f64,
}

const fn reached(walls: f64, no_wall: f64, thickness: f64, openings: f64, rooms: f64) -> Reached {
    Reached { walls, no_wall, thickness, openings, rooms }
}

/// Skew is found to this, degrees.
const MOST_SKEW: f64 = 0.1;

/// Millimetres to a PostScript point.
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// One drawing: its file, its truth, how its units differ from those of the truth, and what is asked of it and
/// was reached.
struct Case {
    file: &'static str,
    truth: &'static str,
    further: Option<[[f64; 3]; 3]>,
    way: Way,
    asked: Asked,
    reached: Reached,
}

const fn case(file: &'static str, truth: &'static str, way: Way, asked: Asked, reached: Reached) -> Case {
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
        case(
            "derived/flat_L1_1-50_A3.pdf",
            FLAT,
            Way::Stated(50.0),
            VECTOR,
            reached(99.6, 3.4, 99.9, 99.9, 99.9),
        ),
        case(
            "derived/flat_L1_1-50_A3.svg",
            FLAT,
            Way::Stated(50.0),
            VECTOR,
            reached(99.6, 3.4, 99.9, 99.9, 99.9),
        ),
        case(
            "derived/duplex_L1_1-100_A3.pdf",
            DUPLEX,
            Way::Stated(100.0),
            VECTOR,
            reached(85.4, 0.4, 76.8, 99.9, 19.9),
        ),
        case(
            "derived/duplex_L1_1-100_A3.svg",
            DUPLEX,
            Way::Stated(100.0),
            VECTOR,
            reached(85.4, 0.4, 76.8, 99.9, 19.9),
        ),
        Case {
            further: Some(turned_and_cropped),
            ..case(
                "pdf/flat_L1_1-50_A3_rotate90_cropbox.pdf",
                FLAT,
                Way::Stated(50.0),
                VECTOR,
                reached(99.6, 3.4, 99.9, 99.9, 99.9),
            )
        },
        Case {
            further: Some(twice),
            ..case(
                "torture/pdf_userunit_2.0.pdf",
                FLAT,
                Way::Stated(25.0),
                VECTOR,
                reached(99.6, 3.4, 99.9, 99.9, 99.9),
            )
        },
        case(
            "derived/flat_L1_1-50_A3.png",
            "derived/flat_L1_1-50_A3.png.truth.json",
            Way::TwoPoints,
            CLEAN,
            reached(97.5, 1.9, 99.9, 99.9, 77.7),
        ),
        case(
            "derived/flat_gray16.png",
            "derived/flat_gray16.truth.json",
            Way::TwoPoints,
            CLEAN,
            reached(99.5, 3.4, 99.9, 99.9, 99.9),
        ),
        case(
            "derived/flat_exif_orientation6.jpg",
            "derived/flat_exif_orientation6.truth.json",
            Way::TwoPoints,
            CLEAN,
            reached(98.6, 3.5, 93.2, 93.2, 77.7),
        ),
        case(
            "derived/duplexL1_1bit_600dpi.png",
            "derived/duplexL1_1bit_600dpi.truth.json",
            Way::TwoPoints,
            POOR,
            reached(85.3, 0.4, 76.8, 99.9, 19.9),
        ),
        case(
            "derived/flat_scan_skew2.3_150dpi.jpg",
            "derived/flat_scan_skew2.3_150dpi.truth.json",
            Way::TwoPointsStraightened,
            POOR,
            reached(99.6, 3.4, 99.9, 99.9, 99.9),
        ),
        case(
            "derived/duplexL1_scan_skew-1.4_200dpi.jpg",
            "derived/duplexL1_scan_skew-1.4_200dpi.truth.json",
            Way::TwoPointsStraightened,
            POOR,
            reached(78.6, 0.4, 74.9, 79.9, 19.9),
        ),
        case(
            "derived/duplexL1_photo_perspective.jpg",
            "derived/duplexL1_photo_perspective.truth.json",
            Way::FourCorners,
            POOR,
            reached(78.7, 0.4, 74.9, 79.9, 9.9),
        ),
        case(
            "raster/mlstruct_7784.png",
            "raster/mlstruct_7784.truth.json",
            Way::TwoPoints,
            CLEAN,
            reached(74.6, 100.0, 99.9, 0.0, 0.0),
        ),
        case(
            "raster/mlstruct_8888.png",
            "raster/mlstruct_8888.truth.json",
            Way::TwoPoints,
            CLEAN,
            reached(97.4, 100.0, 99.9, 0.0, 0.0),
        ),
        case(
            "raster/mlstruct_f23c_left.png",
            "raster/mlstruct_f23c_left.truth.json",
            Way::TwoPoints,
            CLEAN,
            reached(66.0, 100.0, 95.6, 0.0, 0.0),
        ),
        case(
            "ifc/smart_home_flat.ifc",
            FLAT,
            Way::Model("Level 1"),
            VECTOR,
            reached(99.9, 0.1, 99.9, 99.9, 99.9),
        ),
        case("ifc/duplex.ifc", DUPLEX, Way::Model("Level 1"), VECTOR, reached(99.9, 0.1, 99.9, 99.9, 99.9)),
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
    scale_off: Option<f64>,
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
        Way::Model(storey) => {
            arguments.retain(|argument| argument != "--trace");
            arguments.extend(["--storey".into(), storey.into()]);
        }
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
    let (level, _) = read.project.levels.iter().next().expect("there is a storey");
    let found = Found::on_level(&read.project, level);
    let Some((_, underlay)) = read.project.underlays.iter().next() else {
        // A model lies where its own coordinates say, as its truth does.
        return Outcome { scale_off: None, skew_off: None, score: score(&truth, &found), seconds };
    };
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
    let scale_off = match case.way {
        Way::FourCorners => scale_off_squared(&truth, picked, width, depth),
        _ => scale_off(&truth, underlay),
    };
    Outcome {
        scale_off: Some(scale_off),
        skew_off: (case.way == Way::TwoPointsStraightened).then(|| skew_off(&truth, underlay)),
        score: score(&truth, &found.mapped(&truth_from_plan)),
        seconds,
    }
}

/// How far the scale is off, in percent.
fn scale_off(truth: &Truth, underlay: &Underlay) -> f64 {
    let [lower_left, _, upper_right, _] = truth.corners();
    let on_drawing = truth.on_the_drawing(upper_right) - truth.on_the_drawing(lower_left);
    let true_scale = (upper_right - lower_left).hypot() / on_drawing.hypot();
    (underlay.mm_per_unit / true_scale - 1.0).abs() * 100.0
}

/// How far a photograph made square by picked corners is off, in percent: the worst of the true house's sides.
fn scale_off_squared(truth: &Truth, picked: [Point; 4], width: f64, depth: f64) -> f64 {
    let map = Homography::from_corners(picked, width, depth).expect("corners of a rectangle");
    let corners = truth.corners();
    let seen = corners.map(|at| map.apply(truth.on_the_drawing(at)).expect("before the horizon"));
    (0..4)
        .map(|side| {
            let next = (side + 1) % 4;
            let off = (seen[next] - seen[side]).hypot() / (corners[next] - corners[side]).hypot();
            (off - 1.0).abs() * 100.0
        })
        .fold(0.0, f64::max)
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
    let Some(data) = trial_data::data() else {
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
        let least = [
            ("walls", percent(score.walls_found), case.asked.walls, case.reached.walls),
            ("thickness", percent(score.thickness), case.asked.thickness, case.reached.thickness),
            ("openings", percent(score.openings), case.asked.openings, case.reached.openings),
            ("rooms", percent(score.rooms), case.asked.rooms, case.reached.rooms),
        ];
        let most = [
            ("scale", *scale_off, case.asked.scale, case.asked.scale),
            ("skew", *skew_off, MOST_SKEW, MOST_SKEW),
            ("false walls", percent(score.walls_false), case.asked.no_wall, case.reached.no_wall),
        ];
        let below = least.map(|(name, found, asked, reached)| {
            (name, found.is_some_and(|found| found < asked), found.is_some_and(|found| found < reached))
        });
        let above = most.map(|(name, found, asked, reached)| {
            (name, found.is_some_and(|found| found > asked), found.is_some_and(|found| found > reached))
        });
        let all = below.iter().chain(&above);
        let short: Vec<&str> = all.clone().filter(|(_, short, _)| *short).map(|(name, ..)| *name).collect();
        let lost: Vec<&str> = all.filter(|(_, _, lost)| *lost).map(|(name, ..)| *name).collect();
        let figure = |figure: &Option<f64>, decimals: usize| {
            figure.map_or_else(|| "-".to_owned(), |figure| format!("{figure:.decimals$}"))
        };
        println!(
            "{:<44} {:>8} {:>6}  {}  {seconds:>5.2}  walls {:.0}, false {:.0}{}",
            case.file,
            figure(scale_off, 4),
            figure(skew_off, 3),
            score.row(),
            case.asked.walls,
            case.asked.no_wall,
            if short.is_empty() { String::new() } else { format!("; SHORT: {}", short.join(", ")) },
        );
        if !lost.is_empty() {
            worse.push(format!("{} ({})", case.file, lost.join(", ")));
        }
    }
    assert!(worse.is_empty(), "less was found than before: {}", worse.join(", "));
}
