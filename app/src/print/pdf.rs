//! PDF for issue: vectors, real text in embedded subset faces, a bookmark a sheet, PDF/A-2b (ISO 19005-2).

mod beneath;
mod svg_page;

pub use beneath::unlocked_page;

use std::ops::Range;

use krilla::color::rgb;
use krilla::configure::{Archival, Configuration, ConfigurationBuilder, PdfVersion};
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};
use kurbo::{Affine, BezPath, PathEl, Shape as _};
use pattress_model::drawing::style::Rgba;
use pattress_model::drawing::{Shape, Sheet, Weight, lettering};
use pattress_model::store::Media;

use super::PrintError;
use super::marks::{MITRE_LIMIT, Mark, marks};
use crate::survey::{Sort, sort_of};
use beneath::{AllBeneath, Place};

/// Points of the PDF in one millimetre: 72 to the inch of 25.4 mm (ISO 32000-1, 8.3.2.3).
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// What the PDF says about itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PdfInfo {
    /// Its title (`Ferry Cottage: sheets P01`).
    pub title: String,
    /// Who drew it.
    pub author: String,
    /// What it is about, in a line; empty for none.
    pub subject: String,
    /// Date of issue, `2026-03-31`. PDF/A asks for one and no clock is read: empty or anything else leaves the
    /// PDF without a date and without the claim to be PDF/A, though it is written alike. Nor is the claim made where
    /// a page of another PDF lies beneath a plan.
    pub date: String,
}

/// All sheets as one PDF. The same sheets give the same bytes.
///
/// # Errors
/// A picture that is missing or no picture; a dated PDF that fails the checks of PDF/A-2b.
pub fn pdf(sheets: &[Sheet], media: &Media, info: &PdfInfo) -> Result<Vec<u8>, PrintError> {
    let settings = SerializeSettings {
        configuration: configuration(sheets, media, info)?,
        ..SerializeSettings::default()
    };
    let mut document = Document::new_with(settings);
    let faces = Faces::new()?;
    let mut beneath = AllBeneath::default();
    let mut outline = Outline::new();
    for (index, sheet) in sheets.iter().enumerate() {
        let (width, height) = sheet.paper.size_mm();
        let settings = PageSettings::from_wh(points(width), points(height))
            .ok_or_else(|| PrintError::Pdf("the paper has no size".to_owned()))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for mark in marks(sheet) {
            draw(&mut surface, &mark, &faces, sheet, media, &mut beneath)?;
        }
        surface.finish();
        page.finish();
        let top_left = krilla::destination::XyzDestination::new(index, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(format!("{} {}", sheet.number, sheet.title), top_left));
    }
    document.set_outline(outline);
    document.set_metadata(metadata(info));
    document.finish().map_err(|error| PrintError::Pdf(format!("{error:?}")))
}

/// The writer set to refuse what PDF/A-2b forbids, which needs a date; without one, an ordinary writer. Nor can a
/// page of another PDF be vouched for: where one lies beneath a plan, the claim is left out.
fn configuration(sheets: &[Sheet], media: &Media, info: &PdfInfo) -> Result<Configuration, PrintError> {
    let failed = |error| PrintError::Pdf(format!("{error:?}"));
    if let Some(newest) = newest_page_beneath(sheets, media) {
        return ConfigurationBuilder::new()
            .with_version(newest.max(PdfVersion::Pdf17))
            .finish()
            .map_err(failed);
    }
    if date_of(&info.date).is_none() {
        return Ok(Configuration::default());
    }
    ConfigurationBuilder::new().with_archival_validator(Archival::A2_B).finish().map_err(failed)
}

/// The newest version of PDF among the pages that lie beneath the plans.
fn newest_page_beneath(sheets: &[Sheet], media: &Media) -> Option<PdfVersion> {
    let pictures = sheets.iter().flat_map(|sheet| sheet.plan.iter().chain(&sheet.frame));
    pictures
        .filter_map(|item| match &item.shape {
            Shape::Picture { media: name, .. } => media.get(name),
            _ => None,
        })
        .filter(|bytes| sort_of(bytes) == Ok(Sort::Pdf))
        .filter_map(|bytes| beneath::version_of(bytes))
        .max()
}

fn metadata(info: &PdfInfo) -> Metadata {
    let mut metadata = Metadata::new()
        .title(info.title.clone())
        .description(info.subject.clone())
        .creator("Pattress".to_owned())
        .language("en-GB".to_owned());
    if !info.author.is_empty() {
        metadata = metadata.authors(vec![info.author.clone()]);
    }
    if let Some(date) = date_of(&info.date) {
        metadata = metadata.creation_date(date);
    }
    metadata
}

/// Reads `2026-03-31` (ISO 8601).
fn date_of(text: &str) -> Option<DateTime> {
    let mut parts = text.trim().splitn(3, '-');
    let year: u16 = parts.next()?.parse().ok()?;
    let month: u8 = parts.next()?.parse().ok()?;
    let day: u8 = parts.next()?.parse().ok()?;
    ((1..=12).contains(&month) && (1..=31).contains(&day))
        .then(|| DateTime::new(year).month(month).day(day).hour(0).minute(0).second(0).utc_offset_hour(0))
}

/// The face in its three weights.
struct Faces([Font; 3]);

