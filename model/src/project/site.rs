//! The title block's data and facts of the site.

use kurbo::Point;

use crate::calendar::{LocalClock, SummerTime};
use crate::paper::Paper;
use crate::sun::Place;
use crate::units::{Angle, Length, Money, Seconds};

/// What the intruder alarm is asked to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IntrusionAims {
    /// The grade asked for, 1 to 4 (EN 50131-1); `None` where nobody asked.
    pub grade: Option<u8>,
    /// How long somebody has from the way in to unset it.
    pub entry_time: Seconds,
    /// How long somebody has to leave after setting it.
    pub exit_time: Seconds,
}

/// What the fire alarms are asked to cover (categories of BS 5839-6).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FireCategory {
    /// Every room but toilets and bathrooms.
    LD1,
    /// Escape routes, and rooms of high risk.
    LD2,
    /// Escape routes.
    LD3,
}

impl FireCategory {
    /// Every category, the fullest first.
    pub const ALL: [Self; 3] = [Self::LD1, Self::LD2, Self::LD3];

    /// The category's own name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::LD1 => "LD1",
            Self::LD2 => "LD2",
            Self::LD3 => "LD3",
        }
    }
}

/// Which edition's levels of detail cameras are judged by; the levels are in [`crate::limits::camera_levels`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CameraEdition {
    /// IEC 62676-4:2025.
    Of2025,
    /// IEC 62676-4:2014, which is BS EN 62676-4:2015.
    Of2014,
}

impl CameraEdition {
    /// Every edition, the one in force first.
    pub const ALL: [Self; 2] = [Self::Of2025, Self::Of2014];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Of2025 => "levels of 2025",
            Self::Of2014 => "levels of 2014",
        }
    }
}

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
    /// Whom the household calls when something does not work: name and number; empty where nobody is named, which is
    /// printed as missing.
    pub call: String,
    /// Who drew it.
    pub creator: String,
    /// Who approves it.
    pub approver: String,
    /// What drawing numbers start with (`FC`).
    pub drawing_prefix: String,
    /// Direction of north on the plan, from +x.
    pub north: Angle,
    /// Where it stands, for the sun; `None` until somebody says.
    pub place: Option<Place>,
    /// The clock on its walls.
    pub clock: LocalClock,
    /// The corners of the site, in plan mm, in order round it; empty where nobody drew it.
    pub boundary: Vec<Point>,
    /// What the intruder alarm is asked to be.
    pub intrusion: IntrusionAims,
    /// What the fire alarms are asked to cover; `None` where nobody asked.
    pub fire_category: Option<FireCategory>,
    /// Which edition's levels of detail its cameras are judged by.
    pub camera_levels: CameraEdition,
    /// Height above the floor of what its cameras' bands of detail are drawn for.
    pub camera_target: Length,
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
            call: String::new(),
            creator: String::new(),
            approver: String::new(),
            drawing_prefix: "HA".to_owned(),
            north: Angle::degrees(90.0),
            place: None,
            clock: LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European },
            boundary: Vec::new(),
            // 30 s is common practice, no published source; the standard's own limits are in `limits`.
            intrusion: IntrusionAims { grade: None, entry_time: Seconds(30.0), exit_time: Seconds(30.0) },
            fire_category: None,
            camera_levels: CameraEdition::Of2025,
            // A face (adult eye level, from memory).
            camera_target: Length::mm(1600.0),
            currency: "GBP".to_owned(),
            hourly_rate: Money::whole(50),
            issue_date: String::new(),
            paper: Paper::A3,
            scale: 50,
        }
    }
}
