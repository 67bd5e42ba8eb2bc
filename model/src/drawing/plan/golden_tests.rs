//! The drawing of a little flat, held as text: a change to how plans are drawn shows as lines that differ.

use std::fmt::Write as _;

use kurbo::PathEl;

use super::example::two_rooms;
use super::*;
use crate::drawing::{Item, Layer, Shape, labels::text_bounds};
use crate::plan::DoorsAs;

/// One line an item: layer, role, subject, and its shape to the millimetre.
fn as_text(items: &[Item]) -> String {
    let mut out = String::new();
    for item in items {
        let subject = item.subject.map_or_else(|| "-".to_owned(), |subject| format!("{subject:?}"));
        let _ = write!(out, "{:?} {:?} {subject} ", item.layer, item.role);
        let _ = match &item.shape {
            Shape::Path(path) => writeln!(out, "{}", path_as_text(path)),
            Shape::Text { at, text, height_mm, anchor, turn, .. } => writeln!(
                out,
                "“{text}” {height_mm} {anchor:?} {:.0},{:.0} turned {turn}",
                at.x + 0.0,
                at.y + 0.0
            ),
            Shape::Picture { media, .. } => writeln!(out, "picture {media}"),
        };
    }
    out
}

fn path_as_text(path: &kurbo::BezPath) -> String {
    let point = |point: kurbo::Point| format!("{},{}", point.x.round() as i64, point.y.round() as i64);
    let words: Vec<String> = path
        .elements()
        .iter()
        .map(|element| match *element {
            PathEl::MoveTo(to) => format!("M{}", point(to)),
            PathEl::LineTo(to) => format!("L{}", point(to)),
            PathEl::QuadTo(_, to) => format!("Q{}", point(to)),
            PathEl::CurveTo(_, _, to) => format!("C{}", point(to)),
            PathEl::ClosePath => "Z".to_owned(),
        })
        .collect();
    words.join(" ")
}

fn drawn(layers: &[Layer]) -> Vec<Item> {
    let (project, level) = two_rooms();
    let figures = LevelFigures::compute(&project, level, DoorsAs::Drawn);
    let options =
        PlanOptions { scale: 50.0, layers: layers.iter().copied().collect(), level_below: Some(level) };
    level_items(&project, level, &figures, &options)
}

#[test]
fn the_flat_without_devices() {
    let layers = [Layer::LevelBelow, Layer::Joinery, Layer::Building, Layer::Rooms];
    insta::assert_snapshot!(as_text(&drawn(&layers)));
}

#[test]
fn the_flat_with_what_devices_do() {
    let layers = [Layer::Zones, Layer::Coverage, Layer::Tags, Layer::Dimensions];
    let items: Vec<Item> = drawn(&layers)
        .into_iter()
        // Long flattened outlines say little as text; their places are held elsewhere.
        .filter(|item| !matches!(&item.shape, Shape::Path(path) if path.elements().len() > 40))
        .collect();
    insta::assert_snapshot!(as_text(&items));
}

#[test]
fn layers_come_from_the_bottom_up_and_only_those_asked_for() {
    let items = drawn(&Layer::ALL);
    assert!(items.windows(2).all(|pair| pair[0].layer <= pair[1].layer));
    for layer in Layer::ALL {
        assert!(drawn(&[layer]).iter().all(|item| item.layer == layer));
    }
    assert!(drawn(&[]).is_empty());
}

#[test]
fn no_tag_or_room_name_covers_a_symbol_at_any_usual_scale() {
    let (project, level) = two_rooms();
    let figures = LevelFigures::compute(&project, level, DoorsAs::Drawn);
    for scale in [20.0, 50.0, 100.0] {
        let layers = Layer::ALL.into_iter().collect();
        let items = level_items(&project, level, &figures, &PlanOptions { scale, layers, level_below: None });
        let symbols: Vec<kurbo::Rect> = project
            .devices_on(level)
            .filter_map(|(_, device, kind)| device_bounds(&project, device, kind, scale))
            .collect();
        let written = [Layer::Tags, Layer::Rooms, Layer::Dimensions, Layer::Zones];
        for item in items.iter().filter(|item| written.contains(&item.layer)) {
            let Some(text) = text_bounds(&item.shape, scale) else { continue };
            for symbol in &symbols {
                let both = text.intersect(*symbol);
                assert!(both.width() < 1e-6 || both.height() < 1e-6, "1:{scale} {:?}", item.shape);
            }
        }
    }
}
