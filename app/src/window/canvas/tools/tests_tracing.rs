//! Tracing by hand: what a drawing beneath gives to the tools, and walls by their faces.

use kurbo::{Point, Rect};
use pattress_model::edit::verbs;
use pattress_model::plan::{MakeUp, Underlay};
use pattress_model::units::{Angle, Length};

use super::manner::{Manner, Thickness, WallLine};
use super::tests::Hand;
use super::*;
use crate::window::tool_choice::OpeningChoice;

fn ends(hand: &Hand) -> Vec<(Point, Point)> {
    hand.walls().iter().map(|(_, wall)| (wall.start, wall.end)).collect()
}

/// Four clicks around a room of 4 by 3 m between faces, anticlockwise, closed on the first.
fn around_a_room(line: WallLine) -> Hand {
    let mut hand = Hand::with(ToolChoice::Wall);
    hand.manner = Manner { line, thickness: Thickness::Typed(Length::mm(100.0)) };
    for (x, y) in [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0), (0.0, 0.0)] {
        hand.clicks(x, y);
    }
    assert!(hand.refused.is_empty(), "{:?}", hand.refused);
    hand
}

#[test]
fn walls_by_a_face_are_mitred_and_close() {
    for (line, low, width, depth) in [
        (WallLine::Centre, 0.0, 4000.0, 3000.0),
        // Anticlockwise the room lies on the left: its inner faces are the left ones.
        (WallLine::LeftFace, -50.0, 4100.0, 3100.0),
        (WallLine::RightFace, 50.0, 3900.0, 2900.0),
    ] {
        let hand = around_a_room(line);
        let at = |x: f64, y: f64| Point::new(low + x, low + y);
        let [a, b, c, d] = [at(0.0, 0.0), at(width, 0.0), at(width, depth), at(0.0, depth)];
        assert_eq!(ends(&hand), [(a, b), (b, c), (c, d), (d, a)], "{line:?}");
        assert_eq!(hand.session.history().depth(), 4, "each wall is one step of undo");
    }
}

#[test]
fn undo_of_a_wall_by_its_face_gives_the_one_before_its_end_back() {
    let mut hand = Hand::with(ToolChoice::Wall);
    hand.manner = Manner { line: WallLine::LeftFace, thickness: Thickness::Typed(Length::mm(100.0)) };
    hand.clicks(0.0, 0.0);
    hand.clicks(4000.0, 0.0);
    hand.clicks(4000.0, 3000.0);
    hand.session.step(true);
    assert_eq!(ends(&hand), [(Point::new(0.0, -50.0), Point::new(4000.0, -50.0))]);
    hand.hovers(4000.0, -1000.0);
    assert_eq!(hand.figures_shown(), ["1,000"], "it goes on from the wall that is left");
}

#[test]
fn a_wall_that_ends_at_a_face_runs_on_to_that_walls_axis() {
    let mut hand = Hand::in_a_room(ToolChoice::Wall);
    hand.manner = Manner { line: WallLine::LeftFace, thickness: Thickness::AsLast };
    hand.keys.alt = true;
    hand.clicks(2050.0, 50.0);
    hand.clicks(2050.0, 3950.0);
    let (start, end) = *ends(&hand).last().unwrap();
    assert_eq!((start, end), (Point::new(2100.0, 0.0), Point::new(2100.0, 4000.0)));
}

#[test]
fn a_thickness_is_typed_before_the_first_click_and_a_length_after_it() {
    let mut hand = Hand::with(ToolChoice::Wall);
    hand.hovers(0.0, 0.0);
    hand.types("0.14m");
    assert_eq!(hand.said, ["Walls are 140 mm thick from here on."]);
    hand.clicks(0.0, 0.0);
    hand.hovers(1000.0, 0.0);
    hand.types("2.5m");
    let (_, wall) = hand.walls().pop().unwrap();
    assert_eq!((wall.thickness, wall.length()), (Length::mm(140.0), Length::mm(2500.0)));
    hand.does(Gesture::RightClick, 2500.0, 0.0);
    hand.types("none");
    assert_eq!(hand.refused.len(), 1);
}

#[test]
fn four_walls_go_by_their_inner_or_outer_faces() {
    for (line, low, high) in [
        (WallLine::LeftFace, -50.0, 3050.0),
        (WallLine::RightFace, 50.0, 2950.0),
        (WallLine::Centre, 0.0, 3000.0),
    ] {
        let mut hand = Hand::with(ToolChoice::FourWalls);
        hand.manner = Manner { line, thickness: Thickness::Typed(Length::mm(100.0)) };
        hand.clicks(0.0, 0.0);
        hand.clicks(3000.0, 3000.0);
        let wall = hand.walls()[0].1.clone();
        assert_eq!((wall.start, wall.end), (Point::new(low, low), Point::new(high, low)), "{line:?}");
    }
}

