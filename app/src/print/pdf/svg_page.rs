//! An SVG beneath a plan, carried into the PDF as the lines and areas it is made of.
//!
//! What PDF has another way of saying (gradients, masks, filters, blending) is not said anew here: an SVG that
//! holds any of it is left to be carried as a picture.

use krilla::geom::{Path, PathBuilder, Size, Transform};
use krilla::image::Image;
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use resvg::{tiny_skia, usvg};

/// Whether all of it can be carried as lines, areas and pictures.
pub fn is_plain(group: &usvg::Group) -> bool {
    let no_effects = group.mask().is_none()
        && group.filters().is_empty()
        && group.blend_mode() == usvg::BlendMode::Normal
        && group.clip_path().is_none_or(|clip| clip_outline(clip).is_some());
    no_effects
        && group.children().iter().all(|node| match node {
            usvg::Node::Group(group) => is_plain(group),
            usvg::Node::Path(path) => {
                let plain = |paint: &usvg::Paint| matches!(paint, usvg::Paint::Color(_));
                path.fill().is_none_or(|fill| plain(fill.paint()))
                    && path.stroke().is_none_or(|stroke| plain(stroke.paint()))
            }
            usvg::Node::Image(image) => {
                matches!(image.kind(), usvg::ImageKind::PNG(_) | usvg::ImageKind::JPEG(_))
            }
            usvg::Node::Text(text) => is_plain(text.flattened()),
        })
}

/// Draws a group that [`is_plain`], in the units of its SVG.
pub fn draw(surface: &mut Surface<'_>, group: &usvg::Group) {
    surface.push_transform(&transform_of(group.transform()));
    let clip = group.clip_path().and_then(clip_outline);
    if let Some((outline, rule)) = &clip {
        surface.push_clip_path(outline, rule);
    }
    surface.push_opacity(share(group.opacity()));
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => draw(surface, group),
            usvg::Node::Path(path) if path.is_visible() => draw_path(surface, path),
            usvg::Node::Image(image) if image.is_visible() => draw_image(surface, image),
            usvg::Node::Text(text) => draw(surface, text.flattened()),
            _ => {}
        }
    }
    surface.pop();
    if clip.is_some() {
        surface.pop();
    }
    surface.pop();
}

fn draw_path(surface: &mut Surface<'_>, path: &usvg::Path) {
    let Some(course) = path_of(path.data(), tiny_skia::Transform::identity()) else { return };
    let fill = path.fill().map(|fill| Fill {
        paint: colour_of(fill.paint()).into(),
        opacity: share(fill.opacity()),
        rule: rule_of(fill.rule()),
    });
    let stroke = path.stroke().map(stroke_of);
    let strokes_last = path.paint_order() == usvg::PaintOrder::FillAndStroke;
    let steps = if strokes_last { [(fill, None), (None, stroke)] } else { [(None, stroke), (fill, None)] };
    for (fill, stroke) in steps {
        if fill.is_some() || stroke.is_some() {
            surface.set_fill(fill);
            surface.set_stroke(stroke);
            surface.draw_path(&course);
        }
    }
}

fn draw_image(surface: &mut Surface<'_>, image: &usvg::Image) {
    let read = match image.kind() {
        usvg::ImageKind::PNG(bytes) => Image::from_png(bytes.as_ref().clone().into(), false),
        usvg::ImageKind::JPEG(bytes) => Image::from_jpeg(bytes.as_ref().clone().into(), false),
        _ => return,
    };
    if let (Ok(picture), Some(size)) = (read, Size::from_wh(image.size().width(), image.size().height())) {
        surface.draw_image(picture, size);
    }
}

/// The outline of a clip that is one path and no more; anything else is not plain.
fn clip_outline(clip: &usvg::ClipPath) -> Option<(Path, FillRule)> {
    let [usvg::Node::Path(path)] = clip.root().children() else { return None };
    if clip.clip_path().is_some() || clip.root().clip_path().is_some() {
        return None;
    }
    let placed = clip.transform().pre_concat(path.abs_transform());
    let rule = path.fill().map_or(FillRule::NonZero, |fill| rule_of(fill.rule()));
    Some((path_of(path.data(), placed)?, rule))
}

fn path_of(path: &tiny_skia::Path, by: tiny_skia::Transform) -> Option<Path> {
    use tiny_skia::PathSegment as Segment;
    let path = path.clone().transform(by)?;
    let mut builder = PathBuilder::new();
    for segment in path.segments() {
        match segment {
            Segment::MoveTo(to) => builder.move_to(to.x, to.y),
            Segment::LineTo(to) => builder.line_to(to.x, to.y),
            Segment::QuadTo(by, to) => builder.quad_to(by.x, by.y, to.x, to.y),
            Segment::CubicTo(first, second, to) => {
                builder.cubic_to(first.x, first.y, second.x, second.y, to.x, to.y);
            }
            Segment::Close => builder.close(),
        }
    }
    builder.finish()
}

fn stroke_of(stroke: &usvg::Stroke) -> Stroke {
    Stroke {
        paint: colour_of(stroke.paint()).into(),
        width: stroke.width().get(),
        miter_limit: stroke.miterlimit().get(),
        line_cap: match stroke.linecap() {
            usvg::LineCap::Butt => LineCap::Butt,
            usvg::LineCap::Round => LineCap::Round,
            usvg::LineCap::Square => LineCap::Square,
        },
        line_join: match stroke.linejoin() {
            usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => LineJoin::Miter,
            usvg::LineJoin::Round => LineJoin::Round,
            usvg::LineJoin::Bevel => LineJoin::Bevel,
        },
        opacity: share(stroke.opacity()),
        dash: stroke.dasharray().map(|dash| StrokeDash { array: dash.to_vec(), offset: stroke.dashoffset() }),
    }
}

fn colour_of(paint: &usvg::Paint) -> krilla::color::rgb::Color {
    match paint {
        usvg::Paint::Color(colour) => krilla::color::rgb::Color::new(colour.red, colour.green, colour.blue),
        // Not reached for what is plain.
        _ => krilla::color::rgb::Color::black(),
    }
}

const fn rule_of(rule: usvg::FillRule) -> FillRule {
    match rule {
        usvg::FillRule::NonZero => FillRule::NonZero,
        usvg::FillRule::EvenOdd => FillRule::EvenOdd,
    }
}

fn share(opacity: usvg::Opacity) -> NormalizedF32 {
    NormalizedF32::new(opacity.get()).unwrap_or(NormalizedF32::ONE)
}

fn transform_of(by: tiny_skia::Transform) -> Transform {
    Transform::from_row(by.sx, by.ky, by.kx, by.sy, by.tx, by.ty)
}
