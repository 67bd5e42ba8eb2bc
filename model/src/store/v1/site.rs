//! Title block and site facts as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::Degrees;
use super::words;
use crate::drawing::Paper;
use crate::project::Site;
use crate::units::Money;

words! {
    /// A paper size of ISO 216.
    PaperV1 for Paper as "PascalCase" { A4, A3, A2, A1, A0 }
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
    creator: String,
    approver: String,
    /// What drawing numbers start with.
    drawing_prefix: String,
    /// Direction of north on the plan.
    north: Degrees,
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
            creator,
            approver,
            drawing_prefix,
            north,
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
            creator: creator.clone(),
            approver: approver.clone(),
            drawing_prefix: drawing_prefix.clone(),
            north: (*north).into(),
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
            creator: site.creator,
            approver: site.approver,
            drawing_prefix: site.drawing_prefix,
            north: site.north.into(),
            currency: site.currency,
            hourly_rate: Money { hundredths: site.hourly_rate_hundredths },
            issue_date: site.issue_date,
            paper: site.paper.into(),
            scale: site.scale,
        }
    }
}
