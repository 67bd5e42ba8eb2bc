//! Gestures on a small plan, and what they come to.

use egui::Modifiers;
use kurbo::{Point, Rect, Vec2};
use pattress_model::drawing::Layer;
use pattress_model::drawing::plan::{building_items, device_items, joinery_items, room_items, spot_items};
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::kit::{Device, Mount};
use pattress_model::plan::{
    Hand as WallHand, JoineryForm, MakeUp, Opening, OpeningForm, Side, Underlay, Wall,
};
use pattress_model::project::Project;
use pattress_model::store::Media;
use pattress_model::studies::coverage::Scenes;
use pattress_model::units::{Angle, Length};

use super::*;
use crate::window::canvas::chunks::Chunks;
use crate::window::intent::Selecting;
use crate::window::jobs::{Wanted, compute};
use crate::window::suggesting::Suggested;
use crate::window::survey::Drawings;
use crate::window::survey::catching::Catching;
use crate::window::survey::proposed::Proposed;
use crate::window::tool_choice::OpeningChoice;

/// A hand on the board: it holds a tool, and what the tool hands over is done at once.
pub(super) struct Hand {
    pub(super) session: Session,
    pub(super) drawings: Drawings,
    pub(super) tool: Box<dyn Tool>,
    pub(super) said: Vec<String>,
    pub(super) refused: Vec<String>,
    pointed: Option<Subject>,
    pub(super) keys: Modifiers,
    at: Point,
    pub(super) catching: Catching,
    pub(super) proposed: Proposed,
    suggested: Suggested,
    pub(super) manner: manner::Manner,
}

impl Hand {
    pub(super) fn with(choice: ToolChoice) -> Self {
        Self {
            session: Session::new(Project::new(), Media::default(), None),
            drawings: Drawings::in_place(),
            tool: super::take_up(&choice),
            said: Vec::new(),
            refused: Vec::new(),
            pointed: None,
            keys: Modifiers::NONE,
            at: Point::ORIGIN,
            catching: Catching::in_place(),
            proposed: Proposed::default(),
            suggested: Suggested::default(),
            manner: manner::Manner::default(),
        }
    }

    /// A room of 5 by 4 m along its axes, walls of 100 mm stud.
    pub(super) fn in_a_room(choice: ToolChoice) -> Self {
        let mut hand = Self::with(choice);
        let spec = verbs::WallSpec {
            thickness: Length::mm(100.0),
            height: Length::mm(2400.0),
            make_up: MakeUp::Stud,
        };
        let rect = Rect::new(0.0, 0.0, 5000.0, 4000.0);
        hand.change(verbs::draw_room(hand.project(), hand.session.level(), rect, spec));
        hand
    }

    pub(super) fn project(&self) -> &Project {
        self.session.project()
    }

    pub(super) fn take(&mut self, choice: ToolChoice) {
        self.tool = super::take_up(&choice);
    }

    pub(super) fn change(&mut self, change: Result<pattress_model::edit::Change, String>) {
        self.session.apply(change.unwrap()).unwrap();
    }

