//! Plate legends at true size: each plate with cut marks, its keys and their words, and a bar to check the printer by.

use kurbo::{Point, Rect, Size};

use super::Page;
use super::face::Face;
use super::told::{Told, ToldPlate};
use crate::drawing::sheets::column::{Column, Contents, PAD_MM, column};
use crate::drawing::sheets::issue::CAUTIONS;
use crate::drawing::sheets::pen::{Hand, Pen, shortened};
use crate::drawing::sheets::remarks::{Missing, kind_cautions};
use crate::drawing::sheets::title_block::title_block_of;
use crate::drawing::{Anchor, Paper, Role};

/// From the plate to its cut marks, and their length, mm.
const MARK_GAP_MM: f64 = 1.0;
const MARK_MM: f64 = 4.0;

/// Room that cut marks take around a plate, mm.
const MARKS_MM: f64 = MARK_GAP_MM + MARK_MM;

/// Between plates, mm.
const BETWEEN_MM: f64 = 6.0;

/// Room above the cut marks for two lines that name the plate, mm.
const CAPTION_MM: f64 = 9.0;

/// The bar to check the printer by: its length, and the room that it takes at the foot of the sheet, mm.
const BAR_MM: f64 = 100.0;
const BAR_ROOM_MM: f64 = 16.0;

/// The sheets with all plates of the house.
pub(super) fn pages(told: &Told<'_>, paper: Paper) -> Vec<Page> {
    let faces: Vec<(&ToldPlate, Face<'_>)> =
        told.plates.iter().filter_map(|plate| Some((plate, face_of(told, plate)?))).collect();
    let set = column(&contents(told, &faces), paper);
    let sizes: Vec<Size> = faces.iter().map(|(_, face)| face.size()).collect();
    shelves(&sizes, &set, paper)
        .into_iter()
        .map(|places| {
            let mut pen = Pen::default();
            pen.rect(Role::TableLine, set.strip);
            pen.items.extend(set.items.iter().cloned());
            check_bar(&mut pen, bar_at(&set));
            for (index, at) in places {
                if let Some((plate, face)) = faces.get(index) {
                    plate_at(&mut pen, told, plate, face, at);
                }
            }
            Page::new("Plate legends, true size".to_owned(), pen.items)
        })
        .collect()
}

/// A plate at true size.
fn face_of<'a>(told: &Told<'_>, plate: &'a ToldPlate) -> Option<Face<'a>> {
    let device = told.project.devices.get(plate.plate.device)?;
    Some(Face {
        face: told.project.kinds.get(device.kind)?.plate_face(),
        words: plate.legends.iter().map(|legend| &legend.words).collect(),
        is_provisional: !device.legend.is_final,
        times: 1.0,
    })
}

/// The column beside the plates.
fn contents(told: &Told<'_>, faces: &[(&ToldPlate, Face<'_>)]) -> Contents {
    let tags = |lacks: &dyn Fn(&ToldPlate, &Face<'_>) -> bool| -> Vec<String> {
        let lacking = faces.iter().filter(|(plate, face)| lacks(plate, face));
        lacking
            .filter_map(|(plate, _)| Some(told.project.devices.get(plate.plate.device)?.tag.to_string()))
            .collect()
    };
    let missing = [
        Missing {
            what: "Words missing on a key, for no rule listens to it",
            tags: tags(&|plate, _| plate.legends.iter().any(|legend| legend.words[0].is_empty())),
        },
        Missing {
            what: "Words cut short: they do not fit their key",
            tags: tags(&|_, face| !face.draw(&mut Pen::default(), Point::ORIGIN).is_empty()),
        },
    ];
    let devices = faces.iter().map(|(plate, _)| plate.plate.device);
    Contents {
        notes: [
            "Drawn at true size. Print at 100 %, not fitted to the page, and measure the 100 mm bar before \
             anything is cut or engraved.",
            "Sizes of plates, 86 × 86 and 146 × 86 mm, are from memory, and how keys lie is an assumption: check both \
             with the maker's template.",
            "Keys count from the upper left, row by row.",
            "PROVISIONAL: not agreed yet. Print it as an insert, live with it for some weeks, and engrave only what is \
             marked final.",
            "What each key does is in the schedule of plates.",
        ]
        .map(str::to_owned)
        .to_vec(),
        missing: missing.into_iter().filter(|missing| !missing.tags.is_empty()).collect(),
        cautions: CAUTIONS.map(str::to_owned).to_vec(),
        kind_cautions: kind_cautions(told.project, devices),
        drawing_list: "the drawing list".to_owned(),
        ..Contents::default()
    }
}

