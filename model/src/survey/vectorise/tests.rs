//! Pictures drawn, turned and blurred by noise, made into lines and areas again.

use kurbo::{ParamCurve, PathSeg, Shape};
use proptest::prelude::*;

use super::super::drawn::{Numbers, Sheet};
use super::*;

/// Two rooms at 10 mm to a pixel: outer walls of 240 mm, one of 100 mm within, a window of three lines, a
/// leaf of a door and lettering.
fn house(degrees: f64) -> Sheet {
    let mut sheet = Sheet::new(520, 420);
    sheet.turn = degrees;
    for wall in [
        (80.3, 80.4, 440.6, 104.4),
        (80.3, 320.4, 200.3, 344.4),
        (320.3, 320.4, 440.6, 344.4),
        (80.3, 80.4, 104.3, 344.4),
        (416.6, 80.4, 440.6, 344.4),
        (250.2, 104.4, 260.2, 260.4),
    ] {
        sheet.block(wall, 40);
    }
    for line in [320.9, 331.9, 342.9] {
        sheet.block((200.3, line, 320.3, line + 1.5), 60);
    }
    sheet.block((160.0, 180.0, 162.0, 280.0), 60);
    for letter in 0..6 {
        let x = 300.0 + f64::from(letter) * 12.0;
        sheet.block((x, 180.0, x + 2.0, 196.0), 50);
        sheet.block((x, 187.0, x + 8.0, 189.0), 50);
    }
    sheet
}

fn edges(page: &Page) -> Vec<(Point, Point)> {
    let lines = page.fills.iter().flat_map(|fill| fill.path.segments());
    lines
        .filter_map(|piece| if let PathSeg::Line(line) = piece { Some((line.p0, line.p1)) } else { None })
        .collect()
}

#[test]
fn faces_of_walls_lie_within_a_fifth_of_a_pixel_however_the_sheet_lies() {
    for (degrees, noise) in [(0.0, 0.0), (2.3, 6.0), (-13.0, 6.0)] {
        let sheet = house(degrees);
        let page = page_of_picture(&sheet.picture(noise, 0.25), 10.0, &|_| true).unwrap();
        let back = sheet.picture_from_sheet().inverse();
        let found: Vec<(Point, Point)> =
            edges(&page).into_iter().map(|(a, b)| (back * a, back * b)).collect();
        // Level faces as depth and extent, and upright ones.
        for (depth, from, to) in [(80.4, 80.3, 440.6), (104.4, 104.3, 250.2), (344.4, 80.3, 200.3)] {
            let face = found.iter().find(|(a, b)| {
                let (left, right) = (a.x.min(b.x), a.x.max(b.x));
                (a.y - depth).abs() < 0.25
                    && (b.y - depth).abs() < 0.25
                    && (left - from).abs() < 0.7
                    && (right - to).abs() < 0.7
            });
            assert!(face.is_some(), "{degrees}: level face at {depth} from {from} to {to}: {found:?}");
        }
        for across in [250.2, 260.2] {
            let face = found.iter().find(|(a, b)| {
                (a.x - across).abs() < 0.25 && (b.x - across).abs() < 0.25 && (a.y - b.y).abs() > 150.0
            });
            assert!(face.is_some(), "{degrees}: upright face at {across}: {found:?}");
        }
    }
}

#[test]
fn fine_lines_are_found_along_their_middle_and_lettering_is_left_out() {
    let sheet = house(2.3);
    let page = page_of_picture(&sheet.picture(6.0, 0.25), 10.0, &|_| true).unwrap();
    let back = sheet.picture_from_sheet().inverse();
    let lines: Vec<(Point, Point, f64)> = page
        .strokes
        .iter()
        .flat_map(|stroke| stroke.path.segments().map(|piece| (stroke.width, piece)))
        .map(|(width, piece)| (back * piece.start(), back * piece.end(), width))
        .collect();
    for depth in [321.65, 332.65, 343.65] {
        let line = lines.iter().find(|(a, b, _)| {
            (a.y - depth).abs() < 0.4 && (b.y - depth).abs() < 0.4 && (a.x - b.x).abs() > 110.0
        });
        let (_, _, width) = line.unwrap_or_else(|| panic!("window line at {depth}: {lines:?}"));
        assert!((1.0..3.5).contains(width), "{width}");
    }
    assert!(lines.iter().any(|(a, b, _)| (a.x - 161.0).abs() < 0.3 && (a.y - b.y).abs() > 97.0), "{lines:?}");
    let lettered = |at: &Point| at.x > 290.0 && at.x < 380.0 && at.y > 170.0 && at.y < 205.0;
    assert!(!lines.iter().any(|(a, _, _)| lettered(a)), "{lines:?}");
    assert!(page.fills.iter().all(|fill| fill.path.bounding_box().width() > 90.0));
}

#[test]
fn a_table_around_the_sheet_is_no_wall() {
    let mut sheet = Sheet::new(520, 420);
    for table in [(0.0, 0.0, 520.0, 30.0), (0.0, 390.0, 520.0, 420.0), (0.0, 0.0, 40.0, 420.0)] {
        sheet.block(table, 90);
    }
    sheet.block((150.0, 200.0, 400.0, 224.0), 40);
    let page = page_of_picture(&sheet.picture(6.0, 0.2), 10.0, &|_| true).unwrap();
    assert_eq!(page.fills.len(), 1, "{:?}", page.fills);
    assert!((page.fills[0].path.area().abs() - 250.0 * 24.0).abs() < 60.0);
}

#[test]
fn it_stops_when_told() {
    let picture = house(0.0).picture(0.0, 0.0);
    let asked = std::cell::Cell::new(0);
    let stop = |_: f32| {
        asked.set(asked.get() + 1);
        asked.get() < 4
    };
    assert_eq!(page_of_picture(&picture, 10.0, &stop), None);
    assert_eq!(asked.get(), 4);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn no_picture_makes_it_panic(
        seed: u64, width in 1..90_usize, height in 1..70_usize, mm_per_px in prop_oneof![0.5..200.0_f64, any::<f64>()],
        levels in 1..4_u32, blocks in 0..12,
    ) {
        let mut numbers = Numbers(seed);
        let mut luma: Vec<u8> =
            (0..width * height).map(|_| (255.0 * numbers.next().powi(levels as i32 - 1)) as u8).collect();
        for _ in 0..blocks {
            let mut within = |most: usize| (numbers.next() * most as f64) as usize;
            let (x, y, wide, high) = (within(width), within(height), within(width), within(height));
            for row in y..(y + high).min(height) {
                luma[row * width + x..row * width + (x + wide).min(width)].fill(30);
            }
        }
        let picture = Greyscale::new(width, height, luma).unwrap();
        let page = page_of_picture(&picture, mm_per_px, &|_| true).unwrap();
        for fill in &page.fills {
            prop_assert!(fill.path.is_finite());
        }
        for stroke in &page.strokes {
            prop_assert!(stroke.path.is_finite() && stroke.width.is_finite());
        }
        let again = page_of_picture(&picture, mm_per_px, &|_| true).unwrap();
        prop_assert_eq!(page, again, "the same every time");
    }
}
