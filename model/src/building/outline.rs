//! Outlines derived from walls: the solid that walls make, and the rooms between them.
//!
//! Each wall is the rectangle about its axis; where ends meet, the outer corner is filled to its mitre. The
//! union of all is the solid; what it encloses are the rooms, measured to the faces as the trade measures
//! them, openings taken as shut.

use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

use kurbo::{Point, Rect, Vec2};

use crate::geometry::overlay;
use crate::geometry::{Region, Ring, Segment, Shape, cut_along};
use crate::id::Id;
use crate::plan::{Level, MakeUp, Opening, Room, RoomLine, Side, Wall};
use crate::project::Project;
use crate::units::{Area, Length};

/// Wall ends nearer to each other than this are one corner, mm.
const SAME_CORNER_MM: f64 = 1.0;

/// A mitre that would reach farther than this many half thicknesses is cut off, as at a very sharp corner.
const LONGEST_MITRE: f64 = 4.0;

/// How far the cut for an opening reaches beyond each face, so that no sliver is left, mm.
const CUT_BEYOND_FACE_MM: f64 = 1.0;

/// The walls of a level as solid pieces, with the gaps that openings cut into them.
#[derive(Clone, Debug, Default)]
pub struct WallSolid {
    pieces: Vec<(MakeUp, Ring)>,
    gaps: Vec<Ring>,
}

impl WallSolid {
    /// Gathers the walls (asked with `None`) and fills the openings (asked with `Some`) for which `is_solid`.
    pub fn of_level(
        project: &Project,
        level: Id<Level>,
        is_solid: impl Fn(&Wall, Option<&Opening>) -> bool,
    ) -> Self {
        let walls: Vec<&Wall> =
            project.walls_on(level).map(|(_, wall)| wall).filter(|wall| is_solid(wall, None)).collect();
        let mut solid = Self::default();
        for wall in &walls {
            let length = wall.length();
            let ring = wall_stretch(wall, 0.0, length.as_mm(), 0.0);
            solid.pieces.push((wall.make_up, ring));
        }
        solid.pieces.extend(corner_fills(&walls).into_iter().map(CornerFill::into_piece));
        for (_, opening, wall) in project.openings_on(level) {
            if is_solid(wall, None) && !is_solid(wall, Some(opening)) {
                let (from, to) = (opening.from().as_mm(), opening.to().as_mm());
                solid.gaps.push(wall_stretch(wall, from, to, CUT_BEYOND_FACE_MM));
            }
        }
        solid
    }

    /// All of it as one region.
    pub fn region(&self) -> Region {
        let pieces: Vec<Ring> = self.pieces.iter().map(|(_, ring)| ring.clone()).collect();
        let whole = overlay::union_of_rings(&pieces);
        if self.gaps.is_empty() {
            whole
        } else {
            overlay::difference(&whole, &overlay::union_of_rings(&self.gaps))
        }
    }

    /// One region for each make-up; where two meet, the heavier one runs through.
    pub fn regions_by_make_up(&self) -> Vec<(MakeUp, Region)> {
        let gaps = overlay::union_of_rings(&self.gaps);
        let mut taken: Vec<Ring> = Vec::new();
        let mut regions = Vec::new();
        for make_up in MakeUp::ALL {
            let own: Vec<Ring> =
                self.pieces.iter().filter(|(of, _)| *of == make_up).map(|(_, ring)| ring.clone()).collect();
            if own.is_empty() {
                continue;
            }
            let mut region = overlay::union_of_rings(&own);
            if !taken.is_empty() {
                region = overlay::difference(&region, &overlay::union_of_rings(&taken));
            }
            if !self.gaps.is_empty() {
                region = overlay::difference(&region, &gaps);
            }
            taken.extend(own);
            regions.push((make_up, region));
        }
        regions
    }
}

/// The part of a wall between two places along its axis, from face to face and `beyond` them.
pub(super) fn wall_stretch(wall: &Wall, from: f64, to: f64, beyond: f64) -> Ring {
    let along = wall.direction();
    let out = wall.normal(Side::Left) * (wall.thickness.as_mm() / 2.0 + beyond);
    let (near, far) = (wall.start + along * from, wall.start + along * to);
    Ring::new(vec![near - out, far - out, far + out, near + out])
}

