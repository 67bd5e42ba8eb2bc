//! Pages of PDF and SVG made here, read as the window reads them: sizes, turns, tones, order and lettering.

use kurbo::{Point, Rect, Shape};
use pattress::survey::{self, Asked, PageRead, Read, ReadError};
use pattress_model::survey::Page;
use pattress_tests::drawings::{self, PdfPage};

fn read(bytes: Vec<u8>, page: u32) -> PageRead {
    let asked = Asked { page, password: None };
    match survey::read("plan", bytes, &asked, &|_| true) {
        Ok(Read::Page(read)) => read,
        other => panic!("{other:?}"),
    }
}

fn refusal(bytes: Vec<u8>, page: u32) -> String {
    let asked = Asked { page, password: None };
    survey::read("plan", bytes, &asked, &|_| true).expect_err("it was read").to_string()
}

fn page_of(entries: &str, content: &str) -> PageRead {
    let page = PdfPage { entries: entries.to_owned(), content: content.to_owned() };
    read(drawings::pdf(&[page]), 1)
}

fn close(found: Rect, expected: [f64; 4]) {
    let [x0, y0, x1, y1] = expected;
    let apart = [found.x0 - x0, found.y0 - y0, found.x1 - x1, found.y1 - y1];
    assert!(apart.iter().all(|by| by.abs() < 0.01), "{found:?} instead of {expected:?}");
}

/// A line from (72, 72) to (144, 72) points: one inch long, one inch from the left and from below.
const LINE: &str = "1 w 72 72 m 144 72 l S";

#[test]
fn a_pdf_is_read_as_it_is_turned_cropped_and_scaled() {
    // The page of 8 by 6 inches, and where an inch of line lies on it, in inches from the upper left.
    let cases = [
        ("/MediaBox [0 0 576 432]", [8.0, 6.0], [1.0, 5.0, 2.0, 5.0]),
        ("/MediaBox [0 0 576 432] /Rotate 90", [6.0, 8.0], [1.0, 1.0, 1.0, 2.0]),
        ("/MediaBox [0 0 576 432] /Rotate 180", [8.0, 6.0], [6.0, 1.0, 7.0, 1.0]),
        ("/MediaBox [0 0 576 432] /Rotate 270", [6.0, 8.0], [5.0, 6.0, 5.0, 7.0]),
        ("/MediaBox [0 0 576 432] /CropBox [36 36 324 252]", [4.0, 3.0], [0.5, 2.5, 1.5, 2.5]),
        ("/MediaBox [0 0 576 432] /UserUnit 2", [16.0, 12.0], [2.0, 10.0, 4.0, 10.0]),
        ("/MediaBox [-72 -72 504 360]", [8.0, 6.0], [2.0, 4.0, 3.0, 4.0]),
    ];
    for (entries, [width, height], line) in cases {
        let found = page_of(entries, LINE);
        assert!((found.page.width - width * 25.4).abs() < 1e-3, "{entries}: {}", found.page.width);
        assert!((found.page.height - height * 25.4).abs() < 1e-3, "{entries}: {}", found.page.height);
        close(found.page.strokes[0].path.bounding_box(), line.map(|inches| inches * 25.4));
    }
}

#[test]
fn pens_tones_dashes_and_order_come_through() {
    let content = "2 0 0 2 0 0 cm 0.5 G 3 w 50 50 m 90 50 l S [4 2] 0 d 0 G 50 60 m 90 60 l S \
                   1 g 40 40 60 60 re f /G gs 0 g 10 10 5 5 re f*";
    let page = page_of("/MediaBox [0 0 576 432]", content).page;
    let pens: Vec<_> = page
        .strokes
        .iter()
        .map(|stroke| ((stroke.lightness * 100.0).round(), stroke.dashed, stroke.order))
        .collect();
    assert_eq!(pens, [(50.0, false, 1), (0.0, true, 2)]);
    assert!((page.strokes[0].width - 6.0 * 25.4 / 72.0).abs() < 1e-6);
    let fills: Vec<_> =
        page.fills.iter().map(|fill| ((fill.lightness * 100.0).round(), fill.even_odd, fill.order)).collect();
    assert_eq!(fills, [(100.0, false, 3), (50.0, true, 4)]);
}

#[test]
fn a_view_cut_out_of_a_drawing_ends_at_its_edge() {
    let content = "q 72 72 144 144 re W n 0 100 m 500 100 l S 300 300 m 400 300 l S 0 g 0 0 100 100 re f Q";
    let page = page_of("/MediaBox [0 0 576 432]", content).page;
    assert_eq!((page.strokes.len(), page.fills.len()), (1, 1));
    let mm = 25.4 / 72.0;
    close(page.strokes[0].path.bounding_box(), [72.0 * mm, 332.0 * mm, 216.0 * mm, 332.0 * mm]);
    close(page.fills[0].path.bounding_box(), [72.0 * mm, 332.0 * mm, 100.0 * mm, 360.0 * mm]);
}

