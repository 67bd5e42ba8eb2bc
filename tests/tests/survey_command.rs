//! `pattress survey`, run as the shell runs it, over small drawings made here: what it draws, says and refuses.

use std::io::Cursor;
use std::path::{Path, PathBuf};

use image::{GrayImage, ImageFormat, Luma};
use kurbo::Affine;
use lopdf::encryption::{EncryptionState, EncryptionVersion, Permissions};
use pattress::print::{PdfInfo, pdf};
use pattress_model::drawing::{Item, Layer, Paper, Role, Shape, Sheet};
use pattress_model::store::Media;
use pattress_tests::command_line::{Given, pattress};
use pattress_tests::drawings;
use serde_json::Value;

/// A folder with drawings, and plans to write.
struct Desk {
    folder: tempfile::TempDir,
}

impl Desk {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn put(&self, name: &str, bytes: &[u8]) {
        std::fs::write(self.path(name), bytes).unwrap();
    }

    /// Runs `survey` with names of files in this folder.
    fn survey(&self, drawing: &str, plan: &str, options: &[&str]) -> Given {
        let (drawing, plan) = (self.path(drawing), self.path(plan));
        let mut line = vec!["survey", drawing.to_str().unwrap(), "--out", plan.to_str().unwrap()];
        line.extend(options);
        pattress(&line)
    }

    /// The same, which must be done; gives what it said.
    fn surveyed(&self, drawing: &str, plan: &str, options: &[&str]) -> String {
        let given = self.survey(drawing, plan, options);
        assert_eq!((given.code, given.err.as_str()), (0, ""), "{drawing} {options:?}");
        given.out
    }

    /// The levels that `figures --study survey` prints.
    fn levels(&self, plan: &str) -> Vec<Value> {
        let plan = self.path(plan);
        let given = pattress(&["figures", plan.to_str().unwrap(), "--study", "survey", "--json"]);
        assert_eq!((given.code, given.err.as_str()), (0, ""));
        let figures: Value = serde_json::from_str(&given.out).unwrap();
        figures["survey"]["levels"].as_array().unwrap().clone()
    }
}

/// A room of 3.6 by 3.0 m within walls of 300 mm and a door of 900 mm, at 1:30 on A3, with lettering.
fn room_as_svg(lettering: &str) -> Vec<u8> {
    format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="297mm" viewBox="0 0 420 297">
<g fill="#333"><path d="M30 30h140v10h-140z"/><path d="M30 140h40v10h-40z"/><path d="M100 140h70v10h-70z"/>
<path d="M30 40h10v100h-10z"/><path d="M160 40h10v100h-10z"/></g>
<path d="M70 140V110A30 30 0 0 1 100 140" stroke="#000" stroke-width=".18" fill="none"/>
<text x="90" y="90" font-size="4" font-family="Some Face">Kitchen</text>
<text x="300" y="280" font-size="4" font-family="Some Face">{lettering}</text>
</svg>"##
    )
    .into_bytes()
}

/// The same room as a picture of 10 mm to a pixel, turned anticlockwise by so many degrees about its middle.
fn room_as_png(degrees: f64) -> Vec<u8> {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let is_ink = |x: f64, y: f64| {
        let within = |x0: f64, y0: f64, x1: f64, y1: f64| (x0..x1).contains(&x) && (y0..y1).contains(&y);
        within(100.0, 100.0, 520.0, 460.0)
            && !within(130.0, 130.0, 490.0, 430.0)
            && !within(220.0, 430.0, 310.0, 460.0)
    };
    let picture = GrayImage::from_fn(620, 560, |x, y| {
        // Four samples a pixel give edges their greys.
        let dark = [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)].into_iter().filter(|(dx, dy)| {
            let (x, y) = (f64::from(x) + dx - 310.0, f64::from(y) + dy - 280.0);
            is_ink(x * cos - y * sin + 310.0, x * sin + y * cos + 280.0)
        });
        Luma([255 - 55 * u8::try_from(dark.count()).unwrap()])
    });
    let mut bytes = Vec::new();
    image::DynamicImage::ImageLuma8(picture)
        .write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png)
        .unwrap();
    bytes
}

