//! Figures as they stand in the file: whole numbers without decimals, angles in degrees, short texts for
//! tags, times and colours.

use kurbo::Point;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize, Serializer};

use crate::id::Id;
use crate::kit::Tag;
use crate::units::{Angle, Length, Seconds, TimeOfDay};

/// Above this, not every whole number has its own `f64`, and the shortest decimal form is written instead.
const EXACT_WHOLE: f64 = 9.0e15;

fn write_plainly<S: Serializer>(value: f64, serializer: S) -> Result<S::Ok, S::Error> {
    if value.fract() == 0.0 && value.abs() < EXACT_WHOLE {
        serializer.serialize_i64(value as i64)
    } else {
        serializer.serialize_f64(value)
    }
}

macro_rules! figures {
    ($($(#[$doc:meta])* $name:ident),+) => {
        $($(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Deserialize, JsonSchema)]
        pub(in crate::store) struct $name(pub f64);

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                write_plainly(self.0, serializer)
            }
        })+
    };
}

figures! {
    /// A plain number.
    Figure,
    /// A length in millimetres.
    Millimetres,
    /// An angle in degrees, anticlockwise from +x, to a millionth.
    Degrees,
    /// A time in seconds.
    SecondsV1
}

impl From<Length> for Millimetres {
    fn from(length: Length) -> Self {
        Self(length.as_mm())
    }
}

impl From<Millimetres> for Length {
    fn from(length: Millimetres) -> Self {
        Self::mm(length.0)
    }
}

/// Radians hold no degree exactly, so degrees are rounded to a millionth: what is read again and written again
/// is then the same text.
impl From<Angle> for Degrees {
    fn from(angle: Angle) -> Self {
        Self((angle.as_degrees() * 1e6).round() / 1e6)
    }
}

impl From<Degrees> for Angle {
    fn from(angle: Degrees) -> Self {
        Self::degrees(angle.0)
    }
}

impl From<Seconds> for SecondsV1 {
    fn from(time: Seconds) -> Self {
        Self(time.0)
    }
}

impl From<SecondsV1> for Seconds {
    fn from(time: SecondsV1) -> Self {
        Self(time.0)
    }
}

impl Degrees {
    pub(in crate::store) fn is_none(&self) -> bool {
        self.0 == 0.0
    }

    pub(in crate::store) fn none() -> Self {
        Self(0.0)
    }
}

impl SecondsV1 {
    pub(in crate::store) fn is_none(&self) -> bool {
        self.0 == 0.0
    }

    pub(in crate::store) fn none() -> Self {
        Self(0.0)
    }
}

/// A point of the plan: x to the right, y up, millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(in crate::store) struct PointMm([Figure; 2]);

impl From<Point> for PointMm {
    fn from(point: Point) -> Self {
        Self([Figure(point.x), Figure(point.y)])
    }
}

impl From<PointMm> for Point {
    fn from(PointMm([x, y]): PointMm) -> Self {
        Self::new(x.0, y.0)
    }
}

/// The number of a thing; each is given once and never again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "u32", into = "u32")]
#[schemars(with = "u32")]
pub(in crate::store) struct IdV1(u32);

/// Numbers above this are refused, so that fresh ones can always be given.
const HIGHEST_ID: u32 = 4_000_000_000;

impl TryFrom<u32> for IdV1 {
    type Error = String;
    fn try_from(number: u32) -> Result<Self, String> {
        if number <= HIGHEST_ID { Ok(Self(number)) } else { Err(format!("{number} is too high for an id")) }
    }
}

impl From<IdV1> for u32 {
    fn from(id: IdV1) -> Self {
        id.0
    }
}

impl IdV1 {
    pub(in crate::store) fn number(number: u32) -> Self {
        Self(number)
    }
}

impl<T> From<Id<T>> for IdV1 {
    fn from(id: Id<T>) -> Self {
        Self(id.number())
    }
}

impl<T> From<IdV1> for Id<T> {
    fn from(id: IdV1) -> Self {
        Self::from_number(id.0)
    }
}

/// The number of a tag.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "u32", into = "u32")]
#[schemars(with = "u32")]
pub(in crate::store) struct TagNumber(pub u32);

