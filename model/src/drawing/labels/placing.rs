//! Finding a place for every label of a crowded plan.
//!
//! Each label is tried against its symbol on eight sides, then on rings farther and farther out with a leader,
//! and takes the cheapest place at which it covers no symbol, no lettering and no other label. Cost counts walls
//! crossed, leaders crossed and distance; rings grow without end, so a place is always found. The order depends
//! on nothing but the requests, so the same plan always gets the same labels.

use kurbo::{Point, Rect, Size, Vec2};
use rstar::primitives::{GeomWithData, Line, Rectangle};
use rstar::{AABB, RTree, RTreeObject, SelectionFunction};

use crate::geometry::Segment;

use super::line_crosses;

/// Clear distance between a symbol and a label that touches it, mm on paper.
const GAP_MM: f64 = 0.5;

/// Clear distance between labels, and between labels and obstacles, mm on paper.
const CLEARANCE_MM: f64 = 0.3;

/// A label nearer than this to another device's symbol might be taken for that device's, mm on paper.
const MISTAKEN_WITHIN_MM: f64 = 1.2;

/// The first ring with a leader stands off so far, mm on paper.
const FIRST_RING_MM: f64 = 2.5;

/// Each ring stands off so many times as far as the one before, and a little more.
const RING_GROWTH: f64 = 1.25;

/// So many rings are tried for a better place once there is a good one: a label far away is no better.
const RINGS_AFTER_FIRST: u32 = 4;

/// Directions tried on each ring.
const DIRECTIONS: u32 = 24;

/// What a place costs, in millimetres of leader on paper that one would put up with instead.
const COST_OF_LEADER: f64 = 6.0;
/// For each line of weight 1 that the label lies across.
const COST_OF_LINE_UNDER_LABEL: f64 = 20.0;
/// For each label, symbol or text that the leader runs across.
const COST_OF_BOX_UNDER_LEADER: f64 = 12.0;
/// For each wall line or other leader that the leader runs across.
const COST_OF_LINE_UNDER_LEADER: f64 = 5.0;
/// A leader crosses the face of a wall more lightly than lettering would lie on it.
const MOST_WEIGHT_UNDER_LEADER: f64 = 2.0;
/// For each symbol of another device so near that one could take the label for that device's.
const COST_OF_MISTAKING: f64 = 9.0;

/// What is to be labelled, and how large its label is.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelRequest {
    /// The rectangle of the symbol, plan mm.
    pub symbol: Rect,
    /// Width and height of the label, plan mm.
    pub size: Size,
}

/// A line that labels and leaders keep off where they can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineToAvoid {
    /// The line, plan mm.
    pub line: Segment,
    /// How much it is to be avoided by labels: 4 for the face of a wall, less for finer lines.
    pub weight: f64,
}

/// How much a leader is to be avoided by later labels.
const WEIGHT_OF_LEADER: f64 = 1.0;

/// Where a label went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedLabel {
    /// The rectangle of the label, plan mm.
    pub bounds: Rect,
    /// From the label to its symbol, where it could not sit beside it.
    pub leader: Option<(Point, Point)>,
    /// −1 where the label lies left of its symbol, 1 right of it, 0 above or below: how its lines are set.
    pub beside: i8,
}

type Boxes = RTree<Rectangle<[f64; 2]>>;
type WeightedLine = GeomWithData<Line<[f64; 2]>, f64>;

/// Places every label, in the order of the requests. `obstacles` (symbols, the requests' own among them or not,
/// and lettering) are never covered; `lines` (walls) are crossed only where that is the lesser evil.
pub fn place_labels(
    requests: Vec<LabelRequest>,
    obstacles: &[Rect],
    lines: &[LineToAvoid],
    scale: f64,
) -> Vec<PlacedLabel> {
    let symbols = requests.iter().map(|request| &request.symbol);
    let boxes = obstacles.iter().chain(symbols).filter(|rect| rect.is_finite()).map(|rect| boxed(*rect));
    let own_symbols = requests.iter().map(|request| request.symbol).filter(|rect| rect.is_finite());
    let mut board = Board {
        symbols: RTree::bulk_load(own_symbols.map(boxed).collect()),
        boxes: RTree::bulk_load(boxes.collect()),
        lines: RTree::bulk_load(
            lines.iter().map(|line| lined(line.line.a, line.line.b, line.weight)).collect(),
        ),
        scale: if scale > 0.0 && scale.is_finite() { scale } else { 1.0 },
    };
    // The hemmed in choose first: they have fewest places to go.
    let mut order: Vec<(usize, usize)> =
        requests.iter().map(|request| board.neighbours(request)).enumerate().collect();
    order.sort_by_key(|(index, neighbours)| (std::cmp::Reverse(*neighbours), *index));
    let mut placed = vec![None; requests.len()];
    for (index, _) in order {
        let label = board.place(&requests[index]);
        board.take(label);
        placed[index] = Some(label);
    }
    placed.into_iter().flatten().collect()
}

