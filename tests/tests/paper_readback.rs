//! What is on paper, read back with readers that know nothing of the printers: a PDF reader, an SVG parser's
//! plain text, and a PNG decoder. Ten metres at 1:50 must lie 200 mm apart in each.

use kurbo::{Affine, BezPath, Point, Rect, Shape as _};
use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object};
use pattress::print::{PdfInfo, pdf, png, svg};
use pattress_model::drawing::{Anchor, Item, Layer, Paper, Role, Shape, Sheet, Weight, lettering};
use pattress_model::store::Media;
use pattress_model::units::Angle;

const MM_PER_POINT: f64 = 25.4 / 72.0;

/// A4 upright at 1:50 with a ten metre line 40 mm above the lower edge, hatched masonry, text and a picture.
fn test_sheet(media: &mut Media) -> Sheet {
    let picture = media.keep(red_and_blue_png(), "png");
    let plan_from_units = Affine::new([100.0, 0.0, 0.0, -100.0, 1000.0, 9000.0]);
    let wall = Rect::new(1000.0, 4000.0, 5000.0, 4300.0).to_path(0.1);
    let plan = vec![
        Item::line(
            Layer::Building,
            Role::WindowLine,
            None,
            Point::new(0.0, 2000.0),
            Point::new(10_000.0, 2000.0),
        ),
        Item::path(Layer::Building, Role::WallMasonry, None, wall),
        Item::path(Layer::Zones, Role::ZoneLighting, None, Rect::new(1e3, 5e3, 3e3, 6e3).to_path(0.1)),
        text("Kitchen £1 ±0.5 m²", Point::new(5000.0, 6500.0), 3.5, Anchor::Centre, Angle::ZERO),
        text("turned", Point::new(6000.0, 8000.0), 2.5, Anchor::Start, Angle::degrees(90.0)),
        Item {
            layer: Layer::Underlay,
            role: Role::Picture,
            subject: None,
            shape: Shape::Picture {
                media: picture,
                page: 1,
                plan_from_units,
                size: (2.0, 1.0),
                opacity: 1.0,
                within: None,
            },
        },
    ];
    let frame = vec![Item::path(
        Layer::Frame,
        Role::FrameLine,
        None,
        Rect::new(20.0, 10.0, 200.0, 287.0).to_path(0.1),
    )];
    Sheet {
        number: "T-101".to_owned(),
        title: "Ground floor: test <&>".to_owned(),
        paper: Paper::A4,
        scale: 50,
        paper_from_plan: Affine::scale(1.0 / 50.0),
        area: kurbo::Rect::ZERO,
        plan,
        frame,
    }
}

fn text(words: &str, at: Point, height_mm: f64, anchor: Anchor, turn: Angle) -> Item {
    let weight = Weight::Regular;
    let shape = Shape::Text { at, text: words.to_owned(), height_mm, weight, anchor, turn };
    Item { layer: Layer::Rooms, role: Role::Body, subject: None, shape }
}

