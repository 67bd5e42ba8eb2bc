//! What a drawing truly shows, and how much of it a trace or a plan has found.
//!
//! A truth file lies beside a drawing of the trial data: walls, openings and rooms in metres, and where they are on
//! the drawing. [`Truth`] reads it, [`Found`] takes what a proposal or a level of a plan says, and [`score`] holds
//! one against the other. Lengths are millimetres and y goes up, as on a plan.

use std::path::{Path, PathBuf};

use kurbo::{Point, Vec2};
use pattress_model::building::outline::room_outlines;
use pattress_model::geometry::Ring;
use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::project::Project;
use pattress_model::survey::Proposal;
use serde_json::Value;

/// Axes are measured at points so far apart, mm.
const STEP_MM: f64 = 10.0;

/// An opening counts as found where its centre is no farther off than this, mm.
const OPENING_WITHIN_MM: f64 = 100.0;

/// A thickness counts as found where it is no farther off than this, mm.
const THICKNESS_WITHIN_MM: f64 = 15.0;

/// An area counts as found where it is off by no more than this share.
const AREA_WITHIN: f64 = 0.02;

/// What answers for an axis runs along it, not across: the sine of 15 degrees.
const ALONG_SINE: f64 = 0.259;

/// A wall, axis and thickness, mm.
#[derive(Clone, Debug)]
pub struct WallLine {
    /// One end of its axis.
    pub start: Point,
    /// The other end.
    pub end: Point,
    /// From face to face.
    pub thickness: f64,
}

/// A true wall.
#[derive(Clone, Debug)]
pub struct TrueWall {
    /// Where it is.
    pub line: WallLine,
    /// Whether the drawing cuts it, so that it can be found; if not, it counts neither as missed nor as false.
    pub drawn: bool,
}

/// What a drawing truly shows.
#[derive(Clone, Debug)]
pub struct Truth {
    /// Its walls.
    pub walls: Vec<TrueWall>,
    /// Centres of the openings that the drawing cuts, on the axes of their walls.
    pub openings: Vec<Point>,
    /// Outlines of its rooms.
    pub rooms: Vec<Ring>,
    /// Whether it names every wall; else (structural walls only) nothing that was found is called false.
    pub complete: bool,
    /// From plan millimetres to the drawing's own units (x right, y down), row by row.
    drawing_from_plan: [[f64; 3]; 3],
}

impl Truth {
    /// Reads a truth file. One that only says where things are takes them from the truth of the page it was made
    /// from, which lies in the same folder.
    ///
    /// # Panics
    /// Where the file is none: trials are not run on other files.
    pub fn read(path: &Path) -> Self {
        let own = json(path);
        if let Some(scale) = own["px_per_metre"].as_f64() {
            return Self::structural(&own, scale);
        }
        let page = if own["walls"].is_array() { own.clone() } else { page_of(path, &own) };
        let mapping = ["metres_to_px_homography", "metres_to_paper_mm"]
            .into_iter()
            .find_map(|key| matrix(&own[key]))
            .expect("a truth says where things are on the drawing");
        let cut = page["cut_height_m"].as_f64().unwrap_or(1.1);
        let walls = list(&page["walls"]).iter().map(true_wall).collect();
        let rooms = list(&page["spaces"]).iter().map(|space| Ring::new(points(&space["polygon"]))).collect();
        Self {
            walls,
            openings: true_openings(&page, cut),
            rooms,
            complete: true,
            drawing_from_plan: of_millimetres(mapping),
        }
    }

    /// The same truth on a drawing that was made of this one: `further` goes from this drawing's units to that one's.
    pub fn on_drawing(&self, further: [[f64; 3]; 3]) -> Self {
        Self { drawing_from_plan: product(further, self.drawing_from_plan), ..self.clone() }
    }

    /// Where a point of the truth lies on the drawing, in the drawing's units.
    pub fn on_the_drawing(&self, at: Point) -> Point {
        let m = &self.drawing_from_plan;
        let row = |row: &[f64; 3]| row[0] * at.x + row[1] * at.y + row[2];
        let w = row(&m[2]);
        Point::new(row(&m[0]) / w, row(&m[1]) / w)
    }

