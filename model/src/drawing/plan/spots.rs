//! Spots, walks and the boundary of the site, as notes of how the house is lived in.

use kurbo::{BezPath, Line, ParamCurve as _, Point, Rect, Vec2};

use super::cameras::cut;
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::edit::Subject;
use crate::id::Id;
use crate::plan::{Level, Spot, Walk};
use crate::project::Project;
use crate::units::Angle;

/// Half the height of the lozenge that marks a spot, mm on paper.
pub(crate) const LOZENGE_MM: f64 = 1.6;

/// Height of the name beside a spot or a walk, mm on paper (ISO 3098 series).
const NAME_HEIGHT_MM: f64 = 1.8;

/// Length of an arrow head, mm on paper.
const ARROW_MM: f64 = 2.2;

/// The marks of a level's spots, its walks and the boundary of the site, without their names, which are placed when all
/// else is.
pub fn spot_marks(project: &Project, level: Id<Level>, scale: f64) -> Vec<Item> {
    let mut items = spot_items(project, level, scale);
    items.retain(|item| item.role != Role::SpotName);
    items
}

/// The spots and walks of a level, and the boundary of the site; names lie beside them, whatever is there.
pub fn spot_items(project: &Project, level: Id<Level>, scale: f64) -> Vec<Item> {
    let mut items = boundary_items(project);
    items.extend(project.walks.iter().flat_map(|(id, walk)| walk_items(id, walk, level, scale)));
    items.extend(project.spots_on(level).flat_map(|(id, spot)| marked(id, spot, scale)));
    items
}

fn boundary_items(project: &Project) -> Vec<Item> {
    let corners = &project.site.boundary;
    let Some((first, rest)) = corners.split_first() else { return Vec::new() };
    let mut path = BezPath::new();
    path.move_to(*first);
    rest.iter().for_each(|corner| path.line_to(*corner));
    path.close_path();
    vec![Item::path(Layer::Spots, Role::SiteBoundary, None, path)]
}

/// The boundary of the site, as far as it lies within a rectangle; a plot is larger than the drawing of its house.
/// Everything else is left as it is.
pub fn boundary_within(items: Vec<Item>, edge: Rect) -> Vec<Item> {
    let cut_to = |item: Item| match (item.role, &item.shape) {
        (Role::SiteBoundary, Shape::Path(path)) => {
            let mut within = BezPath::new();
            let legs = path.segments().map(|leg| Line::new(leg.eval(0.0), leg.eval(1.0)));
            for leg in legs.filter_map(|leg| cut(leg, edge)) {
                within.move_to(leg.p0);
                within.line_to(leg.p1);
            }
            Item::path(item.layer, item.role, item.subject, within)
        }
        _ => item,
    };
    items.into_iter().map(cut_to).collect()
}

/// A lozenge, so wide from its middle to a corner.
pub(crate) fn lozenge(middle: Point, half: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(middle + Vec2::new(half, 0.0));
    for corner in [Vec2::new(0.0, half), Vec2::new(-half, 0.0), Vec2::new(0.0, -half)] {
        path.line_to(middle + corner);
    }
    path.close_path();
    path
}

/// A lozenge with the name of the spot, or of its use, to its right.
fn marked(id: Id<Spot>, spot: &Spot, scale: f64) -> [Item; 2] {
    let half = LOZENGE_MM * scale;
    let name = if spot.name.is_empty() { spot.spot_use.name() } else { &spot.name };
    let subject = Some(Subject::Spot(id));
    let beside = spot.at + Vec2::new(1.5 * half, -0.5 * NAME_HEIGHT_MM * scale);
    [
        Item::path(Layer::Spots, Role::Spot, subject, lozenge(spot.at, half)),
        lettered(subject, beside, name, Anchor::Start, Angle::ZERO),
    ]
}

/// The legs of a walk on the level, an arrow head at the end of each run of them, its name along the first.
fn walk_items(id: Id<Walk>, walk: &Walk, level: Id<Level>, scale: f64) -> Vec<Item> {
    let subject = Some(Subject::Walk(id));
    let (mut line, mut heads) = (BezPath::new(), BezPath::new());
    let mut named: Option<(Point, Point)> = None;
    for (index, leg) in walk.points.windows(2).enumerate() {
        let (from, to) = (leg[0], leg[1]);
        if from.level != level || to.level != level {
            continue;
        }
        line.move_to(from.at);
        line.line_to(to.at);
        named = named.or(Some((from.at, to.at)));
        let goes_on = walk.points.get(index + 2).is_some_and(|next| next.level == level);
        if !goes_on {
            arrow_head(&mut heads, from.at, to.at, scale);
        }
    }
    let Some((from, to)) = named else { return Vec::new() };
    let mut items = vec![
        Item::path(Layer::Spots, Role::Walk, subject, line),
        Item::path(Layer::Spots, Role::WalkHead, subject, heads),
    ];
    if !walk.name.is_empty() {
        let turn = crate::drawing::labels::readable(Angle::of(to - from));
        let up = Vec2::new(-turn.direction().y, turn.direction().x);
        let above = from.midpoint(to) + up * (0.8 * scale);
        items.push(lettered(subject, above, &walk.name, Anchor::Middle, turn));
    }
    items
}

