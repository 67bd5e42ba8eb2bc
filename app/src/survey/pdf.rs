//! Pages of a PDF (ISO 32000): what they draw, in millimetres of paper as a reader sees them.
//!
//! Turned, cropped and scaled as the file asks (Rotate, CropBox, UserUnit); what optional layers hide stays
//! hidden. The interpreter is a library; here its drawing is told to a [`Gather`].

use hayro::hayro_interpret::font::{Glyph, GlyphRun};
use hayro::hayro_interpret::hayro_syntax::object::dict::keys::USER_UNIT;
use hayro::hayro_interpret::hayro_syntax::page::Page as PdfPage;
use hayro::hayro_interpret::hayro_syntax::{DecryptionError, LoadPdfError, Pdf, PdfData};
use hayro::hayro_interpret::pattern::Pattern;
use hayro::hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, FillRule, Image, ImageDrawProps,
    InterpreterCache, InterpreterSettings, Paint, SoftMask, TransformExt, hayro_cmap, interpret_page,
};
use kurbo::{Affine, BezPath, Rect};

use super::gather::{Gather, lightness};
use super::{Asked, Drawn, Fault, sheet_scale};

/// A point of a PDF in millimetres: 1/72 inch (ISO 32000-1, 8.3.2.3).
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// More instructions than this on one page are no drawing of a house. Our own choice.
const MOST_INSTRUCTIONS: usize = 5_000_000;

/// How light an area is taken to be that is filled with a pattern or with a run of colours: what it is made of
/// stays untold, and this is between ink and paper.
const LIGHTNESS_OF_A_PATTERN: f32 = 0.5;

/// A PDF that was opened, and the page that is asked for.
pub struct OpenPdf {
    pdf: Pdf,
    page: usize,
    /// How many pages it has.
    pub pages: u32,
    /// Width of the page as seen, mm.
    pub width: f64,
    /// Height of the page as seen, mm.
    pub height: f64,
    mm_per_unit: f64,
}

impl OpenPdf {
    /// Opens a PDF at a page.
    ///
    /// # Errors
    /// [`Fault`]: a password is needed, or what is wrong and what to do.
    pub fn open(bytes: &[u8], asked: &Asked) -> Result<Self, Fault> {
        let password = asked.password.as_deref().unwrap_or_default();
        let data = PdfData::from(bytes.to_vec());
        let pdf = Pdf::new_with_password(data, password).map_err(|error| match error {
            LoadPdfError::Decryption(DecryptionError::PasswordProtected) => Fault::PasswordNeeded,
            LoadPdfError::Decryption(_) => Fault::because(
                "it is locked in a way that can't be read, so ask for a copy without a password",
            ),
            LoadPdfError::Invalid => Fault::because("its content is broken, so take a whole copy of it"),
        })?;
        let pages = u32::try_from(pdf.pages().len()).unwrap_or(u32::MAX);
        if pages == 0 {
            return Err(Fault::because("it has no pages, so take a whole copy of it"));
        }
        let page = asked.page.saturating_sub(1) as usize;
        let Some(found) = pdf.pages().get(page) else {
            return Err(Fault::Because(format!(
                "it has no page {}, so choose one of 1 to {pages}",
                asked.page
            )));
        };
        let unit = found.raw().get::<f64>(USER_UNIT).filter(|unit| unit.is_finite() && *unit > 0.0);
        let mm_per_unit = MM_PER_POINT * unit.unwrap_or(1.0);
        let (width, height) = found.render_dimensions();
        let (width, height) =
            (tidied(f64::from(width) * mm_per_unit), tidied(f64::from(height) * mm_per_unit));
        sheet_scale::check_paper(width, height)?;
        Ok(Self { pages, page, width, height, mm_per_unit, pdf })
    }

