//! What a trace proposes for a level, beside the project until someone accepts it.
//!
//! What was accepted is known by the things that it became, so that undo brings the ghost back. An offer belongs
//! to its drawing as it lay when it was traced: once that lies otherwise, the offer is stale and says so.

use std::collections::BTreeSet;
use std::sync::Arc;

use kurbo::{BezPath, Point, Rect, Vec2};
use pattress_model::edit::Subject;
use pattress_model::edit::verbs::parts_within;
use pattress_model::geometry::{Region, Ring, Segment};
use pattress_model::id::Id;
use pattress_model::plan::{Level, Underlay};
use pattress_model::project::Project;
use pattress_model::survey::{Part, Proposal, ProposedForm, ProposedOpening, ProposedWall};

use crate::window::canvas::tools::figures::in_mm;

/// How sure a part is, as it is drawn: by the form of its line as well as its tone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sureness {
    /// Less than 60 %: dotted.
    Doubtful,
    /// From 60 %: dashed.
    Likely,
    /// From 90 %: unbroken.
    Sure,
}

impl Sureness {
    /// The band of a percentage.
    pub const fn of(percent: u32) -> Self {
        match percent {
            90.. => Self::Sure,
            60.. => Self::Likely,
            _ => Self::Doubtful,
        }
    }
}

/// Parts that were accepted together, and the things that they became.
#[derive(Clone, Debug)]
struct Accepted {
    parts: Vec<Part>,
    things: Vec<Subject>,
}

/// A proposal for a level.
#[derive(Clone, Debug)]
pub struct Offer {
    level: Id<Level>,
    from: Option<(Id<Underlay>, Underlay)>,
    proposal: Arc<Proposal>,
    accepted: Vec<Accepted>,
    set_aside: BTreeSet<Part>,
}

impl Offer {
    /// An offer for a level, traced from a drawing as it lies there; a model of a building has none.
    pub fn new(level: Id<Level>, from: Option<(Id<Underlay>, Underlay)>, proposal: Proposal) -> Self {
        Self { level, from, proposal: Arc::new(proposal), accepted: Vec::new(), set_aside: BTreeSet::new() }
    }

    /// The level it is for.
    pub const fn level(&self) -> Id<Level> {
        self.level
    }

    /// What is proposed, decided or not.
    pub fn proposal(&self) -> &Proposal {
        &self.proposal
    }

    /// Whether its level or its drawing is gone: nothing is left to compare it with.
    pub fn is_orphaned(&self, project: &Project) -> bool {
        let drawing_gone = self.from.as_ref().is_some_and(|(id, _)| !project.underlays.contains(*id));
        drawing_gone || !project.levels.contains(self.level)
    }

    /// Whether its drawing lies otherwise than it did when it was traced.
    pub fn is_stale(&self, project: &Project) -> bool {
        let Some((id, traced)) = &self.from else { return false };
        project.underlays.get(*id).is_none_or(|now| {
            now.plan_from_drawing() != traced.plan_from_drawing()
                || (&now.media, now.page, now.level) != (&traced.media, traced.page, traced.level)
        })
    }

    /// Every part, decided or not.
    fn parts(&self) -> impl Iterator<Item = Part> {
        let Proposal { walls, openings, rooms } = self.proposal();
        let walls = (0..walls.len()).map(Part::Wall);
        let openings = (0..openings.len()).map(Part::Opening);
        walls.chain(openings).chain((0..rooms.len()).map(Part::Room))
    }

    /// The parts that nobody has decided on, those least sure first.
    pub fn left(&self, project: &Project) -> Vec<Part> {
        let taken = self.taken(project);
        let open = |part: &Part| !taken.contains(part) && !self.set_aside.contains(part);
        let mut left: Vec<Part> = self.parts().filter(open).collect();
        left.sort_by_key(|part| (self.percent(*part), *part));
        left
    }

    /// The parts that stand in the plan.
    fn taken(&self, project: &Project) -> BTreeSet<Part> {
        let stands = |accepted: &&Accepted| accepted.things.iter().any(|thing| thing.is_in(project));
        self.accepted.iter().filter(stands).flat_map(|accepted| accepted.parts.iter().copied()).collect()
    }

