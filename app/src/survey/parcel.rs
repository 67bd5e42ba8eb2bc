//! How what is read apart is handed from one program to the other: a private form that both ends of one build
//! know, and nobody else. Numbers are little-endian; lengths stand before what they count.

use kurbo::{BezPath, PathEl, Point, Vec2};
use pattress_model::survey::{Fill, Greyscale, Page, Stroke, Writing};

use super::errand::Errand;
use super::{Asked, Fault, PagePicture, PageRead, ScannedPage, Sort};

/// What comes back.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Answer {
    /// A page was read.
    Page(PageRead),
    /// A page was painted.
    Painted(PagePicture),
    /// Neither.
    Fault(Fault),
}

/// Packs an errand; the bytes of the drawing follow it to the end.
pub(super) fn pack_errand(errand: &Errand, asked: &Asked) -> Vec<u8> {
    let mut parcel = Packer::default();
    match errand {
        Errand::Read => parcel.byte(0),
        Errand::Paint { px_per_mm } => {
            parcel.byte(1);
            parcel.number(*px_per_mm);
        }
    }
    parcel.count(asked.page as usize);
    match &asked.password {
        None => parcel.byte(0),
        Some(password) => {
            parcel.byte(1);
            parcel.text(password);
        }
    }
    parcel.0
}

/// Unpacks an errand and the bytes of the drawing. `None` where it is none.
pub(super) fn unpack_errand(bytes: &[u8]) -> Option<(Errand, Asked, &[u8])> {
    let mut parcel = Unpacker(bytes);
    let errand = match parcel.byte()? {
        0 => Errand::Read,
        1 => Errand::Paint { px_per_mm: parcel.number()? },
        _ => return None,
    };
    let page = u32::try_from(parcel.count()?).ok()?;
    let password = match parcel.byte()? {
        0 => None,
        _ => Some(parcel.text()?),
    };
    Some((errand, Asked { page, password }, parcel.0))
}

/// Packs an answer.
pub(super) fn pack_answer(answer: &Answer) -> Vec<u8> {
    let mut parcel = Packer::default();
    match answer {
        Answer::Page(read) => {
            parcel.byte(0);
            parcel.page_read(read);
        }
        Answer::Painted(picture) => {
            parcel.byte(1);
            parcel.count(picture.width as usize);
            parcel.count(picture.height as usize);
            parcel.bytes(&picture.rgba);
        }
        Answer::Fault(Fault::PasswordNeeded) => parcel.byte(2),
        Answer::Fault(Fault::Stopped) => parcel.byte(3),
        Answer::Fault(Fault::Because(what)) => {
            parcel.byte(4);
            parcel.text(what);
        }
    }
    // Says that nothing is missing.
    parcel.byte(END);
    parcel.0
}

const END: u8 = 0xE5;

/// Unpacks an answer. `None` where part of it is missing.
pub(super) fn unpack_answer(bytes: &[u8]) -> Option<Answer> {
    let mut parcel = Unpacker(bytes);
    let answer = match parcel.byte()? {
        0 => Answer::Page(parcel.page_read()?),
        1 => {
            let (width, height) =
                (u32::try_from(parcel.count()?).ok()?, u32::try_from(parcel.count()?).ok()?);
            Answer::Painted(PagePicture { width, height, rgba: parcel.bytes()?.to_vec() })
        }
        2 => Answer::Fault(Fault::PasswordNeeded),
        3 => Answer::Fault(Fault::Stopped),
        4 => Answer::Fault(Fault::Because(parcel.text()?)),
        _ => return None,
    };
    (parcel.byte()? == END).then_some(answer)
}

#[derive(Default)]
struct Packer(Vec<u8>);

impl Packer {
    fn byte(&mut self, value: u8) {
        self.0.push(value);
    }

    fn number(&mut self, value: f64) {
        self.0.extend(value.to_le_bytes());
    }

    fn count(&mut self, value: usize) {
        self.0.extend((value as u64).to_le_bytes());
    }

    fn bytes(&mut self, value: &[u8]) {
        self.count(value.len());
        self.0.extend_from_slice(value);
    }

