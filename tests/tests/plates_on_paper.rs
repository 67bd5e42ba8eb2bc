//! Plate legends, client pages, guest sheets and the client guide of the samples, read back from the paper.

use kurbo::{Affine, BezPath, Point, Rect, Shape as _};
use lopdf::Document;
use lopdf::content::Content;
use pattress::print::{PdfInfo, pdf};
use pattress_model::drawing::labels::text_bounds;
use pattress_model::drawing::sheets::{SheetOptions, frame_of, sheet_set, title_block_of};
use pattress_model::drawing::{Paper, Shape, Sheet};
use pattress_model::project::Project;
use pattress_model::store::Media;
use pattress_tests::samples::SAMPLES;

/// Points to a millimetre of paper: 72 to the inch.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

fn sheets(project: &Project, paper: Paper, only: &[&str]) -> Vec<Sheet> {
    let only = only.iter().map(|name| (*name).to_owned()).collect();
    sheet_set(project, &SheetOptions { paper, only, ..SheetOptions::of_site(project) })
}

const HANDED: [&str; 4] = ["plates", "client-pages", "guest-sheets", "client-guide"];

/// The boxes on a page of a PDF, in points, read from its content stream.
fn boxes(document: &Document, page: lopdf::ObjectId) -> Vec<Rect> {
    let content = Content::decode(&document.get_page_content(page)).unwrap();
    let mut matrices = vec![Affine::IDENTITY];
    let (mut path, mut found) = (BezPath::new(), Vec::new());
    for operation in &content.operations {
        let numbers: Vec<f64> =
            operation.operands.iter().filter_map(|operand| operand.as_float().ok()).map(f64::from).collect();
        let matrix = *matrices.last().unwrap();
        match operation.operator.as_str() {
            "q" => matrices.push(matrix),
            "Q" => drop(matrices.pop()),
            "cm" => *matrices.last_mut().unwrap() = matrix * Affine::new(numbers.try_into().unwrap()),
            "m" => path.move_to(matrix * Point::new(numbers[0], numbers[1])),
            "l" => path.line_to(matrix * Point::new(numbers[0], numbers[1])),
            "re" => {
                let corner = Point::new(numbers[0], numbers[1]);
                path.extend(matrix * Rect::from_origin_size(corner, (numbers[2], numbers[3])).to_path(0.1));
            }
            "S" | "s" | "f" | "f*" | "B" | "B*" => found.push(std::mem::take(&mut path).bounding_box()),
            "n" => path = BezPath::new(),
            _ => {}
        }
    }
    found
}

#[test]
fn plates_keys_and_the_check_bar_measure_true_in_the_pdf() {
    for sample in SAMPLES {
        let project = (sample.build)();
        let drawn = sheets(&project, Paper::A2, &["plates"]);
        assert!(!drawn.is_empty(), "{}", sample.name);
        let info = PdfInfo {
            title: "Plates".to_owned(),
            author: String::new(),
            subject: String::new(),
            date: "2026-03-31".to_owned(),
        };
        let document = Document::load_mem(&pdf(&drawn, &Media::default(), &info).unwrap()).unwrap();
        let found: Vec<Rect> =
            document.get_pages().values().flat_map(|page| boxes(&document, *page)).collect();
        let count = |width_mm: f64, height_mm: f64| {
            let is = |rect: &&Rect| {
                let (width, height) = (width_mm * POINTS_PER_MM, height_mm * POINTS_PER_MM);
                (rect.width() - width).abs() < 0.002 && (rect.height() - height).abs() < 0.002
            };
            found.iter().filter(is).count()
        };
        let plates = |double: bool| {
            let is = |kind: &pattress_model::kit::Kind| {
                kind.keys().count() > 0 && (kind.back_box.is_some_and(|found| found.gangs > 1) == double)
            };
            let of = |device: &pattress_model::kit::Device| project.kinds.get(device.kind).is_some_and(is);
            project.devices.iter().filter(|(_, device)| of(device)).count()
        };
        assert_eq!(count(86.0, 86.0), plates(false), "{}: single plates", sample.name);
        assert_eq!(count(146.0, 86.0), plates(true), "{}: double plates", sample.name);
        assert_eq!(count(100.0, 2.0), drawn.len(), "{}: one bar a sheet", sample.name);
        // A rim of 8 mm and gaps of 2 mm leave four keys of 34 mm on a plate of 86 mm.
        let fours = project.devices.iter().filter(|(_, device)| {
            project.kinds.get(device.kind).is_some_and(|kind| kind.keys().count() == 4)
        });
        assert_eq!(count(34.0, 34.0), 4 * fours.count(), "{}: keys of plates with four", sample.name);
    }
}

