//! From items of the display list to triangles: lyon fills areas, egui's own tessellator strokes lines, since
//! it feathers them.

use egui::epaint::{Mesh, Vertex, WHITE_UV};
use egui::{Color32, Pos2, Rect, Stroke, pos2};
use kurbo::{BezPath, PathEl, Point};
use lyon::math::point as lyon_point;
use lyon::path::Path as LyonPath;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};
use pattress_model::drawing::style::Rgba;
use pattress_model::drawing::{Item, Layer, Role, Shape, Style, hatch_lines, style_of};

use crate::window::theme::Theme;

/// Curves are flattened to within so many screen points.
const FLATTENING_POINTS: f64 = 0.15;

/// And to within so many where a symbol is a few points across, and its curves less.
const COARSE_FLATTENING_POINTS: f64 = 0.3;

/// A line is never drawn thinner than this, screen points.
const THINNEST_LINE: f32 = 0.8;

/// Cosine of the turn beyond which a corner is not mitred: 150°.
const SHARPEST_TURN: f32 = -0.866;

/// Hatch closer than this is left out: the fill says enough, screen points.
const CLOSEST_HATCH: f64 = 3.5;

/// Of the fill and the outline of an area on paper, so much shows on the board, where many lie over one another.
const SOFT_FILL: f32 = 0.35;
const SOFT_LINE: f32 = 0.6;

/// A dash and its gap shorter than this run together for the eye: they are drawn as a line of their mean ink,
/// screen points.
const SHORTEST_DASH: f64 = 8.0;

/// The same for areas drawn softly, whose line is faint.
const SHORTEST_SOFT_DASH: f64 = 14.0;

/// With a millimetre of paper smaller than this, a symbol (five of them across) shows no more than that it is
/// there, screen points.
const SMALLEST_SYMBOL_MM: f64 = 0.8;

/// With a millimetre of paper smaller than this, lettering is left out, and so is the paper beneath it, screen
/// points.
const SMALLEST_LETTERED_MM: f64 = 1.6;

/// How much of a small open symbol is ink: about half.
const OPEN_SYMBOL_INK: f32 = 0.5;

/// Where shapes are drawn: screen points from plan millimetres, y turned down, relative to `origin`.
#[derive(Clone, Copy, Debug)]
pub struct Placing {
    /// Plan point that is drawn at (0, 0).
    pub origin: Point,
    /// Screen points to one plan millimetre.
    pub points_per_mm: f64,
    /// Screen points to one paper millimetre.
    pub points_per_paper_mm: f64,
}

impl Placing {
    fn flattening(&self) -> f64 {
        if self.points_per_paper_mm < SMALLEST_LETTERED_MM {
            COARSE_FLATTENING_POINTS
        } else {
            FLATTENING_POINTS
        }
    }

    /// A style without what could not be told apart at this size: lines of a hatch that would run into each other,
    /// and dashes shorter than so many points, which become one line as pale as they look.
    fn told_apart(&self, style: &Style, shortest_dash: f64) -> Style {
        let hatch = style.hatch.filter(|hatch| hatch.spacing_mm * self.points_per_paper_mm >= CLOSEST_HATCH);
        match style.dash_mm {
            Some([dash, gap]) if (dash + gap) * self.points_per_paper_mm < shortest_dash => {
                Style { hatch, dash_mm: None, ink: paler(style.ink, (dash / (dash + gap)) as f32), ..*style }
            }
            _ => Style { hatch, ..*style },
        }
    }

    fn place(&self, point: Point) -> Pos2 {
        let offset = (point - self.origin) * self.points_per_mm;
        pos2(offset.x as f32, -offset.y as f32)
    }
}

/// Turns paths into triangles; keeps its buffers between calls.
pub struct Inker {
    fill: FillTessellator,
    stroke: egui::epaint::Tessellator,
}

impl Inker {
    /// An inker for a screen of that density.
    pub fn new(pixels_per_point: f32) -> Self {
        let options = egui::epaint::TessellationOptions { feathering: true, ..Default::default() };
        Self {
            fill: FillTessellator::new(),
            stroke: egui::epaint::Tessellator::new(pixels_per_point, options, [1, 1], Vec::new()),
        }
    }

    /// Adds the triangles of a path item to a mesh. Texts and pictures are none of its business.
    pub fn ink(&mut self, item: &Item, placing: &Placing, theme: &Theme, mesh: &mut Mesh) {
        let Shape::Path(path) = &item.shape else { return };
        if item.role == Role::Halo && placing.points_per_paper_mm < SMALLEST_LETTERED_MM {
            return;
        }
        let style = style_of(item.role);
        if item.layer == Layer::Devices && dotted(path, &style, placing, theme, mesh) {
            return;
        }
        self.ink_path(path, &style, placing, theme, mesh);
    }

