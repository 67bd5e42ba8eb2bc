//! The title block's data and facts of the site.

use crate::paper::Paper;
use crate::units::{Angle, Money};

/// What goes into the title block and onto the drawing list.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// The job (`Ferry Cottage`).
    pub project_name: String,
    /// Where it is, in one line.
    pub address: String,
    /// For whom.
    pub client: String,
    /// Who owns the drawing: the integrator's firm.
    pub legal_owner: String,
    /// Who drew it.
    pub creator: String,
    /// Who approves it.
    pub approver: String,
    /// What drawing numbers start with (`FC`).
    pub drawing_prefix: String,
    /// Direction of north on the plan, from +x.
    pub north: Angle,
    /// Currency of all prices (`GBP`).
    pub currency: String,
    /// Price of one hour of fitting, in hundredths of the currency.
    pub hourly_rate: Money,
    /// Date of issue that goes into the title block, `2026-03-31` (ISO 8601); empty where none is set, which
    /// is printed as missing. It is a decision, so that the same plan always gives the same sheets.
    pub issue_date: String,
    /// Paper on which plans are issued unless said otherwise.
    pub paper: Paper,
    /// Scale at which plans are issued unless said otherwise: 50 for 1:50.
    pub scale: u32,
}

impl Default for Site {
    fn default() -> Self {
        Self {
            project_name: "Untitled house".to_owned(),
            address: String::new(),
            client: String::new(),
            legal_owner: String::new(),
            creator: String::new(),
            approver: String::new(),
            drawing_prefix: "HA".to_owned(),
            north: Angle::degrees(90.0),
            currency: "GBP".to_owned(),
            hourly_rate: Money::whole(50),
            issue_date: String::new(),
            paper: Paper::A3,
            scale: 50,
        }
    }
}
