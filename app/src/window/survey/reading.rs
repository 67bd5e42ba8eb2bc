//! A file that someone wants beneath a level: read whole, with a picture of it to look at before anything is laid.

use std::path::Path;
use std::sync::Arc;

use egui::ColorImage;
use pattress_model::survey::Greyscale;
use pattress_model::survey::ifc::{Building, read_ifc};
use pattress_model::survey::scale::{StatedScale, stated_scales};
use pattress_model::survey::straighten::{Skew, skew_of_page, skew_of_picture};

use super::work::KeepGoing;
use crate::files;
use crate::survey::{self, Asked, PageRead, PictureRead, Read, ReadError};

/// The longer side of the picture to look at, pixels.
const PREVIEW_PX: f64 = 1100.0;

/// A skew smaller than this is how drawings lie, degrees; it is not worth a word.
const LEAST_SKEW_DEGREES: f64 = 0.05;

/// A skew that is less sure than this is not spoken of.
const LEAST_CONFIDENCE: f64 = 0.3;

/// A file that was read.
#[derive(Clone)]
pub struct Brought {
    /// The name of the file.
    pub name: String,
    /// What it holds.
    pub what: What,
}

/// What a file holds.
#[derive(Clone)]
pub enum What {
    /// A page of a PDF or an SVG.
    Page(BroughtPage),
    /// A picture.
    Picture(BroughtPicture),
    /// A model of a building.
    Building(Arc<Building>),
}

/// A drawing to keep among the media.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToKeep {
    /// Its bytes.
    pub bytes: Arc<[u8]>,
    /// `png`, `jpg`, `pdf` or `svg`.
    pub ending: &'static str,
    /// Which page of it, from 1.
    pub page: u32,
}

/// A page that can be laid under a level.
#[derive(Clone)]
pub struct BroughtPage {
    /// What to keep.
    pub keep: ToKeep,
    /// The page as the file counts it, from 1.
    pub page: u32,
    /// How many pages the file has.
    pub pages: u32,
    /// Width and height, mm of paper.
    pub size_mm: (f64, f64),
    /// The scales that it states.
    pub scales: Vec<StatedScale>,
    /// How far it lies askew.
    pub skew: Option<Skew>,
    /// Whether it is a scan rather than lines.
    pub is_scan: bool,
    /// Whether it was locked: it is kept without its password.
    pub was_locked: bool,
    /// A picture of it to look at.
    pub preview: Arc<ColorImage>,
}

/// A picture that can be laid under a level.
#[derive(Clone)]
pub struct BroughtPicture {
    /// What to keep.
    pub keep: ToKeep,
    /// Width and height, pixels.
    pub size_px: (u32, u32),
    /// Pixels to an inch of the paper that was scanned, where the file states them.
    pub px_per_inch: Option<f64>,
    /// How many times smaller than its own size it came in; 1 for as it is.
    pub times_smaller: u32,
    /// How far it lies askew.
    pub skew: Option<Skew>,
    /// A smaller picture of it to look at.
    pub preview: Arc<ColorImage>,
}

/// Why nothing was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Failure {
    /// A password is asked for.
    Locked,
    /// A sentence.
    Refused(String),
    /// Someone stopped it.
    Stopped,
}

impl From<ReadError> for Failure {
    fn from(error: ReadError) -> Self {
        match error {
            ReadError::PasswordNeeded { .. } => Self::Locked,
            ReadError::Stopped { .. } => Self::Stopped,
            other => Self::Refused(other.to_string()),
        }
    }
}

/// Reads the bytes of a file.
///
/// # Errors
/// A sentence.
pub fn bytes_of(path: &Path) -> Result<Arc<[u8]>, Failure> {
    files::read_drawing(path).map(Arc::from).map_err(|error| Failure::Refused(error.to_string()))
}

/// From this share on a page that was read is painted.
const READ: f32 = 0.7;

/// What reading a file is at, by the share that is done.
pub const STEPS: [(f32, &str); 2] = [(0.0, "looking for what it shows"), (READ, "painting it to look at")];

/// Reads a page of a file and makes a picture of it to look at.
///
/// # Errors
/// Why nothing was read.
pub fn read(
    name: &str,
    bytes: &Arc<[u8]>,
    asked: &Asked,
    keep_going: KeepGoing<'_>,
) -> Result<Brought, Failure> {
    let what = match survey::read(name, bytes.to_vec(), asked, &|share| keep_going(share * READ))? {
        Read::Page(page) => What::Page(brought_page(name, bytes, asked, page, keep_going)?),
        Read::Picture(picture) => What::Picture(brought_picture(picture)),
        Read::Building => {
            let building = read_ifc(bytes, &|share| keep_going(share * READ))
                .map_err(|error| Failure::Refused(format!("“{name}” can’t be read: {error}")))?;
            What::Building(Arc::new(building))
        }
    };
    if !keep_going(1.0) {
        return Err(Failure::Stopped);
    }
    Ok(Brought { name: name.to_owned(), what })
}

