//! What the house does by itself: light by motion, night, coming and going, water, garden, warmth.
//!
//! No rule works on a fire or carbon monoxide alarm, moves the gate or sets the burglar alarm: those are done by
//! people and by the systems made for it. Rules only follow them, as where setting the alarm puts lights out.

use pattress_model::systems::Value::{Number, Off, On};
use pattress_model::systems::{Condition, RuleBody, Setting};

use super::plates;
use crate::builder::House;
use crate::rule_words::{after, at, between, hold_while, over, sunrise, sunset, tell, when};

/// Lighting zones of the rooms that are lived in by day; put out by leaving and by goodnight.
pub(super) const LIVED_IN: [&str; 11] = [
    "Living room ceiling",
    "Living room soft light",
    "Study",
    "Dining room ceiling",
    "Dining table",
    "Kitchen ceiling",
    "Kitchen island",
    "Kitchen worktop",
    "Utility light",
    "Terrace",
    "Hall",
];

pub(super) fn write(house: &mut House) {
    plates::write(house);
    hall_and_landing(house);
    rooms_by_presence(house);
    washing(house);
    doors_and_drawers(house);
    coming_and_going(house);
    bell(house);
    water(house);
    times_of_day(house);
    outdoors(house);
    warmth_and_air(house);
}

/// Rank of what holds by night over what holds by day.
const BY_NIGHT: u8 = 2;
const BY_DAY: u8 = 1;

fn night() -> Condition {
    between("22:30", "06:30")
}

fn add(house: &mut House, room: Option<&str>, name: &str, body: RuleBody) {
    let room = room.map(|room| house.room_named(room));
    house.rule(name, room, body);
}

fn hall_and_landing(house: &mut House) {
    for (detector, name) in [("Hall motion", "Hall"), ("Hall motion, back", "Back of the hall")] {
        let motion = house.is(detector, "motion", On);
        let day = vec![motion.clone(), Condition::Dark, between("06:30", "22:30")];
        let lit = vec![house.zone_at("Hall", 70.0, 1.0), house.zone_at("Stair", 60.0, 1.0)];
        add(house, Some("Hall"), &format!("{name} by motion"), hold_while(day, 180.0, lit, BY_DAY));
        let dim = vec![house.zone_at("Hall", 8.0, 3.0), house.zone_at("Stair", 25.0, 3.0)];
        let body = hold_while(vec![motion, night()], 90.0, dim, BY_NIGHT);
        add(house, Some("Hall"), &format!("{name} at night"), body);
    }
    for (detector, name) in [("Landing motion", "Landing"), ("Landing motion, wing end", "Wing landing")] {
        let motion = house.is(detector, "motion", On);
        let day = vec![motion.clone(), Condition::Dark, between("06:30", "22:30")];
        let lit = vec![house.zone_at("Landing", 60.0, 1.0)];
        add(house, Some("Landing"), &format!("{name} by motion"), hold_while(day, 120.0, lit, BY_DAY));
        let low = vec![house.zone_at("Night path", 15.0, 2.0), house.zone_at("Landing", 0.0, 0.0)];
        let body = hold_while(vec![motion, night()], 120.0, low, BY_NIGHT);
        add(house, Some("Landing"), &format!("{name} at night"), body);
    }
}

fn rooms_by_presence(house: &mut House) {
    for (room, sensor, zone, percent, linger) in [
        ("Living room", "Living room presence", "Living room soft light", 40.0, 900.0),
        ("Study", "Study presence", "Study", 60.0, 600.0),
        ("Dining room", "Dining room presence", "Dining room ceiling", 40.0, 600.0),
        ("Kitchen", "Kitchen presence", "Kitchen worktop", 60.0, 600.0),
        ("Utility", "Utility motion", "Utility light", 100.0, 300.0),
        ("Dressing room", "Dressing room motion", "Dressing room", 70.0, 180.0),
    ] {
        let conditions = vec![house.is(sensor, "motion", On), Condition::Dark];
        let lit = vec![house.zone_at(zone, percent, 2.0)];
        add(house, Some(room), &format!("{room} by presence"), hold_while(conditions, linger, lit, BY_DAY));
    }
}

