//! Title block and site facts as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{Degrees, Millimetres, PointMm, SecondsV1};
use super::words;
use crate::drawing::Paper;
use crate::project::{CameraEdition, FireCategory, IntrusionAims, LocalClock, Place, Site, SummerTime};
use crate::units::Money;

words! {
    /// A paper size of ISO 216.
    PaperV1 for Paper as "PascalCase" { A4, A3, A2, A1, A0 }
}

words! {
    /// When clocks go forward and back.
    SummerTimeV1 for SummerTime { Never, European }
}

words! {
    /// What the fire alarms are asked to cover: categories of BS 5839-6.
    FireCategoryV1 for FireCategory as "PascalCase" { LD1, LD2, LD3 }
}

words! {
    /// Which edition's levels of detail cameras are judged by (IEC 62676-4).
    CameraEditionV1 for CameraEdition { Of2025, Of2014 }
}

/// Where on Earth the house stands.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct PlaceV1 {
    /// North of the equator.
    latitude: Degrees,
    /// East of Greenwich.
    longitude: Degrees,
}

/// The clock on the wall.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct LocalClockV1 {
    ahead_of_utc_minutes: i16,
    summer_time: SummerTimeV1,
}

/// What the intruder alarm is asked to be.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct IntrusionAimsV1 {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grade: Option<u8>,
    entry_time: SecondsV1,
    exit_time: SecondsV1,
}

impl From<LocalClock> for LocalClockV1 {
    fn from(clock: LocalClock) -> Self {
        Self { ahead_of_utc_minutes: clock.ahead_of_utc_minutes, summer_time: clock.summer_time.into() }
    }
}

impl From<IntrusionAims> for IntrusionAimsV1 {
    fn from(aims: IntrusionAims) -> Self {
        Self { grade: aims.grade, entry_time: aims.entry_time.into(), exit_time: aims.exit_time.into() }
    }
}

/// As a new site has it, for plans from before clocks were kept.
fn usual_clock() -> LocalClockV1 {
    Site::default().clock.into()
}

/// As a new site has them, for plans from before they were kept.
fn usual_intrusion() -> IntrusionAimsV1 {
    Site::default().intrusion.into()
}

/// As a new site has them, for plans from before cameras were judged.
fn usual_camera_levels() -> CameraEditionV1 {
    Site::default().camera_levels.into()
}

/// As a new site has it, for plans from before cameras were judged.
fn usual_camera_target() -> Millimetres {
    Site::default().camera_target.into()
}

/// Title block and site facts.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct SiteV1 {
    project_name: String,
    address: String,
    client: String,
    /// The integrator's firm.
    legal_owner: String,
    /// Whom the household calls: name and number.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    call: String,
    creator: String,
    approver: String,
    /// What drawing numbers start with.
    drawing_prefix: String,
    /// Direction of north on the plan.
    north: Degrees,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    place: Option<PlaceV1>,
    #[serde(default = "usual_clock")]
    clock: LocalClockV1,
    /// The corners of the site.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    boundary: Vec<PointMm>,
    #[serde(default = "usual_intrusion")]
    intrusion: IntrusionAimsV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fire_category: Option<FireCategoryV1>,
    #[serde(default = "usual_camera_levels")]
    camera_levels: CameraEditionV1,
    /// Height of what cameras are judged for.
    #[serde(default = "usual_camera_target")]
    camera_target: Millimetres,
    currency: String,
    /// Price of one hour of fitting, hundredths of the currency.
    hourly_rate_hundredths: i64,
    /// ISO 8601, such as 2026-03-31; empty where none is set.
    issue_date: String,
    paper: PaperV1,
    /// 50 for 1:50.
    scale: u32,
}

impl From<&Site> for SiteV1 {
    fn from(site: &Site) -> Self {
        let Site {
            project_name,
            address,
            client,
            legal_owner,
            call,
            creator,
            approver,
            drawing_prefix,
            north,
            place,
            clock,
            boundary,
            intrusion,
            fire_category,
            camera_levels,
            camera_target,
            currency,
            hourly_rate,
            issue_date,
            paper,
            scale,
        } = site;
        Self {
            project_name: project_name.clone(),
            address: address.clone(),
            client: client.clone(),
            legal_owner: legal_owner.clone(),
            call: call.clone(),
            creator: creator.clone(),
            approver: approver.clone(),
            drawing_prefix: drawing_prefix.clone(),
            north: (*north).into(),
            place: place
                .map(|place| PlaceV1 { latitude: place.latitude.into(), longitude: place.longitude.into() }),
            clock: (*clock).into(),
            boundary: boundary.iter().copied().map(Into::into).collect(),
            intrusion: (*intrusion).into(),
            fire_category: fire_category.map(Into::into),
            camera_levels: (*camera_levels).into(),
            camera_target: (*camera_target).into(),
            currency: currency.clone(),
            hourly_rate_hundredths: hourly_rate.hundredths,
            issue_date: issue_date.clone(),
            paper: (*paper).into(),
            scale: *scale,
        }
    }
}

impl From<SiteV1> for Site {
    fn from(site: SiteV1) -> Self {
        Self {
            project_name: site.project_name,
            address: site.address,
            client: site.client,
            legal_owner: site.legal_owner,
            call: site.call,
            creator: site.creator,
            approver: site.approver,
            drawing_prefix: site.drawing_prefix,
            north: site.north.into(),
            place: site
                .place
                .map(|place| Place { latitude: place.latitude.into(), longitude: place.longitude.into() }),
            clock: LocalClock {
                ahead_of_utc_minutes: site.clock.ahead_of_utc_minutes,
                summer_time: site.clock.summer_time.into(),
            },
            boundary: site.boundary.into_iter().map(Into::into).collect(),
            intrusion: IntrusionAims {
                grade: site.intrusion.grade,
                entry_time: site.intrusion.entry_time.into(),
                exit_time: site.intrusion.exit_time.into(),
            },
            fire_category: site.fire_category.map(Into::into),
            camera_levels: site.camera_levels.into(),
            camera_target: site.camera_target.into(),
            currency: site.currency,
            hourly_rate: Money { hundredths: site.hourly_rate_hundredths },
            issue_date: site.issue_date,
            paper: site.paper.into(),
            scale: site.scale,
        }
    }
}
