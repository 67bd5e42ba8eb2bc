//! Which windows a sensor looks at: sun and headlamps through them warm what they fall on, and set body heat off.

use kurbo::Point;

use crate::geometry::Region;
use crate::id::Id;
use crate::plan::{Level, Opening, OpeningForm, Wall};
use crate::project::Project;

/// How far in front of the glass a window is looked for in the sensor's view, mm.
const BEFORE_GLASS_MM: f64 = 20.0;

/// Parts of a window's width that are looked at: its middle, and near either reveal.
const LOOKED_AT: [f64; 3] = [-0.4, 0.0, 0.4];

/// The windows of a level that a view from a point holds, by id; those of the sensor's own wall left out.
pub fn windows_seen(
    project: &Project,
    level: Id<Level>,
    own_wall: Option<Id<Wall>>,
    from: Point,
    view: &Region,
) -> Vec<Id<Opening>> {
    let is_seen = |opening: &Opening, wall: &Wall| {
        LOOKED_AT.iter().any(|part| {
            let side = wall.side_of(from);
            let glass = wall.on_face(opening.centre + opening.width * *part, side);
            view.contains(glass + wall.normal(side) * BEFORE_GLASS_MM)
        })
    };
    project
        .openings_on(level)
        .filter(|(_, opening, _)| matches!(opening.form, OpeningForm::Window { .. }))
        .filter(|(_, opening, wall)| own_wall != Some(opening.wall) && is_seen(opening, wall))
        .map(|(id, _, _)| id)
        .collect()
}