    /// Adds the triangles of an area that may lie under twenty others: its outline, a breath of its colour and no
    /// hatch. What ties a zone to its devices is left out.
    pub fn ink_softly(&mut self, item: &Item, placing: &Placing, theme: &Theme, mesh: &mut Mesh) {
        let Shape::Path(path) = &item.shape else { return };
        if item.role == Role::ZoneTie {
            return;
        }
        let style = style_of(item.role);
        let fill = style.fill.map(|colour| paler(colour, SOFT_FILL));
        let soft = Style { ink: paler(style.ink, SOFT_LINE), fill, hatch: None, ..style };
        let soft = placing.told_apart(&soft, SHORTEST_SOFT_DASH);
        self.ink_path(path, &soft, placing, theme, mesh);
    }

    /// Adds the triangles of a path in a style.
    pub fn ink_path(
        &mut self,
        path: &BezPath,
        style: &Style,
        placing: &Placing,
        theme: &Theme,
        mesh: &mut Mesh,
    ) {
        let style = &placing.told_apart(style, SHORTEST_DASH);
        if self.filled_and_stroked(path, style, placing, theme, mesh) {
            return;
        }
        if let Some(fill) = style.fill {
            self.fill(path, fill_colour(fill, theme), placing, mesh);
        }
        if let Some(hatch) = style.hatch {
            let spacing = hatch.spacing_mm * placing.points_per_paper_mm / placing.points_per_mm;
            let ink = theme.paper(style.ink).gamma_multiply(0.55);
            let stroke = Stroke::new(line_width(hatch.width_mm, placing) * 0.8, ink);
            for line in hatch_lines(path, hatch.degrees, spacing) {
                let points = [placing.place(line.p0), placing.place(line.p1)];
                self.stroke.tessellate_line_segment(points, stroke, mesh);
            }
        }
        if style.width_mm > 0.0 {
            self.stroke(path, pen_of(style, placing, theme), style.dash_mm, placing, mesh);
        }
    }

    /// Fills and strokes a convex outline in one, with fewer triangles than apart; whether it was one.
    fn filled_and_stroked(
        &mut self,
        path: &BezPath,
        style: &Style,
        placing: &Placing,
        theme: &Theme,
        mesh: &mut Mesh,
    ) -> bool {
        let Some(fill) = style.fill else { return false };
        if style.hatch.is_some() || style.dash_mm.is_some() || style.width_mm <= 0.0 {
            return false;
        }
        let mut outlines = flattened(path, placing);
        let (Some((points, closed)), true) = (outlines.pop(), outlines.is_empty()) else { return false };
        if !(closed && is_convex(&points)) {
            return false;
        }
        let stroke = pen_of(style, placing, theme).into();
        let shape = egui::epaint::PathShape { points, closed, fill: fill_colour(fill, theme), stroke };
        self.stroke.tessellate_path(&shape, mesh);
        true
    }

    fn fill(&mut self, path: &BezPath, colour: Color32, placing: &Placing, mesh: &mut Mesh) {
        let mut builder = LyonPath::builder();
        for (points, _) in flattened(path, placing) {
            let mut points = points.into_iter();
            let Some(first) = points.next() else { continue };
            builder.begin(lyon_point(first.x, first.y));
            for next in points {
                builder.line_to(lyon_point(next.x, next.y));
            }
            builder.end(true);
        }
        let mut buffers: VertexBuffers<Vertex, u32> = VertexBuffers::new();
        let options = FillOptions::even_odd().with_tolerance(FLATTENING_POINTS as f32);
        let done = self.fill.tessellate_path(
            &builder.build(),
            &options,
            &mut BuffersBuilder::new(&mut buffers, |vertex: FillVertex<'_>| {
                let at = vertex.position();
                Vertex { pos: pos2(at.x, at.y), uv: WHITE_UV, color: colour }
            }),
        );
        if done.is_ok() {
            let first = mesh.vertices.len() as u32;
            mesh.indices.extend(buffers.indices.iter().map(|index| first + index));
            mesh.vertices.extend(buffers.vertices);
        }
    }

    fn stroke(
        &mut self,
        path: &BezPath,
        stroke: Stroke,
        dash_mm: Option<[f64; 2]>,
        placing: &Placing,
        mesh: &mut Mesh,
    ) {
        for (mut points, closed) in flattened(path, placing) {
            if points.len() < 2 {
                continue;
            }
            if let Some([dash, gap]) = dash_mm {
                let (dash, gap) = (
                    ((dash * placing.points_per_paper_mm) as f32).max(2.0),
                    ((gap * placing.points_per_paper_mm) as f32).max(2.0),
                );
                if closed {
                    points.push(points[0]);
                }
                for points in dashes(&points, dash, gap) {
                    let line = egui::epaint::PathShape::line(points, stroke);
                    self.stroke.tessellate_path(&line, mesh);
                }
            } else {
                for (points, closed) in without_spikes(points, closed) {
                    let shape = egui::epaint::PathShape {
                        points,
                        closed,
                        fill: Color32::TRANSPARENT,
                        stroke: stroke.into(),
                    };
                    self.stroke.tessellate_path(&shape, mesh);
                }
            }
        }
    }
}

