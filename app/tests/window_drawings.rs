//! From an architect's file to a drawing that lies under the level, to scale and straight; by pointer and keys, with
//! no display, on drawings made here.

use std::fmt::Write as _;
use std::path::PathBuf;

use egui::accesskit::Role;
use egui::{Key, Modifiers, PointerButton};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use kurbo::{Affine, Point, Vec2};
use pattress::print::{PdfInfo, pdf};
use pattress::window::Board;
use pattress::window::command::Command;
use pattress::window::intent::{Intent, Surveying};
use pattress_model::drawing::{Anchor, Item, Layer, Paper, Role as Drawn, Shape, Sheet, Weight};
use pattress_model::plan::{ScaleFrom, Underlay};
use pattress_model::project::Project;
use pattress_model::store::Media;
use pattress_model::units::Angle;

fn window() -> Harness<'static, Board> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1280.0, 800.0))
        .with_max_steps(60)
        .build_ui_state(|ui, board: &mut Board| board.show(ui), Board::for_tests(Project::new()));
    harness.run_ok();
    harness
}

fn settle(harness: &mut Harness<'static, Board>) {
    harness.run_ok();
}

fn do_it(harness: &mut Harness<'static, Board>, intent: Intent) {
    let ctx = harness.ctx.clone();
    harness.state_mut().carry_out(&ctx, intent);
    settle(harness);
}

fn run(harness: &mut Harness<'static, Board>, command: Command) {
    do_it(harness, Intent::Run(command));
}

fn press(harness: &mut Harness<'static, Board>, label: &str) {
    harness.get_by_label(label).click();
    settle(harness);
}

fn button(harness: &mut Harness<'static, Board>, pos: egui::Pos2, pressed: bool) {
    let button = PointerButton::Primary;
    harness.event(egui::Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE });
    settle(harness);
}

/// Where a point of the one visible drawing lies on the plan.
fn on_plan(harness: &Harness<'static, Board>, drawing: Point) -> Point {
    beneath(harness).plan_from_drawing() * drawing
}

fn click(harness: &mut Harness<'static, Board>, plan: Point) {
    let pos = harness.state().screen_of(plan);
    harness.hover_at(pos);
    settle(harness);
    button(harness, pos, true);
    button(harness, pos, false);
}

fn drag(harness: &mut Harness<'static, Board>, from: Point, to: Point) {
    let (from, to) = (harness.state().screen_of(from), harness.state().screen_of(to));
    harness.hover_at(from);
    settle(harness);
    button(harness, from, true);
    for step in 1..=4 {
        harness.hover_at(from + (to - from) * (step as f32 / 4.0));
        settle(harness);
    }
    button(harness, to, false);
}

fn type_length(harness: &mut Harness<'static, Board>, text: &str) {
    for letter in text.chars() {
        harness.event(egui::Event::Text(letter.to_string()));
        settle(harness);
    }
    harness.key_press(Key::Enter);
    settle(harness);
}

fn project<'h>(harness: &'h Harness<'static, Board>) -> &'h Project {
    harness.state().session().project()
}

fn beneath(harness: &Harness<'static, Board>) -> Underlay {
    project(harness)
        .underlays
        .iter()
        .map(|(_, under)| under)
        .rfind(|under| under.opacity > 0.0)
        .unwrap()
        .clone()
}

/// How far it is turned, from -180 to 180 degrees.
fn turn(harness: &Harness<'static, Board>) -> f64 {
    let degrees = beneath(harness).turn.as_degrees();
    if degrees > 180.0 { degrees - 360.0 } else { degrees }
}

fn steps(harness: &Harness<'static, Board>) -> usize {
    harness.state().session().history().depth()
}

/// A file that is gone with the test.
struct TestFile {
    _folder: tempfile::TempDir,
    path: PathBuf,
}

fn file(name: &str, bytes: &[u8]) -> TestFile {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    std::fs::write(&path, bytes).unwrap();
    TestFile { _folder: folder, path }
}

fn bring(harness: &mut Harness<'static, Board>, file: &TestFile) {
    do_it(harness, Intent::Survey(Surveying::Take(file.path.clone())));
    settle(harness);
}

