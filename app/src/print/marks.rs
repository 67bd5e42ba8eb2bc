//! Marks: what lies on the paper, in order, with nothing of the house left in it.
//!
//! Coordinates are millimetres from the paper's upper left corner, y down, as all three formats count.

use kurbo::{Affine, BezPath, Point, Rect};
use pattress_model::drawing::style::Rgba;
use pattress_model::drawing::{Item, Shape, Sheet, Weight, hatch_lines, lettering, style_of};
use pattress_model::units::Angle;

/// One thing on the paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A filled area, even-odd.
    Area {
        /// Its outline.
        path: BezPath,
        /// Its colour.
        fill: Rgba,
    },
    /// A stroked line, butt ends, mitred corners.
    Line {
        /// Its course.
        path: BezPath,
        /// Its colour.
        ink: Rgba,
        /// Its width, mm.
        width_mm: f64,
        /// Dash and gap, mm.
        dash_mm: Option<[f64; 2]>,
    },
    /// A line of text.
    Letters {
        /// Start of the base line.
        start: Point,
        /// Direction of the base line, anticlockwise as seen.
        turn: Angle,
        /// The letters as printed.
        letters: Vec<lettering::Letter>,
        /// Size of the type, mm.
        size_mm: f64,
        /// Weight.
        weight: Weight,
        /// Colour.
        ink: Rgba,
    },
    /// A picture or a page of the media.
    Picture {
        /// Its name.
        media: String,
        /// Which page of it, from 1.
        page: u32,
        /// Places its own units (y down) on the paper.
        plan_from_units: Affine,
        /// Width and height in its own units.
        size: (f64, f64),
        /// 0 to 1.
        opacity: f64,
        /// The part of the paper in which it shows; `None` where it shows whole.
        within: Option<Rect>,
    },
}

/// Mitres longer than so many widths are cut off.
pub const MITRE_LIMIT: f64 = 4.0;

/// Everything on a sheet, bottom first: the plan layer by layer, then the frame.
pub fn marks(sheet: &Sheet) -> Vec<Mark> {
    let mut on_plan: Vec<&Item> = sheet.plan.iter().collect();
    on_plan.sort_by_key(|item| item.layer);
    let mut marks = Vec::new();
    for item in on_plan {
        add(&mut marks, item, sheet.paper_from_plan, sheet.paper.size_mm().1);
    }
    for item in &sheet.frame {
        add(&mut marks, item, Affine::IDENTITY, sheet.paper.size_mm().1);
    }
    marks
}

fn add(marks: &mut Vec<Mark>, item: &Item, paper: Affine, paper_height: f64) {
    let y_down = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, paper_height]);
    let style = style_of(item.role);
    match &item.shape {
        Shape::Path(path) => {
            let on_paper = paper * path;
            if on_paper.elements().is_empty() || !on_paper.is_finite() {
                return;
            }
            let path = y_down * &on_paper;
            if let Some(fill) = style.fill {
                marks.push(Mark::Area { path: path.clone(), fill });
            }
            if let Some(hatch) = &style.hatch {
                let mut lines = BezPath::new();
                for line in hatch_lines(&on_paper, hatch.degrees, hatch.spacing_mm) {
                    lines.move_to(line.p0);
                    lines.line_to(line.p1);
                }
                if !lines.elements().is_empty() {
                    let (ink, width_mm) = (style.ink, hatch.width_mm);
                    marks.push(Mark::Line { path: y_down * lines, ink, width_mm, dash_mm: None });
                }
            }
            if style.width_mm > 0.0 {
                let (ink, width_mm, dash_mm) = (style.ink, style.width_mm, style.dash_mm);
                marks.push(Mark::Line { path, ink, width_mm, dash_mm });
            }
        }
        Shape::Text { at, text, height_mm, weight, anchor, turn } => {
            let letters: Vec<_> = lettering::letters(text, *weight).collect();
            if letters.iter().all(|letter| letter.letter.is_whitespace()) {
                return;
            }
            let width = lettering::width(text, *height_mm, *weight);
            let offset = lettering::start_from_anchor(*anchor, width, *height_mm);
            let along = turn.direction();
            let up = kurbo::Vec2::new(-along.y, along.x);
            let start = y_down * (paper * *at + along * offset.x + up * offset.y);
            let size_mm = lettering::size_of(*height_mm);
            marks.push(Mark::Letters {
                start,
                turn: *turn,
                letters,
                size_mm,
                weight: *weight,
                ink: style.ink,
            });
        }
        Shape::Picture { media, page, plan_from_units, size, opacity, within } => marks.push(Mark::Picture {
            media: media.clone(),
            page: *page,
            plan_from_units: y_down * paper * *plan_from_units,
            size: *size,
            opacity: opacity.clamp(0.0, 1.0),
            within: within.map(|within| (y_down * paper).transform_rect_bbox(within)),
        }),
    }
}