fn locked_pdf() -> Vec<u8> {
    let mut document = lopdf::Document::load_mem(&drawings::room_as_pdf()).unwrap();
    let id = lopdf::Object::string_literal("0123456789abcdef");
    document.trailer.set("ID", lopdf::Object::Array(vec![id.clone(), id]));
    let version = EncryptionVersion::V2 {
        document: &document,
        owner_password: "owner",
        user_password: "tulip",
        key_length: 128,
        permissions: Permissions::all(),
    };
    let state = EncryptionState::try_from(version).unwrap();
    document.encrypt(&state).unwrap();
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// The room as it is, wherever it lies: four walls and a door in one of them, one room.
fn check_room(level: &Value, within_mm: f64, what: &str) {
    let walls = level["walls"].as_array().unwrap();
    assert_eq!(walls.len(), 4, "{what}: {level:#}");
    let mut lengths: Vec<f64> = Vec::new();
    for wall in walls {
        let at = |end: usize, axis: usize| number(&wall["axis"][end][axis]);
        lengths.push((at(1, 0) - at(0, 0)).hypot(at(1, 1) - at(0, 1)));
        assert!((number(&wall["thickness"]) - 300.0).abs() <= within_mm, "{what}: {wall}");
    }
    lengths.sort_by(f64::total_cmp);
    for (length, expected) in lengths.iter().zip([3300.0, 3300.0, 3900.0, 3900.0]) {
        assert!((length - expected).abs() <= 2.0 * within_mm, "{what}: {lengths:?}");
    }
    let openings = level["openings"].as_array().unwrap();
    assert_eq!(openings.len(), 1, "{what}");
    let host = &walls[usize::try_from(openings[0]["wall"].as_u64().unwrap()).unwrap()];
    let on_axis = |axis: usize| {
        let [a, b] = [0, 1].map(|end| number(&host["axis"][end][axis]));
        let at = number(&openings[0]["at"][axis]);
        at >= a.min(b) - 1.0 && at <= a.max(b) + 1.0
    };
    assert!(on_axis(0) && on_axis(1), "{what}: {} in {host}", openings[0]);
    assert!((number(&openings[0]["width"]) - 900.0).abs() <= 2.0 * within_mm, "{what}");
    let rooms = level["rooms"].as_array().unwrap();
    assert_eq!(rooms.len(), 1, "{what}");
    let area = number(&rooms[0]["area_m2"]);
    assert!((area - 10.8).abs() <= 10.8 * 0.02, "{what}: {area} m²");
}

#[test]
fn a_page_comes_in_at_its_stated_scale_and_is_traced() {
    let desk = Desk::new();
    desk.put("room.svg", &room_as_svg("Scale 1:30"));
    let said = desk.surveyed("room.svg", "a.pattress", &["--trace"]);
    for words in ["Scale 1:30", "30.0000 mm", "4 walls, 1 opening and 1 room", "Check a second length"] {
        assert!(said.contains(words), "“{words}” is not in: {said}");
    }
    let levels = desk.levels("a.pattress");
    assert_eq!(levels.len(), 1);
    check_room(&levels[0], 0.5, "svg");
    assert_eq!(levels[0]["rooms"][0]["name"], "Kitchen");
    assert_eq!(levels[0]["openings"][0]["kind"], "door");
    assert_eq!(number(&levels[0]["underlay"]["mm_per_unit"]), 30.0);
    assert_eq!(number(&levels[0]["underlay"]["turn_deg"]), 0.0);

    // The same by its scale and by a length, as a folder and as a file; the same bytes each time.
    desk.surveyed("room.svg", "b.pattress", &["--trace", "--scale", "30"]);
    desk.surveyed("room.svg", "c", &["--trace", "--length", "30,35,170,35,4.2m"]);
    let but_how_scaled = |mut levels: Vec<Value>| {
        let scaled = levels[0]["underlay"]["scaled"].take();
        (levels, scaled.as_str().unwrap_or_default().to_owned())
    };
    let (levels, scaled) = but_how_scaled(levels);
    assert_eq!(scaled, "as the page states: “Scale 1:30”");
    for (plan, scaled) in
        [("b.pattress", "as told when it was brought in: 1:30"), ("c", "from two points 4200 mm apart")]
    {
        assert_eq!(but_how_scaled(desk.levels(plan)), (levels.clone(), scaled.to_owned()));
    }
    assert_eq!(levels[0]["underlay"]["on_sheets"], true);
    assert!(desk.path("c").join("project.json").is_file());
    desk.surveyed("room.svg", "d.pattress", &["--trace", "--scale", "30"]);
    let bytes = |plan: &str| std::fs::read(desk.path(plan)).unwrap();
    assert_eq!(bytes("b.pattress"), bytes("d.pattress"));

    // Without --trace only the drawing is laid.
    desk.surveyed("room.svg", "e.pattress", &[]);
    let laid = &desk.levels("e.pattress")[0];
    assert_eq!(laid["walls"].as_array().map(Vec::len), Some(0));
    assert_eq!(number(&laid["underlay"]["mm_per_unit"]), 30.0);
}

#[test]
fn a_statement_for_other_paper_is_corrected_and_two_are_asked_about() {
    let desk = Desk::new();
    desk.put("shrunk.svg", &room_as_svg("1:15 @A1"));
    let said = desk.surveyed("shrunk.svg", "a.pattress", &[]);
    assert!(said.contains("made for A1") && said.contains("this page is A3"), "{said}");
    assert_eq!(number(&desk.levels("a.pattress")[0]["underlay"]["mm_per_unit"]), 30.0);
    desk.put("two.svg", &room_as_svg("plan 1:30, detail 1:10"));
    let given = desk.survey("two.svg", "b.pattress", &[]);
    assert_eq!(given.code, 2);
    assert!(given.err.contains("--scale"), "{}", given.err);
}

#[test]
fn a_picture_comes_in_by_a_length_and_lies_straight() {
    let desk = Desk::new();
    desk.put("level.png", &room_as_png(0.0));
    desk.surveyed("level.png", "a.pattress", &["--trace", "--length", "100,100,520,100,4200"]);
    let level = &desk.levels("a.pattress")[0];
    check_room(level, 10.0, "level picture");
    assert_eq!(number(&level["underlay"]["mm_per_unit"]), 10.0);
    for degrees in [1.7, -2.4] {
        // The two upper corners of the house, where the turn has brought them, rounded to the pixel.
        let (sin, cos) = f64::to_radians(degrees).sin_cos();
        let corner = |x: f64, y: f64| {
            let (x, y) = (x - 310.0, y - 280.0);
            ((x * cos + y * sin + 310.0).round(), (y * cos - x * sin + 280.0).round())
        };
        let (first, second) = (corner(100.0, 100.0), corner(520.0, 460.0));
        let length = format!("{},{},{},{},{}", first.0, first.1, second.0, second.1, 4200_f64.hypot(3600.0));
        desk.put("askew.png", &room_as_png(degrees));
        let plan = format!("askew{degrees}.pattress");
        let said = desk.surveyed("askew.png", &plan, &["--trace", "--turn", "auto", "--length", &length]);
        let level = &desk.levels(&plan)[0];
        let turn = number(&level["underlay"]["turn_deg"]);
        assert!((turn + degrees).abs() <= 0.1, "{degrees}: turned {turn}; {said}");
        check_room(level, 15.0, "askew picture");
        let given: Vec<f64> = level["walls"].as_array().unwrap().iter().map(direction).collect();
        assert!(given.iter().all(|off| off.abs() <= 0.3), "{degrees}: walls {given:?}");
    }
    desk.surveyed("level.png", "turned.pattress", &["--turn", "-90", "--length", "0,0,0,100,1m"]);
    assert_eq!(number(&desk.levels("turned.pattress")[0]["underlay"]["turn_deg"]), -90.0);
}

/// How far a wall is from level or upright, degrees.
fn direction(wall: &Value) -> f64 {
    let at = |end: usize, axis: usize| number(&wall["axis"][end][axis]);
    let degrees = (at(1, 1) - at(0, 1)).atan2(at(1, 0) - at(0, 0)).to_degrees();
    degrees - (degrees / 90.0).round() * 90.0
}

#[test]
fn a_photograph_is_made_square_by_four_corners() {
    let desk = Desk::new();
    desk.put("level.png", &room_as_png(0.0));
    // A picture that is square already comes out as it is: what is held is the way from corners to plan.
    let corners = "100,100,520,100,520,460,100,460,4.2m,3600";
    desk.surveyed("level.png", "a.pattress", &["--trace", "--corners", corners]);
    check_room(&desk.levels("a.pattress")[0], 10.0, "squared picture");

    // The same photograph on a page of a PDF, at 0.25 mm of paper to its pixel; corners are millimetres of paper.
    desk.put("level.pdf", &on_a_page(room_as_png(0.0), (620.0, 560.0), 0.25));
    let (left, top) = (10.0, 297.0 - 10.0 - 560.0 * 0.25);
    let at = |x: f64, y: f64| format!("{},{}", left + 0.25 * x, top + 0.25 * y);
    let corners = [at(100.0, 100.0), at(520.0, 100.0), at(520.0, 460.0), at(100.0, 460.0)].join(",");
    desk.surveyed("level.pdf", "b.pattress", &["--trace", "--corners", &format!("{corners},4.2m,3600")]);
    let levels = desk.levels("b.pattress");
    check_room(&levels[0], 15.0, "squared page");
    assert_eq!(levels[0]["underlay"]["scaled"], "from four corners 4200 by 3600 mm apart");
    desk.put("lines.pdf", &drawings::room_as_pdf());
    let given = desk.survey("lines.pdf", "c.pattress", &["--corners", "10,10,20,10,20,20,10,20,4m,3m"]);
    assert!(given.code != 0 && given.err.contains("is a page of lines, not a photograph"), "{}", given.err);
}

/// A page of A4 that holds nothing but a picture, 10 mm from its lower left corner.
fn on_a_page(picture: Vec<u8>, size: (f64, f64), mm_per_px: f64) -> Vec<u8> {
    let mut media = Media::default();
    let media_name = media.keep(picture, "png");
    let plan_from_units = Affine::translate((10.0, 10.0 + size.1 * mm_per_px))
        * Affine::scale_non_uniform(mm_per_px, -mm_per_px);
    let shape =
        Shape::Picture { media: media_name, page: 1, plan_from_units, size, opacity: 1.0, within: None };
    let sheet = Sheet {
        number: "1".to_owned(),
        title: "Scan".to_owned(),
        paper: Paper::A4,
        scale: 1,
        paper_from_plan: Affine::IDENTITY,
        area: kurbo::Rect::ZERO,
        plan: vec![Item { layer: Layer::Underlay, role: Role::Picture, subject: None, shape }],
        frame: Vec::new(),
    };
    pdf(&[sheet], &media, &PdfInfo::default()).unwrap()
}

#[test]
fn a_plan_gains_storeys_one_drawing_after_another() {
    let desk = Desk::new();
    desk.put("room.svg", &room_as_svg("Scale 1:30"));
    desk.put("room.ifc", &drawings::room_as_ifc());
    desk.surveyed("room.svg", "house.pattress", &["--trace", "--storey", "Ground floor"]);
    desk.surveyed("room.svg", "house.pattress", &["--trace", "--storey", "First floor"]);
    let names = |desk: &Desk| -> Vec<String> {
        let levels = desk.levels("house.pattress");
        levels.iter().map(|level| level["name"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(names(&desk), ["Ground floor", "First floor"]);
    // What stands there already is not built twice.
    let before = desk.levels("house.pattress");
    let again = desk.survey("room.svg", "house.pattress", &["--trace", "--storey", "First floor"]);
    let walls = |levels: &[Value]| -> Vec<usize> {
        levels.iter().map(|level| level["walls"].as_array().unwrap().len()).collect()
    };
    assert_eq!(walls(&desk.levels("house.pattress")), walls(&before), "{}{}", again.out, again.err);
    let said = desk.surveyed("room.ifc", "model.pattress", &[]);
    assert!(said.contains("walls"), "{said}");
    let model = desk.levels("model.pattress");
    assert!(!model.is_empty() && model[0]["underlay"].is_null());
    assert!(model.iter().any(|level| !level["walls"].as_array().unwrap().is_empty()));
}

#[test]
fn a_locked_pdf_opens_with_its_password() {
    let desk = Desk::new();
    desk.put("locked.pdf", &locked_pdf());
    for options in [&["--scale", "50"][..], &["--scale", "50", "--password", "rose"]] {
        let given = desk.survey("locked.pdf", "a.pattress", options);
        assert_eq!(given.code, 2, "{}", given.err);
        assert!(
            given.err.contains("password") && given.err.contains("give it with --password"),
            "{}",
            given.err
        );
    }
    let said = desk.surveyed("locked.pdf", "a.pattress", &["--scale", "50", "--password", "tulip"]);
    assert!(said.contains("kept without its password"), "{said}");
    let kept = pattress::files::read(&desk.path("a.pattress")).unwrap();
    let (_, underlay) = kept.project.underlays.iter().next().unwrap();
    let bytes = kept.media.get(&underlay.media).unwrap();
    assert!(!lopdf::Document::load_mem(bytes).unwrap().is_encrypted(), "so that it shows and prints");
    desk.surveyed("locked.pdf", "b.pattress", &["--scale", "50", "--password", "tulip", "--page", "2"]);
}

#[test]
fn what_cannot_be_done_is_one_sentence_and_writes_nothing() {
    let desk = Desk::new();
    desk.put("room.svg", &room_as_svg("no statement"));
    desk.put("room.png", &room_as_png(0.0));
    desk.put("room.pdf", &drawings::room_as_pdf());
    desk.put("room.ifc", &drawings::room_as_ifc());
    desk.put("moving.gif", b"GIF89a\x01\x00\x01\x00\x00\x00\x00;");
    desk.put("empty.pdf", b"");
    desk.put("words.txt", b"a list of things to buy");
    desk.put("cut.png", &room_as_png(0.0)[..400]);
    desk.put("notes.pattress", b"no plan at all");
    std::fs::create_dir(desk.path("shelf")).unwrap();
    desk.put("shelf/letter.txt", b"not a plan either");
    let length = "100,100,520,100,4200";
    let cases: &[(&str, &str, &[&str], &str)] = &[
        ("nowhere.pdf", "new.pattress", &[], "nowhere.pdf"),
        ("moving.gif", "new.pattress", &["--length", length], "GIF"),
        ("empty.pdf", "new.pattress", &["--scale", "50"], "empty"),
        ("words.txt", "new.pattress", &["--scale", "50"], "words.txt"),
        ("cut.png", "new.pattress", &["--length", length], "cut"),
        ("room.svg", "new.pattress", &[], "--scale"),
        ("room.svg", "new.pattress", &["--scale", "0"], "--scale"),
        ("room.svg", "new.pattress", &["--scale", "-50"], "--scale"),
        ("room.svg", "new.pattress", &["--scale", "big"], "--scale"),
        ("room.svg", "new.pattress", &["--scale", "1e9"], "--scale"),
        ("room.svg", "new.pattress", &["--scale", "NaN"], "--scale"),
        ("room.svg", "new.pattress", &["--scale", "50", "--length", "0,0,1,1,1m"], "--length"),
        ("room.svg", "new.pattress", &["--corners", "1,1,2,1,2,2,1,2,1m,1m"], "--scale or --length"),
        ("room.svg", "new.pattress", &["--scale", "50", "--page", "2"], "page"),
        ("room.pdf", "new.pattress", &["--scale", "50", "--page", "9"], "page"),
        ("room.pdf", "new.pattress", &["--scale", "50", "--page", "0"], "page"),
        ("room.png", "new.pattress", &[], "--length"),
        ("room.png", "new.pattress", &["--length", "100,100,100,100,4200"], "the two points are the same"),
        ("room.png", "new.pattress", &["--length", "100,100,520,100,0"], "above zero"),
        ("room.png", "new.pattress", &["--length", "100,100,520,100,-3m"], "above zero"),
        ("room.png", "new.pattress", &["--length", "100,100,520,100,far"], "far"),
        ("room.png", "new.pattress", &["--length", "100,100,520,4200"], "X1,Y1,X2,Y2,LENGTH"),
        ("room.png", "new.pattress", &["--length", "100,NaN,520,100,4200"], "X1,Y1,X2,Y2,LENGTH"),
        (
            "room.png",
            "new.pattress",
            &["--corners", "100,100,520,460,520,100,100,460,4200,3600"],
            "--corners",
        ),
        ("room.png", "new.pattress", &["--corners", "1,1,2,2,3,3,4,4,4200,3600"], "--corners"),
        ("room.png", "new.pattress", &["--corners", "100,100,520,100,520,460,100,460,4200,0"], "--corners"),
        ("room.png", "new.pattress", &["--corners", "100,100,520,100"], "X1,Y1,X2,Y2,X3,Y3"),
        ("room.png", "new.pattress", &["--length", length, "--turn", "left"], "--turn"),
        ("room.png", "new.pattress", &["--length", length, "--turn", "inf"], "--turn"),
        ("room.ifc", "new.pattress", &["--storey", "Attic"], "Attic"),
        ("room.ifc", "new.pattress", &["--scale", "50"], "--scale"),
        ("room.png", "notes.pattress", &["--length", length], "notes.pattress"),
        ("room.png", "notes.pattress", &["--length", length, "--storey", "Loft"], "notes.pattress"),
        ("room.png", "shelf", &["--length", length, "--storey", "Loft"], "shelf"),
        ("room.png", "new.pattress", &["--loudly"], "--loudly"),
    ];
    for (drawing, plan, options, words) in cases {
        let given = desk.survey(drawing, plan, options);
        assert_eq!(given.code, 2, "{drawing} {options:?}: {}{}", given.out, given.err);
        assert!(given.out.is_empty(), "{drawing} {options:?}: {}", given.out);
        assert_eq!(given.err.lines().count(), 1, "{drawing} {options:?}: {}", given.err);
        assert!(given.err.contains(words), "{drawing} {options:?}: “{words}” is not in {}", given.err);
    }
    assert!(!desk.path("new.pattress").exists(), "nothing is written where it cannot be done");
    assert_eq!(std::fs::read(desk.path("notes.pattress")).unwrap(), b"no plan at all");
    assert_eq!(files_in(&desk.path("shelf")), ["letter.txt"]);
}

#[test]
fn a_plan_that_is_there_is_not_replaced() {
    let desk = Desk::new();
    desk.put("room.svg", &room_as_svg("Scale 1:30"));
    desk.surveyed("room.svg", "house.pattress", &["--trace"]);
    let before = std::fs::read(desk.path("house.pattress")).unwrap();
    let given = desk.survey("room.svg", "house.pattress", &[]);
    assert_eq!(given.code, 2);
    assert!(given.err.contains("--storey"), "{}", given.err);
    assert_eq!(std::fs::read(desk.path("house.pattress")).unwrap(), before);
}

fn files_in(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap().flatten();
    entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect()
}
