//! How far a sensor reaches on the floor: as its maker states it, less where somebody is hard to notice.

use crate::kit::{Detection, Movement, ReachAtHeight};
use crate::units::Length;

use super::Question;

/// A reach, and how well it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Reach {
    /// On the plan, mm.
    pub mm: f64,
    /// Whether the device hangs lower or higher than its maker's table goes, so that the nearest row was taken.
    pub beside_table: bool,
}

/// How far a detection reaches from a height: a maker's table of radii goes before the pattern's range. Its rows are
/// joined by straight lines; between a row with a seated radius and one without nobody seated is noticed.
pub(super) fn reach(detection: &Detection, height: Option<f64>, question: &Question) -> Reach {
    let left = detection.reach_left;
    let warm = if question.warm { left.warm } else { 1.0 };
    let table = height.and_then(|height| at_height(&detection.by_height, height));
    let (mm, beside_table) = match table {
        Some((row, beside)) if question.movement == Movement::Still => {
            (row.seated.unwrap_or_default().as_mm(), beside)
        }
        Some((row, beside)) => (row.walking.as_mm() * left.for_movement(question.movement), beside),
        None => (detection.pattern.range().as_mm() * left.for_movement(question.movement), false),
    };
    Reach { mm: mm * warm, beside_table }
}

/// The row of a table for a height, and whether the height lies beside the table.
fn at_height(table: &[ReachAtHeight], height: f64) -> Option<(ReachAtHeight, bool)> {
    let below = table.iter().filter(|row| row.mounted.as_mm() <= height);
    let below = below.max_by(|a, b| a.mounted.as_mm().total_cmp(&b.mounted.as_mm()));
    let above = table.iter().filter(|row| row.mounted.as_mm() >= height);
    let above = above.min_by(|a, b| a.mounted.as_mm().total_cmp(&b.mounted.as_mm()));
    match (below, above) {
        (Some(below), Some(above)) => Some((between(below, above, height), false)),
        (Some(row), None) | (None, Some(row)) => Some((*row, true)),
        (None, None) => None,
    }
}

fn between(below: &ReachAtHeight, above: &ReachAtHeight, height: f64) -> ReachAtHeight {
    let apart = above.mounted.as_mm() - below.mounted.as_mm();
    if apart <= 0.0 {
        return *below;
    }
    let part = (height - below.mounted.as_mm()) / apart;
    let mix = |a: Length, b: Length| Length::mm(a.as_mm() + (b.as_mm() - a.as_mm()) * part);
    ReachAtHeight {
        mounted: Length::mm(height),
        walking: mix(below.walking, above.walking),
        seated: below.seated.zip(above.seated).map(|(a, b)| mix(a, b)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::catalogue::kind_by_key;
    use crate::plan::DoorsAs;

    /// Half the zone sides of the makers' manuals that the catalogue names, and straight lines between them.
    #[test]
    fn a_ceiling_detector_reaches_as_its_table_says() {
        let detection = kind_by_key("presence-ceiling").unwrap().detection.unwrap();
        for (height, walking, seated, beside) in [
            (2000.0, 3000.0, 2250.0, false),
            (2250.0, 3500.0, 2625.0, false),
            (2400.0, 3800.0, 2850.0, false),
            (3000.0, 4500.0, 3500.0, false),
            (3750.0, 5250.0, 0.0, false),
            (4000.0, 5500.0, 0.0, false),
            (1800.0, 3000.0, 2250.0, true),
            (5000.0, 5500.0, 0.0, true),
        ] {
            let across = reach(&detection, Some(height), &Question::default());
            let still = reach(&detection, Some(height), &Question::of_seated());
            assert!((across.mm - walking).abs() < 1e-9, "{height}: {across:?}");
            assert!((still.mm - seated).abs() < 1e-9, "{height}: {still:?}");
            assert_eq!((across.beside_table, still.beside_table), (beside, beside), "{height}");
        }
    }

    #[test]
    fn what_is_left_of_a_range_multiplies() {
        let detection = kind_by_key("wall-motion-12m").unwrap().detection.unwrap();
        let asked = |movement, warm| {
            let question = Question { movement, warm, doors: DoorsAs::Drawn, ..Question::default() };
            reach(&detection, Some(2200.0), &question).mm
        };
        for (movement, warm, expected) in [
            (Movement::Across, false, 12_000.0),
            (Movement::Towards, false, 6000.0),
            (Movement::Still, false, 3000.0),
            (Movement::Across, true, 8400.0),
            (Movement::Towards, true, 4200.0),
        ] {
            assert!((asked(movement, warm) - expected).abs() < 1e-6, "{movement:?} {warm}");
        }
    }
}