/// One end of a wall at a corner.
struct End<'a> {
    wall: &'a Wall,
    /// Unit vector into the wall.
    inwards: Vec2,
}

/// The outer corner between two walls, filled to its mitre.
pub(super) struct CornerFill {
    /// Its outline, convex.
    pub ring: Ring,
    /// The heavier of the two walls' make-ups.
    pub make_up: MakeUp,
    /// From the floor to here: the lower of the two walls' heights.
    pub height: Length,
}

impl CornerFill {
    fn into_piece(self) -> (MakeUp, Ring) {
        (self.make_up, self.ring)
    }
}

/// The outer corners where wall ends meet, filled to their mitres.
pub(super) fn corner_fills(walls: &[&Wall]) -> Vec<CornerFill> {
    let mut corners: BTreeMap<(i64, i64), Vec<End<'_>>> = BTreeMap::new();
    let cell = |value: f64| (value / SAME_CORNER_MM).round() as i64;
    for wall in walls {
        for (point, inwards) in [(wall.start, wall.direction()), (wall.end, -wall.direction())] {
            corners.entry((cell(point.x), cell(point.y))).or_default().push(End { wall, inwards });
        }
    }
    let mut fills = Vec::new();
    for ((x, y), mut ends) in corners {
        if ends.len() < 2 {
            continue;
        }
        let corner = Point::new(x as f64 * SAME_CORNER_MM, y as f64 * SAME_CORNER_MM);
        let corner = ends
            .iter()
            .flat_map(|end| [end.wall.start, end.wall.end])
            .min_by(|a, b| (*a - corner).hypot2().total_cmp(&(*b - corner).hypot2()))
            .unwrap_or(corner);
        ends.sort_by(|a, b| a.inwards.atan2().total_cmp(&b.inwards.atan2()));
        for index in 0..ends.len() {
            let (this, next) = (&ends[index], &ends[(index + 1) % ends.len()]);
            let gap = (next.inwards.atan2() - this.inwards.atan2()).rem_euclid(TAU);
            if gap <= PI + 1e-6 {
                continue;
            }
            fills.extend(mitre(corner, this, next));
        }
    }
    fills
}

/// The fill of the outer corner between two ends, `next` anticlockwise from `this` by more than a half turn.
fn mitre(corner: Point, this: &End<'_>, next: &End<'_>) -> Option<CornerFill> {
    let (this_half, next_half) = (this.wall.thickness.as_mm() / 2.0, next.wall.thickness.as_mm() / 2.0);
    let on_this = corner + Vec2::new(-this.inwards.y, this.inwards.x) * this_half;
    let on_next = corner + Vec2::new(next.inwards.y, -next.inwards.x) * next_half;
    let cross = this.inwards.cross(next.inwards);
    let mut points = vec![corner, on_this];
    if cross.abs() > 1e-9 {
        let tip = on_this + this.inwards * ((on_next - on_this).cross(next.inwards) / cross);
        if (tip - corner).hypot() <= LONGEST_MITRE * this_half.max(next_half) {
            points.push(tip);
        }
    }
    points.push(on_next);
    let make_up = this.wall.make_up.min(next.wall.make_up);
    let height = Length::mm(this.wall.height.as_mm().min(next.wall.height.as_mm()));
    Some(CornerFill { ring: Ring::new(points).anticlockwise(), make_up, height })
}

/// The outline of a room as its walls make it.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomOutline {
    /// Outer ring and the rings of what stands free within it.
    pub shape: Shape,
}

impl RoomOutline {
    /// Clear floor area between the faces of its walls.
    pub fn area(&self) -> Area {
        Area::mm2(self.shape.area())
    }

    /// Whether the point lies in the room.
    pub fn contains(&self, point: Point) -> bool {
        self.shape.contains(point)
    }
}

