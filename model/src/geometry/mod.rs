//! Pure plane geometry: segments, rings, regions, boolean operations and what can be seen from a point.
//!
//! Every coordinate is a [`kurbo::Point`] in millimetres, x to the right, y upwards. Angles are radians,
//! anticlockwise from the x axis. Outer rings run anticlockwise, holes clockwise. Nothing here reads a
//! clock, a file or the environment, and nothing panics on bad input: non-finite numbers give an empty
//! result or an error, as each item says.

pub mod along;
pub mod around_corners;
mod arrangement;
pub mod label_point;
mod mesh;
pub mod numbers;
pub mod overlay;
pub mod polygon;
pub mod region;
pub mod sector;
pub mod segment;
mod sight_line;
pub mod visibility;
mod visibility_pen;

#[cfg(test)]
mod visibility_tests;

pub use along::stretches_inside;
pub use around_corners::{Farthest, Floor, Reach};
pub use label_point::label_point;
pub use overlay::{
    buffer, cut_along, difference, intersection, ring_without, union_of_regions, union_of_rings,
};
pub use polygon::Ring;
pub use region::{Region, Shape};
pub use segment::{NearestPoint, Segment, SegmentIntersection};
pub use visibility::{Board, Scene, SceneError, View};