fn boxed(rect: Rect) -> Rectangle<[f64; 2]> {
    Rectangle::from_corners([rect.x0, rect.y0], [rect.x1, rect.y1])
}

fn lined(from: Point, to: Point, weight: f64) -> WeightedLine {
    GeomWithData::new(Line::new([from.x, from.y], [to.x, to.y]), weight)
}

fn envelope(rect: Rect) -> AABB<[f64; 2]> {
    AABB::from_corners([rect.x0, rect.y0], [rect.x1, rect.y1])
}

fn ends(line: &WeightedLine) -> (Point, Point) {
    let Line { from, to, .. } = *line.geom();
    (Point::new(from[0], from[1]), Point::new(to[0], to[1]))
}

/// What is on the sheet so far.
struct Board {
    symbols: Boxes,
    boxes: Boxes,
    lines: RTree<WeightedLine>,
    scale: f64,
}

impl Board {
    fn neighbours(&self, request: &LabelRequest) -> usize {
        let reach = request.symbol.inflate(request.size.width, request.size.height);
        self.boxes.locate_in_envelope_intersecting(envelope(reach)).count()
    }

    fn take(&mut self, label: PlacedLabel) {
        self.boxes.insert(boxed(label.bounds));
        if let Some((from, to)) = label.leader {
            self.lines.insert(lined(from, to, WEIGHT_OF_LEADER));
        }
    }

    fn is_free(&self, rect: Rect) -> bool {
        let clearance = CLEARANCE_MM * self.scale;
        let wanted = rect.inflate(clearance, clearance);
        self.boxes.locate_in_envelope_intersecting(envelope(wanted)).next().is_none()
    }

    /// The weight of all lines that run across a label or right beside its lettering.
    fn lines_across(&self, label: Rect) -> f64 {
        let clearance = CLEARANCE_MM * self.scale;
        let rect = label.inflate(clearance, clearance);
        self.lines
            .locate_in_envelope_intersecting(envelope(rect))
            .filter(|line| {
                let (from, to) = ends(line);
                line_crosses(from, to, rect)
            })
            .map(|line| line.data)
            .sum()
    }

    /// How many other devices' symbols stand close to a place for a label.
    fn mistakable(&self, request: &LabelRequest, label: Rect) -> f64 {
        let reach = MISTAKEN_WITHIN_MM * self.scale;
        self.symbols
            .locate_in_envelope_intersecting(envelope(label.inflate(reach, reach)))
            .filter(|symbol| **symbol != boxed(request.symbol))
            .count() as f64
    }

    /// What lies beneath a label and beside it.
    fn cost_of_place(&self, request: &LabelRequest, label: Rect) -> f64 {
        COST_OF_LINE_UNDER_LABEL * self.lines_across(label)
            + COST_OF_MISTAKING * self.mistakable(request, label)
    }

    fn place(&self, request: &LabelRequest) -> PlacedLabel {
        let mut best: Option<(f64, PlacedLabel)> = None;
        let mut consider = |cost: f64, label: PlacedLabel| {
            if best.is_none_or(|(lowest, _)| cost < lowest - 1e-9) {
                best = Some((cost, label));
            }
            best.map_or(f64::INFINITY, |(lowest, _)| lowest)
        };
        let mut lowest = f64::INFINITY;
        for (rank, label) in self.beside(request).into_iter().enumerate() {
            if self.is_free(label.bounds) {
                let cost = self.cost_of_place(request, label.bounds);
                lowest = consider(0.1 * rank as f64 + cost, label);
            }
        }
        let mut stands_off = FIRST_RING_MM;
        let mut rings_after_first = 0;
        while COST_OF_LEADER + stands_off < lowest && rings_after_first < RINGS_AFTER_FIRST {
            for direction in 0..DIRECTIONS {
                let label = self.on_ring(request, stands_off, direction);
                if self.is_free(label.bounds) {
                    let cost = COST_OF_LEADER + stands_off;
                    lowest = consider(cost + self.cost_of_ring(request, label, lowest - cost), label);
                }
            }
            rings_after_first += u32::from(lowest < COST_OF_LINE_UNDER_LABEL);
            stands_off = stands_off * RING_GROWTH + FIRST_RING_MM;
        }
        best.map_or_else(|| self.on_ring(request, stands_off, 0), |(_, label)| label)
    }