/// Cloakroom, bathroom and shower room: light by presence, less at night; fans by presence or damp.
fn washing(house: &mut House) {
    let present = vec![house.is("Cloakroom presence", "motion", On)];
    let lit = vec![house.zone_at("Cloakroom light", 80.0, 0.0)];
    add(house, Some("Cloakroom"), "Cloakroom light", hold_while(present.clone(), 120.0, lit, BY_DAY));
    let fan = vec![house.point_at("Cloakroom fan", "level", Number(60.0))];
    add(house, Some("Cloakroom"), "Cloakroom fan", hold_while(present, 600.0, fan, BY_DAY));
    for room in ["Bathroom", "Shower room"] {
        let (ceiling, mirror) = (format!("{room} ceiling"), format!("{room} mirror"));
        let motion = house.is(&format!("{room} presence"), "motion", On);
        let day = vec![motion.clone(), between("06:30", "22:30")];
        let lit = vec![house.zone_at(&ceiling, 80.0, 0.5), house.zone_at(&mirror, 80.0, 0.5)];
        add(house, Some(room), &format!("{room} by day"), hold_while(day, 600.0, lit, BY_DAY));
        let low = vec![house.zone_at(&ceiling, 0.0, 2.0), house.zone_at(&mirror, 10.0, 2.0)];
        add(
            house,
            Some(room),
            &format!("{room} at night"),
            hold_while(vec![motion, night()], 600.0, low, BY_NIGHT),
        );
        let damp = vec![house.is_above(&format!("{room} air"), "humidity", 65.0)];
        let fan = vec![house.point_at(&format!("{room} fan"), "level", Number(100.0))];
        add(house, Some(room), &format!("{room} fan"), hold_while(damp, 600.0, fan, BY_DAY));
        let rail = vec![house.point_at(&format!("{room} towel rail"), "on", On)];
        let morning = vec![between("06:00", "08:30")];
        add(house, Some(room), &format!("{room} towels"), hold_while(morning, 0.0, rail, BY_DAY));
    }
}

fn doors_and_drawers(house: &mut House) {
    for (room, contact, zone) in [
        ("Coats", "Coats door", "Coats light"),
        ("Cupboard", "Stair cupboard door", "Stair cupboard light"),
        ("Larder", "Larder door", "Larder light"),
        ("Controls", "Controls door", "Controls light"),
        ("Kitchen", "Pan drawer", "Pan drawer light"),
        ("Dressing room", "Dressing room wardrobe", "Dressing room wardrobe light"),
        ("Bedroom 4", "Bedroom 4 wardrobe", "Bedroom 4 wardrobe light"),
    ] {
        let open = vec![house.is(contact, "open", On)];
        let lit = vec![house.zone_at(zone, 100.0, 0.5)];
        add(house, Some(room), &format!("{contact}: light"), hold_while(open, 5.0, lit, BY_DAY));
    }
}

/// People set and unset the alarm at a keypad; the house follows.
fn coming_and_going(house: &mut House) {
    for (keypad, way) in [("Hall keypad", "front door"), ("Side door keypad", "side door")] {
        let mut actions: Vec<_> =
            LIVED_IN.iter().map(|zone| after(30.0, over(5.0, house.set_zone(zone, 0.0)))).collect();
        actions.extend([
            after(30.0, house.set_zone("Landing", 0.0)),
            house.set_zone("Downstairs heating", 15.0),
            house.set_zone("Upstairs heating", 15.0),
            house.switch_zone("Downstairs sound", Off),
            house.set("Television", "on", Off),
            tell("The house is set and looks after itself."),
        ]);
        let set = house.happens(keypad, "set");
        add(house, None, &format!("Away, {way}"), when(set, Vec::new(), actions));
        let warm = vec![
            house.set_zone("Downstairs heating", 20.0),
            house.set_zone("Upstairs heating", 18.0),
            house.set("Hall tablet", "on", On),
        ];
        let unset = house.happens(keypad, "unset");
        add(house, None, &format!("Home, {way}"), when(unset.clone(), Vec::new(), warm));
        let light = vec![
            house.set_zone("Hall", 80.0),
            house.set_zone("Kitchen ceiling", 50.0),
            over(2.0, house.set_zone("Living room soft light", 50.0)),
        ];
        add(house, None, &format!("Home after dark, {way}"), when(unset, vec![Condition::Dark], light));
    }
    let wrong = house.happens("Hall keypad", "wrong code");
    add(
        house,
        None,
        "Wrong code",
        when(wrong, Vec::new(), vec![tell("A wrong code was typed in the hall.")]),
    );
    let alarmed = vec![house.is("Alarm panel", "alarm", On)];
    let bright: Vec<Setting> = ["Hall", "Landing", "Terrace", "Front lanterns"]
        .iter()
        .map(|zone| house.zone_at(zone, 100.0, 0.0))
        .collect();
    add(house, None, "Light while the alarm sounds", hold_while(alarmed, 300.0, bright, 9));
    let unbolted = vec![house.is("Front door bolt", "locked", Off)];
    let body = when(at("22:45"), unbolted, vec![tell("The front door is not bolted.")]);
    add(house, Some("Hall"), "Front door not bolted", body);
}

fn bell(house: &mut House) {
    let ring = house.happens("Front door station", "ring");
    let actions = vec![
        house.set("Hall chime", "ring", On),
        house.set("Landing chime", "ring", On),
        house.set("Hall monitor", "picture", On),
        house.set("Kitchen tablet", "on", On),
        tell("Someone is at the front door."),
    ];
    add(house, Some("Hall"), "Door bell", when(ring.clone(), Vec::new(), actions));
    let lights = vec![
        house.set_zone("Front lanterns", 100.0),
        house.switch_zone("Front path", On),
        after(300.0, over(5.0, house.set_zone("Front lanterns", 40.0))),
    ];
    add(house, Some("Hall"), "Door bell after dark", when(ring, vec![Condition::Dark], lights));
}