    fn text(&mut self, value: &str) {
        self.bytes(value.as_bytes());
    }

    fn point(&mut self, at: Point) {
        self.number(at.x);
        self.number(at.y);
    }

    fn path(&mut self, path: &BezPath) {
        self.count(path.elements().len());
        for element in path.elements() {
            let (tag, points): (u8, &[Point]) = match element {
                PathEl::MoveTo(at) => (0, &[*at]),
                PathEl::LineTo(at) => (1, &[*at]),
                PathEl::QuadTo(by, at) => (2, &[*by, *at]),
                PathEl::CurveTo(by, then, at) => (3, &[*by, *then, *at]),
                PathEl::ClosePath => (4, &[]),
            };
            self.byte(tag);
            points.iter().for_each(|point| self.point(*point));
        }
    }

    fn page_read(&mut self, read: &PageRead) {
        let page = &read.page;
        self.byte(u8::from(read.sort == Sort::Svg));
        self.count(read.pages as usize);
        self.number(page.width);
        self.number(page.height);
        self.count(page.strokes.len());
        for stroke in &page.strokes {
            self.path(&stroke.path);
            self.number(stroke.width);
            self.number(stroke.lightness.into());
            self.byte(stroke.dashed.into());
            self.count(stroke.order as usize);
        }
        self.count(page.fills.len());
        for fill in &page.fills {
            self.path(&fill.path);
            self.byte(fill.even_odd.into());
            self.number(fill.lightness.into());
            self.count(fill.order as usize);
        }
        self.count(page.writings.len());
        for writing in &page.writings {
            self.text(&writing.text);
            self.point(writing.at);
            self.point(writing.direction.to_point());
            self.number(writing.length);
            self.number(writing.height);
        }
        match &read.scan {
            None => self.byte(0),
            Some(scan) => {
                self.byte(1);
                self.number(scan.mm_per_px);
                self.count(scan.grey.width());
                self.count(scan.grey.height());
                self.bytes(scan.grey.luma());
            }
        }
    }
}

/// What is not yet unpacked.
struct Unpacker<'a>(&'a [u8]);

impl<'a> Unpacker<'a> {
    fn some<const N: usize>(&mut self) -> Option<[u8; N]> {
        let (some, rest) = self.0.split_first_chunk()?;
        self.0 = rest;
        Some(*some)
    }

    fn byte(&mut self) -> Option<u8> {
        self.some().map(|[byte]| byte)
    }

    fn number(&mut self) -> Option<f64> {
        self.some().map(f64::from_le_bytes)
    }

    fn count(&mut self) -> Option<usize> {
        self.some().and_then(|bytes| usize::try_from(u64::from_le_bytes(bytes)).ok())
    }

