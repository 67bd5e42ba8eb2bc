//! The pen that draws a symbol: it measures in millimetres on paper, from where the device is.
//!
//! Its x runs the way the device faces and its y to the left of that, so that a form is written down once for
//! every wall. A form against a wall starts on the wall's face; anywhere else the same form is centred on the
//! device. Letters are never turned with it.

use kurbo::{Affine, BezPath, Circle, Point, Vec2};

use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::edit::Subject;
use crate::kit::{Family, Kind};
use crate::units::Angle;

/// How far a drawn curve may lie from the true one, mm on paper: a tenth of the thinnest line of ISO 128.
const TOLERANCE_MM: f64 = 0.013;

/// Height of the capitals of a code, mm on paper: the smallest of the ISO 3098 series.
pub(super) const CODE_HEIGHT_MM: f64 = 1.8;

/// Weight of the lettering of a code.
pub(super) const CODE_WEIGHT: Weight = Weight::Medium;

/// Where a symbol stands and at what scale.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    /// The device, in plan millimetres.
    pub(super) at: Point,
    /// The way it faces.
    pub(super) facing: Angle,
    /// Whether it stands against a wall face.
    pub(super) on_wall: bool,
    /// Plan millimetres to a millimetre of paper: the denominator of the scale.
    pub(super) mm_per_paper_mm: f64,
}

/// Draws one symbol.
pub(super) struct Pen {
    plan_from_local: Affine,
    outline: Role,
    subject: Option<Subject>,
    items: Vec<Item>,
}

impl Pen {
    /// A pen for a form that reaches so many paper millimetres into the room.
    pub(super) fn new(place: Place, depth_mm: f64, kind: &Kind, subject: Option<Subject>) -> Self {
        let back = if place.on_wall { 0.0 } else { -depth_mm / 2.0 };
        let plan_from_local = Affine::translate(place.at.to_vec2())
            * Affine::rotate(place.facing.as_radians())
            * Affine::scale(place.mm_per_paper_mm)
            * Affine::translate((back, 0.0));
        let outline = if kind.family == Family::FireAndCo { Role::SymbolFire } else { Role::Symbol };
        Self { plan_from_local, outline, subject, items: Vec::new() }
    }

    /// What has been drawn.
    pub(super) fn finish(self) -> Vec<Item> {
        self.items
    }

    fn draw(&mut self, role: Role, path: BezPath) {
        self.items.push(Item::path(Layer::Devices, role, self.subject, self.plan_from_local * path));
    }

    /// An outline, filled with paper.
    pub(super) fn outline(&mut self, shape: impl kurbo::Shape) {
        self.draw(self.outline, shape.to_path(TOLERANCE_MM));
    }

    /// A solid part.
    pub(super) fn solid(&mut self, shape: impl kurbo::Shape) {
        self.draw(Role::SymbolSolid, shape.to_path(TOLERANCE_MM));
    }

    /// A straight stroke.
    pub(super) fn stroke(&mut self, from: (f64, f64), to: (f64, f64)) {
        self.polyline(&[from, to], false);
    }

    /// Straight strokes from corner to corner, closed or open.
    pub(super) fn polyline(&mut self, corners: &[(f64, f64)], closed: bool) {
        let mut path = BezPath::new();
        for (index, &corner) in corners.iter().enumerate() {
            if index == 0 {
                path.move_to(corner);
            } else {
                path.line_to(corner);
            }
        }
        if closed {
            path.close_path();
        }
        self.draw(self.outline, path);
    }

    /// A circle with a cross in it, the sign for a lamp. The cross stands upright on the sheet however the
    /// device is turned, so that rows of lamps look alike.
    pub(super) fn crossed_circle(&mut self, centre: (f64, f64), radius_mm: f64) {
        self.outline(Circle::new(centre, radius_mm));
        let centre_on_plan = self.plan_from_local * Point::from(centre);
        let reach =
            self.plan_from_local.determinant().abs().sqrt() * radius_mm * std::f64::consts::FRAC_1_SQRT_2;
        for slope in [Vec2::new(reach, reach), Vec2::new(reach, -reach)] {
            let stroke = Item::line(
                Layer::Devices,
                self.outline,
                self.subject,
                centre_on_plan - slope,
                centre_on_plan + slope,
            );
            self.items.push(stroke);
        }
    }

    /// Letters, upright, their middle there.
    pub(super) fn letters(&mut self, middle: (f64, f64), text: &str) {
        self.items.push(Item {
            layer: Layer::Devices,
            role: Role::SymbolCode,
            subject: self.subject,
            shape: Shape::Text {
                at: self.plan_from_local * Point::from(middle),
                text: text.to_owned(),
                height_mm: CODE_HEIGHT_MM,
                weight: CODE_WEIGHT,
                anchor: Anchor::Centre,
                turn: Angle::ZERO,
            },
        });
    }
}
