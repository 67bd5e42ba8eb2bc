//! Zones and rules of the garden flat: light that comes before the foot does and never goes out on someone.
//!
//! Where the occupant may sit, wash or lie still, light lingers for 10 to 20 minutes after the last movement and
//! fades slowly; a call button lights the whole flat. None of this replaces a monitored call system, and no rule
//! works on a fire or carbon monoxide alarm.

use pattress_model::systems::Value::{Number, Off, On};
use pattress_model::systems::{Action, Condition, RuleBody, ZonePurpose};

use crate::builder::House;
use crate::rule_words::{after, at, between, hold_while, over, sunrise, sunset, tell, when};

/// Every lighting zone within the flat that a call lights up.
const INDOORS: [&str; 7] = [
    "Hall",
    "Kitchen ceiling",
    "Living room ceiling",
    "Bedroom ceiling",
    "Wet room",
    "Night path",
    "Living room soft light",
];

pub(super) fn gather_zones(house: &mut House) {
    let at_windows = house.devices_of(&["blind-motor", "curtain-motor"], None);
    house.zone("Blinds and curtains", ZonePurpose::Blinds, &at_windows, "position");
    let thermostats = house.devices_of(&["room-thermostat"], None);
    house.zone("Heating", ZonePurpose::Heating, &thermostats, "set point");
    let speakers = house.devices_of(&["loudspeaker-ceiling"], None);
    house.zone("Living room sound", ZonePurpose::Sound, &speakers, "playing");
    let mut opens = vec![house.device("Front door"), house.device("Garden door")];
    opens.extend(house.devices_of(&["window-contact", "window-contact-battery"], None));
    house.zone("Part set", ZonePurpose::PartSet, &opens, "open");
    let mut points: Vec<_> = opens.iter().map(|device| house.point(*device, "open")).collect();
    for (detector, point) in
        [("Hall motion", "motion"), ("Living room presence", "motion"), ("Bedroom motion", "motion")]
    {
        points.push(house.point(house.device(detector), point));
    }
    house.zone_of_points("Full set", ZonePurpose::FullSet, points);
}

pub(super) fn write_rules(house: &mut House) {
    keys(house);
    night(house);
    day(house);
    calls(house);
    doors(house);
    safety_of_the_house(house);
    times(house);
}

fn add(house: &mut House, room: Option<&str>, name: &str, body: RuleBody) {
    let room = room.map(|room| house.room_named(room));
    house.rule(name, room, body);
}

fn keys(house: &mut House) {
    let toggle = |zone: &str| vec![house.toggle_zone(zone)];
    let curtain = |name: &str, percent: f64| vec![house.set(name, "position", Number(percent))];
    let off = all(house, 0.0, 20.0);
    let written: Vec<(&str, &str, &str, &str, Vec<Action>)> = vec![
        ("Hall", "Front door plate", "key 1", "Hall light", toggle("Hall")),
        ("Hall", "Front door plate", "key 2", "Lanterns", toggle("Front lanterns")),
        ("Hall", "Front door plate", "key 3", "Going out", after_a_minute(&off)),
        ("Kitchen", "Kitchen plate", "key 1", "Kitchen light", toggle("Kitchen ceiling")),
        ("Kitchen", "Kitchen plate", "key 2", "Worktop light", toggle("Kitchen worktop")),
        ("Kitchen", "Kitchen plate", "key 3", "Kitchen blind up", curtain("Kitchen blind", 100.0)),
        ("Living room", "Living room plate", "key 1", "Living room light", toggle("Living room ceiling")),
        ("Living room", "Living room plate", "key 2", "Soft light", toggle("Living room soft light")),
        (
            "Living room",
            "Living room plate",
            "key 3",
            "Open the curtain",
            curtain("Living room curtain", 100.0),
        ),
        (
            "Living room",
            "Living room plate",
            "key 4",
            "Draw the curtain",
            curtain("Living room curtain", 0.0),
        ),
        ("Living room", "Garden door plate", "key 1", "Terrace light", toggle("Terrace")),
        ("Living room", "Garden door plate", "key 2", "Music", toggle("Living room sound")),
        ("Bedroom", "Bedroom plate", "key 1", "Bedroom light", toggle("Bedroom ceiling")),
        ("Bedroom", "Bedroom plate", "key 2", "Bedroom soft light", toggle("Bedroom soft light")),
        ("Bedroom", "Bedroom plate", "key 3", "Open the bedroom curtain", curtain("Bedroom curtain", 100.0)),
        ("Bedroom", "Bedroom plate", "key 4", "Draw the bedroom curtain", curtain("Bedroom curtain", 0.0)),
        ("Bedroom", "Left bedside", "key 1", "Soft light, left", toggle("Bedroom soft light")),
        ("Bedroom", "Left bedside", "key 2", "Night path, left", toggle("Night path")),
        ("Bedroom", "Left bedside", "key 3", "Goodnight, left", goodnight(house)),
        ("Bedroom", "Right bedside", "key 1", "Soft light, right", toggle("Bedroom soft light")),
        ("Bedroom", "Right bedside", "key 2", "Night path, right", toggle("Night path")),
        ("Bedroom", "Right bedside", "key 3", "Goodnight, right", goodnight(house)),
    ];
    for (room, plate, key, name, actions) in written {
        let body = when(house.pressed(plate, key), Vec::new(), actions);
        add(house, Some(room), name, body);
    }
}

