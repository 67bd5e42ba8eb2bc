//! Where a click lands: what the pointer catches, and why.
//!
//! Points of the plan catch wall ends, middles, axes and right angles ([`point`]), and lines of the drawing beneath
//! ([`drawing`]); devices catch what they are
//! fixed to ([`device`], [`host`]). A ghost shows the distances that someone with a tape would measure
//! ([`distances`]). An [`SnapIndex`] is prepared once for a level and asked at every move of the pointer.

pub mod device;
pub mod distances;
pub mod drawing;
pub mod host;
pub mod index;
pub mod point;
#[cfg(test)]
mod tests;

pub use device::{HostSnap, snap_to_host};
pub use distances::{Distance, FaceStretch, StretchEnd, distances_for, face_stretch};
pub use drawing::{DrawingBeneath, WallAsDrawn, Wanted, snap_over};
pub use host::{Face, Fixing, HOST_REACH_MM, nearest_face};
pub use index::SnapIndex;
pub use point::{Snap, SnapReason, SnapRequest, snap};
