//! What a wall is made of, by the names of its materials. Common English and German words of the trade, from
//! memory.

use crate::plan::MakeUp;

/// Words of fillings that say nothing about what holds the wall up.
const FILLINGS: [&str; 8] =
    ["insulation", "wool", "wolle", "dämm", "daemm", "fibreglass", "fiberglass", "glasfaser"];

/// Words within names of materials, and what they tell. The first that fits counts.
const WORDS: [(&str, MakeUp); 46] = [
    ("brick", MakeUp::Masonry),
    ("ziegel", MakeUp::Masonry),
    ("klinker", MakeUp::Masonry),
    ("kalksandstein", MakeUp::Masonry),
    ("mauerwerk", MakeUp::Masonry),
    ("masonry unit", MakeUp::Block),
    ("cmu", MakeUp::Block),
    ("block", MakeUp::Block),
    ("porenbeton", MakeUp::Block),
    ("gasbeton", MakeUp::Block),
    ("stahlbeton", MakeUp::Block),
    ("leichtbeton", MakeUp::Block),
    ("beton", MakeUp::Block),
    ("concrete", MakeUp::Block),
    ("masonry", MakeUp::Masonry),
    ("sandstein", MakeUp::Masonry),
    ("naturstein", MakeUp::Masonry),
    ("bruchstein", MakeUp::Masonry),
    ("granit", MakeUp::Masonry),
    ("limestone", MakeUp::Masonry),
    ("sandstone", MakeUp::Masonry),
    ("stone", MakeUp::Masonry),
    ("gipskarton", MakeUp::Stud),
    ("gipsfaser", MakeUp::Stud),
    ("gipsplatte", MakeUp::Stud),
    ("trockenbau", MakeUp::Stud),
    ("ständer", MakeUp::Stud),
    ("staender", MakeUp::Stud),
    ("holz", MakeUp::Stud),
    ("gypsum", MakeUp::Stud),
    ("plasterboard", MakeUp::Stud),
    ("drywall", MakeUp::Stud),
    ("wallboard", MakeUp::Stud),
    ("stud", MakeUp::Stud),
    ("timber", MakeUp::Stud),
    ("lumber", MakeUp::Stud),
    ("plywood", MakeUp::Stud),
    ("softwood", MakeUp::Stud),
    ("wood", MakeUp::Stud),
    ("chipboard", MakeUp::Stud),
    ("osb", MakeUp::Stud),
    ("joist", MakeUp::Stud),
    ("verglasung", MakeUp::Glazed),
    ("glazing", MakeUp::Glazed),
    ("glazed", MakeUp::Glazed),
    ("glas", MakeUp::Glazed),
];

/// What one name tells.
fn by_name(name: &str) -> Option<MakeUp> {
    let name = name.to_lowercase();
    if FILLINGS.iter().any(|word| name.contains(word)) {
        return None;
    }
    WORDS.iter().find(|(word, _)| name.contains(word)).map(|(_, make_up)| *make_up)
}

/// What layers tell together: the make-up with the greatest thickness. Boards and plaster on masonry do not
/// make it a stud wall. Without thicknesses each layer counts the same.
pub(super) fn of_layers(layers: &[(String, f64)]) -> Option<MakeUp> {
    let thickness_of = |make_up: MakeUp| {
        let of_it = layers.iter().filter(|(name, _)| by_name(name) == Some(make_up));
        of_it.map(|(_, thickness)| thickness.max(1e-3)).sum::<f64>()
    };
    let thickest = MakeUp::ALL.into_iter().max_by(|a, b| thickness_of(*a).total_cmp(&thickness_of(*b)))?;
    (thickness_of(thickest) > 0.0).then_some(thickest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_materials_tell_the_make_up() {
        for (name, expected) in [
            ("Masonry - Brick", Some(MakeUp::Masonry)),
            ("Concrete Masonry Units", Some(MakeUp::Block)),
            ("Fair-faced concrete", Some(MakeUp::Block)),
            ("Kalksandstein", Some(MakeUp::Masonry)),
            ("Stahlbeton C25/30", Some(MakeUp::Block)),
            ("Gipskartonplatte", Some(MakeUp::Stud)),
            ("Metal Stud Layer", Some(MakeUp::Stud)),
            ("Toughened glass", Some(MakeUp::Glazed)),
            ("Glaswolle", None),
            ("Glass wool", None),
            ("Fiberglass Batt", None),
            ("Default Wall", None),
        ] {
            assert_eq!(by_name(name), expected, "{name}");
        }
    }

    #[test]
    fn the_thickest_known_layer_counts() {
        let layers =
            [("Brick", 90.0), ("Mineral wool", 200.0), ("Concrete block", 140.0), ("Plasterboard", 12.5)];
        let layers = layers.map(|(name, thickness)| (name.to_owned(), thickness));
        assert_eq!(of_layers(&layers), Some(MakeUp::Block));
        assert_eq!(of_layers(&[]), None);
        assert_eq!(of_layers(&[("Air".to_owned(), 50.0)]), None);
    }
}