    /// Notes that parts were accepted, and what they became.
    pub fn note_accepted(&mut self, parts: Vec<Part>, things: Vec<Subject>) {
        self.accepted.push(Accepted { parts, things });
    }

    /// Sets parts aside.
    pub fn set_aside(&mut self, parts: impl IntoIterator<Item = Part>) {
        self.set_aside.extend(parts);
    }

    /// How many are set aside.
    pub fn aside(&self) -> usize {
        self.set_aside.len()
    }

    /// Brings back what was set aside.
    pub fn bring_back(&mut self) {
        self.set_aside.clear();
    }

    fn wall(&self, index: usize) -> Option<&ProposedWall> {
        self.proposal.walls.get(index)
    }

    fn opening(&self, index: usize) -> Option<(&ProposedOpening, &ProposedWall)> {
        let opening = self.proposal.openings.get(index)?;
        Some((opening, self.wall(opening.wall)?))
    }

    /// How sure a part is, in whole percent; rounded down, so that 100 means certain.
    pub fn percent(&self, part: Part) -> u32 {
        let confidence = match part {
            Part::Wall(index) => self.wall(index).map(|wall| wall.confidence),
            Part::Opening(index) => self.proposal.openings.get(index).map(|opening| opening.confidence),
            Part::Room(index) => self.proposal.rooms.get(index).map(|room| room.confidence),
        };
        (confidence.unwrap_or(0.0).clamp(0.0, 1.0) * 100.0 + 1e-6) as u32
    }

    /// What a part is, with its figures: `wall, 102 mm thick`.
    pub fn words(&self, part: Part) -> String {
        match part {
            Part::Wall(index) => self.wall(index).map_or_else(String::new, |wall| {
                format!("wall, {} mm thick, {:.2} m long", in_mm(wall.thickness), wall.length().as_m())
            }),
            Part::Opening(index) => self.proposal.openings.get(index).map_or_else(String::new, |opening| {
                let name = match opening.form {
                    ProposedForm::Door(Some(_)) => "door",
                    ProposedForm::Door(None) => "door, hanging not seen",
                    ProposedForm::Window => "window",
                    ProposedForm::Plain => "plain opening",
                };
                format!("{name}, {} mm wide", in_mm(opening.width))
            }),
            Part::Room(index) => {
                self.proposal.rooms.get(index).map_or_else(String::new, |room| match room.name.trim() {
                    "" => format!("room without a name, {:.1} m²", area_of(&room.outline)),
                    name => format!("room {name}, {:.1} m²", area_of(&room.outline)),
                })
            }
        }
    }

    /// The same with how sure it is: `wall, 102 mm thick, 3.40 m long, 93 % sure`.
    pub fn words_with_sureness(&self, part: Part) -> String {
        format!("{}, {} % sure", self.words(part), self.percent(part))
    }

    /// The outline of a part, plan mm.
    pub fn outline(&self, part: Part) -> Vec<Point> {
        match part {
            Part::Wall(index) => {
                self.wall(index).map_or_else(Vec::new, |wall| stretch(wall, 0.0, wall.length().as_mm()))
            }
            Part::Opening(index) => self.opening(index).map_or_else(Vec::new, |(opening, wall)| {
                let (centre, half) = (opening.centre.as_mm(), opening.width.as_mm() / 2.0);
                stretch(wall, centre - half, centre + half)
            }),
            Part::Room(index) => {
                self.proposal.rooms.get(index).map_or_else(Vec::new, |room| room.outline.clone())
            }
        }
    }

    /// A point of a part to look at: the middle of a wall or opening, the seed of a room.
    pub fn place(&self, part: Part) -> Option<Point> {
        match part {
            Part::Room(index) => self.proposal.rooms.get(index).map(|room| room.seed),
            _ => {
                let corners = self.outline(part);
                let count = corners.len() as f64;
                let sum = corners.iter().fold(Vec2::ZERO, |sum, corner| sum + corner.to_vec2());
                (count > 0.0).then(|| (sum / count).to_point())
            }
        }
    }

