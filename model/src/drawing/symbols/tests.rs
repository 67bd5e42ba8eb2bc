//! What every symbol must hold to, tried on every kind of the catalogue, all the way round.

use kurbo::{Point, Rect, Shape as _};

use super::{bounds_of, symbol, symbol_bounds};
use crate::drawing::{Item, Layer, Role, Shape, lettering};
use crate::kit::catalogue::{catalogue, kind_by_key};
use crate::kit::{Family, Kind, Symbol};
use crate::units::Angle;

const AT: Point = Point::new(3000.0, 4000.0);
const SCALE: f64 = 50.0;

/// Every kind, facing every fifteen degrees, on a wall and off it.
fn everywhere(mut check: impl FnMut(&str, &Kind, Angle, bool, &[Item])) {
    for entry in catalogue() {
        for step in 0..24 {
            let facing = Angle::degrees(15.0 * f64::from(step));
            for on_wall in [true, false] {
                let items = symbol(&entry.kind, AT, facing, on_wall, SCALE, None);
                check(entry.key, &entry.kind, facing, on_wall, &items);
            }
        }
    }
}

fn outlines(items: &[Item]) -> impl Iterator<Item = &kurbo::BezPath> {
    items.iter().filter_map(|item| match &item.shape {
        Shape::Path(path) => Some(path),
        _ => None,
    })
}

fn letters(items: &[Item]) -> Option<(&str, Angle, Rect)> {
    items.iter().find_map(|item| match &item.shape {
        Shape::Text { text, turn, at, height_mm, weight, .. } => {
            let width = lettering::width(text, *height_mm, *weight);
            let size = (width * SCALE, height_mm * SCALE);
            Some((text.as_str(), *turn, Rect::from_center_size(*at, size)))
        }
        _ => None,
    })
}

#[test]
fn every_form_draws_something_on_the_devices_layer() {
    let mut kind = kind_by_key("plate-4").unwrap();
    for form in Symbol::ALL {
        kind.symbol = form;
        let items = symbol(&kind, AT, Angle::ZERO, true, SCALE, None);
        assert!(outlines(&items).next().is_some(), "{} draws nothing", form.name());
        assert!(items.iter().all(|item| item.layer == Layer::Devices));
        let bounds = symbol_bounds(&kind, AT, Angle::ZERO, true, SCALE);
        let (width, height) = (bounds.width() / SCALE, bounds.height() / SCALE);
        assert!((1.5..=9.0).contains(&width) && (1.5..=9.0).contains(&height), "{}: {bounds}", form.name());
    }
}

#[test]
fn bounds_hold_every_item() {
    everywhere(|key, kind, facing, on_wall, items| {
        let bounds = symbol_bounds(kind, AT, facing, on_wall, SCALE);
        for path in outlines(items) {
            let held = bounds.inflate(1e-6, 1e-6).union(path.bounding_box());
            assert!((held.area() - bounds.inflate(1e-6, 1e-6).area()).abs() < 1e-6, "{key} at {facing}");
        }
        for item in items {
            assert!(bounds.union(bounds_of(item, SCALE)) == bounds, "{key} at {facing}");
        }
    });
}

#[test]
fn letters_fit_inside_their_outline() {
    let mut seen = 0;
    everywhere(|key, _, facing, on_wall, items| {
        let Some((text, _, field)) = letters(items) else { return };
        seen += 1;
        let outline = outlines(items).next().unwrap();
        let field = field.inflate(0.15 * SCALE, 0.15 * SCALE);
        for corner in [(field.x0, field.y0), (field.x1, field.y0), (field.x1, field.y1), (field.x0, field.y1)]
        {
            let inside = outline.winding(Point::from(corner)) != 0;
            assert!(inside, "{text} of {key} runs out of its outline at {facing}, on a wall: {on_wall}");
        }
    });
    assert!(seen > 1000, "only {seen} symbols with letters were tried");
}

