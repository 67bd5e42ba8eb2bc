//! What a room is for, from what is written in it.
//!
//! Words are common ones of the trade in English and some other languages, from memory, no published source.

use crate::plan::RoomUse;

/// Longer lettering is a note, not a name.
const LONGEST_NAME: usize = 40;

/// Beginnings of words, lower case; a word of the name that starts with one decides. First match wins, so that
/// "dining kitchen" is a kitchen and "store room" a store.
const STARTS: [(RoomUse, &[&str]); 14] = [
    (
        RoomUse::Kitchen,
        &["kitchen", "küche", "kueche", "cuisine", "cocina", "cucina", "keuken", "køkken", "kök"],
    ),
    (
        RoomUse::Cloakroom,
        &["wc", "w.c", "toilet", "cloak", "powder", "gäste-wc", "gästewc", "aseo", "lavatory"],
    ),
    (
        RoomUse::Bathroom,
        &["bath", "bad", "shower", "dusch", "ensuite", "en-suite", "salle de bain", "baño", "bagno", "wet"],
    ),
    (
        RoomUse::Utility,
        &["utility", "laundry", "hauswirtschaft", "hwr", "waschküche", "buanderie", "lavadero", "lavanderia"],
    ),
    (
        RoomUse::Bedroom,
        &[
            "bed",
            "schlaf",
            "kind",
            "chambre",
            "dormitorio",
            "camera",
            "slaapkamer",
            "soverom",
            "guest",
            "gäste",
        ],
    ),
    (RoomUse::Dining, &["dining", "ess", "salle à manger", "comedor", "pranzo", "eet", "breakfast"]),
    (
        RoomUse::Study,
        &["study", "office", "library", "arbeits", "büro", "bureau", "despacho", "studio", "work"],
    ),
    (
        RoomUse::Living,
        &[
            "living",
            "lounge",
            "sitting",
            "parlour",
            "parlor",
            "family",
            "drawing",
            "snug",
            "wohn",
            "salon",
            "séjour",
            "sejour",
            "salón",
            "soggiorno",
            "woonkamer",
            "stue",
            "reception",
            "day",
        ],
    ),
    (RoomUse::Stair, &["stair", "treppe", "escalier", "escalera", "scala", "trap", "trapp"]),
    (
        RoomUse::Circulation,
        &[
            "hall",
            "entr",
            "corridor",
            "landing",
            "lobby",
            "foyer",
            "passage",
            "vestibule",
            "diele",
            "flur",
            "eingang",
            "gang",
            "couloir",
            "pasillo",
            "ingresso",
            "corridoio",
            "dégagement",
            "recibidor",
        ],
    ),
    (
        RoomUse::Store,
        &[
            "store",
            "storage",
            "closet",
            "cupboard",
            "larder",
            "pantry",
            "wardrobe",
            "dressing",
            "abstell",
            "keller",
            "cellar",
            "speise",
            "lager",
            "ankleide",
            "garderobe",
            "cellier",
            "trastero",
            "ripostiglio",
            "linen",
            "robe",
        ],
    ),
    (RoomUse::Plant, &["plant", "technik", "heiz", "boiler", "server", "comms", "mechanical", "electrical"]),
    (RoomUse::Garage, &["garage", "carport", "car", "garaje"]),
    (
        RoomUse::Outside,
        &["porch", "terrace", "terrasse", "balcon", "balkon", "garden", "patio", "veranda", "deck", "loggia"],
    ),
];

/// The use that a name tells, if any.
pub(super) fn use_from_name(name: &str) -> Option<RoomUse> {
    let name = name.to_lowercase();
    let starts_a_word = |start: &str| {
        name.match_indices(start)
            .any(|(at, _)| name[..at].chars().next_back().is_none_or(|before| !before.is_alphanumeric()))
    };
    STARTS.iter().find(|(_, starts)| starts.iter().any(|start| starts_a_word(start))).map(|(of, _)| *of)
}

/// Whether lettering may be the name of a room rather than a size, a level or a note.
pub(super) fn looks_like_a_name(text: &str) -> bool {
    let text = text.trim();
    let letters = text.chars().filter(|letter| letter.is_alphabetic()).count();
    let digits = text.chars().filter(char::is_ascii_digit).count();
    let is_measure = text.contains(['²', '±', '+', '×', '=', '"', '°', '%']) || {
        let low = text.to_lowercase();
        ["m2", "sqm", "sq m", "sq.", "qm", "mm", " x ", "ffl", "1:"].iter().any(|unit| low.contains(unit))
            && digits > 0
    };
    letters >= 2 && letters > digits && text.chars().count() <= LONGEST_NAME && !is_measure
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn uses_in_several_languages() {
        let cases = [
            ("Küche", Some(RoomUse::Kitchen)),
            ("KITCHEN / DINER", Some(RoomUse::Kitchen)),
            ("Bad", Some(RoomUse::Bathroom)),
            ("Bathroom 1", Some(RoomUse::Bathroom)),
            ("Master Bedroom", Some(RoomUse::Bedroom)),
            ("Treppenhaus", Some(RoomUse::Stair)),
            ("Diele", Some(RoomUse::Circulation)),
            ("Living Room", Some(RoomUse::Living)),
            ("Wohnen", Some(RoomUse::Living)),
            ("WC", Some(RoomUse::Cloakroom)),
            ("Store Room", Some(RoomUse::Store)),
            ("Raum 1", None),
            ("", None),
        ];
        for (name, expected) in cases {
            assert_eq!(use_from_name(name), expected, "{name}");
        }
    }

    #[test]
    fn sizes_and_notes_are_no_names() {
        for text in ["Bad", "Raum 1", "WC", "Living Room", "Salle d'eau"] {
            assert!(looks_like_a_name(text), "{text}");
        }
        let long = "All dimensions to be checked on site before work starts";
        for text in ["18.60 m²", "12.5", "3.2 x 4.1", "FFL +0.15", "1:50", "A", "", long, "4200 mm"] {
            assert!(!looks_like_a_name(text), "{text}");
        }
    }
}
