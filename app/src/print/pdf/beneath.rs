//! Drawings beneath a plan in the PDF: a picture as it is, a page of a PDF or an SVG as the lines it is made of.

use std::collections::BTreeMap;
use std::sync::Arc;

use krilla::configure::{ConfigurationBuilder, PdfVersion};
use krilla::geom::Size;
use krilla::image::Image;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::pdf::{Pdf, PdfDocument};
use krilla::surface::Surface;
use krilla::{Document, SerializeSettings};
use kurbo::Affine;
use pattress_model::store::Media;
use resvg::usvg;

use super::svg_page;
use super::{POINTS_PER_MM, transform_of};
use crate::print::page_picture::{PRINTED_DPI, dots_on_paper, svg_picture, svg_tree};
use crate::survey::{Sort, sort_of};

/// A drawing ready to be put on paper.
enum Beneath {
    Picture(Image),
    Pages { document: PdfDocument, count: usize },
    Svg { tree: Box<usvg::Tree>, plain: bool },
}

/// The drawings beneath the plans of an issue; each is read once.
#[derive(Default)]
pub struct AllBeneath {
    read: BTreeMap<String, Beneath>,
}

/// Where and how a drawing lies.
pub struct Place {
    /// Which page of it, from 1.
    pub page: u32,
    /// From its own units (y down) to millimetres of paper.
    pub paper_from_units: Affine,
    /// Width and height in its own units.
    pub size: (f64, f64),
    /// 0 to 1.
    pub opacity: NormalizedF32,
}

impl AllBeneath {
    /// Puts a drawing on paper.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn draw(
        &mut self,
        surface: &mut Surface<'_>,
        name: &str,
        media: &Media,
        place: &Place,
    ) -> Result<(), String> {
        if !self.read.contains_key(name) {
            self.read.insert(name.to_owned(), read(name, media)?);
        }
        let size = Size::from_wh(place.size.0 as f32, place.size.1 as f32);
        let (Some(size), Some(beneath)) = (size, self.read.get(name)) else { return Ok(()) };
        let index = (place.page as usize).saturating_sub(1);
        let as_picture = match beneath {
            // Asked before anything is drawn: the writer complains only once all is written.
            Beneath::Pages { count, .. } if index >= *count => {
                return Err(format!("it has {count} pages and no page {}", place.page));
            }
            Beneath::Svg { tree, plain: false } => {
                let dots = dots_on_paper(place.size, place.paper_from_units, PRINTED_DPI);
                Some(Image::from_png(svg_picture(tree, dots)?.into(), false)?)
            }
            _ => None,
        };
        surface.push_transform(&transform_of(Affine::scale(POINTS_PER_MM) * place.paper_from_units));
        surface.push_opacity(place.opacity);
        match (beneath, as_picture) {
            (Beneath::Picture(image), _) => surface.draw_image(image.clone(), size),
            (Beneath::Pages { document, .. }, _) => surface.draw_pdf_page(document, size, index),
            (Beneath::Svg { .. }, Some(image)) => surface.draw_image(image, size),
            (Beneath::Svg { tree, .. }, None) => {
                let own = tree.size();
                let fits = Affine::scale_non_uniform(
                    place.size.0 / f64::from(own.width()),
                    place.size.1 / f64::from(own.height()),
                );
                surface.push_transform(&transform_of(fits));
                svg_page::draw(surface, tree.root());
                surface.pop();
            }
        }
        surface.pop();
        surface.pop();
        Ok(())
    }
}

fn read(name: &str, media: &Media) -> Result<Beneath, String> {
    let bytes = media.get(name).ok_or("it is not among the plan's drawings")?;
    Ok(match sort_of(bytes)? {
        Sort::Png => Beneath::Picture(Image::from_png(bytes.to_vec().into(), false)?),
        Sort::Jpeg => Beneath::Picture(Image::from_jpeg(bytes.to_vec().into(), false)?),
        Sort::Pdf => {
            let document =
                Pdf::new(bytes.to_vec()).map_err(|_| "its pages cannot be read, or ask for a password")?;
            let count = document.pages().len();
            Beneath::Pages { document: PdfDocument::new(Arc::new(document)), count }
        }
        Sort::Svg => {
            let tree = Box::new(svg_tree(bytes)?);
            let plain = svg_page::is_plain(tree.root());
            Beneath::Svg { tree, plain }
        }
        other => return Err(format!("it is {}", other.in_words())),
    })
}

/// The version that a PDF says it is of; `None` where it cannot be read.
pub fn version_of(bytes: &[u8]) -> Option<PdfVersion> {
    let text = format!("{:?}", Pdf::new(bytes.to_vec()).ok()?.version());
    Some(match text.as_str() {
        "Pdf20" => PdfVersion::Pdf20,
        _ => PdfVersion::Pdf17,
    })
}

/// A page of a locked PDF on a PDF of its own, as large as it was read and without a lock, so that it can be kept.
///
/// # Errors
/// What is wrong with it, as the second half of a sentence that begins with the file's name.
pub fn unlocked_page(
    bytes: &[u8],
    password: &str,
    page: u32,
    size_mm: (f64, f64),
) -> Result<Vec<u8>, String> {
    let locked = "it is locked in a way that can’t be undone, so ask for a copy without a password";
    let pdf = Pdf::new_with_password(bytes.to_vec(), password).map_err(|_| locked)?;
    let index = (page as usize).saturating_sub(1);
    let found = pdf.pages().len();
    if index >= found {
        return Err(format!("it has {found} pages and no page {page}"));
    }
    let (width, height) = ((size_mm.0 * POINTS_PER_MM) as f32, (size_mm.1 * POINTS_PER_MM) as f32);
    let paper = PageSettings::from_wh(width, height).zip(Size::from_wh(width, height));
    let (settings, size) = paper.ok_or("its page has no size")?;
    let configuration = ConfigurationBuilder::new().with_version(PdfVersion::Pdf20).finish();
    let configuration = configuration.map_err(|error| format!("{error:?}"))?;
    let mut document =
        Document::new_with(SerializeSettings { configuration, ..SerializeSettings::default() });
    let mut own_page = document.start_page_with(settings);
    let mut surface = own_page.surface();
    surface.draw_pdf_page(&PdfDocument::new(Arc::new(pdf)), size, index);
    surface.finish();
    own_page.finish();
    document.finish().map_err(|_| locked.to_owned())
}
