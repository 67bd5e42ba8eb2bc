//! Architects' drawings beneath a plan, on paper: read back with a reader that knows nothing of the printer. What is
//! a line in the drawing must be a line on paper, where the plan puts it.

use kurbo::{Affine, BezPath, Point, Rect, Shape as _};
use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};
use pattress::print::{PdfInfo, PrintError, pdf, png, svg, unlocked_page};
use pattress_model::drawing::{Item, Layer, Paper, Role, Shape, Sheet};
use pattress_model::store::Media;

const MM_PER_POINT: f64 = 25.4 / 72.0;

/// A4 upright at 1:50 with those items on the plan.
fn sheet_of(plan: Vec<Item>) -> Sheet {
    Sheet {
        number: "T-101".to_owned(),
        title: "Test".to_owned(),
        paper: Paper::A4,
        scale: 50,
        paper_from_plan: Affine::scale(1.0 / 50.0),
        area: kurbo::Rect::ZERO,
        plan,
        frame: Vec::new(),
    }
}

/// A drawing of that size whose lower left corner lies at 1 m, 2 m, at 1:25, half as strong.
fn beneath(media: String, page: u32, size: (f64, f64)) -> Item {
    let plan_from_units = Affine::translate((1000.0, 2000.0))
        * Affine::scale(25.0)
        * Affine::translate((0.0, size.1))
        * Affine::scale_non_uniform(1.0, -1.0);
    let shape = Shape::Picture { media, page, plan_from_units, size, opacity: 0.5, within: None };
    Item { layer: Layer::Underlay, role: Role::Picture, subject: None, shape }
}

/// A page of A4 with one line from 30, 40 to 130, 40 mm, counted from its lower left corner.
fn architects_page() -> Vec<u8> {
    let (from, to) = (Point::new(1500.0, 2000.0), Point::new(6500.0, 2000.0));
    let line = Item::line(Layer::Building, Role::WindowLine, None, from, to);
    pdf(&[sheet_of(vec![line])], &Media::default(), &PdfInfo::default()).unwrap()
}

/// What is on a page, also within its forms.
#[derive(Default)]
struct Found {
    /// Every path that is stroked, in millimetres of paper, y up.
    lines: Vec<BezPath>,
    /// What is drawn is cut to these rectangles, of the page or of a form.
    clips: Vec<Rect>,
    /// How many paths are filled.
    filled: usize,
    pictures: usize,
}

fn stroked(document: &Document) -> (Vec<BezPath>, usize) {
    let Found { lines, pictures, .. } = found_on(document);
    (lines, pictures)
}

fn found_on(document: &Document) -> Found {
    let page = document.get_pages()[&1];
    let (resources, inherited) = document.get_page_resources(page).unwrap();
    let resources =
        resources.cloned().unwrap_or_else(|| document.get_dictionary(inherited[0]).unwrap().clone());
    let mut found = Found::default();
    let content = document.get_page_content(page);
    walk(document, &content, &resources, Affine::scale(MM_PER_POINT), &mut found);
    found
}

fn walk(document: &Document, content: &[u8], resources: &Dictionary, base: Affine, found: &mut Found) {
    let mut matrices = vec![base];
    let mut path = BezPath::new();
    for operation in &Content::decode(content).unwrap().operations {
        let numbers: Vec<f64> =
            operation.operands.iter().filter_map(|operand| operand.as_float().ok()).map(f64::from).collect();
        let matrix = *matrices.last().unwrap();
        let at = |index: usize| matrix * Point::new(numbers[2 * index], numbers[2 * index + 1]);
        match operation.operator.as_str() {
            "q" => matrices.push(matrix),
            "Q" => drop(matrices.pop()),
            "cm" => *matrices.last_mut().unwrap() = matrix * affine(&numbers),
            "m" => path.move_to(at(0)),
            "l" => path.line_to(at(0)),
            "c" => path.curve_to(at(0), at(1), at(2)),
            "S" | "s" => found.lines.push(std::mem::take(&mut path)),
            "f" | "f*" => {
                found.filled += 1;
                path = BezPath::new();
            }
            "re" => {
                let [x, y, width, height] = numbers[..] else { panic!("{numbers:?}") };
                path.extend(matrix * Rect::new(x, y, x + width, y + height).to_path(0.1));
            }
            "W" | "W*" => found.clips.push(path.bounding_box()),
            "n" => path = BezPath::new(),
            "Do" => {
                let name = operation.operands[0].as_name().unwrap();
                let forms = dictionary(document, resources.get(b"XObject").unwrap());
                let (_, object) = document.dereference(forms.get(name).unwrap()).unwrap();
                let stream = object.as_stream().unwrap();
                if stream.dict.get(b"Subtype").unwrap().as_name().unwrap() == b"Image" {
                    found.pictures += 1;
                    continue;
                }
                let own = stream.dict.get(b"Matrix").ok().map_or(Affine::IDENTITY, |own| {
                    let numbers: Vec<f64> =
                        own.as_array().unwrap().iter().map(|n| f64::from(n.as_float().unwrap())).collect();
                    affine(&numbers)
                });
                let own_resources = stream.dict.get(b"Resources").map(|found| dictionary(document, found));
                let content = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
                walk(document, &content, own_resources.unwrap_or(resources), matrix * own, found);
            }
            _ => {}
        }
    }
}

