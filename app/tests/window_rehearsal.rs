//! Rules rehearsed in the window: by accessible name and by gestures on the plan, with no display.

mod window_house;

use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use kurbo::Point;
use pattress::window::Board;
use pattress::window::intent::{Intent, Rehearsing};
use pattress_model::edit::{Change, History, Op, verbs};
use pattress_model::id::Id;
use pattress_model::kit::{Device, Mount};
use pattress_model::plan::{DoorState, Opening, OpeningForm, Side, Walk, WalkPoint, WalkPurpose};
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::Has;
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Script, Setting, Target, Trigger,
    Value,
};
use pattress_model::units::{Angle, Length, Seconds};

type Window = Harness<'static, Board>;

fn window(project: Project) -> Window {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1280.0, 800.0))
        .with_max_steps(16)
        .build_ui_state(|ui, board: &mut Board| board.show(ui), Board::for_tests(project));
    harness.run();
    harness
}

fn device(project: &Project, tag: &str) -> Id<Device> {
    let found = project.devices.iter().find(|(_, device)| device.tag.to_string() == tag);
    found.unwrap_or_else(|| panic!("no {tag}")).0
}

/// The kitchen of the tests, where key 2 sets the lamps to 40 %, and movement holds the first lamp at 70 % for a minute.
fn kitchen() -> Project {
    let mut project = window_house::kitchen();
    let zone = project.zones.ids().next().unwrap();
    let (plate, eye, lamp) =
        (device(&project, "PL-01"), device(&project, "PIR-01"), device(&project, "DL-01"));
    let rule = |name: &str, body| Rule {
        name: name.to_owned(),
        room: None,
        enabled: true,
        comment: String::new(),
        body,
    };
    let pressed = Trigger::Event { point: PointRef::new(plate, "key 2"), gesture: Gesture::Press };
    let soft = Action::new(Some(Target::Zone(zone)), Deed::Set(Value::Number(40.0)));
    let tell = Action::new(None, Deed::notify("Dinner is ready."));
    let dinner = RuleBody::When { trigger: pressed, conditions: Vec::new(), actions: vec![soft] };
    let held = Trigger::Event { point: PointRef::new(plate, "key 3"), gesture: Gesture::Hold };
    let call = RuleBody::When { trigger: held, conditions: Vec::new(), actions: vec![tell] };
    let motion = Condition::Point {
        point: PointRef::new(eye, "motion"),
        comparison: Comparison::Is,
        value: Value::On,
    };
    let target = Target::Point(PointRef::new(lamp, "level"));
    let settings = vec![Setting { target, value: Value::Number(70.0), fade: Seconds::ZERO }];
    let by_motion = RuleBody::While {
        conditions: vec![motion],
        linger: Seconds(60.0),
        settings,
        rank: 1,
        yields_to_hand: true,
    };
    let mut history = History::default();
    for (name, body) in [("Dinner", dinner), ("Call", call), ("By motion", by_motion)] {
        let change = verbs::add_rule(&project, rule(name, body)).unwrap();
        history.apply(&mut project, change).unwrap();
    }
    project
}

fn carry_out(harness: &mut Window, intent: Intent) {
    let ctx = harness.ctx.clone();
    harness.state_mut().carry_out(&ctx, intent);
    harness.run();
}

fn rehearse(harness: &mut Window, what: Rehearsing) {
    carry_out(harness, Intent::Rehearse(what));
}

fn click(harness: &mut Window, label: &str) {
    harness.get_by_label(label).click();
    harness.run();
}

/// Begins, with the clock stopped where it begins.
fn begin(harness: &mut Window) {
    click(harness, "Rehearse");
    click(harness, "Pause");
    let start = harness.state().live().unwrap().reel().setup().start;
    rehearse(harness, Rehearsing::JumpTo(start));
}

fn level(harness: &Window, tag: &str) -> f64 {
    let board = harness.state();
    let lamp = PointRef::new(device(board.session().project(), tag), "level");
    match board.live().expect("a rehearsal").shown(&lamp) {
        Has::Number(level) => level,
        other => panic!("{other:?}"),
    }
}

fn tap(harness: &mut Window, at: Point) {
    let at = harness.state().screen_of(at);
    harness.hover_at(at);
    harness.run();
    for pressed in [true, false] {
        harness.event(egui::Event::PointerButton {
            pos: at,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers: egui::Modifiers::NONE,
        });
        harness.run();
    }
}

fn drag(harness: &mut Window, places: &[Point]) {
    let at: Vec<egui::Pos2> = places.iter().map(|place| harness.state().screen_of(*place)).collect();
    let button = |pos, pressed| egui::Event::PointerButton {
        pos,
        button: egui::PointerButton::Primary,
        pressed,
        modifiers: egui::Modifiers::NONE,
    };
    harness.hover_at(at[0]);
    harness.run();
    harness.event(button(at[0], true));
    harness.run();
    for place in &at[1..] {
        harness.hover_at(*place);
        harness.run();
    }
    harness.event(button(at[at.len() - 1], false));
    harness.run();
}