#[test]
fn lettering_is_read_in_runs() {
    let content = "BT /F 10 Tf 100 100 Td [(Kit) -20 (chen) -400 (12.5)] TJ ET \
                   BT /F 8 Tf 0 1 -1 0 50 100 Tm (3 600) Tj ET BT 3 Tr /F 8 Tf 200 200 Td (unseen) Tj ET";
    let writings = page_of("/MediaBox [0 0 576 432]", content).page.writings;
    let texts: Vec<&str> = writings.iter().map(|writing| writing.text.as_str()).collect();
    // Lettering that is not seen is what a scanner read: it is kept.
    assert_eq!(texts, ["Kitchen 12.5", "3 600", "unseen"]);
    let mm = 25.4 / 72.0;
    assert!((writings[0].at - Point::new(100.0 * mm, 332.0 * mm)).hypot() < 0.01);
    assert!((writings[0].height - 10.0 * mm).abs() < 0.01);
    assert!((writings[1].direction.y + 1.0).abs() < 1e-9, "{:?}", writings[1].direction);
}

#[test]
fn pages_are_chosen_and_a_picture_of_a_page_is_a_scan() {
    let bytes = drawings::room_as_pdf();
    let first = read(bytes.clone(), 1);
    assert_eq!((first.pages, first.scan), (2, None));
    let second = read(bytes.clone(), 2);
    let scan = second.scan.expect("a scan");
    assert!(second.page.strokes.is_empty() && second.page.fills.is_empty());
    // Four pixels over 420 mm: the page is as fine as its picture.
    assert!((scan.mm_per_px * scan.grey.width() as f64 - 420.0).abs() < scan.mm_per_px, "{}", scan.mm_per_px);
    assert!(refusal(bytes, 3).contains("it has no page 3, so choose one of 1 to 2"));
}

fn svg(attributes: &str, content: &str) -> Page {
    let text = format!("<svg xmlns='http://www.w3.org/2000/svg' {attributes}>{content}</svg>");
    read(text.into_bytes(), 1).page
}

#[test]
fn an_svg_has_the_size_it_states() {
    let line = "<path d='M10 20H110' stroke='#000' stroke-width='2'/>";
    let cases = [
        ("width='420mm' height='297mm' viewBox='0 0 420 297'", [420.0, 297.0], 100.0),
        ("width='84.1cm' height='59.4cm' viewBox='0 0 8410 5940'", [841.0, 594.0], 10.0),
        ("width='10in' height='5in' viewBox='0 0 1000 500'", [254.0, 127.0], 25.4),
        ("width='960' height='480'", [254.0, 127.0], 100.0 * 25.4 / 96.0),
        ("viewBox='0 0 960 480'", [254.0, 127.0], 100.0 * 25.4 / 96.0),
    ];
    for (attributes, size, length) in cases {
        let page = svg(attributes, line);
        assert_eq!([page.width, page.height], size, "{attributes}");
        let found = page.strokes[0].path.bounding_box().width();
        assert!((found - length).abs() < 1e-4 * length, "{attributes}: {found}");
        assert!((page.strokes[0].width - length / 50.0).abs() < 1e-4 * length);
    }
}

#[test]
fn an_svg_says_the_same_as_the_pdf_of_it() {
    let page = read(drawings::room_as_svg(), 1).page;
    let texts: Vec<&str> = page.writings.iter().map(|writing| writing.text.as_str()).collect();
    assert_eq!(texts, ["Kitchen", "3 600"]);
    assert!((page.writings[0].at - Point::new(90.0, 90.0)).hypot() < 0.01);
    assert!((page.writings[0].height - 4.0).abs() < 1e-3);
    assert!((page.writings[1].direction.y + 1.0).abs() < 1e-6);
    // Set about its middle.
    let middle = page.writings[1].at + page.writings[1].direction * (page.writings[1].length / 2.0);
    assert!((middle - Point::new(25.0, 100.0)).hypot() < 0.3, "{middle:?}");
    let clipped = page.strokes.iter().find(|stroke| stroke.dashed).expect("the clipped line");
    close(clipped.path.bounding_box(), [40.0, 40.0, 140.0, 140.0]);
    assert!((clipped.lightness - 0.5).abs() < 0.01);
    let white = page.fills.iter().find(|fill| fill.lightness == 1.0).expect("the opening");
    assert!(page.fills.iter().filter(|fill| fill.lightness < 0.3).all(|wall| wall.order < white.order));
}

