//! Walls as the plan cuts them, and what stands in their openings.
//!
//! Walls of one make-up are one area, so that they meet without lines between them; a wall is picked by its
//! geometry, not by its items. Doors show leaf and swing as they stand, windows glass and sills, plain openings
//! the dashed edges of their heads.

use kurbo::{Arc, BezPath, Point, Shape as _};

use crate::building::outline::WallSolid;
use crate::drawing::{Item, Layer, Role};
use crate::edit::Subject;
use crate::id::Id;
use crate::plan::{DoorState, Level, MakeUp, Opening, OpeningForm, RoomLine, Side, Wall};
use crate::project::Project;
use crate::units::{Angle, Length};

/// Thickness of a door leaf, mm. Internal leaves are 35 to 44 mm; common practice draws 40.
const LEAF_THICKNESS_MM: f64 = 40.0;

/// Panes are drawn so far to each side of the wall's axis, as a share of its thickness.
const PANE_OFF_AXIS: f64 = 1.0 / 6.0;

/// How far a flattened arc may lie off its circle, mm.
const ARC_TOLERANCE_MM: f64 = 0.5;

/// Room lines, walls and openings of a level; walls lie over the lines that end within them.
pub fn building_items(project: &Project, level: Id<Level>) -> Vec<Item> {
    let mut items: Vec<Item> =
        project.room_lines_on(level).map(|(id, line)| room_line_item(id, line)).collect();
    items.extend(wall_items(project, level));
    for (id, opening, wall) in project.openings_on(level) {
        items.extend(opening_items(id, opening, wall));
    }
    items
}

/// A line between two rooms.
pub fn room_line_item(id: Id<RoomLine>, line: &RoomLine) -> Item {
    Item::line(Layer::Building, Role::RoomLine, Some(Subject::RoomLine(id)), line.start, line.end)
}

/// The outlines of the level below, faint, to line a drawing up with it.
pub fn ghost_items(project: &Project, level_below: Id<Level>) -> Vec<Item> {
    let outline = WallSolid::of_level(project, level_below, |_, opening| opening.is_none()).region();
    if outline.is_empty() {
        return Vec::new();
    }
    vec![Item::path(Layer::LevelBelow, Role::Ghost, None, outline.to_path())]
}

fn wall_items(project: &Project, level: Id<Level>) -> Vec<Item> {
    WallSolid::of_level(project, level, |_, opening| opening.is_none())
        .regions_by_make_up()
        .into_iter()
        .filter(|(_, region)| !region.is_empty())
        .map(|(make_up, region)| Item::path(Layer::Building, role_of(make_up), None, region.to_path()))
        .collect()
}

const fn role_of(make_up: MakeUp) -> Role {
    match make_up {
        MakeUp::Masonry => Role::WallMasonry,
        MakeUp::Block => Role::WallBlock,
        MakeUp::Stud => Role::WallStud,
        MakeUp::Glazed => Role::WallGlazed,
    }
}

/// What stands in one opening of a wall.
pub fn opening_items(id: Id<Opening>, opening: &Opening, wall: &Wall) -> Vec<Item> {
    let pen = Pen { id, opening, wall };
    match opening.form {
        OpeningForm::Door { swing, state, .. } => pen.door(swing, state),
        OpeningForm::Window { .. } => pen.window(),
        OpeningForm::Plain => pen.plain(),
    }
}

/// Draws what belongs to one opening.
struct Pen<'a> {
    id: Id<Opening>,
    opening: &'a Opening,
    wall: &'a Wall,
}

impl Pen<'_> {
    fn path(&self, role: Role, path: BezPath) -> Item {
        Item::path(Layer::Building, role, Some(Subject::Opening(self.id)), path)
    }

    fn line(&self, role: Role, from: Point, to: Point) -> Item {
        Item::line(Layer::Building, role, Some(Subject::Opening(self.id)), from, to)
    }

    /// A line from reveal to reveal, so far to the left of the axis.
    fn between_reveals(&self, role: Role, off_axis: f64) -> Item {
        let off = self.wall.normal(Side::Left) * off_axis;
        let ends = [self.opening.from(), self.opening.to()].map(|along| self.wall.on_axis(along) + off);
        self.line(role, ends[0], ends[1])
    }

    /// The reveal lines, across the wall at both ends of the opening.
    fn jambs(&self, role: Role) -> Vec<Item> {
        [self.opening.from(), self.opening.to()]
            .into_iter()
            .map(|along| {
                self.line(role, self.wall.on_face(along, Side::Left), self.wall.on_face(along, Side::Right))
            })
            .collect()
    }

    fn door(&self, swing: Side, state: DoorState) -> Vec<Item> {
        let mut items = self.jambs(Role::WindowLine);
        let shut = self.opening.leaf(self.wall, DoorState::Shut);
        let stands = self.opening.leaf(self.wall, state);
        let (Some((hinge, shut_edge)), Some((_, free_edge))) = (shut, stands) else { return items };
        let from = Angle::of(shut_edge - hinge);
        // The way the leaf turns: from the shut line towards the side it swings into.
        let sense = (shut_edge - hinge).cross(self.wall.normal(swing)).signum();
        let sweep = match state {
            DoorState::Open(angle) => angle.as_radians().abs(),
            // A shut door still shows where it will swing.
            DoorState::Shut => std::f64::consts::FRAC_PI_2,
        };
        let radius = self.opening.width.as_mm();
        let arc = Arc::new(hinge, (radius, radius), from.as_radians(), sense * sweep, 0.0);
        items.push(self.path(Role::DoorSwing, arc.to_path(ARC_TOLERANCE_MM)));
        items.push(self.path(Role::DoorLeaf, leaf_outline(hinge, free_edge, sense)));
        items
    }

    fn window(&self) -> Vec<Item> {
        let thickness = self.wall.thickness.as_mm();
        let mut items = self.jambs(Role::WindowLine);
        for off_axis in [-0.5, -PANE_OFF_AXIS, PANE_OFF_AXIS, 0.5] {
            items.push(self.between_reveals(Role::WindowLine, off_axis * thickness));
        }
        items
    }

    /// What is above the cut is dashed, whoever made it.
    fn plain(&self) -> Vec<Item> {
        let half: Length = self.wall.thickness / 2.0;
        [-half.as_mm(), half.as_mm()]
            .into_iter()
            .map(|off_axis| self.between_reveals(Role::JoineryHigh, off_axis))
            .collect()
    }
}

