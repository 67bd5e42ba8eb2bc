//! A plate: how large it is, how its keys lie on it, and what is written on them.
//!
//! Words on keys are a decision; until somebody takes it, a key says what it does, which is computed and never
//! kept. Once a legend is marked final it is engraved: its words stand, and what each key did on that day is kept
//! beside them, so that a rule that changes afterwards is seen.

use super::{Family, Kind, PointRole, PointSpec, PointType};
use crate::units::Length;

/// Most letters of one line of a key: more can't be read on a key of a small plate. Common practice, no published
/// source.
pub const MOST_LETTERS_OF_A_LINE: usize = 24;

/// The front of a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateFace {
    /// From side to side.
    pub width: Length,
    /// From top to bottom.
    pub height: Length,
    /// Keys side by side; the rest stand in rows beneath, in their order.
    pub columns: u8,
}

/// The words on one key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyLegend {
    /// The key: the name of its point.
    pub key: String,
    /// One or two short lines.
    pub words: [String; 2],
    /// What the key did when the legend was marked final, a sentence for each way of using it; empty until then.
    pub did: Vec<String>,
}

/// What is written on a plate.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlateLegend {
    /// Whether it may be engraved. Until then it is provisional, and every sheet says so.
    pub is_final: bool,
    /// The keys whose words somebody decided; all keys once it is final.
    pub keys: Vec<KeyLegend>,
}

impl PlateLegend {
    /// What is decided of a key.
    pub fn of(&self, key: &str) -> Option<&KeyLegend> {
        self.keys.iter().find(|legend| legend.key == key)
    }
}

impl Kind {
    /// The keys of a plate, in their order; none of what is no plate.
    pub fn keys(&self) -> impl Iterator<Item = &PointSpec> {
        let is_plate = self.family == Family::Plates;
        self.points.iter().filter(move |point| {
            is_plate
                && point.role == PointRole::Reports
                && matches!(point.point_type, PointType::Event | PointType::State)
        })
    }

    /// The front of a plate: the kind's own, else what its box and the number of its keys make usual, 86 × 86 mm on a
    /// single box and 146 × 86 mm on a double one (from memory, so that sheets ask for the maker's template).
    pub fn plate_face(&self) -> PlateFace {
        self.face.unwrap_or_else(|| {
            let gangs = self.back_box.map_or(1, |back_box| back_box.gangs);
            let columns = match self.keys().count() {
                0..=3 => 1,
                4 => 2,
                5 | 6 => 3,
                _ => 4,
            };
            let width = if gangs > 1 { 146.0 } else { 86.0 };
            PlateFace { width: Length::mm(width), height: Length::mm(86.0), columns }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::catalogue::kind_by_key;

    #[test]
    fn a_plate_is_as_large_as_its_box_and_its_keys_lie_in_rows() {
        for (key, width, columns, keys) in [
            ("plate-1", 86.0, 1, 1),
            ("plate-3", 86.0, 1, 3),
            ("plate-4", 86.0, 2, 4),
            ("plate-5", 146.0, 3, 5),
            ("plate-8", 146.0, 4, 8),
            ("downlight", 86.0, 1, 0),
        ] {
            let kind = kind_by_key(key).unwrap();
            let face = kind.plate_face();
            assert_eq!(
                (face.width.as_mm(), face.columns, kind.keys().count()),
                (width, columns, keys),
                "{key}"
            );
        }
    }

    #[test]
    fn what_the_kind_says_of_its_front_goes_first() {
        let face = PlateFace { width: Length::mm(120.0), height: Length::mm(80.0), columns: 2 };
        let kind = Kind { face: Some(face), ..kind_by_key("plate-6").unwrap() };
        assert_eq!(kind.plate_face(), face);
    }
}
