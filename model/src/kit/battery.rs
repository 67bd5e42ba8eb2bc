//! A battery that feeds a device, in the figures from which its life is estimated.

use crate::units::Seconds;

/// A battery and what is drawn from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Battery {
    /// What it holds when new, mAh.
    pub capacity_mah: f64,
    /// What the device draws while it speaks, mA.
    pub speaking_ma: f64,
    /// How long it speaks each time.
    pub message: Seconds,
    /// What it draws all the time, listening and reporting that it is well included, µA.
    pub standby_ua: f64,
    /// What the battery loses by itself in a year, percent of what it holds when new.
    pub self_discharge_percent: f64,
}

impl Battery {
    /// Invented round figures for a small sensor, to be replaced by the maker's: of no battery and no device in
    /// particular.
    pub const INVENTED: Self = Self {
        capacity_mah: 1200.0,
        speaking_ma: 15.0,
        message: Seconds(0.1),
        standby_ua: 10.0,
        self_discharge_percent: 2.0,
    };
}