/// Every space that walls of a level enclose, whether or not it has a name.
pub fn enclosed_spaces(project: &Project, level: Id<Level>) -> Vec<RoomOutline> {
    spaces_within(&WallSolid::of_level(project, level, |_, _| true).region())
}

/// A room line reaches so far beyond either end, mm, so that one that is drawn to a face, in tenths of a millimetre, leads
/// to it.
const LINE_BEYOND_END_MM: f64 = 0.5;

/// Every floor of a level that can be a room: what walls enclose, parted by the lines between rooms.
pub fn room_spaces(project: &Project, level: Id<Level>) -> Vec<RoomOutline> {
    let lines: Vec<Segment> = project.room_lines_on(level).map(|(_, line)| reaching(line)).collect();
    let spaces = enclosed_spaces(project, level);
    if lines.is_empty() {
        return spaces;
    }
    let parted = |space: RoomOutline| cut_along(&Region { shapes: vec![space.shape] }, &lines);
    spaces.into_iter().flat_map(parted).map(|shape| RoomOutline { shape }).collect()
}

fn reaching(line: &RoomLine) -> Segment {
    let along = (line.end - line.start).normalize() * LINE_BEYOND_END_MM;
    Segment::new(line.start - along, line.end + along)
}

/// Every space that these walls would enclose if they stood alone on a level, openings taken as shut.
pub fn spaces_between_walls(walls: &[&Wall]) -> Vec<RoomOutline> {
    let mut solid = WallSolid::default();
    for wall in walls {
        solid.pieces.push((wall.make_up, wall_stretch(wall, 0.0, wall.length().as_mm(), 0.0)));
    }
    solid.pieces.extend(corner_fills(walls).into_iter().map(CornerFill::into_piece));
    spaces_within(&solid.region())
}

/// What a solid encloses: each space apart, without what lies outside it.
pub fn spaces_within(solid: &Region) -> Vec<RoomOutline> {
    let Some(bounds) = solid.bounds() else { return Vec::new() };
    let around = bounds.inflate(1000.0, 1000.0);
    let spaces = overlay::difference(&Region::from_rect(around), solid);
    spaces
        .shapes
        .into_iter()
        .filter(|shape| !touches(shape, around))
        .map(|shape| RoomOutline { shape })
        .collect()
}

fn touches(shape: &Shape, rect: Rect) -> bool {
    shape.outer.bounds().is_none_or(|bounds| bounds.x0 <= rect.x0 + 1.0)
}

/// The outline of each room of a level, as walls and room lines make it; a room whose walls do not close has none.
pub fn room_outlines(project: &Project, level: Id<Level>) -> BTreeMap<Id<Room>, RoomOutline> {
    let spaces = room_spaces(project, level);
    let mut outlines = BTreeMap::new();
    for (id, room) in project.rooms_on(level) {
        if let Some(space) = spaces.iter().find(|space| space.contains(room.seed)) {
            outlines.insert(id, space.clone());
        }
    }
    outlines
}