    /// The eight places beside a symbol, best first: right, left, above, below, then the corners.
    fn beside(&self, request: &LabelRequest) -> [PlacedLabel; 8] {
        let away = request.symbol.size() / 2.0 + request.size / 2.0;
        let gap = (GAP_MM.max(CLEARANCE_MM) + 0.01) * self.scale;
        [(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)].map(|(across, up)| {
            let off = Vec2::new(f64::from(across) * (away.width + gap), f64::from(up) * (away.height + gap));
            let bounds = Rect::from_center_size(request.symbol.center() + off, request.size);
            PlacedLabel { bounds, leader: None, beside: across as i8 }
        })
    }

    fn on_ring(&self, request: &LabelRequest, stands_off: f64, direction: u32) -> PlacedLabel {
        let turn = std::f64::consts::TAU * f64::from(direction) / f64::from(DIRECTIONS);
        let towards = Vec2::new(turn.cos(), turn.sin());
        let away = request.symbol.size() / 2.0 + request.size / 2.0;
        let touching = (away.width / towards.x.abs()).min(away.height / towards.y.abs());
        let centre = request.symbol.center() + towards * (touching + stands_off * self.scale);
        let bounds = Rect::from_center_size(centre, request.size);
        let beside = if towards.x > 0.3 {
            1
        } else if towards.x < -0.3 {
            -1
        } else {
            0
        };
        PlacedLabel { bounds, leader: Some(leader(bounds, request.symbol)), beside }
    }

    /// What lies beneath a label, beside it and beneath its leader; counted no further than past `most`.
    fn cost_of_ring(&self, request: &LabelRequest, label: PlacedLabel, most: f64) -> f64 {
        let mut cost = self.cost_of_place(request, label.bounds);
        let Some((from, to)) = label.leader else { return cost };
        for rectangle in self.boxes.locate_with_selection_function(AlongLeader { from, to }) {
            if cost > most {
                return cost;
            }
            let rect = rect_of(&rectangle.envelope());
            if rect != request.symbol && line_crosses(from, to, rect) {
                cost += COST_OF_BOX_UNDER_LEADER;
            }
        }
        for line in self.lines.locate_with_selection_function(AlongLeader { from, to }) {
            if cost > most {
                return cost;
            }
            let (a, b) = ends(line);
            if Segment::new(a, b).intersection(&Segment::new(from, to)).is_some() {
                cost += line.data.min(MOST_WEIGHT_UNDER_LEADER) * COST_OF_LINE_UNDER_LEADER;
            }
        }
        cost
    }
}

/// Finds what may lie under a leader without looking at all that lies about it: a long one leads past much.
struct AlongLeader {
    from: Point,
    to: Point,
}

impl<T: RTreeObject<Envelope = AABB<[f64; 2]>>> SelectionFunction<T> for AlongLeader {
    fn should_unpack_parent(&self, envelope: &AABB<[f64; 2]>) -> bool {
        line_crosses(self.from, self.to, rect_of(envelope))
    }
}

fn rect_of(envelope: &AABB<[f64; 2]>) -> Rect {
    let (low, high) = (envelope.lower(), envelope.upper());
    Rect::new(low[0], low[1], high[0], high[1])
}

