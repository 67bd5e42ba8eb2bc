//! A plan as display-list items: what a draughtsman would ink, layer by layer, from the project's decisions.
//!
//! Each file draws one sort of thing and knows nothing of the others; [`level_items`] puts them together from
//! the bottom layer up. Everything is in plan millimetres; `scale` is always the denominator of the drawing's
//! scale, that is plan millimetres to one millimetre of paper.

mod building;
mod cameras;
mod coverage;
mod devices;
mod fittings;
mod ground;
mod level;
mod live;
mod live_leaves;
mod live_words;
mod rooms;
mod section;
mod spots;
mod zones;

pub use building::{building_items, ghost_items, opening_items, room_line_item};
pub use cameras::camera_items;
pub(crate) use cameras::lines_within;
pub use coverage::{coverage_item, coverage_items};
pub use devices::{device_bounds, device_items};
pub use fittings::{joinery_items, underlay_items};
pub(crate) use ground::{halo, mark_box, segments_of, symbol_boxes};
pub use level::{LevelFigures, PlanOptions, level_items};
pub use live::{LiveDrawing, Now};
pub use rooms::room_items;
pub use section::{section_bounds, section_items};
pub(crate) use spots::{LOZENGE_MM, lozenge};
pub use spots::{boundary_within, spot_items, spot_marks};
pub use zones::zone_items;

#[cfg(test)]
pub(crate) mod example;
#[cfg(test)]
mod golden_tests;