/// Millimetres of the house to a pixel of the picture below.
const MM_PER_PX: f64 = 5.0;

/// A picture of 5 by 4 m with two walls of 100 mm that make a corner at the lower left, the lower one with a gap
/// of 900 mm; plan coordinates start at its lower left corner.
fn on_a_picture(choice: ToolChoice) -> Hand {
    let mut hand = Hand::with(choice);
    let (width, height) = (1000_u32, 800_u32);
    let mut picture = image::GrayImage::from_pixel(width, height, image::Luma([255]));
    for wall in [
        Rect::new(500.0, 500.0, 2000.0, 600.0),
        Rect::new(2900.0, 500.0, 4500.0, 600.0),
        Rect::new(500.0, 500.0, 600.0, 3500.0),
    ] {
        for y in (wall.y0 / MM_PER_PX) as u32..(wall.y1 / MM_PER_PX) as u32 {
            for x in (wall.x0 / MM_PER_PX) as u32..(wall.x1 / MM_PER_PX) as u32 {
                picture.put_pixel(x, height - 1 - y, image::Luma([0]));
            }
        }
    }
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    let media = hand.session.media.keep(bytes.into_inner(), "png");
    let underlay = Underlay {
        level: hand.session.level(),
        name: "drawn.png".to_owned(),
        media,
        page: 1,
        width: f64::from(width),
        height: f64::from(height),
        mm_per_unit: MM_PER_PX,
        scale_from: None,
        second_length: None,
        position: Point::ORIGIN,
        turn: Angle::ZERO,
        opacity: 1.0,
        on_sheets: false,
    };
    hand.change(verbs::add_underlay(hand.project(), underlay));
    hand
}

fn near(a: Point, b: Point) -> bool {
    (a - b).hypot() <= 1.5 * MM_PER_PX
}

#[test]
fn walls_traced_by_their_centre_catch_the_middle_and_the_corner_as_thick_as_drawn() {
    let mut hand = on_a_picture(ToolChoice::Wall);
    hand.manner = Manner { line: WallLine::Centre, thickness: Thickness::AsDrawn };
    hand.hovers(550.0, 3000.0);
    assert!(hand.tool.hint().contains("catches the drawing: middle of a wall"), "{}", hand.tool.hint());
    assert!(hand.tool.hint().contains("mm as drawn"), "{}", hand.tool.hint());
    assert!(hand.tool.ghost().of_drawing);
    hand.clicks(560.0, 3000.0);
    assert!(hand.said[0].ends_with("mm as drawn."), "{:?}", hand.said);
    hand.clicks(560.0, 540.0);
    hand.clicks(4000.0, 560.0);
    assert!(hand.refused.is_empty(), "{:?}", hand.refused);
    let walls = hand.walls();
    assert_eq!(walls.len(), 2);
    for (_, wall) in &walls {
        assert!((wall.thickness.as_mm() - 100.0).abs() <= 2.0 * MM_PER_PX, "{} mm", wall.thickness);
    }
    assert!(near(walls[0].1.start, Point::new(550.0, 3000.0)), "{}", walls[0].1.start);
    assert!(near(walls[0].1.end, Point::new(550.0, 550.0)), "{}", walls[0].1.end);
    assert!(near(walls[1].1.end, Point::new(4000.0, 550.0)), "{}", walls[1].1.end);
    assert_eq!(walls[0].1.start.x, walls[0].1.end.x, "a traced wall comes out straight");
    assert_eq!(walls[0].1.end, walls[1].1.start);
}

#[test]
fn alt_lets_the_drawing_go_and_the_plan_wins_where_both_are_near() {
    let mut hand = on_a_picture(ToolChoice::Tape);
    hand.hovers(603.0, 604.0);
    assert!(hand.tool.hint().contains("catches the drawing"), "{}", hand.tool.hint());
    hand.keys.alt = true;
    hand.hovers(603.0, 604.0);
    assert!(hand.tool.hint().contains("free"), "{}", hand.tool.hint());
    hand.keys.alt = false;
    let spec =
        verbs::WallSpec { thickness: Length::mm(100.0), height: Length::mm(2400.0), make_up: MakeUp::Block };
    let own = [Point::new(650.0, 620.0), Point::new(650.0, 2000.0)];
    hand.change(verbs::draw_walls(hand.project(), hand.session.level(), &own, spec));
    hand.take(ToolChoice::Wall);
    hand.hovers(640.0, 615.0);
    assert!(hand.tool.hint().contains("end of wall"), "{}", hand.tool.hint());
}

#[test]
fn a_hidden_drawing_is_not_caught() {
    let mut hand = on_a_picture(ToolChoice::Tape);
    hand.session.layers.remove(&Layer::Underlay);
    hand.hovers(603.0, 604.0);
    assert!(!hand.tool.hint().contains("catches the drawing"), "{}", hand.tool.hint());
}