/// Draws a part of a symbol that is too small to show its form as a dot of its mean ink; whether it was so small.
fn dotted(path: &BezPath, style: &Style, placing: &Placing, theme: &Theme, mesh: &mut Mesh) -> bool {
    if placing.points_per_paper_mm >= SMALLEST_SYMBOL_MM {
        return false;
    }
    let bounds = path.control_box();
    let solid = style.fill == Some(style.ink);
    let ink = theme.paper(style.ink).gamma_multiply(if solid { 1.0 } else { OPEN_SYMBOL_INK });
    let corners = Rect::from_two_pos(
        placing.place(Point::new(bounds.x0, bounds.y0)),
        placing.place(Point::new(bounds.x1, bounds.y1)),
    );
    mesh.add_colored_rect(corners, ink);
    true
}

/// The pen that draws outlines in a style.
fn pen_of(style: &Style, placing: &Placing, theme: &Theme) -> Stroke {
    Stroke::new(line_width(style.width_mm, placing), theme.paper(style.ink))
}

/// The white of paper is the sheet's.
fn fill_colour(fill: Rgba, theme: &Theme) -> Color32 {
    if fill == [255, 255, 255, 255] { theme.sheet } else { theme.paper(fill) }
}

/// Whether an outline turns one way only and goes around once, without a corner so sharp that it needs a cut.
fn is_convex(points: &[Pos2]) -> bool {
    let count = points.len();
    if count < 3 {
        return false;
    }
    let (mut left, mut right, mut turned) = (false, false, 0.0);
    for index in 0..count {
        let come = points[(index + 1) % count] - points[index];
        let go = points[(index + 2) % count] - points[(index + 1) % count];
        let (cross, dot) = (come.x * go.y - come.y * go.x, come.dot(go));
        if come.length_sq() < 1e-6 || dot < SHARPEST_TURN * come.length() * go.length() {
            return false;
        }
        left |= cross > 1e-4;
        right |= cross < -1e-4;
        turned += cross.atan2(dot);
    }
    !(left && right) && (turned.abs() - std::f32::consts::TAU).abs() < 0.1
}

fn paler([red, green, blue, alpha]: Rgba, share: f32) -> Rgba {
    [red, green, blue, (f32::from(alpha) * share).round() as u8]
}

/// Cuts a line where it turns back on itself: egui mitres every corner, and the mitre of such a one would be a
/// spike across the board.
fn without_spikes(mut points: Vec<Pos2>, closed: bool) -> Vec<(Vec<Pos2>, bool)> {
    points.dedup();
    let count = points.len();
    let turns_back = |index: usize| {
        let inner = closed || (index > 0 && index + 1 < count);
        let (before, after) = (points[(index + count - 1) % count], points[(index + 1) % count]);
        let (come, go) = ((points[index] - before).normalized(), (after - points[index]).normalized());
        inner && come.dot(go) < SHARPEST_TURN
    };
    let cuts: Vec<usize> = (0..count).filter(|index| turns_back(*index)).collect();
    let Some(first) = cuts.first().copied() else { return vec![(points, closed)] };
    let mut stretches = Vec::new();
    if closed {
        // Walk once around from the first cut and back to it.
        let ends = cuts.iter().skip(1).copied().chain([first + count]);
        let mut start = first;
        for end in ends {
            stretches.push(((start..=end).map(|index| points[index % count]).collect(), false));
            start = end;
        }
    } else {
        let mut start = 0;
        for end in cuts.into_iter().chain([count - 1]) {
            stretches.push((points[start..=end].to_vec(), false));
            start = end;
        }
    }
    stretches
}