/// The room in which a point lies, if any.
pub fn room_at(outlines: &BTreeMap<Id<Room>, RoomOutline>, point: Point) -> Option<Id<Room>> {
    outlines.iter().find(|(_, outline)| outline.contains(point)).map(|(id, _)| *id)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Change, History, Op};

    /// A house of walls along the given axes, 100 mm thick.
    fn house(axes: &[[f64; 4]]) -> (Project, Id<Level>) {
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let mut ids = project.fresh_ids();
        let ops = axes
            .iter()
            .map(|[x0, y0, x1, y1]| {
                let wall = Wall {
                    level,
                    start: Point::new(*x0, *y0),
                    end: Point::new(*x1, *y1),
                    thickness: Length::mm(100.0),
                    height: Length::mm(2400.0),
                    make_up: MakeUp::Stud,
                };
                Op::put(ids.issue(), wall)
            })
            .collect();
        History::default().apply(&mut project, Change::new("Draw", ops)).unwrap();
        (project, level)
    }

    const SQUARE: [[f64; 4]; 4] = [
        [0.0, 0.0, 4000.0, 0.0],
        [4000.0, 0.0, 4000.0, 3000.0],
        [4000.0, 3000.0, 0.0, 3000.0],
        [0.0, 3000.0, 0.0, 0.0],
    ];

    #[test]
    fn a_room_is_measured_between_faces() {
        let (project, level) = house(&SQUARE);
        let spaces = enclosed_spaces(&project, level);
        assert_eq!(spaces.len(), 1);
        assert!((spaces[0].area().as_mm2() - 3900.0 * 2900.0).abs() < 1.0);
    }

    #[test]
    fn outer_corners_are_filled_to_the_mitre() {
        let (project, level) = house(&SQUARE);
        let solid = WallSolid::of_level(&project, level, |_, _| true).region();
        assert!((solid.area() - (4100.0 * 3100.0 - 3900.0 * 2900.0)).abs() < 1.0, "{}", solid.area());
    }

    #[test]
    fn a_wall_across_makes_two_rooms_and_an_open_corner_none() {
        let mut axes = SQUARE.to_vec();
        axes.push([2000.0, 0.0, 2000.0, 3000.0]);
        let (project, level) = house(&axes);
        assert_eq!(enclosed_spaces(&project, level).len(), 2);
        let (project, level) = house(&SQUARE[..3]);
        assert_eq!(enclosed_spaces(&project, level).len(), 0);
    }

    #[test]
    fn a_room_line_parts_the_floor_where_it_leads_from_face_to_face() {
        let (project, level) = house(&SQUARE);
        // From face to face, from axis to axis, and short of the wall by a centimetre.
        for (ends, parts) in [([50.0, 2950.0], 2), ([0.0, 3000.0], 2), ([50.0, 2940.0], 1)] {
            let line =
                RoomLine { level, start: Point::new(1250.0, ends[0]), end: Point::new(1250.0, ends[1]) };
            let mut project = project.clone();
            let op = Op::put(project.fresh_ids().issue(), line);
            History::default().apply(&mut project, Change::new("Part", vec![op])).unwrap();
            let mut areas: Vec<f64> =
                room_spaces(&project, level).iter().map(|space| space.area().as_mm2()).collect();
            areas.sort_by(f64::total_cmp);
            assert_eq!(areas.len(), parts, "{ends:?}");
            let expected: &[f64] =
                if parts == 2 { &[1200.0 * 2900.0, 2700.0 * 2900.0] } else { &[3900.0 * 2900.0] };
            for (found, expected) in areas.iter().zip(expected) {
                assert!((found - expected).abs() < 10.0, "{ends:?}: {found} {expected}");
            }
            assert_eq!(enclosed_spaces(&project, level).len(), 1, "no smoke is stopped by a line");
        }
    }

    #[test]
    fn lines_that_meet_part_the_floor_together() {
        let (mut project, level) = house(&SQUARE);
        let line = |from: (f64, f64), to: (f64, f64)| RoomLine { level, start: from.into(), end: to.into() };
        let mut ids = project.fresh_ids();
        let lines = [line((50., 1500.), (1500., 1500.)), line((1500., 1500.), (1500., 2950.))];
        let ops = lines.map(|line| Op::put(ids.issue(), line)).to_vec();
        History::default().apply(&mut project, Change::new("Part", ops)).unwrap();
        let spaces = room_spaces(&project, level);
        assert_eq!(spaces.len(), 2);
        let corner = spaces.iter().find(|space| space.contains(Point::new(100.0, 2900.0))).unwrap();
        assert!((corner.area().as_mm2() - 1450.0 * 1450.0).abs() < 10.0);
        assert!(!corner.contains(Point::new(2000.0, 1000.0)));
    }

    #[test]
    fn a_pier_in_the_middle_is_left_out_of_the_floor() {
        let mut axes = SQUARE.to_vec();
        axes.push([1000.0, 1000.0, 1500.0, 1000.0]);
        let (project, level) = house(&axes);
        let spaces = enclosed_spaces(&project, level);
        assert!((spaces[0].area().as_mm2() - (3900.0 * 2900.0 - 500.0 * 100.0)).abs() < 1.0);
    }
}
