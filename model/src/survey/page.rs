//! A page of a drawing as lines, filled areas and lettering.
//!
//! Coordinates are units of the drawing, x right and y down from the upper left corner of the page as it is
//! read: millimetres of paper where it came from a PDF or SVG (turned, cropped and scaled as the file asks),
//! pixels where it was made from a picture.

use kurbo::{BezPath, Point, Vec2};

/// A line drawn with a pen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stroke {
    /// Its course; may have several parts and curves.
    pub path: BezPath,
    /// Width of the pen, units of the page.
    pub width: f64,
    /// How dark it is: 0 black, 1 white (luma by ITU-R BT.709, as in [`super::Greyscale`], after blending on
    /// white paper).
    pub lightness: f32,
    /// Whether it is broken into dashes.
    pub dashed: bool,
    /// Its place in the order in which lines and areas are drawn: what is drawn later hides what is beneath it.
    /// Unique among the lines and areas of a page that was read; 0 where nobody cares.
    pub order: u32,
}

/// An area filled with one tone.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fill {
    /// Its outline; every part is taken as closed.
    pub path: BezPath,
    /// Whether parts within parts are holes by the even-odd rule; else the non-zero rule holds.
    pub even_odd: bool,
    /// How dark it is: 0 black, 1 white (luma by ITU-R BT.709, as in [`super::Greyscale`], after blending on
    /// white paper).
    pub lightness: f32,
    /// Its place in the order of drawing, as in [`Stroke::order`].
    pub order: u32,
}

/// A run of lettering on one line.
#[derive(Clone, Debug, PartialEq)]
pub struct Writing {
    /// The characters, as a reader would copy them.
    pub text: String,
    /// Where its baseline starts.
    pub at: Point,
    /// Along the baseline, of length 1; (1, 0) for lettering that runs to the right.
    pub direction: Vec2,
    /// From the start of the baseline to its end, units of the page.
    pub length: f64,
    /// Height of the letters (size of the font), units of the page.
    pub height: f64,
}

impl Writing {
    /// The middle of the run, halfway up its letters.
    pub fn centre(&self) -> Point {
        let up = Vec2::new(self.direction.y, -self.direction.x);
        self.at + self.direction * (self.length / 2.0) + up * (self.height * 0.35)
    }
}

/// What one page says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// Width of the page, units.
    pub width: f64,
    /// Height of the page, units.
    pub height: f64,
    /// Lines, in the order in which they are drawn.
    pub strokes: Vec<Stroke>,
    /// Areas, in the order in which they are drawn.
    pub fills: Vec<Fill>,
    /// Lettering.
    pub writings: Vec<Writing>,
}