impl Faces {
    fn new() -> Result<Self, PrintError> {
        let load = |weight| {
            Font::new(lettering::face(weight).to_vec().into(), 0)
                .ok_or_else(|| PrintError::Pdf("the embedded face cannot be read".to_owned()))
        };
        Ok(Self([load(Weight::Regular)?, load(Weight::Medium)?, load(Weight::SemiBold)?]))
    }

    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.0[0].clone(),
            Weight::Medium => self.0[1].clone(),
            Weight::SemiBold => self.0[2].clone(),
        }
    }
}

fn draw(
    surface: &mut Surface<'_>,
    mark: &Mark,
    faces: &Faces,
    sheet: &Sheet,
    media: &Media,
    beneath: &mut AllBeneath,
) -> Result<(), PrintError> {
    match mark {
        Mark::Area { path, fill } => {
            if let Some(path) = path_of(path) {
                surface.set_stroke(None);
                surface.set_fill(Some(fill_of(*fill)));
                surface.draw_path(&path);
            }
        }
        Mark::Line { path, ink, width_mm, dash_mm } => {
            if let Some(path) = path_of(path) {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke_of(*ink, *width_mm, *dash_mm)));
                surface.draw_path(&path);
            }
        }
        Mark::Letters { start, turn, letters, size_mm, weight, ink } => {
            surface.set_stroke(None);
            surface.set_fill(Some(fill_of(*ink)));
            let place = Affine::scale(POINTS_PER_MM)
                * Affine::translate(start.to_vec2())
                * Affine::rotate(-turn.as_radians());
            surface.push_transform(&transform_of(place));
            let (text, glyphs) = glyphs_of(letters);
            let size = *size_mm as f32;
            surface.draw_glyphs(Point::from_xy(0.0, 0.0), &glyphs, faces.of(*weight), &text, size, false);
            surface.pop();
        }
        Mark::Picture { media: name, page, plan_from_units, size, opacity, within } => {
            let place = Place {
                page: *page,
                paper_from_units: *plan_from_units,
                size: *size,
                opacity: opacity_of(*opacity),
            };
            let clip = within.and_then(|within| path_of(&within.to_path(0.1)));
            if let Some(clip) = &clip {
                surface.push_clip_path(clip, &FillRule::NonZero);
            }
            beneath.draw(surface, name, media, &place).map_err(|reason| PrintError::Picture {
                sheet: sheet.number.clone(),
                name: name.clone(),
                reason,
            })?;
            if clip.is_some() {
                surface.pop();
            }
        }
    }
    Ok(())
}

fn glyphs_of(letters: &[lettering::Letter]) -> (String, Vec<KrillaGlyph>) {
    let mut text = String::with_capacity(letters.len());
    let mut glyphs = Vec::with_capacity(letters.len());
    for letter in letters {
        let from = text.len();
        text.push(letter.letter);
        let range: Range<usize> = from..text.len();
        let glyph = GlyphId::new(u32::from(letter.glyph));
        glyphs.push(KrillaGlyph::new(glyph, letter.advance as f32, 0.0, 0.0, 0.0, range, None));
    }
    (text, glyphs)
}

fn points(millimetres: f64) -> f32 {
    (millimetres * POINTS_PER_MM) as f32
}

fn transform_of(affine: Affine) -> Transform {
    let [a, b, c, d, e, f] = affine.as_coeffs().map(|value| value as f32);
    Transform::from_row(a, b, c, d, e, f)
}

fn path_of(path: &BezPath) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => builder.move_to(points(to.x), points(to.y)),
            PathEl::LineTo(to) => builder.line_to(points(to.x), points(to.y)),
            PathEl::QuadTo(by, to) => builder.quad_to(points(by.x), points(by.y), points(to.x), points(to.y)),
            PathEl::CurveTo(first, second, to) => builder.cubic_to(
                points(first.x),
                points(first.y),
                points(second.x),
                points(second.y),
                points(to.x),
                points(to.y),
            ),
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}

fn opacity_of(share: f64) -> NormalizedF32 {
    NormalizedF32::new(share as f32).unwrap_or(NormalizedF32::ONE)
}

fn fill_of([red, green, blue, opacity]: Rgba) -> Fill {
    Fill {
        paint: rgb::Color::new(red, green, blue).into(),
        opacity: opacity_of(f64::from(opacity) / 255.0),
        rule: FillRule::EvenOdd,
    }
}

fn stroke_of([red, green, blue, opacity]: Rgba, width_mm: f64, dash_mm: Option<[f64; 2]>) -> Stroke {
    Stroke {
        paint: rgb::Color::new(red, green, blue).into(),
        width: points(width_mm),
        miter_limit: MITRE_LIMIT as f32,
        line_cap: LineCap::Butt,
        line_join: LineJoin::Miter,
        opacity: opacity_of(f64::from(opacity) / 255.0),
        dash: dash_mm.map(|dash| StrokeDash { array: dash.map(points).to_vec(), offset: 0.0 }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_is_read_and_nonsense_is_left_out() {
        assert!(date_of("2026-03-31").is_some());
        for no_date in ["", "31.3.2026", "2026-13-01", "2026-03", "soon"] {
            assert!(date_of(no_date).is_none(), "{no_date}");
        }
    }
}