/// The leaf lies on the side of its line from which it was turned, so that a shut leaf lies within the wall and
/// one opened square stands within the opening's clear width.
fn leaf_outline(hinge: Point, free_edge: Point, sense: f64) -> BezPath {
    let along = (free_edge - hinge).normalize();
    let back = kurbo::Vec2::new(along.y, -along.x) * (sense * LEAF_THICKNESS_MM);
    let mut path = BezPath::new();
    path.move_to(hinge);
    path.line_to(free_edge);
    path.line_to(free_edge + back);
    path.line_to(hinge + back);
    path.close_path();
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Hand;

    fn door(hinge: Hand, swing: Side, degrees: f64) -> (Opening, Wall) {
        let wall = Wall {
            level: Id::from_number(1),
            start: Point::ZERO,
            end: Point::new(4000.0, 0.0),
            thickness: Length::mm(100.0),
            height: Length::mm(2400.0),
            make_up: MakeUp::Stud,
        };
        let opening = Opening {
            wall: Id::from_number(2),
            centre: Length::mm(2000.0),
            width: Length::mm(800.0),
            head: Length::mm(2040.0),
            form: OpeningForm::Door { hinge, swing, state: DoorState::Open(Angle::degrees(degrees)) },
        };
        (opening, wall)
    }

    fn bounds_of(items: &[Item], role: Role) -> kurbo::Rect {
        let item = items.iter().find(|item| item.role == role).expect("drawn");
        let crate::drawing::Shape::Path(path) = &item.shape else { panic!("a path") };
        path.bounding_box()
    }

    #[test]
    fn a_leaf_opened_square_stands_within_the_clear_width() {
        // Hinge, swing, and the leaf as x from–to, y from–to.
        let cases = [
            (Hand::Start, Side::Left, [1600.0, 1640.0, 50.0, 850.0]),
            (Hand::End, Side::Left, [2360.0, 2400.0, 50.0, 850.0]),
            (Hand::Start, Side::Right, [1600.0, 1640.0, -850.0, -50.0]),
            (Hand::End, Side::Right, [2360.0, 2400.0, -850.0, -50.0]),
        ];
        for (hinge, swing, [x0, x1, y0, y1]) in cases {
            let (opening, wall) = door(hinge, swing, 90.0);
            let items = opening_items(Id::from_number(3), &opening, &wall);
            let leaf = bounds_of(&items, Role::DoorLeaf);
            let off = [leaf.x0 - x0, leaf.x1 - x1, leaf.y0 - y0, leaf.y1 - y1];
            assert!(off.iter().all(|off| off.abs() < 0.01), "{hinge:?} {swing:?}: {leaf}");
            let swept = bounds_of(&items, Role::DoorSwing);
            assert!((swept.x0 - 1600.0).abs() < 1.0 && (swept.x1 - 2400.0).abs() < 1.0, "{swept}");
            assert!((swept.y0 - y0).abs() < 1.0 && (swept.y1 - y1).abs() < 1.0, "{swept}");
        }
    }

    #[test]
    fn a_shut_leaf_lies_within_the_wall() {
        let (opening, wall) = door(Hand::Start, Side::Left, 0.0);
        let items = opening_items(Id::from_number(3), &opening, &wall);
        let leaf = bounds_of(&items, Role::DoorLeaf);
        assert!((leaf.y1 - 50.0).abs() < 1e-9 && (leaf.y0 - 10.0).abs() < 1e-9, "{leaf}");
    }

    #[test]
    fn everything_in_an_opening_is_the_opening() {
        let (mut opening, wall) = door(Hand::Start, Side::Left, 90.0);
        for form in [opening.form, OpeningForm::Window { sill: Length::mm(900.0) }, OpeningForm::Plain] {
            opening.form = form;
            let items = opening_items(Id::from_number(3), &opening, &wall);
            assert!(items.len() >= 2);
            assert!(items.iter().all(|item| item.subject == Some(Subject::Opening(Id::from_number(3)))));
        }
    }
}