/// The lowest free area.
fn lowest(set: &Column) -> Rect {
    set.free.iter().copied().min_by(|a, b| a.y0.total_cmp(&b.y0)).unwrap_or(Rect::ZERO)
}

fn bar_at(set: &Column) -> Point {
    let area = lowest(set);
    Point::new(area.x0 + 2.0 * PAD_MM, area.y0 + PAD_MM)
}

/// Where each plate goes, sheet by sheet: its place in the list and its lower left corner. Plates stand in shelves from
/// the top; a shelf that reaches down beside the title block ends before it.
fn shelves(sizes: &[Size], set: &Column, paper: Paper) -> Vec<Vec<(usize, Point)>> {
    let whole = set.free.first().copied().unwrap_or(Rect::ZERO);
    let floor = lowest(set).y0 + BAR_ROOM_MM;
    let title = title_block_of(paper);
    let right_at = |bottom: f64| {
        let beside_title = bottom < title.y1 && whole.x1 > title.x0;
        (if beside_title { title.x0 } else { whole.x1 }) - PAD_MM
    };
    let left = whole.x0 + PAD_MM + MARKS_MM;
    let mut sheets: Vec<Vec<(usize, Point)>> = Vec::new();
    let mut next = 0;
    while next < sizes.len() {
        let mut sheet = Vec::new();
        let mut top = whole.y1 - PAD_MM;
        while next < sizes.len() {
            let height = sizes[next].height;
            let bottom = top - CAPTION_MM - MARKS_MM - height - MARKS_MM;
            // One plate a sheet is set whatever happens, so that none is lost.
            if bottom < floor && !sheet.is_empty() {
                break;
            }
            let right = right_at(bottom) - MARKS_MM;
            let mut x = left;
            let mut tallest = height;
            while let Some(size) = sizes.get(next) {
                let fits = x + size.width <= right && size.height <= height;
                if !fits && x > left {
                    break;
                }
                sheet.push((next, Point::new(x, bottom + MARKS_MM)));
                x += size.width + BETWEEN_MM;
                tallest = tallest.max(size.height);
                next += 1;
            }
            top = bottom - (tallest - height);
        }
        sheets.push(sheet);
    }
    sheets
}

fn plate_at(pen: &mut Pen, told: &Told<'_>, plate: &ToldPlate, face: &Face<'_>, at: Point) {
    face.draw(pen, at);
    let rect = Rect::from_origin_size(at, face.size());
    cut_marks(pen, rect);
    let room = plate.room.and_then(|room| told.project.rooms.get(room));
    let room = room.map_or("in no room", |room| room.name.as_str());
    let size = face.size();
    let state = if face.is_provisional { "provisional" } else { "final" };
    let (bold, small) = (Hand::bold(Role::Heading, 2.5), Hand::regular(Role::SmallPrint, 1.8));
    let top = rect.y1 + MARKS_MM;
    let name = shortened(&told.plate_words(plate), bold, size.width);
    pen.words(bold, Point::new(rect.x0, top + 4.4), Anchor::Start, &name);
    let more = format!("{room}, {} × {} mm, {state}", size.width, size.height);
    pen.words(small, Point::new(rect.x0, top + 0.8), Anchor::Start, &shortened(&more, small, size.width));
}

