//! What stands in the way of which sense, and between which heights.
//!
//! Every wall, with its holes, every door leaf and every piece of joinery becomes upright prisms: a convex footprint
//! from a base to a top. A wall is one prism between its openings; beneath a sill and above a head it goes on. What
//! of it lets a sense through, as glass does light, makes no prism; what lets it through with a loss says so.

use kurbo::{Point, Rect};

use super::outline::{corner_fills, wall_stretch};
use crate::geometry::{Region, Ring, Segment, difference, union_of_rings};
use crate::id::Id;
use crate::plan::{DoorState, DoorsAs, Level, MakeUp, Opening, OpeningForm, Sense, Wall};
use crate::project::Project;
use crate::units::{Angle, Length};

/// Height above the floor at which somebody walking is sensed: breast height of a standing adult. Common practice, no
/// published source.
pub const SENSED_HEIGHT: Length = Length::mm(1300.0);

/// So far a shut leaf reaches up behind the head of its frame, mm, so that no sight line slips between the two.
const BEHIND_FRAME_MM: f64 = 1.0;

/// Places along a wall nearer to each other than this are one, mm.
const SAME_PLACE_MM: f64 = 1e-3;

/// How much of a sense a thing lets through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Passage {
    /// As if it were not there.
    Free,
    /// With a loss: boards let microwaves through, a door leaf lets sound through.
    WithLoss,
    /// Not at all.
    None,
}

impl Passage {
    /// Through a wall, openings apart.
    pub const fn through_wall(make_up: MakeUp, sense: Sense) -> Self {
        match make_up {
            MakeUp::Masonry | MakeUp::Block => Self::None,
            MakeUp::Stud if sense.passes_stud() => Self::WithLoss,
            MakeUp::Stud => Self::None,
            MakeUp::Glazed => Self::through_glass(sense),
        }
    }

    /// Through a pane.
    pub const fn through_glass(sense: Sense) -> Self {
        if sense.passes_glass() { Self::Free } else { Self::None }
    }

    /// Through the leaf of a door.
    pub const fn through_leaf(sense: Sense) -> Self {
        if sense.passes_leaf() { Self::WithLoss } else { Self::None }
    }
}

/// What a prism is a part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartOf {
    /// A wall, or a pane in it.
    Wall,
    /// The leaf of a door.
    Leaf,
    /// A piece of joinery.
    Joinery,
}

/// Something that stands in the way between two heights.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    /// What it is a part of.
    pub part_of: PartOf,
    /// Its footprint, convex, plan mm: three corners or more, or the two ends of a leaf, which has no thickness.
    pub footprint: Ring,
    /// The rectangle about the footprint.
    pub bounds: Rect,
    /// Height of its underside above the finished floor, mm.
    pub base: f64,
    /// Height of its top above the finished floor, mm.
    pub top: f64,
    /// What it lets through; never [`Passage::Free`].
    pub passage: Passage,
}

impl Prism {
    /// Whether it stands at every height between these two, so that no sight line within them passes over or under it.
    pub fn spans(&self, low: f64, high: f64) -> bool {
        self.base <= low && high <= self.top
    }

    /// Whether a point at a height lies within it.
    pub fn holds(&self, at: Point, height: f64) -> bool {
        self.base <= height
            && height <= self.top
            && self.footprint.len() > 2
            && self.bounds.contains(at)
            && self.footprint.contains(at)
    }
}

/// All that stands in the way of one sense on one level.
#[derive(Clone, Debug, Default)]
pub struct Obstacles {
    prisms: Vec<Prism>,
    bases: Vec<f64>,
    tops: Vec<f64>,
}

/// A range of heights, as far as it matters: two ranges that the same prisms span are the same band.
pub type Band = (usize, usize);

/// What spans a range of heights, as outlines on the plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// What stops the sense.
    pub stops: Vec<Segment>,
    /// The faces of what lets it through with a loss: every piece is crossed twice, in and out.
    pub boards: Vec<Segment>,
    /// Leaves that let it through with a loss; having no thickness they are crossed once.
    pub leaves: Vec<Segment>,
}

impl Obstacles {
    /// Gathers what stands in the way of a sense, with doors taken so.
    pub fn of_level(project: &Project, level: Id<Level>, sense: Sense, doors: DoorsAs) -> Self {
        let mut gathered = Self::default();
        let openings: Vec<(&Opening, &Wall)> =
            project.openings_on(level).map(|(_, opening, wall)| (opening, wall)).collect();
        let mut standing: Vec<&Wall> = Vec::new();
        for (id, wall) in project.walls_on(level) {
            if Passage::through_wall(wall.make_up, sense) == Passage::Free {
                continue;
            }
            standing.push(wall);
            let holes: Vec<&Opening> = openings
                .iter()
                .filter(|(opening, _)| opening.wall == id)
                .map(|(opening, _)| *opening)
                .collect();
            gathered.add_wall(wall, &holes, sense);
        }
        for fill in corner_fills(&standing) {
            let passage = Passage::through_wall(fill.make_up, sense);
            gathered.add(PartOf::Wall, fill.ring, (0.0, fill.height.as_mm()), passage);
        }
        for (opening, wall) in &openings {
            gathered.add_leaf(opening, wall, doors, Passage::through_leaf(sense));
        }
        for (_, piece) in project.joinery_on(level) {
            let footprint = Ring::new(piece.corners().to_vec());
            let heights = (piece.base.as_mm(), piece.top.as_mm());
            gathered.add(PartOf::Joinery, footprint, heights, Passage::None);
        }
        gathered.bases = ranked(gathered.prisms.iter().map(|prism| prism.base));
        gathered.tops = ranked(gathered.prisms.iter().map(|prism| prism.top));
        gathered
    }