    /// Where a point of the drawing, in its own units, lies in the truth: [`Self::on_the_drawing`] the other way.
    pub fn from_the_drawing(&self, at: Point) -> Point {
        let [a, b, c] = self.drawing_from_plan;
        // By the adjugate: what is common to all three rows falls away in the division.
        let cross = |u: [f64; 3], v: [f64; 3]| {
            [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
        };
        let columns = [cross(b, c), cross(c, a), cross(a, b)];
        let row = |index: usize| columns[0][index] * at.x + columns[1][index] * at.y + columns[2][index];
        Point::new(row(0) / row(2), row(1) / row(2))
    }

    /// Corners of the rectangle around all drawn walls, faces included, anticlockwise from the lower left.
    pub fn corners(&self) -> [Point; 4] {
        let mut around: Option<kurbo::Rect> = None;
        for wall in self.walls.iter().filter(|wall| wall.drawn) {
            let along = direction(&wall.line);
            let across = Vec2::new(-along.y, along.x) * (wall.line.thickness / 2.0);
            for end in [wall.line.start, wall.line.end] {
                let rect = kurbo::Rect::from_points(end - across, end + across);
                around = Some(around.map_or(rect, |so_far| so_far.union(rect)));
            }
        }
        let Some(r) = around else { return [Point::ZERO; 4] };
        [Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)]
    }

    /// Structural walls given as rectangles in metres, y up with its origin at the drawing's upper left corner.
    fn structural(own: &Value, px_per_metre: f64) -> Self {
        let walls = list(&own["walls"]).iter().map(|wall| {
            let [xs, ys] = ["x_m", "y_m"].map(|key| numbers(&wall[key]));
            let corners: Vec<Point> =
                xs.iter().zip(&ys).map(|(x, y)| Point::new(1000.0 * x, 1000.0 * y)).collect();
            TrueWall { line: of_rectangle(&corners), drawn: true }
        });
        let scale = px_per_metre / 1000.0;
        Self {
            walls: walls.collect(),
            openings: Vec::new(),
            rooms: Vec::new(),
            complete: false,
            drawing_from_plan: [[scale, 0.0, 0.0], [0.0, -scale, 0.0], [0.0, 0.0, 1.0]],
        }
    }
}

/// What was found: by a trace, or in a plan.
#[derive(Clone, Debug, Default)]
pub struct Found {
    /// Walls.
    pub walls: Vec<WallLine>,
    /// Centres of openings, on the axes of their walls.
    pub openings: Vec<Point>,
    /// Outlines of rooms (the outer ring) and their areas, mm².
    pub rooms: Vec<(Ring, f64)>,
}

impl Found {
    /// What a proposal says.
    pub fn in_proposal(proposal: &Proposal) -> Self {
        let walls: Vec<WallLine> = proposal
            .walls
            .iter()
            .map(|wall| WallLine { start: wall.start, end: wall.end, thickness: wall.thickness.as_mm() })
            .collect();
        let openings = proposal
            .openings
            .iter()
            .filter_map(|opening| {
                let wall = walls.get(opening.wall)?;
                Some(wall.start + direction(wall) * opening.centre.as_mm())
            })
            .collect();
        let ring = |points: &Vec<Point>| {
            let ring = Ring::new(points.clone());
            let area = ring.area();
            (ring, area)
        };
        Self { walls, openings, rooms: proposal.rooms.iter().map(|room| ring(&room.outline)).collect() }
    }

    /// What stands on a level of a plan.
    pub fn on_level(project: &Project, level: Id<Level>) -> Self {
        let walls = project
            .walls_on(level)
            .map(|(_, wall)| WallLine { start: wall.start, end: wall.end, thickness: wall.thickness.as_mm() })
            .collect();
        let openings =
            project.openings_on(level).map(|(_, opening, wall)| wall.on_axis(opening.centre)).collect();
        let rooms = room_outlines(project, level)
            .into_values()
            .map(|outline| (outline.shape.outer.clone(), outline.shape.area()))
            .collect();
        Self { walls, openings, rooms }
    }