fn brought_page(
    name: &str,
    bytes: &Arc<[u8]>,
    asked: &Asked,
    read: PageRead,
    keep_going: KeepGoing<'_>,
) -> Result<BroughtPage, Failure> {
    let size_mm = (read.page.width, read.page.height);
    let skew = match &read.scan {
        Some(scan) => skew_of_picture(&scan.grey),
        None => skew_of_page(&read.page),
    };
    let px_per_mm = PREVIEW_PX / size_mm.0.max(size_mm.1).max(1.0);
    let painted =
        survey::render_page(name, bytes, asked, px_per_mm, &|share| keep_going(READ + (1.0 - READ) * share))?;
    let was_locked = asked.password.is_some();
    let keep = kept_page(name, bytes, asked, read.sort, size_mm)?;
    Ok(BroughtPage {
        keep,
        page: asked.page,
        pages: read.pages,
        size_mm,
        scales: stated_scales(&read.page),
        skew: skew.filter(is_worth_a_word),
        is_scan: read.scan.is_some(),
        was_locked,
        preview: Arc::new(image_of(painted)),
    })
}

/// What is kept of a page: the file as it is, or the one page without its lock.
fn kept_page(
    name: &str,
    bytes: &Arc<[u8]>,
    asked: &Asked,
    sort: survey::Sort,
    size_mm: (f64, f64),
) -> Result<ToKeep, Failure> {
    let whole = |ending| ToKeep { bytes: Arc::clone(bytes), ending, page: asked.page };
    match (sort, &asked.password) {
        (survey::Sort::Svg, _) => Ok(whole("svg")),
        (_, None) => Ok(whole("pdf")),
        (_, Some(password)) => {
            let unlocked =
                crate::print::unlocked_page(bytes, password, asked.page, size_mm).map_err(|reason| {
                    Failure::Refused(format!("“{name}” can’t be laid under the plan: {reason}"))
                })?;
            Ok(ToKeep { bytes: unlocked.into(), ending: "pdf", page: 1 })
        }
    }
}

fn brought_picture(read: PictureRead) -> BroughtPicture {
    let PictureRead { picture, grey, px_per_inch, times_smaller } = read;
    BroughtPicture {
        size_px: (picture.width_px, picture.height_px),
        keep: ToKeep { bytes: picture.bytes.into(), ending: picture.ending, page: 1 },
        px_per_inch,
        times_smaller,
        skew: skew_of_picture(&grey).filter(is_worth_a_word),
        preview: Arc::new(smaller(&grey)),
    }
}

fn is_worth_a_word(skew: &Skew) -> bool {
    skew.angle.as_degrees().abs() >= LEAST_SKEW_DEGREES && skew.confidence >= LEAST_CONFIDENCE
}

/// A painted page as a texture takes it.
pub fn image_of(painted: survey::PagePicture) -> ColorImage {
    let size = [painted.width as usize, painted.height as usize];
    ColorImage::from_rgba_unmultiplied(size, &painted.rgba)
}

/// A picture small enough to look at: each pixel the mean of those it stands for.
fn smaller(grey: &Greyscale) -> ColorImage {
    let longer = grey.width().max(grey.height()) as f64;
    let by = ((longer / PREVIEW_PX).ceil() as usize).max(1);
    let (width, height) = (grey.width().div_ceil(by), grey.height().div_ceil(by));
    let mut means = Vec::with_capacity(width * height);
    for y in 0..height {
        let rows: Vec<&[u8]> = (y * by..((y + 1) * by).min(grey.height())).map(|row| grey.row(row)).collect();
        for x in 0..width {
            let columns = x * by..((x + 1) * by).min(grey.width());
            let sum: usize = rows
                .iter()
                .map(|row| row[columns.clone()].iter().map(|luma| usize::from(*luma)).sum::<usize>())
                .sum();
            means.push((sum / (rows.len() * columns.len()).max(1)) as u8);
        }
    }
    let rgba: Vec<u8> = means.iter().flat_map(|luma| [*luma, *luma, *luma, u8::MAX]).collect();
    ColorImage::from_rgba_unmultiplied([width, height], &rgba)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_large_picture_is_made_smaller_by_means() {
        let (width, height) = (2500, 1300);
        let luma = (0..width * height).map(|at| if (at % width) % 2 == 0 { 0 } else { 200 }).collect();
        let small = smaller(&Greyscale::new(width, height, luma).unwrap());
        assert_eq!(small.size, [834, 434]);
        let middle = small.pixels[834 * 200 + 400].r();
        assert!((60..=140).contains(&middle), "{middle}");
        let tiny = smaller(&Greyscale::new(2, 1, vec![10, 20]).unwrap());
        assert_eq!((tiny.size, tiny.pixels[1].r()), ([2, 1], 20));
    }
}