    /// Every prism.
    pub fn prisms(&self) -> &[Prism] {
        &self.prisms
    }

    /// The band of a range of heights, mm.
    pub fn band(&self, low: f64, high: f64) -> Band {
        let beneath = self.bases.partition_point(|base| *base <= low);
        (beneath, self.tops.partition_point(|top| *top < high))
    }

    /// What spans a range of heights.
    pub fn standing_through(&self, low: f64, high: f64) -> Standing {
        let mut standing = Standing::default();
        let (mut solid, mut boards): (Vec<Ring>, Vec<Ring>) = (Vec::new(), Vec::new());
        for prism in self.prisms.iter().filter(|prism| prism.spans(low, high)) {
            match (prism.footprint.points(), prism.passage) {
                ([a, b], Passage::WithLoss) => standing.leaves.push(Segment::new(*a, *b)),
                ([a, b], _) => standing.stops.push(Segment::new(*a, *b)),
                (_, Passage::WithLoss) => boards.push(prism.footprint.clone()),
                _ => solid.push(prism.footprint.clone()),
            }
        }
        let solid = union_of_rings(&solid);
        standing.stops.extend(edges(&solid));
        if !boards.is_empty() {
            standing.boards.extend(edges(&difference(&union_of_rings(&boards), &solid)));
        }
        standing
    }

    fn add(&mut self, part_of: PartOf, footprint: Ring, (base, top): (f64, f64), passage: Passage) {
        let Some(bounds) = footprint.bounds() else { return };
        if base < top && passage != Passage::Free {
            self.prisms.push(Prism { part_of, footprint, bounds, base, top, passage });
        }
    }

    /// A wall, stretch by stretch between the ends of its openings.
    fn add_wall(&mut self, wall: &Wall, openings: &[&Opening], sense: Sense) {
        let passage = Passage::through_wall(wall.make_up, sense);
        let (length, height) = (wall.length().as_mm(), wall.height.as_mm());
        let holes: Vec<&&Opening> = openings.iter().filter(|opening| is_hole(opening, sense)).collect();
        let ends = holes.iter().flat_map(|hole| [hole.from().as_mm(), hole.to().as_mm()]);
        let mut places: Vec<f64> = ends.chain([0.0, length]).map(|place| place.clamp(0.0, length)).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < SAME_PLACE_MM);
        for pair in places.windows(2) {
            let middle = f64::midpoint(pair[0], pair[1]);
            let mut open: Vec<(f64, f64)> = holes
                .iter()
                .filter(|hole| (hole.from().as_mm()..=hole.to().as_mm()).contains(&middle))
                .map(|hole| (hole.sill().as_mm(), hole.head.as_mm()))
                .collect();
            open.sort_by(|a, b| a.0.total_cmp(&b.0));
            let stretch = wall_stretch(wall, pair[0], pair[1], 0.0);
            let mut base = 0.0_f64;
            for (sill, head) in open {
                self.add(PartOf::Wall, stretch.clone(), (base, sill.min(height)), passage);
                base = base.max(head);
            }
            self.add(PartOf::Wall, stretch, (base, height), passage);
        }
    }

    /// The leaf of a door, from the floor to its head, as it stands.
    fn add_leaf(&mut self, opening: &Opening, wall: &Wall, doors: DoorsAs, passage: Passage) {
        let OpeningForm::Door { state, .. } = opening.form else { return };
        let stands = match doors {
            DoorsAs::Drawn => state,
            DoorsAs::Open => DoorState::Open(Angle::degrees(90.0)),
            DoorsAs::Shut => DoorState::Shut,
        };
        if let Some((hinge, free)) = opening.leaf(wall, stands) {
            let behind_frame = if stands == DoorState::Shut { BEHIND_FRAME_MM } else { 0.0 };
            let heights = (0.0, opening.head.as_mm() + behind_frame);
            self.add(PartOf::Leaf, Ring::new(vec![hinge, free]), heights, passage);
        }
    }
}

/// Whether the sense goes through the hole itself: through a doorway whatever its leaf does, through a window if it
/// passes glass.
fn is_hole(opening: &Opening, sense: Sense) -> bool {
    match opening.form {
        OpeningForm::Door { .. } | OpeningForm::Plain => true,
        OpeningForm::Window { .. } => Passage::through_glass(sense) == Passage::Free,
    }
}

fn edges(region: &Region) -> impl Iterator<Item = Segment> + '_ {
    region.rings().flat_map(Ring::edges)
}

/// Different heights from the lowest up.
fn ranked(heights: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut heights: Vec<f64> = heights.collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup();
    heights
}
