//! What fills a gap in a wall: the signs of doors and windows.
//!
//! The arc of a leaf about one jamb is a door; lines across the gap within the wall are the panes of a window;
//! lines along its faces alone are a threshold or a lintel.

use kurbo::Point;
use rstar::primitives::{GeomWithData, Line as Cord};
use rstar::{AABB, RTree};

use super::arcs::Arc;
use super::ink::{Ink, Line};
use crate::plan::{Hand, Side};
use crate::survey::{ProposedDoor, ProposedForm};

/// Lines are taken for parallel to a wall within this, as the sine of the angle (about 2°).
const PARALLEL: f64 = 0.035;

/// How much of a gap a line must cross to be a pane.
const WHOLE: f64 = 0.8;

/// Arcs and lines of a page, sorted for looking into gaps.
pub(super) struct Signs<'a> {
    arcs: &'a [Arc],
    lines: RTree<GeomWithData<Cord<[f64; 2]>, Line>>,
    noise: f64,
}

/// A gap as it is looked into: along the wall from one jamb to the other.
#[derive(Clone, Copy)]
pub(super) struct Gap {
    /// On the axis at one jamb.
    pub a: Point,
    /// On the axis at the other.
    pub b: Point,
    /// Thickness of the wall, mm.
    pub thickness: f64,
}

impl Gap {
    fn width(&self) -> f64 {
        self.a.distance(self.b)
    }

    /// A point as distance along from `a` and distance to the left of the axis.
    fn place(&self, point: Point) -> (f64, f64) {
        let along = (self.b - self.a) / self.width().max(1e-9);
        ((point - self.a).dot(along), along.cross(point - self.a))
    }
}

impl<'a> Signs<'a> {
    /// Sorts the lines and arcs of a page.
    pub fn of_ink(ink: &'a Ink) -> Self {
        let cord = |line: &Line| {
            let (a, b) = (line.at.a, line.at.b);
            GeomWithData::new(Cord::new([a.x, a.y], [b.x, b.y]), *line)
        };
        let lines = RTree::bulk_load(ink.lines.iter().filter(|line| !line.of_curve).map(cord).collect());
        Self { arcs: &ink.arcs, lines, noise: ink.noise }
    }

    /// What a gap is, and how sure that is; `None` where nothing in it says so.
    pub fn in_gap(&self, gap: Gap) -> Option<(ProposedForm, f64)> {
        let door = self.hinged_door(gap);
        if door.is_some() {
            return door;
        }
        self.lines_across(gap)
    }

    fn hinged_door(&self, gap: Gap) -> Option<(ProposedForm, f64)> {
        let width = gap.width();
        let near = (0.12 * width).max(90.0) + 2.0 * self.noise;
        let reach = gap.thickness / 2.0 + 150.0 + self.noise;
        let mut leaves: Vec<(Hand, Side, f64)> = Vec::new();
        for arc in self.arcs {
            let (along, aside) = gap.place(arc.centre);
            let hinge = if along.abs() <= near {
                Hand::Start
            } else if (along - width).abs() <= near {
                Hand::End
            } else {
                continue;
            };
            if aside.abs() > reach || arc.radius > 1.2 * width {
                continue;
            }
            // One end lies shut in the gap, the other stands open beside it.
            let shut = if hinge == Hand::Start { along + arc.radius } else { along - arc.radius };
            let (start, end) = (gap.place(arc.start), gap.place(arc.end));
            let off = |at: (f64, f64)| (at.0 - shut).hypot(at.1 - aside);
            let (closed, open) = if off(start) <= off(end) { (start, end) } else { (end, start) };
            let opens = (open.1 - aside).abs();
            if off(closed) > near || opens < 0.35 * arc.radius {
                continue;
            }
            let swing = if open.1 > aside { Side::Left } else { Side::Right };
            leaves.push((hinge, swing, arc.radius));
        }
        let best = leaves
            .iter()
            .filter(|leaf| leaf.2 >= 0.78 * width)
            .min_by(|a, b| (a.2 - width).abs().total_cmp(&(b.2 - width).abs()));
        if let Some((hinge, swing, radius)) = best {
            let sure = if (radius - width).abs() <= 0.06 * width { 0.95 } else { 0.85 };
            return Some((ProposedForm::Door(Some(ProposedDoor { hinge: *hinge, swing: *swing })), sure));
        }
        let pair = leaves.iter().filter(|leaf| leaf.0 == Hand::Start).any(|first| {
            let second = leaves.iter().filter(|leaf| leaf.0 == Hand::End);
            second.clone().any(|second| (first.2 + second.2 - width).abs() <= 0.15 * width)
        });
        pair.then_some((ProposedForm::Door(None), 0.9))
    }

    fn lines_across(&self, gap: Gap) -> Option<(ProposedForm, f64)> {
        let width = gap.width();
        let half = gap.thickness / 2.0;
        let levels = self.levels_across(gap);
        let within = half - (0.1 * gap.thickness).max(6.0);
        let whole: Vec<&Level> = levels.iter().filter(|level| level.covered >= WHOLE * width).collect();
        let inner = whole.iter().filter(|level| level.aside.abs() < within && !level.dashed).count();
        let faces = whole.iter().filter(|level| level.aside.abs() >= within && !level.dashed).count();
        if inner >= 1 && inner + faces >= 2 {
            return Some((ProposedForm::Window, 0.9));
        }
        if inner == 1 {
            return Some((ProposedForm::Window, 0.6));
        }
        // Leaves that slide past each other: each stands in one half of the gap, on its own line.
        let half_leaves = |from_start: bool| {
            levels.iter().any(|level| {
                let touches = if from_start { level.from < 0.1 * width } else { level.to > 0.9 * width };
                touches && (0.4 * width..WHOLE * width).contains(&level.covered) && !level.dashed
            })
        };
        if half_leaves(true) && half_leaves(false) && levels.len() >= 2 {
            return Some((ProposedForm::Door(None), 0.7));
        }
        if faces >= 2 {
            return Some((ProposedForm::Window, 0.55));
        }
        (!whole.is_empty()).then_some((ProposedForm::Plain, 0.7))
    }