    /// The same, mapped point by point into the truth's own millimetres.
    pub fn mapped(&self, truth_from_found: &dyn Fn(Point) -> Point) -> Self {
        let ring = |ring: &Ring| {
            Ring::new(ring.points().iter().map(|point| truth_from_found(*point)).collect::<Vec<_>>())
        };
        Self {
            walls: self
                .walls
                .iter()
                .map(|wall| WallLine {
                    start: truth_from_found(wall.start),
                    end: truth_from_found(wall.end),
                    thickness: wall.thickness,
                })
                .collect(),
            openings: self.openings.iter().map(|at| truth_from_found(*at)).collect(),
            rooms: self.rooms.iter().map(|(outline, area)| (ring(outline), *area)).collect(),
        }
    }
}

/// How much of a truth was found; shares of 0 to 1, `None` where there is nothing to count.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Score {
    /// Share of the true wall length that was found, openings included.
    pub walls_found: Option<f64>,
    /// Length of what was found where there is no wall, as a share of all that was found.
    pub walls_false: Option<f64>,
    /// Share of the found true walls whose thickness is right within 15 mm.
    pub thickness: Option<f64>,
    /// Share of the true openings with one found within 100 mm.
    pub openings: Option<f64>,
    /// Share of the openings found that answer to no true one.
    pub openings_false: Option<f64>,
    /// Share of the true rooms with an area within 2 %.
    pub rooms: Option<f64>,
}

impl Score {
    /// The heading of [`Score::row`].
    pub const HEADING: &'static str = "walls %  false %  thickness %  openings %  false %  rooms %";

    /// Its figures in percent, under [`Score::HEADING`].
    pub fn row(&self) -> String {
        let percent = |share: Option<f64>, width: usize| match share {
            Some(share) => format!("{:>width$.1}", 100.0 * share),
            None => format!("{:>width$}", "-"),
        };
        format!(
            "{}  {}  {}  {}  {}  {}",
            percent(self.walls_found, 7),
            percent(self.walls_false, 7),
            percent(self.thickness, 11),
            percent(self.openings, 10),
            percent(self.openings_false, 7),
            percent(self.rooms, 7),
        )
    }
}

/// Holds what was found, in the truth's own millimetres, against the truth.
pub fn score(truth: &Truth, found: &Found) -> Score {
    let (mut points, mut hits, mut walls, mut right) = (0, 0, 0, 0);
    for wall in truth.walls.iter().filter(|wall| wall.drawn) {
        let samples = samples(&wall.line);
        // How many points of the axis each found wall answers for.
        let mut answers = vec![0_usize; found.walls.len()];
        let mut on_this = 0;
        for sample in &samples {
            if let Some(index) = answering(*sample, &wall.line, &found.walls) {
                on_this += 1;
                answers[index] += 1;
            }
        }
        points += samples.len();
        hits += on_this;
        if 2 * on_this > samples.len()
            && let Some((best, _)) = answers.iter().enumerate().max_by_key(|(_, count)| **count)
        {
            walls += 1;
            let off = (found.walls[best].thickness - wall.line.thickness).abs();
            right += usize::from(off <= THICKNESS_WITHIN_MM);
        }
    }
    let all: Vec<Point> = found.walls.iter().flat_map(samples).collect();
    let no_wall =
        all.iter().filter(|sample| !truth.walls.iter().any(|wall| holds(&wall.line, **sample))).count();
    let matched = openings_matched(&truth.openings, &found.openings);
    let rooms = truth.rooms.iter().filter(|room| has_area(room, &found.rooms)).count();
    Score {
        walls_found: share(hits, points),
        walls_false: if truth.complete { share(no_wall, all.len()) } else { None },
        thickness: share(right, walls),
        openings: share(matched, truth.openings.len()),
        openings_false: if truth.complete {
            share(found.openings.len() - matched, found.openings.len())
        } else {
            None
        },
        rooms: share(rooms, truth.rooms.len()),
    }
}

