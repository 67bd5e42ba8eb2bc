//! What a device says of itself on the plan while the rules are played, in as few words as can be read at a glance.

use std::collections::BTreeMap;

use super::live::Now;
use crate::kit::{Family, Kind, PointRole};
use crate::sentence::{colour_word, shown_words};
use crate::studies::rehearsal::Has;
use crate::systems::Value;

/// A lamp that is lit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LampNow {
    /// How strongly, 0 to 1.
    pub(super) strength: f64,
    /// In which colour it is drawn.
    pub(super) light: [u8; 3],
    /// The colour it was given, if it was given any.
    pub(super) colour: Option<[u8; 3]>,
    /// Whether it dims, so that its level is worth a figure.
    pub(super) dims: bool,
}

/// White light is drawn as warm as this: white on white paper is not seen.
const WARM: [u8; 3] = [255, 196, 46];

/// The light of a lamp; `None` where it is dark, or no lamp.
pub(super) fn lamp(kind: &Kind, values: &BTreeMap<&str, Now>) -> Option<LampNow> {
    if kind.lamp.is_none() && kind.family != Family::Luminaires {
        return None;
    }
    let colour = match values.get("colour").map(|now| now.shown) {
        Some(Has::Colour(colour)) if colour != [0; 3] => Some(colour),
        _ => None,
    };
    let (level, on) = (values.get("level").map(|now| now.shown), values.get("on").map(|now| now.shown));
    let strength = match (level, on) {
        (Some(Has::Number(level)), _) => level / 100.0,
        (_, Some(on)) => f64::from(u8::from(on.is_on())),
        _ => f64::from(u8::from(colour.is_some())),
    };
    let is_white = |[red, green, blue]: [u8; 3]| {
        let (high, low) = (red.max(green).max(blue), red.min(green).min(blue));
        f64::from(high - low) < 0.2 * f64::from(high)
    };
    let light = colour.filter(|colour| !is_white(*colour)).unwrap_or(WARM);
    (strength > 0.0).then_some(LampNow { strength, light, colour, dims: level.is_some() })
}

/// `40 %`, `40 % amber`, `on`.
pub(super) fn of_lamp(lamp: &LampNow) -> String {
    let strength = if lamp.dims { format!("{:.0} %", lamp.strength * 100.0) } else { "on".to_owned() };
    match lamp.colour {
        Some(colour) => format!("{strength} {}", colour_word(colour)),
        None => strength,
    }
}

/// Whether a point is part of what a lamp shows by its light.
pub(super) fn is_light(point: &str) -> bool {
    matches!(point, "level" | "on" | "colour" | "colour temperature")
}

/// Whether a point is where something that travels stands.
pub(super) fn travels(kind: &Kind, point: &str) -> bool {
    kind.family == Family::Motors && point == "position"
}

/// `shut`, `30 % open`, `30 % open, closing`; nothing of what has no place.
pub(super) fn of_travel(point: &str, now: &Now) -> Option<String> {
    let (Has::Number(shown), Has::Number(goal)) = (now.shown, now.goal) else { return None };
    let words = shown_words(point, Value::Number(shown));
    match shown.total_cmp(&goal) {
        std::cmp::Ordering::Less => Some(format!("{words}, opening")),
        std::cmp::Ordering::Greater => Some(format!("{words}, closing")),
        std::cmp::Ordering::Equal => Some(words),
    }
}

/// A movement detector's alarm is no more than that it saw somebody.
fn sees_people(kind: &Kind) -> bool {
    kind.detection.as_ref().is_some_and(|detection| detection.sense.looks())
}

/// Whether a point that is on calls for help.
pub(super) fn alarms(kind: &Kind, point: &str) -> bool {
    if point == "alarm" && sees_people(kind) {
        return false;
    }
    matches!(point, "alarm" | "siren" | "strobe" | "leak" | "tamper" | "obstructed" | "mains failed")
}

/// What a point of a device at work says; `None` for one at rest, or of no interest at a glance.
pub(super) fn of_point(kind: &Kind, point: &str, now: &Now) -> Option<String> {
    let spec = kind.point(point)?;
    match now.shown {
        Has::Nothing => now.lately.then(|| match point {
            "ring" => "rings".to_owned(),
            name => name.to_owned(),
        }),
        Has::State(false) => None,
        Has::State(true) => Some(match point {
            "motion" => "movement".to_owned(),
            "alarm" if sees_people(kind) => "movement".to_owned(),
            "armed" => "set".to_owned(),
            "demand" => "calls for heat".to_owned(),
            name => name.to_owned(),
        }),
        Has::Colour(colour) => (colour != [0; 3]).then(|| colour_word(colour).to_owned()),
        // Figures that are only read (lux, degrees) stand on the card.
        Has::Number(_) if spec.role == PointRole::Reports => None,
        Has::Number(0.0) => None,
        Has::Number(figure) => {
            let words = shown_words(point, Value::Number(figure));
            let channel = point.rsplit(' ').next().filter(|last| last.chars().all(|c| c.is_ascii_digit()));
            Some(channel.map_or(words.clone(), |channel| format!("{channel}: {words}")))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::catalogue::kind_by_key;

    fn now(shown: Has) -> Now {
        Now { shown, goal: shown, lately: false }
    }

    fn said(key: &str, point: &str, shown: Has) -> Option<String> {
        of_point(&kind_by_key(key).unwrap(), point, &now(shown))
    }

    #[test]
    fn a_lamp_says_its_level_and_its_colour() {
        let kind = kind_by_key("strip-colour-24v").unwrap();
        let lit = |level: f64, colour: [u8; 3]| {
            let values =
                BTreeMap::from([("level", now(Has::Number(level))), ("colour", now(Has::Colour(colour)))]);
            lamp(&kind, &values).map(|lamp| (of_lamp(&lamp), lamp.light))
        };
        assert_eq!(lit(0.0, [255, 0, 0]), None);
        assert_eq!(lit(40.0, [0; 3]), Some(("40 %".to_owned(), WARM)));
        assert_eq!(lit(20.4, [255, 0, 0]), Some(("20 % red".to_owned(), [255, 0, 0])));
        assert_eq!(lit(100.0, [255; 3]), Some(("100 % white".to_owned(), WARM)));
        let plate = kind_by_key("plate-4").unwrap();
        assert_eq!(lamp(&plate, &BTreeMap::new()), None);
    }

    #[test]
    fn what_is_at_rest_says_nothing() {
        assert_eq!(said("wall-motion-12m", "motion", Has::State(false)), None);
        assert_eq!(said("wall-motion-12m", "motion", Has::State(true)).as_deref(), Some("movement"));
        assert_eq!(said("water-valve", "open", Has::State(true)).as_deref(), Some("open"));
        let pressed = Now { lately: true, ..now(Has::Nothing) };
        assert_eq!(of_point(&kind_by_key("plate-4").unwrap(), "key 3", &pressed).as_deref(), Some("key 3"));
        assert_eq!(said("plate-4", "key 3", Has::Nothing), None);
    }

    #[test]
    fn what_travels_says_where_it_is_and_where_it_goes() {
        for (shown, goal, expected) in [
            (0.0, 0.0, "shut"),
            (100.0, 100.0, "open"),
            (62.4, 0.0, "62 % open, closing"),
            (0.0, 100.0, "shut, opening"),
        ] {
            let now = Now { shown: Has::Number(shown), goal: Has::Number(goal), lately: false };
            assert_eq!(of_travel("position", &now).as_deref(), Some(expected));
        }
    }
}
