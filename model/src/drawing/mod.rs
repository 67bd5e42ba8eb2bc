//! The display list: one drawing that the window paints and every printer writes.
//!
//! An [`Item`] is a shape with a [`Role`] (which decides its line weight, colour and hatch) and the thing it
//! stands for, so that picking hits what is seen. Shapes of a plan are in plan millimetres; weights and text
//! heights are always millimetres on paper, as a draughtsman gives them. A [`Sheet`] is a plan placed on paper
//! at a scale, with its frame in paper millimetres.

pub mod dimensions;
pub mod hatch;
pub mod item;
pub mod labels;
pub mod lettering;
pub mod pick;
pub mod plan;
pub mod sheet;
pub mod sheets;
pub mod style;
pub mod symbols;

pub use crate::paper::Paper;
pub use hatch::hatch_lines;
pub use item::{Anchor, Item, Layer, Role, Shape, Weight};
pub use sheet::Sheet;
pub use style::{Hatch, Style, style_of};