fn plate_at(project: &Project) -> Point {
    project.position_of(project.devices.get(device(project, "PL-01")).unwrap()).unwrap()
}

#[test]
fn a_key_that_is_pressed_on_the_plan_lights_the_lamps_and_says_why() {
    let project = kitchen();
    let mut harness = window(project.clone());
    begin(&mut harness);
    tap(&mut harness, plate_at(&project));
    click(&mut harness, "Press key 2");
    assert_eq!((level(&harness, "DL-01"), level(&harness, "DL-02")), (40.0, 40.0));
    // The timeline tells it, and why.
    let told = |words: &str| format!("20:00:00 {words}");
    harness.get_by_label(&told("PL-01 key 2 is pressed"));
    click(&mut harness, &told("DL-01 goes to 40 %, and one more"));
    harness.get_by_label("Why");
    harness.get_by_role_and_label(egui::Role::Link, "“Dinner”");
    // Back, and on again.
    click(&mut harness, "Back");
    assert_eq!(level(&harness, "DL-02"), 0.0);
    harness.get_by_label(&told("DL-01 goes to 40 %, and one more"));
    click(&mut harness, "Next");
    assert_eq!(level(&harness, "DL-02"), 40.0);
    // It ends, and the plan is as it was.
    click(&mut harness, "End rehearsal");
    assert!(harness.state().live().is_none());
    assert!(*harness.state().session().project() == project, "the plan was changed");
    assert!(harness.state().session().history().undo_label().is_none());
}

#[test]
fn somebody_who_is_led_through_the_room_lights_it_and_it_goes_dark_after_them() {
    let mut harness = window(kitchen());
    begin(&mut harness);
    let sees = |harness: &Window| {
        let board = harness.state();
        let eye = PointRef::new(device(board.session().project(), "PIR-01"), "motion");
        board.live().unwrap().shown(&eye).is_on()
    };
    let before = harness.state().live().unwrap().now();
    // From outside the house into the kitchen.
    drag(&mut harness, &[Point::new(2500.0, -250.0), Point::new(2500.0, -150.0), Point::new(3500.0, 2500.0)]);
    assert!(sees(&harness), "the detector sees nobody");
    assert_eq!(level(&harness, "DL-01"), 70.0);
    let took = (harness.state().live().unwrap().now().ms - before.ms) as f64 / 1000.0;
    // 0.1 m and 2.83 m at 1.3 m/s.
    assert!((took - 2.26).abs() < 0.1, "{took} s");
    rehearse(&mut harness, Rehearsing::Leave);
    assert!(!sees(&harness));
    assert_eq!(level(&harness, "DL-01"), 70.0, "a minute after the last");
    // The next thing is that the time after is over.
    click(&mut harness, "Next");
    assert_eq!(level(&harness, "DL-01"), 0.0);
}

#[test]
fn the_clock_is_typed_and_what_waits_is_listed() {
    let mut harness = window(kitchen());
    begin(&mut harness);
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "Time of the rehearsal");
    field.focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(egui::Role::TextInput, "Time of the rehearsal").type_text("22:30");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    let live = harness.state().live().unwrap();
    assert_eq!(live.clock().shows(live.now()).unwrap().to_string(), "2026-01-15 22:30");
    click(&mut harness, "Waiting 0");
    assert!(harness.query_by_label_contains("No rule waits").is_some());
}

#[test]
fn what_was_done_is_kept_as_a_script_and_played_again() {
    let project = kitchen();
    let mut harness = window(project.clone());
    begin(&mut harness);
    tap(&mut harness, plate_at(&project));
    click(&mut harness, "Press key 2");
    click(&mut harness, "Scripts 0");
    harness.get_by_role_and_label(egui::Role::TextInput, "Name of the script").focus();
    harness.run();
    harness.get_by_role_and_label(egui::Role::TextInput, "Name of the script").type_text("Dinner light");
    harness.run();
    click(&mut harness, "Keep as script");
    let kept = harness.state().session().project().scripts.iter().next().unwrap().1.clone();
    let expected = [
        "start 2026-01-15 20:00",
        "press PL-01 key 2",
        "expect DL-01 level is 40",
        "expect DL-02 level is 40",
    ];
    assert_eq!((kept.name.as_str(), &kept.lines[..]), ("Dinner light", &expected.map(str::to_owned)[..]));
    assert!(harness.state().live().is_some(), "the rehearsal goes on");
    click(&mut harness, "Play script Dinner light");
    harness.get_by_label("passed");
    assert_eq!(harness.query_all_by_label("met").count(), 2);
    assert_eq!(level(&harness, "DL-01"), 0.0, "it is played from its start");
    click(&mut harness, "Next");
    assert_eq!(level(&harness, "DL-01"), 40.0);
}

