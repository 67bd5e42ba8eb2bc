//! A plan placed on paper.

use kurbo::{Affine, Rect};

use super::Item;
use crate::paper::Paper;

/// One sheet: a plan at a scale within a frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Its number within the set (`FC-101`), also the stem of its file names.
    pub number: String,
    /// Its title (`Ground floor: devices`).
    pub title: String,
    /// The paper.
    pub paper: Paper,
    /// 50 for 1:50; 0 for a sheet with no plan on it.
    pub scale: u32,
    /// Places plan millimetres on the paper: millimetres from its lower left corner.
    pub paper_from_plan: Affine,
    /// Where on the paper the plan is drawn, mm; nothing of it lies beyond. Empty for a sheet with no plan on it.
    pub area: Rect,
    /// Items in plan millimetres; weights and letter heights are on paper.
    pub plan: Vec<Item>,
    /// Items in paper millimetres: frame, title block, legend, notes.
    pub frame: Vec<Item>,
}