/// From the nearest point half-way along or at the foot of a label to the nearest point of the symbol.
fn leader(label: Rect, symbol: Rect) -> (Point, Point) {
    let middle = symbol.center();
    let on_label = if middle.x < label.x0 {
        Point::new(label.x0, label.center().y)
    } else if middle.x > label.x1 {
        Point::new(label.x1, label.center().y)
    } else if middle.y < label.y0 {
        Point::new(middle.x, label.y0)
    } else {
        Point::new(middle.x, label.y1)
    };
    // Towards the middle of the symbol, as far as its rectangle.
    let towards = on_label - middle;
    let half = symbol.size() / 2.0;
    let reach = (half.width / towards.x.abs()).min(half.height / towards.y.abs()).min(1.0);
    (on_label, middle + towards * reach)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SCALE: f64 = 50.0;

    fn request(x: f64, y: f64) -> LabelRequest {
        LabelRequest {
            symbol: Rect::from_center_size(Point::new(x, y), (250.0, 250.0)),
            size: Size::new(420.0, 240.0),
        }
    }

    fn overlap(a: Rect, b: Rect) -> bool {
        let both = a.intersect(b);
        both.width() > 1e-6 && both.height() > 1e-6
    }

    #[test]
    fn a_lonely_label_sits_to_the_right() {
        let placed = place_labels(vec![request(0.0, 0.0)], &[], &[], SCALE);
        assert_eq!((placed[0].leader, placed[0].beside), (None, 1));
        assert!(placed[0].bounds.x0 > 125.0 && placed[0].bounds.x0 < 125.0 + 50.0);
    }

    #[test]
    fn a_wall_on_the_right_sends_it_to_the_left() {
        let line = Segment::new(Point::new(150.0, -5000.0), Point::new(150.0, 5000.0));
        let wall = [LineToAvoid { line, weight: 1.0 }];
        let placed = place_labels(vec![request(0.0, 0.0)], &[], &wall, SCALE);
        assert_eq!((placed[0].leader, placed[0].beside), (None, -1));
    }

    #[test]
    fn neighbours_on_a_wall_keep_their_labels_apart() {
        let line = Segment::new(Point::new(130.0, -5000.0), Point::new(130.0, 5000.0));
        let requests = vec![request(0.0, 0.0), request(0.0, 300.0)];
        let placed = place_labels(requests, &[], &[LineToAvoid { line, weight: 1.0 }], SCALE);
        assert!(placed[0].bounds.center().y < placed[1].bounds.center().y);
    }

    #[test]
    fn hemmed_in_it_goes_out_on_a_leader() {
        let hem: Vec<Rect> = [(-500.0, 0.0), (500.0, 0.0), (0.0, 350.0), (0.0, -350.0)]
            .iter()
            .map(|at| Rect::from_center_size(*at, (700.0, 400.0)))
            .collect();
        let placed = place_labels(vec![request(0.0, 0.0)], &hem, &[], SCALE);
        let (from, to) = placed[0].leader.expect("a leader");
        assert!(hem.iter().all(|rect| !overlap(*rect, placed[0].bounds)));
        assert!(from.distance(to) > 0.0 && (to.x.abs() <= 125.1 && to.y.abs() <= 125.1));
    }

    #[test]
    fn walled_in_solid_it_still_finds_the_way_out() {
        let hem = [Rect::from_center_size((0.0, 0.0), (40_000.0, 40_000.0))];
        let placed = place_labels(vec![request(0.0, 0.0)], &hem, &[], SCALE);
        assert!(!overlap(hem[0], placed[0].bounds));
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn nothing_is_ever_covered(
            places in prop::collection::vec((0.0..6000.0f64, 0.0..5000.0f64, 100.0..900.0f64), 1..90),
            texts in prop::collection::vec((0.0..6000.0f64, 0.0..5000.0f64), 0..12),
            walls in prop::collection::vec((0.0..6000.0f64, 0.0..5000.0f64), 0..6),
        ) {
            let requests: Vec<LabelRequest> = places
                .iter()
                .map(|(x, y, width)| LabelRequest { size: Size::new(*width, 240.0), ..request(*x, *y) })
                .collect();
            let texts: Vec<Rect> =
                texts.iter().map(|at| Rect::from_center_size(*at, (800.0, 200.0))).collect();
            let walls: Vec<LineToAvoid> = walls
                .iter()
                .map(|(x, y)| Segment::new(Point::new(*x, 0.0), Point::new(*x, *y)))
                .map(|line| LineToAvoid { line, weight: 1.0 })
                .collect();
            let placed = place_labels(requests.clone(), &texts, &walls, SCALE);
            prop_assert_eq!(placed.len(), requests.len());
            for (index, label) in placed.iter().enumerate() {
                prop_assert_eq!(label.bounds.size().width.round(), requests[index].size.width.round());
                prop_assert!(texts.iter().all(|text| !overlap(*text, label.bounds)));
                prop_assert!(requests.iter().all(|request| !overlap(request.symbol, label.bounds)));
                prop_assert!(placed[..index].iter().all(|other| !overlap(other.bounds, label.bounds)));
            }
            prop_assert_eq!(&placed, &place_labels(requests, &texts, &walls, SCALE));
        }
    }
}