fn share(count: usize, of: usize) -> Option<f64> {
    (of > 0).then(|| count as f64 / of as f64)
}

/// Points along an axis, at most a step apart, ends included.
fn samples(wall: &WallLine) -> Vec<Point> {
    let length = (wall.end - wall.start).hypot();
    let count = (length / STEP_MM).ceil().max(1.0) as usize;
    (0..=count).map(|index| wall.start.lerp(wall.end, index as f64 / count as f64)).collect()
}

/// The nearest found wall that runs along a true one and passes a point of its axis within half its thickness.
fn answering(at: Point, truth: &WallLine, found: &[WallLine]) -> Option<usize> {
    found
        .iter()
        .enumerate()
        .filter(|(_, wall)| direction(wall).cross(direction(truth)).abs() <= ALONG_SINE)
        .map(|(index, wall)| (index, distance(at, wall)))
        .filter(|(_, off)| *off <= truth.thickness / 2.0)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(index, _)| index)
}

/// Whether a point is no farther from a wall's axis than half its thickness.
fn holds(wall: &WallLine, at: Point) -> bool {
    distance(at, wall) <= wall.thickness / 2.0
}

fn distance(at: Point, wall: &WallLine) -> f64 {
    let along = wall.end - wall.start;
    let share = if along.hypot2() > 0.0 { (at - wall.start).dot(along) / along.hypot2() } else { 0.0 };
    (at - wall.start.lerp(wall.end, share.clamp(0.0, 1.0))).hypot()
}

fn direction(wall: &WallLine) -> Vec2 {
    let along = wall.end - wall.start;
    if along.hypot() > 0.0 { along / along.hypot() } else { Vec2::new(1.0, 0.0) }
}

