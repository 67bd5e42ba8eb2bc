//! What a kind senses, sees, lights and how loud it is, as it stands in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{Degrees, Figure, Millimetres};
use super::words;
use crate::kit::{
    Detection, FireAlarm, FireGrade, FireSense, Lamp, Loudness, Optics, Pattern, ReachAtHeight, ReachLeft,
    Tier,
};
use crate::plan::Sense;
use crate::units::Lumens;

words! {
    /// A way of sensing.
    SenseV1 for Sense { BodyHeat, Microwave, Dual, Camera, Sound, FireOrGas }
}

/// The plan shape of what a sensor covers.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum PatternV1 {
    /// A fan in front: its whole angle and reach.
    Fan { angle: Degrees, range: Millimetres },
    /// All round.
    Round { radius: Millimetres },
}

/// One layer of a lens, in degrees below its axis.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct TierV1 {
    from: Degrees,
    to: Degrees,
}

/// What is left of the reach, as shares from 0 to 1.
#[derive(Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct ReachLeftV1 {
    /// For somebody who walks towards it.
    towards: Figure,
    /// For somebody who sits with small movements.
    still: Figure,
    /// Beyond one boarded partition or shut door.
    through_board: Figure,
    /// In a warm room.
    warm: Figure,
}

impl From<ReachLeft> for ReachLeftV1 {
    fn from(ReachLeft { towards, still, through_board, warm }: ReachLeft) -> Self {
        Self {
            towards: Figure(towards),
            still: Figure(still),
            through_board: Figure(through_board),
            warm: Figure(warm),
        }
    }
}

impl From<ReachLeftV1> for ReachLeft {
    fn from(left: ReachLeftV1) -> Self {
        Self {
            towards: left.towards.0,
            still: left.still.0,
            through_board: left.through_board.0,
            warm: left.warm.0,
        }
    }
}

fn whole_reach() -> ReachLeftV1 {
    ReachLeft::WHOLE.into()
}

fn is_whole_reach(left: &ReachLeftV1) -> bool {
    *left == whole_reach()
}

/// Radii of a ceiling detector at one mounting height.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct ReachAtHeightV1 {
    mounted: Millimetres,
    walking: Millimetres,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    seated: Option<Millimetres>,
}

/// What a sensor detects, and where.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct DetectionV1 {
    sense: SenseV1,
    pattern: PatternV1,
    /// Layers of its lens; left out where it looks at every height.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    tiers: Vec<TierV1>,
    #[serde(default = "whole_reach", skip_serializing_if = "is_whole_reach")]
    reach_left: ReachLeftV1,
    /// Radii by mounting height, lowest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    by_height: Vec<ReachAtHeightV1>,
}

impl From<&Detection> for DetectionV1 {
    fn from(Detection { sense, pattern, tiers, reach_left, by_height }: &Detection) -> Self {
        let pattern = match *pattern {
            Pattern::Fan { angle, range } => PatternV1::Fan { angle: angle.into(), range: range.into() },
            Pattern::Round { radius } => PatternV1::Round { radius: radius.into() },
        };
        Self {
            sense: (*sense).into(),
            pattern,
            tiers: tiers.iter().map(|tier| TierV1 { from: tier.from.into(), to: tier.to.into() }).collect(),
            reach_left: (*reach_left).into(),
            by_height: by_height
                .iter()
                .map(|reach| ReachAtHeightV1 {
                    mounted: reach.mounted.into(),
                    walking: reach.walking.into(),
                    seated: reach.seated.map(Into::into),
                })
                .collect(),
        }
    }
}

impl From<DetectionV1> for Detection {
    fn from(DetectionV1 { sense, pattern, tiers, reach_left, by_height }: DetectionV1) -> Self {
        let pattern = match pattern {
            PatternV1::Fan { angle, range } => Pattern::Fan { angle: angle.into(), range: range.into() },
            PatternV1::Round { radius } => Pattern::Round { radius: radius.into() },
        };
        Self {
            sense: sense.into(),
            pattern,
            tiers: tiers
                .into_iter()
                .map(|tier| Tier { from: tier.from.into(), to: tier.to.into() })
                .collect(),
            reach_left: reach_left.into(),
            by_height: by_height
                .into_iter()
                .map(|reach| ReachAtHeight {
                    mounted: reach.mounted.into(),
                    walking: reach.walking.into(),
                    seated: reach.seated.map(Into::into),
                })
                .collect(),
        }
    }
}