fn water(house: &mut House) {
    for (room, sensor) in [
        ("Kitchen", "Kitchen sink leak"),
        ("Utility", "Utility sink leak"),
        ("Cloakroom", "Cloakroom leak"),
        ("Bathroom", "Bath leak"),
        ("Shower room", "Shower leak"),
    ] {
        let text = format!("Water on the floor: {}. The stop valve is shut.", room.to_lowercase());
        let actions = vec![house.set("Water stop valve", "open", Off), tell(&text)];
        let wet = house.becomes(sensor, "leak", On);
        add(house, Some(room), &format!("{sensor} shuts the water"), when(wet, Vec::new(), actions));
    }
    let running = house.rises_above("Water meter", "flow", 2.0);
    let away = vec![house.is("Alarm panel", "armed", On)];
    let body = when(running, away, vec![tell("Water runs although nobody is at home.")]);
    add(house, None, "Water runs while away", body);
}

fn times_of_day(house: &mut House) {
    let wake = vec![
        over(900.0, house.set_zone("Bedroom 1 soft light", 60.0)),
        after(900.0, house.set("Bedroom 1 curtains", "position", Number(40.0))),
        house.set_zone("Downstairs heating", 20.0),
        house.set_zone("Upstairs heating", 18.0),
    ];
    let at_home = vec![house.is("Alarm panel", "armed", Off)];
    add(house, Some("Bedroom 1"), "Wake", when(at("06:45"), at_home, wake));
    let open = vec![house.set_zone("Downstairs blinds and curtains", 100.0)];
    add(house, None, "Open downstairs in the morning", when(at("07:30"), Vec::new(), open));
    let draw = vec![house.set_zone("Downstairs blinds and curtains", 0.0)];
    add(house, None, "Draw downstairs at dusk", when(sunset(20), Vec::new(), draw));
    let dusk = vec![
        over(60.0, house.set_zone("Front lanterns", 50.0)),
        over(60.0, house.set_zone("Terrace", 30.0)),
        house.switch_zone("Front path", On),
        house.switch_zone("Garden", On),
    ];
    add(house, None, "Garden lights at dusk", when(sunset(10), Vec::new(), dusk));
    let late = vec![
        over(60.0, house.set_zone("Front lanterns", 15.0)),
        over(60.0, house.set_zone("Terrace", 0.0)),
        house.switch_zone("Front path", Off),
        house.switch_zone("Garden", Off),
    ];
    add(house, None, "Garden lights late", when(at("23:15"), Vec::new(), late));
    let dawn = vec![house.set_zone("Front lanterns", 0.0), house.switch_zone("Side door lamp", Off)];
    add(house, None, "Lanterns out at sunrise", when(sunrise(0), Vec::new(), dawn));
}

fn outdoors(house: &mut House) {
    let behind = vec![house.is("Garden motion", "alarm", On), Condition::Dark];
    let flood = vec![house.zone_held("Garden floodlight", On)];
    add(house, None, "Floodlight by motion", hold_while(behind, 120.0, flood, BY_DAY));
    let before = vec![house.is("Front motion", "alarm", On), Condition::Dark];
    let lanterns = vec![house.zone_at("Front lanterns", 90.0, 1.0)];
    add(house, None, "Lanterns by motion", hold_while(before, 180.0, lanterns, BY_DAY));
    let open = vec![house.is("Gate", "open", On)];
    add(house, None, "Gate left open", when(at("22:00"), open, vec![tell("The gate is still open.")]));
    let rain = house.becomes("Weather station", "rain", On);
    add(house, None, "Rain", when(rain, Vec::new(), vec![tell("It rains: is the washing out?")]));
    let dry = vec![house.is_below("Border soil", "humidity", 20.0)];
    add(house, None, "Border dry", when(at("19:00"), dry, vec![tell("The border is dry.")]));
}

fn warmth_and_air(house: &mut House) {
    for (door, thermostat, room) in [
        ("Living room garden door", "Living room thermostat", "Living room"),
        ("Kitchen garden door", "Kitchen thermostat", "Kitchen"),
    ] {
        let open = vec![house.is(door, "open", On)];
        let rest = vec![house.point_at(thermostat, "set point", Number(12.0))];
        let name = format!("{room} heating rests while the door is open");
        add(house, Some(room), &name, hold_while(open, 300.0, rest, BY_DAY));
    }
    let cold = vec![house.is_below("Bedroom 1 thermostat", "temperature", 17.0)];
    let demand =
        vec![house.point_at("Radiator circuit valve", "open", On), house.point_at("Boiler", "demand", On)];
    add(house, None, "Radiators call for heat", hold_while(cold, 120.0, demand, BY_DAY));
    let stale = house.rises_above("Study air", "carbon dioxide", 1200.0);
    add(
        house,
        Some("Study"),
        "Air in the study",
        when(stale, Vec::new(), vec![tell("Open the study window.")]),
    );
    let damp = house.rises_above("Larder air", "humidity", 75.0);
    add(house, Some("Larder"), "Larder damp", when(damp, Vec::new(), vec![tell("The larder is damp.")]));
}
