//! SVG drawings (SVG 1.1): what they draw, in millimetres.
//!
//! A size in millimetres or inches holds; one without units, or a view box alone, is 96 to the inch (CSS Values
//! and Units 3, 5.2). Nothing outside the file is ever read. Lettering is measured with our own face, since the
//! one it asks for may be missing.

use kurbo::{Affine, BezPath, Point};
use pattress_model::drawing::{Weight, lettering};
use resvg::tiny_skia;
use resvg::usvg::{self, Node, tiny_skia_path};

use super::gather::{Gather, lightness};
use super::svg_options::svg_options;
use super::{Drawn, Fault, sheet_scale};

/// Millimetres to a unit of an SVG without units.
const MM_PER_UNIT: f64 = 25.4 / 96.0;

/// How light an area is taken to be that is filled with a pattern.
const LIGHTNESS_OF_A_PATTERN: f32 = 0.5;

/// Groups nested deeper than this are no drawing of a house; the library itself stops before.
const DEEPEST: usize = 1_000;

/// An SVG that was opened.
pub struct OpenSvg {
    tree: usvg::Tree,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
}

impl OpenSvg {
    /// Opens an SVG.
    ///
    /// # Errors
    /// [`Fault`]: what is wrong and what to do.
    pub fn open(bytes: &[u8]) -> Result<Self, Fault> {
        let tree = usvg::Tree::from_data(bytes, &svg_options()).map_err(|error| match error {
            usvg::Error::InvalidSize => {
                Fault::because("its width and height make no size, so save it with a size in millimetres")
            }
            usvg::Error::ElementsLimitReached => Fault::too_much(),
            usvg::Error::NotAnUtf8Str => Fault::because("it is not in UTF-8, so save it anew"),
            other => Fault::Because(format!("its content is broken ({other}), so save it anew")),
        })?;
        let mm = |units: f32| (f64::from(units) * MM_PER_UNIT * 1e3).round() / 1e3;
        let (width, height) = (mm(tree.size().width()), mm(tree.size().height()));
        sheet_scale::check_paper(width, height)?;
        Ok(Self { tree, width, height })
    }

    /// Reads what it draws.
    ///
    /// # Errors
    /// [`Fault`], where it holds more than a drawing should.
    pub fn read(&self) -> Result<Drawn, Fault> {
        let mut gather = Gather::new(self.width, self.height);
        Pen { gather: &mut gather, page_from_root: Affine::scale(MM_PER_UNIT), depth: 0 }
            .group(self.tree.root());
        gather.finish()
    }

    /// Paints it on white, in pixels of red, green, blue and opacity.
    ///
    /// # Errors
    /// [`Fault`], where it can't be painted at that scale.
    pub fn paint(&self, px_per_mm: f64) -> Result<(u32, u32, Vec<u8>), Fault> {
        let (width, height) = sheet_scale::pixels(self.width, self.height, px_per_mm)?;
        let mut pixels = tiny_skia::Pixmap::new(width, height).ok_or_else(Fault::too_much)?;
        pixels.fill(tiny_skia::Color::WHITE);
        let scale = (px_per_mm * MM_PER_UNIT) as f32;
        resvg::render(&self.tree, tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
        Ok((width, height, pixels.take()))
    }
}

/// A transform of the library in double precision.
fn affine(transform: tiny_skia_path::Transform) -> Affine {
    let own = [transform.sx, transform.ky, transform.kx, transform.sy, transform.tx, transform.ty];
    Affine::new(own.map(f64::from))
}

/// Draws the nodes of a tree.
struct Pen<'g> {
    gather: &'g mut Gather,
    /// Places what has units of the tree's root on the page, mm.
    page_from_root: Affine,
    depth: usize,
}