/// Every light of the flat at so many percent, over so many seconds.
fn all(house: &House, percent: f64, fade: f64) -> Vec<Action> {
    INDOORS.iter().map(|zone| over(fade, house.set_zone(zone, percent))).collect()
}

/// The same a minute later: time to reach the door with the light on.
fn after_a_minute(actions: &[Action]) -> Vec<Action> {
    actions.iter().map(|action| after(60.0, action.clone())).collect()
}

/// The night path comes on first and stays until the rest is out.
fn goodnight(house: &House) -> Vec<Action> {
    let mut actions = vec![house.set_zone("Night path", 25.0)];
    for zone in
        ["Hall", "Kitchen ceiling", "Kitchen worktop", "Living room ceiling", "Living room soft light"]
    {
        actions.push(over(10.0, house.set_zone(zone, 0.0)));
    }
    actions.push(over(60.0, house.set_zone("Bedroom ceiling", 0.0)));
    actions.push(over(60.0, house.set_zone("Bedroom soft light", 0.0)));
    actions.push(house.set_zone("Blinds and curtains", 0.0));
    actions.push(after(600.0, over(60.0, house.set_zone("Night path", 0.0))));
    actions
}

fn by_night() -> Condition {
    between("22:00", "07:00")
}

fn night(house: &mut House) {
    for (room, detector, name) in [
        ("Bedroom", "Bedroom motion", "Out of bed at night"),
        ("Hall", "Hall motion", "Hall at night"),
        ("Wet room", "Wet room presence", "Night path while in the wet room"),
    ] {
        let moving = vec![house.is(detector, "motion", On), by_night()];
        let lit = vec![house.zone_at("Night path", 25.0, 2.0)];
        add(house, Some(room), name, hold_while(moving, 900.0, lit, 2));
    }
    let washing = vec![house.is("Wet room presence", "motion", On), by_night()];
    let lit = vec![house.zone_at("Wet room", 20.0, 2.0), house.zone_at("Wet room mirror", 20.0, 2.0)];
    add(house, Some("Wet room"), "Wet room at night", hold_while(washing, 1200.0, lit, 2));
}

fn day(house: &mut House) {
    let washing = vec![house.is("Wet room presence", "motion", On), between("07:00", "22:00")];
    let lit = vec![house.zone_at("Wet room", 90.0, 1.0), house.zone_at("Wet room mirror", 80.0, 1.0)];
    add(house, Some("Wet room"), "Wet room by day", hold_while(washing, 1200.0, lit, 1));
    for (room, sensor, zone, percent, linger) in [
        ("Hall", "Hall motion", "Hall", 70.0, 600.0),
        ("Kitchen", "Kitchen presence", "Kitchen ceiling", 80.0, 900.0),
        ("Living room", "Living room presence", "Living room soft light", 60.0, 1200.0),
    ] {
        let present = vec![house.is(sensor, "motion", On), Condition::Dark, between("07:00", "22:00")];
        let lit = vec![house.zone_at(zone, percent, 1.0)];
        add(house, Some(room), &format!("{room} by presence"), hold_while(present, linger, lit, 1));
    }
    let damp = vec![house.is_above("Wet room air", "humidity", 65.0)];
    let fan = vec![house.point_at("Wet room fan", "level", Number(100.0))];
    add(house, Some("Wet room"), "Wet room fan", hold_while(damp, 600.0, fan, 1));
    let warm = vec![house.point_at("Towel rail", "on", On)];
    add(house, Some("Wet room"), "Towel rail", hold_while(vec![between("06:30", "09:00")], 0.0, warm, 1));
}