#[test]
fn a_door_is_cut_as_wide_as_the_gap_that_is_drawn_until_a_width_is_typed() {
    let mut hand = on_a_picture(ToolChoice::Opening(OpeningChoice::Door));
    let spec =
        verbs::WallSpec { thickness: Length::mm(100.0), height: Length::mm(2400.0), make_up: MakeUp::Block };
    let own = [Point::new(550.0, 550.0), Point::new(4500.0, 550.0)];
    hand.change(verbs::draw_walls(hand.project(), hand.session.level(), &own, spec));
    hand.hovers(2300.0, 600.0);
    assert!(hand.tool.hint().contains("catches the drawing: as wide as drawn"), "{}", hand.tool.hint());
    hand.clicks(2300.0, 600.0);
    let (_, drawn) = hand.project().openings.iter().next().unwrap();
    assert!((drawn.width.as_mm() - 900.0).abs() <= 2.0 * MM_PER_PX, "{} mm", drawn.width);
    assert!((drawn.centre.as_mm() - 1900.0).abs() <= 2.0 * MM_PER_PX, "{} mm", drawn.centre);
    hand.session.step(true);
    hand.types("762");
    hand.clicks(2300.0, 600.0);
    let (_, typed) = hand.project().openings.iter().next().unwrap();
    assert_eq!(typed.width, Length::mm(762.0));
    assert!((typed.centre.as_mm() - 1900.0).abs() <= 2.0 * MM_PER_PX, "{} mm", typed.centre);
}

/// A storey over the room of [`Hand::in_a_room`], with a drawing that lies askew on it.
fn with_a_storey_above() -> Hand {
    let mut hand = Hand::in_a_room(ToolChoice::AlignStorey);
    let upper = pattress_model::plan::Level {
        name: "First floor".to_owned(),
        floor_above_datum: Length::m(2.7),
        ceiling_affl: Length::m(2.4),
    };
    hand.change(verbs::add_level(hand.project(), upper));
    let upper = hand.project().levels.ids().next_back().unwrap();
    hand.session.level = upper;
    let underlay = Underlay {
        level: hand.session.level(),
        name: "first floor.png".to_owned(),
        media: "gone.png".to_owned(),
        page: 1,
        width: 1000.0,
        height: 800.0,
        mm_per_unit: 10.0,
        scale_from: None,
        second_length: None,
        position: Point::new(1000.0, 700.0),
        turn: Angle::ZERO,
        opacity: 1.0,
        on_sheets: false,
    };
    hand.change(verbs::add_underlay(hand.project(), underlay));
    hand
}

#[test]
fn a_drawing_is_brought_over_the_level_below_by_two_points_and_the_misfit_is_said() {
    let mut hand = with_a_storey_above();
    assert!(hand.tool.hint().starts_with("Click a point of this drawing"), "{}", hand.tool.hint());
    // Outer corners of the room below lie at −50, −50 and 5050, 4050; the drawing shows them 1,000 and 700 off.
    hand.clicks(950.0, 650.0);
    assert!(hand.tool.hint().starts_with("Click the same point on the level below"), "{}", hand.tool.hint());
    hand.clicks(-60.0, -40.0);
    hand.clicks(6050.0, 4770.0);
    hand.clicks(5060.0, 4060.0);
    assert!(hand.refused.is_empty(), "{:?}", hand.refused);
    let (_, underlay) = hand.project().underlays.iter().next().unwrap();
    assert!((underlay.position - Point::ORIGIN).hypot() < 30.0, "{}", underlay.position);
    assert_eq!(underlay.mm_per_unit, 10.0, "its scale is kept");
    assert!(hand.said[0].contains("miss by") && hand.said[0].contains("%"), "{:?}", hand.said);
    hand.session.step(true);
    hand.clicks(950.0, 650.0);
    hand.clicks(-60.0, -40.0);
    hand.clicks(6050.0, 4770.0);
    hand.keys.shift = true;
    hand.clicks(5060.0, 4060.0);
    let (_, underlay) = hand.project().underlays.iter().next().unwrap();
    assert!((underlay.mm_per_unit - 10.0).abs() > 1e-3, "with Shift it is scaled");
}

#[test]
fn the_other_button_takes_a_point_back_and_what_is_lacking_is_said() {
    let mut hand = with_a_storey_above();
    hand.clicks(950.0, 650.0);
    hand.does(Gesture::RightClick, 0.0, 0.0);
    assert!(hand.tool.hint().starts_with("Click a point of this drawing"), "{}", hand.tool.hint());
    let lowest = hand.project().levels.ids().next().unwrap();
    hand.session.level = lowest;
    hand.hovers(0.0, 0.0);
    assert!(hand.tool.hint().contains("no drawing on this level"), "{}", hand.tool.hint());
}
