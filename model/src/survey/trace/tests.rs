//! A small house drawn in the ways architects draw, and pages of anything at all.

use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};
use proptest::prelude::*;

use super::trace_page;
use crate::geometry::{Region, Ring, Segment, difference, union_of_rings};
use crate::plan::{Hand, RoomUse, Side};
use crate::survey::{Fill, Page, Proposal, ProposedDoor, ProposedForm, Stroke, Writing};

/// A page on which 1 unit is 50 mm, turned by so much on the plan.
fn plan_from_drawing(turn: f64) -> Affine {
    Affine::rotate(turn) * Affine::new([50.0, 0.0, 0.0, -50.0, 0.0, 10_000.0])
}

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Ring {
    Ring::from_rect(Rect::new(x0, y0, x1, y1))
}

/// Two rooms, 8 m by 5 m outside: outer walls 300, the wall between 100 at x 4000 to 4100; a window 1500 wide in
/// the lower wall, a front door 1000 wide in the upper one, a door of 800 in the wall between.
fn house() -> Region {
    let solid = union_of_rings(&[
        rect(0., 0., 8000., 300.),
        rect(0., 4700., 8000., 5000.),
        rect(0., 0., 300., 5000.),
        rect(7700., 0., 8000., 5000.),
        rect(4000., 0., 4100., 5000.),
    ]);
    let holes = union_of_rings(&[
        rect(1000., -10., 2500., 310.),
        rect(5500., 4690., 6500., 5010.),
        rect(3990., 1000., 4110., 1800.),
    ]);
    difference(&solid, &holes)
}

struct Draughtsman {
    page: Page,
    to_paper: Affine,
}

impl Draughtsman {
    fn new() -> Self {
        let page = Page { width: 200.0, height: 200.0, ..Page::default() };
        Self { page, to_paper: plan_from_drawing(0.0).inverse() }
    }

    fn next(&self) -> u32 {
        (self.page.fills.len() + self.page.strokes.len()) as u32
    }

    fn fill(&mut self, region: &Region, lightness: f32) {
        let (path, order) = (self.to_paper * region.to_path(), self.next());
        self.page.fills.push(Fill { path, even_odd: true, lightness, order });
    }

    fn stroke(&mut self, path: BezPath, width: f64) {
        let (path, order) = (self.to_paper * path, self.next());
        self.page.strokes.push(Stroke { path, width, order, ..Stroke::default() });
    }

    fn line(&mut self, x0: f64, y0: f64, x1: f64, y1: f64) {
        let mut path = BezPath::new();
        path.move_to((x0, y0));
        path.line_to((x1, y1));
        self.stroke(path, 0.18);
    }

    /// The leaf and arc of a door; turn is the sweep from shut to open, radians.
    fn door(&mut self, hinge: (f64, f64), shut: f64, turn: f64, width: f64) {
        let centre = Point::new(hinge.0, hinge.1);
        let tip = centre + Vec2::from_angle(shut + turn) * width;
        self.line(centre.x, centre.y, tip.x, tip.y);
        let arc = kurbo::Arc::new(centre, Vec2::new(width, width), shut, turn, 0.0);
        self.stroke(arc.to_path(0.1), 0.18);
    }

    fn signs(&mut self) {
        for y in [0.0, 150.0, 300.0] {
            self.line(1000., y, 2500., y);
        }
        self.door((5500., 4700.), 0.0, -std::f64::consts::FRAC_PI_2, 1000.);
        self.door((4100., 1000.), std::f64::consts::FRAC_PI_2, -std::f64::consts::FRAC_PI_2, 800.);
        for (text, x, y) in [("Kitchen", 1500., 3000.), ("12.34 m²", 1500., 2700.), ("Living", 5500., 3000.)]
        {
            let at = self.to_paper * Point::new(x, y);
            let writing =
                Writing { text: text.into(), at, direction: Vec2::new(1., 0.), length: 10., height: 3. };
            self.page.writings.push(writing);
        }
    }

