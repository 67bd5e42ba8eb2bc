//! A point of a device: what rules join.

use crate::id::Id;
use crate::kit::Device;

/// One point of one device.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PointRef {
    /// The device.
    pub device: Id<Device>,
    /// The point's name within the device's kind.
    pub point: String,
}

impl PointRef {
    /// The point of that name on that device.
    pub fn new(device: Id<Device>, point: impl Into<String>) -> Self {
        Self { device, point: point.into() }
    }
}
