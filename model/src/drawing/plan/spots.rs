//! Spots, walks and the boundary of the site, as notes of how the house is lived in.

use kurbo::{BezPath, Point, Vec2};

use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::edit::Subject;
use crate::id::Id;
use crate::plan::{Level, Spot, Walk};
use crate::project::Project;
use crate::units::Angle;

/// Half the height of the lozenge that marks a spot, mm on paper.
const LOZENGE_MM: f64 = 1.6;

/// Height of the name beside a spot or a walk, mm on paper (ISO 3098 series).
const NAME_HEIGHT_MM: f64 = 1.8;

/// Length of an arrow head, mm on paper.
const ARROW_MM: f64 = 2.2;

/// The spots and walks of a level, and the boundary of the site.
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

/// A lozenge with the name of the spot, or of its use, to its right.
fn marked(id: Id<Spot>, spot: &Spot, scale: f64) -> [Item; 2] {
    let half = LOZENGE_MM * scale;
    let mut path = BezPath::new();
    path.move_to(spot.at + Vec2::new(half, 0.0));
    for corner in [Vec2::new(0.0, half), Vec2::new(-half, 0.0), Vec2::new(0.0, -half)] {
        path.line_to(spot.at + corner);
    }
    path.close_path();
    let name = if spot.name.is_empty() { spot.spot_use.name() } else { &spot.name };
    let subject = Some(Subject::Spot(id));
    let beside = spot.at + Vec2::new(1.5 * half, -0.5 * NAME_HEIGHT_MM * scale);
    [
        Item::path(Layer::Spots, Role::Spot, subject, path),
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
    use super::*;
    use crate::plan::{SpotUse, WalkPoint, WalkPurpose};
    use crate::project::Op;

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