/// Eight short lines that say where the insert is cut, off its corners so that none is left on it.
fn cut_marks(pen: &mut Pen, rect: Rect) {
    for (x, out) in [(rect.x0, -1.0), (rect.x1, 1.0)] {
        for (y, up) in [(rect.y0, -1.0), (rect.y1, 1.0)] {
            let (near, far) = (MARK_GAP_MM, MARK_GAP_MM + MARK_MM);
            pen.line(Role::FineLine, Point::new(x + out * near, y), Point::new(x + out * far, y));
            pen.line(Role::FineLine, Point::new(x, y + up * near), Point::new(x, y + up * far));
        }
    }
}

/// A bar of 100 mm with a tick each centimetre.
fn check_bar(pen: &mut Pen, at: Point) {
    let small = Hand::regular(Role::Body, 1.8);
    pen.words(
        small,
        Point::new(at.x, at.y + 6.4),
        Anchor::Start,
        "This bar is 100 mm long. If it measures otherwise, print again at 100 %.",
    );
    pen.rect(Role::FineLine, Rect::new(at.x, at.y + 3.2, at.x + BAR_MM, at.y + 5.2));
    for tick in 0..=10 {
        let x = at.x + f64::from(tick) * BAR_MM / 10.0;
        if (1..10).contains(&tick) {
            pen.line(Role::FineLine, Point::new(x, at.y + 3.2), Point::new(x, at.y + 5.2));
        }
        if tick % 5 == 0 {
            pen.words(small, Point::new(x, at.y), Anchor::Middle, &(tick * 10).to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape as _;

    use crate::drawing::{Item, Shape};
    use crate::small_house::small_house;

    /// How many boxes of that size a sheet has.
    fn outlines(page: &Page, width: f64, height: f64) -> usize {
        let is_outline = |item: &&Item| match &item.shape {
            Shape::Path(path) => {
                let bounds = path.bounding_box();
                (bounds.width() - width).abs() < 1e-9 && (bounds.height() - height).abs() < 1e-9
            }
            _ => false,
        };
        page.items.iter().filter(is_outline).count()
    }

    #[test]
    fn a_plate_is_drawn_once_at_true_size_on_every_paper() {
        let house = small_house();
        let told = Told::of(&house.project).unwrap();
        for paper in Paper::ALL {
            let pages = pages(&told, paper);
            assert_eq!(pages.len(), 1);
            assert_eq!(outlines(&pages[0], 86.0, 86.0), 1, "{paper:?}");
            assert_eq!(outlines(&pages[0], 100.0, 2.0), 1, "{paper:?}");
        }
    }

    #[test]
    fn every_plate_has_its_place_and_none_lies_on_another() {
        let sizes: Vec<Size> =
            (0..40).map(|at| Size::new(if at % 3 == 0 { 146.0 } else { 86.0 }, 86.0)).collect();
        for paper in Paper::ALL {
            let set = column(&Contents::default(), paper);
            let sheets = shelves(&sizes, &set, paper);
            let placed: Vec<usize> = sheets.iter().flatten().map(|(index, _)| *index).collect();
            assert_eq!(placed, (0..40).collect::<Vec<_>>(), "{paper:?}");
            for sheet in &sheets {
                let rects: Vec<Rect> =
                    sheet.iter().map(|(index, at)| Rect::from_origin_size(*at, sizes[*index])).collect();
                for (index, rect) in rects.iter().enumerate() {
                    let with_marks = rect.inflate(MARKS_MM, MARKS_MM);
                    assert!(!with_marks.overlaps(title_block_of(paper)), "{paper:?}: {rect}");
                    assert!(!with_marks.overlaps(set.strip), "{paper:?}: {rect}");
                    assert!(rects[index + 1..].iter().all(|other| !rect.overlaps(*other)), "{paper:?}");
                }
            }
        }
    }
}