#[test]
fn nothing_on_these_sheets_is_clipped_or_lies_on_anything_else() {
    for sample in SAMPLES {
        let project = (sample.build)();
        for paper in Paper::ALL {
            for sheet in sheets(&project, paper, &HANDED) {
                let place = format!("{} {} on {}", sample.name, sheet.number, sheet.paper.name());
                let (frame, title) = (frame_of(sheet.paper), title_block_of(sheet.paper));
                let words: Vec<(&str, Rect)> = sheet
                    .frame
                    .iter()
                    .filter_map(|item| match &item.shape {
                        Shape::Text { text, .. } => Some((text.as_str(), text_bounds(&item.shape, 1.0)?)),
                        _ => None,
                    })
                    .collect();
                for (index, (text, bounds)) in words.iter().enumerate() {
                    assert!(
                        frame.inflate(5.0, 5.0).contains_rect(*bounds),
                        "{place}: “{text}” leaves the frame"
                    );
                    let cut = bounds.intersect(title);
                    assert!(
                        title.contains_rect(*bounds) || cut.area() < 1e-6,
                        "{place}: “{text}” cuts the title block"
                    );
                    for (other, other_bounds) in &words[index + 1..] {
                        let common = bounds.intersect(*other_bounds);
                        let covers = common.width() > 1e-6 && common.height() > 1e-6;
                        assert!(!covers, "{place}: “{text}” lies on “{other}”");
                    }
                }
                for item in &sheet.frame {
                    if let Shape::Path(path) = &item.shape {
                        let (width, height) = sheet.paper.size_mm();
                        let paper = Rect::new(0.0, 0.0, width, height).inflate(1e-6, 1e-6);
                        assert!(paper.contains_rect(path.bounding_box()), "{place} leaves the paper");
                    }
                }
            }
        }
    }
}

#[test]
fn every_key_of_the_samples_is_told_and_guests_read_nothing_of_security() {
    for sample in SAMPLES {
        let project = (sample.build)();
        let words = |only: &str| -> String {
            let mut words = Vec::new();
            for item in sheets(&project, Paper::A3, &[only]).into_iter().flat_map(|sheet| sheet.frame) {
                if let Shape::Text { text, .. } = item.shape {
                    words.push(text);
                }
            }
            words.join(" ")
        };
        let plates = words("plates");
        let client = words("client-pages");
        for (_, device) in project.devices.iter() {
            let keys = project.kinds.get(device.kind).map_or(0, |kind| kind.keys().count());
            if keys > 0 {
                let tag = device.tag.to_string();
                assert!(plates.contains(&tag) && client.contains(&tag), "{}: {tag}", sample.name);
            }
        }
        assert!(plates.contains("PROVISIONAL"), "{}", sample.name);
        let guest = words("guest-sheets").to_lowercase();
        assert!(!guest.is_empty());
        for secret in
            ["keypad", "alarm panel", "bolt", "camera", "is set", "unset", "armed", "message", "siren"]
        {
            assert!(!guest.contains(secret), "{}: a guest reads “{secret}”", sample.name);
        }
        assert!(words("client-guide").contains("Saltmarsh Integration, 01632 960 114"), "{}", sample.name);
    }
}
