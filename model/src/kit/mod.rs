//! What can be placed: kinds of device with their capabilities as values, and the devices themselves.
//!
//! A [`Kind`] says all that is true of every device of that kind; what it can sense, light or report is data
//! ([`Detection`], [`Optics`], [`Lamp`], [`PointSpec`]), so that the integrator's own kinds are as good as
//! ours. The [`catalogue`] is what the tool ships: generic kinds with invented round prices. The kit used
//! travels with the plan.

pub mod battery;
pub mod capability;
pub mod catalogue;
pub mod device;
pub mod drives;
pub mod kind;
pub mod plate;

pub use battery::Battery;
pub use capability::{
    Detection, FireAlarm, FireGrade, FireSense, Lamp, Loudness, Movement, Optics, Pattern, PointRole,
    PointSpec, PointType, ReachAtHeight, ReachLeft, Tier, WIDEST_FLAT_VIEW_DEGREES,
};
pub use device::{Device, Mount, Tag};
pub use drives::Drives;
pub use kind::{BackBox, Family, Kind, MountKind, Supply, Symbol};
pub use plate::{KeyLegend, MOST_LETTERS_OF_A_LINE, PlateFace, PlateLegend};