    pub(super) fn around<T>(&mut self, answer: impl FnOnce(&mut dyn Tool, &mut Around<'_>) -> T) -> T {
        let (project, level) = (self.session.project(), self.session.level());
        let wanted = Wanted {
            project: project.clone(),
            generation: 0,
            level,
            doors: self.session.doors(),
            discipline: self.session.stage().discipline(),
        };
        let figures = compute(&wanted);
        let mut scenes = Scenes::of_level(project, level, self.session.doors());
        let mut drawn = Chunks::default();
        drawn.set_layer(Layer::Building, building_items(project, level));
        drawn.set_layer(Layer::Spots, spot_items(project, level, 50.0));
        drawn.set_layer(Layer::Joinery, joinery_items(project, level, 50.0));
        drawn.set_layer(Layer::Rooms, room_items(project, level, &figures.outlines, 50.0, &[]));
        let devices = project
            .devices_on(level)
            .flat_map(|(id, device, kind)| device_items(project, id, device, kind, 50.0))
            .collect();
        drawn.set_layer(Layer::Devices, devices);
        let mut around = Around {
            session: &self.session,
            figures: &figures,
            surveyed: Surveyed {
                drawings: &self.drawings,
                catching: &self.catching,
                proposed: &self.proposed,
                suggested: &self.suggested,
            },
            manner: self.manner,
            scenes: &mut scenes,
            moving: &mut None,
            snaps: &mut None,
            drawn: &drawn,
            mm_per_point: 10.0,
            scale: 50.0,
            snapping: !self.keys.alt,
        };
        answer(self.tool.as_mut(), &mut around)
    }

    pub(super) fn does(&mut self, gesture: Gesture, x: f64, y: f64) {
        self.at = Point::new(x, y);
        let touch = Touch { at: self.at, gesture, modifiers: self.keys };
        let intents = self.around(|tool, around| tool.touch(touch, around));
        self.carry_out(intents);
    }

    pub(super) fn carry_out(&mut self, intents: Vec<Intent>) {
        self.pointed = None;
        for intent in intents {
            match intent {
                Intent::Change(Ok(change)) => {
                    let fresh = verbs::new_things(self.project(), &change);
                    self.session.apply(change).unwrap();
                    if !fresh.is_empty() {
                        self.session.selection = fresh.into_iter().collect();
                    }
                }
                Intent::Change(Err(sentence)) => self.refused.push(sentence),
                Intent::Select(Selecting::Only(subjects)) => {
                    self.session.selection = subjects.into_iter().collect();
                }
                Intent::Select(Selecting::Add(subjects)) => self.session.selection.extend(subjects),
                Intent::Select(Selecting::Toggle(subjects)) => {
                    for subject in subjects {
                        if !self.session.selection.remove(&subject) {
                            self.session.selection.insert(subject);
                        }
                    }
                }
                Intent::Select(Selecting::Nothing) => self.session.selection.clear(),
                Intent::PointAt(subject) => self.pointed = Some(subject),
                Intent::DrawWalls(manner) => self.manner = manner,
                Intent::Say(sentence) => self.said.push(sentence),
                other => panic!("no tool asks for {other:?}"),
            }
        }
    }

    pub(super) fn hovers(&mut self, x: f64, y: f64) {
        self.does(Gesture::Hover, x, y);
    }

    pub(super) fn clicks(&mut self, x: f64, y: f64) {
        self.hovers(x, y);
        self.does(Gesture::Click, x, y);
    }

    /// Drags in a few steps; the project must stay as it is until the hand lets go.
    pub(super) fn drags(&mut self, (x, y): (f64, f64), (to_x, to_y): (f64, f64)) {
        self.hovers(x, y);
        let before = self.project().clone();
        let between = |share: f64| (x + (to_x - x) * share, y + (to_y - y) * share);
        let (start_x, start_y) = between(0.1);
        self.does(Gesture::DragStart { from: Point::new(x, y) }, start_x, start_y);
        for share in [0.4, 0.8, 1.0] {
            let (x, y) = between(share);
            self.does(Gesture::Drag, x, y);
        }
        assert_eq!(*self.project(), before, "a drag must not change the plan before it ends");
        self.does(Gesture::Drop, to_x, to_y);
    }

    pub(super) fn types(&mut self, text: &str) {
        assert!(self.tool.takes_typing().is_some(), "nothing can be typed here");
        // As in a frame of the window: the pointer still rests where it was, before the change is let in.
        let resting = Touch { at: self.at, gesture: Gesture::Hover, modifiers: self.keys };
        let intents = self.around(|tool, around| {
            let mut intents = tool.typed(text, around);
            intents.extend(tool.touch(resting, around));
            intents
        });
        self.carry_out(intents);
    }

    pub(super) fn walls(&self) -> Vec<(Id<Wall>, Wall)> {
        self.project().walls.iter().map(|(id, wall)| (id, wall.clone())).collect()
    }

    pub(super) fn devices(&self) -> Vec<(Id<Device>, Device)> {
        self.project().devices.iter().map(|(id, device)| (id, device.clone())).collect()
    }

    pub(super) fn figures_shown(&self) -> Vec<&str> {
        self.tool.ghost().measures.iter().map(|measure| measure.words.as_str()).collect()
    }
}

fn placing(key: &str) -> ToolChoice {
    ToolChoice::Place(Box::new(kind_by_key(key).unwrap()))
}

/// A wall detector in the middle of the lower wall of the room, looking up the room.
fn with_a_detector() -> (Hand, Id<Device>) {
    let mut hand = Hand::in_a_room(placing(WALL_DETECTOR));
    hand.clicks(2500.0, 60.0);
    hand.take(ToolChoice::Pointer);
    hand.session.selection.clear();
    let id = hand.devices()[0].0;
    (hand, id)
}

const WALL_DETECTOR: &str = "wall-motion-12m";
const CEILING_DETECTOR: &str = "presence-ceiling";

#[test]
fn walls_go_click_by_click_with_typed_lengths_and_one_step_of_undo_each() {
    let mut hand = Hand::with(ToolChoice::Wall);
    hand.clicks(0.0, 0.0);
    assert!(hand.walls().is_empty());
    hand.hovers(3000.0, 40.0);
    assert_eq!(hand.figures_shown(), ["3,000"], "level from the first point");
    hand.types("4.2m");
    hand.clicks(4203.0, 3000.0);
    hand.clicks(5.0, 3004.0);
    hand.clicks(3.0, 2.0);
    let walls = hand.walls();
    let ends: Vec<(Point, Point)> = walls.iter().map(|(_, wall)| (wall.start, wall.end)).collect();
    let [a, b, c, d] =
        [(0.0, 0.0), (4200.0, 0.0), (4200.0, 3000.0), (0.0, 3000.0)].map(|(x, y)| Point::new(x, y));
    assert_eq!(ends, [(a, b), (b, c), (c, d), (d, a)]);
    assert_eq!(walls[0].1.thickness, Length::mm(300.0));
    assert_eq!(hand.session.history().depth(), 4);
    assert_eq!(hand.tool.takes_typing(), Some("Thickness of the wall"), "the chain has ended where it began");
    assert!(hand.refused.is_empty(), "{:?}", hand.refused);
}

#[test]
fn a_chain_follows_undo_and_ends_by_the_other_button() {
    let mut hand = Hand::with(ToolChoice::Wall);
    hand.clicks(0.0, 0.0);
    hand.clicks(2000.0, 0.0);
    hand.clicks(2000.0, 1500.0);
    hand.session.step(true);
    hand.hovers(3500.0, 0.0);
    assert_eq!(hand.figures_shown(), ["1,500"], "it goes on from the wall that is left");
    hand.does(Gesture::RightClick, 3500.0, 0.0);
    assert!(!hand.tool.let_go(), "nothing is half done");
    assert_eq!(hand.walls().len(), 1);
}

#[test]
fn the_next_wall_is_like_the_one_drawn_last() {
    let mut hand = Hand::in_a_room(ToolChoice::Wall);
    hand.clicks(2500.0, 0.0);
    hand.clicks(2500.0, 4000.0);
    let (_, wall) = hand.walls().pop().unwrap();
    assert_eq!((wall.thickness, wall.make_up), (Length::mm(100.0), MakeUp::Stud));
}

#[test]
fn four_walls_take_corners_or_the_clear_inside() {
    let mut hand = Hand::with(ToolChoice::FourWalls);
    hand.clicks(0.0, 0.0);
    hand.hovers(4300.0, 3300.0);
    assert_eq!(hand.tool.ghost().notes[0].1, "clear inside 4,000 × 3,000");
    hand.types("3.6m x 2400");
    assert_eq!(hand.walls().len(), 4);
    assert_eq!(hand.walls()[0].1.end, Point::new(3900.0, 0.0));
    assert_eq!(hand.walls()[1].1.end, Point::new(3900.0, 2700.0));
}

#[test]
fn a_detector_is_placed_on_the_face_under_the_pointer_and_looks_into_the_room() {
    let mut hand = Hand::in_a_room(placing(WALL_DETECTOR));
    hand.hovers(1290.0, 200.0);
    assert_eq!(hand.figures_shown(), ["1,240", "3,660"], "from corner to corner, clear of the walls");
    assert!(hand.tool.ghost().items.iter().any(|item| item.layer == Layer::Coverage), "its cone shows");
    assert!(hand.project().devices.is_empty() && hand.project().kinds.is_empty());
    hand.clicks(1290.0, 200.0);
    let (_, device) = hand.devices().pop().unwrap();
    let wall = hand.walls()[0].0;
    assert_eq!(device.mount, Mount::WallFace { wall, side: Side::Left, along: Length::mm(1290.0) });
    assert!((hand.project().facing_of(&device).as_degrees() - 90.0).abs() < 1e-9);
    assert_eq!(hand.session.history().depth(), 2, "kind and device come in one change");
    hand.hovers(3000.0, 200.0);
    hand.types("750");
    let (_, typed) = hand.devices().pop().unwrap();
    let along = Length::mm(5000.0 - 50.0 - 750.0);
    assert_eq!(typed.mount, Mount::WallFace { wall, side: Side::Left, along });
    assert_eq!(typed.tag.number, 2);
}

#[test]
fn without_a_wall_a_detector_is_placed_as_missing_its_host() {
    let mut hand = Hand::in_a_room(placing(WALL_DETECTOR));
    hand.hovers(2500.0, 2000.0);
    assert!(hand.tool.hint().contains("reported as missing"), "{}", hand.tool.hint());
    hand.clicks(2500.0, 2000.0);
    assert_eq!(hand.devices()[0].1.mount, Mount::Loose { at: Point::new(2500.0, 2000.0) });
}

#[test]
fn turning_before_the_click_turns_what_is_placed() {
    let mut hand = Hand::in_a_room(placing(WALL_DETECTOR));
    assert!(hand.tool.turn(15.0) && hand.tool.turn(15.0));
    hand.clicks(2500.0, 60.0);
    assert!((hand.devices()[0].1.turn.as_degrees() - 30.0).abs() < 1e-9);
}

#[test]
fn a_ceiling_device_comes_onto_the_centre_lines_of_its_room() {
    let mut hand = Hand::in_a_room(placing(CEILING_DETECTOR));
    hand.clicks(2460.0, 2050.0);
    assert_eq!(hand.devices()[0].1.mount, Mount::Ceiling { at: Point::new(2500.0, 2000.0) });
    hand.keys = Modifiers::ALT;
    hand.clicks(1461.3, 1052.2);
    assert_eq!(hand.devices()[1].1.mount, Mount::Ceiling { at: Point::new(1461.3, 1052.2) });
}

#[test]
fn hovering_lights_up_and_clicking_again_takes_what_lies_beneath() {
    let (mut hand, id) = with_a_detector();
    hand.hovers(2500.0, 80.0);
    assert_eq!(hand.pointed, Some(Subject::Device(id)));
    hand.clicks(2500.0, 40.0);
    assert_eq!(hand.session.only_selected(), Some(Subject::Device(id)));
    hand.clicks(2500.0, 40.0);
    assert_eq!(hand.session.only_selected(), Some(Subject::Wall(hand.walls()[0].0)));
    hand.clicks(9000.0, 9000.0);
    assert!(hand.session.selection().is_empty());
}

#[test]
fn a_dragged_detector_goes_to_another_wall_and_its_cone_goes_along() {
    let (mut hand, id) = with_a_detector();
    hand.drags((2500.0, 80.0), (4900.0, 1580.0));
    let device = hand.project().devices.get(id).unwrap().clone();
    let right = hand.walls()[1].0;
    assert!(
        matches!(device.mount, Mount::WallFace { wall, side: Side::Left, .. } if wall == right),
        "{:?}",
        device.mount
    );
    assert!((hand.project().facing_of(&device).as_degrees().abs() - 180.0).abs() < 1e-9);
    let ghost = hand.tool.ghost();
    assert!(ghost.hides.contains(&Subject::Device(id)));
    assert!(ghost.items.iter().any(|item| item.layer == Layer::Coverage));
    assert_eq!(ghost.measures.len(), 2);
    assert_eq!(hand.session.history().undo_label(), Some(format!("Move {}", device.tag).as_str()));
    assert_eq!(hand.session.only_selected(), Some(Subject::Device(id)), "dragging selects");
}

#[test]
fn escape_in_mid_drag_leaves_the_plan_alone() {
    let (mut hand, _) = with_a_detector();
    let before = hand.project().clone();
    hand.does(Gesture::DragStart { from: Point::new(2500.0, 80.0) }, 2600.0, 80.0);
    assert!(hand.tool.let_go());
    hand.does(Gesture::Drag, 3000.0, 80.0);
    hand.does(Gesture::Drop, 3500.0, 80.0);
    assert_eq!(*hand.project(), before);
}

#[test]
fn a_rectangle_gathers_what_lies_within_from_either_side() {
    let mut hand = Hand::in_a_room(placing(CEILING_DETECTOR));
    for x in [1000.0, 2000.0, 4000.0] {
        hand.clicks(x, 1000.0);
    }
    hand.take(ToolChoice::Pointer);
    let devices: Vec<Subject> = hand.devices().iter().map(|(id, _)| Subject::Device(*id)).collect();
    for (from, to) in [((500.0, 400.0), (2600.0, 1700.0)), ((2600.0, 1700.0), (500.0, 400.0))] {
        hand.session.selection.clear();
        hand.drags(from, to);
        let selected: Vec<Subject> = hand.session.selection().iter().copied().collect();
        assert_eq!(selected, devices[..2]);
    }
    hand.keys = Modifiers::SHIFT;
    hand.drags((3300.0, 400.0), (4600.0, 1700.0));
    assert_eq!(hand.session.selection().len(), 3);
    hand.keys = Modifiers::NONE;
    hand.drags((1000.0, 1000.0), (1000.0, 2000.0));
    let heights: Vec<f64> =
        hand.devices().iter().filter_map(|(_, device)| Some(hand.project().position_of(device)?.y)).collect();
    assert_eq!(heights, [2000.0; 3], "a drag on one of them moves them all");
}

#[test]
fn an_end_of_a_wall_is_dragged_with_the_walls_that_meet_it() {
    let mut hand = Hand::in_a_room(ToolChoice::Pointer);
    let lower = hand.walls()[0].0;
    hand.session.selection = [Subject::Wall(lower)].into();
    hand.hovers(2000.0, 2000.0);
    assert_eq!(hand.tool.ghost().handles, [Point::new(0.0, 0.0), Point::new(5000.0, 0.0)]);
    hand.drags((5000.0, 0.0), (6000.0, 30.0));
    let walls = hand.walls();
    assert_eq!(walls[0].1.end, Point::new(6000.0, 0.0), "square to the end that stays");
    assert_eq!(walls[1].1.start, Point::new(6000.0, 0.0), "its neighbour follows");
    assert_eq!(walls[1].1.end, Point::new(5000.0, 4000.0));
}

#[test]
fn a_wall_goes_sideways_and_its_neighbours_keep_up() {
    let mut hand = Hand::in_a_room(ToolChoice::Pointer);
    hand.drags((5000.0, 1300.0), (5604.0, 2500.0));
    let walls = hand.walls();
    assert_eq!((walls[1].1.start, walls[1].1.end), (Point::new(5600.0, 0.0), Point::new(5600.0, 4000.0)));
    assert_eq!(walls[0].1.end, Point::new(5600.0, 0.0));
    assert_eq!(walls[2].1.start, Point::new(5600.0, 4000.0));
}

#[test]
fn a_door_is_cut_hung_and_slid_along_its_wall() {
    let mut hand = Hand::in_a_room(ToolChoice::Opening(OpeningChoice::Door));
    hand.hovers(1500.0, 120.0);
    hand.types("800");
    hand.clicks(1500.0, 120.0);
    let (id, door) = hand.project().openings.iter().next().map(|(id, door)| (id, door.clone())).unwrap();
    assert_eq!((door.centre, door.width), (Length::mm(1500.0), Length::mm(800.0)));
    assert!(
        matches!(door.form, OpeningForm::Door { hinge: WallHand::Start, swing: Side::Left, .. }),
        "{:?}",
        door.form
    );
    hand.take(ToolChoice::Pointer);
    hand.drags((1500.0, 0.0), (3003.0, 700.0));
    let slid: &Opening = hand.project().openings.get(id).unwrap();
    assert_eq!(slid.centre, Length::mm(3000.0));
    assert_eq!(hand.figures_shown(), ["2,550", "1,550"], "to the corners on either hand");
    hand.drags((3000.0, 0.0), (9000.0, 0.0));
    assert_eq!(hand.project().openings.get(id).unwrap().centre, Length::mm(4600.0), "it stays in its wall");
}

#[test]
fn a_cone_is_turned_by_its_ring_in_steps_of_fifteen_degrees() {
    let (mut hand, id) = with_a_detector();
    hand.session.selection = [Subject::Device(id)].into();
    hand.hovers(4000.0, 3000.0);
    let (ring, about) = hand.tool.ghost().turner.unwrap();
    assert_eq!(about, Point::new(2500.0, 50.0));
    let to = about + Angle::degrees(90.0 + 28.0).direction() * 800.0;
    hand.drags((ring.x, ring.y), (to.x, to.y));
    assert!((hand.devices()[0].1.turn.as_degrees() - 30.0).abs() < 1e-9);
    hand.keys = Modifiers::ALT;
    let ring = hand.tool.ghost().turner.unwrap().0;
    let to = about + Angle::degrees(90.0 + 11.3).direction() * 800.0;
    hand.drags((ring.x, ring.y), (to.x, to.y));
    assert!((hand.devices()[0].1.turn.as_degrees() - 11.3).abs() < 0.05);
}

#[test]
fn arrow_keys_nudge_what_is_selected() {
    let (mut hand, id) = with_a_detector();
    hand.session.selection = [Subject::Device(id)].into();
    let intents = hand.around(|tool, around| tool.nudge(Vec2::new(-10.0, 0.0), around));
    hand.carry_out(intents);
    let Mount::WallFace { along, .. } = hand.devices()[0].1.mount else { panic!("it left its wall") };
    assert_eq!(along, Length::mm(2490.0));
}

#[test]
fn a_space_between_walls_is_named_once() {
    let mut hand = Hand::in_a_room(ToolChoice::NameRoom);
    hand.hovers(2000.0, 2000.0);
    assert_eq!(hand.tool.ghost().notes[0].1, "19.1 m²", "4.9 by 3.9 m clear");
    hand.clicks(2000.0, 2000.0);
    let (id, room) = hand.project().rooms.iter().next().map(|(id, room)| (id, room.clone())).unwrap();
    assert_eq!(room.name, "Room 1");
    assert_eq!(hand.session.only_selected(), Some(Subject::Room(id)));
    hand.clicks(3000.0, 3000.0);
    assert_eq!(hand.project().rooms.len(), 1);
    hand.clicks(9000.0, 9000.0);
    assert_eq!(hand.refused.len(), 1);
}

#[test]
fn joinery_stands_against_the_wall_it_is_drawn_at() {
    let mut hand = Hand::in_a_room(ToolChoice::Joinery(JoineryForm::Worktop));
    hand.clicks(70.0, 3930.0);
    hand.hovers(1000.0, 3000.0);
    hand.types("2.4m x 0.6m");
    assert!(hand.refused.is_empty(), "{:?}", hand.refused);
    let (_, piece) = hand.project().joinery.iter().next().unwrap();
    assert_eq!((piece.width, piece.depth), (Length::mm(2400.0), Length::mm(600.0)));
    assert_eq!(piece.centre, Point::new(50.0 + 1200.0, 3950.0 - 300.0), "it lies in the corner of the room");
    let back = piece.turn.direction();
    assert!((Vec2::new(-back.y, back.x) - Vec2::new(0.0, 1.0)).hypot() < 1e-9, "its back is to the wall");
}

#[test]
fn the_tape_reads_between_faces_and_stays_until_the_next_click() {
    let mut hand = Hand::in_a_room(ToolChoice::Tape);
    hand.clicks(60.0, 2000.0);
    hand.clicks(4960.0, 2000.0);
    assert_eq!(hand.figures_shown(), ["4,900   Δx 4,900   Δy 0"]);
    hand.hovers(1000.0, 1000.0);
    assert_eq!(hand.figures_shown(), ["4,900   Δx 4,900   Δy 0"]);
    assert_eq!(hand.said.len(), 1);
    hand.clicks(1000.0, 1000.0);
    assert_ne!(hand.figures_shown(), ["4,900   Δx 4,900   Δy 0"]);
    assert_eq!(hand.session.history().depth(), 1, "measuring changes nothing");
}

#[test]
fn a_drawing_is_scaled_by_two_points_and_a_typed_length() {
    let mut hand = Hand::with(ToolChoice::ScaleDrawing);
    hand.hovers(0.0, 0.0);
    assert!(hand.tool.hint().contains("no drawing"));
    let underlay = Underlay {
        level: hand.session.level(),
        name: "survey".to_owned(),
        media: "0".repeat(64),
        page: 1,
        width: 1000.0,
        height: 800.0,
        mm_per_unit: 5.0,
        scale_from: None,
        second_length: None,
        position: Point::new(0.0, 0.0),
        turn: Angle::ZERO,
        opacity: 0.5,
        on_sheets: false,
    };
    hand.change(verbs::add_underlay(hand.project(), underlay));
    hand.clicks(1000.0, -1000.0);
    hand.clicks(3000.0, -1000.0);
    hand.types("4m");
    let (_, scaled) = hand.project().underlays.iter().next().unwrap();
    assert!((scaled.mm_per_unit - 10.0).abs() < 1e-9);
}

#[test]
fn whatever_is_taken_up_rests_without_a_pointer() {
    let openings =
        [OpeningChoice::Door, OpeningChoice::Window, OpeningChoice::Plain].map(ToolChoice::Opening);
    let others = [
        ToolChoice::Pointer,
        ToolChoice::Wall,
        ToolChoice::FourWalls,
        ToolChoice::NameRoom,
        ToolChoice::Joinery(JoineryForm::Island),
        ToolChoice::Tape,
        ToolChoice::ScaleDrawing,
        ToolChoice::ScalePrinted,
        ToolChoice::CheckScale,
        ToolChoice::LevelLine,
        ToolChoice::FourCorners,
        placing(WALL_DETECTOR),
    ];
    for choice in openings.into_iter().chain(others) {
        let mut hand = Hand::in_a_room(choice.clone());
        hand.hovers(2500.0, 60.0);
        assert!(hand.tool.hint().ends_with('.'), "{choice:?}");
        hand.does(Gesture::Away, 0.0, 0.0);
        assert!(hand.tool.ghost().items.is_empty() && hand.tool.ghost().mark.is_none(), "{choice:?}");
        assert!(!hand.tool.let_go(), "{choice:?}");
        assert_eq!(hand.session.history().depth(), 1, "{choice:?}");
    }
}

#[test]
fn a_room_can_be_picked_far_from_its_name() {
    let mut hand = Hand::with(ToolChoice::FourWalls);
    hand.clicks(0.0, 0.0);
    hand.clicks(30_000.0, 20_000.0);
    hand.take(ToolChoice::NameRoom);
    hand.clicks(1_000.0, 1_000.0);
    hand.take(ToolChoice::Pointer);
    hand.session.selection.clear();
    let room = hand.project().rooms.ids().next().unwrap();
    hand.clicks(28_000.0, 18_000.0);
    assert_eq!(hand.session.only_selected(), Some(Subject::Room(room)));
}