fn red_and_blue_png() -> Vec<u8> {
    let pixels =
        image::RgbImage::from_fn(2, 1, |x, _| image::Rgb(if x == 0 { [255, 0, 0] } else { [0, 0, 255] }));
    let mut bytes = std::io::Cursor::new(Vec::new());
    pixels.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

fn info() -> PdfInfo {
    PdfInfo {
        title: "Test house: sheets P01".to_owned(),
        author: "A. Drawer".to_owned(),
        subject: "first fix".to_owned(),
        date: "2026-03-31".to_owned(),
    }
}

/// Every stroked or filled path of a page as points in paper millimetres, y up, and its line width in mm.
struct Page {
    paths: Vec<(BezPath, f64)>,
    texts_drawn: usize,
    pictures: usize,
}

fn read_page(document: &Document, page: lopdf::ObjectId) -> Page {
    let content = Content::decode(&document.get_page_content(page)).unwrap();
    let mut states = vec![(Affine::scale(MM_PER_POINT), 1.0_f64)];
    let mut page = Page { paths: Vec::new(), texts_drawn: 0, pictures: 0 };
    let mut path = BezPath::new();
    for operation in &content.operations {
        let numbers: Vec<f64> =
            operation.operands.iter().filter_map(|operand| operand.as_float().ok()).map(f64::from).collect();
        let (matrix, width) = *states.last().unwrap();
        let at = |index: usize| matrix * Point::new(numbers[2 * index], numbers[2 * index + 1]);
        match operation.operator.as_str() {
            "q" => states.push((matrix, width)),
            "Q" => drop(states.pop()),
            "cm" => {
                let coefficients: [f64; 6] = numbers.try_into().unwrap();
                states.last_mut().unwrap().0 = matrix * Affine::new(coefficients);
            }
            "w" => states.last_mut().unwrap().1 = numbers[0] * matrix.determinant().abs().sqrt(),
            "m" => path.move_to(at(0)),
            "l" => path.line_to(at(0)),
            "c" => path.curve_to(at(0), at(1), at(2)),
            "h" => path.close_path(),
            "re" => {
                let corner = Point::new(numbers[0], numbers[1]);
                path.extend(matrix * Rect::from_origin_size(corner, (numbers[2], numbers[3])).to_path(0.1));
            }
            "S" | "s" | "f" | "f*" | "B" | "B*" => page.paths.push((std::mem::take(&mut path), width)),
            "n" => path = BezPath::new(),
            "Tj" | "TJ" => page.texts_drawn += 1,
            "Do" => page.pictures += 1,
            _ => {}
        }
    }
    page
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 5e-4
}

fn dictionary_of<'a>(document: &'a Document, object: &'a Object) -> &'a Dictionary {
    document.dereference(object).unwrap().1.as_dict().unwrap()
}

#[test]
fn ten_metres_at_one_to_fifty_are_200_mm_in_the_pdf() {
    let mut media = Media::default();
    let sheet = test_sheet(&mut media);
    let document = Document::load_mem(&pdf(&[sheet], &media, &info()).unwrap()).unwrap();
    let page_id = document.get_pages()[&1];
    let box_points: Vec<f64> = document
        .get_dictionary(page_id)
        .unwrap()
        .get(b"MediaBox")
        .unwrap()
        .as_array()
        .unwrap()
        .iter()
        .map(|number| f64::from(number.as_float().unwrap()))
        .collect();
    assert!(close(box_points[2] * MM_PER_POINT, 210.0) && close(box_points[3] * MM_PER_POINT, 297.0));

    let page = read_page(&document, page_id);
    let line = page
        .paths
        .iter()
        .find(|(path, width)| close(*width, 0.18) && close(path.bounding_box().height(), 0.0))
        .expect("the ten metre line is on the page");
    let bounds = line.0.bounding_box();
    assert!(close(bounds.x0, 0.0) && close(bounds.x1, 200.0) && close(bounds.y0, 40.0), "{bounds:?}");
    let frame = page.paths.iter().find(|(_, width)| close(*width, 0.7)).expect("the frame is on the page");
    let bounds = frame.0.bounding_box();
    assert!(close(bounds.x0, 20.0) && close(bounds.y1, 287.0), "{bounds:?}");
    assert_eq!(page.pictures, 1);
    assert_eq!(page.texts_drawn, 2);
}

#[test]
fn hatch_lines_keep_their_spacing_and_stay_on_the_wall() {
    let mut media = Media::default();
    let sheet = test_sheet(&mut media);
    let document = Document::load_mem(&pdf(&[sheet], &media, &info()).unwrap()).unwrap();
    let page = read_page(&document, document.get_pages()[&1]);
    let hatch = page.paths.iter().find(|(_, width)| close(*width, 0.13)).expect("the wall is hatched");
    let mut offsets: Vec<f64> = hatch
        .0
        .elements()
        .iter()
        .filter_map(|element| if let kurbo::PathEl::MoveTo(at) = element { Some(*at) } else { None })
        .map(|at| (at.y - at.x) * std::f64::consts::FRAC_1_SQRT_2 / 1.2)
        .collect();
    offsets.sort_by(f64::total_cmp);
    assert!(offsets.len() > 40, "{} lines", offsets.len());
    for offset in &offsets {
        assert!(
            (offset - offset.round()).abs() < 1e-3,
            "a line lies {offset} spacings from the paper's corner"
        );
    }
}

#[test]
fn words_can_be_read_out_of_the_pdf_and_faces_are_embedded() {
    let mut media = Media::default();
    let sheet = test_sheet(&mut media);
    let document = Document::load_mem(&pdf(&[sheet], &media, &info()).unwrap()).unwrap();
    let words = document.extract_text(&[1]).unwrap();
    for expected in ["Kitchen £1 ±0.5 m²", "turned"] {
        assert!(words.contains(expected), "{expected} is not in {words:?}");
    }
    let fonts = document.get_page_fonts(document.get_pages()[&1]).unwrap();
    assert!(!fonts.is_empty());
    for font in fonts.values() {
        let inner =
            document.dereference(font.get(b"DescendantFonts").unwrap()).unwrap().1.as_array().unwrap();
        let descriptor =
            dictionary_of(&document, dictionary_of(&document, &inner[0]).get(b"FontDescriptor").unwrap());
        assert!(descriptor.has(b"FontFile3") || descriptor.has(b"FontFile2"), "a face is not embedded");
        let name = String::from_utf8_lossy(font.get(b"BaseFont").unwrap().as_name().unwrap()).into_owned();
        assert!(name.as_bytes()[6] == b'+' && name.contains("Inter"), "{name} is no subset of the face");
    }
}

#[test]
fn the_pdf_says_what_it_is_and_has_a_bookmark_a_sheet() {
    let mut media = Media::default();
    let first = test_sheet(&mut media);
    let second = Sheet { number: "T-102".to_owned(), ..first.clone() };
    let bytes = pdf(&[first.clone(), second.clone()], &media, &info()).unwrap();
    assert_eq!(bytes, pdf(&[first, second], &media, &info()).unwrap(), "the same sheets give the same bytes");

    let document = Document::load_mem(&bytes).unwrap();
    let catalog = document.catalog().unwrap();
    let metadata = document.dereference(catalog.get(b"Metadata").unwrap()).unwrap().1.as_stream().unwrap();
    let xmp =
        String::from_utf8(metadata.get_plain_content().unwrap_or_else(|_| metadata.content.clone())).unwrap();
    for claim in [
        "<pdfaid:part>2</pdfaid:part>",
        "<pdfaid:conformance>B</pdfaid:conformance>",
        "Test house: sheets P01",
        "2026-03-31",
    ] {
        assert!(xmp.contains(claim), "{claim} is not in {xmp}");
    }
    let outline = dictionary_of(&document, catalog.get(b"Outlines").unwrap());
    let mut bookmark = outline.get(b"First").ok();
    let mut titles = Vec::new();
    while let Some(object) = bookmark {
        let dictionary = dictionary_of(&document, object);
        titles.push(lopdf::decode_text_string(dictionary.get(b"Title").unwrap()).unwrap());
        bookmark = dictionary.get(b"Next").ok();
    }
    assert_eq!(titles, ["T-101 Ground floor: test <&>", "T-102 Ground floor: test <&>"]);
}

#[test]
fn ten_metres_at_one_to_fifty_are_200_units_of_a_millimetre_in_the_svg() {
    let mut media = Media::default();
    let sheet = test_sheet(&mut media);
    let drawn = svg(&sheet, &media);
    assert!(drawn.contains("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
    assert!(drawn.contains("d=\"M0 257L200 257\""), "the ten metre line lies 40 mm above the lower edge");
    let start = drawn.find(">Kitchen<").expect("the words are words");
    let words: String = drawn[start..]
        .split_once("</text>")
        .unwrap()
        .0
        .split('<')
        .map(|part| part.rsplit('>').next().unwrap())
        .collect();
    assert_eq!(words, "Kitchen £1 ±0.5 m²");
    assert!(drawn.contains("<title>T-101 Ground floor: test &lt;&amp;&gt;</title>"));
    assert!(drawn.contains("fill=\"#f0c83c\" fill-opacity=\"0.1804\""), "the zone is seen through");
}

#[test]
fn the_png_is_as_large_as_the_paper_and_shows_line_picture_and_words() {
    let mut media = Media::default();
    let sheet = test_sheet(&mut media);
    let bytes = png(&sheet, &media, 254.0).unwrap();
    assert_eq!(bytes, png(&sheet, &media, 254.0).unwrap());
    let pixels = image::load_from_memory(&bytes).unwrap().to_rgb8();
    assert_eq!(pixels.dimensions(), (2100, 2970), "10 dots to the millimetre");
    let dark = |x: u32, y: u32| pixels.get_pixel(x, y).0.iter().all(|channel| *channel < 128);
    assert!(dark(1000, 2569) || dark(1000, 2570), "the ten metre line");
    assert!(!dark(1000, 2560) && !dark(2050, 2570), "it ends where it ends");
    let [red, green, blue] = pixels.get_pixel(210, 1180).0;
    assert!(
        red > 220 && green == 0 && blue < 40,
        "the left pixel of the picture is red, smoothed at its edge"
    );
    let words =
        (500..1500).flat_map(|x| (1640..1700).map(move |y| (x, y))).filter(|(x, y)| dark(*x, *y)).count();
    assert!(words > 500, "{words} dark dots where words should be");
}

#[test]
fn letters_stand_where_they_were_measured() {
    let mut media = Media::default();
    let sheet = test_sheet(&mut media);
    let pixels = image::load_from_memory(&png(&sheet, &media, 508.0).unwrap()).unwrap().to_rgb8();
    let dark: Vec<(u32, u32)> = (1000..3000)
        .flat_map(|x| (3250..3420).map(move |y| (x, y)))
        .filter(|(x, y)| pixels.get_pixel(*x, *y).0.iter().all(|channel| *channel < 128))
        .collect();
    let (left, right) =
        (dark.iter().map(|at| at.0).min().unwrap(), dark.iter().map(|at| at.0).max().unwrap());
    let drawn = f64::from(right - left) / 20.0;
    let measured = lettering::width("Kitchen £1 ±0.5 m²", 3.5, Weight::Regular);
    assert!((drawn - measured).abs() < 1.0, "drawn {drawn}, measured {measured}");
    let middle = f64::from(left + right) / 40.0;
    assert!((middle - 100.0).abs() < 0.3, "centred on {middle}");
}

#[test]
fn a_picture_that_is_not_there_is_reported() {
    let mut media = Media::default();
    let sheet = test_sheet(&mut media);
    let error = pdf(&[sheet], &Media::default(), &info()).unwrap_err().to_string();
    assert!(error.contains("T-101") && error.contains("not among"), "{error}");
}
