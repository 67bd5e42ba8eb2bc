//! Lay one drawing over another, make it level, set its scale.
//!
//! Drawings of storeys come on pages of their own. Two points that both show (corners of a stair well, of a chimney)
//! bring one over the other.

use kurbo::Point;

use super::draft::Draft;
use super::edit_plan::tidy_underlay;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::plan::Underlay;
use crate::project::Project;

/// An underlay aligned with another.
#[derive(Clone, Debug, PartialEq)]
pub struct Aligned {
    /// The change that does it.
    pub change: Change,
    /// How well it fits, in a sentence.
    pub sentence: String,
}

/// Moves, turns and scales an underlay so that the two points of it that lie at `from` on the plan come to lie at
/// `to`. With `keep_scale` it is only moved and turned, and the sentence says how far both points miss.
///
/// # Errors
/// A sentence, where it is gone or two points are one and the same.
pub fn align_underlay(
    project: &Project,
    id: Id<Underlay>,
    from: [Point; 2],
    to: [Point; 2],
    keep_scale: bool,
) -> Result<Aligned, String> {
    let underlay = project.underlays.get(id).ok_or_else(|| gone("underlay"))?;
    let (aligned, off) = underlay.aligned_by(from, to, keep_scale)?;
    let factor = aligned.mm_per_unit / underlay.mm_per_unit;
    let change = put(project, id, aligned, "Align underlay")?;
    let apart = (to[1] - to[0]).hypot();
    let sentence = if keep_scale {
        format!(
            "Both points miss by {off:.0} mm ({:.2} % of the {apart:.0} mm between them), for the scale was kept.",
            200.0 * off / apart
        )
    } else {
        format!("Both points fit; the scale changed by {:+.2} %.", 100.0 * (factor - 1.0))
    };
    Ok(Aligned { change, sentence })
}

/// Turns an underlay about the first of two points so that the line between them runs level or upright, whichever
/// is nearer.
///
/// # Errors
/// A sentence, where it is gone or the points are one and the same.
pub fn level_underlay(
    project: &Project,
    id: Id<Underlay>,
    first: Point,
    second: Point,
) -> Result<Change, String> {
    let underlay = project.underlays.get(id).ok_or_else(|| gone("underlay"))?;
    put(project, id, underlay.levelled_by(first, second)?, "Straighten underlay")
}

/// Sets how many millimetres of the house one unit of an underlay is; a point of the plan stays.
///
/// # Errors
/// A sentence, where it is gone or the scale is not above zero.
pub fn set_underlay_scale(
    project: &Project,
    id: Id<Underlay>,
    mm_per_unit: f64,
    about: Point,
) -> Result<Change, String> {
    let underlay = project.underlays.get(id).ok_or_else(|| gone("underlay"))?;
    put(project, id, underlay.scaled_to(mm_per_unit, about), "Scale underlay")
}

fn put(project: &Project, id: Id<Underlay>, underlay: Underlay, label: &str) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    draft.put(id, tidy_underlay(underlay));
    draft.finish(label)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::History;
    use crate::edit::verbs::add_underlay;
    use crate::units::Angle;

    fn with_an_underlay() -> (Project, Id<Underlay>) {
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let underlay = Underlay {
            level,
            name: "first floor.pdf".to_owned(),
            media: String::new(),
            page: 2,
            width: 420.0,
            height: 297.0,
            mm_per_unit: 50.0,
            position: Point::ZERO,
            turn: Angle::ZERO,
            opacity: 1.0,
        };
        History::default().apply(&mut project, add_underlay(&Project::new(), underlay).unwrap()).unwrap();
        let id = project.underlays.ids().next().unwrap();
        (project, id)
    }

    #[test]
    fn an_underlay_is_laid_over_another_and_says_how_well_it_fits() {
        let (mut project, id) = with_an_underlay();
        let at = Point::new;
        let (from, to) = ([at(1000.0, 1000.0), at(5000.0, 1000.0)], [at(1100.0, 900.0), at(5140.0, 900.0)]);
        let kept = align_underlay(&project, id, from, to, true).unwrap();
        assert_eq!(
            kept.sentence,
            "Both points miss by 20 mm (0.99 % of the 4040 mm between them), for the scale was kept."
        );
        let scaled = align_underlay(&project, id, from, to, false).unwrap();
        assert_eq!(scaled.sentence, "Both points fit; the scale changed by +1.00 %.");
        History::default().apply(&mut project, scaled.change).unwrap();
        assert!((project.underlays.get(id).unwrap().mm_per_unit - 50.5).abs() < 1e-9);
        assert!(align_underlay(&project, Id::from_number(99), from, to, true).is_err());
    }

    #[test]
    fn an_underlay_is_levelled_and_scaled_and_slips_are_refused() {
        let (project, id) = with_an_underlay();
        let at = Point::new;
        let level = level_underlay(&project, id, at(0.0, 0.0), at(1000.0, 10.0)).unwrap();
        assert_eq!(level.label, "Straighten underlay");
        assert!(level_underlay(&project, id, at(0.0, 0.0), at(0.0, 0.0)).is_err());
        assert!(set_underlay_scale(&project, id, 100.0, at(0.0, 0.0)).is_ok());
        for wrong in [0.0, -50.0, f64::NAN, f64::INFINITY] {
            assert!(set_underlay_scale(&project, id, wrong, at(0.0, 0.0)).is_err(), "{wrong}");
        }
    }
}