impl Pen<'_> {
    fn group(&mut self, group: &usvg::Group) {
        if self.depth > DEEPEST || self.gather.is_too_much() {
            return;
        }
        let clip = group.clip_path().map(|clip| {
            let mut outline = BezPath::new();
            let placed = self.page_from_root * affine(group.abs_transform()) * affine(clip.transform());
            outline_of(clip.root(), placed, &mut outline, 0);
            outline
        });
        let is_clipped = clip.is_some();
        if let Some(outline) = clip {
            self.gather.push_clip(outline);
        }
        self.gather.push_opacity(group.opacity().get());
        self.depth += 1;
        for node in group.children() {
            match node {
                Node::Group(inner) => self.group(inner),
                Node::Path(path) => self.path(path),
                Node::Text(text) => self.text(text),
                Node::Image(image) => self.image(image),
            }
        }
        self.depth -= 1;
        self.gather.pop_opacity();
        if is_clipped {
            self.gather.pop_clip();
        }
    }

    fn path(&mut self, path: &usvg::Path) {
        if !path.is_visible() {
            return;
        }
        match path.paint_order() {
            usvg::PaintOrder::FillAndStroke => {
                self.fill(path);
                self.stroke(path);
            }
            usvg::PaintOrder::StrokeAndFill => {
                self.stroke(path);
                self.fill(path);
            }
        }
    }

    fn fill(&mut self, path: &usvg::Path) {
        if let Some(fill) = path.fill() {
            let outline = self.page_from_root * affine(path.abs_transform()) * path_of(path.data());
            let lightness = lightness_of(fill.paint(), fill.opacity().get() * self.gather.opacity());
            self.gather.fill(outline, fill.rule() == usvg::FillRule::EvenOdd, lightness);
        }
    }

    fn stroke(&mut self, path: &usvg::Path) {
        if let Some(stroke) = path.stroke() {
            let placed = self.page_from_root * affine(path.abs_transform());
            let width = f64::from(stroke.width().get()) * placed.determinant().abs().sqrt();
            let lightness = lightness_of(stroke.paint(), stroke.opacity().get() * self.gather.opacity());
            self.gather.stroke(placed * path_of(path.data()), width, lightness, stroke.dasharray().is_some());
        }
    }

    /// Lettering: where each letter starts is known; how far on the next is due is measured with our own face.
    fn text(&mut self, text: &usvg::Text) {
        let placed = self.page_from_root * affine(text.abs_transform());
        for span in text.layouted().iter().filter(|span| span.visible) {
            for letter in &span.positioned_glyphs {
                // A letter's own units are those of its font; its size tells how many make an em.
                let from_font = affine(letter.transform());
                let unit = from_font.determinant().abs().sqrt();
                let size = f64::from(letter.font_size());
                if unit > 0.0 && size > 0.0 {
                    let advance =
                        lettering::width(&letter.text, lettering::CAPITALS_TO_SIZE, Weight::Regular);
                    self.gather.letter(
                        &letter.text,
                        placed * from_font * Affine::scale(size / unit),
                        advance,
                    );
                }
            }
        }
    }

    fn image(&mut self, image: &usvg::Image) {
        if !image.is_visible() {
            return;
        }
        let placed = self.page_from_root * affine(image.abs_transform());
        if let usvg::ImageKind::SVG(tree) = image.kind() {
            let depth = self.depth + 1;
            Pen { gather: self.gather, page_from_root: placed, depth }.group(tree.root());
        } else {
            let size = image.size();
            self.gather.picture(f64::from(size.width()), f64::from(size.height()), placed);
        }
    }
}

/// The outlines of all paths in a clip.
fn outline_of(group: &usvg::Group, page_from_clip: Affine, outline: &mut BezPath, depth: usize) {
    if depth > DEEPEST {
        return;
    }
    for node in group.children() {
        match node {
            Node::Group(inner) => {
                outline_of(inner, page_from_clip * affine(inner.transform()), outline, depth + 1);
            }
            Node::Path(path) => outline.extend(page_from_clip * path_of(path.data())),
            _ => {}
        }
    }
}

fn path_of(data: &tiny_skia_path::Path) -> BezPath {
    use tiny_skia_path::PathSegment;
    let at = |point: tiny_skia_path::Point| Point::new(f64::from(point.x), f64::from(point.y));
    let mut path = BezPath::new();
    for segment in data.segments() {
        match segment {
            PathSegment::MoveTo(to) => path.move_to(at(to)),
            PathSegment::LineTo(to) => path.line_to(at(to)),
            PathSegment::QuadTo(by, to) => path.quad_to(at(by), at(to)),
            PathSegment::CubicTo(by, by_then, to) => path.curve_to(at(by), at(by_then), at(to)),
            PathSegment::Close => path.close_path(),
        }
    }
    path
}

fn lightness_of(paint: &usvg::Paint, opacity: f32) -> Option<f32> {
    match paint {
        usvg::Paint::Color(colour) => {
            let [red, green, blue] =
                [colour.red, colour.green, colour.blue].map(|part| f32::from(part) / 255.0);
            lightness(red, green, blue, opacity)
        }
        _ => lightness(LIGHTNESS_OF_A_PATTERN, LIGHTNESS_OF_A_PATTERN, LIGHTNESS_OF_A_PATTERN, opacity),
    }
}