fn affine(numbers: &[f64]) -> Affine {
    Affine::new(<[f64; 6]>::try_from(numbers).unwrap())
}

fn dictionary<'a>(document: &'a Document, object: &'a Object) -> &'a Dictionary {
    document.dereference(object).unwrap().1.as_dict().unwrap()
}

fn printed(media: &Media, item: Item) -> Document {
    let sheets = [sheet_of(vec![item])];
    let dated = PdfInfo { date: "2026-03-31".to_owned(), ..PdfInfo::default() };
    let bytes = pdf(&sheets, media, &dated).unwrap();
    assert_eq!(bytes, pdf(&sheets, media, &dated).unwrap(), "the same sheets give the same bytes");
    Document::load_mem(&bytes).unwrap()
}

#[track_caller]
fn assert_lies(lines: &[BezPath], expected: Rect) {
    let off = |found: Rect| {
        let sides =
            [found.x0 - expected.x0, found.y0 - expected.y0, found.x1 - expected.x1, found.y1 - expected.y1];
        sides.into_iter().fold(0.0_f64, |most, side| most.max(side.abs()))
    };
    let bounds: Vec<Rect> = lines.iter().map(BezPath::bounding_box).collect();
    assert!(bounds.iter().any(|found| off(*found) < 0.01), "{bounds:?} instead of {expected:?}");
}

#[test]
fn a_page_of_a_pdf_stays_lines_where_the_plan_puts_them() {
    let mut media = Media::default();
    let name = media.keep(architects_page(), "pdf");
    let document = printed(&media, beneath(name, 1, (210.0, 297.0)));
    let (lines, pictures) = stroked(&document);
    assert_eq!(pictures, 0, "nothing became a picture");
    // 1:25 on the plan is half its size at 1:50; its corner lies at 20, 40 mm.
    assert_lies(&lines, Rect::new(35.0, 60.0, 85.0, 60.0));
}

#[test]
fn a_turned_and_cropped_page_is_laid_as_it_is_read() {
    let mut document = Document::load_mem(&architects_page()).unwrap();
    let page: ObjectId = document.get_pages()[&1];
    let dictionary = document.get_dictionary_mut(page).unwrap();
    dictionary.set("Rotate", 90);
    let points = [10.0, 20.0, 200.0, 287.0].map(|mm: f64| Object::Real((mm / MM_PER_POINT) as f32));
    dictionary.set("CropBox", points.to_vec());
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    let mut media = Media::default();
    let name = media.keep(bytes, "pdf");
    let (lines, _) = stroked(&printed(&media, beneath(name, 1, (267.0, 190.0))));
    // Turned clockwise within the crop the line runs down at x 20, from y 20 to 120 below the upper edge at 190.
    let (left, low) = (20.0 + 20.0 / 2.0, 40.0 + (190.0 - 120.0) / 2.0);
    assert_lies(&lines, Rect::new(left, low, left, low + 50.0));
}

