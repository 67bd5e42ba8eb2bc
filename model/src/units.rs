//! Quantities with their units, so that a height can never be taken for a width in feet.
//!
//! Lengths are millimetres inside, angles radians, areas square millimetres. People type lengths the way the
//! trade writes them (`2100`, `2.1m`, `7ft 6in`, `7' 6"`); [`Length::parse`] reads all of these.

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A length in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

/// Millimetres in one inch, exact by definition (international yard and pound agreement, 1959).
const MM_PER_INCH: f64 = 25.4;

/// Millimetres in one foot of twelve inches.
const MM_PER_FOOT: f64 = 304.8;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);

    /// A length of so many millimetres.
    pub const fn mm(value: f64) -> Self {
        Self(value)
    }

    /// A length of so many metres.
    pub fn m(value: f64) -> Self {
        Self(value * 1000.0)
    }

    /// The length in millimetres.
    pub const fn as_mm(self) -> f64 {
        self.0
    }

    /// The length in metres.
    pub fn as_m(self) -> f64 {
        self.0 / 1000.0
    }

    /// Rounded to the tenth of a millimetre that authored figures are kept to.
    pub fn rounded(self) -> Self {
        Self(round_to_tenth(self.0))
    }

    /// Reads a length as people type it: `2100`, `2100mm`, `2.1m`, `210 cm`, `7ft`, `7ft 6in`, `7' 6 1/2"`,
    /// `7'-6"`. A bare number is millimetres, after feet inches. A comma is taken as the decimal point.
    ///
    /// # Errors
    /// A sentence that says what is wrong and shows what would do.
    ///
    /// ```
    /// use pattress_model::units::Length;
    /// assert_eq!(Length::parse("2.1m").unwrap(), Length::mm(2100.0));
    /// assert_eq!(Length::parse("7ft").unwrap(), Length::mm(2133.6));
    /// ```
    pub fn parse(text: &str) -> Result<Self, String> {
        let refusal = || format!("“{}” is not a length: type 2100, 2.1m or 7ft 6in", text.trim());
        let cleaned = text
            .trim()
            .to_lowercase()
            .replace(',', ".")
            .replace("''", "\"")
            .replace(['′', '’'], "'")
            .replace(['″', '”'], "\"");
        let (negative, mut rest) = match cleaned.strip_prefix('-') {
            Some(rest) => (true, rest.trim_start()),
            None => (false, cleaned.as_str()),
        };
        if rest.is_empty() {
            return Err(refusal());
        }
        let mut total = 0.0;
        let mut after_feet = false;
        while !rest.is_empty() {
            let (value, after_number) = take_number(rest).ok_or_else(refusal)?;
            let after_number = after_number.trim_start();
            let unit_end = after_number
                .find(|c: char| c.is_ascii_digit() || c == '.' || c.is_whitespace())
                .unwrap_or(after_number.len());
            let (unit, after_unit) = after_number.split_at(unit_end);
            // Drawings part feet from inches by a dash (7'-6").
            let (unit, dashed) = match unit.strip_suffix('-') {
                Some(unit) => (unit, true),
                None => (unit, false),
            };
            let is_feet = matches!(unit, "ft" | "feet" | "foot" | "'");
            total += value
                * match unit {
                    "" if after_feet => MM_PER_INCH,
                    "" | "mm" => 1.0,
                    "cm" => 10.0,
                    "m" | "metre" | "metres" | "meter" | "meters" => 1000.0,
                    "in" | "inch" | "inches" | "\"" => MM_PER_INCH,
                    _ if is_feet => MM_PER_FOOT,
                    _ => return Err(refusal()),
                };
            let remains = after_unit.trim_start();
            rest = match remains.strip_prefix('-') {
                Some(inches) if is_feet => inches.trim_start(),
                _ => remains,
            };
            if dashed && (!is_feet || rest.is_empty()) {
                return Err(refusal());
            }
            after_feet = is_feet;
        }
        let total = if negative { -total } else { total };
        if total.is_finite() { Ok(Self(total)) } else { Err(refusal()) }
    }
}

