//! Sheets onto paper: PDF for issue, SVG and PNG of the same sheets.
//!
//! A sheet is first turned into [`marks`]: areas, lines, letters and pictures in paper millimetres,
//! in the order in which they are drawn. Each printer then only writes those marks in its own format, so that
//! all three show the same. No printer reads a clock, a file or the fonts of the machine.

mod base64;
pub mod csv;
pub mod marks;
mod page_picture;
mod pdf;
mod png;
mod svg;
pub mod xlsx;

pub use pdf::{PdfInfo, pdf, unlocked_page};
pub use png::{png, png_of_svg};
pub use svg::svg;

/// Why a sheet could not be printed.
#[derive(Debug, thiserror::Error)]
pub enum PrintError {
    /// A picture is named on the sheet but is not among the plan's media, or cannot be read.
    #[error("the drawing {name} on sheet {sheet} cannot be printed: {reason}; bring it in again")]
    Picture {
        /// Number of the sheet.
        sheet: String,
        /// Name among the media.
        name: String,
        /// What is wrong with it.
        reason: String,
    },
    /// The PDF did not pass the checks of PDF/A-2b.
    #[error("the sheets cannot be written as PDF/A-2b: {0}")]
    Pdf(String),
    /// The picture of a sheet would be too large or could not be drawn.
    #[error("sheet {sheet} cannot be drawn as a picture: {reason}")]
    Raster {
        /// Number of the sheet.
        sheet: String,
        /// What is wrong.
        reason: String,
    },
    /// A schedule does not fit into a workbook.
    #[error("the schedule {table} cannot be written as a workbook: {reason}")]
    Table {
        /// Name of the table; `all` where it is the workbook as a whole.
        table: String,
        /// What is wrong.
        reason: String,
    },
}