#[test]
fn an_svg_stays_lines_unless_it_holds_what_lines_cannot_say() {
    let svg_of = |extra: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" height=\"100mm\" viewBox=\"0 0 200 100\">\
             <defs><linearGradient id=\"g\"><stop stop-color=\"red\"/><stop offset=\"1\" stop-color=\"blue\"/>\
             </linearGradient></defs>{extra}\
             <path d=\"M30 60 H130\" stroke=\"black\" stroke-width=\"0.35\" fill=\"none\"/></svg>"
        )
    };
    let mut media = Media::default();
    let plain = media.keep(svg_of("").into_bytes(), "svg");
    let (lines, pictures) = stroked(&printed(&media, beneath(plain, 1, (200.0, 100.0))));
    assert_eq!(pictures, 0);
    assert_lies(&lines, Rect::new(35.0, 60.0, 85.0, 60.0));

    let shaded = svg_of("<rect width=\"20\" height=\"20\" fill=\"url(#g)\"/>");
    let shaded = media.keep(shaded.into_bytes(), "svg");
    let (lines, pictures) = stroked(&printed(&media, beneath(shaded, 1, (200.0, 100.0))));
    assert_eq!((lines.len(), pictures > 0), (0, true), "carried as a picture");
}

/// An SVG of 200 by 100 mm with a word 20 mm high from 30, 60 mm, in that family.
fn svg_with_a_word(family: &str) -> Vec<u8> {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" height=\"100mm\" viewBox=\"0 0 200 100\">\
         <text x=\"30\" y=\"60\" font-size=\"20\" font-family=\"{family}\">KITCHEN</text></svg>"
    )
    .into_bytes()
}

#[test]
fn the_lettering_of_an_svg_is_drawn_on_paper_whatever_its_face() {
    for family in ["serif", "sans-serif", "monospace", "A Face Nobody Has", "A Face Nobody Has, serif"] {
        let mut media = Media::default();
        let name = media.keep(svg_with_a_word(family), "svg");
        let sheet = sheet_of(vec![beneath(name, 1, (200.0, 100.0))]);
        let seen = image::load_from_memory(&png(&sheet, &media, 100.0).unwrap()).unwrap().to_luma8();
        // Half its size at 1:50: the word stands from 35 mm, 60 mm above the lower edge, 7 mm high.
        let px = |mm: f64| (mm / 25.4 * 100.0) as u32;
        let within = |x0: f64, y0: f64, x1: f64, y1: f64| {
            let rows = px(297.0 - y1)..px(297.0 - y0);
            rows.flat_map(|y| (px(x0)..px(x1)).map(move |x| (x, y)))
                .filter(|(x, y)| seen.get_pixel(*x, *y).0[0] < 200)
                .count()
        };
        let (word, beside) = (within(35.0, 60.0, 80.0, 68.0), within(35.0, 69.0, 80.0, 80.0));
        assert!(word > 200 && beside == 0, "{family}: {word} dark dots in the word, {beside} above it");
        let on_paper = found_on(&printed(&media, sheet.plan[0].clone()));
        assert_eq!((on_paper.filled, on_paper.pictures), (1, 0), "{family}: the word is one filled path");
    }
}

#[test]
fn pictures_and_svg_of_a_sheet_show_the_page_where_the_plan_puts_it() {
    let mut media = Media::default();
    let name = media.keep(architects_page(), "pdf");
    let sheet = sheet_of(vec![Item {
        shape: match beneath(name, 1, (210.0, 297.0)).shape {
            Shape::Picture { media, page, plan_from_units, size, within, .. } => {
                Shape::Picture { media, page, plan_from_units, size, opacity: 1.0, within }
            }
            other => other,
        },
        ..beneath(String::new(), 1, (1.0, 1.0))
    }]);
    let text = svg(&sheet, &media);
    assert!(text.contains("data:image/png;base64,"), "the page is in the SVG");
    assert_eq!(text, svg(&sheet, &media));
    let seen = image::load_from_memory(&png(&sheet, &media, 300.0).unwrap()).unwrap().to_luma8();
    let at = |x_mm: f64, y_up_mm: f64| {
        let (x, y) = (x_mm / 25.4 * 300.0, (297.0 - y_up_mm) / 25.4 * 300.0);
        let near = (-2..=2).map(|step| seen.get_pixel(x as u32, (y as i64 + step) as u32).0[0]);
        near.min().unwrap()
    };
    assert!(at(60.0, 60.0) < 140, "the line shows: {}", at(60.0, 60.0));
    assert!(at(60.0, 63.0) > 240 && at(90.0, 60.0) > 240, "and nothing else");
}