/// A number at the start of `text`, with an optional fraction after it (`6 1/2`), and what follows.
fn take_number(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    let whole: f64 = digits.parse().ok()?;
    if let Some(after_slash) = rest.strip_prefix('/') {
        let end = after_slash.find(|c: char| !c.is_ascii_digit()).unwrap_or(after_slash.len());
        let divisor: f64 = after_slash[..end].parse().ok()?;
        return (divisor > 0.0).then(|| (whole / divisor, &after_slash[end..]));
    }
    let trimmed = rest.trim_start();
    if trimmed.len() < rest.len()
        && let Some(slash) = trimmed.find('/')
        && !trimmed[..slash].is_empty()
        && trimmed[..slash].chars().all(|c| c.is_ascii_digit())
    {
        let (fraction, after) = take_number(trimmed)?;
        return Some((whole + fraction, after));
    }
    Some((whole, rest))
}

/// Rounds millimetres to the tenth that authored coordinates are kept to.
pub fn round_to_tenth(millimetres: f64) -> f64 {
    (millimetres * 10.0).round() / 10.0
}

/// Rounds a point of the plan to the tenth of a millimetre that authored coordinates are kept to.
pub fn round_point(point: kurbo::Point) -> kurbo::Point {
    kurbo::Point::new(round_to_tenth(point.x), round_to_tenth(point.y))
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

/// Whole millimetres without a unit, as drawings write them (`2100`).
impl fmt::Display for Length {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.0.round() as i64)
    }
}

/// A plane angle, anticlockwise from +x.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No turn.
    pub const ZERO: Self = Self(0.0);

    /// An angle of so many degrees.
    pub fn degrees(value: f64) -> Self {
        Self(value.to_radians())
    }

    /// An angle of so many radians.
    pub const fn radians(value: f64) -> Self {
        Self(value)
    }

    /// The angle in degrees, as it was given (not wrapped).
    pub fn as_degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// The angle in radians, as it was given (not wrapped).
    pub const fn as_radians(self) -> f64 {
        self.0
    }

    /// The same direction within 0° (included) and 360° (excluded), to a millionth of a degree.
    pub fn wrapped(self) -> Self {
        let degrees = (self.as_degrees().rem_euclid(360.0) * 1e6).round() / 1e6;
        Self::degrees(if degrees >= 360.0 { 0.0 } else { degrees })
    }

    /// The unit vector that points this way.
    pub fn direction(self) -> kurbo::Vec2 {
        kurbo::Vec2::new(self.0.cos(), self.0.sin())
    }

    /// The angle of a vector from +x.
    pub fn of(vector: kurbo::Vec2) -> Self {
        Self(vector.y.atan2(vector.x))
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

/// Whole degrees with the sign (`45°`).
impl fmt::Display for Angle {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}°", self.as_degrees().round() as i64)
    }
}

/// An area, square millimetres inside.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Area(f64);

impl Area {
    /// An area of so many square millimetres.
    pub const fn mm2(value: f64) -> Self {
        Self(value)
    }

    /// The area in square metres.
    pub fn as_m2(self) -> f64 {
        self.0 / 1e6
    }

    /// The area in square millimetres.
    pub const fn as_mm2(self) -> f64 {
        self.0
    }
}

/// One decimal and the unit (`12.4 m²`).
impl fmt::Display for Area {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:.1} m²", self.as_m2())
    }
}

/// Electrical power in watts.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Watts(pub f64);

impl fmt::Display for Watts {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rounded = (self.0 * 10.0).round() / 10.0;
        write!(out, "{rounded} W")
    }
}

/// Luminous flux in lumens.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Lumens(pub f64);

/// An amount of money in hundredths of the plan's currency.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money {
    /// Hundredths of the currency unit.
    pub hundredths: i64,
}

impl Money {
    /// So many whole units of the currency.
    pub const fn whole(units: i64) -> Self {
        Self { hundredths: units * 100 }
    }

    /// The amount in currency units.
    pub fn as_units(self) -> f64 {
        self.hundredths as f64 / 100.0
    }

    /// So many of these together.
    pub fn times(self, count: usize) -> Self {
        Self { hundredths: self.hundredths.saturating_mul(count as i64) }
    }
}

impl std::iter::Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        Self { hundredths: amounts.map(|amount| amount.hundredths).sum() }
    }
}

impl fmt::Display for Money {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:.2}", self.as_units())
    }
}

/// A span of time in seconds, for delays, fades and how long a light lingers.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Seconds(pub f64);

impl Seconds {
    /// No time.
    pub const ZERO: Self = Self(0.0);