#[test]
fn a_model_of_a_building_is_told_from_a_drawing() {
    let outcome = survey::read("house", drawings::room_as_ifc(), &Asked::default(), &|_| true);
    assert_eq!(outcome, Ok(Read::Building));
    let building =
        pattress_model::survey::ifc::read_ifc(&drawings::room_as_ifc(), &|_| true).expect("a building");
    assert_eq!(building.storeys.len(), 1);
}

#[test]
fn no_file_from_outside_is_read() {
    let place = tempfile::tempdir().expect("a folder");
    let secret = place.path().join("secret.png");
    std::fs::write(&secret, &drawings::frame_as_pictures()[0]).expect("written");
    let image = format!("<image href='{}' width='100' height='100'/>", secret.display());
    let text = format!("<svg xmlns='http://www.w3.org/2000/svg' width='100' height='100'>{image}</svg>");
    let picture =
        survey::render_page("plan", text.as_bytes(), &Asked::default(), 2.0, &|_| true).expect("painted");
    assert!(picture.rgba.iter().all(|part| *part == 255), "something was painted");
}

#[test]
fn a_page_is_painted_as_large_as_asked() {
    for bytes in [drawings::room_as_pdf(), drawings::room_as_svg()] {
        let painted =
            survey::render_page("plan", &bytes, &Asked::default(), 2.0, &|_| true).expect("painted");
        assert_eq!((painted.width, painted.height, painted.rgba.len()), (840, 594, 840 * 594 * 4));
        let pixel = |x: u32, y: u32| painted.rgba[((y * 840 + x) * 4) as usize];
        assert_eq!((pixel(5, 5), pixel(835, 590)), (255, 255), "paper is white");
        assert!(painted.rgba.chunks_exact(4).any(|pixel| pixel[0] < 60), "walls are dark");
        let refused = survey::render_page("plan", &bytes, &Asked::default(), 500.0, &|_| true);
        assert!(
            matches!(refused, Err(ReadError::Refused { .. })),
            "{:?}",
            refused.map(|painted| painted.width)
        );
        let finest = survey::finest_px_per_mm(420.0, 297.0, 500.0);
        assert!(finest > 20.0 && finest < 30.0, "{finest}");
    }
}

#[test]
fn drawings_made_to_harm_are_refused_in_words() {
    let nested = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'>{}{}</svg>",
        "<g>".repeat(3_000),
        "</g>".repeat(3_000)
    );
    let bomb = "<!DOCTYPE svg [<!ENTITY a 'xxxxxxxxxx'><!ENTITY b '&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;'>\
                <!ENTITY c '&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;'><!ENTITY d '&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;'>\
                <!ENTITY e '&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;'><!ENTITY f '&e;&e;&e;&e;&e;&e;&e;&e;&e;&e;'>]>\
                <svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><text>&f;&f;&f;&f;&f;&f;</text></svg>";
    let page =
        |entries: &str| drawings::pdf(&[PdfPage { entries: entries.to_owned(), content: LINE.to_owned() }]);
    let endless = drawings::pdf(&[PdfPage::a3(&"n ".repeat(5_100_000))]);
    let cases: Vec<(Vec<u8>, &str)> = vec![
        (nested.into_bytes(), "content is broken"),
        (bomb.as_bytes().to_vec(), "content is broken"),
        (b"<svg xmlns='http://www.w3.org/2000/svg' width='0' height='5'/>".to_vec(), "make no size"),
        (b"<svg xmlns='http://www.w3.org/2000/svg' width='9e9' height='5'/>".to_vec(), "no side may exceed"),
        (b"<svg".to_vec(), "content is broken"),
        (page("/MediaBox [0 0 200000 200000]"), "no side may exceed 20000 mm"),
        (page("/MediaBox [0 0 576 432] /UserUnit 99999"), "no side may exceed 20000 mm"),
        (endless, "holds more than a drawing of a house should"),
        (b"%PDF-1.7\n".to_vec(), "content is broken"),
        (drawings::pdf(&[]), "has no pages"),
    ];
    for (bytes, words) in cases {
        let start = String::from_utf8_lossy(&bytes[..bytes.len().min(60)]).into_owned();
        let said = refusal(bytes, 1);
        assert!(said.contains(words) && said.starts_with("“plan”"), "{start}: {said}");
    }
}

#[test]
fn drawings_cut_short_anywhere_end_in_an_answer() {
    let mut seeds = drawings::frame_as_pictures();
    seeds.extend([drawings::room_as_pdf(), drawings::room_as_svg()]);
    for seed in seeds {
        for share in 0..24 {
            let bytes = seed[..seed.len() * share / 24].to_vec();
            if let Err(error) = survey::read("plan", bytes, &Asked::default(), &|_| true) {
                assert!(error.to_string().starts_with("“plan”"), "{error}");
            }
        }
    }
}