    /// A radiator, a table, a stair, a dimension line, a scale bar and a frame round it all.
    fn clutter(&mut self) {
        for ring in [rect(350., 3000., 450., 4200.), rect(5000., 2000., 6400., 2900.)] {
            self.stroke(ring.to_path(), 0.13);
        }
        for step in 0..9 {
            let x = 4800. + 250. * f64::from(step);
            self.line(x, 320., x, 1220.);
        }
        self.line(0., -600., 8000., -600.);
        for x in [0., 8000.] {
            self.line(x, -700., x, -500.);
        }
        self.stroke(rect(-900., -1400., 9100., 9800.).to_path(), 0.7);
        for piece in [0., 2000., 4000.] {
            self.fill(&union_of_rings(&[rect(piece, -1200., piece + 1000., -1120.)]), 0.0);
        }
    }

    fn traced(mut self, turn: f64) -> Proposal {
        self.signs();
        self.clutter();
        trace_page(&self.page, plan_from_drawing(turn), &|_| true).unwrap()
    }
}

/// Holds a proposal against the house.
fn is_the_house(found: &Proposal, turn: f64, style: &str) {
    let back = Affine::rotate(-turn);
    let axes = [
        ((150., 150.), (7850., 150.), 300.),
        ((150., 4850.), (7850., 4850.), 300.),
        ((150., 150.), (150., 4850.), 300.),
        ((7850., 150.), (7850., 4850.), 300.),
        ((4050., 150.), (4050., 4850.), 100.),
    ];
    assert_eq!(found.walls.len(), axes.len(), "{style}: {:#?}", found.walls);
    for (start, end, thickness) in axes {
        let (start, end) = (Point::new(start.0, start.1), Point::new(end.0, end.1));
        let same = |wall: &&crate::survey::ProposedWall| {
            let (a, b) = (back * wall.start, back * wall.end);
            let near = |p: Point, q: Point| p.distance(q) < 3.0;
            (near(a, start) && near(b, end)) || (near(a, end) && near(b, start))
        };
        let wall = found.walls.iter().find(same).unwrap_or_else(|| panic!("{style}: {start:?} {end:?}"));
        assert!((wall.thickness.as_mm() - thickness).abs() < 3.0, "{style}: {}", wall.thickness.as_mm());
    }
    let mut holes: Vec<(f64, f64, f64, ProposedForm)> = found
        .openings
        .iter()
        .map(|opening| {
            let wall = &found.walls[opening.wall];
            let along = (wall.end - wall.start).normalize();
            let centre = back * (wall.start + along * opening.centre.as_mm());
            (centre.x.round(), centre.y.round(), opening.width.as_mm().round(), opening.form)
        })
        .collect();
    holes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let expected = [(1750., 150., 1500.), (4050., 1400., 800.), (6000., 4850., 1000.)];
    assert_eq!(holes.len(), 3, "{style}: {holes:?}");
    for (hole, expected) in holes.iter().zip(expected) {
        let off = [hole.0 - expected.0, hole.1 - expected.1, hole.2 - expected.2];
        assert!(off.iter().all(|by| by.abs() < 5.0), "{style}: {hole:?}");
    }
    assert_eq!(holes[0].3, ProposedForm::Window, "{style}");
    assert!(matches!(holes[1].3, ProposedForm::Door(Some(_))), "{style}");
    let mut areas: Vec<f64> = found.rooms.iter().map(|room| Ring::new(room.outline.clone()).area()).collect();
    areas.sort_by(f64::total_cmp);
    assert_eq!(areas.len(), 2, "{style}");
    for (area, expected) in areas.iter().zip([3600. * 4400., 3700. * 4400.]) {
        assert!((area / expected - 1.0).abs() < 0.005, "{style}: {area}");
    }
    let mut names: Vec<(&str, Option<RoomUse>)> =
        found.rooms.iter().map(|room| (room.name.as_str(), room.room_use)).collect();
    names.sort_by_key(|name| name.0);
    assert_eq!(names, [("Kitchen", Some(RoomUse::Kitchen)), ("Living", Some(RoomUse::Living))], "{style}");
}

#[test]
fn filled_walls_in_black_and_grey() {
    for (lightness, style) in [(0.0, "black"), (0.5, "grey"), (0.8, "light grey")] {
        for turn in [0.0, 0.5] {
            let mut drawn = Draughtsman::new();
            drawn.fill(&house(), lightness);
            is_the_house(&drawn.traced(turn), turn, style);
        }
    }
}

