//! Survey: from the bytes of a drawing to what it says.
//!
//! A file is told by its content: a page of PDF or SVG is read as lines, areas and lettering in millimetres of
//! paper, a picture as shades of grey. Whatever the bytes are, the answer is one of these, a demand for a
//! password, or one sentence that says what is wrong and what to do; nothing here touches a disk.

pub mod apart;
mod cut;
mod errand;
mod gather;
mod lettering;
mod parcel;
mod pdf;
mod picture;
mod sheet_scale;
mod sort;
mod squaring;
mod svg;
mod svg_options;

use kurbo::Affine;
use pattress_model::survey::{DrawingRead, Greyscale, Page, Pixels};

use std::path::Path;

use errand::Errand;
use gather::Scan;
use parcel::Answer;
pub use picture::{PictureFile, PictureRead};
pub use sort::{Sort, sort_of};
pub use squaring::{Corners, Squared, square_up, square_up_page};
pub use svg_options::svg_options;

/// Told how much is done, 0 to 1; answers whether to go on.
pub type KeepGoing<'a> = &'a (dyn Fn(f32) -> bool + Sync);

/// What is asked of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// Which page, from 1.
    pub page: u32,
    /// What opens it, where it is locked.
    pub password: Option<String>,
}

impl Default for Asked {
    fn default() -> Self {
        Self { page: 1, password: None }
    }
}

/// What a file says.
#[derive(Clone, Debug, PartialEq)]
pub enum Read {
    /// A page with lines, areas and lettering, or with a scan.
    Page(PageRead),
    /// A picture.
    Picture(PictureRead),
    /// A model of a building, which [`pattress_model::survey`] reads.
    Building,
}

/// A page of a PDF, or an SVG.
#[derive(Clone, Debug, PartialEq)]
pub struct PageRead {
    /// What it draws, in millimetres of paper.
    pub page: Page,
    /// How many pages the file has.
    pub pages: u32,
    /// [`Sort::Pdf`] or [`Sort::Svg`].
    pub sort: Sort,
    /// Where it is a picture with next to no lines.
    pub scan: Option<ScannedPage>,
}

/// The picture that a page is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct ScannedPage {
    /// The whole page in shades of grey, as fine as its picture.
    pub grey: Greyscale,
    /// Millimetres of paper to a pixel.
    pub mm_per_px: f64,
}

impl From<PageRead> for DrawingRead {
    fn from(read: PageRead) -> Self {
        let placed = |scan: ScannedPage| Pixels {
            grey: scan.grey,
            drawing_from_pixels: Affine::scale(scan.mm_per_px),
        };
        Self { page: Some(read.page), pixels: read.scan.map(placed) }
    }
}

/// A page as pixels of red, green, blue and opacity, row by row from the top, on white.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PagePicture {
    /// Pixels in a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// Four bytes a pixel.
    pub rgba: Vec<u8>,
}

/// Why a file can't be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadError {
    /// It is locked, and the password is missing or wrong.
    #[error("“{file}” is locked with a password: type it to go on")]
    PasswordNeeded {
        /// The file.
        file: String,
    },
    /// Something is wrong with it.
    #[error("“{file}” can't be laid under the plan: {what}")]
    Refused {
        /// The file.
        file: String,
        /// What is wrong with it and what to do.
        what: String,
    },
    /// It was not to go on.
    #[error("“{file}” was not read to its end: bring it in again")]
    Stopped {
        /// The file.
        file: String,
    },
}

/// Why bytes can't be read, before anyone knows the file's name.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Fault {
    PasswordNeeded,
    /// What is wrong and what to do: the second half of a sentence.
    Because(String),
    Stopped,
}

impl Fault {
    fn because(what: &str) -> Self {
        Self::Because(what.to_owned())
    }

    fn too_much() -> Self {
        Self::because(
            "it holds more than a drawing of a house should, so ask for it without what is not needed",
        )
    }

    fn of(self, file: &str) -> ReadError {
        let file = file.to_owned();
        match self {
            Self::PasswordNeeded => ReadError::PasswordNeeded { file },
            Self::Because(what) => ReadError::Refused { file, what },
            Self::Stopped => ReadError::Stopped { file },
        }
    }
}

/// What a page draws, and the pictures on it.
struct Drawn {
    page: Page,
    scans: Vec<Scan>,
}

/// Reads a file. `name` is for sentences only. Pages are read apart, by this program run as a child.
///
/// # Errors
/// [`ReadError`]: a password is needed, or one sentence.
pub fn read(name: &str, bytes: Vec<u8>, asked: &Asked, keep_going: KeepGoing<'_>) -> Result<Read, ReadError> {
    read_by(apart::own_program().as_deref(), name, bytes, asked, keep_going)
}

/// Reads a file as [`read`] does, with pages read by the program that is given, or by a thread of this one.
///
/// # Errors
/// [`ReadError`]: a password is needed, or one sentence.
pub fn read_by(
    program: Option<&Path>,
    name: &str,
    bytes: Vec<u8>,
    asked: &Asked,
    keep_going: KeepGoing<'_>,
) -> Result<Read, ReadError> {
    let read = match sort_of(&bytes) {
        Err(what) => Err(Fault::because(what)),
        Ok(Sort::Ifc) => Ok(Read::Building),
        Ok(Sort::Pdf | Sort::Svg) => match apart::send(program, &Errand::Read, &bytes, asked, keep_going) {
            Answer::Page(read) => Ok(Read::Page(read)),
            Answer::Fault(fault) => Err(fault),
            Answer::Painted(_) => Err(Fault::because("its reader misunderstood, so bring it in again")),
        },
        Ok(sort) => read_picture(sort, bytes, keep_going).map(Read::Picture),
    };
    read.map_err(|fault| fault.of(name))
}