fn arrow_head(path: &mut BezPath, from: Point, to: Point, scale: f64) {
    let run = to - from;
    if run.hypot() == 0.0 {
        return;
    }
    let along = run.normalize() * (ARROW_MM * scale);
    let across = Vec2::new(-along.y, along.x) * 0.35;
    path.move_to(to);
    path.line_to(to - along + across);
    path.line_to(to - along - across);
    path.close_path();
}

fn lettered(subject: Option<Subject>, at: Point, words: &str, anchor: Anchor, turn: Angle) -> Item {
    Item {
        layer: Layer::Spots,
        role: Role::SpotName,
        subject,
        shape: Shape::Text {
            at,
            text: words.to_owned(),
            height_mm: NAME_HEIGHT_MM,
            weight: Weight::Regular,
            anchor,
            turn,
        },
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Shape as _;

    use super::*;
    use crate::plan::{SpotUse, WalkPoint, WalkPurpose};
    use crate::project::Op;

    #[test]
    fn the_boundary_is_drawn_as_far_as_the_drawing_goes() {
        let mut project = Project::new();
        let mut site = project.site.as_ref().clone();
        site.boundary =
            [(0.0, 0.0), (9000.0, 0.0), (9000.0, 9000.0), (0.0, 9000.0)].map(Point::from).to_vec();
        project.site = std::sync::Arc::new(site);
        let level = project.levels.ids().next().unwrap();
        let cut_to = |edge| match &boundary_within(spot_items(&project, level, 50.0), edge)[0].shape {
            Shape::Path(path) => (path.segments().count(), path.bounding_box()),
            other => panic!("{other:?}"),
        };
        let beyond = Rect::new(-1.0, -1.0, 9001.0, 9001.0);
        assert_eq!(cut_to(beyond), (4, Rect::new(0.0, 0.0, 9000.0, 9000.0)));
        // One corner of it: half of two sides, and no line along the edge of the drawing.
        let corner = Rect::new(-500.0, -500.0, 4500.0, 4500.0);
        assert_eq!(cut_to(corner), (2, Rect::new(0.0, 0.0, 4500.0, 4500.0)));
        assert_eq!(cut_to(Rect::new(100.0, 100.0, 200.0, 200.0)).0, 0);
    }

    #[test]
    fn a_walk_over_a_stair_is_drawn_on_each_level_as_far_as_it_goes_there() {
        let mut project = Project::new();
        let ground = project.levels.ids().next().unwrap();
        let mut ids = project.fresh_ids();
        let first: Id<Level> = ids.issue();
        let upstairs =
            Level { name: "First floor".to_owned(), ..project.levels.get(ground).unwrap().clone() };
        let at = |level, x: f64| WalkPoint { level, at: Point::new(x, 0.0) };
        let points = vec![
            at(ground, 0.0),
            at(ground, 2000.0),
            at(first, 5000.0),
            at(first, 6000.0),
            at(first, 6000.5),
        ];
        let walk = Walk { name: "to bed".to_owned(), purpose: WalkPurpose::Daily, points };
        let spot = Spot {
            level: first,
            name: String::new(),
            spot_use: SpotUse::BedHead,
            at: Point::new(1.0, 2.0),
            height_affl: SpotUse::BedHead.usual_height(),
        };
        for op in [Op::put(first, upstairs), Op::put(ids.issue(), walk), Op::put(ids.issue(), spot)] {
            let _ = project.perform(op);
        }
        let texts = |level| -> Vec<String> {
            let items = spot_items(&project, level, 50.0);
            let text = |item: &Item| match &item.shape {
                Shape::Text { text, .. } => Some(text.clone()),
                _ => None,
            };
            items.iter().filter_map(text).collect()
        };
        assert_eq!(texts(ground), ["to bed"]);
        assert_eq!(texts(first), ["to bed", "bedhead"]);
    }
}