    /// Reads `90`, `90 s`, `1.5 min` or `2 h`; a bare number is seconds.
    ///
    /// # Errors
    /// A sentence that says what is wrong and shows what would do.
    pub fn parse(text: &str) -> Result<Self, String> {
        let refusal = || format!("“{}” is not a time: type 90 s, 5 min or 2 h", text.trim());
        let cleaned = text.trim().to_lowercase().replace(',', ".");
        let end = cleaned.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(cleaned.len());
        let value: f64 = cleaned[..end].parse().map_err(|_| refusal())?;
        let factor = match cleaned[end..].trim() {
            "" | "s" | "sec" | "seconds" => 1.0,
            "min" | "minutes" | "minute" => 60.0,
            "h" | "hours" | "hour" => 3600.0,
            _ => return Err(refusal()),
        };
        Ok(Self(value * factor))
    }
}

/// Seconds, minutes or hours, whichever reads best (`90 s`, `5 min`, `2 h`).
impl fmt::Display for Seconds {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seconds = self.0;
        if seconds >= 3600.0 && seconds % 3600.0 == 0.0 {
            write!(out, "{} h", seconds / 3600.0)
        } else if seconds >= 120.0 && seconds % 60.0 == 0.0 {
            write!(out, "{} min", seconds / 60.0)
        } else {
            write!(out, "{seconds} s")
        }
    }
}

/// A time of day in whole minutes after midnight, 0 to 1439.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct TimeOfDay {
    /// Minutes after midnight.
    pub minutes: u16,
}

impl TimeOfDay {
    /// Reads `22:30` or `7:05`.
    ///
    /// # Errors
    /// A sentence that says what is wrong and shows what would do.
    pub fn parse(text: &str) -> Result<Self, String> {
        let refusal = || format!("“{}” is not a time of day: type 22:30", text.trim());
        let (hours, minutes) = text.trim().split_once(':').ok_or_else(refusal)?;
        let hours: u16 = hours.trim().parse().map_err(|_| refusal())?;
        let minutes: u16 = minutes.trim().parse().map_err(|_| refusal())?;
        if hours < 24 && minutes < 60 { Ok(Self { minutes: hours * 60 + minutes }) } else { Err(refusal()) }
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:02}:{:02}", self.minutes / 60, self.minutes % 60)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_as_people_type_them() {
        for (typed, millimetres) in [
            ("2100", 2100.0),
            ("2100 mm", 2100.0),
            ("2.1m", 2100.0),
            ("2,1 m", 2100.0),
            ("210cm", 2100.0),
            ("7ft", 2133.6),
            ("7ft 6in", 2286.0),
            ("7' 6\"", 2286.0),
            ("7'6 1/2\"", 2298.7),
            ("1/2 in", 12.7),
            ("12'6\"", 3810.0),
            ("12'-6\"", 3810.0),
            ("12' - 6 1/2\"", 3822.7),
            ("12’ 6”", 3810.0),
            ("12 ft 6 in", 3810.0),
            ("12ft6in", 3810.0),
            ("12 feet 6 inches", 3810.0),
            ("12'6", 3810.0),
            ("12 ft 6", 3810.0),
            ("3 metres", 3000.0),
            ("-300", -300.0),
        ] {
            let read = Length::parse(typed).unwrap_or_else(|reason| panic!("{typed}: {reason}"));
            assert!((read.as_mm() - millimetres).abs() < 1e-9, "{typed} gave {}", read.as_mm());
        }
    }

    #[test]
    fn what_is_no_length_is_refused_with_an_example() {
        for typed in [
            "",
            "abc",
            "2 bananas",
            "1/0 in",
            "--3",
            "1e999",
            "2..1m",
            "'",
            "12'-",
            "12-6",
            "12m-6",
            "6\" 12-",
        ] {
            let reason = Length::parse(typed).unwrap_err();
            assert!(reason.contains("2.1m"), "{typed}: {reason}");
        }
    }

    #[test]
    fn times_read_and_print_alike() {
        for text in ["90 s", "5 min", "2 h", "0 s"] {
            assert_eq!(Seconds::parse(text).map(|time| time.to_string()), Ok(text.to_owned()));
        }
        assert_eq!(TimeOfDay::parse("7:05").map(|time| time.to_string()), Ok("07:05".to_owned()));
        assert!(TimeOfDay::parse("25:00").is_err());
    }

    #[test]
    fn angles_wrap_without_drift() {
        assert_eq!(Angle::degrees(-90.0).wrapped().as_degrees(), 270.0);
        assert_eq!(Angle::degrees(720.0).wrapped().as_degrees(), 0.0);
        assert_eq!(Angle::degrees(359.999_999_9).wrapped().as_degrees(), 0.0);
    }
}
