//! The sheets: the one under the plan on the board, and the preview of all.

use kurbo::{Affine, Vec2};
use pattress_model::drawing::Sheet;
use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::project::Project;

/// The sheet that the plan of a level lies on while it is worked at.
pub fn board_sheet(project: &Project, _level: Id<Level>) -> Sheet {
    let paper = project.site.paper;
    let (width, height) = paper.size_mm();
    Sheet {
        number: String::new(),
        title: String::new(),
        paper,
        scale: project.site.scale,
        paper_from_plan: Affine::translate(Vec2::new(width / 2.0, height / 2.0))
            * Affine::scale(1.0 / f64::from(project.site.scale)),
        plan: Vec::new(),
        frame: Vec::new(),
    }
}
