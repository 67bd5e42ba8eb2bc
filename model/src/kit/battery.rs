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

/// Seconds to an hour, hours to a day, days to a year: a year is 365 days throughout.
const SECONDS_PER_HOUR: f64 = 3600.0;
const HOURS_PER_DAY: f64 = 24.0;
const DAYS_PER_YEAR: f64 = 365.0;

impl Battery {
    /// What is drawn in a day with so many messages, mAh: the messages, n × I × t / 3600; what is drawn all the time,
    /// I / 1000 × 24; and what the battery loses by itself, C × p / 100 / 365, taken as even over the years. Plain
    /// arithmetic, no published source.
    pub fn drawn_in_a_day(&self, messages: f64) -> f64 {
        let speaking = messages * self.speaking_ma * self.message.0 / SECONDS_PER_HOUR;
        let standby = self.standby_ua / 1000.0 * HOURS_PER_DAY;
        let lost = self.capacity_mah * self.self_discharge_percent / 100.0 / DAYS_PER_YEAR;
        speaking + standby + lost
    }

    /// How many years it lasts with so many messages a day: C / (what is drawn in a day) / 365. `None` where nothing is
    /// drawn at all. An estimate by the figures of the kind: cold, age and a weak radio shorten it.
    pub fn years(&self, messages: f64) -> Option<f64> {
        let drawn = self.drawn_in_a_day(messages);
        (drawn > 0.0).then(|| self.capacity_mah / drawn / DAYS_PER_YEAR)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A worked example: 1200 mAh, 40 messages a day of 0.1 s at 15 mA, 10 µA all the time, 2 % lost in a year.
    /// Messages: 40 × 15 × 0.1 / 3600 = 0.01667 mAh. Standby: 0.01 × 24 = 0.24 mAh. Lost: 1200 × 0.02 / 365 = 0.06575
    /// mAh. Together 0.32242 mAh a day; 1200 / 0.32242 = 3722 days, 10.2 years.
    #[test]
    fn the_worked_example_comes_out() {
        let battery = Battery::INVENTED;
        assert!((battery.drawn_in_a_day(40.0) - 0.322_42).abs() < 5e-6);
        assert!((battery.years(40.0).unwrap() - 10.197).abs() < 5e-4);
    }

    #[test]
    fn more_messages_and_a_smaller_battery_last_shorter() {
        let battery = Battery { self_discharge_percent: 0.0, ..Battery::INVENTED };
        for (capacity, messages, years) in [
            // Standby alone: 1200 / 0.24 / 365.
            (1200.0, 0.0, 13.6986),
            // 576 messages draw as much as standby: half as long.
            (1200.0, 576.0, 6.8493),
            (600.0, 576.0, 3.4247),
        ] {
            let found = Battery { capacity_mah: capacity, ..battery }.years(messages).unwrap();
            assert!((found - years).abs() < 1e-4, "{capacity} mAh, {messages}: {found}");
        }
        let idle = Battery { standby_ua: 0.0, ..battery };
        assert_eq!(idle.years(0.0), None);
    }
}