#[test]
fn filled_walls_piece_by_piece_with_white_holes_painted_over() {
    let mut drawn = Draughtsman::new();
    for wall in [
        rect(0., 0., 8000., 300.),
        rect(0., 4700., 8000., 5000.),
        rect(0., 300., 300., 4700.),
        rect(7700., 300., 8000., 4700.),
        rect(4000., 300., 4100., 4700.),
    ] {
        drawn.fill(&Region::from_ring(wall), 0.1);
    }
    for hole in
        [rect(1000., 0., 2500., 300.), rect(5500., 4700., 6500., 5000.), rect(4000., 1000., 4100., 1800.)]
    {
        drawn.fill(&Region::from_ring(hole), 1.0);
    }
    is_the_house(&drawn.traced(0.0), 0.0, "pieces");
}

#[test]
fn walls_in_outline() {
    for turn in [0.0, 0.5] {
        for (pen, style) in [(0.35, "outline"), (0.18, "one pen")] {
            let mut drawn = Draughtsman::new();
            drawn.stroke(house().to_path(), pen);
            is_the_house(&drawn.traced(turn), turn, style);
        }
    }
}

#[test]
fn walls_in_loose_lines_with_hatching() {
    let mut drawn = Draughtsman::new();
    let house = house();
    for edge in house.rings().flat_map(Ring::edges) {
        let mut path = BezPath::new();
        path.move_to(edge.a);
        path.line_to(edge.b);
        drawn.stroke(path, 0.35);
    }
    for step in 0..130 {
        let offset = 100.0 * f64::from(step) + 37.0;
        let line = Segment::new(Point::new(offset, 0.0), Point::new(offset - 5000.0, 5000.0));
        let mut marks: Vec<f64> = house
            .rings()
            .flat_map(Ring::edges)
            .filter_map(|edge| line.intersection(&edge).map(|meeting| meeting.t))
            .collect();
        marks.sort_by(f64::total_cmp);
        for pair in
            marks.windows(2).filter(|pair| house.contains(line.point_at(f64::midpoint(pair[0], pair[1]))))
        {
            let mut path = BezPath::new();
            path.move_to(line.point_at(pair[0]));
            path.line_to(line.point_at(pair[1]));
            drawn.stroke(path, 0.1);
        }
    }
    is_the_house(&drawn.traced(0.0), 0.0, "hatched");
}

#[test]
fn walls_drawn_with_a_broad_pen() {
    let mut drawn = Draughtsman::new();
    for (x0, y0, x1, y1, width) in [
        (0., 150., 1000., 150., 6.),
        (2500., 150., 8000., 150., 6.),
        (0., 4850., 5500., 4850., 6.),
        (6500., 4850., 8000., 4850., 6.),
        (150., 0., 150., 5000., 6.),
        (7850., 0., 7850., 5000., 6.),
        (4050., 200., 4050., 1000., 2.),
        (4050., 1800., 4050., 4800., 2.),
    ] {
        let mut path = BezPath::new();
        path.move_to((x0, y0));
        path.line_to((x1, y1));
        drawn.stroke(path, width);
    }
    is_the_house(&drawn.traced(0.0), 0.0, "broad pen");
}

#[test]
fn a_door_is_hung_where_its_arc_says() {
    let mut drawn = Draughtsman::new();
    drawn.fill(&house(), 0.0);
    let found = drawn.traced(0.0);
    let inner = found.openings.iter().find(|opening| (opening.width.as_mm() - 800.0).abs() < 1.0).unwrap();
    // The wall between runs up from below: hinges at its lower jamb, leaf into the room on its right.
    let wall = &found.walls[inner.wall];
    let up = wall.end.y > wall.start.y;
    let (hinge, swing) = if up { (Hand::Start, Side::Right) } else { (Hand::End, Side::Left) };
    assert_eq!(inner.form, ProposedForm::Door(Some(ProposedDoor { hinge, swing })));
}

#[test]
fn an_arc_at_the_face_of_an_unbroken_wall_is_a_door() {
    let mut drawn = Draughtsman::new();
    let walls = [
        rect(0., 0., 5000., 200.),
        rect(0., 3800., 5000., 4000.),
        rect(0., 0., 200., 4000.),
        rect(4800., 0., 5000., 4000.),
    ];
    drawn.fill(&union_of_rings(&walls), 0.0);
    drawn.door((1000., 200.), 0.0, std::f64::consts::FRAC_PI_2, 900.);
    let found = trace_page(&drawn.page, plan_from_drawing(0.0), &|_| true).unwrap();
    assert_eq!(found.openings.len(), 1);
    assert!((found.openings[0].width.as_mm() - 900.0).abs() < 2.0);
}