    /// The part under a point, of those given: openings before walls, and rooms by their names alone.
    pub fn part_at(&self, left: &[Part], at: Point, reach: f64) -> Option<Part> {
        let off = |part: Part| -> Option<f64> {
            let distance = match part {
                Part::Room(index) => {
                    let from_name = at - self.proposal.rooms.get(index)?.seed;
                    (from_name.x.abs() / 4.0).max(from_name.y.abs()) - reach
                }
                _ => off_area(&self.outline(part), at),
            };
            (distance <= reach).then_some(distance.max(0.0))
        };
        let rank = |part: &Part| match part {
            Part::Opening(_) => 0,
            Part::Wall(_) => 1,
            Part::Room(_) => 2,
        };
        left.iter()
            .filter_map(|part| off(*part).map(|distance| (distance, *part)))
            .min_by(|(a, one), (b, other)| {
                let inside = |distance: f64| distance > 0.0;
                let order = inside(*a).cmp(&inside(*b)).then(rank(one).cmp(&rank(other)));
                order.then(a.total_cmp(b)).then(one.cmp(other))
            })
            .map(|(_, part)| part)
    }

    /// The parts that lie within a rectangle, of those given: walls by more than half of their length.
    pub fn within(&self, left: &[Part], rect: Rect) -> Vec<Part> {
        let within = parts_within(self.proposal(), &Region::from_rect(rect));
        left.iter().filter(|part| within.contains(part)).copied().collect()
    }

    /// The leaf of a door and the arc that it sweeps, where the drawing shows how it hangs.
    pub fn leaf(&self, index: usize) -> Option<BezPath> {
        use pattress_model::plan::{Hand, Side};
        let (opening, wall) = self.opening(index)?;
        let ProposedForm::Door(Some(door)) = opening.form else { return None };
        let along = (wall.end - wall.start).normalize();
        let half = opening.width.as_mm() / 2.0;
        let centre = wall.start + along * opening.centre.as_mm();
        let (hinge, shut) = match door.hinge {
            Hand::Start => (centre - along * half, along),
            Hand::End => (centre + along * half, -along),
        };
        let left = Vec2::new(-along.y, along.x);
        let open = if door.swing == Side::Left { left } else { -left };
        let hinge = hinge + open * (wall.thickness.as_mm() / 2.0);
        let width = opening.width.as_mm();
        let mut path = BezPath::new();
        path.move_to(hinge);
        path.line_to(hinge + open * width);
        let from = open.atan2();
        let mut sweep = shut.atan2() - from;
        if sweep.abs() > std::f64::consts::PI {
            sweep -= sweep.signum() * std::f64::consts::TAU;
        }
        let arc = kurbo::Arc::new(hinge, (width, width), from, sweep, 0.0);
        path.extend(arc.append_iter(1.0));
        Some(path)
    }
}

/// The corners of a stretch of a wall between two places along it.
fn stretch(wall: &ProposedWall, from: f64, to: f64) -> Vec<Point> {
    let run = wall.end - wall.start;
    if run.hypot() < 1e-9 {
        return Vec::new();
    }
    let along = run.normalize();
    let off = Vec2::new(-along.y, along.x) * (wall.thickness.as_mm() / 2.0);
    let (start, end) = (wall.start + along * from, wall.start + along * to);
    vec![start - off, end - off, end + off, start + off]
}

/// How far a point is off an area; zero or less within.
fn off_area(corners: &[Point], at: Point) -> f64 {
    if corners.len() < 3 {
        return f64::INFINITY;
    }
    if Ring::new(corners.to_vec()).contains(at) {
        return 0.0;
    }
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    sides.map(|(a, b)| Segment::new(*a, *b).distance_to(at)).fold(f64::INFINITY, f64::min)
}

/// The area within an outline, m².
fn area_of(outline: &[Point]) -> f64 {
    let sides = outline.iter().zip(outline.iter().cycle().skip(1));
    sides.map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>().abs() / 2e6
}
