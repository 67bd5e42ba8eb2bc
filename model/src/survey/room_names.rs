//! What a room is for, by what architects write in it. Common words in English and German, from memory.

use crate::plan::RoomUse;

/// Words within names of rooms, and the use they tell. The first that fits counts, so the narrower come first.
const WORDS: [(&str, RoomUse); 86] = [
    ("bathroom", RoomUse::Bathroom),
    ("badezimmer", RoomUse::Bathroom),
    ("shower", RoomUse::Bathroom),
    ("dusche", RoomUse::Bathroom),
    ("duschbad", RoomUse::Bathroom),
    ("en suite", RoomUse::Bathroom),
    ("en-suite", RoomUse::Bathroom),
    ("ensuite", RoomUse::Bathroom),
    ("wet room", RoomUse::Bathroom),
    ("cloakroom", RoomUse::Cloakroom),
    ("powder", RoomUse::Cloakroom),
    ("toilet", RoomUse::Cloakroom),
    ("lavatory", RoomUse::Cloakroom),
    ("gäste-wc", RoomUse::Cloakroom),
    ("garderobe", RoomUse::Store),
    ("utility", RoomUse::Utility),
    ("laundry", RoomUse::Utility),
    ("hauswirtschaft", RoomUse::Utility),
    ("waschküche", RoomUse::Utility),
    ("waschraum", RoomUse::Utility),
    ("plant", RoomUse::Plant),
    ("boiler", RoomUse::Plant),
    ("mechanical", RoomUse::Plant),
    ("services", RoomUse::Plant),
    ("server", RoomUse::Plant),
    ("technik", RoomUse::Plant),
    ("heizung", RoomUse::Plant),
    ("heizraum", RoomUse::Plant),
    ("hausanschluss", RoomUse::Plant),
    ("garage", RoomUse::Garage),
    ("carport", RoomUse::Garage),
    ("stair", RoomUse::Stair),
    ("treppe", RoomUse::Stair),
    ("stiege", RoomUse::Stair),
    ("kitchenette", RoomUse::Kitchen),
    ("kitchen", RoomUse::Kitchen),
    ("küche", RoomUse::Kitchen),
    ("kueche", RoomUse::Kitchen),
    ("kochen", RoomUse::Kitchen),
    ("larder", RoomUse::Store),
    ("pantry", RoomUse::Store),
    ("storage", RoomUse::Store),
    ("store", RoomUse::Store),
    ("cupboard", RoomUse::Store),
    ("closet", RoomUse::Store),
    ("wardrobe", RoomUse::Store),
    ("dressing", RoomUse::Store),
    ("abstell", RoomUse::Store),
    ("speisekammer", RoomUse::Store),
    ("vorrat", RoomUse::Store),
    ("ankleide", RoomUse::Store),
    ("lager", RoomUse::Store),
    ("keller", RoomUse::Store),
    ("dining", RoomUse::Dining),
    ("esszimmer", RoomUse::Dining),
    ("essen", RoomUse::Dining),
    ("bedroom", RoomUse::Bedroom),
    ("guest room", RoomUse::Bedroom),
    ("nursery", RoomUse::Bedroom),
    ("schlaf", RoomUse::Bedroom),
    ("kinderzimmer", RoomUse::Bedroom),
    ("gästezimmer", RoomUse::Bedroom),
    ("study", RoomUse::Study),
    ("office", RoomUse::Study),
    ("library", RoomUse::Study),
    ("arbeitszimmer", RoomUse::Study),
    ("büro", RoomUse::Study),
    ("living", RoomUse::Living),
    ("lounge", RoomUse::Living),
    ("sitting", RoomUse::Living),
    ("drawing room", RoomUse::Living),
    ("family room", RoomUse::Living),
    ("snug", RoomUse::Living),
    ("parlour", RoomUse::Living),
    ("parlor", RoomUse::Living),
    ("wohn", RoomUse::Living),
    ("corridor", RoomUse::Circulation),
    ("landing", RoomUse::Circulation),
    ("hallway", RoomUse::Circulation),
    ("lobby", RoomUse::Circulation),
    ("foyer", RoomUse::Circulation),
    ("vestibule", RoomUse::Circulation),
    ("porch", RoomUse::Outside),
    ("terrasse", RoomUse::Outside),
    ("terrace", RoomUse::Outside),
    ("balcony", RoomUse::Outside),
];

/// Whole words, too short or too common within others to be looked for anywhere else.
const WHOLE_WORDS: [(&str, RoomUse); 24] = [
    ("wc", RoomUse::Cloakroom),
    ("bath", RoomUse::Bathroom),
    ("bad", RoomUse::Bathroom),
    ("hwr", RoomUse::Utility),
    ("flur", RoomUse::Circulation),
    ("diele", RoomUse::Circulation),
    ("gang", RoomUse::Circulation),
    ("eingang", RoomUse::Circulation),
    ("windfang", RoomUse::Circulation),
    ("hall", RoomUse::Circulation),
    ("entry", RoomUse::Circulation),
    ("entrance", RoomUse::Circulation),
    ("passage", RoomUse::Circulation),
    ("bed", RoomUse::Bedroom),
    ("bedrm", RoomUse::Bedroom),
    ("eltern", RoomUse::Bedroom),
    ("kind", RoomUse::Bedroom),
    ("zimmer", RoomUse::Bedroom),
    ("pwdr", RoomUse::Cloakroom),
    ("patio", RoomUse::Outside),
    ("garden", RoomUse::Outside),
    ("garten", RoomUse::Outside),
    ("balkon", RoomUse::Outside),
    ("loggia", RoomUse::Outside),
];

/// The use that a room's name tells, if any.
pub fn room_use_of(name: &str) -> Option<RoomUse> {
    let name = name.to_lowercase();
    let within = WORDS.iter().find(|(word, _)| name.contains(word));
    let whole = || {
        let mut words = name.split(|letter: char| !letter.is_alphabetic());
        words.find_map(|word| WHOLE_WORDS.iter().find(|(known, _)| *known == word))
    };
    within.or_else(whole).map(|(_, room_use)| *room_use)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_tell_uses() {
        for (name, expected) in [
            ("Bathroom 1", Some(RoomUse::Bathroom)),
            ("Bad", Some(RoomUse::Bathroom)),
            ("Gäste-WC", Some(RoomUse::Cloakroom)),
            ("W.C.", None),
            ("LIVING ROOM", Some(RoomUse::Living)),
            ("Wohnzimmer", Some(RoomUse::Living)),
            ("Bedroom 2", Some(RoomUse::Bedroom)),
            ("Treppenhaus", Some(RoomUse::Stair)),
            ("Stair hall", Some(RoomUse::Stair)),
            ("Küche", Some(RoomUse::Kitchen)),
            ("Kitchen / Dining", Some(RoomUse::Kitchen)),
            ("Diele", Some(RoomUse::Circulation)),
            ("Foyer", Some(RoomUse::Circulation)),
            ("Garage", Some(RoomUse::Garage)),
            ("HWR", Some(RoomUse::Utility)),
            ("Raum 1", None),
            ("Challenge", None),
            ("", None),
        ] {
            assert_eq!(room_use_of(name), expected, "{name}");
        }
    }
}