    fn bytes(&mut self) -> Option<&'a [u8]> {
        let length = self.count()?;
        let (bytes, rest) = self.0.split_at_checked(length)?;
        self.0 = rest;
        Some(bytes)
    }

    fn text(&mut self) -> Option<String> {
        String::from_utf8(self.bytes()?.to_vec()).ok()
    }

    fn point(&mut self) -> Option<Point> {
        Some(Point::new(self.number()?, self.number()?))
    }

    /// So many of a thing. No room is made by what is only claimed: each takes at least a byte.
    fn list<T>(&mut self, mut one: impl FnMut(&mut Self) -> Option<T>) -> Option<Vec<T>> {
        let count = self.count()?;
        (count <= self.0.len()).then_some(())?;
        (0..count).map(|_| one(self)).collect()
    }

    fn path(&mut self) -> Option<BezPath> {
        let elements = self.list(|parcel| {
            Some(match parcel.byte()? {
                0 => PathEl::MoveTo(parcel.point()?),
                1 => PathEl::LineTo(parcel.point()?),
                2 => PathEl::QuadTo(parcel.point()?, parcel.point()?),
                3 => PathEl::CurveTo(parcel.point()?, parcel.point()?, parcel.point()?),
                4 => PathEl::ClosePath,
                _ => return None,
            })
        })?;
        // A path that doesn't begin with a move would not be one.
        elements
            .first()
            .is_none_or(|first| matches!(first, PathEl::MoveTo(_)))
            .then(|| BezPath::from_vec(elements))
    }

    fn order(&mut self) -> Option<u32> {
        u32::try_from(self.count()?).ok()
    }

    fn page_read(&mut self) -> Option<PageRead> {
        let sort = if self.byte()? == 0 { Sort::Pdf } else { Sort::Svg };
        let pages = u32::try_from(self.count()?).ok()?;
        let (width, height) = (self.number()?, self.number()?);
        let strokes = self.list(|parcel| {
            Some(Stroke {
                path: parcel.path()?,
                width: parcel.number()?,
                lightness: parcel.number()? as f32,
                dashed: parcel.byte()? != 0,
                order: parcel.order()?,
            })
        })?;
        let fills = self.list(|parcel| {
            Some(Fill {
                path: parcel.path()?,
                even_odd: parcel.byte()? != 0,
                lightness: parcel.number()? as f32,
                order: parcel.order()?,
            })
        })?;
        let writings = self.list(|parcel| {
            Some(Writing {
                text: parcel.text()?,
                at: parcel.point()?,
                direction: parcel.point().map(|point| Vec2::new(point.x, point.y))?,
                length: parcel.number()?,
                height: parcel.number()?,
            })
        })?;
        let scan = match self.byte()? {
            0 => None,
            _ => {
                let mm_per_px = self.number()?;
                let (width, height) = (self.count()?, self.count()?);
                Some(ScannedPage { grey: Greyscale::new(width, height, self.bytes()?.to_vec())?, mm_per_px })
            }
        };
        Some(PageRead { page: Page { width, height, strokes, fills, writings }, pages, sort, scan })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answers() -> Vec<Answer> {
        let mut path = BezPath::new();
        path.move_to((1.0, 2.0));
        path.line_to((3.5, -4.0));
        path.quad_to((1.0, 1.0), (2.0, 2.0));
        path.curve_to((1.0, 1.0), (2.0, 2.0), (3.0, 3.0));
        path.close_path();
        let page = Page {
            width: 420.0,
            height: 297.0,
            strokes: vec![Stroke {
                path: path.clone(),
                width: 0.18,
                lightness: 0.25,
                dashed: true,
                order: 7,
            }],
            fills: vec![Fill { path, even_odd: true, lightness: 1.0, order: 8 }],
            writings: vec![Writing {
                text: "Küche 12.5 m²".to_owned(),
                at: Point::new(1.0, 2.0),
                direction: Vec2::new(0.0, -1.0),
                length: 20.0,
                height: 2.5,
            }],
        };
        let grey = Greyscale::new(2, 1, vec![3, 4]).unwrap();
        let scan = Some(ScannedPage { grey, mm_per_px: 0.1 });
        vec![
            Answer::Page(PageRead { page, pages: 3, sort: Sort::Svg, scan }),
            Answer::Painted(PagePicture { width: 1, height: 2, rgba: vec![9; 8] }),
            Answer::Fault(Fault::PasswordNeeded),
            Answer::Fault(Fault::Stopped),
            Answer::Fault(Fault::because("it is empty")),
        ]
    }

    #[test]
    fn what_is_packed_comes_out_the_same() {
        for answer in answers() {
            assert_eq!(unpack_answer(&pack_answer(&answer)), Some(answer));
        }
        let asked = Asked { page: 2, password: Some("geheim".to_owned()) };
        for errand in [Errand::Read, Errand::Paint { px_per_mm: 7.5 }] {
            let mut parcel = pack_errand(&errand, &asked);
            parcel.extend(b"%PDF");
            assert_eq!(unpack_errand(&parcel), Some((errand, asked.clone(), b"%PDF".as_slice())));
        }
    }

    #[test]
    fn what_was_cut_short_is_no_answer() {
        for answer in answers() {
            let parcel = pack_answer(&answer);
            for length in 0..parcel.len() {
                assert_eq!(unpack_answer(&parcel[..length]), None, "{length} of {}", parcel.len());
            }
        }
    }
}