/// Reads a picture; a fault of its decoder is an answer like any other.
fn read_picture(sort: Sort, bytes: Vec<u8>, keep_going: KeepGoing<'_>) -> Result<PictureRead, Fault> {
    let reading = std::panic::AssertUnwindSafe(|| picture::read(sort, bytes, keep_going));
    std::panic::catch_unwind(reading).unwrap_or_else(|_| {
        Err(Fault::because("its content is broken in a way that stops its reader, so save it anew as PNG"))
    })
}

/// Paints a page of a PDF, or an SVG, for the board, for a choice of pages, or for paper. Done apart, as reading.
///
/// # Errors
/// [`ReadError`]: a password is needed, or one sentence; also where the picture would be larger than can be
/// painted.
pub fn render_page(
    name: &str,
    bytes: &[u8],
    asked: &Asked,
    px_per_mm: f64,
    keep_going: KeepGoing<'_>,
) -> Result<PagePicture, ReadError> {
    let painted = match sort_of(bytes) {
        Err(what) => Err(Fault::because(what)),
        Ok(Sort::Pdf | Sort::Svg) => {
            let program = apart::own_program();
            match apart::send(program.as_deref(), &Errand::Paint { px_per_mm }, bytes, asked, keep_going) {
                Answer::Painted(picture) => Ok(picture),
                Answer::Fault(fault) => Err(fault),
                Answer::Page(_) => Err(Fault::because("its reader misunderstood, so bring it in again")),
            }
        }
        Ok(sort) => {
            Err(Fault::Because(format!("it is {} and has no pages, so lay it as it is", sort.in_words())))
        }
    };
    painted.map_err(|fault| fault.of(name))
}

/// The finest scale at which [`render_page`] can paint a page of that size, mm, but none finer than wanted.
pub fn finest_px_per_mm(width_mm: f64, height_mm: f64, wanted: f64) -> f64 {
    sheet_scale::finest(width_mm, height_mm, wanted)
}

/// Paints a page in this process.
fn open_and_paint(
    sort: Sort,
    bytes: &[u8],
    asked: &Asked,
    px_per_mm: f64,
) -> Result<(u32, u32, Vec<u8>), Fault> {
    match sort {
        Sort::Svg => svg::OpenSvg::open(bytes)?.paint(px_per_mm),
        _ => pdf::OpenPdf::open(bytes, asked)?.paint(px_per_mm),
    }
}

/// A page with fewer lines and areas than this beside a picture that covers much of it is a scan: stamps, frames
/// and a letterhead may be drawn over one. Our own choice.
const LINES_BESIDE_A_SCAN: usize = 40;

/// A picture that covers less of the page than this is an ornament. Our own choice.
const SHARE_OF_A_SCAN: f64 = 0.2;

/// Reads a page in this process.
fn open_and_read(sort: Sort, bytes: &[u8], asked: &Asked) -> Result<PageRead, Fault> {
    match sort {
        Sort::Pdf => {
            let open = pdf::OpenPdf::open(bytes, asked)?;
            let drawn = open.read()?;
            with_scan(sort, drawn, open.pages, |px_per_mm| open.paint(px_per_mm))
        }
        _ => {
            if asked.page > 1 {
                return Err(Fault::because("it has one page, so choose page 1"));
            }
            let open = svg::OpenSvg::open(bytes)?;
            with_scan(sort, open.read()?, 1, |px_per_mm| open.paint(px_per_mm))
        }
    }
}

/// Adds the picture of the page where it is a scan, at the resolution of the finest picture that counts.
fn with_scan(
    sort: Sort,
    drawn: Drawn,
    pages: u32,
    paint: impl Fn(f64) -> Result<(u32, u32, Vec<u8>), Fault>,
) -> Result<PageRead, Fault> {
    let Drawn { page, scans } = drawn;
    let paper = page.width * page.height;
    let covered: f64 = scans.iter().map(|scan| scan.bounds.area()).sum();
    let is_scan =
        page.strokes.len() + page.fills.len() < LINES_BESIDE_A_SCAN && covered > SHARE_OF_A_SCAN * paper;
    if !is_scan {
        return Ok(PageRead { page, pages, sort, scan: None });
    }
    let counts = |scan: &&Scan| scan.bounds.area() > covered / 100.0;
    let own = scans.iter().filter(counts).map(|scan| scan.px_per_mm).fold(0.0, f64::max);
    let px_per_mm = sheet_scale::finest(page.width, page.height, own);
    let (width, height, rgba) = paint(px_per_mm)?;
    let luma = rgba.chunks_exact(4).map(|pixel| picture::luma(pixel[0], pixel[1], pixel[2])).collect();
    let scan = Greyscale::new(width as usize, height as usize, luma)
        .map(|grey| ScannedPage { grey, mm_per_px: 1.0 / px_per_mm });
    Ok(PageRead { page, pages, sort, scan })
}
