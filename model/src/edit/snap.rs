//! Where a click lands: what the pointer catches, and why.
//!
//! Points of the plan catch wall ends, middles, faces and right angles ([`point`]); devices catch what they are
//! fixed to ([`host`]). A ghost shows the distances that someone with a tape would measure ([`distances`]).

pub mod host;

pub use host::{Face, nearest_face};