#[test]
fn clutter_alone_is_no_house() {
    let mut drawn = Draughtsman::new();
    drawn.clutter();
    let found = trace_page(&drawn.page, plan_from_drawing(0.0), &|_| true).unwrap();
    assert_eq!(found.rooms.len(), 0);
    assert_eq!(found.walls, []);
    assert_eq!(trace_page(&Page::default(), Affine::IDENTITY, &|_| true), Some(Proposal::default()));
}

#[test]
fn it_stops_when_told() {
    let mut drawn = Draughtsman::new();
    drawn.fill(&house(), 0.0);
    for stop_at in [0.0, 0.1, 0.3, 0.5, 0.95] {
        assert_eq!(trace_page(&drawn.page, plan_from_drawing(0.0), &|done| done < stop_at), None);
    }
}

/// Pieces that look like parts of a drawing, in any mixture.
fn any_page() -> impl Strategy<Value = Page> {
    let place = || (0i32..40).prop_map(|step| f64::from(step) * 5.0);
    let shape = (place(), place(), place(), place(), 0u8..6, 0.0f32..1.0);
    proptest::collection::vec(shape, 0..60).prop_map(|shapes| {
        let mut page = Page { width: 200.0, height: 200.0, ..Page::default() };
        for (index, (x, y, u, v, kind, lightness)) in shapes.into_iter().enumerate() {
            let order = index as u32;
            let mut line = BezPath::new();
            line.move_to((x, y));
            line.line_to((u, v));
            let wall = if kind == 0 { Rect::new(x, y, u, y + 4.0) } else { Rect::new(x, y, x + 2.0, v) };
            match kind {
                0 | 1 => page.fills.push(Fill { path: wall.to_path(0.1), order, ..Fill::default() }),
                2 => page.fills.push(Fill {
                    path: Rect::new(x, y, u, v).to_path(0.1),
                    even_odd: true,
                    lightness,
                    order,
                }),
                3 => page.strokes.push(Stroke {
                    path: wall.to_path(0.1),
                    width: 0.3,
                    order,
                    ..Stroke::default()
                }),
                4 => {
                    let width = f64::from(lightness) * 8.0;
                    page.strokes.push(Stroke { path: line, width, order, ..Stroke::default() });
                }
                _ => {
                    let arc = kurbo::Arc::new((x, y), (16.0, 16.0), 0.0, 1.57, 0.0);
                    page.strokes.push(Stroke {
                        path: arc.to_path(0.01),
                        width: 0.2,
                        order,
                        ..Stroke::default()
                    });
                }
            }
        }
        page
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn any_page_gives_a_sound_proposal(page in any_page(), turn in 0.0..6.3) {
        let found = trace_page(&page, plan_from_drawing(turn), &|_| true).unwrap();
        for wall in &found.walls {
            prop_assert!(wall.start.is_finite() && wall.end.is_finite());
            prop_assert!(wall.length().as_mm() > 1.0 && wall.thickness.as_mm() >= 30.0);
            prop_assert!((0.0..=1.0).contains(&wall.confidence));
        }
        for (index, opening) in found.openings.iter().enumerate() {
            let length = found.walls[opening.wall].length().as_mm();
            let (centre, half) = (opening.centre.as_mm(), opening.width.as_mm() / 2.0);
            prop_assert!(half > 0.0 && centre - half >= -0.01 && centre + half <= length + 0.01);
            for other in found.openings[..index].iter().filter(|other| other.wall == opening.wall) {
                let apart = (other.centre.as_mm() - centre).abs();
                prop_assert!(apart >= half + other.width.as_mm() / 2.0 - 0.01, "{:?} {:?}", opening, other);
            }
        }
        for room in &found.rooms {
            let ring = Ring::new(room.outline.clone());
            prop_assert!(ring.signed_area() > 0.0 && ring.contains(room.seed));
            let edges: Vec<Segment> = ring.edges().collect();
            for first in 0..edges.len() {
                for second in first + 2..edges.len() {
                    if (first, second) != (0, edges.len() - 1) {
                        let crosses = edges[first].intersection(&edges[second]);
                        let proper = crosses.is_some_and(|at| (0.001..0.999).contains(&at.t) && (0.001..0.999).contains(&at.u));
                        prop_assert!(!proper, "{:?} {:?}", edges[first], edges[second]);
                    }
                }
            }
        }
    }
}