    fn found(&self) -> Option<&PdfPage<'_>> {
        self.pdf.pages().get(self.page)
    }

    /// Reads what the page draws.
    ///
    /// # Errors
    /// [`Fault`], where it holds more than a drawing should.
    pub fn read(&self) -> Result<Drawn, Fault> {
        let mut gather = Gather::new(self.width, self.height);
        if let Some(page) = self.found() {
            let mut instructions = page.operations();
            for count in 0.. {
                if instructions.next().is_none() {
                    break;
                }
                if count >= MOST_INSTRUCTIONS {
                    return Err(Fault::too_much());
                }
            }
            let cache = InterpreterCache::new();
            let placed = Affine::scale(self.mm_per_unit) * page.initial_transform(true).to_kurbo();
            let paper = Rect::new(0.0, 0.0, self.width, self.height);
            let settings = InterpreterSettings::default();
            let mut context = Context::new(placed, paper, &cache, page.xref(), settings);
            interpret_page(page, &mut context, &mut Pen { gather: &mut gather });
        }
        gather.finish()
    }

    /// Paints the page on white, in pixels of red, green, blue and opacity.
    ///
    /// # Errors
    /// [`Fault`], where it can't be painted at that scale.
    pub fn paint(&self, px_per_mm: f64) -> Result<(u32, u32, Vec<u8>), Fault> {
        use hayro::vello_cpu::color::palette::css::WHITE;
        let (width, height) = sheet_scale::pixels(self.width, self.height, px_per_mm)?;
        let page = self.found().ok_or_else(Fault::too_much)?;
        let scale = (px_per_mm * self.mm_per_unit) as f32;
        let settings = hayro::PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
        let cache = hayro::RenderCache::new();
        let painted = hayro::render(
            page,
            &cache,
            &InterpreterSettings::default(),
            &hayro::RenderSettings::default(),
            &settings,
        );
        let (across, down) = (usize::from(painted.width()), usize::from(painted.height()));
        let pixels = painted.data_as_u8_slice();
        Ok((width, height, sheet_scale::fitted(pixels, across, down, width as usize, height as usize)))
    }
}

/// A length without the noise of single precision: paper is cut to tenths of a millimetre, and 1,190.55 points
/// are 420 mm.
fn tidied(mm: f64) -> f64 {
    (mm * 1e4).round() / 1e4
}

/// The pen of the interpreter.
struct Pen<'g> {
    gather: &'g mut Gather,
}

impl Pen<'_> {
    fn lightness_of(&self, paint: &Paint<'_>) -> Option<f32> {
        let opacity = self.gather.opacity();
        match paint {
            Paint::Color(colour) => {
                let [red, green, blue, alpha] = colour.to_rgba().components();
                lightness(red, green, blue, alpha * opacity)
            }
            Paint::Pattern(pattern) => {
                let own = match &**pattern {
                    Pattern::Shading(shading) => shading.opacity,
                    Pattern::Tiling(tiling) => tiling.opacity,
                };
                let tone = LIGHTNESS_OF_A_PATTERN;
                lightness(tone, tone, tone, own * opacity)
            }
        }
    }
}

impl<'a> Device<'a> for Pen<'_> {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, mode: &DrawMode) {
        if self.gather.is_too_much() {
            return;
        }
        let lightness = self.lightness_of(&props.paint);
        let placed = props.transform * path;
        if let DrawMode::Fill(rule) | DrawMode::FillAndStroke(rule, _) = mode {
            self.gather.fill(placed.clone(), *rule == FillRule::EvenOdd, lightness);
        }
        if let DrawMode::Stroke(pen) | DrawMode::FillAndStroke(_, pen) = mode {
            let width = f64::from(pen.line_width) * props.transform.determinant().abs().sqrt();
            let dashed = pen.dash_array.iter().any(|length| *length > 0.0);
            self.gather.stroke(placed, width, lightness, dashed);
        }
    }

    fn push_clip_path(&mut self, clip: &ClipPath) {
        self.gather.push_clip(clip.path.clone());
    }

    fn push_transparency_group(&mut self, opacity: f32, _: Option<SoftMask<'a>>, _: BlendMode) {
        self.gather.push_opacity(opacity);
    }

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, props: DrawProps<'a>, _: &DrawMode) {
        for letter in run.glyphs() {
            let (text, advance) = match &**letter {
                Glyph::Outline(outline) => (outline.as_unicode(), outline.advance_width()),
                Glyph::Type3(drawn) => (drawn.as_unicode(), drawn.advance_width()),
            };
            let text = match text {
                Some(hayro_cmap::BfString::Char(one)) => one.to_string(),
                Some(hayro_cmap::BfString::String(several)) => several,
                None => char::REPLACEMENT_CHARACTER.to_string(),
            };
            // Letters are in thousandths of an em.
            let page_from_em = props.transform * letter.transform() * Affine::scale(1000.0);
            let advance = advance.map_or(0.5, |advance| f64::from(advance) / 1000.0);
            self.gather.letter(&text, page_from_em, advance);
        }
    }

    fn draw_image(&mut self, image: Image<'a, '_>, props: ImageDrawProps<'a>) {
        self.gather.picture(f64::from(image.width()), f64::from(image.height()), props.transform);
    }

    fn pop_clip(&mut self) {
        self.gather.pop_clip();
    }

    fn pop_transparency_group(&mut self) {
        self.gather.pop_opacity();
    }
}