fn calls(house: &mut House) {
    for (room, button, place) in [
        ("Living room", "Chair call button", "the living room"),
        ("Bedroom", "Bed call button", "the bedroom"),
        ("Wet room", "WC call button", "the wet room"),
    ] {
        let mut actions = all(house, 100.0, 0.0);
        actions.push(house.set_zone("Front lanterns", 100.0));
        actions.push(tell(&format!("Help is asked for in {place}.")));
        let pressed = house.happens(button, "pressed");
        add(house, Some(room), button, when(pressed, Vec::new(), actions));
    }
    let still = vec![
        house.is("Bedroom motion", "motion", Off),
        house.is("Hall motion", "motion", Off),
        house.is("Living room presence", "motion", Off),
        house.is("Kitchen presence", "motion", Off),
        house.is("Wet room presence", "motion", Off),
        house.is("Alarm panel", "armed", Off),
    ];
    let ask = vec![tell("Nobody moves in the flat at 10:00: please call.")];
    add(house, None, "Nobody up by ten", when(at("10:00"), still, ask));
}

fn doors(house: &mut House) {
    let ring = house.happens("Front door station", "ring");
    let actions = vec![
        house.set("Chime", "ring", On),
        house.set("Hall monitor", "picture", On),
        house.set("Kitchen tablet", "on", On),
        house.set_zone("Hall", 100.0),
        tell("Someone is at the front door."),
    ];
    add(house, Some("Hall"), "Door bell", when(ring, Vec::new(), actions));
    let opened = house.becomes("Front door", "open", On);
    let told = vec![house.set_zone("Hall", 60.0), tell("The front door was opened at night.")];
    add(house, Some("Hall"), "Front door at night", when(opened, vec![between("23:00", "06:00")], told));
    let unbolted = vec![house.is("Front door bolt", "locked", Off)];
    let body = when(at("21:30"), unbolted, vec![tell("The front door is not bolted.")]);
    add(house, Some("Hall"), "Front door not bolted", body);
    let open = vec![house.is("Store door", "open", On)];
    let lit = vec![house.zone_at("Store light", 100.0, 0.0)];
    add(house, Some("Store"), "Store light", hold_while(open, 30.0, lit, 1));
    let out = vec![house.is("Garden motion", "alarm", On), Condition::Dark];
    let lit = vec![house.zone_at("Terrace", 80.0, 1.0)];
    add(house, None, "Terrace by motion", hold_while(out, 600.0, lit, 1));
}

fn safety_of_the_house(house: &mut House) {
    for (room, sensor) in [("Kitchen", "Sink leak"), ("Wet room", "Wet room leak")] {
        let wet = house.becomes(sensor, "leak", On);
        let text = format!("Water on the floor: {}. The stop valve is shut.", room.to_lowercase());
        let actions = vec![house.set("Stop valve", "open", Off), tell(&text)];
        add(house, Some(room), &format!("{sensor} shuts the water"), when(wet, Vec::new(), actions));
    }
    let cold = vec![house.is_below("Living room thermostat", "temperature", 18.0)];
    let demand = vec![house.point_at("Boiler", "demand", On)];
    add(house, None, "Call for heat", hold_while(cold, 120.0, demand, 1));
    let very_cold = vec![house.is_below("Living room thermostat", "temperature", 16.0)];
    let body = when(at("09:00"), very_cold, vec![tell("The living room is below 16 °C this morning.")]);
    add(house, None, "Cold morning", body);
}

fn times(house: &mut House) {
    let wake = vec![
        over(1200.0, house.set_zone("Bedroom soft light", 60.0)),
        after(1200.0, house.set("Bedroom curtain", "position", Number(50.0))),
    ];
    add(house, Some("Bedroom"), "Wake", when(at("07:15"), vec![house.is("Alarm panel", "armed", Off)], wake));
    let dusk =
        vec![over(60.0, house.set_zone("Front lanterns", 40.0)), house.set_zone("Blinds and curtains", 0.0)];
    add(house, None, "Dusk", when(sunset(15), Vec::new(), dusk));
    let dawn = vec![house.set_zone("Front lanterns", 0.0), house.set_zone("Terrace", 0.0)];
    add(house, None, "Sunrise", when(sunrise(0), Vec::new(), dawn));
}
