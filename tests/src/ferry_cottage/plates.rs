//! What every key of every plate does: one rule a key, listed under its room.
//!
//! The first keys of a plate work its own room, the last ones do something larger, so that a guest finds the
//! light at the first press. Blinds are open at 100 % and shut at 0 %.

use pattress_model::systems::{Action, Value};

use crate::builder::House;
use crate::rule_words::{over, when};

/// A key: room, plate, key, what the family calls it, and what it does.
type Key = (&'static str, &'static str, &'static str, &'static str, Vec<Action>);

pub(super) fn write(house: &mut House) {
    let mut keys = downstairs(house);
    keys.extend(wing(house));
    keys.extend(main_bedroom(house));
    for room in ["Bedroom 2", "Bedroom 3", "Bedroom 4"] {
        bedroom(house, room);
    }
    for (room, plate, key, name, actions) in keys {
        let body = when(house.pressed(plate, key), Vec::new(), actions);
        let room = house.room_named(room);
        house.rule(name, Some(room), body);
    }
}

fn downstairs(house: &House) -> Vec<Key> {
    let toggle = |zone: &str| vec![house.toggle_zone(zone)];
    let living = ["Living room ceiling", "Living room soft light"];
    let off = |zones: &[&str]| zones.iter().map(|zone| over(2.0, house.set_zone(zone, 0.0))).collect();
    let hall = "Hall";
    let room = "Living room";
    let plate = "Living room plate";
    vec![
        (hall, "Front door plate", "key 1", "Hall light, front door", toggle("Hall")),
        (hall, "Front door plate", "key 2", "Lanterns", toggle("Front lanterns")),
        (hall, "Front door plate", "key 3", "Welcome", welcome(house)),
        (hall, "Front door plate", "key 4", "Leaving", leaving(house)),
        (hall, "Hall plate", "key 1", "Hall light", toggle("Hall")),
        (hall, "Hall plate", "key 2", "Stair light", toggle("Stair")),
        (hall, "Hall plate", "key 3", "Music downstairs", toggle("Downstairs sound")),
        (room, plate, "key 1", "Living room light", toggle("Living room ceiling")),
        (room, plate, "key 2", "Living room soft light", toggle("Living room soft light")),
        (room, plate, "key 3", "Film", film(house)),
        (
            room,
            plate,
            "key 4",
            "Open the living room curtains",
            vec![house.set_zone("Living room curtains", 100.0)],
        ),
        (
            room,
            plate,
            "key 5",
            "Draw the living room curtains",
            vec![house.set_zone("Living room curtains", 0.0)],
        ),
        (room, plate, "key 6", "Living room off", off(&living)),
        (room, "Garden door plate", "key 1", "Terrace, living room door", toggle("Terrace")),
        (room, "Garden door plate", "key 2", "Garden, living room door", toggle("Garden")),
        ("Study", "Study plate", "key 1", "Study light", toggle("Study")),
        ("Study", "Study plate", "key 2", "Study dimmer", vec![house.step_zone("Study", -20)]),
        ("Study", "Study plate", "key 3", "Study blind up", set_blind(house, "Study blind", 100.0)),
        ("Study", "Study plate", "key 4", "Study blind down", set_blind(house, "Study blind", 0.0)),
        ("Dining room", "Dining room plate", "key 1", "Dining room light", toggle("Dining room ceiling")),
        ("Dining room", "Dining room plate", "key 2", "Table light", toggle("Dining table")),
        ("Dining room", "Dining room plate", "key 3", "Dinner", dinner(house)),
        (
            "Dining room",
            "Dining room plate",
            "key 4",
            "Dining room off",
            off(&["Dining room ceiling", "Dining table"]),
        ),
    ]
}

fn wing(house: &House) -> Vec<Key> {
    let toggle = |zone: &str| vec![house.toggle_zone(zone)];
    let kitchen = ["Kitchen ceiling", "Kitchen island", "Kitchen worktop"];
    let all = |percent: f64| kitchen.iter().map(|zone| over(1.0, house.set_zone(zone, percent))).collect();
    let (room, plate) = ("Kitchen", "Kitchen plate");
    vec![
        (room, plate, "key 1", "Kitchen light", toggle("Kitchen ceiling")),
        (room, plate, "key 2", "Island light", toggle("Kitchen island")),
        (room, plate, "key 3", "Worktop light", toggle("Kitchen worktop")),
        (room, plate, "key 4", "Cooking", all(100.0)),
        (room, plate, "key 5", "Garden side blinds up", vec![house.set_zone("Garden side blinds", 100.0)]),
        (room, plate, "key 6", "Kitchen off", all(0.0)),
        (room, "Terrace door plate", "key 1", "Terrace, kitchen door", toggle("Terrace")),
        (room, "Terrace door plate", "key 2", "Music in the garden", toggle("Garden sound")),
        ("Utility", "Utility plate", "key 1", "Utility light", toggle("Utility light")),
        ("Utility", "Utility plate", "key 2", "Side door lamp", toggle("Side door lamp")),
    ]
}