#[test]
fn four_wide_letters_fit_every_coded_form() {
    let mut kind = kind_by_key("alarm-keypad").unwrap();
    kind.code = "WWWM".to_owned();
    for form in [
        Symbol::CodeInCircle,
        Symbol::CodeInHalfCircle,
        Symbol::CodeInSquare,
        Symbol::CodeInHexagon,
        Symbol::CodeInRectangle,
    ] {
        kind.symbol = form;
        for degrees in [0.0, 37.0, 90.0, 200.0] {
            let items = symbol(&kind, AT, Angle::degrees(degrees), true, SCALE, None);
            let (_, _, field) = letters(&items).unwrap();
            let outline = outlines(&items).next().unwrap();
            for corner in [(field.x0, field.y0), (field.x1, field.y1)] {
                assert!(outline.winding(Point::from(corner)) != 0, "{} at {degrees}°", form.name());
            }
        }
    }
}

#[test]
fn turning_a_device_does_not_turn_its_letters() {
    everywhere(|key, _, facing, _, items| {
        if let Some((_, turn, _)) = letters(items) {
            assert_eq!(turn, Angle::ZERO, "{key} at {facing}");
        }
    });
}

#[test]
fn on_a_wall_a_symbol_touches_the_face_and_stays_on_the_rooms_side() {
    everywhere(|key, _, facing, on_wall, items| {
        let direction = facing.direction();
        let nearest = outlines(items)
            .flat_map(points_along)
            .map(|point| (point - AT).dot(direction))
            .fold(f64::INFINITY, f64::min);
        if on_wall {
            assert!(nearest.abs() < 0.02 * SCALE, "{key} at {facing} is {nearest} mm off the face");
        }
    });
}

#[test]
fn off_a_wall_a_symbol_is_centred() {
    everywhere(|key, _, facing, on_wall, items| {
        if !on_wall {
            let direction = facing.direction();
            let reach = |sign: f64| {
                outlines(items)
                    .flat_map(points_along)
                    .map(|point| sign * (point - AT).dot(direction))
                    .fold(f64::NEG_INFINITY, f64::max)
            };
            assert!((reach(1.0) - reach(-1.0)).abs() < 0.05 * SCALE, "{key} at {facing} is off its centre");
        }
    });
}

#[test]
fn a_linear_light_is_as_long_as_it_is_at_every_scale() {
    let kind = kind_by_key("strip-24v").unwrap();
    for scale in [20.0, 50.0, 100.0] {
        let on_wall =
            outlines(&symbol(&kind, AT, Angle::ZERO, true, scale, None)).next().unwrap().bounding_box();
        assert!((on_wall.height() - 2000.0).abs() < 1e-6, "{on_wall}");
        let on_ceiling =
            outlines(&symbol(&kind, AT, Angle::ZERO, false, scale, None)).next().unwrap().bounding_box();
        assert!((on_ceiling.width() - 2000.0).abs() < 1e-6, "{on_ceiling}");
    }
}

#[test]
fn paper_sizes_follow_the_scale() {
    let kind = kind_by_key("presence-ceiling").unwrap();
    let small = symbol_bounds(&kind, AT, Angle::ZERO, false, 50.0);
    let large = symbol_bounds(&kind, AT, Angle::ZERO, false, 100.0);
    assert!((large.width() / small.width() - 2.0).abs() < 1e-9);
    assert!((small.width() / 50.0 - 5.0).abs() < 0.6, "{} mm", small.width() / 50.0);
    let downlight = symbol_bounds(&kind_by_key("downlight").unwrap(), AT, Angle::ZERO, false, 50.0);
    assert!((downlight.width() / 50.0 - 3.5).abs() < 0.6);
}

#[test]
fn a_plate_has_a_stroke_for_each_key() {
    for keys in 1..=8 {
        let kind = kind_by_key(&format!("plate-{keys}")).unwrap();
        let items = symbol(&kind, AT, Angle::degrees(90.0), true, SCALE, None);
        let strokes = outlines(&items).filter(|path| path.elements().len() == 2).count();
        assert_eq!(strokes, keys);
    }
}

#[test]
fn fire_alarms_are_drawn_as_such() {
    everywhere(|key, kind, _, _, items| {
        let fire = items.iter().any(|item| item.role == Role::SymbolFire);
        assert_eq!(fire, kind.family == Family::FireAndCo, "{key}");
    });
}

/// Points along a path, close enough to tell where it reaches.
fn points_along(path: &kurbo::BezPath) -> Vec<Point> {
    let mut points = Vec::new();
    kurbo::flatten(path, 0.01, |element| points.extend(element.end_point()));
    points
}
