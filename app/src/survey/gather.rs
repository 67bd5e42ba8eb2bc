//! Gathers what a page draws: lines, areas and lettering in the order of drawing, cut to what shows of them.
//!
//! PDF and SVG say the same with different words; both readers tell it to a [`Gather`]. Clips are kept as
//! rectangles, which is what drawing programs cut their views with: what lies outside is dropped, straight lines
//! are cut at its edge, and an area that only fills its clip becomes the clip's own outline.

use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};
use pattress_model::survey::{Fill, Page, Stroke};

use super::lettering::{Letter, Runs};
use super::{Drawn, Fault, cut};

/// A page with more parts of lines than this is no drawing of a house: the largest plans that were met have
/// fifty thousand. Our own choice.
const MOST_PARTS: usize = 3_000_000;

/// A clip: nothing shows outside it.
struct Clip {
    /// The box around it and those before it.
    bounds: Rect,
    /// Its outline, where it is no upright rectangle.
    outline: Option<BezPath>,
}

/// A picture on the page.
pub struct Scan {
    /// The part of the page that it covers, mm.
    pub bounds: Rect,
    /// Its own resolution, pixels to a millimetre of the page.
    pub px_per_mm: f64,
}

/// What has been drawn so far.
pub struct Gather {
    page: Page,
    runs: Runs,
    clips: Vec<Clip>,
    opacities: Vec<f32>,
    parts: usize,
    order: u32,
    scans: Vec<Scan>,
}

impl Gather {
    /// Starts with an empty page of that size in millimetres; nothing shows beyond its edges.
    pub fn new(width: f64, height: f64) -> Self {
        Self {
            page: Page { width, height, ..Page::default() },
            runs: Runs::default(),
            clips: vec![Clip { bounds: Rect::new(0.0, 0.0, width, height), outline: None }],
            opacities: vec![1.0],
            parts: 0,
            order: 0,
            scans: Vec::new(),
        }
    }

    /// Whether the page has more than can be held.
    pub const fn is_too_much(&self) -> bool {
        self.parts > MOST_PARTS
    }

    /// The page, and the pictures on it.
    ///
    /// # Errors
    /// [`Fault`], where they are more than a drawing should hold.
    pub fn finish(self) -> Result<Drawn, Fault> {
        if self.is_too_much() {
            return Err(Fault::too_much());
        }
        let page = Page { writings: self.runs.finish(), ..self.page };
        Ok(Drawn { page, scans: self.scans })
    }

    /// Cuts what follows to an outline, until the clip is taken back.
    pub fn push_clip(&mut self, outline: BezPath) {
        let above = self.bounds();
        let own = outline.bounding_box();
        let bounds = if own.is_finite() { own.intersect(above) } else { Rect::ZERO };
        let outline = (!is_upright_rectangle(&outline)).then_some(outline);
        self.clips.push(Clip { bounds, outline });
    }

    /// Takes the last clip back.
    pub fn pop_clip(&mut self) {
        // The edge of the page stays.
        if self.clips.len() > 1 {
            self.clips.pop();
        }
    }

    /// Makes what follows fainter, until that is taken back.
    pub fn push_opacity(&mut self, opacity: f32) {
        self.opacities.push(self.opacity() * opacity.clamp(0.0, 1.0));
    }

    /// Takes the last opacity back.
    pub fn pop_opacity(&mut self) {
        if self.opacities.len() > 1 {
            self.opacities.pop();
        }
    }

    /// How opaque what is drawn now is, 0 to 1.
    pub fn opacity(&self) -> f32 {
        self.opacities.last().copied().unwrap_or(1.0)
    }

    fn bounds(&self) -> Rect {
        self.clips.last().map_or(Rect::ZERO, |clip| clip.bounds)
    }

    /// Draws a line; path and width in millimetres of the page. `None` for what can't be seen.
    pub fn stroke(&mut self, path: BezPath, width: f64, lightness: Option<f32>, dashed: bool) {
        let Some(lightness) = lightness else { return };
        if !width.is_finite() || !self.has_room_for(&path) {
            return;
        }
        let bounds = self.bounds();
        let Some(path) = cut::lines_within(path, bounds, width / 2.0) else { return };
        let order = self.next_order();
        self.page.strokes.push(Stroke { path, width: width.max(0.0), lightness, dashed, order });
    }

    /// Fills an area; its path in millimetres of the page. `None` for what can't be seen.
    pub fn fill(&mut self, path: BezPath, even_odd: bool, lightness: Option<f32>) {
        let Some(lightness) = lightness else { return };
        if !self.has_room_for(&path) {
            return;
        }
        let bounds = self.bounds();
        let fills_its_clip = self.clips.last().and_then(|clip| clip.outline.as_ref()).filter(|outline| {
            let own = outline.bounding_box();
            is_upright_rectangle(&path)
                && path.bounding_box().inflate(0.01, 0.01).union(own)
                    == path.bounding_box().inflate(0.01, 0.01)
        });
        let path = match fills_its_clip {
            Some(outline) => Some(outline.clone()),
            None => cut::area_within(path, bounds),
        };
        let Some(path) = path else { return };
        let order = self.next_order();
        self.page.fills.push(Fill { path, even_odd, lightness, order });
    }

    /// Places a letter: ems of its font on the page, and how far on the next is due, in ems.
    pub fn letter(&mut self, text: &str, page_from_em: Affine, advance: f64) {
        let Some(letter) = Letter::placed(text, page_from_em, advance) else { return };
        let middle = letter.at + letter.direction * (letter.advance / 2.0);
        let bounds = self.bounds().inflate(letter.height, letter.height);
        if bounds.contains(middle) && !self.runs.take(&letter) {
            self.parts = MOST_PARTS + 1;
        }
    }

