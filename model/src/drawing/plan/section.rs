//! A section through a sensor as items: what it cuts, what the sensor sees, and the heights that people reason by.

use kurbo::{BezPath, Circle, Point, Rect, Shape as _};

use super::coverage::role_of;
use crate::building::obstacle::PartOf;
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::studies::coverage::{Section, Target};
use crate::units::Angle;

/// Height of the lettering, mm on paper (ISO 3098 series).
const LETTERS_MM: f64 = 1.8;

/// The section as items in its own millimetres, x the distance from the sensor, y the height; `scale` as on plans.
pub fn section_items(section: &Section, scale: f64) -> Vec<Item> {
    let mut items = vec![Item::path(Layer::Coverage, role_of(section.sense), None, section.seen.to_path())];
    for cut in &section.cuts {
        let role = match cut.part_of {
            PartOf::Wall if cut.with_loss => Role::WallStud,
            PartOf::Wall => Role::WallMasonry,
            PartOf::Leaf => Role::DoorLeaf,
            PartOf::Joinery => Role::JoineryLow,
        };
        items.push(Item::path(Layer::Building, role, None, cut.rect.to_path(0.1)));
    }
    for (target, name) in [(Target::Walking, "walking"), (Target::Seated, "sitting")] {
        let height = target.height().as_mm();
        items.push(level_line(section, height, Role::JoineryHigh));
        let words = format!("{name} {height:.0}");
        let at = Point::new(section.to, height + 0.5 * scale);
        items.push(lettered(at, words, Anchor::End));
    }
    for height in [0.0, section.ceiling] {
        items.push(level_line(section, height, Role::FineLine));
    }
    let eye = Circle::new(section.eye, 0.8 * scale).to_path(0.1 * scale);
    items.push(Item::path(Layer::Devices, Role::SymbolSolid, None, eye));
    let beside = section.eye + kurbo::Vec2::new(1.6 * scale, -2.6 * scale);
    items.push(lettered(beside, format!("{:.0} AFFL", section.eye.y), Anchor::Start));
    if let Some((from, to)) = section.walking {
        let words = format!("seen walking from {} to {} m", metres(from), metres(to));
        items.push(lettered(Point::new(section.from.max(0.0), -3.2 * scale), words, Anchor::Start));
    }
    items
}

/// What the items of a section fill, mm.
pub fn section_bounds(section: &Section, scale: f64) -> Rect {
    Rect::new(section.from, -4.5 * scale, section.to, section.ceiling + 2.0 * scale)
}

fn metres(millimetres: f64) -> String {
    // Adding nought takes the minus from a nought that lies a hair behind the eye.
    format!("{:.1}", (millimetres / 100.0).round() / 10.0 + 0.0)
}

fn level_line(section: &Section, height: f64, role: Role) -> Item {
    let mut path = BezPath::new();
    path.move_to((section.from, height));
    path.line_to((section.to, height));
    Item::path(Layer::Building, role, None, path)
}

fn lettered(at: Point, text: String, anchor: Anchor) -> Item {
    Item {
        layer: Layer::Tags,
        role: Role::TagNote,
        subject: None,
        shape: Shape::Text {
            at,
            text,
            height_mm: LETTERS_MM,
            weight: Weight::Regular,
            anchor,
            turn: Angle::ZERO,
        },
    }
}