/// A page of A4 with a statement of scale and a wall 100 mm long, dimensioned as 5000 between ticks.
fn page(statement: &str) -> Sheet {
    let line = |from: (f64, f64), to: (f64, f64)| {
        Item::line(Layer::Building, Drawn::WindowLine, None, Point::from(from), Point::from(to))
    };
    let words = |text: &str, at: (f64, f64)| Item {
        layer: Layer::Rooms,
        role: Drawn::Body,
        subject: None,
        shape: Shape::Text {
            at: Point::from(at),
            text: text.to_owned(),
            height_mm: 3.5,
            weight: Weight::Regular,
            anchor: Anchor::Centre,
            turn: Angle::ZERO,
        },
    };
    let plan = vec![
        line((50.0, 200.0), (150.0, 200.0)),
        line((50.0, 220.0), (150.0, 220.0)),
        line((50.0, 217.0), (50.0, 223.0)),
        line((150.0, 217.0), (150.0, 223.0)),
        words("5000", (100.0, 223.0)),
        words(statement, (100.0, 40.0)),
    ];
    Sheet {
        number: "1".to_owned(),
        title: "Plan".to_owned(),
        paper: Paper::A4,
        scale: 1,
        paper_from_plan: Affine::IDENTITY,
        area: kurbo::Rect::ZERO,
        plan,
        frame: Vec::new(),
    }
}

fn pages(statements: &[&str]) -> Vec<u8> {
    let sheets: Vec<Sheet> = statements.iter().map(|statement| page(statement)).collect();
    pdf(&sheets, &Media::default(), &PdfInfo::default()).unwrap()
}