    /// Lays a picture of that many pixels, whose own units are pixels.
    pub fn picture(&mut self, width_px: f64, height_px: f64, page_from_pixels: Affine) {
        let bounds = page_from_pixels.transform_rect_bbox(Rect::new(0.0, 0.0, width_px, height_px));
        let bounds = bounds.intersect(self.bounds());
        let mm_per_px = page_from_pixels.determinant().abs().sqrt();
        let is_sound = bounds.is_finite() && mm_per_px.is_finite() && mm_per_px > 1e-6;
        if is_sound && bounds.area() > 0.0 && self.scans.len() < MOST_PARTS {
            self.scans.push(Scan { bounds, px_per_mm: 1.0 / mm_per_px });
        }
    }

    /// Counts the parts of a path; whether they can be held and all lie somewhere.
    fn has_room_for(&mut self, path: &BezPath) -> bool {
        self.parts += path.elements().len();
        !self.is_too_much() && path.elements().len() > 1 && path.is_finite()
    }

    fn next_order(&mut self) -> u32 {
        self.order = self.order.saturating_add(1);
        self.order
    }
}

/// Whether a path is one rectangle whose sides run with the page's.
fn is_upright_rectangle(path: &BezPath) -> bool {
    let mut corners: Vec<Point> = Vec::new();
    for element in path.elements() {
        match element {
            PathEl::MoveTo(at) if corners.is_empty() => corners.push(*at),
            PathEl::LineTo(at) if !corners.is_empty() => corners.push(*at),
            PathEl::ClosePath => {}
            _ => return false,
        }
        if corners.len() > 5 {
            return false;
        }
    }
    let same = |a: f64, b: f64| (a - b).abs() < 1e-3;
    if corners.len() == 5 && same(corners[0].x, corners[4].x) && same(corners[0].y, corners[4].y) {
        corners.pop();
    }
    let [a, b, c, d] = corners[..] else { return false };
    (same(a.x, b.x) && same(b.y, c.y) && same(c.x, d.x) && same(d.y, a.y))
        || (same(a.y, b.y) && same(b.x, c.x) && same(c.y, d.y) && same(d.x, a.x))
}

/// How light a colour is on white paper, 0 black to 1 white: luma by the weights of ITU-R BT.709. `None` where
/// it is so faint that it can't be seen. Red, green, blue and opacity from 0 to 1.
pub fn lightness(red: f32, green: f32, blue: f32, opacity: f32) -> Option<f32> {
    let luma = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    let seen = opacity.clamp(0.0, 1.0);
    (seen > 0.01 && luma.is_finite()).then(|| (1.0 - seen + seen * luma).clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> BezPath {
        Rect::new(x0, y0, x1, y1).to_path(0.1)
    }

    #[test]
    fn what_lies_outside_a_clip_is_dropped_or_cut() {
        let mut gather = Gather::new(100.0, 100.0);
        gather.push_clip(rectangle(10.0, 10.0, 50.0, 50.0));
        let line = |from: (f64, f64), to: (f64, f64)| {
            let mut path = BezPath::new();
            path.move_to(from);
            path.line_to(to);
            path
        };
        gather.stroke(line((0.0, 20.0), (90.0, 20.0)), 0.5, Some(0.0), false);
        gather.stroke(line((60.0, 20.0), (90.0, 20.0)), 0.5, Some(0.0), false);
        gather.fill(rectangle(0.0, 0.0, 20.0, 20.0), false, Some(1.0));
        gather.pop_clip();
        gather.pop_clip();
        gather.stroke(line((60.0, 20.0), (90.0, 20.0)), 0.5, Some(0.0), true);
        let Ok(Drawn { page, .. }) = gather.finish() else { panic!("a page of so little is read") };
        let boxes: Vec<Rect> = page.strokes.iter().map(|stroke| stroke.path.bounding_box()).collect();
        assert_eq!(boxes, [Rect::new(10.0, 20.0, 50.0, 20.0), Rect::new(60.0, 20.0, 90.0, 20.0)]);
        assert_eq!(page.fills[0].path.bounding_box(), Rect::new(10.0, 10.0, 20.0, 20.0));
        let orders = [page.strokes[0].order, page.fills[0].order, page.strokes[1].order];
        assert!(orders.is_sorted() && orders[0] < orders[1] && orders[1] < orders[2]);
    }

    #[test]
    fn a_rectangle_that_fills_its_clip_is_the_clip() {
        let mut triangle = BezPath::new();
        triangle.move_to((10.0, 10.0));
        triangle.line_to((30.0, 10.0));
        triangle.line_to((20.0, 40.0));
        triangle.close_path();
        let mut gather = Gather::new(100.0, 100.0);
        gather.push_clip(triangle.clone());
        gather.fill(rectangle(0.0, 0.0, 100.0, 100.0), false, Some(0.5));
        let Ok(Drawn { page, .. }) = gather.finish() else { panic!("a page of so little is read") };
        assert_eq!(page.fills[0].path, triangle);
    }

    #[test]
    fn colours_are_as_light_as_they_look_on_paper() {
        for (colour, expected) in [
            ([0.0, 0.0, 0.0, 1.0], Some(0.0)),
            ([1.0, 1.0, 1.0, 1.0], Some(1.0)),
            ([0.0, 0.0, 0.0, 0.25], Some(0.75)),
            ([0.0, 1.0, 0.0, 1.0], Some(0.7152)),
            ([0.0, 0.0, 0.0, 0.0], None),
        ] {
            let [red, green, blue, opacity] = colour;
            assert_eq!(lightness(red, green, blue, opacity), expected, "{colour:?}");
        }
    }
}
