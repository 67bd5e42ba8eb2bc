//! On every sheet of the samples no word covers another or the mark of a spot, and no tag covers a symbol.

use kurbo::{Rect, Shape as _};
use pattress_model::drawing::labels::text_bounds;
use pattress_model::drawing::plan::device_bounds;
use pattress_model::drawing::sheets::{SheetOptions, sheet_set};
use pattress_model::drawing::{Layer, Role, Shape};
use pattress_model::edit::Subject;
use pattress_tests::samples::SAMPLES;

/// Words may touch, within so many millimetres of paper.
const TOUCH_MM: f64 = 0.05;

fn covers(a: Rect, b: Rect, scale: f64) -> bool {
    let common = a.intersect(b);
    common.width() > TOUCH_MM * scale && common.height() > TOUCH_MM * scale
}

#[test]
fn words_cover_neither_words_nor_symbols() {
    let mut failures = Vec::new();
    for sample in SAMPLES {
        let project = (sample.build)();
        for sheet in sheet_set(&project, &SheetOptions::of_site(&project)) {
            let scale = f64::from(sheet.scale);
            let words: Vec<(&str, Rect, Option<Subject>, Layer)> = sheet
                .plan
                .iter()
                .filter(|item| item.layer != Layer::Devices)
                .filter_map(|item| match &item.shape {
                    Shape::Text { text, .. } => {
                        Some((text.as_str(), text_bounds(&item.shape, scale)?, item.subject, item.layer))
                    }
                    _ => None,
                })
                .collect();
            for (index, (words_a, a, ..)) in words.iter().enumerate() {
                for (words_b, b, ..) in &words[index + 1..] {
                    if covers(*a, *b, scale) {
                        failures
                            .push(format!("{} {}: “{words_a}” and “{words_b}”", sample.name, sheet.number));
                    }
                }
            }
            for mark in sheet.plan.iter().filter(|item| item.role == Role::Spot) {
                let Shape::Path(path) = &mark.shape else { continue };
                for (text, ..) in
                    words.iter().filter(|(_, rect, ..)| covers(*rect, path.bounding_box(), scale))
                {
                    failures
                        .push(format!("{} {}: “{text}” on the mark of a spot", sample.name, sheet.number));
                }
            }
            let symbols = sheet.plan.iter().filter(|item| item.layer == Layer::Devices);
            let mut shown: Vec<_> = symbols.filter_map(|item| item.subject).collect();
            shown.dedup();
            for subject in shown {
                let Subject::Device(id) = subject else { continue };
                let Some(device) = project.devices.get(id) else { continue };
                let Some(kind) = project.kinds.get(device.kind) else { continue };
                let Some(bounds) = device_bounds(&project, device, kind, scale) else { continue };
                for (text, rect, ..) in words.iter().filter(|(.., layer)| *layer == Layer::Tags) {
                    if covers(*rect, bounds, scale) {
                        failures
                            .push(format!("{} {}: “{text}” on {}", sample.name, sheet.number, device.tag));
                    }
                }
            }
        }
    }
    assert!(failures.is_empty(), "{} places:\n{}", failures.len(), failures.join("\n"));
}