/// The dashes of a line, each with the corners it goes around.
fn dashes(points: &[Pos2], dash: f32, gap: f32) -> Vec<Vec<Pos2>> {
    let mut found = Vec::new();
    let Some(first) = points.first() else { return found };
    let (mut drawn, mut left, mut now) = (true, dash, vec![*first]);
    for ends in points.windows(2) {
        let (mut at, end) = (ends[0], ends[1]);
        let mut length = (end - at).length();
        while length > left {
            at += (end - at) * (left / length);
            length -= left;
            if drawn {
                now.push(at);
                found.push(std::mem::take(&mut now));
            } else {
                now = vec![at];
            }
            drawn = !drawn;
            left = if drawn { dash } else { gap };
        }
        left -= length;
        if drawn {
            now.push(end);
        }
    }
    if now.len() > 1 {
        found.push(now);
    }
    found
}

/// Width of a line on the screen.
fn line_width(width_mm: f64, placing: &Placing) -> f32 {
    ((width_mm * placing.points_per_paper_mm) as f32).max(THINNEST_LINE)
}

/// The outlines of a path as points on the screen, and whether each is closed.
fn flattened(path: &BezPath, placing: &Placing) -> Vec<(Vec<Pos2>, bool)> {
    let mut outlines: Vec<(Vec<Pos2>, bool)> = Vec::new();
    let tolerance = placing.flattening() / placing.points_per_mm;
    kurbo::flatten(path.elements().iter().copied(), tolerance, |element| match element {
        PathEl::MoveTo(point) => outlines.push((vec![placing.place(point)], false)),
        PathEl::LineTo(point) => {
            if let Some((points, _)) = outlines.last_mut() {
                points.push(placing.place(point));
            }
        }
        PathEl::ClosePath => {
            if let Some((points, closed)) = outlines.last_mut() {
                *closed = true;
                if points.len() > 1 && points.first() == points.last() {
                    points.pop();
                }
            }
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    for (points, _) in &mut outlines {
        *points = thinned(points, placing.flattening() as f32);
    }
    outlines
}

/// The points of a line that the eye can tell from a straight one: arcs come in steps made for paper, which are
/// far finer than the screen when the whole plan is in view. Ramer (1972), Douglas and Peucker (1973); the line
/// stays within `tolerance` of what it was.
fn thinned(points: &[Pos2], tolerance: f32) -> Vec<Pos2> {
    let Some(last) = points.len().checked_sub(1).filter(|last| *last >= 2) else { return points.to_vec() };
    let mut keeps = vec![false; points.len()];
    (keeps[0], keeps[last]) = (true, true);
    let mut stretches = vec![(0, last)];
    while let Some((from, to)) = stretches.pop() {
        let along = points[to] - points[from];
        let length = along.length();
        let off = |at: usize| {
            let offset = points[at] - points[from];
            // A closed stretch has no direction: its farthest point parts it.
            if length > 1e-6 {
                (along.x * offset.y - along.y * offset.x).abs() / length
            } else {
                offset.length()
            }
        };
        let farthest = (from + 1..to).max_by(|a, b| off(*a).total_cmp(&off(*b)));
        if let Some(farthest) = farthest.filter(|at| off(*at) > tolerance) {
            keeps[farthest] = true;
            stretches.extend([(from, farthest), (farthest, to)]);
        }
    }
    points.iter().zip(keeps).filter(|(_, kept)| *kept).map(|(point, _)| *point).collect()
}

/// Adds a mesh to another, moved and scaled.
pub fn append_moved(onto: &mut Mesh, mesh: &Mesh, by: Pos2, scale: f32) {
    let first = onto.vertices.len() as u32;
    onto.indices.extend(mesh.indices.iter().map(|index| first + index));
    onto.vertices.extend(mesh.vertices.iter().map(|vertex| Vertex {
        pos: pos2(vertex.pos.x * scale + by.x, vertex.pos.y * scale + by.y),
        ..*vertex
    }));
}

/// The same without triangles that lie outside of `within` altogether.
pub fn append_moved_within(onto: &mut Mesh, mesh: &Mesh, by: Pos2, scale: f32, within: Rect) {
    const LEFT_OUT: u32 = u32::MAX;
    let placed = |vertex: &Vertex| pos2(vertex.pos.x * scale + by.x, vertex.pos.y * scale + by.y);
    // On which sides of the rectangle a vertex lies, and which it becomes; as Cohen and Sutherland clip lines.
    let side = |at: Pos2| {
        u8::from(at.x < within.min.x)
            | u8::from(at.x > within.max.x) << 1
            | u8::from(at.y < within.min.y) << 2
            | u8::from(at.y > within.max.y) << 3
    };
    let mut becomes: Vec<(u8, u32)> =
        mesh.vertices.iter().map(|vertex| (side(placed(vertex)), LEFT_OUT)).collect();
    for corners in mesh.indices.chunks_exact(3) {
        let sides = |corner: u32| becomes.get(corner as usize).map_or(u8::MAX, |(side, _)| *side);
        if corners.iter().fold(u8::MAX, |all, corner| all & sides(*corner)) != 0 {
            continue;
        }
        for corner in corners {
            let (Some(vertex), Some((_, now))) =
                (mesh.vertices.get(*corner as usize), becomes.get_mut(*corner as usize))
            else {
                continue;
            };
            if *now == LEFT_OUT {
                *now = onto.vertices.len() as u32;
                onto.vertices.push(Vertex { pos: placed(vertex), ..*vertex });
            }
            onto.indices.push(*now);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_that_turns_back_is_cut_there_and_nowhere_else() {
        let at = |x: f32, y: f32| pos2(x, y);
        let square = vec![at(0.0, 0.0), at(9.0, 0.0), at(9.0, 9.0), at(0.0, 9.0)];
        assert_eq!(without_spikes(square.clone(), true), [(square, true)]);
        let spiked = vec![at(0.0, 0.0), at(9.0, 0.0), at(4.0, 0.1), at(4.0, 4.0), at(0.0, 4.0)];
        let cut = without_spikes(spiked, true);
        assert_eq!(
            cut,
            [(
                vec![at(9.0, 0.0), at(4.0, 0.1), at(4.0, 4.0), at(0.0, 4.0), at(0.0, 0.0), at(9.0, 0.0)],
                false
            )]
        );
        let there_and_back = vec![at(0.0, 0.0), at(9.0, 0.0), at(1.0, 0.0)];
        let cut = without_spikes(there_and_back, false);
        assert_eq!(
            cut,
            [(vec![at(0.0, 0.0), at(9.0, 0.0)], false), (vec![at(9.0, 0.0), at(1.0, 0.0)], false)]
        );
    }

    #[test]
    fn dashes_go_around_corners_and_gaps_do_too() {
        let line = [pos2(0.0, 0.0), pos2(4.0, 0.0), pos2(4.0, 8.0)];
        let found = dashes(&line, 6.0, 3.0);
        assert_eq!(
            found,
            [vec![pos2(0.0, 0.0), pos2(4.0, 0.0), pos2(4.0, 2.0)], vec![pos2(4.0, 5.0), pos2(4.0, 8.0)]]
        );
        assert_eq!(dashes(&[pos2(1.0, 1.0)], 6.0, 3.0), Vec::<Vec<Pos2>>::new());
    }

    #[test]
    fn only_what_turns_one_way_once_is_convex() {
        let at = |(x, y): &(f32, f32)| pos2(*x, *y);
        let outline = |corners: &[(f32, f32)]| corners.iter().map(at).collect::<Vec<_>>();
        let square = outline(&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]);
        assert!(is_convex(&square));
        assert!(is_convex(&square.iter().rev().copied().collect::<Vec<_>>()));
        assert!(!is_convex(&outline(&[(0.0, 0.0), (9.0, 0.0), (4.0, 4.0), (0.0, 9.0)])), "a corner inwards");
        assert!(!is_convex(&outline(&[(0.0, 0.0), (40.0, 0.0), (40.0, 1.0)])), "a needle");
        let twice = [square.clone(), square].concat();
        assert!(!is_convex(&twice), "twice around");
    }

    #[test]
    fn a_fine_arc_is_thinned_and_stays_where_it_was() {
        let at = |step: i32| (step as f32 / 2000.0 * std::f32::consts::PI).sin_cos();
        let arc: Vec<Pos2> = (0..=2000).map(at).map(|(y, x)| pos2(50.0 * x, 50.0 * y)).collect();
        let thin = thinned(&arc, FLATTENING_POINTS as f32);
        assert!((10..80).contains(&thin.len()), "{}", thin.len());
        assert_eq!((thin.first(), thin.last()), (arc.first(), arc.last()));
        let off = |point: &Pos2| {
            thin.windows(2)
                .map(|pair| {
                    let along = pair[1] - pair[0];
                    let share = ((*point - pair[0]).dot(along) / along.length_sq()).clamp(0.0, 1.0);
                    (*point - (pair[0] + along * share)).length()
                })
                .fold(f32::MAX, f32::min)
        };
        assert!(arc.iter().all(|point| off(point) <= FLATTENING_POINTS as f32 + 1e-3));
        let square = [pos2(0.0, 0.0), pos2(9.0, 0.0), pos2(9.0, 9.0), pos2(0.0, 9.0)];
        assert_eq!(thinned(&square, FLATTENING_POINTS as f32), square);
    }
}
