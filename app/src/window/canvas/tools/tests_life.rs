//! Courses drawn point by point: lines between rooms, walks, the boundary of the site.

use pattress_model::building::outline::room_spaces;
use pattress_model::edit::Subject;

use super::tests::Hand;
use super::*;

#[test]
fn two_clicks_from_wall_to_wall_part_a_room_and_the_rest_can_be_named() {
    let mut hand = Hand::in_a_room(ToolChoice::RoomLine);
    hand.clicks(2000.0, 20.0);
    assert!(hand.project().room_lines.is_empty(), "one click draws nothing");
    hand.clicks(2000.0, 3990.0);
    let lines: Vec<_> = hand.project().room_lines.iter().map(|(_, line)| (line.start, line.end)).collect();
    assert_eq!(lines, [(Point::new(2000.0, 0.0), Point::new(2000.0, 4000.0))]);
    let spaces = room_spaces(hand.project(), hand.session.level());
    assert_eq!(spaces.len(), 2);
    let whole: f64 = spaces.iter().map(|space| space.area().as_m2()).sum();
    assert!((whole - 4.9 * 3.9).abs() < 0.001, "{whole}");
    hand.take(ToolChoice::NameRoom);
    hand.clicks(1000.0, 2000.0);
    hand.clicks(4000.0, 2000.0);
    assert_eq!(hand.project().rooms.len(), 2, "{:?}", hand.refused);
}

#[test]
fn a_corner_of_a_room_line_is_a_click_in_between() {
    let mut hand = Hand::in_a_room(ToolChoice::RoomLine);
    hand.clicks(2000.0, 0.0);
    hand.clicks(2000.0, 1500.0);
    hand.clicks(0.0, 1500.0);
    assert_eq!(hand.project().room_lines.len(), 2);
    assert_eq!(hand.session.history().depth(), 2, "the room and one step");
    assert_eq!(room_spaces(hand.project(), hand.session.level()).len(), 2);
}

#[test]
fn a_room_line_is_picked_moved_and_removed() {
    let mut hand = Hand::in_a_room(ToolChoice::RoomLine);
    hand.clicks(2000.0, 0.0);
    hand.clicks(2000.0, 4000.0);
    let line = hand.project().room_lines.ids().next().unwrap();
    hand.take(ToolChoice::Pointer);
    hand.clicks(2000.0, 2000.0);
    assert_eq!(hand.session.only_selected(), Some(Subject::RoomLine(line)));
    hand.drags((2000.0, 2000.0), (2500.0, 2000.0));
    let moved = hand.project().room_lines.get(line).unwrap();
    assert_eq!((moved.start.x, moved.end.x), (2500.0, 2500.0));
    hand.change(pattress_model::edit::verbs::remove_things(hand.project(), &[Subject::RoomLine(line)]));
    assert!(hand.project().room_lines.is_empty());
}

#[test]
fn a_spot_is_dragged_where_it_belongs() {
    let mut hand = Hand::in_a_room(ToolChoice::MarkSpot);
    hand.clicks(1000.0, 1000.0);
    let spot = hand.project().spots.ids().next().unwrap();
    hand.take(ToolChoice::Pointer);
    hand.drags((1000.0, 1000.0), (1500.0, 2000.0));
    assert_eq!(hand.project().spots.get(spot).unwrap().at, Point::new(1500.0, 2000.0));
}