fn main_bedroom(house: &House) -> Vec<Key> {
    let toggle = |zone: &str| vec![house.toggle_zone(zone)];
    let curtains = |percent: f64| set_blind(house, "Bedroom 1 curtains", percent);
    let room = "Bedroom 1";
    let (left, right) = ("Bedroom 1 left bedside", "Bedroom 1 right bedside");
    vec![
        ("Landing", "Landing plate", "key 1", "Landing light", toggle("Landing")),
        ("Landing", "Landing plate", "key 2", "Stair light, landing", toggle("Stair")),
        ("Landing", "Landing plate", "key 3", "Goodnight, landing", goodnight(house)),
        (room, "Bedroom 1 plate", "key 1", "Bedroom 1 light", toggle("Bedroom 1 ceiling")),
        (room, "Bedroom 1 plate", "key 2", "Bedroom 1 soft light", toggle("Bedroom 1 soft light")),
        (room, "Bedroom 1 plate", "key 3", "Open the curtains", curtains(100.0)),
        (room, "Bedroom 1 plate", "key 4", "Draw the curtains", curtains(0.0)),
        (room, left, "key 1", "Soft light, left", toggle("Bedroom 1 soft light")),
        (room, left, "key 2", "Night path, left", toggle("Night path")),
        (room, left, "key 3", "Music, left", toggle("Bedroom 1 sound")),
        (room, left, "key 4", "Goodnight, left", goodnight(house)),
        (room, right, "key 1", "Soft light, right", toggle("Bedroom 1 soft light")),
        (room, right, "key 2", "Night path, right", toggle("Night path")),
        (room, right, "key 3", "Music, right", toggle("Bedroom 1 sound")),
        (room, right, "key 4", "Goodnight, right", goodnight(house)),
        ("Bathroom", "Bathroom plate", "key 1", "Bathroom light", toggle("Bathroom ceiling")),
        ("Bathroom", "Bathroom plate", "key 2", "Bathroom mirror light", toggle("Bathroom mirror")),
    ]
}

/// Bedrooms 2 to 4 are alike: light, soft light and blind at the door, soft light and all off at the bed.
fn bedroom(house: &mut House, room: &str) {
    let (ceiling, soft) = (format!("{room} ceiling"), format!("{room} soft light"));
    let (plate, blind) = (format!("{room} plate"), format!("{room} blind"));
    let off = vec![over(2.0, house.set_zone(&ceiling, 0.0)), over(2.0, house.set_zone(&soft, 0.0))];
    let mut keys = vec![
        (plate.clone(), "key 1", "light".to_owned(), vec![house.toggle_zone(&ceiling)]),
        (plate.clone(), "key 2", "soft light".to_owned(), vec![house.toggle_zone(&soft)]),
        (plate.clone(), "key 3", "blind up".to_owned(), set_blind(house, &blind, 100.0)),
        (plate, "key 4", "blind down".to_owned(), set_blind(house, &blind, 0.0)),
    ];
    for side in ["left", "right"] {
        let plate = format!("{room} {side} bedside");
        keys.push((plate.clone(), "key 1", format!("soft light, {side}"), vec![house.toggle_zone(&soft)]));
        keys.push((plate, "key 2", format!("all off, {side}"), off.clone()));
    }
    let listed_under = house.room_named(room);
    for (plate, key, name, actions) in keys {
        let body = when(house.pressed(&plate, key), Vec::new(), actions);
        house.rule(&format!("{room} {name}"), Some(listed_under), body);
    }
}

fn set_blind(house: &House, blind: &str, percent: f64) -> Vec<Action> {
    vec![house.set(blind, "position", Value::Number(percent))]
}

fn film(house: &House) -> Vec<Action> {
    vec![
        house.set_zone("Living room curtains", 0.0),
        over(5.0, house.set_zone("Living room ceiling", 0.0)),
        over(5.0, house.set_zone("Living room soft light", 15.0)),
        house.set("Television", "on", Value::On),
    ]
}

fn dinner(house: &House) -> Vec<Action> {
    vec![
        over(3.0, house.set_zone("Dining table", 60.0)),
        over(3.0, house.set_zone("Dining room ceiling", 15.0)),
        over(3.0, house.set_zone("Kitchen ceiling", 20.0)),
        over(3.0, house.set_zone("Kitchen island", 30.0)),
    ]
}

fn welcome(house: &House) -> Vec<Action> {
    vec![
        house.set_zone("Hall", 80.0),
        house.set_zone("Stair", 60.0),
        over(2.0, house.set_zone("Kitchen ceiling", 50.0)),
        over(2.0, house.set_zone("Living room soft light", 50.0)),
    ]
}

/// Lights only: what the house does once it is empty follows from the alarm being set at the keypad.
fn leaving(house: &House) -> Vec<Action> {
    let mut actions: Vec<Action> =
        super::rules::LIVED_IN.iter().map(|zone| over(5.0, house.set_zone(zone, 0.0))).collect();
    actions.push(house.switch_zone("Downstairs sound", Value::Off));
    actions.push(house.set("Television", "on", Value::Off));
    actions
}

fn goodnight(house: &House) -> Vec<Action> {
    let mut actions: Vec<Action> =
        super::rules::LIVED_IN.iter().map(|zone| over(10.0, house.set_zone(zone, 0.0))).collect();
    actions.extend([
        over(30.0, house.set_zone("Landing", 0.0)),
        over(30.0, house.set_zone("Bedroom 1 ceiling", 0.0)),
        over(30.0, house.set_zone("Bedroom 1 soft light", 0.0)),
        house.set_zone("Upstairs blinds and curtains", 0.0),
        house.set_zone("Downstairs heating", 16.0),
        house.switch_zone("Downstairs sound", Value::Off),
    ]);
    actions
}