#[test]
fn a_drawing_ends_where_it_is_to_end() {
    // The line of the page runs from 35 to 85 mm, 60 mm above the lower edge; from 50 mm on it is not to show.
    let within = Rect::new(0.0, 0.0, 50.0 * 50.0, 100.0 * 50.0);
    let (page, svg_page) = (architects_page(), svg_with_a_word("serif"));
    for (bytes, ending, size) in [(page, "pdf", (210.0, 297.0)), (svg_page, "svg", (200.0, 100.0))] {
        let mut media = Media::default();
        let name = media.keep(bytes, ending);
        let mut item = beneath(name, 1, size);
        if let Shape::Picture { within: shown, opacity, .. } = &mut item.shape {
            (*shown, *opacity) = (Some(within), 1.0);
        }
        let clips = found_on(&printed(&media, item.clone())).clips;
        let on_paper = Rect::new(0.0, 0.0, 50.0, 100.0);
        let is_it = |clip: &Rect| {
            (clip.origin() - on_paper.origin()).hypot() < 0.01 && (clip.max_x() - 50.0).abs() < 0.01
        };
        assert!(clips.iter().any(is_it), "{ending}: {clips:?}");
        let seen =
            image::load_from_memory(&png(&sheet_of(vec![item]), &media, 200.0).unwrap()).unwrap().to_luma8();
        let dark = |from_mm: f64, to_mm: f64| {
            let px = |mm: f64| (mm / 25.4 * 200.0).round() as u32;
            let columns = px(from_mm)..px(to_mm);
            columns
                .flat_map(|x| (0..seen.height()).map(move |y| (x, y)))
                .filter(|(x, y)| seen.get_pixel(*x, *y).0[0] < 200)
                .count()
        };
        assert!(dark(35.0, 49.8) > 20, "{ending}: it shows up to there");
        assert_eq!(dark(50.2, 90.0), 0, "{ending}: and no farther");
    }
}

#[test]
fn a_page_that_is_not_there_is_said() {
    let mut media = Media::default();
    let name = media.keep(architects_page(), "pdf");
    let sheets = [sheet_of(vec![beneath(name, 3, (210.0, 297.0))])];
    let error = pdf(&sheets, &media, &PdfInfo::default()).unwrap_err();
    assert!(matches!(&error, PrintError::Picture { reason, .. } if reason.contains("no page 3")), "{error}");
    let broken = media.keep(b"%PDF-1.7 and nothing more".to_vec(), "pdf");
    let sheets = [sheet_of(vec![beneath(broken, 1, (210.0, 297.0))])];
    assert!(pdf(&sheets, &media, &PdfInfo::default()).is_err());
}

#[test]
fn a_locked_page_is_kept_without_its_lock() {
    use lopdf::encryption::Permissions;
    use lopdf::{EncryptionState, EncryptionVersion, StringFormat};
    let mut locked = Document::load_mem(&architects_page()).unwrap();
    let id = || Object::String(b"0123456789abcdef".to_vec(), StringFormat::Literal);
    locked.trailer.set("ID", Object::Array(vec![id(), id()]));
    let version = EncryptionVersion::V2 {
        document: &locked,
        owner_password: "owner",
        user_password: "secret",
        key_length: 128,
        permissions: Permissions::all(),
    };
    let state = EncryptionState::try_from(version).unwrap();
    locked.encrypt(&state).unwrap();
    let mut bytes = Vec::new();
    locked.save_to(&mut bytes).unwrap();
    assert!(unlocked_page(&bytes, "wrong", 1, (210.0, 297.0)).is_err());
    let kept = unlocked_page(&bytes, "secret", 1, (210.0, 297.0)).unwrap();
    let mut media = Media::default();
    let name = media.keep(kept, "pdf");
    let (lines, _) = stroked(&printed(&media, beneath(name, 1, (210.0, 297.0))));
    assert_lies(&lines, Rect::new(35.0, 60.0, 85.0, 60.0));
}
