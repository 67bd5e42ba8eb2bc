//! What there is to catch on a level, sorted so that a thousand walls answer at once.

use kurbo::{Point, Rect};
use rstar::primitives::{GeomWithData, Line};
use rstar::{AABB, RTree};

use crate::building::outline::enclosed_spaces;
use crate::edit::Subject;
use crate::geometry::{Segment, Shape};
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::{Level, Wall};
use crate::project::Project;

type Spot = GeomWithData<[f64; 2], Id<Wall>>;
type Axis = GeomWithData<Line<[f64; 2]>, Id<Wall>>;

/// What there is to catch on a level. It belongs to one state of the project: prepare another after a change.
#[derive(Clone, Debug)]
pub struct SnapIndex {
    level: Id<Level>,
    ends: RTree<Spot>,
    middles: RTree<Spot>,
    axes: RTree<Axis>,
    ends_by_x: Vec<(Point, Id<Wall>)>,
    ends_by_y: Vec<(Point, Id<Wall>)>,
    ceiling: Vec<(Id<Device>, Point)>,
    rooms: Vec<(Rect, Shape)>,
}

impl SnapIndex {
    /// Prepares a level.
    pub fn of_level(project: &Project, level: Id<Level>) -> Self {
        let walls: Vec<(Id<Wall>, &Wall)> = project.walls_on(level).collect();
        let spot = |point: Point, id| Spot::new([point.x, point.y], id);
        let ends: Vec<(Point, Id<Wall>)> =
            walls.iter().flat_map(|(id, wall)| [(wall.start, *id), (wall.end, *id)]).collect();
        let mut ends_by_x = ends.clone();
        ends_by_x.sort_by(|(a, _), (b, _)| a.x.total_cmp(&b.x));
        let mut ends_by_y = ends.clone();
        ends_by_y.sort_by(|(a, _), (b, _)| a.y.total_cmp(&b.y));
        let axis = |id, wall: &Wall| {
            Axis::new(Line::new([wall.start.x, wall.start.y], [wall.end.x, wall.end.y]), id)
        };
        let rooms = enclosed_spaces(project, level)
            .into_iter()
            .filter_map(|outline| Some((outline.shape.outer.bounds()?, outline.shape)))
            .collect();
        Self {
            level,
            ends: RTree::bulk_load(ends.iter().map(|(at, id)| spot(*at, *id)).collect()),
            middles: RTree::bulk_load(
                walls.iter().map(|(id, wall)| spot(wall.start.midpoint(wall.end), *id)).collect(),
            ),
            axes: RTree::bulk_load(walls.iter().map(|(id, wall)| axis(*id, wall)).collect()),
            ends_by_x,
            ends_by_y,
            ceiling: on_ceiling(project, level),
            rooms,
        }
    }

    /// Takes in that devices changed while walls and openings did not.
    pub fn take_in_devices(&mut self, project: &Project) {
        self.ceiling = on_ceiling(project, self.level);
    }

    /// The level it is of.
    pub const fn level(&self) -> Id<Level> {
        self.level
    }

    /// The nearest wall end within reach.
    pub(super) fn end_near(&self, at: Point, reach: f64, skip: &[Subject]) -> Option<Point> {
        nearest_spot(&self.ends, at, reach, skip)
    }

    /// The nearest middle of a wall within reach.
    pub(super) fn middle_near(&self, at: Point, reach: f64, skip: &[Subject]) -> Option<Point> {
        nearest_spot(&self.middles, at, reach, skip)
    }

    /// Axes of walls within reach, the nearest first, then by id.
    pub(super) fn axes_near(&self, at: Point, reach: f64, skip: &[Subject]) -> Vec<Segment> {
        let around = AABB::from_corners([at.x - reach, at.y - reach], [at.x + reach, at.y + reach]);
        let mut found: Vec<(f64, Id<Wall>, Segment)> = self
            .axes
            .locate_in_envelope_intersecting(around)
            .filter(|axis| !skip.contains(&Subject::Wall(axis.data)))
            .map(|axis| {
                let ([ax, ay], [bx, by]) = (axis.geom().from, axis.geom().to);
                let segment = Segment::new(Point::new(ax, ay), Point::new(bx, by));
                (segment.distance_to(at), axis.data, segment)
            })
            .filter(|(distance, ..)| *distance <= reach)
            .collect();
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        found.into_iter().map(|(_, _, segment)| segment).collect()
    }

    /// The wall end whose x is nearest to that of a point, within reach; of several, the one least far away.
    pub(super) fn end_in_column(&self, at: Point, reach: f64, skip: &[Subject]) -> Option<Point> {
        in_line(&self.ends_by_x, at, reach, skip, |point| point.x)
    }

    /// The wall end whose y is nearest to that of a point, within reach; of several, the one least far away.
    pub(super) fn end_in_row(&self, at: Point, reach: f64, skip: &[Subject]) -> Option<Point> {
        in_line(&self.ends_by_y, at, reach, skip, |point| point.y)
    }

    /// Devices on the ceiling, but for those to skip.
    pub(super) fn ceiling_devices(&self, skip: &[Subject]) -> impl Iterator<Item = Point> {
        self.ceiling.iter().filter(|(id, _)| !skip.contains(&Subject::Device(*id))).map(|(_, at)| *at)
    }

    /// The rectangle around the room in which a point lies.
    pub(super) fn room_around(&self, at: Point) -> Option<Rect> {
        self.rooms.iter().find(|(rect, shape)| rect.contains(at) && shape.contains(at)).map(|(rect, _)| *rect)
    }
}

fn nearest_spot(tree: &RTree<Spot>, at: Point, reach: f64, skip: &[Subject]) -> Option<Point> {
    tree.locate_within_distance([at.x, at.y], reach * reach)
        .filter(|spot| !skip.contains(&Subject::Wall(spot.data)))
        .map(|spot| (Point::new(spot.geom()[0], spot.geom()[1]), spot.data))
        .min_by(|(a, a_id), (b, b_id)| (*a - at).hypot2().total_cmp(&(*b - at).hypot2()).then(a_id.cmp(b_id)))
        .map(|(point, _)| point)
}

fn in_line(
    sorted: &[(Point, Id<Wall>)],
    at: Point,
    reach: f64,
    skip: &[Subject],
    of: impl Fn(Point) -> f64,
) -> Option<Point> {
    let from = sorted.partition_point(|(point, _)| of(*point) < of(at) - reach);
    sorted[from..]
        .iter()
        .take_while(|(point, _)| of(*point) <= of(at) + reach)
        .filter(|(_, wall)| !skip.contains(&Subject::Wall(*wall)))
        .map(|(point, _)| *point)
        .min_by(|a, b| {
            // To the tenth: corners of one line of walls count as equally near across it.
            let off = |point: Point| ((of(point) - of(at)).abs() * 10.0).round();
            off(*a).total_cmp(&off(*b)).then((*a - at).hypot2().total_cmp(&(*b - at).hypot2()))
        })
}
/// The devices on a level's ceiling, and where.
fn on_ceiling(project: &Project, level: Id<Level>) -> Vec<(Id<Device>, Point)> {
    project
        .devices_on(level)
        .filter_map(|(id, device, _)| match device.mount {
            Mount::Ceiling { at } => Some((id, at)),
            _ => None,
        })
        .collect()
}