/// No house has so many devices of one kind; a higher number is a slip.
const HIGHEST_TAG: u32 = 99_999_999;

impl TryFrom<u32> for TagNumber {
    type Error = String;
    fn try_from(number: u32) -> Result<Self, String> {
        if number <= HIGHEST_TAG { Ok(Self(number)) } else { Err(format!("{number} is too high for a tag")) }
    }
}

impl From<TagNumber> for u32 {
    fn from(number: TagNumber) -> Self {
        number.0
    }
}

/// Declares a thing that stands in the file as a short text.
macro_rules! short_texts {
    ($($(#[$doc:meta])* $name:ident($inner:ty)),+ $(,)?) => {
        $($(#[$doc])*
        #[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
        #[serde(try_from = "String", into = "String")]
        #[schemars(with = "String")]
        pub(in crate::store) struct $name(pub $inner);)+
    };
}

short_texts! {
    /// A tag as it stands on paper: letter code, hyphen, number, such as `PIR-03`.
    TagV1(Tag),
    /// A time of day such as `22:30`.
    TimeV1(TimeOfDay),
    /// A colour such as `#ffaa00`, sRGB.
    ColourV1([u8; 3]),
}

impl From<TagV1> for String {
    fn from(tag: TagV1) -> Self {
        tag.0.to_string()
    }
}

impl TryFrom<String> for TagV1 {
    type Error = String;
    fn try_from(text: String) -> Result<Self, String> {
        let refusal = || format!("“{text}” is not a tag such as PIR-03");
        let (code, digits) = text.rsplit_once('-').ok_or_else(refusal)?;
        if !digits.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(refusal());
        }
        let number = TagNumber::try_from(digits.parse::<u32>().map_err(|_| refusal())?)?.0;
        Ok(Self(Tag { code: code.to_owned(), number }))
    }
}

impl From<TimeV1> for String {
    fn from(time: TimeV1) -> Self {
        time.0.to_string()
    }
}

impl TryFrom<String> for TimeV1 {
    type Error = String;
    fn try_from(text: String) -> Result<Self, String> {
        TimeOfDay::parse(&text).map(Self)
    }
}

impl From<ColourV1> for String {
    fn from(ColourV1([red, green, blue]): ColourV1) -> Self {
        format!("#{red:02x}{green:02x}{blue:02x}")
    }
}

impl TryFrom<String> for ColourV1 {
    type Error = String;
    fn try_from(text: String) -> Result<Self, String> {
        let refusal = || format!("“{text}” is not a colour such as #ffaa00");
        let digits = text.strip_prefix('#').ok_or_else(refusal)?;
        if digits.len() != 6 || !digits.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(refusal());
        }
        let [_, red, green, blue] = u32::from_str_radix(digits, 16).map_err(|_| refusal())?.to_be_bytes();
        Ok(Self([red, green, blue]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_no_needless_decimals() {
        for (value, text) in
            [(2100.0, "2100"), (-0.0, "0"), (0.1, "0.1"), (1.0e16, "1e+16"), (-12.5, "-12.5")]
        {
            assert_eq!(serde_json::to_string(&Figure(value)).unwrap(), text);
        }
    }

    #[test]
    fn every_millionth_of_a_degree_comes_back_as_the_same_text() {
        for millionths in (0..360_000_000_u32).step_by(71_993) {
            let degrees = f64::from(millionths) / 1e6;
            let back = Degrees::from(Angle::degrees(degrees)).0;
            assert_eq!(back, degrees);
        }
    }

    #[test]
    fn short_texts_are_read_strictly() {
        for text in ["PIR", "PIR-", "PIR-x", "PIR-+3", "PIR-99999999999"] {
            assert!(TagV1::try_from(text.to_owned()).is_err(), "{text}");
        }
        assert_eq!(
            TagV1::try_from("A-B-07".to_owned()).unwrap().0,
            Tag { code: "A-B".to_owned(), number: 7 }
        );
        for text in ["ffaa00", "#ffaa0", "#ffaa0g", "#+faa00", "#ééé"] {
            assert!(ColourV1::try_from(text.to_owned()).is_err(), "{text}");
        }
        assert_eq!(ColourV1::try_from("#ffaa01".to_owned()).unwrap().0, [255, 170, 1]);
    }
}