    /// Lines along the wall in the gap, gathered by their distance from the axis.
    fn levels_across(&self, gap: Gap) -> Vec<Level> {
        let width = gap.width();
        let reach = gap.thickness / 2.0 + 25.0 + 1.5 * self.noise;
        let inflate = gap.thickness / 2.0 + 60.0 + 2.0 * self.noise;
        let (low_x, high_x) = (gap.a.x.min(gap.b.x) - inflate, gap.a.x.max(gap.b.x) + inflate);
        let (low_y, high_y) = (gap.a.y.min(gap.b.y) - inflate, gap.a.y.max(gap.b.y) + inflate);
        let around = AABB::from_corners([low_x, low_y], [high_x, high_y]);
        let mut pieces: Vec<(f64, f64, f64, bool)> = Vec::new();
        for line in self.lines.locate_in_envelope_intersecting(around) {
            let (a, b) = (gap.place(line.data.at.a), gap.place(line.data.at.b));
            let length = line.data.at.length();
            let slant = (a.1 - b.1).abs();
            if slant > PARALLEL * length + 1.5 * self.noise || a.1.abs().max(b.1.abs()) > reach {
                continue;
            }
            let (from, to) = (a.0.min(b.0), a.0.max(b.0));
            let beyond = (0.15 * width).max(200.0);
            if from < -beyond || to > width + beyond {
                continue;
            }
            let (from, to) = (from.max(0.0), to.min(width));
            if to - from > (0.05 * width).min(40.0) {
                pieces.push((f64::midpoint(a.1, b.1), from, to, line.data.dashed));
            }
        }
        levels_of(pieces, 12.0 + self.noise)
    }
}

/// Lines at one distance from the axis.
struct Level {
    aside: f64,
    from: f64,
    to: f64,
    covered: f64,
    dashed: bool,
}

fn levels_of(mut pieces: Vec<(f64, f64, f64, bool)>, apart: f64) -> Vec<Level> {
    pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut levels = Vec::new();
    let mut rest = pieces.as_slice();
    while let Some(first) = rest.first() {
        let count = rest.iter().take_while(|piece| piece.0 - first.0 <= apart).count();
        let (group, others) = rest.split_at(count);
        rest = others;
        let mut group = group.to_vec();
        group.sort_by(|a, b| a.1.total_cmp(&b.1));
        let (mut covered, mut reached) = (0.0, f64::NEG_INFINITY);
        for (_, from, to, _) in &group {
            covered += (to - from.max(reached)).max(0.0);
            reached = reached.max(*to);
        }
        levels.push(Level {
            aside: group.iter().map(|piece| piece.0).sum::<f64>() / group.len() as f64,
            from: group.iter().map(|piece| piece.1).fold(f64::INFINITY, f64::min),
            to: reached,
            covered,
            dashed: group.iter().all(|piece| piece.3),
        });
    }
    levels
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Segment;

    fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Line {
        let at = Segment::new(Point::new(x0, y0), Point::new(x1, y1));
        Line { at, pen: 1.0, lightness: 0.0, dashed: false, of_curve: false }
    }

    fn seen(lines: Vec<Line>, arcs: Vec<Arc>) -> Option<(ProposedForm, f64)> {
        let ink = Ink { lines, arcs, ..Ink::default() };
        let gap = Gap { a: Point::new(0.0, 0.0), b: Point::new(800.0, 0.0), thickness: 200.0 };
        Signs::of_ink(&ink).in_gap(gap)
    }

    fn arc(hinge: (f64, f64), radius: f64, start: (f64, f64), end: (f64, f64)) -> Arc {
        Arc { centre: hinge.into(), radius, start: start.into(), end: end.into() }
    }

    #[test]
    fn an_arc_about_a_jamb_is_a_door_hung_there() {
        let leaf = arc((800.0, 100.0), 790.0, (10.0, 100.0), (800.0, 890.0));
        let door = ProposedDoor { hinge: Hand::End, swing: Side::Left };
        assert_eq!(seen(vec![], vec![leaf]), Some((ProposedForm::Door(Some(door)), 0.95)));
        let away = arc((400.0, 100.0), 790.0, (-390.0, 100.0), (400.0, 890.0));
        assert_eq!(seen(vec![], vec![away]), None);
        let pair = vec![
            arc((0.0, -100.0), 400.0, (400.0, -100.0), (0.0, -500.0)),
            arc((800.0, -100.0), 400.0, (400.0, -100.0), (800.0, -500.0)),
        ];
        assert_eq!(seen(vec![], pair), Some((ProposedForm::Door(None), 0.9)));
    }

    #[test]
    fn lines_across_are_panes() {
        let panes = vec![line(0., -100., 800., -100.), line(0., 0., 800., 0.), line(0., 100., 800., 100.)];
        assert_eq!(seen(panes, vec![]), Some((ProposedForm::Window, 0.9)));
        let sliding = vec![line(0., -30., 450., -30.), line(350., 30., 800., 30.)];
        assert_eq!(seen(sliding, vec![]), Some((ProposedForm::Door(None), 0.7)));
        let passing = vec![line(-3000., 0., 4000., 0.), line(0., 400., 800., 400.)];
        assert_eq!(seen(passing, vec![]), None);
    }
}
