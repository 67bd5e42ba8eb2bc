//! Where the sun stands, by the low-precision formulae of the Astronomical Almanac (page C5, to 0.01° between 1950
//! and 2050; from memory).

/// Where the sun's centre stands, in degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    /// Above the horizon, refraction included.
    pub height: f64,
    /// From true north, clockwise, 0 to 360.
    pub bearing: f64,
}

impl Sun {
    /// Whether some of its disc is over the horizon: its centre no more than 16' of arc under it.
    pub fn is_up(self) -> bool {
        self.height > -16.0 / 60.0
    }
}

/// Where it stands at a minute since 1970 for somebody at a place, in degrees north and east.
pub fn sun_over(latitude: f64, longitude: f64, minute: i64) -> Sun {
    // 2000-01-01T12:00 was minute 15 778 800.
    let days = (minute - 15_778_800) as f64 / 1440.0;
    let mean_longitude = 280.460 + 0.985_647_4 * days;
    let anomaly = (357.528 + 0.985_600_3 * days).to_radians();
    let along_ecliptic =
        (mean_longitude + 1.915 * anomaly.sin() + 0.020 * (2.0 * anomaly).sin()).to_radians();
    let tilt = (23.439 - 0.000_000_4 * days).to_radians();
    let right_ascension = (tilt.cos() * along_ecliptic.sin()).atan2(along_ecliptic.cos());
    let declination = (tilt.sin() * along_ecliptic.sin()).asin();
    let sidereal = (280.460_618_37 + 360.985_647_366_29 * days + longitude).to_radians();
    let hour_angle = sidereal - right_ascension;
    let latitude = latitude.to_radians();
    let height =
        (latitude.sin() * declination.sin() + latitude.cos() * declination.cos() * hour_angle.cos()).asin();
    let east = -declination.cos() * hour_angle.sin();
    let north = declination.sin() * latitude.cos() - declination.cos() * hour_angle.cos() * latitude.sin();
    Sun { height: lifted(height.to_degrees()), bearing: east.atan2(north).to_degrees().rem_euclid(360.0) }
}

/// A height with refraction, by Saemundsson's formula as Meeus gives it (Astronomical Algorithms, 16.4; from memory).
/// Far under the horizon there is none to speak of.
fn lifted(height: f64) -> f64 {
    if height < -1.0 {
        return height;
    }
    height + 1.02 / 60.0 / (height + 10.3 / (height + 5.11)).to_radians().tan()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::clock::{DAY, days_to};

    /// Meeus, Astronomical Algorithms, example 25.a: on 1992-10-13 at 0 h the sun's declination is -7.785°; at the
    /// pole the sun stands as high as its declination.
    #[test]
    fn at_the_pole_it_stands_at_its_declination() {
        let sun = sun_over(90.0, 0.0, days_to(1992, 10, 13) * DAY);
        assert!((sun.height + 7.785).abs() < 0.02, "{sun:?}");
    }

    #[test]
    fn at_noon_it_stands_in_the_south_and_in_the_morning_in_the_east() {
        let noon = sun_over(51.5, 0.0, days_to(2026, 6, 21) * DAY + 722);
        assert!((noon.bearing - 180.0).abs() < 1.0 && (noon.height - 61.9).abs() < 0.2, "{noon:?}");
        let morning = sun_over(51.5, 0.0, days_to(2026, 3, 20) * DAY + 370);
        assert!((morning.bearing - 90.0).abs() < 4.0 && morning.height.abs() < 2.0, "{morning:?}");
    }
}
