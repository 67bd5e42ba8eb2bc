//! Lay one drawing over another, or in the place of another.
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
    let mut draft = Draft::of(project);
    draft.put(id, tidy_underlay(aligned));
    let change = draft.finish("Align underlay")?;
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

/// Lays a photograph made square in the place of the photograph, which is kept, hidden.
///
/// # Errors
/// A sentence, where the photograph is gone or the new picture has no scale.
pub fn lay_squared(project: &Project, photograph: Id<Underlay>, squared: Underlay) -> Result<Change, String> {
    let kept = project.underlays.get(photograph).ok_or_else(|| gone("underlay"))?;
    let label = format!("Square up {}", kept.name);
    let mut draft = Draft::of(project);
    draft.put(photograph, Underlay { opacity: 0.0, ..kept.clone() });
    draft.add(tidy_underlay(squared));
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
            scale_from: None,
            second_length: None,
            position: Point::ZERO,
            turn: Angle::ZERO,
            opacity: 1.0,
            on_sheets: false,
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
    fn a_squared_picture_takes_the_place_of_its_photograph_which_is_kept_hidden() {
        let (mut project, id) = with_an_underlay();
        let squared = Underlay { name: "squared".to_owned(), ..project.underlays.get(id).unwrap().clone() };
        let change = lay_squared(&project, id, squared.clone()).unwrap();
        assert_eq!(change.label, "Square up first floor.pdf");
        History::default().apply(&mut project, change).unwrap();
        let shown: Vec<(&str, f64)> = project
            .underlays
            .iter()
            .map(|(_, underlay)| (underlay.name.as_str(), underlay.opacity))
            .collect();
        assert_eq!(shown, [("first floor.pdf", 0.0), ("squared", 1.0)]);
        assert!(lay_squared(&project, Id::from_number(99), squared).is_err());
    }
}