#[test]
fn a_script_of_no_plan_is_played_and_says_what_fails() {
    let mut harness = window(kitchen());
    let lines = ["start 2026-06-01 12:00", "report PIR-01 motion on", "expect DL-01 level is 55 within 2 s"];
    let script = Script { name: "Shown".to_owned(), lines: lines.map(str::to_owned).to_vec() };
    rehearse(&mut harness, Rehearsing::Play(script));
    harness.get_by_label("1 failed");
    harness.get_by_label("it is 70");
    let broken = Script {
        name: "Broken".to_owned(),
        lines: vec!["start 2026-06-01 12:00".into(), "press PL-09".into()],
    };
    rehearse(&mut harness, Rehearsing::Play(broken));
    let said = &harness.state().said().sentence;
    assert!(said.contains("line 2") && said.contains("PL-09"), "{said}");
}

/// The kitchen with a door that has a contact, a blind before a window, and a walk.
fn kitchen_with_a_door() -> Project {
    let mut project = kitchen();
    let mut history = History::default();
    let level = project.levels.ids().next().unwrap();
    let wall = project.walls.ids().next().unwrap();
    let opening = Opening {
        wall,
        centre: Length::mm(1000.0),
        width: Length::mm(800.0),
        head: Length::mm(2040.0),
        form: OpeningForm::Door {
            hinge: pattress_model::plan::Hand::Start,
            swing: Side::Left,
            state: DoorState::Open(Angle::degrees(90.0)),
        },
    };
    let change = verbs::add_opening(&project, opening).unwrap();
    history.apply(&mut project, change).unwrap();
    let kind = pattress_model::kit::catalogue::kind_by_key("door-contact").unwrap();
    let mount = Mount::WallFace { wall, side: Side::Left, along: Length::mm(1300.0) };
    let placed = verbs::with_kind(&project, &kind, |project, kind| {
        let placing = verbs::Placing { kind, level, turn: Angle::ZERO, height: None };
        verbs::place_device(project, placing, mount)
    });
    history.apply(&mut project, placed.unwrap()).unwrap();
    let points = [Point::new(2500.0, -250.0), Point::new(3500.0, 2500.0), Point::new(2500.0, -250.0)];
    let points = points.map(|at| WalkPoint { level, at }).to_vec();
    let walk = Walk { name: "in and out".to_owned(), points, purpose: WalkPurpose::Daily };
    let change = verbs::draw_walk(&project, walk).unwrap();
    history.apply(&mut project, change).unwrap();
    project
}

#[test]
fn a_door_is_clicked_and_its_contact_tells_and_it_is_drawn_open() {
    let project = kitchen_with_a_door();
    let contact = project.devices.ids().next_back().unwrap();
    let mut harness = window(project.clone());
    begin(&mut harness);
    let open = |harness: &Window| {
        let point = PointRef::new(contact, "open");
        harness.state().live().unwrap().shown(&point).is_on()
    };
    let (opening, wall) = {
        let (_, opening) = project.openings.iter().next().unwrap();
        (opening.clone(), project.walls.get(opening.wall).unwrap().clone())
    };
    let door = wall.on_axis(opening.centre);
    tap(&mut harness, door);
    assert!(open(&harness), "it was not opened");
    tap(&mut harness, door);
    assert!(!open(&harness), "it was not shut");
}

#[test]
fn a_walk_of_the_plan_is_walked_with_the_clock() {
    let mut harness = window(kitchen_with_a_door());
    begin(&mut harness);
    click(&mut harness, "Scripts 0");
    click(&mut harness, "Walk in and out");
    rehearse(&mut harness, Rehearsing::Plays(false));
    let start = harness.state().live().unwrap().now();
    let shown = |harness: &Window| level(harness, "DL-01");
    assert_eq!(shown(&harness), 0.0);
    rehearse(&mut harness, Rehearsing::JumpTo(start.after_ms(2_000)));
    assert_eq!(shown(&harness), 70.0, "in the middle of the kitchen");
    let (_, at) = harness.state().live().unwrap().person().unwrap().at(start.after_ms(2_000)).unwrap();
    assert!(at.y > 1500.0, "{at}");
    rehearse(&mut harness, Rehearsing::JumpTo(start.after_ms(60_000)));
    assert_eq!(shown(&harness), 70.0, "a minute after they left");
    rehearse(&mut harness, Rehearsing::JumpTo(start.after_ms(66_000)));
    assert_eq!(shown(&harness), 0.0);
}

