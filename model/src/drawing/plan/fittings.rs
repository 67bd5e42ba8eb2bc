//! Joinery, and the picture beneath the drawing.

use kurbo::{BezPath, Point, RoundedRect, Shape as _};

use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::edit::Subject;
use crate::id::Id;
use crate::plan::{Joinery, JoineryForm, Level};
use crate::project::Project;
use crate::units::{Angle, Length};

/// Height above the floor at which a plan is taken to be cut; what hangs above it is dashed. Common practice,
/// no published source.
const CUT_AFFL: Length = Length::mm(1200.0);

/// Height of the name in a piece of joinery, mm on paper.
const NAME_HEIGHT_MM: f64 = 1.8;

/// How far the bowl of a bath or basin lies within its rim, mm.
const RIM_MM: f64 = 60.0;

/// Joinery of a level: low pieces first, so that what hangs above lies over them.
pub fn joinery_items(project: &Project, level: Id<Level>, scale: f64) -> Vec<Item> {
    let mut pieces: Vec<(Id<Joinery>, &Joinery)> = project.joinery_on(level).collect();
    pieces.sort_by(|(_, a), (_, b)| a.base.as_mm().total_cmp(&b.base.as_mm()));
    pieces.into_iter().flat_map(|(id, piece)| piece_items(id, piece, scale)).collect()
}

fn piece_items(id: Id<Joinery>, piece: &Joinery, scale: f64) -> Vec<Item> {
    let high = piece.base > CUT_AFFL;
    let role = if high { Role::JoineryHigh } else { Role::JoineryLow };
    let subject = Some(Subject::Joinery(id));
    let corners = piece.corners();
    let mut path = polygon(&corners);
    match piece.form {
        JoineryForm::Wardrobe => stroke(&mut path, corners[0], corners[2]),
        JoineryForm::Shelves => {
            stroke(&mut path, corners[0].midpoint(corners[3]), corners[1].midpoint(corners[2]))
        }
        JoineryForm::Sanitary => bowl(&mut path, piece),
        JoineryForm::Island | JoineryForm::Worktop | JoineryForm::WallUnit => {}
    }
    let mut items = vec![Item::path(Layer::Joinery, role, subject, path)];
    if !high && matches!(piece.form, JoineryForm::Island | JoineryForm::Worktop | JoineryForm::Wardrobe) {
        items.extend(name_in(piece, scale).map(|shape| Item {
            layer: Layer::Joinery,
            role: Role::RoomNote,
            subject,
            shape,
        }));
    }
    items
}

fn polygon(corners: &[Point]) -> BezPath {
    crate::geometry::Ring::new(corners.to_vec()).to_path()
}

fn stroke(path: &mut BezPath, from: Point, to: Point) {
    path.move_to(from);
    path.line_to(to);
}

/// The bowl of a bath, basin or tray, within its rim.
fn bowl(path: &mut BezPath, piece: &Joinery) {
    let (half_width, half_depth) = (piece.width.as_mm() / 2.0 - RIM_MM, piece.depth.as_mm() / 2.0 - RIM_MM);
    if half_width <= 0.0 || half_depth <= 0.0 {
        return;
    }
    let rounding = 0.4 * half_width.min(half_depth);
    let place =
        kurbo::Affine::translate(piece.centre.to_vec2()) * kurbo::Affine::rotate(piece.turn.as_radians());
    let outline = RoundedRect::new(-half_width, -half_depth, half_width, half_depth, rounding);
    path.extend(place * outline.to_path(0.5));
}

/// The name of a piece along its longer side, where it fits within. A wardrobe's lies beside its diagonal.
fn name_in(piece: &Joinery, scale: f64) -> Option<Shape> {
    let (width, depth) = (piece.width.as_mm(), piece.depth.as_mm());
    let (long, short, turn) = if width >= depth {
        (width, depth, piece.turn)
    } else {
        (depth, width, piece.turn + Angle::degrees(90.0))
    };
    let length = lettering::width(&piece.name, NAME_HEIGHT_MM, Weight::Regular) * scale;
    let crossed = piece.form == JoineryForm::Wardrobe;
    let room = if crossed { long / 2.0 } else { long };
    if piece.name.is_empty() || length > 0.9 * room || NAME_HEIGHT_MM * scale > 0.4 * short {
        return None;
    }
    let front = piece.turn.direction();
    let back = kurbo::Vec2::new(-front.y, front.x);
    let mut at = piece.centre;
    if crossed {
        // The diagonal runs from the front left to the back right: the back left half is free.
        at += front * (-width / 4.0) + back * (depth / 4.0);
    } else if piece.form == JoineryForm::Worktop && width >= depth {
        // Wall units hang over the back of a worktop; its front is free.
        at += back * (-depth / 2.0 + (NAME_HEIGHT_MM * scale).max(depth / 4.0));
    }
    Some(Shape::Text {
        at,
        text: piece.name.clone(),
        height_mm: NAME_HEIGHT_MM,
        weight: Weight::Regular,
        anchor: Anchor::Centre,
        turn: super::super::labels::readable(turn),
    })
}

/// Pictures under a level.
pub fn underlay_items(project: &Project, level: Id<Level>) -> Vec<Item> {
    project
        .underlays
        .iter()
        .filter(|(_, underlay)| underlay.level == level && underlay.opacity > 0.0)
        .map(|(id, underlay)| Item {
            layer: Layer::Underlay,
            role: Role::Picture,
            subject: Some(Subject::Underlay(id)),
            shape: Shape::Picture {
                media: underlay.media.clone(),
                page: underlay.page,
                plan_from_units: underlay.plan_from_drawing(),
                size: (underlay.width, underlay.height),
                opacity: underlay.opacity,
                within: None,
            },
        })
        .collect()
}
