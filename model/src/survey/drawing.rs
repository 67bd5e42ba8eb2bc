//! A drawing as it was read, whatever it came as: how it lies, its lines, and what it proposes.

use kurbo::{Affine, Point};

use super::straighten::{Skew, placement_of_turned, skew_of_page, skew_of_picture, turned};
use super::vectorise::page_of_picture;
use super::{Greyscale, Page, Proposal, trace_page};
use crate::plan::Underlay;

/// How much of a trace goes into making lines of a picture.
const SHARE_OF_THE_PICTURE: f32 = 0.8;

/// A drawing as it was read: lines and lettering, pixels, or both where a page holds a scan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DrawingRead {
    /// Lines, areas and lettering of a page.
    pub page: Option<Page>,
    /// The pixels of a picture, or of the scan that fills a page.
    pub pixels: Option<Pixels>,
}

/// A picture in grey and where it lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Pixels {
    /// The picture.
    pub grey: Greyscale,
    /// Places a pixel in the units of the drawing: as it is for a picture, on the paper for a scan in a page.
    pub drawing_from_pixels: Affine,
}

impl Pixels {
    /// Units of the drawing to a pixel.
    fn unit(&self) -> f64 {
        self.drawing_from_pixels.determinant().abs().sqrt()
    }
}

impl From<Greyscale> for DrawingRead {
    /// A picture of which a pixel is a unit.
    fn from(grey: Greyscale) -> Self {
        Self { page: None, pixels: Some(Pixels { grey, drawing_from_pixels: Affine::IDENTITY }) }
    }
}

impl DrawingRead {
    /// How far the drawing lies askew; `None` where it shows too little to tell.
    pub fn skew(&self) -> Option<Skew> {
        match (&self.pixels, &self.page) {
            (Some(pixels), _) => skew_of_picture(&pixels.grey),
            (None, Some(page)) => skew_of_page(page),
            (None, None) => None,
        }
    }

    /// All its lines as one page in units of the drawing: its own, and those that can be made out in its pixels.
    /// `None` where `keep_going`, told the share done, says no.
    pub fn lines(&self, mm_per_unit: f64, keep_going: &dyn Fn(f32) -> bool) -> Option<Page> {
        let mut page = self.page.clone().unwrap_or_default();
        let Some(pixels) = self.pixels.as_ref() else { return Some(page) };
        let seen = page_of_picture(&pixels.grey, mm_per_unit * pixels.unit(), keep_going)?;
        let corner = pixels.drawing_from_pixels * Point::new(seen.width, seen.height);
        (page.width, page.height) = (page.width.max(corner.x), page.height.max(corner.y));
        for mut stroke in seen.strokes {
            stroke.path.apply_affine(pixels.drawing_from_pixels);
            stroke.width *= pixels.unit();
            page.strokes.push(stroke);
        }
        for mut fill in seen.fills {
            fill.path.apply_affine(pixels.drawing_from_pixels);
            page.fills.push(fill);
        }
        Some(page)
    }

    /// Traces the drawing as it lies under its level, in plan millimetres. A picture that was turned is turned first:
    /// walls along rows and columns are found most surely. `None` where `keep_going`, told the share done, says no.
    pub fn traced(&self, underlay: &Underlay, keep_going: &dyn Fn(f32) -> bool) -> Option<Proposal> {
        let plan_from_drawing = underlay.plan_from_drawing();
        let Some(pixels) = &self.pixels else {
            return match &self.page {
                Some(page) => trace_page(page, plan_from_drawing, keep_going),
                None => Some(Proposal::default()),
            };
        };
        let plan_from_pixels = plan_from_drawing * pixels.drawing_from_pixels;
        let mm_per_px = underlay.mm_per_unit * pixels.unit();
        let seeing = |share: f32| keep_going(share * SHARE_OF_THE_PICTURE);
        let tracing = |share: f32| keep_going(SHARE_OF_THE_PICTURE + share * (1.0 - SHARE_OF_THE_PICTURE));
        if underlay.turn.as_radians() == 0.0 {
            let page = page_of_picture(&pixels.grey, mm_per_px, &seeing)?;
            return trace_page(&page, plan_from_pixels, &tracing);
        }
        let level = turned(&pixels.grey, underlay.turn);
        let page = page_of_picture(&level, mm_per_px, &seeing)?;
        let (width, height) = (pixels.grey.width(), pixels.grey.height());
        let (_, _, level_from_pixels) = placement_of_turned(width, height, underlay.turn);
        trace_page(&page, plan_from_pixels * level_from_pixels.inverse(), &tracing)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::Id;
    use crate::units::Angle;

    /// A room of 6 m by 4 m with walls of 300 mm, drawn at 10 mm a pixel, askew by so many degrees.
    fn askew(degrees: f64) -> Greyscale {
        let (width, height) = (800_usize, 600_usize);
        let upright = Affine::rotate_about(degrees.to_radians(), Point::new(400.0, 300.0));
        let luma = (0..width * height)
            .map(|index| {
                let seen = Point::new((index % width) as f64 + 0.5, (index / width) as f64 + 0.5);
                let at = upright * seen;
                let within = |x: f64, y: f64| (at.x - 400.0).abs() < x && (at.y - 300.0).abs() < y;
                if within(330.0, 230.0) && !within(300.0, 200.0) { 20 } else { 240 }
            })
            .collect();
        Greyscale::new(width, height, luma).unwrap()
    }

    #[test]
    fn a_picture_that_lies_askew_gives_level_walls_once_it_is_turned() {
        for degrees in [0.0, 3.0, -5.5] {
            let read = DrawingRead::from(askew(degrees));
            let turn = read.skew().unwrap().levelling();
            assert!((turn.as_degrees() + degrees).abs() < 0.1, "{degrees}: {turn:?}");
            let underlay = Underlay {
                level: Id::from_number(1),
                name: "scan.png".to_owned(),
                media: String::new(),
                page: 1,
                width: 800.0,
                height: 600.0,
                mm_per_unit: 10.0,
                scale_from: None,
                second_length: None,
                position: Point::new(500.0, -200.0),
                turn: if degrees == 0.0 { Angle::ZERO } else { turn },
                opacity: 1.0,
                on_sheets: false,
            };
            let proposal = read.traced(&underlay, &|_| true).unwrap();
            assert_eq!(proposal.walls.len(), 4, "{degrees}");
            let middle = underlay.middle();
            for wall in &proposal.walls {
                let along = wall.end - wall.start;
                assert!(along.x.abs().min(along.y.abs()) < 20.0, "{degrees}: {wall:?}");
                assert!((wall.thickness.as_mm() - 300.0).abs() < 15.0, "{degrees}: {wall:?}");
                let off = wall.start.midpoint(wall.end) - middle;
                let expected = if along.x.abs() > along.y.abs() { 2150.0 } else { 3150.0 };
                assert!((off.hypot() - expected).abs() < 15.0, "{degrees}: {wall:?}");
            }
            assert_eq!(read.traced(&underlay, &|_| false), None);
        }
    }

    #[test]
    fn lines_of_a_scan_lie_on_the_paper_it_fills() {
        let pixels = Pixels { grey: askew(0.0), drawing_from_pixels: Affine::scale(0.2) };
        let read = DrawingRead { page: Some(Page::default()), pixels: Some(pixels) };
        let page = read.lines(50.0, &|_| true).unwrap();
        assert_eq!((page.width, page.height), (160.0, 120.0));
        let reach = page.fills.iter().map(|fill| fill.path.control_box().x1).fold(0.0, f64::max);
        assert!((reach - 146.0).abs() < 0.5, "{reach}");
    }
}