/// A camera's optics.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct OpticsV1 {
    sensor_width: Millimetres,
    focal_length: Millimetres,
    pixels_across: u32,
    /// Left out by older plans, whose pictures are taken to be 16 wide to 9 high.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pixels_down: Option<u32>,
    /// Horizontal field of view as its maker states it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stated_view: Option<Degrees>,
    drawn_range: Millimetres,
}

impl From<Optics> for OpticsV1 {
    fn from(optics: Optics) -> Self {
        let Optics { sensor_width, focal_length, pixels_across, pixels_down, stated_view, drawn_range } =
            optics;
        Self {
            sensor_width: sensor_width.into(),
            focal_length: focal_length.into(),
            pixels_across,
            pixels_down: Some(pixels_down),
            stated_view: stated_view.map(Into::into),
            drawn_range: drawn_range.into(),
        }
    }
}

impl From<OpticsV1> for Optics {
    fn from(optics: OpticsV1) -> Self {
        let OpticsV1 { sensor_width, focal_length, pixels_across, pixels_down, stated_view, drawn_range } =
            optics;
        Self {
            sensor_width: sensor_width.into(),
            focal_length: focal_length.into(),
            pixels_across,
            pixels_down: pixels_down.unwrap_or_else(|| (pixels_across.saturating_mul(9) / 16).max(1)),
            stated_view: stated_view.map(Into::into),
            drawn_range: drawn_range.into(),
        }
    }
}

words! {
    /// What a fire or gas alarm notices.
    FireSenseV1 for FireSense { Smoke, Heat, SmokeAndHeat, CarbonMonoxide }
}

words! {
    /// How a domestic fire alarm is fed: grades of BS 5839-6.
    FireGradeV1 for FireGrade as "PascalCase" { A, C, D1, D2, F1, F2 }
}

/// A fire or gas alarm.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct FireAlarmV1 {
    notices: FireSenseV1,
    grade: FireGradeV1,
    interlinked: bool,
}

impl From<FireAlarm> for FireAlarmV1 {
    fn from(FireAlarm { notices, grade, interlinked }: FireAlarm) -> Self {
        Self { notices: notices.into(), grade: grade.into(), interlinked }
    }
}

impl From<FireAlarmV1> for FireAlarm {
    fn from(FireAlarmV1 { notices, grade, interlinked }: FireAlarmV1) -> Self {
        Self { notices: notices.into(), grade: grade.into(), interlinked }
    }
}

/// How loud something is.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct LoudnessV1 {
    /// dB(A).
    level_dba: Figure,
    /// At this distance.
    at: Millimetres,
}

impl From<Loudness> for LoudnessV1 {
    fn from(Loudness { level_dba, at }: Loudness) -> Self {
        Self { level_dba: Figure(level_dba), at: at.into() }
    }
}

impl From<LoudnessV1> for Loudness {
    fn from(LoudnessV1 { level_dba, at }: LoudnessV1) -> Self {
        Self { level_dba: level_dba.0, at: at.into() }
    }
}

/// What a luminaire gives.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct LampV1 {
    /// Luminous flux, lumens.
    flux: Figure,
    /// Full beam angle at half the peak intensity; left out where light goes all round.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    beam: Option<Degrees>,
    /// Kelvin.
    colour_temperature_k: u16,
    dims: bool,
}

impl From<Lamp> for LampV1 {
    fn from(Lamp { flux, beam, colour_temperature_k, dims }: Lamp) -> Self {
        Self { flux: Figure(flux.0), beam: beam.map(Into::into), colour_temperature_k, dims }
    }
}

impl From<LampV1> for Lamp {
    fn from(LampV1 { flux, beam, colour_temperature_k, dims }: LampV1) -> Self {
        Self { flux: Lumens(flux.0), beam: beam.map(Into::into), colour_temperature_k, dims }
    }
}