/// Pairs of a true and a found opening, nearest first, each used once.
fn openings_matched(truth: &[Point], found: &[Point]) -> usize {
    let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
    for (a, at) in truth.iter().enumerate() {
        for (b, there) in found.iter().enumerate() {
            let off = (*there - *at).hypot();
            if off <= OPENING_WITHIN_MM {
                pairs.push((off, a, b));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut true_used, mut found_used) = (vec![false; truth.len()], vec![false; found.len()]);
    let mut matched = 0;
    for (_, a, b) in pairs {
        if !true_used[a] && !found_used[b] {
            (true_used[a], found_used[b]) = (true, true);
            matched += 1;
        }
    }
    matched
}

/// Whether the outline that holds the room's middle, or has its own middle in the room, has the room's area.
fn has_area(room: &Ring, found: &[(Ring, f64)]) -> bool {
    let middle = room.centroid();
    found
        .iter()
        .filter(|(outline, _)| {
            middle.is_some_and(|at| outline.contains(at))
                || outline.centroid().is_some_and(|at| room.contains(at))
        })
        .any(|(_, area)| (area - room.area()).abs() <= AREA_WITHIN * room.area())
}

fn true_wall(wall: &Value) -> TrueWall {
    let axis = points(&wall["axis"]);
    let line = WallLine { start: axis[0], end: axis[1], thickness: 1000.0 * number(&wall["thickness_m"]) };
    TrueWall { line, drawn: !list(&wall["section_at_cut"]).is_empty() }
}

/// Centres of the openings that the plan's cut passes through, on the axes of their walls. Two of one place, one
/// after the other through walls side by side, are one.
fn true_openings(page: &Value, cut: f64) -> Vec<Point> {
    let mut centres: Vec<Point> = Vec::new();
    for opening in list(&page["openings"]) {
        let sill = opening["sill_m"].as_f64().unwrap_or(0.0);
        let head = opening["head_m"].as_f64().unwrap_or(f64::INFINITY);
        let Some(wall) = list(&page["walls"]).iter().find(|wall| wall["guid"] == opening["in_wall"]) else {
            continue;
        };
        let TrueWall { line, drawn } = true_wall(wall);
        if !drawn || !(sill..head).contains(&cut) {
            continue;
        }
        let corners = points(&opening["plan_rect"]);
        let off = |corner: &Point| (*corner - line.start).cross(direction(&line));
        let half = line.thickness / 2.0;
        // A model may hang one opening into a wall that it passes by.
        if corners.iter().all(|at| off(at) > half) || corners.iter().all(|at| off(at) < -half) {
            continue;
        }
        let sum = corners.iter().fold(Vec2::ZERO, |sum, corner| sum + corner.to_vec2());
        let middle = (sum / corners.len() as f64).to_point();
        let centre = line.start + direction(&line) * (middle - line.start).dot(direction(&line));
        if !centres.iter().any(|other| (*other - centre).hypot() <= OPENING_WITHIN_MM) {
            centres.push(centre);
        }
    }
    centres
}

/// The axis and thickness of a rectangle, along its longer sides.
fn of_rectangle(corners: &[Point]) -> WallLine {
    let [a, b, c, d] = corners else { panic!("a wall's rectangle has four corners") };
    let (first, second) = ((*b - *a).hypot(), (*c - *b).hypot());
    if first >= second {
        WallLine { start: a.midpoint(*d), end: b.midpoint(*c), thickness: second }
    } else {
        WallLine { start: a.midpoint(*b), end: d.midpoint(*c), thickness: first }
    }
}

/// The truth of the page that a picture was made from: of the same model and storey.
fn page_of(path: &Path, own: &Value) -> Value {
    let folder = path.parent().expect("a file lies in a folder");
    let mut others: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("readable").flatten().map(|entry| entry.path()).collect();
    others.sort();
    others
        .iter()
        .filter(|other| other.to_string_lossy().ends_with(".truth.json"))
        .map(|other| json(other))
        .find(|page| {
            page["walls"].is_array() && page["source"] == own["from"] && page["storey"] == own["storey"]
        })
        .expect("the truth of the page lies beside that of its picture")
}

fn json(path: &Path) -> Value {
    serde_json::from_slice(&std::fs::read(path).expect("readable")).expect("JSON")
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn numbers(value: &Value) -> Vec<f64> {
    list(value).iter().map(number).collect()
}

/// Points in metres, as millimetres.
fn points(value: &Value) -> Vec<Point> {
    let pairs = list(value).iter().map(numbers);
    pairs.map(|pair| Point::new(1000.0 * pair[0], 1000.0 * pair[1])).collect()
}

fn matrix(value: &Value) -> Option<[[f64; 3]; 3]> {
    let rows: Vec<[f64; 3]> = list(value).iter().filter_map(|row| numbers(row).try_into().ok()).collect();
    rows.try_into().ok()
}

/// A mapping from metres as one from millimetres.
fn of_millimetres(mapping: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    mapping.map(|[x, y, one]| [x / 1000.0, y / 1000.0, one])
}

fn product(a: [[f64; 3]; 3], b: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    a.map(|row| [0, 1, 2].map(|column| (0..3).map(|index| row[index] * b[index][column]).sum()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(from: (f64, f64), to: (f64, f64), thickness: f64) -> WallLine {
        WallLine { start: from.into(), end: to.into(), thickness }
    }

    /// A wall of 4 m with a door at 1 m, and a room of 3.9 m by 2.9 m beside it.
    fn truth() -> Truth {
        let wall = line((0.0, 0.0), (4000.0, 0.0), 100.0);
        Truth {
            walls: vec![TrueWall { line: wall, drawn: true }],
            openings: vec![Point::new(1000.0, 0.0)],
            rooms: vec![Ring::from_rect(kurbo::Rect::new(50.0, 50.0, 3950.0, 2950.0))],
            complete: true,
            drawing_from_plan: [[0.02, 0.0, 10.0], [0.0, -0.02, 100.0], [0.0, 0.0, 1.0]],
        }
    }

    #[test]
    fn length_is_counted_along_the_axis_and_false_length_beyond_it() {
        let cases: [(&str, Vec<WallLine>, f64, Option<f64>); 6] = [
            ("as it is", vec![line((0.0, 0.0), (4000.0, 0.0), 100.0)], 1.0, Some(0.0)),
            ("backwards, 40 mm off", vec![line((4000.0, 40.0), (0.0, 40.0), 100.0)], 1.0, Some(0.0)),
            ("60 mm off", vec![line((0.0, 60.0), (4000.0, 60.0), 100.0)], 0.0, Some(1.0)),
            ("half, and as much beyond", vec![line((2000.0, 0.0), (6000.0, 0.0), 100.0)], 0.5, Some(0.5)),
            ("across", vec![line((2000.0, -1000.0), (2000.0, 1000.0), 100.0)], 0.0, Some(0.95)),
            ("nothing", vec![], 0.0, None),
        ];
        for (what, walls, found, wrong) in cases {
            let score = score(&truth(), &Found { walls, ..Found::default() });
            assert!((score.walls_found.unwrap() - found).abs() < 0.02, "{what}: {score:?}");
            match (score.walls_false, wrong) {
                (Some(given), Some(wrong)) => assert!((given - wrong).abs() < 0.02, "{what}: {score:?}"),
                (given, wrong) => assert_eq!(given, wrong, "{what}"),
            }
        }
    }

    #[test]
    fn openings_thickness_and_rooms_have_their_margins() {
        let found = |thickness: f64, opening: f64, width: f64| Found {
            walls: vec![line((0.0, 0.0), (4000.0, 0.0), thickness)],
            openings: vec![Point::new(opening, 0.0), Point::new(3000.0, 0.0)],
            rooms: vec![(
                Ring::from_rect(kurbo::Rect::new(50.0, 50.0, 50.0 + width, 2950.0)),
                width * 2900.0,
            )],
        };
        let good = score(&truth(), &found(114.0, 1099.0, 3970.0));
        assert_eq!(
            (good.thickness, good.openings, good.openings_false, good.rooms),
            (Some(1.0), Some(1.0), Some(0.5), Some(1.0))
        );
        let bad = score(&truth(), &found(116.0, 1101.0, 3980.0));
        assert_eq!(
            (bad.thickness, bad.openings, bad.openings_false, bad.rooms),
            (Some(0.0), Some(0.0), Some(1.0), Some(0.0))
        );
        assert_eq!(good.row().len(), Score::HEADING.len());
    }

    #[test]
    fn a_truth_lies_on_its_drawing_and_on_what_is_made_of_it() {
        assert_eq!(truth().on_the_drawing(Point::new(1000.0, 1000.0)), Point::new(30.0, 80.0));
        let doubled = truth().on_drawing([[2.0, 0.0, 0.0], [0.0, 2.0, 5.0], [0.0, 0.0, 1.0]]);
        assert_eq!(doubled.on_the_drawing(Point::new(1000.0, 1000.0)), Point::new(60.0, 165.0));
        assert_eq!(truth().corners()[2], Point::new(4000.0, 50.0));
    }

    #[test]
    fn the_truths_of_the_trial_data_are_read_where_they_lie() {
        let Some(folder) = crate::trial_data::folder("derived") else {
            println!("trial data not present: no truth read");
            return;
        };
        let page = Truth::read(&folder.join("flat_L1_1-50_A3.truth.json"));
        let picture = Truth::read(&folder.join("flat_L1_1-50_A3.png.truth.json"));
        assert_eq!((page.walls.len(), page.openings.len(), page.rooms.len()), (15, 15, 9));
        assert_eq!(page.walls.len(), picture.walls.len());
        let found = Found {
            walls: page.walls.iter().map(|wall| wall.line.clone()).collect(),
            openings: page.openings.clone(),
            rooms: page.rooms.iter().map(|room| (room.clone(), room.area())).collect(),
        };
        let whole = score(&page, &found);
        assert_eq!(
            whole.row().split_whitespace().collect::<Vec<_>>(),
            ["100.0", "0.0", "100.0", "100.0", "0.0", "100.0"]
        );
    }
}