#[test]
fn a_day_and_a_year_are_run_through_in_slices() {
    let mut harness = window(kitchen());
    begin(&mut harness);
    let start = harness.state().live().unwrap().now();
    for days in [1, 365] {
        let to = start.after_ms(days * 86_400_000);
        rehearse(&mut harness, Rehearsing::JumpTo(to));
        for _ in 0..2_000 {
            if harness.state().live().unwrap().running().is_none() {
                break;
            }
            harness.step();
        }
        assert_eq!(harness.state().live().unwrap().now(), to);
    }
    rehearse(&mut harness, Rehearsing::JumpTo(start));
    assert_eq!(harness.state().live().unwrap().now(), start);
}

#[test]
fn the_scripts_of_the_samples_pass_in_the_window() {
    for sample in ["ferry-cottage", "garden-flat"] {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-plans").join(sample);
        let project = pattress::files::read(&path).unwrap().project;
        let scripts: Vec<Script> = project.scripts.iter().map(|(_, script)| script.clone()).collect();
        assert!(!scripts.is_empty(), "{sample} has no scripts");
        let mut board = Board::for_tests(project);
        let ctx = egui::Context::default();
        for script in scripts {
            let name = script.name.clone();
            board.carry_out(&ctx, Intent::Rehearse(Rehearsing::Play(script)));
            let showing = board.live().unwrap().showing().unwrap();
            assert_eq!(showing.passed(), Some(true), "{sample}: {name}: {:?}", showing.steps);
        }
    }
}

#[test]
fn the_clock_stops_where_a_message_is_sent_and_goes_on() {
    let project = kitchen();
    let mut harness = window(project.clone());
    click(&mut harness, "Rehearse");
    tap(&mut harness, plate_at(&project));
    click(&mut harness, "Hold key 3");
    assert!(!harness.state().live().unwrap().plays());
    harness.get_by_label("Stopped: The message is sent: “Dinner is ready.”");
    click(&mut harness, "Go on");
    assert!(harness.state().live().unwrap().plays());
}

#[test]
fn rules_that_go_round_in_a_circle_stop_the_clock() {
    let mut project = kitchen();
    let lamps = [device(&project, "DL-01"), device(&project, "DL-02")];
    let mut history = History::default();
    for (name, of, to) in [("There", 0, 1), ("And back", 1, 0)] {
        let at = |lamp: usize| PointRef::new(lamps[lamp], "level");
        for (from, value) in [(Value::On, Value::Off), (Value::Off, Value::On)] {
            let value = if name == "There" { from } else { value };
            let trigger = Trigger::Becomes { point: at(of), comparison: Comparison::Is, value: from };
            let action = Action::new(Some(Target::Point(at(to))), Deed::Set(value));
            let body = RuleBody::When { trigger, conditions: Vec::new(), actions: vec![action] };
            let rule = Rule {
                name: format!("{name} {value:?}"),
                room: None,
                enabled: true,
                comment: String::new(),
                body,
            };
            let change = verbs::add_rule(&project, rule).unwrap();
            history.apply(&mut project, change).unwrap();
        }
    }
    let mut harness = window(project.clone());
    click(&mut harness, "Rehearse");
    tap(&mut harness, plate_at(&project));
    click(&mut harness, "Press key 2");
    let live = harness.state().live().unwrap();
    assert!(!live.plays());
    assert!(live.paused().unwrap().sentence.starts_with("Rules set each other off in a circle"));
}

#[test]
fn a_change_of_the_plan_ends_it_with_a_sentence() {
    let mut harness = window(kitchen());
    let lamp = device(harness.state().session().project(), "DL-01");
    let mut moved = harness.state().session().project().devices.get(lamp).unwrap().clone();
    moved.note = "Moved".to_owned();
    carry_out(&mut harness, Intent::Change(Ok(Change::new("Note", vec![Op::put(lamp, moved)]))));
    begin(&mut harness);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    harness.run();
    assert!(harness.state().live().is_none());
    assert!(harness.state().said().sentence.starts_with("The plan was changed"));
}

#[test]
fn escape_closes_the_card_and_then_ends_it_and_keys_for_drawing_rest() {
    let project = kitchen();
    let mut harness = window(project.clone());
    harness.key_press_modifiers(egui::Modifiers::COMMAND | egui::Modifiers::SHIFT, Key::R);
    harness.run();
    assert!(harness.state().live().is_some());
    harness.key_press(Key::W);
    harness.run();
    tap(&mut harness, plate_at(&project));
    assert!(harness.query_by_label("Press key 1").is_some());
    harness.key_press(Key::Delete);
    harness.run();
    assert_eq!(harness.state().session().project().devices.len(), project.devices.len());
    harness.key_press(Key::Escape);
    harness.run();
    assert!(harness.query_by_label("Press key 1").is_none());
    assert!(harness.state().live().is_some());
    harness.key_press(Key::Escape);
    harness.run();
    assert!(harness.state().live().is_none());
    assert!(harness.query_by_label("Search the rules").is_some());
}