/// A white picture with dark walls, turned anticlockwise by so many degrees.
fn picture(degrees: f64) -> Vec<u8> {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let grey = image::GrayImage::from_fn(800, 600, |x, y| {
        let from = Vec2::new(f64::from(x) - 400.0, 300.0 - f64::from(y));
        let at = Vec2::new(from.x * cos + from.y * sin, -from.x * sin + from.y * cos);
        let (across, up) = (at.x.abs(), at.y.abs());
        let outer = across < 300.0 && up < 200.0 && (across > 288.0 || up > 188.0);
        let inner = up < 188.0 && (at.x - 60.0).abs() < 5.0;
        image::Luma([if outer || inner { 30 } else { 250 }])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    grey.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

#[test]
fn a_page_that_states_its_scale_lies_there_in_one_step() {
    let mut harness = window();
    let file = file("ground.pdf", &pages(&["Scale 1:50"]));
    bring(&mut harness, &file);
    harness.get_by_label("Bring in ground.pdf");
    harness.get_by_label_contains("The page says “Scale 1:50”");
    assert_eq!(steps(&harness), 0, "nothing is in the plan before it is laid");
    press(&mut harness, "Lay it beneath");
    let laid = beneath(&harness);
    assert_eq!((laid.mm_per_unit, laid.page, laid.name.as_str()), (50.0, 1, "ground.pdf"));
    assert!((laid.width - 210.0).abs() < 0.01 && (laid.height - 297.0).abs() < 0.01);
    assert_eq!(steps(&harness), 1);
    assert!(harness.state().said().sentence.contains("the site wins"), "{:?}", harness.state().said());
    assert!(harness.query_by_label("Bring in ground.pdf").is_none());
    harness.get_by_label("1:50 on A4.");
}

#[test]
fn another_page_can_be_chosen_and_go_under_a_new_level() {
    let mut harness = window();
    let file = file("house.pdf", &pages(&["Scale 1:50", "Scale 1:100"]));
    bring(&mut harness, &file);
    press(&mut harness, "Page 2");
    settle(&mut harness);
    harness.get_by_label_contains("Page 2 of 2, A4");
    press(&mut harness, "Under a new level on top");
    press(&mut harness, "Lay it beneath");
    let laid = beneath(&harness);
    assert_eq!((laid.mm_per_unit, laid.page), (100.0, 2));
    assert_eq!(project(&harness).levels.len(), 2);
    assert_eq!(harness.state().session().level(), laid.level, "the board turns to it");
    assert_eq!(steps(&harness), 1, "level and drawing are one step");
    run(&mut harness, Command::Undo);
    assert_eq!((project(&harness).levels.len(), project(&harness).underlays.len()), (1, 0));
}

#[test]
fn an_svg_takes_a_typed_scale_and_refuses_nonsense() {
    let mut harness = window();
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" height=\"100mm\" viewBox=\"0 0 200 100\">\
               <path d=\"M20 20 H180 V80 H20 Z\" stroke=\"black\" fill=\"none\"/></svg>";
    let file = file("plan.svg", svg.as_bytes());
    bring(&mut harness, &file);
    harness.get_by_label("The page states no scale that can be read.");
    press(&mut harness, "Drawn at 1 to");
    press(&mut harness, "Lay it beneath");
    harness.get_by_label_contains("is no scale");
    let field = harness.get_by_role_and_label(Role::TextInput, "Scale");
    field.focus();
    field.type_text("75");
    settle(&mut harness);
    press(&mut harness, "Lay it beneath");
    let laid = beneath(&harness);
    assert_eq!((laid.mm_per_unit, laid.width, laid.height), (75.0, 200.0, 100.0));
}

#[test]
fn what_cannot_be_read_is_said_and_nothing_is_lost() {
    let mut harness = window();
    for (name, bytes) in
        [("empty.pdf", &b""[..]), ("cut.png", &picture(0.0)[..400]), ("letter.txt", b"Dear architect")]
    {
        let file = file(name, bytes);
        bring(&mut harness, &file);
        harness.get_by_label(&format!("Bring in {name}"));
        harness.get_by_label("Choose another file…");
        assert_eq!((steps(&harness), project(&harness).underlays.len()), (0, 0), "{name}");
        press(&mut harness, "Cancel");
    }
}

#[test]
fn an_askew_scan_is_turned_straight_and_scaled_by_two_points() {
    let mut harness = window();
    let file = file("scan.png", &picture(2.3));
    bring(&mut harness, &file);
    harness.get_by_label("Turn it straight: it lies 2.3° askew, anticlockwise");
    press(&mut harness, "Lay it beneath");
    assert!((turn(&harness) + 2.3).abs() < 0.1, "{}", turn(&harness));
    // The tool is in hand already; the outer walls are 600 pixels from end to end.
    let (sin, cos) = 2.3_f64.to_radians().sin_cos();
    let pixel = |x: f64, y: f64| Point::new(400.0 + x * cos - y * sin, 300.0 - x * sin - y * cos);
    let ends = [pixel(-300.0, 0.0), pixel(300.0, 0.0)].map(|at| on_plan(&harness, at));
    assert!((ends[0].y - ends[1].y).abs() < 20.0, "it lies level: {ends:?}");
    click(&mut harness, ends[0]);
    click(&mut harness, ends[1]);
    type_length(&mut harness, "9m");
    let scaled = beneath(&harness);
    assert!((scaled.mm_per_unit - 15.0).abs() < 0.05, "{}", scaled.mm_per_unit);
    assert_eq!(steps(&harness), 2);
    assert!(harness.state().said().sentence.contains("Check a second length"));
}

#[test]
fn a_second_length_tells_how_far_it_differs_and_offers_the_mean() {
    let mut harness = window();
    let file = file("ground.pdf", &pages(&["Scale 1:50"]));
    bring(&mut harness, &file);
    press(&mut harness, "Lay it beneath");
    run(&mut harness, Command::CheckScale);
    // The page counts down from its upper edge: the wall lies at 297 - 200.
    for x in [50.0, 150.0] {
        let at = on_plan(&harness, Point::new(x, 97.0));
        click(&mut harness, at);
    }
    type_length(&mut harness, "5.2m");
    harness.get_by_label_contains("The scale does not hold");
    press(&mut harness, "Take the mean");
    let scaled = beneath(&harness);
    assert!((scaled.mm_per_unit - 51.0).abs() < 0.1, "{}", scaled.mm_per_unit);
    assert_eq!(steps(&harness), 2);
    assert_eq!((&scaled.scale_from, scaled.second_length), (&Some(ScaleFrom::MeanOfTwo), None));
}

#[test]
fn the_card_tells_how_a_drawing_was_scaled_and_checked_and_ticks_it_onto_the_sheets() {
    let mut harness = window();
    let file = file("ground.pdf", &pages(&["Scale 1:50"]));
    bring(&mut harness, &file);
    press(&mut harness, "Lay it beneath");
    run(&mut harness, Command::CheckScale);
    for x in [50.0, 150.0] {
        let at = on_plan(&harness, Point::new(x, 97.0));
        click(&mut harness, at);
    }
    type_length(&mut harness, "4.99m");
    press(&mut harness, "Keep the scale");
    let kept = beneath(&harness);
    assert_eq!(kept.scale_from, Some(ScaleFrom::Statement("Scale 1:50".to_owned())));
    let second = kept.second_length.expect("it was checked");
    assert!((second.known.as_mm() - 4990.0).abs() < 1e-9 && second.agrees(), "{second:?}");
    press(&mut harness, "Drawing ground.pdf");
    harness.get_by_label("as the page states: “Scale 1:50”");
    harness.get_by_label_contains("4990 mm measures");
    assert!(kept.on_sheets, "a page of lines is printed unless someone says no");
    press(&mut harness, "Printed beneath");
    assert!(!beneath(&harness).on_sheets);
    press(&mut harness, "Printed beneath");
    assert!(beneath(&harness).on_sheets);
}

#[test]
fn a_printed_dimension_lights_up_and_scales_once_it_is_confirmed() {
    let mut harness = window();
    let file = file("ground.pdf", &pages(&["Ground floor"]));
    bring(&mut harness, &file);
    press(&mut harness, "Lay it beneath");
    assert!((beneath(&harness).mm_per_unit - 100.0).abs() < 1e-9, "no scale is stated");
    run(&mut harness, Command::ScalePrinted);
    let at = on_plan(&harness, Point::new(100.0, 297.0 - 223.0));
    click(&mut harness, at);
    harness.get_by_label_contains("The dimension “5000” is lit");
    assert_eq!(steps(&harness), 1, "lit, and nothing more");
    harness.key_press(Key::Enter);
    settle(&mut harness);
    assert!((beneath(&harness).mm_per_unit - 50.0).abs() < 0.01, "{}", beneath(&harness).mm_per_unit);
    let elsewhere = on_plan(&harness, Point::new(30.0, 150.0));
    click(&mut harness, elsewhere);
    harness.get_by_label_contains("No printed length");
}

#[test]
fn a_picked_line_is_levelled_and_the_drawing_straightens_by_itself() {
    let mut harness = window();
    let file = file("scan.png", &picture(-4.0));
    bring(&mut harness, &file);
    press(&mut harness, "Turn it straight: it lies 4.0° askew, clockwise");
    press(&mut harness, "Lay it beneath");
    assert_eq!(turn(&harness), 0.0, "the tick was taken away");
    run(&mut harness, Command::Straighten);
    settle(&mut harness);
    assert!((turn(&harness) - 4.0).abs() < 0.1, "{}", turn(&harness));
    run(&mut harness, Command::Straighten);
    settle(&mut harness);
    assert!((turn(&harness) - 4.0).abs() < 0.1, "it is not turned again");
    run(&mut harness, Command::LevelLine);
    let from = Point::new(1000.0, 2000.0);
    click(&mut harness, from);
    click(&mut harness, Point::new(6000.0, 2400.0));
    let turned = turn(&harness);
    assert!((turned - (4.0 - (400.0_f64 / 5000.0).atan().to_degrees())).abs() < 0.2, "{turned}");
}

#[test]
fn a_photograph_is_squared_by_its_four_corners_and_kept_out_of_the_way() {
    let mut harness = window();
    let file = file("photo.png", &picture(0.0));
    bring(&mut harness, &file);
    press(&mut harness, "Lay it beneath");
    run(&mut harness, Command::FourCorners);
    // The handles begin a fifth within the edges; the outer walls end at 100..700 by 100..500.
    let handles = [(160.0, 120.0), (640.0, 120.0), (640.0, 480.0), (160.0, 480.0)];
    let corners = [(100.0, 100.0), (700.0, 100.0), (700.0, 500.0), (100.0, 500.0)];
    for (handle, corner) in handles.into_iter().zip(corners) {
        let (from, to) = (on_plan(&harness, handle.into()), on_plan(&harness, corner.into()));
        drag(&mut harness, from, to);
    }
    type_length(&mut harness, "9m");
    type_length(&mut harness, "6m");
    settle(&mut harness);
    assert_eq!(project(&harness).underlays.len(), 2, "{:?}", harness.state().said());
    assert_eq!(steps(&harness), 2, "one step for both");
    let squared = beneath(&harness);
    assert!(squared.name.contains("squared") && squared.media.ends_with(".jpg"));
    assert!((squared.mm_per_unit - 15.0).abs() < 0.3, "{}", squared.mm_per_unit);
    let (_, photograph) = project(&harness).underlays.iter().next().unwrap();
    assert_eq!(photograph.opacity, 0.0, "the photograph is kept, hidden");
    harness.get_by_label("12.7 mm a pixel, 78.74 px a metre, hidden");
}

/// A model of one storey with four walls around 4 by 3 m, written here.
fn model() -> String {
    let mut records = String::from(
        "#1=IFCPROJECT('p',$,'Shed',$,$,$,$,(#5),#2);\n#2=IFCUNITASSIGNMENT((#3,#4));\n\
         #3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n#4=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);\n\
         #5=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,#12,$);\n#10=IFCCARTESIANPOINT((0.,0.,0.));\n\
         #12=IFCAXIS2PLACEMENT3D(#10,$,$);\n#14=IFCDIRECTION((0.,0.,1.));\n#16=IFCLOCALPLACEMENT($,#12);\n\
         #17=IFCSITE('s',$,'Site',$,$,#16,$,$,.ELEMENT.,$,$,$,$,$);\n\
         #19=IFCBUILDING('b',$,'Shed',$,$,#16,$,$,.ELEMENT.,$,$,$);\n\
         #23=IFCBUILDINGSTOREY('g',$,'Shed floor',$,$,#16,$,$,.ELEMENT.,0.);\n\
         #24=IFCRELAGGREGATES('r',$,$,$,#19,(#23));\n#25=IFCRELAGGREGATES('r',$,$,$,#1,(#17));\n\
         #26=IFCRELAGGREGATES('r',$,$,$,#17,(#19));\n",
    );
    let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)];
    let mut walls = Vec::new();
    for index in 0..4 {
        let (from, to): ((f64, f64), (f64, f64)) = (corners[index], corners[(index + 1) % 4]);
        let length = (to.0 - from.0).hypot(to.1 - from.1);
        let (x, y) = ((to.0 - from.0) / length, (to.1 - from.1) / length);
        let n = 100 * (index + 1);
        walls.push(format!("#{n}"));
        let _ = write!(
            records,
            "#{n}=IFCWALLSTANDARDCASE('w{n}',$,'Wall',$,$,#{a},#{b},$);\n#{a}=IFCLOCALPLACEMENT(#16,#{c});\n\
             #{c}=IFCAXIS2PLACEMENT3D(#{d},#14,#{e});\n#{d}=IFCCARTESIANPOINT(({fx:?},{fy:?},0.));\n\
             #{e}=IFCDIRECTION(({x:?},{y:?},0.));\n#{b}=IFCPRODUCTDEFINITIONSHAPE($,$,(#{f},#{g}));\n\
             #{f}=IFCSHAPEREPRESENTATION(#5,'Axis','Curve2D',(#{h}));\n#{h}=IFCPOLYLINE((#{i},#{j}));\n\
             #{i}=IFCCARTESIANPOINT((0.,0.));\n#{j}=IFCCARTESIANPOINT(({length:?},0.));\n\
             #{g}=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#{k}));\n\
             #{k}=IFCEXTRUDEDAREASOLID(#{l},#12,#14,2.5);\n\
             #{l}=IFCRECTANGLEPROFILEDEF(.AREA.,$,#{m},{length:?},0.1);\n#{m}=IFCAXIS2PLACEMENT2D(#{o},$);\n\
             #{o}=IFCCARTESIANPOINT(({half:?},0.));\n",
            a = n + 1,
            b = n + 2,
            c = n + 3,
            d = n + 4,
            e = n + 5,
            f = n + 6,
            g = n + 7,
            h = n + 8,
            i = n + 9,
            j = n + 10,
            k = n + 11,
            l = n + 12,
            m = n + 13,
            o = n + 14,
            fx = from.0,
            fy = from.1,
            half = length / 2.0,
        );
    }
    let _ = writeln!(records, "#50=IFCRELCONTAINEDINSPATIALSTRUCTURE('r',$,$,$,({}),#23);", walls.join(","));
    format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\n\
         FILE_NAME('n','2020-01-01T00:00:00',(''),(''),'a writer','','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\n\
         DATA;\n{records}ENDSEC;\nEND-ISO-10303-21;\n"
    )
}

#[test]
fn a_building_comes_in_storey_by_storey_as_one_step() {
    let mut harness = window();
    let file = file("shed.ifc", model().as_bytes());
    bring(&mut harness, &file);
    harness.get_by_label("Shed floor");
    harness.get_by_label_contains("4 walls, 0 openings");
    press(&mut harness, "Bring in 1 storey");
    let project = project(&harness);
    assert_eq!(project.walls.len(), 4, "{:?}", harness.state().said());
    let names: Vec<&str> = project.levels.iter().map(|(_, level)| level.name.as_str()).collect();
    assert_eq!(names, ["Shed floor"]);
    assert_eq!(steps(&harness), 1);
    run(&mut harness, Command::Undo);
    assert_eq!(self::project(&harness).walls.len(), 0);
}

#[test]
fn the_file_on_the_desk_is_laid_down_with_the_sheet_over_the_board() {
    let mut harness = window();
    let file = file("ground.pdf", &pages(&["Scale 1:50"]));
    bring(&mut harness, &file);
    harness.key_press(Key::Escape);
    settle(&mut harness);
    assert!(harness.query_by_label("Bring in ground.pdf").is_none());
    assert_eq!(steps(&harness), 0);
    run(&mut harness, Command::BringIn);
    harness.get_by_label("Bring in a drawing");
}
